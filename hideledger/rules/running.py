"""Every limit that runs on a hide here: of its stay, its rest, and of what must follow within a time."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from operator import itemgetter

from hideledger.model.entry import Entry
from hideledger.model.moments import Length, When, spoken
from hideledger.model.process import Limits, Step
from hideledger.rules.horizon import Horizon
from hideledger.rules.spans import (
    arrival_unread,
    counts_from,
    current_spell,
    limit_falls,
    next_step,
    place_in_process,
    position,
    turned,
    turned_enough,
)
from hideledger.rules.telling import TAGS, stay_cause
from hideledger.rules.tubs import asked
from hideledger.rules.unwritten import arrival_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife, Stay
from hideledger.text.place import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Running:
    """One limit that runs on one hide: it falls between `earliest` and `latest` (UTC seconds).

    `standing` means that the clock stands now, so that it may be passed but is not about to be. `over` are the seconds
    past it, least and most, where they are not simply the time since it fell.
    """

    life: HideLife
    entry: Entry
    rule: Place
    limit: Length
    start: When
    earliest: int
    latest: int
    what: str  # "in pickle", "turned 40 min in second turn", "not oiled yet, drained"
    name: str  # the step or the rest, or "not oiled yet"
    do: str
    cause: str
    after: str = ""  # the step that a time within which another must come counts from
    lies: bool = False  # it is the limit of the stay the hide lies in
    bath: BathLife | None = None
    standing: bool = False
    over: tuple[int, int] | None = None
    optional: bool = False
    unread: str = ""  # what is said of an arrival that could not be read: then the limit only may hold
    rests: bool = True  # rests are left out of it
    not_before: int | None = None  # when the shortest time of the same stay is reached: no act before it


def running_limits(floor: Floor, horizon: Horizon) -> Iterator[Running]:
    """Every limit that runs on a hide here. Whose arrival could not be read goes by the strictest the shop has."""
    for life in horizon.here:
        if (life.process is None and life.resting is None) or arrival_unread(life):
            continue
        spell = current_spell(life)
        line = spell[-1].line if spell else None
        if line is not None:
            yield from _of_stay(life, spell, line, line.limits_for(life.kind), horizon)
        yield from _of_rest(life, horizon)
        yield from _of_within(life, horizon)
    for life in horizon.unread:
        spell = current_spell(life)
        strictest = _strictest(floor, spell[-1].name) if spell else None
        if strictest is not None:
            said = f"{arrival_said(life, floor)}, so its limits are not known for certain"
            yield from _of_stay(life, spell, *strictest, horizon, unread=said)


def _strictest(floor: Floor, name: str) -> tuple[Step, Limits] | None:
    """Of all processes that have a step, the one that allows it the shortest time."""
    found: list[tuple[int, Step, Limits]] = []
    for versions in floor.book.shop.processes.values():
        for step in versions[-1].steps if versions else ():
            if name not in (step.name, *step.others):
                continue
            for limits in (step.limits, *(limits for _, limits in step.limits_by_kind)):
                if limits is not None and limits.most is not None:
                    found.append((limits.most.about_seconds, step, limits))
    if not found:
        return None
    _, step, limits = min(found, key=itemgetter(0))
    return step, limits


def _of_stay(
    life: HideLife, spell: list[Stay], line: Step, limits: Limits | None, horizon: Horizon, unread: str = ""
) -> Iterator[Running]:
    stay = spell[-1]
    if limits is None or limits.most is None:
        return
    start = spell[0].start
    standing = life.resting is not None
    over: tuple[int, int] | None = None
    if line.sort == "run":
        least, most = turned(spell)
        wanted = limits.most.about_seconds
        first, last = turned_enough(spell, wanted, horizon.at)
        earliest = horizon.at + max(0, wanted - most) if first is None else first
        latest = horizon.at + max(0, wanted - least) if last is None else last
        what = f"turned {spoken(least)} in {line.title}" if least else f"not turned yet for certain in {line.title}"
        standing = not stay.turning_now
        over = (least - wanted, most - wanted)
        ready = None if limits.least is None else horizon.at + max(0, limits.least.about_seconds - least)
    else:
        earliest, latest = limit_falls(life, start, limits.most, horizon.clock, horizon.at)
        what = f"in {line.title}"
        ready = None if limits.least is None else _ready(life, start, limits.least, earliest, horizon)
    yield Running(
        life=life,
        entry=spell[0].mark.entry,
        rule=limits.place,
        limit=limits.most,
        start=start,
        earliest=earliest,
        latest=latest,
        what=what,
        name=line.title,
        lies=line.sort != "run",
        do=f"stop it and write: `{stay.where} off`" if stay.turning_now else move_on(life, stay.where, horizon),
        cause=stay_cause(stay),
        bath=stay.bath,
        standing=standing,
        over=over,
        unread=unread,
        not_before=ready,
    )


def _ready(life: HideLife, start: When, least: Length, limit: int, horizon: Horizon) -> int:
    """When the shortest time is reached for certain; where that is past the longest already, when it may be reached."""
    soonest, latest = limit_falls(life, start, least, horizon.clock, horizon.at)
    return latest if latest <= limit else soonest


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
        name=pause.name,
        do=f"thaw it, go on with it and write: `{TAGS} thawed`",
        cause=f"line {pause.entry.order}",
        rests=False,
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
                name=f"not {step.title} yet",
                after=within.of,
                do=f"do it and write: {asked(TAGS, step, horizon, _load_of(life))}",
                cause=f"line {(life.arrived if mark is None else mark.entry).order}",
                standing=life.resting is not None,
                optional=step.optional,
            )


def _came_after(life: HideLife, marks: int, place: int, step: Step) -> bool:
    """Whether the step, or a later one, was written after that many marks, or left out on purpose."""
    return (
        any(
            (mark.skipped and mark.line == step) or (not mark.skipped and place_in_process(life, mark.line) >= place)
            for mark in life.marks[marks:]
        )
        or any(mark.skipped and mark.line == step for mark in life.marks[:marks])
        or _written_out_of_order(life, marks, step)
    )


def _written_out_of_order(life: HideLife, marks: int, step: Step) -> bool:
    """Whether the step is written, only not where it comes: that is told as its order, and nobody may say it was not done."""
    swapped = {id(mark) for mark, _ in life.swapped}
    return any(
        mark.name in (step.name, *step.others)
        and not mark.skipped
        and (i >= marks or (not step.again and (mark.fault or id(mark) in swapped)))
        for i, mark in enumerate(life.marks)
    )


def move_on(life: HideLife, where: str, horizon: Horizon) -> str:
    """What to do with a hide that has been long enough where it is, and the line to write."""
    step = next_step(life)
    if step is not None and step.name == "out":
        first = f"write `{TAGS} out of {where}`, and " if where else ""
        return f"go on with it; {first}when it leaves the shop `{TAGS} out to {life.payer or 'NAME'}`"
    if step is not None:
        line = asked(TAGS, step, horizon, _load_of(life))
        if where:
            first = "" if line.endswith(f" in {where}`") else "take it out and "  # a second turn in the same load
            return f"{first}go on with it, and write: {line}, or for now `{TAGS} out of {where}`"
        return f"go on with it and write: {line}"
    if where:
        return f"take it out and write: `{TAGS} out of {where}`"
    return f"go on with it, or say why it stays: `{TAGS} waived overdue -- why`"


def _load_of(life: HideLife) -> BathLife | None:
    return None if life.stay is None else life.stay.bath
