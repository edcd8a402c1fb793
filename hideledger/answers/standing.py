"""Where a hide stands: the step or rest it is in, how long, and what its process has next."""

from __future__ import annotations

from hideledger.model.moments import Clock, When
from hideledger.model.process import Step
from hideledger.rules.spans import current_spell, elapsed, now_when, only_out_is_left, to_come, turned
from hideledger.shopfloor.life import HideLife


def state_of(life: HideLife) -> str:
    """`pickle`, `frozen`, `after shaved`, `came in, green`: the state as a word of the shop."""
    if life.resting is not None:
        return life.resting.name
    if life.stay is not None:
        return life.stay.line.title if life.stay.line is not None else life.stay.name
    done = [mark for mark in life.marks if not mark.skipped]
    if done and done[-1].name != "in":
        return f"after {done[-1].line.title if done[-1].line is not None else done[-1].name}"
    condition = f", {life.condition[0].condition}" if life.condition is not None else ""
    return f"{'box, not opened' if life.box else 'came in'}{condition}"


def spot_of(life: HideLife) -> str:
    """The name of the place or the tag of the vessel it stands in; nothing when it is just in the room."""
    if life.resting is not None:
        return life.resting.place
    if life.stay is not None and life.stay.bath is None:
        return life.stay.where
    return ""


def state_since(life: HideLife) -> When:
    """When its present state began, as far as it was written: after a stay with times of its own, when that was over."""
    if life.resting is not None:
        return life.resting.start
    spell = current_spell(life)
    if spell:
        return spell[0].start
    done = [mark for mark in life.marks if not mark.skipped]
    if not done:
        return life.arrived_when
    over = life.stays[-1].end if life.stays and life.stays[-1].mark is done[-1] else None
    return done[-1].when if over is None else over


def time_held(life: HideLife, clock: Clock, at: int) -> tuple[int, bool]:
    """Seconds that the present stay has held the hide for certain, and whether that is time turned in a drum."""
    spell = current_spell(life)
    if not spell:
        return 0, False
    if spell[0].line is not None and spell[0].line.sort == "run":
        return turned(spell)[0], True
    return elapsed(life, spell[0].start, now_when(clock, at), at)[0], False


def had_its_least_time(life: HideLife, clock: Clock, at: int) -> bool:
    """Whether the present stay has a least time, and has had it for certain."""
    stay = life.stay
    if stay is None or stay.line is None or life.resting is not None:
        return False
    limits = stay.line.limits_for(life.kind)
    if limits is None or limits.least is None:
        return False
    return time_held(life, clock, at)[0] >= limits.least.about_seconds


def next_steps(life: HideLife) -> tuple[Step, ...]:
    """The steps that may come next: optional ones, and the first that is not; nothing for a hide without a process."""
    following: list[Step] = []
    for step in to_come(life):
        following.append(step)
        if not step.optional:
            break
    return tuple(following)


def is_finished(life: HideLife, clock: Clock, at: int) -> bool:
    """Whether only `out` is left, and the present step has had its least time."""
    return not life.box and life.resting is None and only_out_is_left(life, clock, at)
