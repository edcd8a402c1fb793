"""Opens a book: finds its pages, reads how the shop works, then what was written."""

from __future__ import annotations

import gc
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import lru_cache
from pathlib import Path

from lark import Lark

from hideledger.model.book import Book
from hideledger.model.moments import Clock, UnknownZone
from hideledger.reading.cut import Cutter
from hideledger.reading.definitions import is_definition, read_definitions
from hideledger.reading.entries import EntryReader
from hideledger.reading.grammar import open_grammar
from hideledger.reading.pages import Block, Record, split_page
from hideledger.text.files import BookTrouble, find_pages, read_page
from hideledger.text.place import Complaint, Place
from hideledger.text.source import Source


def read_sources(sources: Sequence[Source], notices: Sequence[str] = (), closed: Sequence[Complaint] = ()) -> Book:
    """These pages make one book, and nothing that stands in them raises.

    What cannot be read is in `unread`, after the pages that were `closed` to it.
    """
    parser = entry_grammar()
    cutter = _cutter_of(parser)
    blocks: list[Block] = []
    pages: list[tuple[Source, list[Record]]] = []
    for source in sources:
        found, records = split_page(source, cutter, is_definition)
        blocks += found
        pages.append((source, records))
    shop, complaints = read_definitions(blocks)
    try:
        clock = Clock(shop.shop.zone)
    except UnknownZone:
        clock = Clock(None)
    reader = EntryReader(parser, cutter, shop, clock)
    with _no_collecting():
        for source, records in pages:
            reader.read(source, records)
    unread = [*closed, *sorted([*complaints, *reader.complaints], key=lambda complaint: complaint.place)]
    return Book(
        sources=tuple(sources),
        shop=shop,
        clock=clock,
        entries=tuple(reader.entries),
        unread=tuple(unread),
        notices=tuple(notices),
    )


@contextmanager
def _no_collecting() -> Iterator[None]:
    """Entries hold no circles: looking for some while they are made would take a third of the time."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


@lru_cache(maxsize=1)
def entry_grammar() -> Lark:
    """The grammar of entries, built once a run."""
    return open_grammar("entry.lark", ["entry", "first", "piece", "who"])


@lru_cache(maxsize=2)
def _cutter_of(parser: Lark) -> Cutter:
    return Cutter(parser)


def read_book(paths: Sequence[str]) -> Book:
    """The book under these paths (a folder, or files). Raises BookTrouble when there is none, or a page cannot be decoded."""
    pages, left = find_pages(paths)
    base = Path(paths[0]) if len(paths) == 1 and Path(paths[0]).is_dir() else None
    sources: list[Source] = []
    # What nobody reads is told like a page that cannot be opened, until somebody has seen to it.
    closed = [
        Complaint(place=Place(file=_shown(Path(one.path), base), line=1), code="page", message=one.said)
        for one in left
        if one.lost
    ]
    for page in pages:
        try:
            sources.append(read_page(page, _shown(page, base)))
        except BookTrouble as trouble:
            if len(pages) == 1 or trouble.place is None:
                raise
            # One page that cannot be opened never hides the others; that it is there is the first thing told.
            message = f"nothing of this page could be read: {trouble.said}"
            closed.append(Complaint(place=trouble.place, code="page", message=message))
    if not sources:
        raise BookTrouble("; ".join(f"{one.place}: {one.message}" for one in closed))
    if not any(source.text.strip() for source in sources):
        raise BookTrouble(f"{paths[0]}: the book is empty", 3)
    return read_sources(sources, [str(one) for one in left if not one.lost], closed)


def _shown(page: Path, base: Path | None) -> str:
    """The name a report gives the page: as the person named the folder, so that an editor can open it."""
    return str(page if base is None else base / page.relative_to(base))


def read_text(text: str, name: str = "page.hides") -> Book:
    """The book in one text, for tests and for trying a line."""
    return read_sources([Source(name=name, text=text)])
