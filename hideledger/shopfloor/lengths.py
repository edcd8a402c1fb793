"""How far apart two moments lie: lines without a time give a range, two moments of one line none.

A hide that came in frozen began to rest at the very moment it arrived, whatever the hour was: what lies between the
two is nothing, not `up to a day`. So moments are compared as the same where they come from the same line.
"""

from __future__ import annotations

from hideledger.model.moments import When
from hideledger.shopfloor.life import HideLife


class Apart(When):
    """A moment that lies a known time from another: a step written afterwards began so long before it was over.

    `by` are the seconds from `base`, negative before it.
    """

    __slots__ = ("base", "by")

    def __init__(self, base: When, by: int) -> None:
        super().__init__(base.lo + by, base.hi + by, base.day, base.timed, base.twice)
        root, off = _root(base)
        self.base: When = root
        self.by: int = off + by


def between(start: When, end: When) -> tuple[int, int]:
    """Seconds (least, most) from one moment to another; exact for two moments of one line, however vague that is."""
    first, first_by = _root(start)
    last, last_by = _root(end)
    if first is last:
        exact = max(0, last_by - first_by)
        return exact, exact
    return max(0, end.lo - start.hi), max(0, end.hi - start.lo)


def elapsed(life: HideLife, start: When, end: When, at: int) -> tuple[int, int]:
    """Seconds (least, most) between two moments with the hide's rests left out; one that goes on ends at `at`."""
    whole = between(start, end)
    if not life.pauses or not whole[1]:
        return whole
    least = most = 0
    rest_least = rest_most = 0
    since = start
    for pause in life.pauses:
        stop = pause.end if pause.end is not None else When(at, at, end.day, True)
        if stop.hi <= start.lo or pause.start.lo >= end.hi:
            continue
        gap = between(since, _earlier(pause.start, end))
        least, most = least + gap[0], most + gap[1]
        since = _later(since, stop)
        rest_least += max(0, min(stop.lo, end.lo) - max(pause.start.hi, start.hi))
        rest_most += max(0, min(stop.hi, end.hi) - max(pause.start.lo, start.lo))
    gap = between(since, end)
    least, most = least + gap[0], most + gap[1]
    # Both ways to reckon it hold; what they leave in common is closer than either.
    least = max(least, whole[0] - rest_most)
    return least, max(least, min(most, whole[1] - rest_least))


def rested(life: HideLife, start: When, end: When, at: int) -> tuple[int, int]:
    """Seconds (least, most) that the hide rested between two moments."""
    least = most = 0
    for pause in life.pauses:
        stop = pause.end if pause.end is not None else When(at, at, end.day, True)
        if stop.hi <= start.lo or pause.start.lo >= end.hi:
            continue
        rest = between(_later(start, pause.start), _earlier(stop, end))
        least, most = least + rest[0], most + rest[1]
    return least, most


def _root(when: When) -> tuple[When, int]:
    return (when.base, when.by) if isinstance(when, Apart) else (when, 0)


def _earlier(one: When, other: When) -> When:
    """Whichever of two moments came first; where nobody knows, a range for it."""
    if one is other or one.hi <= other.lo:
        return one
    if other.hi <= one.lo:
        return other
    return When(min(one.lo, other.lo), min(one.hi, other.hi), one.day, False)


def _later(one: When, other: When) -> When:
    """Whichever of two moments came last."""
    if one is other or one.lo >= other.hi:
        return one
    if other.lo >= one.hi:
        return other
    return When(max(one.lo, other.lo), max(one.hi, other.hi), one.day, False)
