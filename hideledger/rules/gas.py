"""What gives a gas that kills, and what drives it out, brought together by the lines of the book: in one bath, or on one line."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from hideledger.model.entry import Entry
from hideledger.model.facts import Amount, Took, Used
from hideledger.model.moments import DAY, When
from hideledger.model.shop import ShopBook
from hideledger.rules.bath_put_in import by_recipe
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.never import met, never_among
from hideledger.rules.telling import bath_cause, of_bath, of_line
from hideledger.rules.words import when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife

# For so long after the line a standing bath is a matter of the hour; after that it was seen to, or nobody would be there to read it.
_MATTER_OF_THE_HOUR = 3 * DAY
NAME = "gas that kills"
_DO = "everybody out into fresh air, stay out, and ring the emergency number; nobody pours anything to it or stirs it, and what is done with it goes by the suppliers' sheets"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Poured:
    """One line that put something in, and what it was."""

    entry: Entry
    when: When
    amounts: tuple[Amount, ...]


def gas_that_kills(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Bleach gives chlorine where acid or alum meets it and chloramine with ammonia, a sulphide hydrogen sulphide, a cyanide hydrogen cyanide: a breath of them can kill."""
    told: set[int] = set()
    for bath in horizon.baths:
        found = _met(bath, floor)
        if found is None:
            continue
        poured, never, acid = found
        told |= {poured.entry.order}
        now = horizon.fresh(poured.when.hi) or (
            bath.ended is None and horizon.at - poured.when.hi < _MATTER_OF_THE_HOUR
        )
        later = f"write what was done: `{bath.tag} waived {NAME} -- what was done`"
        yield of_bath(
            bath,
            [member.hide for member in bath.inside(poured.when.hi)],
            name=NAME,
            when="now" if now else "record",
            message=f"{never} and {acid} in one bath, {when_said(horizon.clock, poured.when, horizon.at)}: together they give a gas that kills",
            do=f"{_DO if now else later}; if they never met, strike the line with `struck` before it",
            entry=poured.entry,
            since=poured.when.lo,
            hurts=now,
            more=() if poured.entry is bath.made else (f"mixed at {bath.made.at.short}",),
            cause=f"gas {bath_cause(bath)}",
        )
    for entry in floor.entries:
        pair = met(_named(_amounts(entry), floor.book.shop))
        if pair is not None and entry.order not in told:
            never, acid = pair
            now = horizon.fresh(entry.when.hi)
            yield of_line(
                floor,
                entry.tags,
                entry,
                name=NAME,
                when="now" if now else "record",
                message=f"{never} and {acid} on one line, {when_said(horizon.clock, entry.when, horizon.at)}: together they give a gas that kills",
                do=f"if they met: {_DO}; used apart, write a line for each, and strike this one with `struck` before it",
                cause=f"gas line {entry.order}",
            )


def is_to_be_left(bath: BathLife, floor: Floor) -> bool:
    """Whether nobody goes near a bath, to read or to stir it: such a gas may come off it, and no line says what was done."""
    return _met(bath, floor) is not None and not any(answer.fact.finding.casefold() == NAME for answer in bath.waived)


def never_in(bath: BathLife, floor: Floor) -> str:
    """What went into a bath that must never meet an acid, as it was written; empty where nothing did."""
    things = (thing for poured in _all_poured(bath, floor) for thing in _named(poured.amounts, floor.book.shop))
    return next((thing[0] for thing in things if never_among(thing)), "")


def _met(bath: BathLife, floor: Floor) -> tuple[_Poured, str, str] | None:
    """The line by which the two came together, and their names; None where they never did."""
    things: list[tuple[str, ...]] = []
    for poured in _all_poured(bath, floor):
        things += _named(poured.amounts, floor.book.shop)
        if (pair := met(things)) is not None:
            return poured, *pair
    return None


def _all_poured(bath: BathLife, floor: Floor) -> Iterator[_Poured]:
    """What went in, line by line in order of time: with the making, the doses, and the skins that were put in."""
    shop = floor.book.shop
    lines = {entry.order: (entry, entry.when) for entry in bath.lines}
    lines |= {
        member.stay.mark.entry.order: (member.stay.mark.entry, member.enter)
        for member in bath.members
        if any(isinstance(fact, Took) for fact in member.stay.mark.entry.facts)
    }
    for entry, when in sorted(lines.values(), key=lambda line: (line[1].lo, line[0].order)):
        amounts = _amounts(entry)
        if entry is bath.made:
            recipe = shop.recipes.get(bath.recipe.casefold())
            amounts += by_recipe(recipe, amounts) if recipe is not None else ()
            if recipe is not None and not amounts:  # nothing is written: it was made as its recipe says
                amounts = tuple(
                    Amount(quantity=many, supply=name) for each in recipe.bases for many, name in each.amounts
                )
        if amounts:
            yield _Poured(entry=entry, when=when, amounts=amounts)


def _amounts(entry: Entry) -> tuple[Amount, ...]:
    return tuple(fact.amount for fact in entry.facts if isinstance(fact, Took | Used))


def _named(amounts: Iterable[Amount], shop: ShopBook) -> list[tuple[str, ...]]:
    """Each of them by all its names, the one that was written first."""
    found: list[tuple[str, ...]] = []
    for amount in amounts:
        supply = shop.supplies.get(amount.supply.casefold())
        found.append((amount.supply,) if supply is None else (amount.supply, supply.name, *supply.others))
    return found
