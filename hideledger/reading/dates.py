"""The date a line has: its own, or the one that stands above it in the same file."""

from __future__ import annotations

from datetime import date

from hideledger.model.moments import Clock, NoSuchTime, When
from hideledger.model.shop import ShopBook
from hideledger.reading.cut import Cut
from hideledger.reading.trouble import Unreadable
from hideledger.reading.values import STRETCHES, WrittenDate, clock_minute, written_date

_EARLY, _LATE = 300, 1020  # before 5:00 under a time after 17:00 is perhaps past midnight
_HALF_YEAR = 183
NEAR_DAYS = 61  # as far as a page lets a date without its year lie from the date above it
_ABOUT = 30  # minutes either way


class Dating:
    """Carries the date down one file. `ordinal` is the date that holds, or None with the reason `why`."""

    __slots__ = (
        "_again",
        "_clock",
        "_dates",
        "_days",
        "_last",
        "_order",
        "_times",
        "minute",
        "of_line",
        "ordinal",
        "why",
        "year",
    )

    def __init__(self, shop: ShopBook, clock: Clock) -> None:
        self._clock = clock
        self._order = shop.shop.dates
        self._dates: dict[str, int] = {}
        self._times: dict[str, int] = {}
        self._days: dict[int, When] = {}
        self.begin_file()

    def begin_file(self) -> None:
        """A new file: no date stands above its first line."""
        self._last: tuple[int, int] | None = None  # day and minute of the last time read
        self._again: int | None = None  # the day whose doubled hour was seen to begin anew
        self.ordinal: int | None = None
        self.of_line: int | None = None  # the day of the line in hand, a late one's too
        self.year: int | None = None
        self.minute: int | None = None
        self.why = "no date stands above this line; write one: 2026-11-03 07:45"

    def below(self, when: When) -> None:
        """What is read stands below a line of that moment, which it may follow in the doubled hour of a night."""
        if not when.timed or when.lo != when.hi:
            return
        local = self._clock.local(when.lo)
        self._last = when.day, local.hour * 60 + local.minute
        self._again = when.day if self._clock.instant(*self._last)[0] != when.lo else None

    def year_alone(self, year: int) -> None:
        """A year on a line of its own serves the dates below that have none."""
        self.year = year

    def lost(self, line: int) -> None:
        """The line that should have given a date could not be read."""
        self.ordinal = self.of_line = None
        self.why = f"line {line} should have given the date and could not be read; write the date here"

    def of(self, cut: Cut, *, alone: bool) -> When:
        """When the line is. `alone`: nothing but a date stands on it. Raises Unreadable at an offset in the line."""
        self.of_line = self.ordinal
        own = self._own_date(cut) if cut.date else None
        self.of_line = own if own is not None else self.ordinal
        minute = self._minute(cut) if cut.time and cut.time.casefold() not in STRETCHES else None
        if own is not None:
            late = self.ordinal is not None and own < self.ordinal and not alone
            if late:
                self.ordinal = None
                shown = date.fromordinal(own).isoformat()
                self.why = f"the line above is dated back to {shown}: this line's date is not known; write it"
            else:
                if own != self.ordinal:
                    self.minute = None
                self.ordinal = own
            ordinal = own
        else:
            if self.ordinal is None:
                at = cut.time_at if cut.time else cut.who_at if cut.who else cut.body_at
                raise Unreadable("no date", self.why, at, at + max(1, len(cut.time or cut.who)))
            ordinal = self.ordinal
            if minute is not None and self.minute is not None and minute < _EARLY and self.minute > _LATE:
                day, after = date.fromordinal(ordinal), date.fromordinal(ordinal + 1)
                message = f"{cut.time} under a later time: past midnight? {day.isoformat()} or {after.isoformat()}; write the date"
                # Which day the lines below it are of is as open as its own.
                self.ordinal = None
                self.why = f"the line above ({cut.time}) may be of {day.isoformat()} or {after.isoformat()}; write the date here"
                raise Unreadable("past midnight", message, cut.time_at, cut.time_at + len(cut.time))
        if minute is not None and self.ordinal == ordinal:
            self.minute = minute
        return self._moment(cut, ordinal, minute)

    def _own_date(self, cut: Cut) -> int:
        known = self._dates.get(cut.date)
        if known is not None:
            return known
        written = written_date(cut.date, cut.date_at, self._order)
        found = written.settled(self.year if self.year is not None else self._nearest_year(written)).toordinal()
        if written.year is None:
            if self.ordinal is not None and self.ordinal - found > _HALF_YEAR:
                year = self.year or 0
                message = f"{cut.date}: {year} or {year + 1}? write a year alone on a line above, or 2026-11-03"
                raise Unreadable("year", message, cut.date_at, cut.date_at + len(cut.date))
        else:
            tail = cut.date.strip().split()[-1]
            if len(cut.date.split()) > 2 and not cut.time and tail.isdigit() and int(tail[2:]) < 60:
                message = f"{tail}: the year, or {tail[:2]}:{tail[2:]}? write 2026-11-03 {tail[:2]}:{tail[2:]}"
                raise Unreadable("year or time", message, cut.date_at, cut.date_at + len(cut.date))
            self._dates[cut.date] = found
        return found

    def _nearest_year(self, written: WrittenDate) -> int | None:
        """Under a date with its year, a date without one is the same day of that year's neighbourhood: within two months, or asked."""
        if written.year is not None or self.ordinal is None:
            return None
        above = date.fromordinal(self.ordinal)
        near = []
        for year in (above.year - 1, above.year, above.year + 1):
            try:
                near.append((abs(date(year, written.month, written.day).toordinal() - self.ordinal), year))
            except ValueError:
                continue
        return min(near)[1] if near and min(near)[0] <= NEAR_DAYS else None

    def _minute(self, cut: Cut) -> int:
        known = self._times.get(cut.time)
        if known is None:
            known = self._times[cut.time] = clock_minute(cut.time, cut.time_at)
        return known

    def _moment(self, cut: Cut, ordinal: int, minute: int | None) -> When:
        if minute is None:
            stretch = STRETCHES.get(cut.time.casefold()) if cut.time else None
            if stretch is not None:
                return self._clock.between(ordinal, *stretch)
            whole = self._days.get(ordinal)
            if whole is None:
                whole = self._days[ordinal] = self._clock.some_time(ordinal)
            return whole
        if cut.about:
            return self._clock.between(ordinal, max(0, minute - _ABOUT), min(1439, minute + _ABOUT))
        try:
            return self._at(ordinal, minute)
        except NoSuchTime:
            day = date.fromordinal(ordinal).isoformat()
            message = (
                f"{cut.time} never happened on {day}: the clocks went forward that night; write the time they showed"
            )
            raise Unreadable("clock gap", message, cut.time_at, cut.time_at + len(cut.time)) from None

    def _at(self, ordinal: int, minute: int) -> When:
        """A time that comes twice is the first, unless it stands below a later one that comes twice too: then the clocks went back between."""
        above, self._last = self._last, (ordinal, minute)
        when = self._clock.at(ordinal, minute)
        if not when.twice:
            return when
        if above is not None and above[0] == ordinal and above[1] > minute and self._clock.instant(*above)[1]:
            self._again = ordinal
        return self._clock.at_again(ordinal, minute) if self._again == ordinal else when
