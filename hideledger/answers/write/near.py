"""The part of a long book that a new line can touch: of a book of many years most skins are long gone.

What is said of a line must be the same as with the whole book; a test holds it to that.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from hideledger.model.book import Book
from hideledger.model.entry import Entry
from hideledger.model.facts import (
    Arrived,
    Divided,
    Dumped,
    HandedOut,
    Lost,
    Mixed,
    Opened,
    Refused,
    StandsIn,
    Stepped,
    Tested,
)
from hideledger.reading.draft import Draft

SHORT = 3000  # entries: a book that is no longer is laid out whole
_LATELY = 60  # days: what ended since is still spoken of
_BEGINS = (Arrived, Mixed)
_ENDS = (HandedOut, Lost, Refused, Divided, Opened, Dumped)


def near(written: Draft, *, short: int = SHORT) -> tuple[Book, Book]:
    """The book without and with the new lines, both with no more entries than what is said of the lines can need."""
    before, after = written.before, written.after
    if len(after.entries) <= short:
        return before, after
    new = [entry for entry in after.entries if entry.order in written.new]
    today = max((entry.when.day for entry in new), default=after.entries[-1].when.day)
    live, begun = _live(after.entries, today - _LATELY)
    for entry in new:
        live.update(_named(entry))
    live |= {tag for entry in after.entries if _went_in(entry, live, begun) for tag in entry.tags}
    kept = {
        entry.order
        for entry in after.entries
        if not entry.tags or not live.isdisjoint(entry.tags) or any(tag in live for tag in _named(entry))
    }
    beside = {tag for entry in after.entries if entry.order in kept for tag in _named(entry)} - live
    kept |= {
        entry.order
        for entry in after.entries
        if not beside.isdisjoint(entry.tags) and any(isinstance(fact, _BEGINS + _ENDS) for fact in entry.facts)
    }
    return _only(before, kept), _only(after, kept)


def _live(entries: Iterable[Entry], since: int) -> tuple[set[str], dict[str, int]]:
    """Tags that are not over, or were written of since that day; and on which day each of them last began."""
    last: dict[str, int] = {}
    begun: dict[str, int] = {}
    over: dict[str, int] = {}
    for entry in entries:
        day = entry.when.day
        for tag in entry.tags:
            last[tag] = max(last.get(tag, day), day)
        if isinstance(entry.facts[0] if entry.facts else None, _BEGINS):
            for tag in entry.tags:
                begun[tag] = max(begun.get(tag, day), day)
        if any(isinstance(fact, _ENDS) for fact in entry.facts):
            for tag in entry.tags:
                over[tag] = max(over.get(tag, day), day)
    live = {tag for tag, day in last.items() if day >= since or over.get(tag, -1) < begun.get(tag, day)}
    return live, begun


def _went_in(entry: Entry, live: set[str], begun: dict[str, int]) -> bool:
    """Whether hides went into a bath that still stands: what went through it before counts."""
    return any(
        isinstance(fact, Stepped) and fact.where in live and entry.when.day >= begun.get(fact.where, entry.when.day + 1)
        for fact in entry.facts
    )


def _named(entry: Entry) -> Iterator[str]:
    """Every tag that a line names, wherever in it."""
    yield from entry.tags
    if entry.group is not None:
        yield entry.group.where
        yield from entry.group.but
    for fact in entry.facts:
        match fact:
            case Stepped(where=where) if where:
                yield where
            case Mixed(vessel=vessel) if vessel:
                yield vessel
            case Tested(on=on) if on:
                yield on
            case StandsIn(other=other):
                yield other
            case Divided(parts=parts):
                yield from (tag for tag, _ in parts)
            case Opened(tags=tags):
                yield from tags
            case _:
                pass


def _only(book: Book, kept: set[int]) -> Book:
    return replace(book, entries=tuple(entry for entry in book.entries if entry.order in kept))
