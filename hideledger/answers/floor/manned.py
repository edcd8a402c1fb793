"""When somebody is in the shop to move a hide: what falls due between closing and opening has to be done before."""

from __future__ import annotations

from hideledger.answers.saying import point, today
from hideledger.model.moments import Clock, spoken
from hideledger.model.shop import ShopLines
from hideledger.rules.hours import ShopHours


def manned_words(shop: ShopLines, hours: ShopHours, clock: Clock, at: int) -> str:
    """One sentence: until when somebody is there, or when somebody comes next."""
    if not shop.hours:
        return "The shop's hours are not in the book, so no night is reckoned with."
    closing = closes_at(hours, clock, at)
    coming = _opens_after(hours, clock, at if closing is None else closing)
    if closing is None:
        if coming is None:
            return "Nobody is here, and the book names no day on which somebody will be."
        return f"Nobody is here until {point(coming, clock, at)}, {spoken(coming - at)} from now."
    then = "" if coming is None else f", then from {point(coming, clock, at)}"
    return f"Somebody is here until {point(closing, clock, at)}{then}."


def closes_at(hours: ShopHours, clock: Clock, at: int) -> int | None:
    """When the shop closes, if somebody is there now and stays beyond this minute."""
    day = clock.day_of(at)
    return max(
        (end for d in (day - 1, day) for start, end in hours.stretches(d) if start <= at < end),
        default=None,
    )


def night_before(shop: ShopLines, hours: ShopHours, clock: Clock, at: int) -> tuple[int, int] | None:
    """On the first look of a day from when to when nobody was there; None later, and without an hours line."""
    if not shop.hours or clock.local(at).hour >= 12:
        return None
    left = hours.last_closing(at)
    if left is None or clock.day_of(left) >= today(clock, at):
        return None
    opened = _opens_after(hours, clock, left)
    return left, at if opened is None else min(at, opened)


def _opens_after(hours: ShopHours, clock: Clock, at: int) -> int | None:
    day = clock.day_of(at)
    starts = [start for start, _ in hours.stretches(day) if start > at]
    if not starts:
        later = hours.next_open_day(day)
        starts = [start for start, _ in hours.stretches(later) if start > at]
    return min(starts, default=None)
