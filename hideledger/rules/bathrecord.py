"""What the tubs' own lines tell of the past: gaps between readings and between stirs, and readings that were wrong."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import pairwise

from hideledger.model.entry import Entry
from hideledger.model.moments import DAY, When, spoken
from hideledger.model.process import Every, Range, Step
from hideledger.rules.bathnow import first_in, is_judged
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.readings import beyond, counted_quantities, doubt, limit_said, ranges_of, reading_said
from hideledger.rules.righting import example_for
from hideledger.rules.telling import bath_cause, of_bath
from hideledger.rules.words import when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, Member
from hideledger.shopfloor.noted import BathReading
from hideledger.text.place import Place


def reading_missed(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A day without a reading is a day nobody can answer for, and the loss shows two stages later."""
    for bath in horizon.baths:
        watched = [
            (m, m.stay.line.read_every)
            for m in bath.members
            if m.stay.line is not None and m.stay.line.read_every is not None
        ]
        if not watched:
            continue
        counted = {what for m, _ in watched if m.stay.line is not None for what in counted_quantities(m.stay.line)}
        points = [(reading.when, reading.entry) for reading in bath.readings if reading.fact.what in counted]
        line = watched[0][0].stay.line
        example = example_for(line, bath, floor.book.shop.shop.degrees)
        yield from _gaps(bath, watched, points, "reading missed", horizon, example)


