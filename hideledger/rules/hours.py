"""When somebody is there to move a hide: the shop's hours, its closed days, the next opening and the last closing.

Instants are UTC seconds, days are ordinals of the shop's calendar. Without an `hours` line somebody is always there,
but for the days written as `closed`.
"""

from __future__ import annotations

from datetime import date

from hideledger.model.moments import Clock
from hideledger.model.shop import ShopLines

# A shop that is closed for longer than this is closed for good, and no opening is waited for.
_LONGEST_CLOSED_DAYS = 800


class ShopHours:
    """Nobody stands at the tub at night: the hours of one shop, laid on the calendar."""

    __slots__ = ("_clock", "_closed", "_days", "_hours")

    def __init__(self, shop: ShopLines, clock: Clock) -> None:
        self._clock = clock
        self._hours = shop.hours
        self._closed = tuple((c.first.toordinal(), c.last.toordinal()) for c in shop.closed)
        self._days: dict[int, tuple[tuple[int, int], ...]] = {}

    def stretches(self, day: int) -> tuple[tuple[int, int], ...]:
        """The manned stretches that begin on a day, as instants, earliest first; none on a closed day."""
        known = self._days.get(day)
        if known is None:
            known = self._days[day] = self._laid_out(day)
        return known

    def _laid_out(self, day: int) -> tuple[tuple[int, int], ...]:
        if any(first <= day <= last for first, last in self._closed):
            return ()
        if not self._hours:
            return ((self._clock.day_start(day), self._clock.day_end(day)),)
        weekday = date.fromordinal(day).weekday()
        found = []
        for hours in self._hours:
            if weekday in hours.weekdays:
                end = hours.end if hours.end > hours.start else hours.end + 1440
                found.append((self._clock.opening(day, hours.start), self._clock.opening(day, end)))
        return tuple(sorted(found))

    def open_day(self, day: int) -> bool:
        """Whether somebody is there at all that day."""
        return bool(self.stretches(day))

    def is_open(self, instant: int) -> bool:
        """Whether somebody is there at that moment; the minute of closing is the last."""
        day = self._clock.day_of(instant)
        return any(start <= instant <= end for d in (day - 1, day) for start, end in self.stretches(d))

    def next_opening(self, instant: int) -> int:
        """The moment itself when somebody is there, or when the shop opens no more; else the next opening."""
        if self.is_open(instant):
            return instant
        day = self._clock.day_of(instant)
        for d in range(day, day + _LONGEST_CLOSED_DAYS):
            for start, _ in self.stretches(d):
                if start >= instant:
                    return start
        return instant

    def last_closing(self, instant: int) -> int | None:
        """The last closing time at or before a moment."""
        day = self._clock.day_of(instant)
        for d in range(day, day - _LONGEST_CLOSED_DAYS, -1):
            ends = [end for _, end in self.stretches(d) if end <= instant]
            if ends:
                return max(ends)
        return None

    def closing(self, day: int) -> int:
        """When the last one leaves that day; on a closed day the end of the day."""
        stretches = self.stretches(day)
        return max(end for _, end in stretches) if stretches else self._clock.day_end(day)

    def next_open_day(self, day: int) -> int:
        """The first day after this one on which somebody is there."""
        for d in range(day + 1, day + _LONGEST_CLOSED_DAYS):
            if self.open_day(d):
                return d
        return day + 1

    def open_days_between(self, first: int, last: int, *, most: int = 400) -> int:
        """How many open days lie after `first` and before `last`; counts no further than `most`."""
        count, day = 0, self.next_open_day(first)
        while day < last and count < most:
            count += 1
            day = self.next_open_day(day)
        return count

    def act_by(self, limit: int) -> int:
        """By when to act for a limit: the limit itself, or the closing before it when nobody is there then."""
        if self.is_open(limit):
            return limit
        closing = self.last_closing(limit)
        return limit if closing is None else closing
