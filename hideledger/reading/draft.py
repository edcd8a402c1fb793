"""A book with lines that are not written yet: what they would say there, and what of them could not be read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from hideledger.model.book import Book
from hideledger.model.entry import Entry
from hideledger.model.moments import MINUTE, Clock
from hideledger.model.shop import ShopBook
from hideledger.reading.book import entry_grammar, read_sources
from hideledger.reading.cut import Cutter
from hideledger.reading.definitions import is_definition
from hideledger.reading.entries import EntryReader
from hideledger.reading.hurried_days import with_its_date
from hideledger.reading.pages import Record, split_page
from hideledger.reading.stamping import Composed, Moment, iso
from hideledger.text.blanks import BLANKS
from hideledger.text.place import Complaint
from hideledger.text.source import Source


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A book before and after some lines are added at the end of one page.

    `page` is the page with them, `first` the number of their first line. `unread` and `to_come` are what stands in
    their way; of definitions also lines of the book that can no longer be read beside them.
    """

    before: Book
    after: Book
    page: Source
    first: int
    lines: tuple[str, ...]
    new: frozenset[int]  # the entries among them, by their order in `after`
    unread: tuple[Complaint, ...]
    to_come: tuple[Complaint, ...]

    @property
    def new_page(self) -> bool:
        """Whether the page is begun by these lines."""
        return all(source.name != self.page.name for source in self.before.sources)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Standing:
    """Composed lines as they were read at the end of their page, every place being that in the page.

    `unread` are lines that cannot be read, `to_come` times of which nobody can say which day is meant.
    """

    source: Source
    entries: tuple[Entry, ...]
    unread: tuple[Complaint, ...]
    to_come: tuple[Complaint, ...]


_LAST = 50  # lines of a page's end: nobody leaves a longer comment in the middle of an entry
AHEAD = 10 * MINUTE  # two clocks in one shop differ by some minutes


def draft(book: Book, lines: Composed, page: Source, moment: Moment) -> Draft:
    """The book with composed lines at the end of `page`, which is one of its pages or a new one without text.

    Entries of both books are numbered alike, so that a finding about one can be found again in the other.
    """
    above = page.text if not page.text or page.text.endswith("\n") else page.text + "\n"
    if _would_join(above, lines):
        lines = replace(lines, text="\n" + lines.text)  # an empty line ends the entry above
    longer = Source(name=page.name, path=page.path, text=f"{above}{lines.text}\n", seen=page.seen)
    first = above.count("\n") + 1
    sources = _with(book.sources, page, longer)
    if lines.defines:
        return _of_definitions(book, lines, longer, first, sources)
    last = next((entry for entry in reversed(book.entries) if entry.source is page), None)
    found = _standing(lines, longer, moment, book.shop, book.clock, last)
    following = {source.name for source in sources[sources.index(longer) + 1 :]}
    made = list(book.entries)
    at = next((number for number, entry in enumerate(made) if entry.source.name in following), len(made))
    start = made[at].order if at < len(made) else (made[-1].order + 1 if made else 0)
    for entry in made[at:]:
        entry.order += len(found.entries)
    for number, entry in enumerate(found.entries):
        entry.order = start + number
    made[at:at] = found.entries
    return Draft(
        before=book,
        after=replace(book, sources=sources, entries=tuple(made), unread=(*book.unread, *found.unread)),
        page=longer,
        first=first,
        lines=lines.lines,
        new=frozenset(entry.order for entry in found.entries),
        unread=found.unread,
        to_come=found.to_come,
    )


def _would_join(above: str, lines: Composed) -> bool:
    """Whether the page ends with an open comma, and the first line has no stamp to show that it begins anew."""
    cutter = Cutter(entry_grammar())
    begins = next((line for line in lines.lines if not cutter.comment.match(line)), "")
    if lines.defines or not begins or cutter.struck.match(begins) or cutter.stamp.match(begins):
        return False
    for line in reversed(above.removesuffix("\n").split("\n")[-_LAST:]):
        bare = cutter.comment.sub("", line).strip(BLANKS)
        if bare or not line.strip(BLANKS):
            return bare.endswith(",")
    return False


def _with(sources: tuple[Source, ...], page: Source, longer: Source) -> tuple[Source, ...]:
    """The pages of the book in the order in which they are read, with the longer one in its place."""
    if page in sources:
        return tuple(longer if source is page else source for source in sources)
    return tuple(sorted((*sources, longer), key=lambda source: source.path))


def _of_definitions(book: Book, lines: Composed, longer: Source, first: int, sources: tuple[Source, ...]) -> Draft:
    """New words of the shop can change how every other line is read: the whole book is read again."""
    after = read_sources(sources, book.notices, [trouble for trouble in book.unread if trouble.code == "page"])
    old = {(trouble.place, trouble.message) for trouble in book.unread}
    unread = tuple(trouble for trouble in after.unread if (trouble.place, trouble.message) not in old)
    new = {entry.order for entry in after.entries if entry.source is longer and entry.at.line >= first}
    return Draft(
        before=book,
        after=after,
        page=longer,
        first=first,
        lines=lines.lines,
        new=frozenset(new),
        unread=unread,
        to_come=(),
    )


def _standing(
    lines: Composed, page: Source, moment: Moment, shop: ShopBook, clock: Clock, last: Entry | None
) -> _Standing:
    """Reads composed lines where they stand: at the end of a page that has them already."""
    cutter = Cutter(entry_grammar())
    offset = len(page.text) - len(lines.text) - 1
    above = page.text.count("\n", 0, offset)
    _, found = split_page(Source(name=page.name, text=lines.text), cutter, is_definition)
    records = [Record(one.start + offset, one.end + offset, one.line + above, one.text) for one in found]
    reader = EntryReader(entry_grammar(), cutter, shop, clock)
    reader.read(page, records, below=last)
    asked = [record for number, record in enumerate(records) if number in lines.given]
    return _Standing(
        source=page,
        entries=tuple(reader.entries),
        unread=tuple(with_its_date(complaint, moment.day) for complaint in reader.complaints),
        to_come=tuple(_to_come(page, asked, reader.entries, cutter, moment)),
    )


def _to_come(
    page: Source, records: Iterable[Record], entries: Iterable[Entry], cutter: Cutter, moment: Moment
) -> Iterator[Complaint]:
    """Times that are still to come under a date that nobody wrote: perhaps yesterday's, perhaps a slip."""
    told = {entry.start: entry for entry in entries}
    for record in records:
        entry, cut = told.get(record.start), cutter.cut(record.text)
        if entry is None or not cut.time or entry.when.lo <= moment.at + AHEAD:
            continue
        day = entry.when.day
        place = page.place(record.start + cut.time_at, record.start + cut.time_at + len(cut.time))
        message = f"{cut.time} is still to come today: {iso(day - 1)} or {iso(day)}? write the date before it"
        yield Complaint(place=place, code="to come", message=message, text=page.line(place.line))
