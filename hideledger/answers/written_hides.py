"""What a line has made of a hide: where it is now and since when, how long after the last step, and what comes next."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from hideledger.answers.floor_desk import still_missing
from hideledger.answers.saying import length_said, point, today, when_words
from hideledger.answers.standing import next_steps, state_of, state_since
from hideledger.answers.written_facts import facts_said
from hideledger.model.entry import Entry
from hideledger.model.facts import (
    Arrived,
    By,
    Code,
    Fact,
    InCondition,
    Killed,
    LiftedOut,
    OfKind,
    OfSex,
    Party,
    Remark,
    Skipped,
    Stepped,
)
from hideledger.model.moments import DAY, MINUTE, Clock, When, spoken
from hideledger.rules.horizon import Horizon
from hideledger.rules.raw import raw_clock_due
from hideledger.rules.running import Running, running_limits
from hideledger.rules.spans import current_spell, limit_falls, turned
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.lengths import between
from hideledger.shopfloor.life import HideLife, StepMark

_MISSING = {"for whom": "customer", "legal tag": "tag", "when killed": "kill time"}
# Said with the step, the arrival or the end, or not worth a word.
_SAID_APART: tuple[type[Fact], ...] = (Arrived, Stepped, Skipped, LiftedOut, By, Remark)
_OF_THE_RECORD = (Code, Party, Killed)
_MOST_NEXT = 3
_SOON = 2 * DAY  # within it, that nobody will be there is worth saying


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """All limits that run on the hides of a floor, and by tag the instant (UTC seconds) at which a raw clock is full."""

    running: tuple[Running, ...]
    raw: Mapping[str, int]


def limits_of(floor: Floor, horizon: Horizon) -> Limits:
    """The limits that run now; of raw clocks those that end before somebody is there again after a day."""
    raw = {one.tags[0]: one.since for one in raw_clock_due(floor, horizon) if one.since is not None}
    return Limits(running=tuple(running_limits(floor, horizon)), raw=raw)


def hide_said(life: HideLife, entry: Entry, floor: Floor, horizon: Horizon, limits: Limits) -> str:
    """What one line says of one hide, without its tag; nothing where it says nothing of it."""
    said = [*_way(life, entry, floor)]
    comes = any(isinstance(fact, Arrived) for fact in entry.facts)
    record = any(isinstance(fact, _OF_THE_RECORD) for fact in entry.facts)
    left_out = _SAID_APART if not comes else (*_SAID_APART, OfKind, OfSex, InCondition, *_OF_THE_RECORD)
    said += facts_said(entry.facts, floor.book.clock, floor.at, but=left_out)
    if life.ended is entry and life.ended_when is not None and life.arrived is not entry:
        said.append(f"{length_said(*between(life.arrived_when, life.ended_when))} after it came")
    if life.arrived is entry and (comes or record):
        said += [_asks(life, floor) or ("" if life.box else "nothing missing for its record")]
    elif record and (asks := _asks(life, floor)):
        said.append(asks)
    if not said and entry.remark:
        said.append("remark noted")
    if _is_last(life, entry):
        said += _next(life, floor, horizon, limits)
    elif life.here and any(isinstance(fact, Stepped) for fact in entry.facts):
        said.append(f"now {state_of(life)} since {when_words(state_since(life), floor.book.clock, floor.at)}")
    return "; ".join(part for part in said if part)


def _asks(life: HideLife, floor: Floor) -> str:
    missing = [_MISSING.get(what, what) for what in still_missing(life, floor)]
    return f"no {', '.join(missing)}" if missing else ""


def _way(life: HideLife, entry: Entry, floor: Floor) -> list[str]:
    """Arrival, steps, rests and the lifting out of a line, in the order in which they stand there."""
    said: list[str] = []
    if life.arrived is entry and any(isinstance(fact, Arrived) for fact in entry.facts):
        rests = life.resting is not None and life.resting.entry is entry
        came = [life.kind, "" if life.condition is None or rests else life.condition[0].condition]
        count = f", {life.count} in it" if life.box else ""
        said.append(", ".join(["in", *(part for part in came if part)]) + count)
    for fact in entry.facts:
        if isinstance(fact, Skipped):
            said.append(f"{fact.step} left out on purpose")
        elif isinstance(fact, LiftedOut):
            said.append(_lifted(life, entry, fact))
    marks = [mark for mark in life.marks if mark.entry is entry and not mark.skipped and mark.name not in ("in", "out")]
    moments: list[StepMark] = []
    for mark in marks:
        if mark.elsewhere:
            said.append(f"{_title(mark)} done before it came")
        elif _holds(life, mark):
            said += _moments(life, moments, floor)
            moments = []
            said.append(_stay(life, mark, floor))
        else:
            moments.append(mark)
    said += _moments(life, moments, floor)
    return said + _rests(life, entry, floor)


def _moments(life: HideLife, marks: list[StepMark], floor: Floor) -> list[str]:
    """Steps that hold nobody, those of one line together: `fleshed, ears turned at 19:10, 50 min after in`."""
    if not marks:
        return []
    when = when_words(marks[0].when, floor.book.clock, floor.at)
    at = f" at {when}" if marks[0].when.timed else f", {when}"
    return [f"{', '.join(_title(mark) for mark in marks)}{at}{_after(life, marks[0])}"]


def _stay(life: HideLife, mark: StepMark, floor: Floor) -> str:
    clock, at = floor.book.clock, floor.at
    stay = next(stay for stay in life.stays if stay.mark is mark)
    where = f" in {mark.where}" if mark.where else ""
    if stay.bath is not None and stay.end is None:
        where += f" ({len({member.hide.tag for member in stay.bath.now_in})} in it)"
    told = f"{'back in ' if mark.on_purpose and mark.back else ''}{_title(mark)}{where}"
    if stay.told and stay.end is not None:
        lasted = length_said(*between(stay.start, stay.end))
        return f"{told}, {lasted}, to {when_words(stay.end, clock, at)}{_after(life, mark)}"
    since = when_words(mark.when, clock, at)
    return f"{told} {'since ' if mark.when.timed else ''}{since}{_after(life, mark)}"


def _rests(life: HideLife, entry: Entry, floor: Floor) -> list[str]:
    said: list[str] = []
    clock, at = floor.book.clock, floor.at
    for pause in life.pauses:
        if pause.end_entry is entry and pause.end is not None:
            said.append(f"no longer {pause.name}, after {length_said(*between(pause.start, pause.end))}")
        elif pause.entry is entry:
            where = f" in {pause.place}" if pause.place else ""
            since = when_words(pause.start, clock, at)
            said.append(f"{pause.name}{where} {'since ' if pause.start.timed else ''}{since}; its clocks stand")
    return said


def _lifted(life: HideLife, entry: Entry, fact: LiftedOut) -> str:
    stay = next((stay for stay in life.stays if stay.end_entry is entry), None)
    if stay is None or stay.end is None:
        return f"out of {fact.where}"
    return f"out of {fact.where} after {length_said(*between(stay.begun or stay.start, stay.end))} in {stay.name}"


def _after(life: HideLife, mark: StepMark) -> str:
    """`, 30 min after fleshed`, or how long the stay was that this step ended: `, after 3 d 6 h in pickle`."""
    ended = next(
        (stay for stay in life.stays if stay.end_entry is mark.entry and stay.mark.entry is not mark.entry), None
    )
    if ended is not None and ended.end is not None:
        gone = between(ended.begun or ended.start, ended.end)
        return f", after {length_said(*gone)} in {_title(ended.mark)}" if gone[1] >= MINUTE else ""
    before: tuple[When, str] | None = None
    if any(isinstance(fact, Arrived) for fact in life.arrived.facts) and life.arrived is not mark.entry:
        before = life.arrived_when, "in"
    for other in life.marks:
        if other.entry is mark.entry:
            break
        if not other.skipped and not other.elsewhere and other.name != "in":
            before = other.when, _title(other)
    if before is None:
        return ""
    gone = between(before[0], mark.when)
    return f", {length_said(*gone)} after {before[1]}" if gone[1] >= MINUTE else ""


def _title(mark: StepMark) -> str:
    return mark.line.title if mark.line is not None else mark.name or f"back in {mark.where}"


def _holds(life: HideLife, mark: StepMark) -> bool:
    return any(stay.mark is mark for stay in life.stays)


def _is_last(life: HideLife, entry: Entry) -> bool:
    """Whether this line is what the hide's present state comes from."""
    if not life.here or not life.declared:
        return False
    if not any(isinstance(fact, (Arrived, Stepped, LiftedOut, Skipped)) for fact in entry.facts):
        return False
    if life.resting is not None:
        return life.resting.entry is entry
    ended = [pause.end_entry for pause in life.pauses[-1:]]
    lines = [mark.entry for mark in life.marks if not mark.elsewhere][-1:] or [life.arrived]
    lifted = [stay.end_entry for stay in life.stays[-1:]]
    return any(line is entry for line in (*lines, *ended, *lifted))


