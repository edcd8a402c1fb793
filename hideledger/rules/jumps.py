"""Readings that quarrel with their neighbours: nothing was written between them, no skin moved, and a bath does not go there and back by itself."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from hideledger.model.moments import DAY
from hideledger.rules.bath_explained import DISSOLVES, SPREADS, salometer_of, salt_doubt
from hideledger.rules.bath_made import Tub
from hideledger.rules.readings import doubt
from hideledger.shopfloor.life import BathLife
from hideledger.shopfloor.noted import BathReading

# So many readings in a row may be off, and so far apart may those on both sides of them stand (our own figures).
_AT_MOST, _APART = 4, 4 * DAY
# Salt does not come or go: two readings that differ by so much quarrel by themselves, and while it is still dissolving by so much, degrees salometer.
_SALT_STEP, _DISSOLVING = 10.0, 15.0
# The margins are decimal fractions.
_HAIR = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Jump:
    """A reading that quarrels, its value, and those on either side that it quarrels with."""

    reading: BathReading
    value: float
    beside: tuple[BathReading, ...]


_Read = tuple[BathReading, float, float]


def jumps(bath: BathLife, row: Sequence[Tub]) -> list[Jump]:
    """Of each quantity: what lies between two readings that agree, and what differs from its neighbour as salt cannot."""
    found: dict[int, Jump] = {}
    for what in ("salt", "pH"):
        for stretch in _stretches(bath, what):
            for jump in (*_there_and_back(stretch), *(_steps(stretch, bath, row) if what == "salt" else ())):
                found.setdefault(id(jump.reading), jump)
    return sorted(found.values(), key=lambda jump: (jump.reading.when.lo, jump.reading.entry.order))


def may_jump(bath: BathLife) -> bool:
    """Whether any two readings that follow each other differ by more than their instruments' doubts: the others need no closer look."""
    for what in ("salt", "pH"):
        read = [(one, *value) for one in bath.readings if one.fact.what == what and (value := _value(one)) is not None]
        if any(_differ(one, other) for one, other in pairwise(read)):
            return True
    return False


def _value(reading: BathReading) -> tuple[float, float] | None:
    """A reading, and what its instrument may be wrong by, in pH or degrees salometer."""
    if reading.fact.what == "pH":
        return float(reading.fact.value.value), doubt(reading.fact)
    shown = salometer_of(reading.fact)
    return None if shown is None else (shown, salt_doubt(reading.fact))


def _stretches(bath: BathLife, what: str) -> Iterator[list[_Read]]:
    """Readings in order of time between which nothing was put in and no skin moved, each an hour after the last that was."""
    events = [(bath.made_when.lo, bath.made_when.hi), *((dose.when.lo, dose.when.hi) for dose in bath.doses)]
    for member in bath.members:
        events.append((member.enter.lo, member.enter.hi))
        if member.leave is not None:
            events.append((member.leave.lo, member.leave.hi))
    stretch: list[_Read] = []
    for reading in bath.readings:
        if reading.fact.what != what or not reading.when.timed or reading.entry is bath.ended:
            continue
        value = _value(reading)
        if value is None:
            continue
        last = stretch[-1][0].when if stretch else None
        moved = any(hi >= (last.lo if last is not None else 0) and lo <= reading.when.hi for lo, hi in events)
        settling = any(lo <= reading.when.hi and reading.when.lo < hi + SPREADS for lo, hi in events)
        if moved or settling:
            yield stretch
            stretch = []
        if not settling:
            stretch.append((reading, *value))
    yield stretch


def _differ(one: _Read, other: _Read) -> bool:
    return abs(one[1] - other[1]) > one[2] + other[2] + _HAIR


def _there_and_back(stretch: Sequence[_Read]) -> Iterator[Jump]:
    """What lies between two readings that agree, and agrees with neither."""
    first = 0
    while first < len(stretch) - 2:
        before = stretch[first]
        for last in range(first + 2, min(first + 2 + _AT_MOST, len(stretch))):
            after, between = stretch[last], stretch[first + 1 : last]
            if after[0].when.lo - before[0].when.hi > _APART:
                break
            if not _differ(before, after) and all(_differ(one, before) and _differ(one, after) for one in between):
                for reading, value, _ in between:
                    yield Jump(reading=reading, value=value, beside=(before[0], after[0]))
                first = last - 1
                break
        first += 1


def _steps(stretch: Sequence[_Read], bath: BathLife, row: Sequence[Tub]) -> Iterator[Jump]:
    """Of two salt readings that cannot both be right the one that lies farther from what was put in."""
    salted = [bath.made_when.hi, *(dose.when.hi for dose in bath.doses)]
    for one, other in pairwise(stretch):
        fresh = any(0 <= one[0].when.hi - when < DISSOLVES for when in salted)
        if abs(one[1] - other[1]) <= (_DISSOLVING if fresh else _SALT_STEP):
            continue
        tub = [tub for tub in row if tub.when.lo <= one[0].when.hi][-1:]
        if not tub or not tub[0].salted:
            continue
        expected = tub[0].likely.shown()
        off, fits = sorted((one, other), key=lambda read: -abs(read[1] - expected))
        yield Jump(reading=off[0], value=off[1], beside=(fits[0],))
