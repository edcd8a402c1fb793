"""From when on a bath's fault was at work on one hide: from its own going in, where the fault had begun before that."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from hideledger.model.process import Range
from hideledger.rules.finding import Finding
from hideledger.rules.readings import beyond, ranges_of, reading_said
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
QUANTITIES = ("pH", "temperature", "salt")


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
            for what in QUANTITIES:
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
