"""From when on a bath's fault was at work on one hide: from its own going in, where the fault had begun before that."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from hideledger.model.facts import Reading
from hideledger.model.process import Range
from hideledger.rules.finding import Finding
from hideledger.rules.readings import beyond, is_over, ranges_of, reading_said
from hideledger.rules.righting import RANGED
from hideledger.rules.words import when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife, Stay
from hideledger.shopfloor.noted import BathReading

READ_WRONG = frozenset({"reading out of range", "out of range now"})
# Faults of a bath that last: whoever goes in later meets them only then.
_OF_A_BATH = READ_WRONG | {
    "reading missed",
    "stir missed",
    "reading due",
    "stir due",
    "reading not explained",
    "bath worn out",
    "vessel over full",
    "two baths in one vessel",
    "slip nearby",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class AtWork:
    """A fault was at work on a hide from `instant` on (UTC seconds).

    `stay` is its stay in the bath where the hide came to a fault that had begun before; `wrong` the unbroken row of readings
    out of range before it went in. `bath` is the bath, where the fault is one of a bath's.
    """

    instant: int
    stay: Stay | None = None
    wrong: tuple[BathReading, ...] = ()
    bath: BathLife | None = None


def at_work_from(finding: Finding, life: HideLife) -> AtWork | None:
    """The hide's own moment of a finding: the later of the fault's begin and the hide's going in; None without a time."""
    if finding.since is None:
        return None
    if finding.name not in _OF_A_BATH:
        return AtWork(instant=finding.since)
    for stay in life.stays:
        bath = stay.bath
        if bath is None or bath.tag not in finding.tags or not _alive(bath, finding.since):
            continue
        if stay.end is not None and stay.end.hi < finding.since:
            continue
        run = _run(bath, finding) if finding.name in READ_WRONG else []
        began = min([finding.since, *(reading.when.lo for reading in run)])
        if stay.start.lo <= began:
            return AtWork(instant=began, bath=bath)
        before = tuple(reading for reading in run if reading.when.lo <= stay.start.lo)
        return AtWork(instant=stay.start.lo, stay=stay, wrong=before, bath=bath)
    return AtWork(instant=finding.since)


def side_of(reading: Reading, limits: Range) -> str:
    """Which way a reading lies outside: `pH over`, `salt under`."""
    return f"{reading.what} {'over' if is_over(reading, limits) else 'under'}"


def sides_of(finding: Finding, life: HideLife) -> frozenset[str]:
    """Which way the readings of a finding lay outside the range that it names; empty where its line has no such reading."""
    return frozenset(
        side_of(reading.fact, limits)
        for stay in life.stays
        if stay.bath is not None
        for what, limits in _ranges(stay.bath)
        if limits.place == finding.rule
        for reading in stay.bath.readings
        if reading.entry is finding.entry and reading.fact.what == what and beyond(reading.fact, limits)
    )


def is_about(finding: Finding, life: HideLife, floor: Floor) -> bool:
    """Whether a finding that names a tag tells of this life of it: where a tag was given again, the dead one's faults are not the new one's.

    A fault of a bath is told of the life that met it first.
    """
    lives = floor.hides.get(life.tag, ())
    if life.tag not in finding.tags or len(lives) < 2:
        return life.tag in finding.tags
    if finding.when != "record" and any(one.here for one in lives) and not life.here:
        return False
    if finding.name in _OF_A_BATH and any(tag in floor.baths for tag in finding.tags):
        met = [(own.instant, one) for one in lives if (own := at_work_from(finding, one)) is not None and own.bath]
        return bool(met) and min(met, key=lambda one: one[0])[1] is life
    entry = finding.entry
    told = [one for one in lives if any(line is entry for line in one.lines)]
    if told:
        return any(one is life for one in told)
    written = None if entry is None else entry.when.lo
    instant = next((one for one in (finding.begun, finding.since, written) if one is not None), None)
    return instant is None or (
        life.arrived_when.lo <= instant and (life.ended_when is None or instant <= life.ended_when.hi)
    )


def _alive(bath: BathLife, instant: int) -> bool:
    return bath.made_when.lo <= instant and (bath.ended_when is None or instant <= bath.ended_when.hi)


def _run(bath: BathLife, finding: Finding) -> list[BathReading]:
    """The unbroken row of readings out of that range up to the finding's own line, those before any skin went in too."""
    for what, limits in _ranges(bath):
        if limits.place != finding.rule:
            continue
        readings = [reading for reading in bath.readings if reading.fact.what == what]
        own = [number for number, reading in enumerate(readings) if reading.entry is finding.entry]
        if not own or beyond(readings[own[0]].fact, limits) is None:
            continue
        first = own[0]
        while first > 0 and beyond(readings[first - 1].fact, limits) is not None and not limits.basis:
            first -= 1
        return readings[first : own[0] + 1]
    return []


def _ranges(bath: BathLife) -> Iterator[tuple[str, Range]]:
    for member in bath.members:
        line = member.stay.line
        if line is not None:
            for what in RANGED:
                for limits in ranges_of(line, what):
                    yield what, limits


def as_it_met(finding: Finding, life: HideLife, floor: Floor) -> Finding:
    """The same finding with the hide's own moment; of one that came to it later the message says so first."""
    own = at_work_from(finding, life)
    if own is None or own.bath is None:
        return finding
    if own.stay is None:
        return replace(finding, since=own.instant)
    read = ""
    if own.wrong:
        said = [when_said(floor.book.clock, one.when, floor.at) for one in own.wrong]
        since = f"out of range since {said[0]}, last" if len(said) > 1 else "which had read"
        read = f", {since} {reading_said(own.wrong[-1].fact)} {said[-1]}"
    return replace(finding, since=own.instant, message=f"went into {own.bath.tag} then{read}; {finding.message}")
