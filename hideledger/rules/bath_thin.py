"""Baths that their own lines leave too thin in salt, or without something that their recipe names."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal

from hideledger.model.facts import Reading
from hideledger.model.process import Range
from hideledger.model.units import Quantity
from hideledger.rules.bath_explained import lifted, salometer_of
from hideledger.rules.bath_made import Tub, strong_at, what_it_holds
from hideledger.rules.bath_put_in import by_recipe, is_salt, same_supply, sort_of
from hideledger.rules.finding import Finding
from hideledger.rules.gas import is_to_be_left
from hideledger.rules.horizon import Horizon
from hideledger.rules.readings import ranges_of
from hideledger.rules.telling import bath_cause, of_bath
from hideledger.rules.whichline import by_line, lines_named
from hideledger.rules.words import listed, when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife
from hideledger.text.place import Place
from hideledger.trade.chemicals import ACID, BASE

NAME = "too little salt"
LEFT_OUT = "left out of the recipe"
# So little salt is none, and less than this under a floor nobody reads, degrees salometer.
_NONE, _GRAIN = 0.05, 0.5
# An acid of unknown strength lifts a hydrometer by no more than this, degrees salometer (our own figure).
_UNKNOWN_LIFTS = 10.0


def too_little_salt(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Acid without salt swells a skin and burns it, from the minute it goes in: what the lines make is known before anybody reads it."""
    for bath in horizon.standing:
        if not is_to_be_left(bath, floor):
            yield from _of_bath(bath, floor, horizon)


def _of_bath(bath: BathLife, floor: Floor, horizon: Horizon) -> Iterator[Finding]:
    floors = _floors(bath, floor)
    unsalted = [name for name in _left_out(bath, floor) if is_salt(name, floor.book.shop)]
    if not floors and not unsalted:
        return
    row = what_it_holds(bath, floor)
    if not row or _read_since(bath, row[-1]):
        return
    tub, shop = row[-1], floor.book.shop
    unknown = [sort_of(name, shop) for name in tub.unknown]
    most = max(lifted(one) for one in strong_at(tub, horizon.at)) + _UNKNOWN_LIFTS * bool(unknown)
    # What nobody knows may be salt; an acid from a bottle without a strength is none.
    known = all(sort in (ACID, BASE) for sort in unknown)
    missed = [(limit, hides) for limit, hides in floors if known and most < _degrees(limit) - _GRAIN]
    sour = tub.likely.has_acid or ACID in unknown
    without = bool(unsalted) and tub.likely.salt <= 0 and sour
    if not without and (not missed or (not bath.now_in and len(missed) < len(floors))):
        return
    limit = max((limit for limit, _ in missed), key=_degrees, default=None)
    hides = {id(hide): hide for _, several in missed for hide in several}
    if without:
        hides |= {id(member.hide): member.hide for member in bath.now_in}
    inside = bool(bath.now_in)
    yield of_bath(
        bath,
        hides.values(),
        name=NAME,
        when="now",
        message=_said(tub, limit, most, unsalted, inside=inside)
        + f", {when_said(horizon.clock, tub.when, horizon.at)}; no salt was read since",
        do=_act(bath, limit, unsalted, floor, sour=sour, inside=inside),
        entry=tub.entry,
        rule=limit.place if limit is not None else _recipe_place(bath, floor),
        since=tub.when.lo,
        begun=tub.poured,
        limit_s=0,  # a skin swells within minutes: nothing has a shorter limit
        rings=inside or not bath.members,
        more=() if tub.entry is bath.made else (f"mixed at {bath.made.at.short}",),
        cause=f"{bath_cause(bath)} thin",
    )


def _floors(bath: BathLife, floor: Floor) -> list[tuple[Range, list[HideLife]]]:
    """The least salt that each step asks: of those in it, else of those it was used for and those called like its recipe."""
    lines = [(line, [member.hide for member in members]) for line, members in by_line(bath.now_in, floor)]
    if not bath.now_in:
        named = lines_named(bath.recipe, floor) if bath.recipe else ()
        lines = [(line, []) for line in dict.fromkeys([*(line for line, _ in by_line(bath.members, floor)), *named])]
    return [(limit, hides) for line, hides in lines for limit in ranges_of(line, "salt") if _degrees(limit) > 0]


def _degrees(limit: Range) -> float:
    least = limit.least
    return (salometer_of(Reading(what="salt", value=least)) or 0.0) if least is not None else 0.0


def _read_since(bath: BathLife, tub: Tub) -> bool:
    """Whether its salt was read after the last thing that was poured into it: then the reading is judged, and not the lines."""
    return any(reading.fact.what == "salt" and reading.when.hi >= tub.poured for reading in bath.readings)


