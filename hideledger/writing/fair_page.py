"""The entries of a page written out fair, each in the boldest way that still reads as it did."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence

from hideledger.model.book import Book
from hideledger.model.entry import Entry
from hideledger.reading.book import entry_grammar
from hideledger.reading.define_lines import is_definition
from hideledger.reading.entries import EntryReader
from hideledger.reading.pages import Record, split_page
from hideledger.reading.trouble import Unreadable
from hideledger.text.source import Source
from hideledger.writing.fair_line import NAMES_ALL, STYLES, FairWriter

_BLANKS = re.compile("[ \t\u00a0\u202f]+")


class Attempt:
    """An entry and the way in which it is now to be written out; `style` counts the ways from the boldest, `len(STYLES)` is none."""

    __slots__ = ("_ways", "entry", "fair", "record", "style")

    def __init__(self, record: Record, entry: Entry, ways: Iterator[str]) -> None:
        self.record = record
        self.entry = entry
        self._ways = ways
        self.style = -1
        self.fair = ""
        self.next_way()

    @property
    def written(self) -> str:
        """The entry as it stands, with its comment."""
        return self.entry.source.text[self.record.start : self.record.end]

    def next_way(self) -> None:
        """Goes on to the next way, a more careful one; behind the last the entry stays as it stands."""
        self.style += 1
        try:
            self.fair = next(self._ways)
        except (StopIteration, Unreadable):
            self.style, self.fair = len(STYLES), self.written

    @property
    def names_all(self) -> bool:
        """Whether it now carries its date and spells out every tag."""
        return self.style <= NAMES_ALL


class FairPages:
    """Writes out pages of one book. `members` are, by an entry's order, those whom `all in P3` meant."""

    __slots__ = ("_entries", "_members", "_reader", "_writer")

    def __init__(self, book: Book, members: Mapping[int, Sequence[str]]) -> None:
        self._members = members
        self._writer = FairWriter(book)
        self._reader = EntryReader(entry_grammar(), self._writer.cutter, book.shop, book.clock)
        self._entries: dict[Source, list[Entry]] = {source: [] for source in book.sources}
        for entry in book.entries:
            self._entries[entry.source].append(entry)

    def entries(self, source: Source) -> int:
        """How many entries stand on a page."""
        return len(self._entries[source])

    def attempts(self, source: Source) -> list[Attempt]:
        """The entries of a page that are no fair copy yet, each in the boldest way that holds, in the order of the page."""
        found = [attempt for attempt in self._of(source) if attempt.fair != attempt.written]
        waiting = found
        while waiting:
            held = self._read_alike(waiting)
            waiting = [attempt for attempt, alike in zip(waiting, held, strict=True) if not alike]
            for attempt in waiting:
                attempt.next_way()
            waiting = [attempt for attempt in waiting if attempt.fair != attempt.written]
        return found

    def _of(self, source: Source) -> Iterator[Attempt]:
        _, records = split_page(source, self._writer.cutter, is_definition)
        entries = self._entries[source]
        starts = [entry.start for entry in entries]
        for record in records:
            index = bisect_left(starts, record.start)
            if index < len(entries) and starts[index] < record.end:
                entry = entries[index]
                yield Attempt(record, entry, self._writer.ways(record, entry, self._members.get(entry.order, ())))

    def _read_alike(self, attempts: Sequence[Attempt]) -> list[bool]:
        """Whether each, read by itself, says what the entry said: a line with its own date hangs on no other."""
        starts: list[int] = []
        at = 0
        for attempt in attempts:
            starts.append(at)
            at += len(attempt.fair) + 2
        page = Source(name="fair copy", text="\n\n".join(attempt.fair for attempt in attempts))
        _, records = split_page(page, self._writer.cutter, is_definition)
        self._reader.read(page, records)
        by_start = {entry.start: entry for entry in self._reader.entries}
        self._reader.entries.clear()
        self._reader.complaints.clear()
        lines: dict[int, int] = {}  # how many records each way of writing fell into
        for record in records:
            index = bisect_left(starts, record.start + 1) - 1
            lines[index] = lines.get(index, 0) + 1
        alike: list[bool] = []
        for index, (attempt, start) in enumerate(zip(attempts, starts, strict=True)):
            entry = by_start.get(start)
            broken = "\n" in attempt.written
            alike.append(entry is not None and lines.get(index) == 1 and same(attempt.entry, entry, broken=broken))
        return alike


def same(one: Entry, other: Entry, *, broken: bool = False) -> bool:
    """Whether two entries say the same. Where one of them was `broken` over lines, blanks inside a remark may differ in number."""
    if (one.when, one.tags, one.group, one.place) != (other.when, other.tags, other.group, other.place):
        return False
    if one.facts == other.facts and one.remark == other.remark:
        return True
    return broken and _in_one_line(one) == _in_one_line(other)


def _in_one_line(entry: Entry) -> str:
    return _BLANKS.sub(" ", f"{entry.facts!r} {entry.remark}".replace("\\xa0", " ").replace("\\u202f", " "))
