"""Promises to customers: what will not be ready on its day, and what was not."""

from __future__ import annotations

from collections.abc import Iterable
from statistics import median

from hideledger.model.moments import DAY, spoken
from hideledger.model.process import Step
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.spans import current_spell, elapsed, now_when, only_out_is_left, place_in_process, to_come, turned
from hideledger.rules.telling import TAGS, of_hide
from hideledger.rules.words import day_said, stamp
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife

# The usual time is the middle of at least so many finished hides; a warning by it alone waits until so near the day.
_ENOUGH, _NEAR = 3, 14 * DAY


def least_time_left(life: HideLife, horizon: Horizon) -> int:
    """The rest of the work takes so many seconds at the least.

    What is left of this stay, and all least times to come but the optional ones.
    """
    left = 0
    spell = current_spell(life)
    line = spell[-1].line if spell else None
    limits = None if line is None else line.limits_for(life.kind)
    if line is not None and limits is not None and limits.least is not None:
        spent = (
            turned(spell)[1]
            if line.sort == "run"
            else elapsed(life, spell[0].start, now_when(horizon.clock, horizon.at), horizon.at)[1]
        )
        left = max(0, limits.least.about_seconds - spent)
    return left + sum(_least(step, life) for step in to_come(life) if not step.optional)


def _least(step: Step, life: HideLife) -> int:
    limits = step.limits_for(life.kind)
    return limits.least.about_seconds if limits is not None and limits.least is not None else 0


def _usual_times(horizon: Horizon) -> dict[tuple[str, str], int]:
    """By process and step: the usual time from that step to the door, seconds, over the hides that went out."""
    times: dict[tuple[str, str], list[int]] = {}
    for life in horizon.lives:
        if life.ended_as != "out" or life.ended_when is None or life.process is None:
            continue
        for mark in life.marks:
            if mark.line is not None and not mark.skipped and not mark.back:
                times.setdefault((life.process.name, mark.line.title), []).append(life.ended_when.lo - mark.when.hi)
    return {key: int(median(several)) for key, several in times.items() if len(several) >= _ENOUGH}


def promise_at_risk(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A customer waits easily when told in time, and never when told on the day."""
    clock, at = horizon.clock, horizon.at
    usual: dict[tuple[str, str], int] | None = None
    for life in horizon.here:
        if life.promised is None or life.process is None or only_out_is_left(life, clock, at):
            continue
        fact, entry = life.promised
        day = fact.day.toordinal()
        if at >= clock.day_end(day):
            continue
        closing = horizon.hours.closing(day)
        least = least_time_left(life, horizon)
        may = False
        if at + least > closing:
            reason = f"what is left takes {spoken(least)} at the least, to {stamp(clock, at + least, at)}"
            over = at + least - closing
        else:
            if closing - at > _NEAR:
                continue
            usual = _usual_times(horizon) if usual is None else usual
            longer = _usual_left(life, usual)
            if longer is None or at + longer <= closing:
                continue
            reason, may, over = f"from here it usually takes {spoken(longer)}", True, at + longer - closing
        yield of_hide(
            life,
            name="promise at risk",
            when="tonight",
            message=f"promised for {day_said(clock, day, at)}; {reason}",
            do=f"get on with it, or tell {life.payer or 'the customer'} and write the new day: `{TAGS} promised "
            f"{_later(horizon, at + least + over)}`",
            entry=entry,
            may=may,
            since=closing,
            over_s=min(0, at - closing),
            cause=f"line {entry.order} {day}",
            begun=entry.when.lo,
        )


def _later(horizon: Horizon, instant: int) -> str:
    day = horizon.hours.next_open_day(horizon.clock.day_of(instant))
    return f"{horizon.clock.local(horizon.clock.day_start(day)):%Y-%m-%d}"


def _usual_left(life: HideLife, usual: dict[tuple[str, str], int]) -> int | None:
    """The usual time from the last step to the door, less what has passed is not counted: it is a guess as it is."""
    if life.process is None:
        return None
    for mark in reversed(life.marks):
        if mark.line is not None and not mark.skipped and place_in_process(life, mark.line) >= 0:
            return usual.get((life.process.name, mark.line.title))
    return None


def _was_ready(life: HideLife, horizon: Horizon, instant: int) -> bool:
    """Whether the last of its work was done by then; a line without a time may have been in time."""
    done = [mark.when.lo for mark in life.marks if not mark.skipped]
    return (not done or done[-1] < instant) and only_out_is_left(life, horizon.clock, instant)


def promise_missed(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """The day has gone by, and the hide was not ready: the customer is owed a word, and a new day.

    One that was ready in time waits to be fetched: that is no promise missed.
    """
    clock, at = horizon.clock, horizon.at
    for life in horizon.here:
        if life.promised is None:
            continue
        fact, entry = life.promised
        day = fact.day.toordinal()
        over = at - clock.day_end(day)
        if over < 0:
            continue
        ready = life.resting is None and only_out_is_left(life, clock, at)  # one in the freezer is still to be thawed
        if ready and _was_ready(life, horizon, clock.day_end(day)):
            continue
        days_late = horizon.today - day
        yield of_hide(
            life,
            name="promise missed",
            when="now",
            message=f"promised for {day_said(clock, day, at)}, "
            + (
                "ready since, too late, and not fetched"
                if ready
                else f"{spoken(over)} ago"
                if over >= DAY
                else "and still here"
            ),
            do=(
                f"call {life.payer or 'the customer'}; when it goes, write: `{TAGS} out to {life.payer or 'NAME'}`"
                if ready
                else f"tell {life.payer or 'the customer'} and write the new day: `{TAGS} promised "
                f"{_later(horizon, at + least_time_left(life, horizon))}`"
            ),
            entry=entry,
            since=clock.day_end(day),
            over_s=over,
            rings=not ready and days_late % 7 == 1,  # once, then weekly
            cause=f"line {entry.order} {day}",
            begun=entry.when.lo,
        )
