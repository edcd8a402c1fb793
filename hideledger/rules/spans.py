"""How long a hide was somewhere, with its rests left out: lengths as ranges, since not every line has a time."""

from __future__ import annotations

from collections.abc import Iterator

from hideledger.model.moments import DAY, HOUR, MINUTE, Clock, Length, When, spoken
from hideledger.model.process import Step, Within
from hideledger.shopfloor import lengths
from hideledger.shopfloor.life import HideLife, Stay, StepMark
from hideledger.shopfloor.raw import came_cured
from hideledger.shopfloor.tanned import leather_from

# Longest limit that is kept to the minute; beyond it the record allows a tenth (common practice, no source).
EXACT = 2 * HOUR


elapsed, rested = lengths.elapsed, lengths.rested  # rests left out; exact for two moments of one line


def now_when(clock: Clock, at: int) -> When:
    """Now, as a moment."""
    return When(at, at, clock.day_of(at), True)


def limit_falls(life: HideLife, start: When, length: Length, clock: Clock, at: int) -> tuple[int, int]:
    """The instants (earliest, latest) at which a length begun at `start` is over: a rest begun before then puts it off."""
    earliest, latest = length.after(start.lo, clock), length.after(start.hi, clock)
    for pause in life.pauses:
        stop_lo, stop_hi = (pause.end.lo, pause.end.hi) if pause.end is not None else (at, at)
        same = pause.start is start  # it came in frozen: the hour is not known, but that it is one and the same
        first = start.lo if same else max(pause.start.hi, start.lo)
        last = start.hi if same else max(pause.start.lo, start.hi)
        if first <= earliest:
            earliest += max(0, stop_lo - first)
        if last <= latest:
            latest += max(0, stop_hi - last)
    return earliest, latest


def over_by(life: HideLife, fell: int, clock: Clock, at: int) -> int:
    """Seconds a limit that fell at an instant is past, rests since then left out."""
    over = at - fell
    return over if not life.pauses else over - rested(life, now_when(clock, fell), now_when(clock, at), at)[0]


def left_out(life: HideLife, start: When, end: When, at: int) -> str:
    """What a clock does not count, said beside its limit: ` (frozen 3 d 2 h left out)`; nothing where nothing was left out."""
    most = rested(life, start, end, at)[1] if life.pauses else 0
    if most < MINUTE:
        return ""
    names = dict.fromkeys(p.name for p in life.pauses if p.start.lo < end.hi and (p.end is None or p.end.hi > start.lo))
    return f" ({' and '.join(names)} {spoken(most)} left out)"


def arrival_unread(life: HideLife) -> bool:
    """Whether the line it came in on could not be read, so that neither its way nor its kind is known for certain."""
    return not life.declared or bool(life.arrival_unread)


def spells(life: HideLife) -> Iterator[list[Stay]]:
    """The stays of a hide, those that only moved it to another bath within one step taken together."""
    spell: list[Stay] = []
    for stay in life.stays:
        if spell and not stay.goes_on:
            yield spell
            spell = []
        spell.append(stay)
    if spell:
        yield spell


def current_spell(life: HideLife) -> list[Stay]:
    """The stay a hide is in now, with what it moved from within the same step."""
    if life.stay is None:
        return []
    at = len(life.stays) - 1
    while at > 0 and life.stays[at].goes_on:
        at -= 1
    return life.stays[at:]


def turned_enough(spell: list[Stay], seconds: int, at: int) -> tuple[int | None, int | None]:
    """The instants (earliest, latest) at which the load had turned for so long with the hide in it; None: not yet."""
    first: list[tuple[int, int]] = []
    last: list[tuple[int, int]] = []
    for stay in spell:
        stay_lo, stay_hi = (at, at) if stay.end is None else (stay.end.lo, stay.end.hi)
        for turn in stay.bath.turns if stay.bath is not None else ():
            turn_lo, turn_hi = (at, at) if turn.end is None else (turn.end.lo, turn.end.hi)
            first.append((max(stay.start.lo, turn.start.lo), min(stay_hi, turn_hi)))
            if not turn.open_ended:
                last.append((max(stay.start.hi, turn.start.hi), min(stay_lo, turn_lo)))
    return _reached(first, seconds), _reached(last, seconds)


