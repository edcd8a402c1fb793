"""How long the record of a skin must be kept: the shop's own lines, each counted from its own event; the latest day counts.

A rule of a state, for a shop to write as its line:

- `after out`: so long after the skin was handed back, or given up. 4VAC15-290-80 (Virginia) says three years, and not from when.
- `after in`: so long after it was received. South Dakota Administrative Rule 41:06:03:11 counts one year so.
- `after the year`: from the 1st of January behind the day it left. South Dakota Administrative Rule 41:09:11:03 counts five calendar years so.
- `after the year ending June`: from the end of a licence year. 15A NCAC 10H .1003 (North Carolina), as it stood in 2016, counts a year so.
- `after 2028-03-31`: from a day, such as the last of a licence or permit. 15A NCAC 10H .1003 of 2024 counts a year so, 50 CFR 13.46 five.
- `after the last line`: from the last line about any skin in the book. 50 CFR 20.82 counts one year from the last entry on the record.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from hideledger.model.moments import DAY, Length
from hideledger.model.shop import Keeping

MONTHS = (
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
)
# As a shop may write it -> the event.
_EVENTS = {
    "in": "in",
    "arrival": "in",
    "out": "out",
    "year": "the year",
    "the year": "the year",
    "the calendar year": "the year",
    "the last line": "the last line",
    "last line": "the last line",
}
_YEAR_TO = (
    "the year ending",
    "the year to",
    "year ending",
    "year to",
    "the licence year to",
    "the licence year ending",
)
_SHORTEST_MONTH = 3  # letters by which a month is known: `jun`
DECEMBER = 12


def last_month(event: str) -> int | None:
    """The month that a year of its own ends in (`the year ending June` 6, `the year` 12); None for an event that is no year."""
    said = " ".join(event.casefold().split())
    if _EVENTS.get(said) == "the year":
        return DECEMBER
    start = next((start for start in _YEAR_TO if said.startswith(f"{start} ")), None)
    if start is None:
        return None
    named = said.removeprefix(start).strip().removeprefix("in ")
    if len(named) < _SHORTEST_MONTH:
        return None
    return next((number for number, month in enumerate(MONTHS, start=1) if month.startswith(named)), None)


def is_event(event: str) -> bool:
    """Whether a time can be counted from what stands behind `after`."""
    return " ".join(event.casefold().split()) in _EVENTS or last_month(event) is not None


def event_said(event: str) -> str:
    """The event with the capitals of a month: `the year ending June`."""
    month = last_month(event)
    if month is None or " ".join(event.casefold().split()) in _EVENTS:
        return event
    return f"the year ending {MONTHS[month - 1].title()}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """The last day on which a record must still be there, and the line of the shop that asks longest."""

    through: date
    line: Keeping


def kept_through(
    lines: Sequence[Keeping], *, came: date | None, left: date | None, last_line: date | None
) -> Kept | None:
    """Through which day a record is kept; None without a line, or while the event that a line counts from has not come.

    Days are the shop's calendar days. While one line cannot be counted yet, none is the latest.
    """
    found: list[Kept] = []
    for line in lines:
        through = _through(line, came=came, left=left, last_line=last_line)
        if through is None:
            return None
        found.append(Kept(through=through, line=line))
    return max(found, key=lambda kept: kept.through, default=None)


def _through(line: Keeping, *, came: date | None, left: date | None, last_line: date | None) -> date | None:
    """A skin that is still here has no end to count from, whatever the line counts from: its record is in use."""
    if left is None:
        return None
    month = last_month(line.after)
    if month is not None:
        # counted from the first day of the new year, so that the last day kept is the last of a year again
        return _later(_year_after(left, month), line.length) - timedelta(days=1)
    event = _EVENTS.get(" ".join(line.after.casefold().split()))
    began: date | None
    if line.after[:1].isdigit():
        began = date.fromisoformat(line.after)
    elif event == "in":
        began = came
    elif event == "the last line":
        began = None if last_line is None else max(left, last_line)
    else:  # a definition that names nothing known is refused when it is read; counted from `out` it loses no record
        began = left
    return None if began is None else max(left, _later(began, line.length))


def _year_after(day: date, month: int) -> date:
    """The first day after the year, ending with that month, in which a day lies."""
    from dateutil.relativedelta import relativedelta

    first = date(day.year, month, 1) + relativedelta(months=1)
    return first if first > day else first + relativedelta(years=1)


def _later(day: date, length: Length) -> date:
    """A length of time later by the calendar: 29 February and a year is 28 February; part of a day is a whole one."""
    from dateutil.relativedelta import relativedelta

    return day + relativedelta(months=length.months, days=-(-length.seconds // DAY))