def _next(life: HideLife, floor: Floor, horizon: Horizon, limits: Limits) -> list[str]:
    """What its process has next, not before and not after when."""
    if life.process is None:
        return [] if life.box else ["no process is written, so nothing is judged"]
    clock, at = floor.book.clock, floor.at
    if life.resting is not None:
        rest = next((one for one in limits.running if one.life is life and not one.rests), None)
        return [] if rest is None else [f"at most until {soon(rest.earliest, clock, at)}"]
    steps = [step.title for step in next_steps(life)]
    if len(steps) > _MOST_NEXT:
        steps = steps[-1:] if life.stay is None else steps[:1] + steps[-1:]
    bounds = [*_not_before(life, floor), *_not_after(life, floor, horizon, limits)]
    raw = limits.raw.get(life.tag)
    if raw is not None and life.raw is not None and life.raw.running and raw > at:
        bounds.append(f"raw clock full {soon(raw, clock, at)}")
    if not steps and not bounds:
        return []
    return [f"next: {', '.join(part for part in (' or '.join(steps), *bounds) if part)}"]


def _not_before(life: HideLife, floor: Floor) -> list[str]:
    spell = current_spell(life)
    line = spell[-1].line if spell else None
    bounds = line.limits_for(life.kind) if line is not None else None
    if line is None or bounds is None or bounds.least is None:
        return []
    clock, at = floor.book.clock, floor.at
    if line.sort == "run":
        left = bounds.least.about_seconds - turned(spell)[0]
        return [f"{spoken(left)} to turn yet"] if left > 0 else []
    ready = limit_falls(life, spell[0].start, bounds.least, clock, at)[1]
    return [f"not before {soon(ready, clock, at)}"] if ready > at else []


def _not_after(life: HideLife, floor: Floor, horizon: Horizon, limits: Limits) -> list[str]:
    running = [
        one for one in limits.running if one.life is life and one.rests and not one.standing and not one.optional
    ]
    first = min(running, key=lambda one: one.earliest, default=None)
    if first is None or first.earliest <= floor.at:
        return []
    clock, at = floor.book.clock, floor.at
    told = f"by {soon(first.earliest, clock, at)}"
    by = horizon.hours.act_by(first.earliest)
    if at < by < first.earliest <= at + _SOON:
        told += f" (nobody is there then: act by {soon(by, clock, at)})"
    return [told]


def soon(instant: int, clock: Clock, at: int) -> str:
    """A moment to come as one says it: `17:10`, `tomorrow 19:40`, `Thu 12 Nov 19:40`."""
    if clock.day_of(instant) == today(clock, at) + 1:
        return f"tomorrow {clock.local(instant):%H:%M}"
    return point(instant, clock, at)