def stir_missed(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Skins that lie still on each other in the first days keep the liquor from the places where they touch."""
    for bath in horizon.baths:
        watched = [
            (m, m.stay.line.stirred_every)
            for m in bath.members
            if m.stay.line is not None and m.stay.line.stirred_every is not None
        ]
        if not watched:
            continue
        points = [(noted.when, noted.entry) for noted in bath.stirs]
        points += [(m.enter, m.stay.mark.entry) for m in bath.members]
        points += [(m.leave, m.stay.end_entry or m.stay.mark.entry) for m in bath.members if m.leave is not None]
        yield from _gaps(bath, watched, points, "stir missed", horizon, "stirred")


_Point = tuple[When, Entry]


def _gaps(
    bath: BathLife,
    watched: list[tuple[Member, Every]],
    points: list[_Point],
    name: str,
    horizon: Horizon,
    example: str,
) -> Iterator[Finding]:
    points.sort(key=lambda point: (point[0].hi, point[1].order))
    at = 0
    for start, end, members in _occupied(watched):
        every = min((e for _, e in members), key=_strictness)
        while at < len(points) and points[at][0].hi < start[0].lo:
            at += 1
        row: list[_Point] = [start]
        last = end[0] if end is not None else None
        while at < len(points) and (last is None or points[at][0].lo <= last.hi):
            row.append(points[at])
            at += 1
        if end is not None:
            row.append(end)
        for one, other in pairwise(row):
            gap = _gap(one[0], other[0], every, horizon)
            if gap is None:
                continue
            over, may, fell = gap
            # Somebody could have done it from then on: at the closing of a day it was left out, else when the shop opens behind the limit.
            begins = (
                horizon.hours.closing(horizon.clock.day_of(fell))
                if every.length is None
                else horizon.hours.next_opening(fell)
            )
            inside = [m.hide for m, _ in members if m.enter.lo < other[0].hi and (m.leave is None or m.leave.hi > fell)]
            doing = "read" if name == "reading missed" else "moved"
            wanted = "every open day" if every.length is None else f"every {every.length}"
            yield of_bath(
                bath,
                inside,
                name=name,
                when="record",
                message=(
                    f"not {doing} between {when_said(horizon.clock, one[0], horizon.at)} and "
                    f"{when_said(horizon.clock, other[0], horizon.at)}, {spoken(other[0].hi - one[0].lo)}; to be "
                    f"{doing} {wanted}"
                ),
                do=f"if it was, write it with its own date{' and what it read' if name == 'reading missed' else ''}, like this: "
                f"`{bath.tag} {example}`",
                entry=other[1],
                rule=every.place,
                may=may,
                since=min(begins, max(fell, other[0].hi)),
                over_s=over,
                limit_s=DAY if every.length is None else every.length.about_seconds,
                cause=bath_cause(bath),
                begun=one[0].lo,
                days=(one[0].day, other[0].day),
            )


def _strictness(every: Every) -> int:
    return DAY if every.length is None else every.length.about_seconds


def _occupied(
    watched: list[tuple[Member, Every]],
) -> Iterator[tuple[_Point, _Point | None, list[tuple[Member, Every]]]]:
    """The stretches a bath had such hides in it without a break: the first entering, the last leaving, and who."""
    row = sorted(watched, key=lambda item: item[0].enter.lo)
    at = 0
    while at < len(row):
        first, inside = row[at][0], [row[at]]
        leave, last = first.leave, first
        at += 1
        while at < len(row) and (leave is None or row[at][0].enter.lo <= leave.hi):
            member = row[at][0]
            if leave is not None and (member.leave is None or member.leave.hi > leave.hi):
                leave, last = member.leave, member
            inside.append(row[at])
            at += 1
        end = None if leave is None else (leave, last.stay.end_entry or last.stay.mark.entry)
        yield (first.enter, first.stay.mark.entry), end, inside


def _gap(one: When, other: When, every: Every, horizon: Horizon) -> tuple[int, bool, int] | None:
    """Seconds past the limit between two readings, whether that is only possible, and the instant from which on it was missed
    (of an open day, its beginning); None when the limit was kept."""
    if every.length is None:
        missed = horizon.hours.next_open_day(one.day)
        if missed >= other.day:
            return None
        return max(0, other.lo - horizon.hours.closing(missed)), False, horizon.clock.day_start(missed)
    latest, earliest = every.length.after(one.hi, horizon.clock), every.length.after(one.lo, horizon.clock)
    if other.lo > latest:
        return other.lo - latest, False, latest
    if other.hi > earliest and (one.lo != one.hi or other.lo != other.hi):
        return other.hi - earliest, True, earliest
    return None


def reading_out_of_range(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A bath wrong today and right tomorrow did little harm; one left so is where a loss is looked for."""
    for bath in horizon.baths:
        if not bath.readings or not bath.members:
            continue
        lines: dict[Place, Step] = {}
        for member in bath.members:
            if member.stay.line is not None:
                lines.setdefault(member.stay.line.place, member.stay.line)
        for what in ("pH", "temperature", "salt"):
            ranges = [(line, limits) for line in lines.values() for limits in ranges_of(line, what)]
            if ranges:
                yield from _wrong_runs(bath, what, ranges, horizon)


def _wrong_runs(bath: BathLife, what: str, ranges: list[tuple[Step, Range]], horizon: Horizon) -> Iterator[Finding]:
    run: list[tuple[BathReading, Range, list[Member]]] = []
    for reading in bath.readings:
        # What is read as a bath is let go was mostly made ready for the drain first, and says nothing of the skins.
        if reading.fact.what != what or reading.entry is bath.ended:
            continue
        wrong = _wrong(bath, reading, ranges)
        if wrong is not None:
            run.append((reading, *wrong))
            continue
        if any(beyond(reading.fact, limits) is not None for _, limits, _ in run):
            continue  # nobody was in it, but it was no better
        if run and not _put_right(bath, run[0][0], reading, horizon):
            yield _run_told(bath, run, reading, horizon)
        run = []
    # A run that goes on to the last reading is still going on where hides are in it: that is told as a matter of now.
    if run and not any(m.leave is None for _, _, members in run for m in members):
        yield _run_told(bath, run, None, horizon)


def _wrong(bath: BathLife, reading: BathReading, ranges: list[tuple[Step, Range]]) -> tuple[Range, list[Member]] | None:
    """The range it lies farthest outside of, and all hides whose step it was wrong for."""
    worst, most, hides = None, 0.0, []
    for line, limits in ranges:
        out = beyond(reading.fact, limits)
        if out is None or not is_judged(reading, limits, first_in(bath)):
            continue
        inside = [
            m
            for m in bath.members
            if m.enter.lo <= reading.when.hi
            and (m.leave is None or m.leave.hi >= reading.when.lo)
            and m.stay.line is not None
            and m.stay.line.place == line.place
        ]
        if inside:
            hides += inside
            if worst is None or out > most:
                worst, most = limits, out
    return None if worst is None else (worst, hides)


def _put_right(bath: BathLife, wrong: BathReading, good: BathReading, horizon: Horizon) -> bool:
    """Whether a dose and a good reading followed by the end of the next open day."""
    if good.when.day > horizon.hours.next_open_day(wrong.when.day):
        return False
    return any(dose.when.hi >= wrong.when.lo and dose.when.lo <= good.when.hi for dose in bath.doses)


def _run_told(
    bath: BathLife, run: list[tuple[BathReading, Range, list[Member]]], good: BathReading | None, horizon: Horizon
) -> Finding:
    clock, at = horizon.clock, horizon.at
    out: Callable[[tuple[BathReading, Range, list[Member]]], float] = lambda item: beyond(item[0].fact, item[1]) or 0.0  # noqa: E731
    worst = max(run, key=out)
    reading, limits, _ = worst
    first = run[0][0]
    lasted = f"{len(run)} readings from {when_said(clock, first.when, at)}, the worst " if len(run) > 1 else ""
    until, ends = "", first.when
    if good is not None:
        until, ends = f"; good again {when_said(clock, good.when, at)}", good.when
    elif bath.ended_when is not None:
        until, ends = (
            f"; never read good before it was let go, {when_said(clock, bath.ended_when, at)}",
            bath.ended_when,
        )
    return of_bath(
        bath,
        {id(m.hide): m.hide for _, _, members in run for m in members}.values(),
        name="reading out of range",
        when="record",
        message=f"{lasted}{reading_said(reading.fact)} {when_said(clock, reading.when, at)}, "
        f"{limit_said(reading.fact, limits)}{until}",
        do="if a figure is misread, strike that line and write it again; else say behind the dash what was done: "
        f"`{bath.tag} waived reading out of range -- dosed, and read again`",
        entry=first.entry,
        rule=limits.place,
        may=out(worst) < doubt(reading.fact),
        since=first.when.lo,
        cause=f"{bath_cause(bath)} {reading.fact.what} {first.entry.order}",
        days=(first.when.day, ends.day),
    )
