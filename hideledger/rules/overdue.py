"""Limits that run now: the longest time of a stay, a run or a rest, and the time a step may take to come."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from hideledger.model.entry import Entry
from hideledger.model.moments import Length, When, spoken
from hideledger.model.process import Step
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.spans import (
    counts_from,
    current_spell,
    limit_falls,
    next_step,
    place_in_process,
    position,
    turned,
)
from hideledger.rules.telling import TAGS, of_hide, stay_cause, twice_told
from hideledger.rules.words import when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife
from hideledger.text.place import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Running:
    """One limit that runs on one hide: it falls between `earliest` and `latest` (UTC seconds).

    `standing` means that the clock stands now, so that it may be passed but is not about to be. `over` are the seconds
    past it where they are not simply the time since it fell.
    """

    life: HideLife
    entry: Entry
    rule: Place
    limit: Length
    start: When
    earliest: int
    latest: int
    what: str  # "in pickle", "turning in second turn", "no oiled yet"
    do: str
    cause: str
    bath: BathLife | None = None
    standing: bool = False
    over: int | None = None
    optional: bool = False


def overdue(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A skin left too long goes on changing: alkali loosens the hair, damp rots it, and it does not show."""
    for limit in running_limits(horizon):
        if horizon.at <= limit.earliest and limit.over is None:
            continue
        certain = horizon.at > limit.latest if limit.over is None else limit.over > 0
        may = not certain or limit.optional
        if limit.over is not None and not certain:
            continue
        fell = limit.latest if certain else limit.earliest
        over = horizon.at - fell if limit.over is None else limit.over
        yield of_hide(
            limit.life,
            name="overdue",
            when="now",
            message=_overdue_said(limit, over, horizon, may=may),
            do=limit.do,
            entry=limit.entry,
            bath=limit.bath,
            rule=limit.rule,
            may=may,
            since=fell,
            over_s=over,
            limit_s=limit.limit.about_seconds,
            more=twice_told(horizon.clock, horizon.at, limit.start),
            cause=limit.cause,
            begun=limit.start.lo,
        )


def _overdue_said(limit: Running, over: int, horizon: Horizon, *, may: bool) -> str:
    since = when_said(horizon.clock, limit.start, horizon.at)
    by = f"it may be {spoken(over)} over" if may else f"{spoken(over)} over"
    return f"{limit.what} since {since}, {limit.limit} at most: {by}"


