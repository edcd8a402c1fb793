"""Takes back the last line of a page: `struck` goes before it, and it stands there still, as a line struck out in a paper book does."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from hideledger.reading.book import entry_grammar
from hideledger.reading.cut import Cutter
from hideledger.reading.definitions import is_definition
from hideledger.reading.pages import split_page
from hideledger.text.clean import clean
from hideledger.text.files import BookTrouble, read_raw
from hideledger.text.newlines import BYTE_ORDER_MARK
from hideledger.text.place import Place
from hideledger.text.source import Source
from hideledger.writing.in_place import put_in_place
from hideledger.writing.trouble import NotWritten, changed_meanwhile

_NEWLINE = re.compile(rb"(\r\n|\n|\r)")
_STRUCK = b"struck "


@dataclass(frozen=True, slots=True, kw_only=True)
class LastEntry:
    """The entry at the end of a page: where it begins, its lines as they stand there, and the number of the last of them."""

    place: Place
    lines: tuple[str, ...]
    last: int


def last_entry(page: Source) -> LastEntry:
    """The entry that nothing but blank lines stands behind. Raises NotWritten where the page ends with something else."""
    cutter = Cutter(entry_grammar())
    lines = page.text.split("\n")
    number = next((at for at in range(len(lines), 0, -1) if lines[at - 1].strip()), 0)
    said = f"{clean(page.name)}:{number}"
    if not number:
        raise NotWritten(f"{clean(page.name)}: no line stands on this page; nothing was struck")
    _, records = split_page(page, cutter, is_definition)
    found = records[-1] if records else None
    if found is not None and page.text.count("\n", 0, found.end) + 1 == number:
        place = Place(file=page.name, line=found.line)
        return LastEntry(place=place, lines=tuple(lines[found.line - 1 : number]), last=number)
    last = lines[number - 1]
    if cutter.struck.match(last):
        raise NotWritten(f"{said}: the last line is struck already; one above it is struck by hand; nothing was struck")
    if cutter.comment.match(last.strip()):
        raise NotWritten(f"{said}: the last line is a comment, which counts for nothing; nothing was struck")
    raise NotWritten(f"{said}: the last line says how the shop works, and is changed by hand; nothing was struck")


def strike(page: Source, entry: LastEntry) -> None:
    """Puts `struck` before each line of an entry, and leaves every other byte of the page as it is. Raises NotWritten and ChangedMeanwhile."""
    try:
        body, seen = read_raw(Path(page.path), page.name)
    except BookTrouble as trouble:
        raise NotWritten(f"{trouble.message}; nothing was struck") from trouble
    if seen != page.seen:
        raise changed_meanwhile(page.path)
    pieces = _NEWLINE.split(body)
    for number in range(entry.place.line, entry.last + 1):
        at = 2 * (number - 1)  # a newline stands between two lines
        mark = BYTE_ORDER_MARK if number == 1 and pieces[at].startswith(BYTE_ORDER_MARK) else b""
        pieces[at] = mark + _STRUCK + pieces[at].removeprefix(mark)
    put_in_place(page.path, b"".join(pieces), seen)
