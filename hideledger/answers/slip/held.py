"""Which skins have held so far: not through yet, but past the stage at which those beside them had slipped.

Those that slip are known at once, the sound ones only behind the last bath; to count only what is known would make every new
bath look far worse than it is. So like is set beside like: a skin counts as held once it has come further than the slowest
of those that slipped had when their sign was written.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from hideledger.answers.slip.outcomes import HELD, NOT_YET, Fate, place_of_step
from hideledger.model.moments import When
from hideledger.model.process import Process
from hideledger.rules.spans import elapsed, now_when
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife, StepMark

_Stage = tuple[int, int]  # the place of the step in its process, and seconds since it began


def held_so_far(floor: Floor, ends: Sequence[Fate]) -> tuple[Fate, ...]:
    """The same skins; of those without an outcome `held so far` where they are past the stage of those that slipped.

    The measure are those that slipped and shared a bath with it, else all that slipped. A hair that gave way in a pull has
    not held, and where the ways through the shop cannot be compared nothing is said.
    """
    hits = [fate for fate in ends if fate.hit]
    return tuple(
        replace(fate, end=HELD) if fate.end == NOT_YET and _held(floor, fate.life, hits) else fate for fate in ends
    )


def _held(floor: Floor, life: HideLife, hits: Sequence[Fate]) -> bool:
    process = life.process
    if process is None or any("pull" in test.fact.test and not test.fact.passed for test in life.tests):
        return False
    baths = _baths(life, floor.at)
    beside = [fate for fate in hits if baths & _baths(fate.life, _sign_at(fate).lo)] or list(hits)
    stages = [_stage(floor, fate.life, process, _sign_at(fate), slowest=True) for fate in beside]
    own = _stage(floor, life, process, now_when(floor.book.clock, floor.at), slowest=False)
    return bool(stages) and own is not None and all(stage is not None and own >= stage for stage in stages)


def _sign_at(fate: Fate) -> When:
    assert fate.sign is not None
    return fate.sign.when


def _baths(life: HideLife, until: int) -> frozenset[int]:
    """The baths it lay in, each by the line that made it."""
    return frozenset(stay.bath.made.order for stay in life.stays if stay.bath is not None and stay.start.lo <= until)


def _stage(floor: Floor, life: HideLife, process: Process, when: When, *, slowest: bool) -> _Stage | None:
    """How far it had come at a moment, by the steps of `process`; None where that has no such step."""
    last: StepMark | None = None
    for mark in life.marks:
        counts = not (mark.skipped or mark.fault or mark.elsewhere or mark.line is None)
        if counts and mark.when.lo <= when.lo:
            last = mark
    place = 0 if last is None else _place_in(process, last)
    since = life.arrived_when if last is None else last.when
    if place < 0:
        return None
    least, most = elapsed(life, since, when, floor.at)
    return (place, most if slowest else least)


def _place_in(process: Process, mark: StepMark) -> int:
    """The place of a step in this process; of a step of another one by its name, the last where it stands twice."""
    place = place_of_step(process, mark.line)
    if place >= 0:
        return place
    return max((number for number, step in enumerate(process.steps) if step.called(mark.name)), default=-1)