def due(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Whatever runs out in the night runs out on a closed shop: it has to be moved before the last one leaves."""
    for limit in running_limits(horizon):
        if limit.standing or limit.over is not None or horizon.at > limit.earliest:
            continue
        by = horizon.hours.act_by(limit.earliest)
        if by > horizon.end:
            continue
        clock, at = horizon.clock, horizon.at
        since = when_said(clock, limit.start, at)
        told = f"{limit.what} since {since}, {limit.limit} at most: {horizon.time_is_up(limit.earliest)}"
        yield of_hide(
            limit.life,
            name="due",
            when="tonight",
            message=told,
            do=limit.do,
            entry=limit.entry,
            bath=limit.bath,
            rule=limit.rule,
            may=limit.optional or (limit.earliest != limit.latest and horizon.hours.act_by(limit.latest) > horizon.end),
            since=limit.earliest,
            over_s=min(0, at - by),
            limit_s=limit.limit.about_seconds,
            more=twice_told(clock, at, limit.start),
            cause=limit.cause,
            begun=limit.start.lo,
        )


def running_limits(horizon: Horizon) -> Iterator[Running]:
    """Every limit that runs on a hide here."""
    for life in horizon.here:
        if life.process is None and life.resting is None:
            continue
        yield from _of_stay(life, horizon)
        yield from _of_rest(life, horizon)
        yield from _of_within(life, horizon)


def _of_stay(life: HideLife, horizon: Horizon) -> Iterator[Running]:
    spell = current_spell(life)
    if not spell or spell[-1].line is None:
        return
    stay, line = spell[-1], spell[-1].line
    limits = line.limits_for(life.kind)
    if limits is None or limits.most is None:
        return
    start = spell[0].start
    standing = life.resting is not None
    over: int | None = None
    if line.sort == "run":
        least, most = turned(spell)
        earliest = horizon.at + limits.most.about_seconds - most
        latest = horizon.at + limits.most.about_seconds - least
        what = f"turned {spoken(least)} in {line.title}"
        standing = not stay.turning_now
        if standing:
            over = least - limits.most.about_seconds
    else:
        earliest, latest = limit_falls(life, start, limits.most, horizon.clock, horizon.at)
        what = f"in {line.title}"
    yield Running(
        life=life,
        entry=spell[0].mark.entry,
        rule=limits.place,
        limit=limits.most,
        start=start,
        earliest=earliest,
        latest=latest,
        what=what,
        do=f"stop it and write: `{stay.where} off`" if stay.turning_now else move_on(life, stay.where),
        cause=stay_cause(stay),
        bath=stay.bath,
        standing=standing,
        over=over,
    )


def _of_rest(life: HideLife, horizon: Horizon) -> Iterator[Running]:
    pause = life.resting
    rest = life.process.rest(pause.name) if pause is not None and life.process is not None else None
    if pause is None or rest is None or rest.most is None:
        return
    yield Running(
        life=life,
        entry=pause.entry,
        rule=rest.place,
        limit=rest.most,
        start=pause.start,
        earliest=rest.most.after(pause.start.lo, horizon.clock),
        latest=rest.most.after(pause.start.hi, horizon.clock),
        what=pause.name,
        do=f"thaw it, go on with it and write: `{TAGS} thawed`",
        cause=f"line {pause.entry.order}",
    )


def _of_within(life: HideLife, horizon: Horizon) -> Iterator[Running]:
    if life.process is None:
        return
    come = position(life)
    for i, step in enumerate(life.process.steps):
        if i <= come or not step.within:
            continue
        for within in step.within:
            found = counts_from(life, within)
            if found is None:
                continue
            start, marks, mark = found
            # An optional one is asked for only while the hide lies about since then, and has gone on to nothing else.
            if _came_after(life, marks, i, step) or (step.optional and any(not m.skipped for m in life.marks[marks:])):
                continue
            earliest, latest = limit_falls(life, start, within.length, horizon.clock, horizon.at)
            yield Running(
                life=life,
                entry=life.arrived if mark is None else mark.entry,
                rule=within.place,
                limit=within.length,
                start=start,
                earliest=earliest,
                latest=latest,
                what=f"not {step.title} yet, {within.of}",
                do=f"do it and write: `{TAGS} {step.name}`",
                cause=f"line {(life.arrived if mark is None else mark.entry).order}",
                standing=life.resting is not None,
                optional=step.optional,
            )


def _came_after(life: HideLife, marks: int, place: int, step: Step) -> bool:
    """Whether the step, or a later one, was written after that many marks, or left out on purpose."""
    return any(
        (mark.skipped and mark.line == step) or (not mark.skipped and place_in_process(life, mark.line) >= place)
        for mark in life.marks[marks:]
    ) or any(mark.skipped and mark.line == step for mark in life.marks[:marks])


def move_on(life: HideLife, where: str) -> str:
    """What to do with a hide that has been long enough where it is, and the line to write."""
    step = next_step(life)
    if step is not None and step.name == "out":
        first = f"write `{TAGS} out of {where}`, and " if where else ""
        return f"go on with it; {first}when it leaves the shop `{TAGS} out to {life.payer or 'NAME'}`"
    if step is not None:
        if where:
            return f"take it out and go on with it, and write: `{TAGS} {step.name}`, or for now `{TAGS} out of {where}`"
        return f"go on with it and write: `{TAGS} {step.name}`"
    if where:
        return f"take it out and write: `{TAGS} out of {where}`"
    return f"go on with it, or say why it stays: `{TAGS} waived overdue -- why`"
