"""The minutes of a timetable: when somebody is there, when hides are moved, and how long the work at the bench takes."""

from __future__ import annotations

from collections.abc import Iterable

from hideledger.answers.saying import today
from hideledger.model.moments import MINUTE, Clock
from hideledger.model.process import Step
from hideledger.rules.hours import ShopHours
from hideledger.shopfloor.floor import Floor
from hideledger.trade.timetable import Skin

GRIDS = (30, 20, 15, 10, 5)
_WEEKS_AHEAD = 10 * 7


def bench_minutes(steps: Iterable[Step]) -> int:
    """How long one person works on a hide in these steps, as far as the process says it."""
    return sum(-(-step.takes.about_seconds // MINUTE) for step in steps if step.takes is not None)


def worked_until(clock: Clock, hours: ShopHours, first: int, work: int) -> int:
    """The minute at which so much work is done, begun at the first minute from an instant on at which somebody is there."""
    begun = hours.next_opening(first * MINUTE)
    start = day = clock.day_of(begun)
    left = work
    while left > 0 and day <= start + _WEEKS_AHEAD:
        for opens, closes in hours.stretches(day):
            lo, hi = max(opens, begun) // MINUTE, closes // MINUTE
            if hi - lo >= left:
                return lo + left
            left -= max(0, hi - lo)
        day += 1
    return begun // MINUTE


def grid_for(skins: Iterable[Skin]) -> int:
    """The widest distance of moments at which each limited stay can end in time."""
    limited = [
        (spell.least + spell.work, spell.most) for skin in skins for spell in skin.spells[1:] if spell.most is not None
    ]
    for grid in GRIDS:
        if all(-(-least // grid) * grid <= most for least, most in limited):
            return grid
    return GRIDS[-1]


def times_of(
    floor: Floor, hours: ShopHours, days: int, grid: int
) -> tuple[tuple[int, ...], tuple[int, ...], tuple[tuple[int, int], ...]]:
    """The moments with their days, and the stretches in which somebody is there; all in minutes, from now on."""
    clock = floor.book.clock
    first, now = today(clock, floor.at), -(-floor.at // MINUTE)
    found: dict[int, int] = {}
    stretches: list[tuple[int, int]] = []
    if hours.is_open(floor.at):
        found[now] = first
    for day in range(first - 1, first + days + 1):
        for start, end in hours.stretches(day):
            opens, closes = max(now, start // MINUTE), end // MINUTE
            if stretches and opens < stretches[-1][1]:
                opens = stretches[-1][1]
            if closes > opens:
                stretches.append((opens, closes))
            for moment in (*range(start // MINUTE, end // MINUTE, grid), end // MINUTE) if day >= first else ():
                if moment * MINUTE >= floor.at:
                    found[moment] = day
    ordered = sorted(found)
    return tuple(ordered), tuple(found[moment] for moment in ordered), tuple(stretches)
