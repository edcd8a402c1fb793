"""The sorts of columns that the tables of `export` are made of: ids, moments, places in the book, texts and numbers."""

from __future__ import annotations

from hideledger.model.table import Column


def text(name: str, about: str = "") -> Column:
    """A column of texts; what was not written is an empty one."""
    return Column(name=name, sort="text", about=about)


def code(name: str, about: str = "") -> Column:
    """A column of tags and other codes."""
    return Column(name=name, sort="code", about=about)


def whole(name: str, about: str = "", points_to: str = "") -> Column:
    """A column of whole numbers; `points_to` names the table whose `id` it holds."""
    return Column(name=name, sort="integer", about=about, points_to=points_to)


def number(name: str, about: str = "") -> Column:
    """A column of numbers; its name or the column beside it says the unit."""
    return Column(name=name, sort="number", about=about)


def yes(name: str, about: str = "") -> Column:
    """A column of true and false."""
    return Column(name=name, sort="yes or no", about=about)


ID = whole("id", "counts from 1 within this table and this export; another export may count otherwise")
EVENT = whole("event", "the line that says so", points_to="events")
HIDE = whole("hide", "", points_to="hides")
BATH = whole("bath", "", points_to="baths")
BEFORE = yes(
    "before_tag", "yes: it happened to the box it came out of, or to the skin it was cut from, and is told there too"
)
PLACE = (text("file", "page of the book"), whole("line", "counts from 1"))


def when(prefix: str = "") -> tuple[Column, ...]:
    """A moment: where no time is written it lies somewhere between `_utc` and `_utc_latest`."""
    head = f"{prefix}_" if prefix else ""
    return (
        text(f"{head}utc", "ISO 8601 in UTC; without Z in a book that names no zone; the earliest it can be"),
        text(f"{head}utc_latest", "the latest it can be; the same where a time is written"),
        text(f"{head}local", "the shop's clock: day and time, or the day alone where no time is written"),
    )
