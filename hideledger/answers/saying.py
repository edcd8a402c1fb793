"""Times, places and counts as one says them in the shop; for a search, as a page of the book has them."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime
from fractions import Fraction

from hideledger.model.book import Book
from hideledger.model.moments import Clock, When, spoken
from hideledger.rules.words import LEAST_RUN, WEEKDAYS, run_said, runs_of, stamp, when_said


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


def tags_said(tags: Iterable[str]) -> str:
    """Whom something is about: `H65 H66 P5`; three and more in a row as one: `H65 thru H76, H81 thru H83, P5`."""
    runs = runs_of(tags)
    between = ", " if any(len(run) >= LEAST_RUN for run in runs) else " "
    return between.join(said for run in runs for said in run_said(run))


def length_said(least: int, most: int) -> str:
    """A length of time in seconds as far as it is known: `3 d 2 h`, `2 h to 5 h`, `up to 5 h`."""
    if most - least < 60:
        return spoken(least)
    return f"{spoken(least)} to {spoken(most)}" if least >= 60 else f"up to {spoken(most)}"


def unread_said(book: Book) -> str:
    """`1 line`, `1 page and 3 lines`: what of the book could not be read."""
    pages = sum(complaint.code == "page" for complaint in book.unread)
    lines = len(book.unread) - pages
    parts = [counted(pages, "page")] if pages else []
    return " and ".join([*parts, counted(lines, "line")] if lines or not pages else parts)


def counted(number: int, one: str, many: str = "") -> str:
    """`1 line`, `3 lines`, `no lines`."""
    if number == 1:
        return f"1 {one}"
    return f"{number or 'no'} {many or one + 's'}"


def skins_said(number: Fraction, word: str = "hide") -> str:
    """`1 hide`, `3 hides`, `1/2 hide`, `2 1/2 hides`: a part of a skin that was cut is no whole one."""
    whole, rest = divmod(number, 1)
    if not rest:
        return counted(int(whole), word)
    return f"{f'{int(whole)} ' if whole else ''}{rest} {word}{'s' if whole else ''}"
