"""What a hide met with: baths, loads, lots, its box, its owner, the day it came, the places it lay in; and what two of them share."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from hideledger.answers.slip.met_baths import bath_thing, lot_thing
from hideledger.model.facts import Amount
from hideledger.rules.company import EVERYWHERE
from hideledger.rules.words import day_said, listed
from hideledger.shopfloor.doings import PICKLE, SALT, TAN, poured, steps_of, taken_with
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife

Key = tuple[str, str]

# How much more one shared thing says than another, for the order alone: a judgement, common practice, no source.
WEIGHTS = {"skin": 6.0, "bath": 5.0, "load": 5.0, "box": 4.0, "lot": 3.0, "place": 2.0, "owner": 1.0, "day": 1.0}
APART = 0.4  # the same bath, but not while the other lay in it


@dataclass(slots=True, kw_only=True)
class Met:
    """One thing a hide met with; `sort` is `bath`, `load`, `lot`, `box`, `place`, `owner`, `day` or `skin`.

    `spans` are the stretches (UTC seconds) at which it did, empty for what has no time (an owner). `counted_as` is its
    name in the look at the whole season. `by_way_of` are the baths in which a lot was met; "" where it came on the skin itself.
    """

    sort: str
    key: str
    name: str
    counted_as: str = ""
    by_way_of: set[str] = field(default_factory=set)
    spans: list[tuple[int, int]] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shared:
    """One thing that two hides met with; `together` that they did so at one time."""

    met: Met
    together: bool

    @property
    def weight(self) -> float:
        """How much it says that they share this, for the order alone."""
        return WEIGHTS[self.met.sort] * (1.0 if self.together else APART)

    @property
    def said(self) -> str:
        """`P3`, `P3 at another time`, `citric acid lot C-31`."""
        return (
            self.met.name
            if self.together or self.met.sort not in ("bath", "load", "place")
            else f"{self.met.name} at another time"
        )


def said_of(shares: Sequence[Shared], most: int = 6) -> str:
    """What two share in words: a lot that both met only in a bath they share goes with the bath; at most so many."""
    baths = {shared.met.key for shared in shares if shared.met.sort in ("bath", "load")}
    names = [one.said for one in shares if one.met.sort != "lot" or not one.met.by_way_of <= baths]
    return listed([*names[: most - 1], f"{len(names) - most + 1} more"] if len(names) > most else names)


def met_by(life: HideLife, floor: Floor) -> dict[Key, Met]:
    """Everything that a hide met with up to the floor's moment, in order of time within each sort."""
    found: dict[Key, Met] = {}
    for stay in life.stays:
        if stay.bath is not None:
            end = floor.at if stay.end is None else stay.end.hi
            _in_bath(found, stay.bath, stay.start.lo, end, floor)
    for mark in life.marks:
        for amount in taken_with(mark):
            if amount.lot and not mark.elsewhere:
                _lot(found, amount, mark.when.lo, mark.when.hi)
    _places(found, life, floor)
    if life.from_box:
        _add(found, "box", life.from_box, f"box {life.from_box}")
    if life.payer:
        _add(found, "owner", life.payer.casefold(), f"owner {life.payer}")
    if life.declared:
        _add(
            found,
            "day",
            str(life.arrived_when.day),
            f"the day in ({day_said(floor.book.clock, life.arrived_when.day, floor.at)})",
        )
    if life.parent:
        _add(found, "skin", life.parent, f"cut from {life.parent}")
    return found


def _in_bath(found: dict[Key, Met], bath: BathLife, start: int, end: int, floor: Floor) -> None:
    vessel = floor.book.shop.vessels.get(bath.vessel)
    drum = bool(bath.turns) or (vessel is not None and vessel.is_drum)
    met = _add(found, "load" if drum else "bath", str(bath.made.order), bath.tag, start, end)
    met.counted_as = bath_thing(floor, bath)[1]
    for amount, (earliest, _) in poured(bath):
        if amount.lot and earliest <= end:
            _lot(found, amount, max(start, earliest), end, by_way_of=met.key)


def _lot(found: dict[Key, Met], amount: Amount, start: int, end: int, *, by_way_of: str = "") -> None:
    key = f"{amount.supply.casefold()} {amount.lot.casefold()}"
    met = _add(found, "lot", key, f"{amount.supply} lot {amount.lot}", start, end)
    met.counted_as = lot_thing(amount.supply.casefold(), amount.lot)[1]
    met.by_way_of.add(by_way_of)


def _places(found: dict[Key, Met], life: HideLife, floor: Floor) -> None:
    """Freezer, cooler, rack: where it lay raw, in no bath; the room is everywhere, and behind salt, acid or tan a place does little."""
    cured = _cured(life)
    for number, (when, place) in enumerate(life.places):
        if place.casefold() in EVERYWHERE or place in floor.baths or place in floor.book.shop.vessels:
            continue
        end = life.places[number + 1][0].hi if number + 1 < len(life.places) else floor.at
        if cured is None or when.lo < cured:
            _add(found, "place", place.casefold(), place, when.lo, end)
    for pause in life.pauses:
        if pause.place and ("place", pause.place.casefold()) not in found and (cured is None or pause.start.lo < cured):
            _add(
                found,
                "place",
                pause.place.casefold(),
                pause.place,
                pause.start.lo,
                floor.at if pause.end is None else pause.end.hi,
            )


def _cured(life: HideLife) -> int | None:
    """When salt, acid or the tan first came to it; None where nothing of that is written."""
    marks = [done.mark for done in steps_of(life) if not done.mark.skipped and done.sort in (SALT, PICKLE, TAN)]
    marks += [mark for mark in life.marks if mark.line is not None and mark.line.raw == "stops" and not mark.skipped]
    return min((mark.when.lo for mark in marks), default=None)


def _add(found: dict[Key, Met], sort: str, key: str, name: str, *span: int) -> Met:
    met = found.setdefault((sort, key), Met(sort=sort, key=key, name=name))
    if len(span) == 2:
        met.spans.append((span[0], span[1]))
    return met


def up_to(met: Mapping[Key, Met], until: int) -> dict[Key, Met]:
    """The same without the places that it came to only later: what lay beside it there had no part in it."""
    found: dict[Key, Met] = {}
    for key, one in met.items():
        spans = [(start, min(end, until)) for start, end in one.spans if start <= until]
        if one.sort != "place":
            found[key] = one
        elif spans:
            found[key] = replace(one, spans=spans)
    return found


def shared_by(one: Mapping[Key, Met], other: Mapping[Key, Met]) -> tuple[Shared, ...]:
    """What two hides both met with, what says most first, be it at another time. A place counts only if both lay there at one time."""
    found = []
    for key, met in one.items():
        theirs = other.get(key)
        if theirs is None:
            continue
        timed = bool(met.spans and theirs.spans) and met.sort != "lot"
        together = not timed or any(a <= d and c <= b for a, b in met.spans for c, d in theirs.spans)
        if together or met.sort != "place":
            found.append(Shared(met=met, together=together))
    return tuple(sorted(found, key=lambda shared: (-WEIGHTS[shared.met.sort], not shared.together)))
