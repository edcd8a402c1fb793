"""One entry written out fair: its own date, every tag by name, one style of number, unit and blank; nothing else is touched.

An entry is never made anew from what was read. What stands on the page is cut at the grammar's own tokens, and only tokens and the
blanks between them are changed, so that whatever is not understood stays as it was written.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import date
from itertools import pairwise

from hideledger.model.book import Book
from hideledger.model.entry import Entry
from hideledger.reading.book import entry_grammar
from hideledger.reading.cut import Cut, Cutter
from hideledger.reading.pages import Record
from hideledger.reading.shapes import Shapes
from hideledger.reading.values import STRETCHES
from hideledger.reading.words import Vocabulary
from hideledger.text.blanks import BLANKS
from hideledger.writing.fair_spelling import spelled_in
from hideledger.writing.fair_words import (
    COMMA,
    DIVIDED,
    FREE,
    KEPT,
    MARK,
    SIGN,
    STAMP,
    TAGS,
    WHO,
    WORD,
    Element,
    PieceWords,
    clock_of,
)

_BROKEN = re.compile(f"[{BLANKS}]*\n[{BLANKS}]*")
# How boldly a line is written out: all of it; without further commas; without the words; tags only; those it is about; the date only.
STYLES: tuple[frozenset[str], ...] = (
    frozenset((STAMP, WHO, TAGS, MARK, COMMA, KEPT, SIGN, WORD, DIVIDED)),
    frozenset((STAMP, WHO, TAGS, MARK, COMMA, KEPT, SIGN, WORD)),
    frozenset((STAMP, WHO, TAGS, MARK, COMMA, KEPT, SIGN)),
    frozenset((STAMP, WHO, TAGS)),
    frozenset((STAMP, WHO)),
    frozenset((STAMP,)),
)
NAMES_ALL = 3  # the last style in which every tag of the line is spelled out
_COMMENT = re.compile(f",?[{BLANKS}]*#[^\n]*\n[{BLANKS}]*")
_Edit = tuple[int, int, str]


class FairWriter:
    """Writes out entries of one book."""

    __slots__ = ("_piece", "_shapes", "cutter")

    def __init__(self, book: Book) -> None:
        parser = entry_grammar()
        self.cutter = Cutter(parser)
        self._shapes = Shapes(parser)
        shop = book.shop.shop
        words = Vocabulary(book.shop)
        self._piece = PieceWords(words, spelled=spelled_in(book, words.names), dates=shop.dates, degrees=shop.degrees)

    def ways(self, record: Record, entry: Entry, members: Sequence[str]) -> Iterator[str]:
        """The entry written out, boldest first. `members` are those whom `all in P3` meant. Raises Unreadable."""
        written = entry.source.text[record.start : record.end]
        cut = self.cutter.cut(record.text)
        elements = sorted(self._elements(record.text, cut, entry), key=lambda element: element.start)
        elements = [
            element
            for element, below in pairwise([*elements, None])
            if element is not None and not _says_nothing(record.text, element, below)
        ]
        end = len(record.text.rstrip(BLANKS))
        behind = written[end:] if record.text[end:] != written[end:] else ""
        if members and entry.group is not None:
            behind = _told_behind(behind, entry.group.where, members)
        last = written.rfind("\n", 0, end) + 1
        keep_breaks = record.text[:last] != written[:last].replace("\n", " ")
        for style in STYLES:
            edits = list(_edits(record.text, elements, style))
            if WORD in style or MARK in style:
                edits.append((elements[-1].end, end, _kept(record.text[elements[-1].end : end])))
            if keep_breaks:  # a comment stands inside: each line stays a line
                edits = [kept for edit in edits if (kept := _around_comments(edit, record.text, written))]
            yield _applied(written[:end], edits, joined=not keep_breaks) + behind

    # --- the parts of a line -----------------------------------------------------------------------------------------------

    def _elements(self, line: str, cut: Cut, entry: Entry) -> Iterator[Element]:
        yield Element(0, self._past_stamp(cut), _stamp(cut, entry), STAMP)
        if cut.who:
            yield Element(cut.who_at, cut.who_at + len(cut.who), _who(entry), WHO)
        end = len(line.rstrip(BLANKS))
        if cut.spoken is not None:
            yield Element(cut.body_at, end, "", KEPT)
            return
        day = date.fromordinal(entry.when.day)
        for number, (text, at) in enumerate(cut.pieces):
            _, phrases = self._shapes.parse(text, "piece" if number else "first")
            yield from self._piece.of(phrases, at, day)
        for found in self.cutter.special.finditer(line, cut.body_at):
            if found["dash"] is not None:
                yield Element(found.start(), found.end(), "--", MARK)
                start = found.end() + len(line[found.end() : end]) - len(line[found.end() : end].lstrip(BLANKS))
                if start < end:
                    yield Element(start, end, "", KEPT)
                return
            sort = COMMA if found["comma"] is not None else KEPT
            yield Element(found.start(), found.end(), "," if sort == COMMA else "", sort)

    @staticmethod
    def _past_stamp(cut: Cut) -> int:
        """Offset behind date and time, or behind the blanks of a line that has neither."""
        if cut.time:
            return cut.time_at + len(cut.time)
        if cut.date:
            return cut.date_at + len(cut.date)
        return cut.who_at if cut.who else cut.body_at


def _says_nothing(line: str, element: Element, below: Element | None) -> bool:
    """A comma at the end of the line, or before a dash or a bracket, divides nothing."""
    return element.sort == COMMA and (below is None or line[below.start] in "(-—–")


def _stamp(cut: Cut, entry: Entry) -> str:
    day = date.fromordinal(entry.when.day).isoformat()
    if not cut.time:
        return day
    about = "about " if cut.about and cut.time.casefold() not in STRETCHES else ""
    return f"{day} {about}{clock_of(cut.time)}"


def _who(entry: Entry) -> str:
    if entry.group is None:
        return " ".join(entry.tags)
    but = f" but {' '.join(entry.group.but)}" if entry.group.but else ""
    return f"all in {entry.group.where}{but}"


def _told_behind(behind: str, where: str, members: Sequence[str]) -> str:
    """The comment at the end with the names of those who were in it: put in front of what stands there, or brought up to date."""
    names = f"# in {where} then: {' '.join(members)}"
    ours = re.compile(f"# in {re.escape(where)} then:(?: [A-Z]{{1,4}}-?[0-9]{{1,6}}[a-z]?(?=[ \t]|$))+")
    if ours.search(behind):
        return ours.sub(names, behind, count=1)
    return f"  {names}{behind}"


# --- changes -----------------------------------------------------------------------------------------------------------------


def _edits(line: str, elements: Sequence[Element], style: frozenset[str]) -> Iterator[_Edit]:
    """The changes to a line in one style: elements, and the blanks between them where both sides may be touched."""
    above: Element | None = None
    for element in elements:
        if element.sort == DIVIDED and DIVIDED not in style:
            continue
        if above is not None and element.start >= above.end:
            gap = line[above.end : element.start]
            if above.sort in (STAMP, WHO) and above.sort in style:
                yield above.end, element.start, _kept(gap) + " "
            elif MARK in style and not _one_text(above, element, style):
                blank = "" if element.sort in (COMMA, DIVIDED) or above.sort == SIGN else " "
                yield above.end, element.start, _kept(gap) + blank
        if element.sort in style and element.sort != KEPT:
            yield element.start, element.end, element.text
        above = element


def _around_comments(edit: _Edit, line: str, written: str) -> _Edit | None:
    """A change to what a comment stands in: words go in front of it, and it keeps its line; blanks around it stay as they are."""
    start, end, text = edit
    if written[start:end] == line[start:end]:
        return edit
    comments = "".join(_COMMENT.findall(written[start:end]))
    return (start, end, text + comments) if text.strip() and comments else None


def _one_text(one: Element, other: Element, style: frozenset[str]) -> bool:
    """Whether the blanks between two words are part of what somebody said in words of his own."""
    own = (FREE,) if WORD in style else (FREE, WORD)
    return one.sort in own and other.sort in own


def _kept(gap: str) -> str:
    """What is no blank between two elements (the full stop behind an initial) stays."""
    return gap.strip(f"{BLANKS},:")


def _applied(written: str, edits: Sequence[_Edit], *, joined: bool) -> str:
    """The text with the changes made; where lines are joined, one blank stands for each break that is left."""
    parts: list[str] = []
    at = 0
    for start, end, text in edits:
        parts += (_BROKEN.sub(" ", written[at:start]) if joined else written[at:start], text)
        at = end
    parts.append(_BROKEN.sub(" ", written[at:]) if joined else written[at:])
    return "".join(parts)
