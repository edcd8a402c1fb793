"""The one place that asks what time it is; everybody else is told."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from hideledger.model.moments import Clock, NoSuchTime
from hideledger.model.units import SPELLINGS, UNITS

if TYPE_CHECKING:
    from hideledger.model.book import Book

_T = re.compile(r"(?<=[0-9])T(?=[0-9])")  # 2026-11-05T18:00, as other programs write it (ISO 8601)
# Behind a date four figures or a point can be nothing but a time: 0745, 7.45.
_FIGURES = re.compile(r"[0-9]{4}|[0-9]{1,2}\.[0-9]{2}")
_PIECE = re.compile(r"\s*([0-9]+)\s*([a-z]+)\s*,?")


class Unclear(ValueError):
    """A time or a length of time on the command line that cannot be followed; the text says why."""


def instant_of(written: str | None, clock: Clock, dates: str = "") -> int:
    """`--at` is an instant in UTC seconds: a date means its end (24:00), a date and time that minute on the shop's clock.

    None means now, the minute that has begun. Date and time may be written in any way that a line of the book may have them, `dates` being
    the shop's line of that name; only the year must stand there. A book without a zone keeps its times as they stand, so now is then the
    wall clock of this computer. Raises Unclear.
    """
    if written is None:
        # whole minutes, as the book has them: what is said to be 10 min away then agrees with the time beside it
        return int(exact_now(clock)) // 60 * 60
    ordinal, time = _day_and_time(written, dates)
    if not time:
        return clock.day_end(ordinal)
    minute = _minute_of(written, time)
    try:
        return clock.instant(ordinal, minute)[0]
    except NoSuchTime:
        raise Unclear(f"--at {written}: the clocks went forward over that time, so it never was") from None


def instant_in(book: Book, written: str | None) -> int:
    """The same on the clock of a book, its dates read as its shop writes them. Raises Unclear."""
    return instant_of(written, book.clock, book.shop.shop.dates)


def is_a_day(written: str | None, dates: str = "") -> bool:
    """Whether `--at` names a day alone, without a time. Raises Unclear."""
    return written is not None and not _day_and_time(written, dates)[1]


def _day_and_time(written: str, dates: str) -> tuple[int, str]:
    """The day (an ordinal), and the time as written; empty where none is. Raises Unclear."""
    from hideledger.reading.book import entry_grammar
    from hideledger.reading.trouble import Unreadable
    from hideledger.reading.values import written_date

    text = _T.sub(" ", written.strip())
    pattern = next(terminal for terminal in entry_grammar().terminals if terminal.name == "DATE").pattern.to_regexp()
    found = re.match(pattern, text)
    if found is None or (text[found.end() :] and text[found.end()] not in " ,\t\u00a0\u202f"):
        raise Unclear(f"--at takes a date, or a date and time as in \"2026-11-05 18:00\", not '{written}'")
    try:
        day = written_date(found.group(), 0, dates)
        if day.year is None:
            raise Unclear(f"--at {written}: of which year? write it as 2026-{day.month:02d}-{day.day:02d}")
        return day.in_year(day.year).toordinal(), text[found.end() :].strip(" ,\t\u00a0\u202f")
    except Unreadable as trouble:
        raise Unclear(f"--at {written}: {str(trouble.message).removeprefix(f'{found.group()}: ')}") from None


def exact_now(clock: Clock) -> float:
    """UTC seconds of now with their fraction; the wall clock of this computer in a book without a zone."""
    now = datetime.now(UTC)
    if clock.zone is not None:
        return now.timestamp()
    return now.astimezone().replace(tzinfo=UTC).timestamp()


def _minute_of(written: str, time: str) -> int:
    """Minutes past midnight of a time as the book would have it. Raises Unclear."""
    from hideledger.reading.book import entry_grammar
    from hideledger.reading.trouble import Unreadable
    from hideledger.reading.values import STRETCHES, clock_minute

    clock = next(terminal for terminal in entry_grammar().terminals if terminal.name == "CLOCK")
    figures = _FIGURES.fullmatch(time)
    if time.casefold() in STRETCHES or not (figures or re.fullmatch(clock.pattern.to_regexp(), time)):
        raise Unclear(f"--at takes a date, or a date and time as in \"2026-11-05 18:00\", not '{written}'")
    try:
        return clock_minute(time, 0)
    except Unreadable as trouble:
        if trouble.code == "time" and "am or pm" in trouble.message:
            raise Unclear(f"--at {written}: with am or pm the hour is 1 to 12") from None
        raise Unclear(
            f"--at {written}: a time lies between 0:00 and 23:59; for the end of a day give the date alone"
        ) from None


def length_of(written: str) -> int:
    """Seconds of `--ahead`: `14h`, `90 min`, `1 d 12 h`. Raises Unclear."""
    text, total, at = written.strip().casefold(), 0, 0
    while at < len(text):
        piece = _PIECE.match(text, at)
        unit = UNITS.get(SPELLINGS.get(piece.group(2), "")) if piece else None
        if piece is None or unit is None or unit.dimension != "time":
            raise Unclear(f"--ahead takes a length of time, as in 14h, \"90 min\" or 2d, not '{written}'")
        total += int(piece.group(1)) * int(unit.factor)
        at = piece.end()
    if not text or total > 366 * 86400:
        raise Unclear(f"--ahead takes a length of time up to a year, as in 14h, \"90 min\" or 2d, not '{written}'")
    return total