def _reached(spans: list[tuple[int, int]], seconds: int) -> int | None:
    gone = 0
    for start, end in sorted(spans):
        if end <= start:
            continue
        gone += end - start
        if gone > seconds:
            return end - (gone - seconds)
    return None


def turned(spell: list[Stay]) -> tuple[int, int]:
    """Seconds (least, most) the load turned with the hide in it."""
    return sum(stay.turned[0] for stay in spell), sum(stay.turned[1] for stay in spell)


def whole_days(length: Length) -> int | None:
    """The number of days of a limit written in whole days, else None: such a limit is judged by the calendar."""
    if length.months or not length.seconds or length.seconds % DAY:
        return None
    written = length.written.casefold()
    if written and not any(word in written for word in ("d", "wk", "week")):
        return None
    return length.seconds // DAY if written or length.seconds > DAY else None


def place_in_process(life: HideLife, step: Step | None) -> int:
    """Where a line stands in the hide's process, from 0; -1 when it is not there."""
    return -1 if life.process is None else life.process.place_of(step)


def position(life: HideLife) -> int:
    """How far a hide has come: the place of its last step in its process; 0 when it only arrived, -1 without one."""
    if life.process is None or not life.process.steps:
        return -1
    for mark in reversed(life.marks):
        if mark.line is not None and not mark.skipped:
            return place_in_process(life, mark.line)
    return 0 if life.process.steps[0].name == "in" else -1


def to_come(life: HideLife) -> list[Step]:
    """The steps after the present one that were not skipped, optional ones too, in order."""
    if life.process is None:
        return []
    skipped = [mark.line for mark in life.marks if mark.skipped and mark.line is not None]
    first = position(life) + 1
    if life.tanned_before:
        first = max(first, (leather_from(life.process) or 0) + 1)
    return [step for step in life.process.steps[first:] if not any(step == line for line in skipped)]


def next_step(life: HideLife) -> Step | None:
    """The next step that is not optional."""
    return next((step for step in to_come(life) if not step.optional), None)


def only_out_is_left(life: HideLife, clock: Clock, at: int) -> bool:
    """Whether all the work is done, the least time of the last step too, and the hide waits to be fetched."""
    if life.process is None or not life.process.steps:
        return False
    left = next_step(life)
    if left is not None and left.name != "out":
        return False
    if life.tanned_before and all(mark.name == "in" for mark in life.marks):
        return False  # it came for something, and nothing of that is written yet
    spell = current_spell(life)
    line = spell[-1].line if spell else None
    limits = line.limits_for(life.kind) if line is not None else None
    if line is None or limits is None or limits.least is None:
        return True
    spent = turned(spell) if line.sort == "run" else elapsed(life, spell[0].start, now_when(clock, at), at)
    return spent[1] >= limits.least.about_seconds


def counts_from(life: HideLife, within: Within, before: int | None = None) -> tuple[When, int, StepMark | None] | None:
    """The moment a `within` counts from: the last line of its step, or the arrival; the number of marks up to there.

    `before` is the number of marks to look at. None when that step was never written.
    """
    if within.of == "in" and (life.tanned_before or came_cured(life)):
        return None  # it came in cured, or tanned: nothing runs from the door
    end = len(life.marks) if before is None else before
    for i in range(end - 1, -1, -1):
        mark = life.marks[i]
        if not mark.skipped and (mark.name == within.of or (mark.line is not None and mark.line.title == within.of)):
            # Done before it came in: nobody knows when.
            return None if mark.elsewhere else (mark.when, i + 1, mark)
    if within.of != "in" or life.parent:
        return None
    return life.arrived_when, 0, None


def slack(length: Length) -> int:
    """Seconds a limit may be passed before the record speaks: none up to two hours, then a tenth."""
    return 0 if length.about_seconds <= EXACT else length.about_seconds // 10
