"""How moments, tags and lengths are said in a sentence. Plain words, the shop's wall clock, no codes."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import date, datetime

from hideledger.model.book import Book
from hideledger.model.moments import Clock, When

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_PIECES = re.compile("[0-9]+|[^0-9]+")
_NUMBERED = re.compile("([A-Za-z]+-?)([0-9]+)")


def stamp(clock: Clock, instant: int, at: int) -> str:
    """A moment on the wall clock: `Tue 3 Nov 19:40`, with the year when it is not that of `at`."""
    local = clock.local(instant)
    return f"{_day(local, clock.local(at))} {local:%H:%M}"


def day_said(clock: Clock, ordinal: int, at: int) -> str:
    """A calendar day: `Tue 3 Nov`, with the year when it is not that of `at`."""
    return _day(date.fromordinal(ordinal), clock.local(at))


def _day(day: date | datetime, now: datetime) -> str:
    year = "" if day.year == now.year else f" {day.year}"
    return f"{WEEKDAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]}{year}"


def when_said(clock: Clock, when: When, at: int) -> str:
    """A moment as far as it was written: `Tue 3 Nov 19:40`, or `some time on Tue 3 Nov`."""
    if when.lo == when.hi:
        return stamp(clock, when.lo, at)
    return f"some time on {day_said(clock, when.day, at)}"


def may_stand_in(book: Book, what: str) -> str:
    """`; 2026-10.hides could not be read, and H9 may stand there`, where whole pages are closed to us: what is missing is then no slip yet."""
    pages = list(dict.fromkeys(complaint.place.file for complaint in book.unread if complaint.code == "page"))
    return f"; {listed(pages)} could not be read, and {what} may stand there" if pages else ""


def tag_order(tag: str) -> tuple[tuple[int, int, str], ...]:
    """The order of tags: H9 before H10."""
    return tuple((0, int(p), "") if p.isdecimal() else (1, 0, p) for p in _PIECES.findall(tag.upper()))


def in_order(tags: Iterable[str]) -> tuple[str, ...]:
    """Tags without doubles, in their order."""
    return tuple(sorted(set(tags), key=tag_order))


def listed(names: Sequence[str], last: str = "and") -> str:
    """`H41`, `H41 and H42`, `H41, H42 and H43`; `last` is what stands before the last of them."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} {last} {names[-1]}"


_BEFORE_A_PLACE = frozenset(
    [
        "on",
        "at",
        "in",
        "by",
        "along",
        "near",
        "round",
        "around",
        "behind",
        "below",
        "under",
        "over",
        "above",
        "between",
        "inside",
        "across",
        "all",
    ]
)


def at_where(where: str) -> str:
    """Where on a skin: ` at ears`, ` on the back` (with the word that was written before it); nothing where no place was written."""
    if not where:
        return ""
    return f" {where}" if where.casefold().partition(" ")[0] in _BEFORE_A_PLACE else f" at {where}"


def who(tags: Iterable[str]) -> str:
    """Tags as the head of a line to write: `H41 H44 thru H47`."""
    runs: list[list[tuple[str, str, str]]] = []
    for tag in in_order(tags):
        match = _NUMBERED.fullmatch(tag)
        piece = (tag, match[1], match[2]) if match else (tag, tag, "")
        if runs and match and _follows(runs[-1][-1], piece):
            runs[-1].append(piece)
        else:
            runs.append([piece])
    said = []
    for run in runs:
        if len(run) > 2:
            said.append(f"{run[0][0]} thru {run[-1][0]}")
        else:
            said.extend(tag for tag, _, _ in run)
    return " ".join(said)


def _follows(one: tuple[str, str, str], other: tuple[str, str, str]) -> bool:
    if one[1] != other[1] or not one[2] or len(one[2]) != len(other[2]):
        return False
    return int(one[2]) + 1 == int(other[2])


def entry_stamp(clock: Clock, instant: int) -> str:
    """A moment as it stands at the head of a line of the book: `2026-11-03 19:40`."""
    return f"{clock.local(instant):%Y-%m-%d %H:%M}"
