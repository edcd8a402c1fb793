"""What a bath holds by its own lines: after it was mixed, after each dose and top-up, and with each skin that went in or came out.

`likely` is the plain reckoning that is shown. Beside it go the weakest and the strongest that the same lines could mean, so that nothing is
called wrong that a level gallon mark, damp salt, a dripping skin or a dry week explains. What is allowed for is our own judgement, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from math import inf

from hideledger.model.entry import Entry
from hideledger.model.moments import DAY, When
from hideledger.model.shop import as_of
from hideledger.rules.bath_put_in import PutIn, by_recipe, is_salt, put_in
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife, Member, StepMark
from hideledger.shopfloor.loads import weight_at
from hideledger.shopfloor.noted import Dose
from hideledger.shopfloor.raw import came_cured
from hideledger.trade.bath_balance import Contents
from hideledger.trade.brine import KG_PER_LB, WATER_IN_GREEN_SKIN
from hideledger.trade.chemicals import BASE, CHEMICALS

# How far what was weighed and measured may be off: 3 parts in a hundred of salt, 5 of water and of the level it is filled to, 10 of acid and base.
_SALT, _WATER, _ACID = 0.03, 0.05, 0.10
# A washed skin drips: it brings its own weight in water at most. A salted one may bring a quarter of its weight in salt.
_DRIPPING, _SALT_ON_A_SKIN = 1.0, 0.25
# Of what stood in the tub this much may have been spilled before it was topped up, beside what skins carried out; and so much dries up in a day, and at most.
_LOST_BEFORE_A_TOP_UP, _DRIES_A_DAY, _DRIES_AT_MOST = 1 / 10, 0.01, 0.4
# How much more acid than the tables say a skin may bind.
_BINDS_MORE = 1.3


@dataclass(frozen=True, slots=True, kw_only=True)
class Tub:
    """What a bath holds from a line on, until the next.

    `what` is `mixed`, `dosed`, `topped up`, `skin in` or `skin out`. `weak` and `strong` are the ends of what it may be, each with nothing
    carried out by skins and with all of it; `poured` is when something was put in last. `skins` pounds that went in so far, `wet` those of them that brought their own water. `unknown` what
    went in that cannot be reckoned with, `unweighed` how many skins were never weighed, `by_recipe` whether the amounts are the recipe's.
    """

    what: str
    entry: Entry
    when: When
    poured: int
    likely: Contents
    weak: tuple[Contents, Contents]
    strong: tuple[Contents, Contents]
    skins: float = 0.0
    wet: float = 0.0
    been_in: int = 0
    unknown: tuple[str, ...] = ()
    unweighed: int = 0
    by_recipe: bool = False
    salted: bool = False


def what_it_holds(bath: BathLife, floor: Floor) -> list[Tub]:
    """One after the other; none where no line says what it was made of, or no water is among it."""
    if not bath.declared:
        return []
    shop, day = floor.book.shop, date.fromordinal(bath.made_when.day)
    amounts, recipe = bath.amounts, shop.recipes.get(bath.recipe.casefold()) if bath.recipe else None
    added = by_recipe(recipe, amounts) if recipe is not None else ()
    amounts = (*amounts, *added)
    filled = filled_when_made(bath)
    parts = [put_in(amount, shop, day) for amount in (*amounts, *(a for dose in filled for a in dose.amounts))]
    if sum(part.water for part in parts) <= 0 and not (filled and parts):
        return []
    made = _poured(_empty(bath), parts)
    if filled and filled[-1].topped is not None:
        made = _made_up_to(made, min(float(filled[-1].topped.to("L")), _room(bath, floor, bath.made_when)))
    made = replace(made, by_recipe=bool(added))
    row = [_salted(made, floor)]
    seen: set[int] = set()
    for what, when, entry, thing in _events(bath):
        row.append(_after(row[-1], what, when, entry, thing, seen, floor, _room(bath, floor, when)))
    return row


def filled_when_made(bath: BathLife) -> list[Dose]:
    """`mixed in V2, 15 lb salt, topped up to 20 gal`: the mark on the line that made it is how much liquor it makes, and no later pouring."""
    return [
        dose
        for dose in bath.doses
        if dose.entry is bath.made and dose.topped is not None and dose.topped.dimension == "volume"
    ]


def _made_up_to(tub: Tub, litres: float) -> Tub:
    weak, strong = litres * (1 + _WATER), litres * (1 - _WATER)
    return replace(
        tub,
        likely=tub.likely.filled_to(litres),
        weak=(tub.weak[0].filled_to(weak), tub.weak[1].filled_to(weak)),
        strong=(tub.strong[0].filled_to(strong), tub.strong[1].filled_to(strong)),
    )


def _empty(bath: BathLife) -> Tub:
    nothing = Contents()
    both = (nothing, nothing)
    when = bath.made_when
    return Tub(what="mixed", entry=bath.made, when=when, poured=when.lo, likely=nothing, weak=both, strong=both)


_Event = tuple[str, When, Entry, Dose | Member]


def _events(bath: BathLife) -> Iterator[_Event]:
    found: list[tuple[int, int, int, _Event]] = []
    on_its_line = {id(dose) for dose in filled_when_made(bath)}
    for dose in bath.doses:
        if id(dose) in on_its_line:
            continue
        what = "dosed" if dose.topped is None else "topped up"
        found.append((dose.when.lo, dose.entry.order, 1, (what, dose.when, dose.entry, dose)))
    for member in bath.members:
        entry = member.stay.mark.entry
        found.append((member.enter.lo, entry.order, 2, ("skin in", member.enter, entry, member)))
        if member.leave is not None:
            out = member.stay.end_entry or entry
            found.append((member.leave.lo, out.order, 0, ("skin out", member.leave, out, member)))
    found.sort(key=lambda one: one[:3])
    yield from (event for _, _, _, event in found)


def _room(bath: BathLife, floor: Floor, when: When) -> float:
    """Litres that its vessel takes then; no end where that is not written."""
    vessel = floor.book.shop.vessels.get(bath.vessel)
    takes = None if vessel is None else as_of(vessel, date.fromordinal(when.day)).volume
    return inf if takes is None else float(takes.to("L"))


def _after(
    last: Tub, what: str, when: When, entry: Entry, thing: Dose | Member, seen: set[int], floor: Floor, room: float
) -> Tub:
    now = replace(last, what=what, when=when, entry=entry)
    if isinstance(thing, Dose):
        shop = floor.book.shop
        now = replace(now, strong=strong_at(last, when.hi), poured=when.lo)
        now = _poured(now, [put_in(amount, shop, date.fromordinal(when.day)) for amount in thing.amounts])
        now = _salted(now, floor)
        if thing.topped is not None and thing.topped.dimension == "volume":
            now = _filled(now, min(float(thing.topped.to("L")), room))
        return now
    pounds = weight_at(thing.hide, thing)
    kilos = (pounds or 0.0) * KG_PER_LB
    if what == "skin out":
        return replace(
            now,
            likely=now.likely.without(kilos * WATER_IN_GREEN_SKIN),
            weak=(now.weak[0], now.weak[1].without(kilos)),
            strong=(now.strong[0], now.strong[1].without(kilos)),
        )
    return _gone_in(now, thing, pounds, kilos, seen)


def _gone_in(now: Tub, member: Member, pounds: float | None, kilos: float, seen: set[int]) -> Tub:
    first = id(member.hide) not in seen
    seen.add(id(member.hide))
    cured = has_met_salt(member.hide, member.stay.mark)
    wet = 0.0 if cured or not first else 1.0
    salt = _SALT_ON_A_SKIN * kilos if cured else 0.0
    binds = _BINDS_MORE if first else 0.0
    unweighed = pounds is None or (cured and _dry(member.hide))  # a dried skin drinks more than it weighs
    return replace(
        now,
        likely=now.likely.with_skins(kilos, water=WATER_IN_GREEN_SKIN * wet, binds=0.0),
        weak=(_drenched(now.weak[0], kilos, binds), _drenched(now.weak[1], kilos, binds)),
        strong=(now.strong[0].with_more(salt=salt), now.strong[1].with_more(salt=salt)) if salt else now.strong,
        skins=now.skins + (pounds or 0.0) * first,
        wet=now.wet + (pounds or 0.0) * wet,
        been_in=now.been_in + first,
        unweighed=now.unweighed + unweighed,
    )


def _drenched(contents: Contents, kilos: float, binds: float) -> Contents:
    return contents.with_skins(kilos, water=_DRIPPING, binds=binds)


def has_met_salt(hide: HideLife, before: StepMark | None = None) -> bool:
    """Whether a skin came cured, or was in something that stops the raw clock (up to the step `before`): then it brings no plain water to a bath."""
    if came_cured(hide):
        return True
    for mark in hide.marks:
        if mark is before:
            return False
        if mark.line is not None and mark.line.raw == "stops" and not mark.skipped:
            return True
    return False


def _dry(hide: HideLife) -> bool:
    return hide.condition is not None and hide.condition[0].condition in ("dry salted", "dried")


def _salted(tub: Tub, floor: Floor) -> Tub:
    """Whether salt went in by weight, and none by a measure that nobody can weigh."""
    measured = any(is_salt(name, floor.book.shop) for name in tub.unknown)
    return replace(tub, salted=tub.likely.salt > 0 and not measured)


def _poured(tub: Tub, parts: list[PutIn]) -> Tub:
    unknown = tuple(dict.fromkeys((*tub.unknown, *(part.unknown for part in parts if part.unknown))))
    likely, weak, strong = tub.likely, tub.weak, tub.strong
    for part in parts:
        likely = _with(likely, part, 0.0, part.usual)
        weak = (_with(weak[0], part, -1.0, 0), _with(weak[1], part, -1.0, 0))
        strong = (_with(strong[0], part, 1.0, -1), _with(strong[1], part, 1.0, -1))
    return replace(tub, likely=likely, weak=weak, strong=strong, unknown=unknown)


def _with(contents: Contents, part: PutIn, sign: float, form: int) -> Contents:
    """One amount as weighed (`sign` 0), with less in it (-1) or more (1). What cannot be reckoned thins the weak one as water would."""
    others = {}
    for name, kilos in part.forms[form:][:1]:
        more = -sign if CHEMICALS[name].sort == BASE else sign  # more base is a weaker acid
        others[name] = kilos * (1 + more * _ACID)
    water = part.water * (1 - sign * _WATER) + (part.kilos if sign < 0 else 0.0)
    return contents.with_more(water=water, salt=part.salt * (1 + sign * _SALT), others=others)


def _filled(tub: Tub, litres: float) -> Tub:
    weak = tuple(
        _at_level(one.without(_LOST_BEFORE_A_TOP_UP * (one.water + one.salt)), litres * (1 + _WATER))
        for one in tub.weak
    )
    strong = tuple(one.filled_to(litres * (1 - _WATER)) for one in tub.strong)
    likely = _at_level(tub.likely, litres)
    return replace(tub, likely=likely, weak=(weak[0], weak[1]), strong=(strong[0], strong[1]))


def _at_level(contents: Contents, litres: float) -> Contents:
    """Filled up with water. What by the reckoning holds more than that has lost liquor or water, nobody knows which: its strength has stayed."""
    if contents.litres <= litres:
        return contents.filled_to(litres)
    return contents.without((1 - litres / contents.litres) * (contents.water + contents.salt))


def strong_at(tub: Tub, instant: int) -> tuple[Contents, Contents]:
    """The strong ends at a later moment: since the last pour water has gone into the air, the rest stays."""
    gone = min(_DRIES_AT_MOST, _DRIES_A_DAY * max(0, instant - tub.poured) / DAY)
    return tub.strong[0].dried_up(gone), tub.strong[1].dried_up(gone)
