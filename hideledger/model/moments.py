"""Time as a shop keeps it: the wall clock on the page, real elapsed time underneath.

Instants are whole seconds of UTC since 1970-01-01; lengths of time are seconds really elapsed.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

MINUTE, HOUR, DAY = 60, 3600, 86400
_EPOCH_DAY = date(1970, 1, 1).toordinal()


class NoSuchTime(ValueError):
    """A time that the clock jumped over that night."""


class UnknownZone(ValueError):
    """A zone name that the time zone data does not hold."""


class When:
    """When something happened: an instant, or a stretch of time in which it lies.

    `lo` and `hi` are UTC seconds, equal when the time is known; `day` is the shop's calendar day as an ordinal;
    `timed` says whether a time was written; `twice` that this wall time came twice that night, and the first is taken for want of better knowledge.
    """

    __slots__ = ("day", "hi", "lo", "timed", "twice")

    def __init__(self, lo: int, hi: int, day: int, timed: bool, twice: bool = False) -> None:
        self.lo = lo
        self.hi = hi
        self.day = day
        self.timed = timed
        self.twice = twice

    def __repr__(self) -> str:
        return f"When({self.lo}, {self.hi}, {date.fromordinal(self.day).isoformat()}, timed={self.timed})"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, When) and (self.lo, self.hi, self.day, self.timed, self.twice) == (
            other.lo,
            other.hi,
            other.day,
            other.timed,
            other.twice,
        )

    def __hash__(self) -> int:
        return hash((self.lo, self.hi))

    def within(self, lo: int, hi: int) -> When:
        """The same moment, narrowed to what its neighbours leave it (never to nothing)."""
        new_lo, new_hi = max(self.lo, lo), min(self.hi, hi)
        if new_lo > new_hi:
            return self
        return (
            self if (new_lo, new_hi) == (self.lo, self.hi) else When(new_lo, new_hi, self.day, self.timed, self.twice)
        )


class Clock:
    """The shop's wall clock: turns what is written into instants and back. Without a zone no clock change is known."""

    __slots__ = ("_days", "zone", "zone_name")

    def __init__(self, zone_name: str | None) -> None:
        self.zone_name = zone_name
        self._days: dict[int, tuple[int, bool]] = {}
        if zone_name is None:
            self.zone: ZoneInfo | None = None
            return
        try:
            self.zone = ZoneInfo(zone_name)
        except (ZoneInfoNotFoundError, ValueError, OSError) as trouble:
            raise UnknownZone(zone_name) from trouble

    def _day(self, ordinal: int) -> tuple[int, bool]:
        """Instant of 00:00 (or of the day's first moment) and whether the clocks stay put all that day."""
        known = self._days.get(ordinal)
        if known is None:
            plain = (ordinal - _EPOCH_DAY) * DAY
            if self.zone is None:
                known = (plain, True)
            else:
                start = self._slow(ordinal, 0, missing_is_error=False)[0]
                end = self._slow(ordinal + 1, 0, missing_is_error=False)[0]
                known = (start, end - start == DAY and self._offset(start) == self._offset(end - 1))
            self._days[ordinal] = known
        return known

    def _offset(self, instant: int) -> int:
        assert self.zone is not None
        offset = datetime.fromtimestamp(instant, self.zone).utcoffset()
        assert offset is not None
        return int(offset.total_seconds())

    def _slow(self, ordinal: int, minute: int, *, missing_is_error: bool) -> tuple[int, bool]:
        assert self.zone is not None
        naive = datetime.combine(date.fromordinal(ordinal), datetime.min.time()) + timedelta(minutes=minute)
        local = naive.replace(tzinfo=self.zone)
        first = local.astimezone(UTC)
        if first.astimezone(self.zone).replace(tzinfo=None) != naive:
            if missing_is_error:
                raise NoSuchTime(naive.isoformat(sep=" ", timespec="minutes"))
            return int(first.timestamp()), False
        second = local.replace(fold=1).astimezone(UTC)
        return int(first.timestamp()), second != first

    def instant(self, ordinal: int, minute: int) -> tuple[int, bool]:
        """The instant of `minute` minutes past midnight, and whether that wall time comes twice (the first is taken).

        Raises NoSuchTime for a time that the clocks jump over.
        """
        start, steady = self._day(ordinal)
        if steady:
            return start + minute * MINUTE, False
        return self._slow(ordinal, minute, missing_is_error=True)

    def at(self, ordinal: int, minute: int) -> When:
        """A written date and time. Raises NoSuchTime."""
        instant, twice = self.instant(ordinal, minute)
        return When(instant, instant, ordinal, True, twice)

    def at_again(self, ordinal: int, minute: int) -> When:
        """The same where that wall time came twice and the second is meant: then it is no question. Raises NoSuchTime."""
        first = self.at(ordinal, minute)
        if not first.twice:
            return first
        naive = datetime.combine(date.fromordinal(ordinal), datetime.min.time()) + timedelta(minutes=minute)
        instant = int(naive.replace(tzinfo=self.zone, fold=1).timestamp())
        return When(instant, instant, ordinal, True)

    def some_time(self, ordinal: int) -> When:
        """Some time that day: from its first moment to its last second."""
        return When(self._day(ordinal)[0], self._day(ordinal + 1)[0] - 1, ordinal, False)

    def between(self, ordinal: int, minute_lo: int, minute_hi: int) -> When:
        """A written stretch of a day (`morning`, `overnight`): minutes past midnight; may pass into the next day."""
        lo = self._soft(ordinal, minute_lo)
        hi = self._soft(ordinal, minute_hi)
        return When(lo, max(lo, hi), ordinal, False)

    def _soft(self, ordinal: int, minute: int) -> int:
        ordinal, minute = ordinal + minute // 1440, minute % 1440
        try:
            return self.instant(ordinal, minute)[0]
        except NoSuchTime:
            return self._slow(ordinal, minute, missing_is_error=False)[0]

    def day_start(self, ordinal: int) -> int:
        """First instant of a calendar day."""
        return self._day(ordinal)[0]

    def day_end(self, ordinal: int) -> int:
        """First instant of the next calendar day (24:00)."""
        return self._day(ordinal + 1)[0]

    def opening(self, ordinal: int, minute: int) -> int:
        """An hour of the shop on a day; where the clocks jump over it, the first moment after."""
        return self._soft(ordinal, minute)

    def local(self, instant: int) -> datetime:
        """The shop's wall clock at an instant, without zone."""
        if self.zone is None:
            return datetime.fromtimestamp(instant, UTC).replace(tzinfo=None)
        return datetime.fromtimestamp(instant, self.zone).replace(tzinfo=None)

    def day_of(self, instant: int) -> int:
        """Ordinal of the shop's calendar day at an instant."""
        return self.local(instant).toordinal()


