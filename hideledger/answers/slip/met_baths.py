"""The baths and loads that skins lay in, and the lots that were in them or were used on the skin itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date

from hideledger.answers.slip.outcomes import Fate, wholes
from hideledger.answers.slip.tally import Tally, Thing, was_before
from hideledger.model.entry import Entry
from hideledger.model.facts import Amount, Bought
from hideledger.model.moments import When
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, Stay

_WATER = "water"


@dataclass(slots=True, kw_only=True)
class _Supply:
    """One supply as it was met: its lots with the steps of each, who met some of it with no lot written and when, and the
    steps at which it was used on the skin itself.
    """

    lots: dict[str, set[str]] = field(default_factory=dict)
    unwritten: list[tuple[int, When]] = field(default_factory=list)
    on_skin: set[str] = field(default_factory=set)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Put:
    """When something was put into a bath or on a skin, the line that says so, and at which step of the skin."""

    when: When
    line: Entry
    at: str


def baths_and_lots(floor: Floor, tally: Tally) -> None:
    """What each skin lay in before its first sign, and every lot that was in there before it left."""
    steps = _steps_of_baths(tally)
    supplies: dict[str, _Supply] = {}
    bare: list[tuple[int, str]] = []  # a stay at a step that others did in a bath, and no bath is written
    for index, fate in enumerate(tally.fates):
        for stay in fate.life.stays:
            if stay.bath is None:
                if stay.name in steps and fate.before_sign(stay.start.hi):
                    bare.append((index, stay.name))
                continue
            lay = was_before(stay.start, *_sign(fate))
            if lay is not False:
                thing = bath_thing(floor, stay.bath)
                tally.meets(thing, index, lay, at=stay.name, line=stay.bath.made)
                steps[stay.name].add(thing)
                _in_bath(tally, supplies, index, fate, stay, lay)
        _on_skin(floor, tally, supplies, index, fate)
    for index, name in bare:
        tally.may_have(index, steps[name])
        tally.may_have(
            index,
            (lot_thing(s, lot) for s, known in supplies.items() for lot, at in known.lots.items() if name in at),
        )
    _steps_without_amount(floor, tally, supplies)
    bought = _first_bought(floor)
    for (supply, lot), entry in bought.items():
        tally.tells(lot_thing(supply, lot), entry)
    for supply, known in supplies.items():
        for index, when in known.unwritten:
            # a lot that was bought only later is not the one without a name
            may_be = [
                lot for lot in known.lots if (supply, lot) not in bought or bought[supply, lot].when.lo <= when.hi
            ]
            tally.may_have(index, (lot_thing(supply, lot) for lot in may_be))


def _steps_of_baths(tally: Tally) -> dict[str, set[Thing]]:
    """The steps that skins did in a bath, each with the baths met there: none yet."""
    found: dict[str, set[Thing]] = {}
    for fate in tally.fates:
        for stay in fate.life.stays:
            if stay.bath is not None:
                found.setdefault(stay.name, set())
    return found


def bath_thing(floor: Floor, bath: BathLife) -> Thing:
    """A bath, or a load where its vessel turns; with the day it was mixed where the tag was used more than once."""
    vessel = floor.book.shop.vessels.get(bath.vessel)
    load = bool(bath.turns) or (vessel is not None and vessel.is_drum)
    name = bath.tag
    if len(floor.baths.get(bath.tag, ())) > 1:
        name += f" mixed {date.fromordinal(bath.made_when.day).isoformat()}"
    return ("load", f"load {name}", f"of load {name}") if load else ("bath", f"bath {name}", f"that lay in {name}")


def lot_thing(supply: str, lot: str) -> Thing:
    """A lot of a supply."""
    return ("lot", f"lot {lot} ({supply})", f"that met lot {lot} ({supply})")


def _sign(fate: Fate) -> tuple[int | None, int | None]:
    return (None, None) if fate.sign is None else (fate.sign.when.lo, fate.sign.when.hi)


def _in_bath(tally: Tally, supplies: dict[str, _Supply], index: int, fate: Fate, stay: Stay, lay: bool | None) -> None:
    """Every lot that the bath was made of, or that was added before the skin left it."""
    for amount, when, line in _put_in(stay.bath):
        added = _all(lay, was_before(when, *_sign(fate)))
        if stay.end is not None:
            added = _all(added, was_before(when, stay.end.lo, stay.end.hi))
        if added is not False:
            _took(tally, supplies, index, amount, _Put(when=when, line=line, at=stay.name), added)


def _put_in(bath: BathLife | None) -> Iterator[tuple[Amount, When, Entry]]:
    if bath is None:
        return
    for amount in bath.amounts:
        yield amount, bath.made_when, bath.made
    for dose in bath.doses:
        for amount in dose.amounts:
            yield amount, dose.when, dose.entry


def _all(one: bool | None, other: bool | None) -> bool | None:
    if one is False or other is False:
        return False
    return None if one is None or other is None else True


def _took(tally: Tally, supplies: dict[str, _Supply], index: int, amount: Amount, put: _Put, met: bool | None) -> None:
    supply = amount.supply.casefold()
    if supply == _WATER:
        return
    known = supplies.setdefault(supply, _Supply())
    if amount.lot:
        known.lots.setdefault(amount.lot, set()).add(put.at)
        tally.meets(lot_thing(supply, amount.lot), index, met, at=put.at, line=put.line)
    else:
        known.unwritten.append((index, put.when))


def _on_skin(floor: Floor, tally: Tally, supplies: dict[str, _Supply], index: int, fate: Fate) -> None:
    """Salt and whatever else was used on the skin itself, also before it was cut."""
    life = fate.life
    for one in (life, *wholes(floor, life)):
        for spent in one.used:
            entry, amount = spent.entry, spent.amount
            when = floor.moment(entry, one.tag)
            met = was_before(when, *_sign(fate))
            if met is False:
                continue
            names = [mark.name for mark in life.marks if mark.entry is entry] or [""]
            for name in names:
                _took(tally, supplies, index, amount, _Put(when=when, line=entry, at=name), met)
                if amount.supply.casefold() != _WATER:
                    supplies[amount.supply.casefold()].on_skin.add(name)


def _steps_without_amount(floor: Floor, tally: Tally, supplies: dict[str, _Supply]) -> None:
    """Salted, and nobody wrote with what: what others got on the skin at that step this one may have got, of any lot."""
    steps = {name for known in supplies.values() for name in known.on_skin}
    for index, fate in enumerate(tally.fates):
        life = fate.life
        used = {id(spent.entry) for one in (life, *wholes(floor, life)) for spent in one.used}
        for mark in life.marks:
            if (
                mark.name in steps
                and not mark.skipped
                and id(mark.entry) not in used
                and fate.before_sign(mark.when.hi)
            ):
                for known in supplies.values():
                    if mark.name in known.on_skin:
                        known.unwritten.append((index, mark.when))


def _first_bought(floor: Floor) -> dict[tuple[str, str], Entry]:
    """The line on which each lot was first bought, where there is one."""
    found: dict[tuple[str, str], Entry] = {}
    for entry in floor.shelf:
        for fact in entry.facts:
            if isinstance(fact, Bought) and fact.amount.lot:
                key = (fact.amount.supply.casefold(), fact.amount.lot)
                if key not in found or entry.when.lo < found[key].when.lo:
                    found[key] = entry
    return found
