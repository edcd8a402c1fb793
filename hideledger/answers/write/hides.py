"""What a line has made of a hide: where it is now and since when, how long after the last step, and what comes next."""

from __future__ import annotations

from hideledger.answers.floor.desk import still_missing
from hideledger.answers.saying import length_said, when_words
from hideledger.answers.standing import state_of, state_since
from hideledger.answers.write.coming import Coming, HideSaid, Limits, coming
from hideledger.answers.write.facts import facts_said
from hideledger.answers.write.weights import weights_said
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
    Weighed,
)
from hideledger.model.moments import MINUTE, When
from hideledger.rules.horizon import Horizon
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.lengths import between
from hideledger.shopfloor.life import HideLife, StepMark

_MISSING = {"for whom": "customer", "legal tag": "tag", "when killed": "kill time"}
# Said with the step, the arrival or the end, or not worth a word.
_SAID_APART: tuple[type[Fact], ...] = (Arrived, Stepped, Skipped, LiftedOut, By, Remark, Weighed)
_OF_THE_RECORD = (Code, Party, Killed)


def hide_said(life: HideLife, entry: Entry, floor: Floor, horizon: Horizon, limits: Limits) -> HideSaid:
    """What one line says of one hide; empty where it says nothing of it."""
    last = _is_last(life, entry)
    return HideSaid(
        tag=life.tag,
        done=_done(life, entry, floor, last=last, brief=False),
        brief=_done(life, entry, floor, last=last, brief=True),
        coming=coming(life, floor, horizon, limits) if last else Coming(),
    )


def _done(life: HideLife, entry: Entry, floor: Floor, *, last: bool, brief: bool) -> str:
    """What was done, measured and seen; `brief` leaves out how long after the step before."""
    said = [*_way(life, entry, floor, brief=brief), *weights_said(life, entry, floor)]
    comes = any(isinstance(fact, Arrived) for fact in entry.facts)
    record = any(isinstance(fact, _OF_THE_RECORD) for fact in entry.facts)
    left_out = _SAID_APART if not comes else (*_SAID_APART, OfKind, OfSex, InCondition, *_OF_THE_RECORD)
    several = len(entry.tags) > 1 or entry.group is not None
    said += facts_said(entry.facts, floor.book.clock, floor.at, but=left_out, several=several)
    if life.ended is entry and life.ended_when is not None and life.arrived is not entry:
        said.append(f"{length_said(*between(life.arrived_when, life.ended_when))} after it came")
    if record or (comes and life.arrived is entry):
        said.append(_asks(life, floor))
    if not said and entry.remark:
        said.append("remark noted")
    if not last and life.here and any(isinstance(fact, Stepped) for fact in entry.facts):
        said.append(f"now {state_of(life)} since {when_words(state_since(life), floor.book.clock, floor.at)}")
    return "; ".join(part for part in said if part)


def _asks(life: HideLife, floor: Floor) -> str:
    missing = [_MISSING.get(what, what) for what in still_missing(life, floor)]
    return f"still to write: {', '.join(missing)}" if missing else ""


def _way(life: HideLife, entry: Entry, floor: Floor, *, brief: bool) -> list[str]:
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
            said += _moments(life, moments, floor, brief=brief)
            moments = []
            said.append(_stay(life, mark, floor, brief=brief))
        else:
            moments.append(mark)
    said += _moments(life, moments, floor, brief=brief)
    return said + _rests(life, entry, floor)


def _moments(life: HideLife, marks: list[StepMark], floor: Floor, *, brief: bool) -> list[str]:
    """Steps that hold nobody, those of one line together: `fleshed, ears turned at 19:10, 50 min after in`."""
    if not marks:
        return []
    when = when_words(marks[0].when, floor.book.clock, floor.at)
    at = f" at {when}" if marks[0].when.timed else f", {when}"
    return [f"{', '.join(_title(mark) for mark in marks)}{at}{'' if brief else _after(life, marks[0])}"]


def _stay(life: HideLife, mark: StepMark, floor: Floor, *, brief: bool) -> str:
    clock, at = floor.book.clock, floor.at
    stay = next(stay for stay in life.stays if stay.mark is mark)
    where = f" in {mark.where}" if mark.where else ""
    if stay.bath is not None and stay.end is None:
        where += f" ({len({member.hide.tag for member in stay.bath.now_in})} in it)"
    after = "" if brief else _after(life, mark)
    told = f"{'back in ' if mark.on_purpose and mark.back else ''}{_title(mark)}{where}"
    if stay.told and stay.end is not None:
        lasted = length_said(*between(stay.start, stay.end))
        return f"{told}, {lasted}, to {when_words(stay.end, clock, at)}{after}"
    since = when_words(mark.when, clock, at)
    return f"{told} {'since ' if mark.when.timed else ''}{since}{after}"


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