@dataclass(frozen=True, slots=True, kw_only=True)
class Length:
    """A length of time as a process writes it: seconds really elapsed, or calendar months (`mo`, `y`) for long ones."""

    seconds: int = 0
    months: int = 0
    written: str = ""

    def after(self, instant: int, clock: Clock) -> int:
        """The instant at which this length, begun at `instant`, is over."""
        if self.months:
            from dateutil.relativedelta import relativedelta

            then = clock.local(instant) + relativedelta(months=self.months)
            day = then.date().toordinal()
            instant = clock.opening(day, then.hour * 60 + then.minute) + then.second
        return instant + self.seconds

    @property
    def about_seconds(self) -> int:
        """For ordering and slack only: a month taken as 30 days."""
        return self.seconds + self.months * 30 * DAY

    def __str__(self) -> str:
        return self.written or spoken(self.about_seconds)


def spoken(seconds: int) -> str:
    """A length of time as one says it at the bench: `20 min`, `3 h 35 min`, `2 d 4 h`, `12 d`."""
    seconds = abs(int(seconds))
    minutes = seconds // MINUTE
    if minutes < 1:
        return "no time" if not seconds else "under a minute"
    if minutes < 60:
        return f"{minutes} min"
    if minutes < 48 * 60:
        hours, rest = divmod(minutes, 60)
        return f"{hours} h {rest} min" if rest else f"{hours} h"
    days, rest = divmod(minutes, 1440)
    hours = rest // 60
    return f"{days} d {hours} h" if hours and days < 10 else f"{days} d"
