"""`faircopy`: the book written out fair, shown or put in place of what stands there."""

from __future__ import annotations

import os
from argparse import Namespace
from collections.abc import Sequence
from typing import TYPE_CHECKING

from hideledger.cli.arguments import Parser, add_forms, add_named_book
from hideledger.cli.giving import QUIET, UNREAD, WRONG, books_of, give, notices, paths_of
from hideledger.cli.streams import complain
from hideledger.text.clean import clean

if TYPE_CHECKING:
    from hideledger.model.fair import FairPage
    from hideledger.text.left import Left

_BOOK = (
    "the book: a folder, or some of its pages (the rest of its folder is read with them and left as it is); else the "
    "variable HIDELEDGER_BOOK, else this folder"
)


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    add_forms(parser)
    parser.add_argument("book", nargs="*", metavar="BOOK", help=_BOOK)
    add_named_book(parser, _BOOK)
    parser.add_argument(
        "--replace", action="store_true", help="write the pages in place; without it they are only shown"
    )


def answer(wanted: Namespace) -> int:
    """Shown or written; part of the book could not be read; or not written."""
    from hideledger.answers.faircopy import faircopy
    from hideledger.reading import read_book
    from hideledger.shopfloor.groups import meant_by_groups
    from hideledger.shopfloor.layout import lay_out
    from hideledger.text.files import find_pages
    from hideledger.writing.fair_copy import fair_copy

    paths = paths_of(books_of(wanted))
    asked = {os.path.realpath(page) for page in find_pages(paths)[0]}  # also says which is not there
    whole = _whole_book(paths)
    book = read_book(whole)
    notices(book)
    names = [source.name for source in book.sources if os.path.realpath(source.path) in asked]
    last = max((entry.when.hi for entry in book.entries), default=0)
    pages = fair_copy(book, names, meant_by_groups(lay_out(book, last)))
    written, trouble = _put(pages, find_pages(whole)[1]) if wanted.replace else (None, "")
    if trouble:
        complain(trouble)
    if not trouble or written:
        give(faircopy(pages, written=written, book=book), wanted)
    if trouble or any(page.refused for page in pages):
        return WRONG
    return UNREAD if book.unread else QUIET


def _whole_book(paths: Sequence[str]) -> list[str]:
    """The paths with the book around each single page: the shop's words stand on another page."""
    found: dict[str, None] = {}
    home = os.environ.get("HIDELEDGER_BOOK") or ""
    for path in paths:
        if os.path.isdir(path):
            found[path] = None
            continue
        around = home if home and _lies_in(path, home) else os.path.dirname(path) or "."
        pages = _pages(around)
        if pages:
            found[around] = None
        if os.path.realpath(path) not in pages:
            found[path] = None  # named outright, though no folder would count it as a page
    return list(found)


def _pages(folder: str) -> set[str]:
    from hideledger.text.files import BookTrouble, find_pages

    try:
        return {os.path.realpath(page) for page in find_pages([folder])[0]}
    except BookTrouble:
        return set()


def _lies_in(path: str, folder: str) -> bool:
    return os.path.isdir(folder) and os.path.realpath(path).startswith(os.path.join(os.path.realpath(folder), ""))


def _put(pages: Sequence[FairPage], beside: Sequence[Left]) -> tuple[list[str], str]:
    """Puts the changed pages in place, all of them made ready before the first; which were written, and what stopped it.

    A page with a copy among what lies `beside` the book is left: once its lines are written otherwise, the copy would count as a page.
    """
    from hideledger.writing.fair_bytes import fair_bytes
    from hideledger.writing.in_place import put_in_place
    from hideledger.writing.trouble import NotWritten

    copies = {os.path.realpath(one.copy_of): one for one in beside if one.copy_of}
    for page in pages:
        copy = copies.get(os.path.realpath(page.source.path)) if page.changes else None
        if copy is not None:
            known = (
                f"{clean(os.path.basename(copy.path))} beside it looks like a copy of it, and would be read as a page"
            )
            return [], f"{clean(page.source.name)}: {known}; take the copy out of the folder first; nothing was written"
    written: list[str] = []
    try:
        ready = [(page.source, fair_bytes(page)) for page in pages if page.changes]
        for source, body in ready:
            put_in_place(source.path, body, source.seen)
            written.append(source.name)
    except NotWritten as trouble:
        return written, f"{trouble}; done before it: {', '.join(written)}" if written else str(trouble)
    return written, ""