def _said(tub: Tub, limit: Range | None, most: float, unsalted: Sequence[str], *, inside: bool) -> str:
    skins = " with skins in" if inside else ""
    if tub.likely.degrees < _NONE:
        held = f"by its lines there is no salt in it{skins}"
        if unsalted:
            held += f", and its recipe has {listed(unsalted)}"
    else:
        held = f"by its lines it holds {tub.likely.degrees:.1f} sal of salt{skins}, and could not read more than {most:.0f} sal"
    least = "" if limit is None or limit.least is None else f", {_written(limit.least)} at least"
    return held + least


def _written(limit: Quantity) -> str:
    return f"SG {limit.value:f}" if limit.unit == "SG" else str(limit)


def _act(
    bath: BathLife, limit: Range | None, unsalted: Sequence[str], floor: Floor, *, sour: bool, inside: bool
) -> str:
    first = (
        "read its salt now; if it is so, lift the skins out of the acid, look whether they have swollen, and lay them in salt or strong brine by your supplier's sheet"
        if inside and sour
        else "read its salt now; if it is so, lift the skins out and salt them"
        if inside
        else "put no skin into it, and read its salt"
    )
    ask = (
        f" (hideledger brine {bath.tag} to {limit.least} says how much)"
        if limit is not None and limit.least is not None and limit.least.unit == "sal"
        else ""
    )
    salt = unsalted[0] if unsalted else next((a.supply for a in bath.amounts if a.supply.casefold() == "salt"), "salt")
    return (
        f"{first}; salt the bath by your supplier's sheet, dissolved before it goes in{ask}, and write what you read and what went in, like this: "
        f"`{bath.tag} add {_by_its_recipe(salt, bath, floor)} {salt}`; if it went in and nobody wrote it, that line with its own day and amount; else say why: `{bath.tag} waived {NAME} -- why`"
    )


def _by_its_recipe(name: str, bath: BathLife, floor: Floor) -> str:
    """What the recipe has of a supply for the water that was written; of one that goes by something else an amount as an example."""
    recipe = floor.book.shop.recipes.get(bath.recipe.casefold()) if bath.recipe else None
    water = [amount for amount in bath.amounts if amount.supply.casefold() == "water"]
    for amount in by_recipe(recipe, water) if recipe is not None else ():
        if amount.supply == name:
            value = round(amount.quantity.value, 1).normalize()
            return str(Quantity(value=Decimal(f"{value:f}"), unit=amount.quantity.unit))
    return "5 lb"


def _left_out(bath: BathLife, floor: Floor) -> list[str]:
    """What a bath's recipe names and none of its lines does; none where the line names nothing but the water, and the recipe speaks for it."""
    shop = floor.book.shop
    recipe = shop.recipes.get(bath.recipe.casefold()) if bath.recipe and bath.declared else None
    written = [amount.supply for amount in bath.amounts]
    if recipe is None or not written or by_recipe(recipe, bath.amounts):
        return []
    if all(name.casefold() == "water" for name in written):
        return []  # made as its recipe says, and the amounts are the skins'
    written += [amount.supply for dose in bath.doses for amount in dose.amounts]
    asked = dict.fromkeys(supply for basis in recipe.bases for _, supply in basis.amounts)
    return [
        name
        for name in asked
        if name.casefold() not in ("water", "liquor") and not any(same_supply(name, one, shop) for one in written)
    ]


def _recipe_place(bath: BathLife, floor: Floor) -> Place:
    return floor.book.shop.recipes[bath.recipe.casefold()].place


def left_out_of_the_recipe(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A recipe is a whole: acid without its salt swells, salt without its acid lets the skin rot, and what was forgotten shows weeks later."""
    for bath in horizon.baths:
        names = _left_out(bath, floor)
        if bath.ended is None and any(_of_bath(bath, floor, horizon)):
            names = [name for name in names if not is_salt(name, floor.book.shop)]  # told already, and louder
        if not names:
            continue
        yield of_bath(
            bath,
            [member.hide for member in bath.members],
            name=LEFT_OUT,
            when="record",
            message=f"its recipe {bath.recipe} has {listed(names)}, and no line of {bath.tag} says that any went in, "
            f"mixed {when_said(horizon.clock, bath.made_when, horizon.at)}",
            do=f"if it went in, write it with its own day and amount, like this: `{bath.tag} add {_by_its_recipe(names[0], bath, floor)} {names[0]}`; if it was left out on purpose, or something else "
            f"stands for it, say so: `{bath.tag} waived {LEFT_OUT} -- why`",
            entry=bath.made,
            rule=_recipe_place(bath, floor),
            since=bath.made_when.lo,
            cause=f"{bath_cause(bath)} recipe",
            days=(bath.made_when.day, bath.made_when.day if not bath.doses else bath.doses[-1].when.day),
        )
