"""Numbers, units, dates and times as people write them, turned into values. Nothing here is guessed."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from hideledger.model.units import SPELLINGS
from hideledger.reading.trouble import Unreadable

SIGNS = str.maketrans({"–": "-", "−": "-", "\u00a0": " ", "\u202f": " ", "\t": " "})
_VULGAR = {
    "½": (1, 2),
    "¼": (1, 4),
    "¾": (3, 4),
    "⅓": (1, 3),
    "⅔": (2, 3),
    "⅛": (1, 8),
    "⅜": (3, 8),
    "⅝": (5, 8),
    "⅞": (7, 8),
}
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_NOON = 720
_FIRST_YEAR, _LAST_YEAR = 1900, 2199
# Stretches of a day that people write instead of a time: minutes past midnight, `overnight` into the next day.
STRETCHES = {"morning": (300, 720), "afternoon": (720, 1080), "evening": (1020, 1439), "overnight": (1080, 1920)}


def not_below_nothing(text: str, start: int) -> Decimal:
    """The value of a NUMBER of which there cannot be less than none: an amount, a weight, a sum. Raises Unreadable."""
    found = number(text, start)
    if found < 0:
        raise below_nothing(text, start)
    return found


def below_nothing(text: str, start: int) -> Unreadable:
    """The complaint about an amount with a minus before it."""
    said = text.translate(SIGNS).strip()
    message = f"{said}: less than nothing cannot be; leave the minus out, or strike the line that was wrong"
    return Unreadable("below nothing", message, start, start + len(text))


def number(text: str, start: int) -> Decimal:
    """The value of a NUMBER. Raises Unreadable for what can be read two ways (`1,500`, `71/2`)."""
    written = text.translate(SIGNS).strip()
    end = start + len(text)
    sign = -1 if written.startswith("-") else 1
    body = written.removeprefix("-").strip()
    if body and body[-1] in _VULGAR:
        top, bottom = _VULGAR[body[-1]]
        whole = body[:-1].strip()
        return sign * (Decimal(whole or 0) + Decimal(top) / Decimal(bottom))
    if "/" in body:
        whole, fraction = "0", body
        for mark in (" ", "-"):
            if mark in body:
                whole, fraction = re.split(r"[ \-]+", body, maxsplit=1)
                break
        top_text, bottom_text = fraction.split("/")
        if int(bottom_text) == 0:
            raise Unreadable("fraction", f"{text} divides by nothing", start, end)
        if int(top_text) >= int(bottom_text):
            split = f"{top_text[:-1]} {top_text[-1]}/{bottom_text}" if len(top_text) > 1 else f"1 1/{bottom_text}"
            raise Unreadable("fraction", f"{text}: a fraction is less than one; did you mean {split}?", start, end)
        return sign * (Decimal(whole) + Decimal(top_text) / Decimal(bottom_text))
    marks = re.findall(r"[.,]", body)
    if len(marks) > 1:
        raise Unreadable(
            "number",
            f"{text} is no number that can be read one way; write it without marks between thousands",
            start,
            end,
        )
    if marks == [","]:
        left, right = body.split(",")
        if len(right) == 3:
            raise Unreadable("thousands", f"{text}: {left}{right}, or {left}.{right}? write one of them", start, end)
        body = f"{left}.{right}"
    return sign * Decimal(body)


def unit_name(text: str) -> str | None:
    """The unit a spelling stands for, or None."""
    written = text.translate(SIGNS).strip().casefold().replace(" ", "")
    return SPELLINGS.get(written)


def clock_minute(text: str, start: int) -> int:
    """Minutes past midnight of a CLOCK, FIGURES or DOTTED time. Raises Unreadable for hours and minutes there are none of."""
    written = text.translate(SIGNS).strip().casefold()
    end = start + len(text)
    if written == "noon":
        return _NOON
    found = re.match(r"([0-9]{1,2})[:.h]([0-9]{2}) *([ap])?|([0-9]{1,2}) *([ap])|([0-9]{2})([0-9]{2})$", written)
    if found is None:
        raise Unreadable("time", f"{text} is no time; write it as 19:30", start, end)
    hour = int(found[1] or found[4] or found[6])
    minute = int(found[2] or found[7] or 0)
    half = found[3] or found[5]
    if minute > 59:
        raise Unreadable("time", f"{text}: an hour has 60 minutes", start, end)
    if half:
        if not 1 <= hour <= 12:
            raise Unreadable("time", f"{text}: with am or pm the hour is 1 to 12", start, end)
        hour = hour % 12 + (12 if half == "p" else 0)
    if hour == 24 and minute == 0:
        raise Unreadable("24:00", f"{text} is 00:00 of the next day; write that date and 00:00", start, end)
    if hour > 23:
        raise Unreadable("time", f"{text}: a day has 24 hours", start, end)
    return hour * 60 + minute


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenDate:
    """A date as written: the year may be missing."""

    year: int | None
    month: int
    day: int
    text: str
    start: int

    def in_year(self, year: int) -> date:
        """The date in a year. Raises Unreadable when that month has no such day."""
        try:
            return date(year, self.month, self.day)
        except ValueError:
            raise Unreadable(
                "date", f"{self.text}: there is no such day", self.start, self.start + len(self.text)
            ) from None

    def settled(self, default_year: int | None) -> date:
        """The date itself; a missing year is `default_year`. Raises Unreadable when neither is there."""
        year = self.year if self.year is not None else default_year
        if year is None:
            hint = f"{self.text}: which year? write it as 2026-{self.month:02d}-{self.day:02d}, or a year alone on a line above"
            raise Unreadable("year", hint, self.start, self.start + len(self.text))
        return self.in_year(year)

    def last_before(self, day: date) -> date:
        """The date itself, or the last such day not after `day`."""
        return self._near(day, -1)

    def first_after(self, day: date) -> date:
        """The date itself, or the first such day not before `day`."""
        return self._near(day, 1)

    def _near(self, day: date, way: int) -> date:
        if self.year is not None:
            return self.in_year(self.year)
        for step in range(9):  # a 29 February comes within eight years
            try:
                found = date(day.year + way * step, self.month, self.day)
            except ValueError:
                continue
            if (found >= day) if way > 0 else (found <= day):
                return found
        raise Unreadable("date", f"{self.text}: there is no such day", self.start, self.start + len(self.text))


def written_date(text: str, start: int, order: str) -> WrittenDate:
    """A DATE as written. `order` is the shop's `dates` line: "month first", "day first" or "". Raises Unreadable."""
    written = text.translate(SIGNS).strip()
    end = start + len(text)
    year: int | None
    iso = re.match(r"([0-9]{4})[-/]([0-9]{1,2})[-/]([0-9]{1,2})$", written)
    words = re.search(r"[A-Za-z]{3,}", re.sub(r"(?<=[0-9])(?:st|nd|rd|th)", "", written))
    if iso is not None:
        year, month, day = int(iso[1]), int(iso[2]), int(iso[3])
    elif words is not None:
        month = _MONTHS.index(words.group()[:3].casefold()) + 1
        figures = [int(part) for part in re.findall(r"[0-9]+", written)]
        day = next(figure for figure in figures if figure < 1900)
        year = next((figure for figure in figures if figure >= 1900), None)
    else:
        year, month, day = _figures_only(written, text, start, order)
    if not 1 <= month <= 12:
        raise Unreadable("date", f"{text}: there is no month {month}", start, end)
    if not 1 <= day <= 31:
        raise Unreadable("date", f"{text}: there is no day {day}", start, end)
    if year is not None and not _FIRST_YEAR <= year <= _LAST_YEAR:
        raise Unreadable("date", f"{text}: no book is kept in the year {year}", start, end)
    found = WrittenDate(year=year, month=month, day=day, text=text, start=start)
    found.in_year(year if year is not None else 2024)  # 2024 has a 29 February
    return found


def _figures_only(written: str, text: str, start: int, order: str) -> tuple[int | None, int, int]:
    parts = [int(part) for part in re.split(r"[/.]", written)]
    year = parts[2] if len(parts) == 3 else None
    if year is not None and year < 100:
        year += 2000
    first, second = parts[0], parts[1]
    pointed = "." in written
    shown = year if year is not None else "2026"
    if pointed and order == "month first" and max(first, second) <= 12 and first != second:
        message = (
            f"{text}: {shown}-{second:02d}-{first:02d} or {shown}-{first:02d}-{second:02d}? "
            "with points the day stands first, and this shop writes the month first; write one of them"
        )
        raise Unreadable("date order", message, start, start + len(text))
    if order == "month first" and (not pointed or first <= 12):
        return year, first, second
    if order == "day first" or pointed:
        return year, second, first
    if first > 12 or first == second:
        return year, second, first
    if second > 12:
        return year, first, second
    message = (
        f"{text}: {shown}-{first:02d}-{second:02d} or {shown}-{second:02d}-{first:02d}? "
        "write one of them, or a line `dates month first` or `dates day first` under `shop`"
    )
    raise Unreadable("date order", message, start, start + len(text))
