"""A fair copy of a book: pages written out, then the whole book read again, which must say what it said before."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from hideledger.model.book import Book
from hideledger.model.entry import Entry
from hideledger.model.fair import FairLine, FairPage, LeftLine
from hideledger.reading.book import read_sources
from hideledger.text.place import Complaint
from hideledger.text.source import Source
from hideledger.writing.fair_line import STYLES
from hideledger.writing.fair_page import Attempt, FairPages, same

_NOT_ALIKE = "written out, this page would not read as it does; nothing of it is changed"


def fair_copy(book: Book, names: Iterable[str], members: Mapping[int, Sequence[str]]) -> tuple[FairPage, ...]:
    """What would stand on the pages of these names. `members` are, by an entry's order, those whom `all in P3` meant.

    Nothing is changed on a page whose entries or unread lines would come out otherwise than they stand in `book`.
    """
    wanted = set(names)
    sources = [source for source in book.sources if source.name in wanted]
    writer = FairPages(book, members)
    pages = [_page(book, source, writer.attempts(source), writer.entries(source)) for source in sources]
    return _held_to_the_book(book, pages)


def _page(book: Book, source: Source, attempts: Sequence[Attempt], entries: int) -> FairPage:
    changes: list[FairLine] = []
    left: list[LeftLine] = []
    fewer = 0  # lines that were joined to the one above them, so far
    for attempt in attempts:
        line = attempt.record.line
        if attempt.fair != attempt.written:
            was, now = tuple(attempt.written.split("\n")), tuple(attempt.fair.split("\n"))
            changes.append(FairLine(line=line, to_line=line - fewer, was=was, now=now))
            fewer += len(was) - len(now)
        if not attempt.names_all:
            left.append(LeftLine(line=line, text=source.line(line), why=_why(attempt)))
    unread = sum(complaint.place.file == source.name for complaint in book.unread)
    return FairPage(source=source, entries=entries, unread=unread, changes=tuple(changes), left=tuple(left))


def _why(attempt: Attempt) -> str:
    if attempt.style >= len(STYLES):
        return "with a date in front it would read otherwise; it stands as it was"
    return "with each tag spelled out it would read otherwise; only its head is written out"


# --- the whole book again ----------------------------------------------------------------------------------------------------


def text_of(page: FairPage) -> str:
    """The text of a page with its changes made."""
    lines = page.source.text.split("\n")
    for change in reversed(page.changes):
        lines[change.line - 1 : change.line - 1 + len(change.was)] = change.now
    return "\n".join(lines)


def _held_to_the_book(book: Book, pages: Sequence[FairPage]) -> tuple[FairPage, ...]:
    changed = {page.source.name: page for page in pages if page.changes}
    if not changed:
        return tuple(pages)
    sources = [
        Source(name=source.name, text=text_of(changed[source.name])) if source.name in changed else source
        for source in book.sources
    ]
    again = read_sources(sources, closed=[complaint for complaint in book.unread if complaint.code == "page"])
    before, after = _by_page(book), _by_page(again)
    return tuple(
        page
        if not page.changes or _alike(page, before[page.source.name], after[page.source.name])
        else replace(page, changes=(), left=(), refused=_NOT_ALIKE)
        for page in pages
    )


@dataclass(slots=True)
class _Read:
    """What was read of one page."""

    entries: list[Entry] = field(default_factory=list)
    unread: list[Complaint] = field(default_factory=list)


def _by_page(book: Book) -> dict[str, _Read]:
    found = {source.name: _Read() for source in book.sources}
    for entry in book.entries:
        found[entry.source.name].entries.append(entry)
    for complaint in book.unread:
        if complaint.place.file in found:
            found[complaint.place.file].unread.append(complaint)
    return found


def _alike(page: FairPage, before: _Read, after: _Read) -> bool:
    broken = any(len(change.was) > 1 for change in page.changes)
    return (
        len(before.entries) == len(after.entries)
        and len(before.unread) == len(after.unread)
        and all(same(one, other, broken=broken) for one, other in zip(before.entries, after.entries, strict=True))
        and all(_same_trouble(page, *both) for both in zip(before.unread, after.unread, strict=True))
    )


def _same_trouble(page: FairPage, one: Complaint, other: Complaint) -> bool:
    """The same line, complained of for the same thing; where lines above it were joined it stands so much higher."""
    line = one.place.line
    fewer = sum(len(change.was) - len(change.now) for change in page.changes if change.line < line)
    return (line - fewer, one.place.column, one.code, one.text, one.tags, one.day) == (
        other.place.line,
        other.place.column,
        other.code,
        other.text,
        other.tags,
        other.day,
    )
