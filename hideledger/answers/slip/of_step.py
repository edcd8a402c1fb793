"""A failure that happens at a step is counted among those that came to that step: nobody dries in the pickle."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from hideledger.answers.slip.apt import APT
from hideledger.answers.slip.outcomes import (
    AFTER_OUT,
    AT_DOOR,
    GONE,
    NEVER_CAME,
    NOT_YET,
    REFUSED,
    SLIPPED,
    THROUGH,
    Fate,
)
from hideledger.rules.how_far import can_wait
from hideledger.rules.spans import to_come
from hideledger.shopfloor.doings import Done, sort_of_name, steps_of
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife

_AS_IT_IS = frozenset({SLIPPED, AT_DOOR, AFTER_OUT, REFUSED, GONE})


@dataclass(frozen=True, slots=True, kw_only=True)
class OfStep:
    """The step to which a failure belongs in a book: its sort, and what the shop calls it there."""

    sort: str
    name: str


def step_of(defect: str, ends: Sequence[Fate]) -> OfStep | None:
    """A failure belongs to the step that every skin with it had come to last, of those at which it happens.

    None where they do not agree, or it comes of a bath.
    """
    apt = APT.get(defect)
    hits = [fate for fate in ends if fate.hit]
    if apt is None or not apt.steps or not hits:
        return None
    last = [_last_before(fate, apt.steps) for fate in hits]
    found = [one for one in last if one is not None]
    if len(found) < len(hits) or len({one.sort for one in found}) > 1:
        return None
    return OfStep(sort=found[0].sort, name=found[0].name)


def among_those_that_came_to(floor: Floor, step: OfStep, ends: Sequence[Fate]) -> tuple[Fate, ...]:
    """The same skins: through where they came to the step and nothing is written, not known yet where it is still to come."""
    return tuple(
        fate if fate.end in _AS_IT_IS else replace(fate, end=_end(floor, fate.life, step.sort)) for fate in ends
    )


def still_to_come_to(floor: Floor, life: HideLife, sort: str) -> bool:
    """Whether a skin that is here has a step of that sort before it: a finished one is past it, whatever its process would allow."""
    return (
        life.here
        and not can_wait(life, floor.book.clock, floor.at)
        and any(sort_of_name(one.name) == sort for one in to_come(life))
    )


def _end(floor: Floor, life: HideLife, sort: str) -> str:
    if any(one.sort == sort for one in _done(life)):
        return THROUGH
    return NOT_YET if still_to_come_to(floor, life, sort) else NEVER_CAME


def _last_before(fate: Fate, sorts: Sequence[str]) -> Done | None:
    limit = None if fate.sign is None else fate.sign.when.hi
    done = [one for one in _done(fate.life) if one.sort in sorts and (limit is None or one.mark.when.lo <= limit)]
    return done[-1] if done else None


def _done(life: HideLife) -> list[Done]:
    return [one for one in steps_of(life) if not one.mark.skipped and not one.mark.elsewhere]
