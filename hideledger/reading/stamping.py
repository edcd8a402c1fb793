"""Lines that are about to be written get their date and time, by the rules by which a page carries them down.

They are read as a page of their own, so that no date of the page they go to can reach them; then each line that has no
date is given the one it was read with. What stands in the book then says its day in every line.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date

from hideledger.model.entry import Entry
from hideledger.model.moments import Clock
from hideledger.model.shop import ShopBook
from hideledger.reading.book import entry_grammar
from hideledger.reading.complain import head_trouble
from hideledger.reading.cut import Cut, Cutter
from hideledger.reading.dates import NEAR_DAYS
from hideledger.reading.definitions import is_definition
from hideledger.reading.entries import EntryReader
from hideledger.reading.pages import Block, Record, split_page
from hideledger.reading.trouble import Unreadable
from hideledger.reading.values import WrittenDate, written_date
from hideledger.text.blanks import BLANKS
from hideledger.text.place import Complaint
from hideledger.text.source import Source

_YEAR = re.compile(r"(?:19|20)[0-9]{2}[ \t]*$")
# Slips at the head of a line that tried to say when: no second date goes before them.
_TRIED_A_DATE = frozenset(
    [
        "date dashes",
        "date digits",
        "date T",
        "date",
        "time",
        "dotted time",
        "midnight",
        "about",
        "struck or about",
        "hurried",
        "weekday",
        "merge",
    ]
)
# Two days are possible: a date put before such a line would choose one of them.
_TWO_DAYS = frozenset(("past midnight", "no date"))
Edit = tuple[int, int, str]  # from offset, up to offset, what stands there instead


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """When somebody writes: the instant (UTC seconds), its day, and the time as `19:40`; empty where only the day is known."""

    at: int
    day: int
    time: str = ""

    @property
    def stamp(self) -> str:
        """What is put before a line: `2026-11-03 19:40 `."""
        return f"{iso(self.day)} {self.time} " if self.time else f"{iso(self.day)} "


@dataclass(frozen=True, slots=True, kw_only=True)
class Composed:
    """Lines as they will stand, each with its date.

    `days` are those (ordinals) of the lines that could be read; `defines` says that lines among them tell how the shop
    works, `records` how many are entries; `given` numbers those whose date nobody wrote. `remark_alone` is a line that
    begins with the dash of a remark and has no entry above it to go on with.
    """

    text: str
    days: tuple[int, ...]
    defines: bool
    records: int
    given: frozenset[int]
    remark_alone: str = ""

    @property
    def lines(self) -> tuple[str, ...]:
        """The lines, without newlines."""
        return tuple(self.text.split("\n")) if self.text else ()


def composed(text: str, moment: Moment, shop: ShopBook, clock: Clock) -> Composed:
    """The lines of a text (newlines as `\\n`) with their dates. Raises nothing: what cannot be read is kept as it is."""
    text = "\n".join(line.rstrip(BLANKS) for line in text.split("\n")).strip("\n")
    stamping = _Stamping(moment, shop, clock)
    return replace(stamping.dated(stamping.at_margin(text)), remark_alone=stamping.remark_alone(text))


class _Stamping:
    """One text on its way into the book."""

    def __init__(self, moment: Moment, shop: ShopBook, clock: Clock) -> None:
        self.moment = moment
        self.shop = shop
        self.clock = clock
        self.cutter = Cutter(entry_grammar())
        self.given: list[int] = []

    def at_margin(self, text: str) -> str:
        """Stands each line at the margin and gives a stamp to those above the first written date."""
        blocks, records = self._split(text)
        edits: list[Edit] = []
        dated = stamped = timed = year = False
        for number, record in enumerate(records):
            head = _head(record)
            edits.append((record.start, head, ""))
            if _YEAR.match(record.text.lstrip(BLANKS)):
                year = True
                continue
            cut = self.cutter.cut(record.text)
            if cut.date:
                near = None if dated or year else self._near_date(cut)
                if near is not None:
                    edits.append(self._whole_date(record, cut, near))
                dated = True
            elif self._tried(record, cut) or dated:
                continue
            else:
                self.given.append(number)
                if not (stamped and cut.time):  # a time below another: the reader asks, should it be past midnight
                    edits.append((head, head, self._today(cut, below_a_time=timed)))
                stamped, timed = True, timed or bool(cut.time)
        if not blocks:
            edits += [(start, start + _indent(line), "") for start, line in self._struck(text)]
        return _edited(text, edits)

    def remark_alone(self, text: str) -> str:
        """The first line that is nothing but a remark: on a page it would go on with whatever stands above."""
        _, records = self._split(text)
        return next((record.text.strip(BLANKS) for record in records if self.cutter.remark_only.match(record.text)), "")

    def _today(self, cut: Cut, *, below_a_time: bool) -> str:
        return f"{iso(self.moment.day)} " if cut.time or below_a_time else self.moment.stamp

    def dated(self, text: str) -> Composed:
        """Reads the lines as a page of their own and writes each one's date before it."""
        blocks, records = self._split(text)
        reader = EntryReader(entry_grammar(), self.cutter, self.shop, self.clock)
        source = Source(name="", text=text)
        reader.read(source, records)
        edits: list[Edit] = []
        entries = {entry.start: entry for entry in reader.entries}
        for record, complaint in _with_complaints(records, reader.complaints, text):
            cut = self.cutter.cut(record.text)
            head, entry = _head(record), entries.get(_head(record))
            day = entry.when.day if entry is not None else _day_of(complaint)
            if day is None or self._tried(record, cut):
                continue
            if not cut.date:
                edits.append((head, head, f"{iso(day)} "))
            elif entry is not None and self._without_year(cut):
                edits.append(self._whole_date(record, cut, day))
        edits += self._struck_dates(text, reader.entries)
        return Composed(
            text=_edited(text, edits),
            days=tuple(entry.when.day for entry in reader.entries),
            defines=bool(blocks),
            records=len(records),
            given=frozenset(self.given),
        )

    def _split(self, text: str) -> tuple[list[Block], list[Record]]:
        return split_page(Source(name="", text=text), self.cutter, is_definition)

    def _tried(self, record: Record, cut: Cut) -> bool:
        """Whether a line without a readable stamp begins with a slip of one."""
        if cut.date or cut.time or cut.who:
            return False
        trouble = head_trouble(record.text, cut.body_at)
        return trouble is not None and trouble.code in _TRIED_A_DATE

    def _written(self, cut: Cut) -> WrittenDate | None:
        try:
            return written_date(cut.date, cut.date_at, self.shop.shop.dates)
        except Unreadable:
            return None

    def _without_year(self, cut: Cut) -> bool:
        written = self._written(cut)
        return written is not None and written.year is None

    def _near_date(self, cut: Cut) -> int | None:
        """The day that a date without its year means, when it lies within two months of today."""
        written = self._written(cut)
        if written is None or written.year is not None:
            return None
        today = date.fromordinal(self.moment.day)
        near = []
        for year in (today.year - 1, today.year, today.year + 1):
            try:
                near.append(date(year, written.month, written.day).toordinal())
            except ValueError:
                continue
        nearest = min(near, key=lambda day: abs(day - self.moment.day), default=None)
        return nearest if nearest is not None and abs(nearest - self.moment.day) <= NEAR_DAYS else None

    def _whole_date(self, record: Record, cut: Cut, day: int) -> Edit:
        start = record.start + cut.date_at
        end = start + len(cut.date)
        glued = record.text[cut.date_at + len(cut.date) : cut.date_at + len(cut.date) + 1] not in (
            *BLANKS,
            ",",
            ":",
            "",
        )
        return start, end, iso(day) + (" " if glued else "")

    def _struck_dates(self, text: str, entries: Iterable[Entry]) -> list[Edit]:
        """A struck line is dated like the entry above it, else now: a search for a day finds it too."""
        days = [(entry.start, entry.when.day) for entry in entries]
        edits: list[Edit] = []
        for start, line in self._struck(text):
            found = self.cutter.struck.match(line)
            behind = found.end() if found is not None else 0
            behind += _indent(line[behind:])
            stamp = self.cutter.stamp.match(line, behind)
            if stamp is not None and stamp["date"] is not None:
                continue
            above = [day for at, day in days if at < start]
            if above:
                put = f"{iso(above[-1])} "
            else:
                put = f"{iso(self.moment.day)} " if stamp is not None else self.moment.stamp
            edits.append((start + behind, start + behind, put))
        return edits

    def _struck(self, text: str) -> Iterator[tuple[int, str]]:
        start = 0
        for line in text.split("\n"):
            if self.cutter.struck.match(line):
                yield start, line
            start += len(line) + 1


def _head(record: Record) -> int:
    return record.start + _indent(record.text)


def _indent(text: str) -> int:
    return len(text) - len(text.lstrip(BLANKS))


def _day_of(complaint: Complaint | None) -> int | None:
    if complaint is None or not complaint.day or complaint.code in _TWO_DAYS:
        return None
    return date.fromisoformat(complaint.day).toordinal()


def _with_complaints(
    records: list[Record], complaints: list[Complaint], text: str
) -> Iterator[tuple[Record, Complaint | None]]:
    by_line = {complaint.place.line: complaint for complaint in complaints}
    for record in records:
        last = record.line + text.count("\n", record.start, record.end)
        yield record, next((by_line[n] for n in range(record.line, last + 1) if n in by_line), None)


def _edited(text: str, edits: list[Edit]) -> str:
    for start, end, put in sorted(edits, key=lambda edit: edit[:2], reverse=True):
        text = text[:start] + put + text[end:]
    return text


def iso(day: int) -> str:
    """A day as the book has it: `2026-11-03`."""
    return date.fromordinal(day).isoformat()
