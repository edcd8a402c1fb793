"""Times, places and counts as one says them in the shop; for a search, as a page of the book has them."""

from __future__ import annotations

from datetime import UTC, date, datetime

from hideledger.model.moments import Clock, When, spoken
from hideledger.rules.words import WEEKDAYS, stamp, when_said


def point(instant: int, clock: Clock, at: int) -> str:
    """A moment as seen from `at`: `17:52` on the same day, else `Tue 3 Nov 17:52`."""
    if clock.day_of(instant) == today(clock, at):
        return f"{clock.local(instant):%H:%M}"
    return stamp(clock, instant, at)


def when_words(when: When, clock: Clock, at: int) -> str:
    """When something was written: `17:52`, `Tue 3 Nov 17:52`, `some time today`, `some time on Tue 3 Nov`."""
    if when.lo == when.hi:
        return point(when.lo, clock, at)
    return "some time today" if when.day == today(clock, at) else when_said(clock, when, at)


def spoken_time(instant: int, clock: Clock) -> str:
    """The time of day as one says it: `5:52 pm`, `noon`."""
    then = clock.local(instant)
    if then.hour == 12 and then.minute == 0:
        return "noon"
    return f"{then.hour % 12 or 12}:{then.minute:02d} {'am' if then.hour < 12 else 'pm'}"


def now_words(at: int, clock: Clock) -> str:
    """The moment of the answer itself: `Tue 2026-11-10 18:02`; the end of a day is its 24:00."""
    day = today(clock, at)
    time = "24:00" if clock.day_end(day) == at else f"{clock.local(at):%H:%M}"
    return f"{WEEKDAYS[date.fromordinal(day).weekday()]} {date.fromordinal(day).isoformat()} {time}"


def today(clock: Clock, at: int) -> int:
    """The day that `at` belongs to: 24:00 is the end of a day, not the beginning of the next."""
    day = clock.day_of(at)
    return day - 1 if clock.day_start(day) == at else day


def written_stamp(when: When, clock: Clock) -> str:
    """As a page has it, in full: `2026-11-03 07:50`; the date alone where no time was written."""
    if not when.timed:
        return date.fromordinal(when.day).isoformat()
    return local_stamp(when.lo, clock)


def local_stamp(instant: int, clock: Clock) -> str:
    """The shop's own clock, in full: `2026-11-03 07:50`."""
    return clock.local(instant).isoformat(sep=" ", timespec="minutes")


def utc_stamp(instant: int, clock: Clock) -> str:
    """ISO 8601 in UTC, whole seconds: `2026-11-03T13:50:00Z`; without the Z in a book that names no zone."""
    mark = "Z" if clock.zone is not None else ""
    return datetime.fromtimestamp(instant, UTC).strftime("%Y-%m-%dT%H:%M:%S") + mark


def ago(instant: int, at: int) -> str:
    """How long before `at`: `15 min ago`, `2 d ago`, `just now`."""
    return "just now" if at - instant < 60 else f"{spoken(at - instant)} ago"


def counted(number: int, one: str, many: str = "") -> str:
    """`1 line`, `3 lines`, `no lines`."""
    if number == 1:
        return f"1 {one}"
    return f"{number or 'no'} {many or one + 's'}"
