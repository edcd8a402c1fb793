"""What every command does alike: opens the book at the moment asked for, and gives the answer out in the form asked for."""

from __future__ import annotations

import os
from argparse import Namespace
from collections.abc import Sequence
from typing import TYPE_CHECKING

from hideledger.cli.streams import complain, deliver, deliver_to_terminal, deliver_utf8, is_terminal

if TYPE_CHECKING:
    from hideledger.answers.sheet import Sheet
    from hideledger.model.book import Book
    from hideledger.shopfloor.floor import Floor

QUIET, RINGS, NOT_FOUND, WRONG, UNREAD, FAULT, NOT_OUT = 0, 1, 1, 2, 3, 70, 74


def books_of(wanted: Namespace) -> list[str]:
    """The book as a command took it: the words behind it, and what stands behind `--book`."""
    return [*getattr(wanted, "book", ()), *wanted.named_book]


def paths_of(paths: Sequence[str]) -> list[str]:
    """Where the book is: as named, else what HIDELEDGER_BOOK names, else this folder."""
    return list(paths) or [os.environ.get("HIDELEDGER_BOOK") or "."]


def laid_out(wanted: Namespace, paths: Sequence[str]) -> Floor:
    """The shop as it stood at the moment asked for. Raises BookTrouble and Unclear."""
    from hideledger.cli.moment import instant_in
    from hideledger.reading import read_book
    from hideledger.shopfloor.layout import lay_out

    book = read_book(paths_of(paths))
    return lay_out(book, instant_in(book, wanted.at), present=wanted.at is None)


def book_at_hand(named: Sequence[str]) -> Book | None:
    """The book that is named, else the one that HIDELEDGER_BOOK names, else pages that lie in this very folder.

    None where there is none: for answers that a book makes better and that need none. A book that was named and cannot
    be read raises BookTrouble, another is passed over.
    """
    from hideledger.text.files import ENDING, BookTrouble

    if (
        not named
        and not os.environ.get("HIDELEDGER_BOOK")
        and not any(page.endswith(ENDING) for page in os.listdir("."))
    ):
        return None
    from hideledger.reading import read_book

    try:
        return read_book(paths_of(named))
    except BookTrouble:
        if named:
            raise
        return None


def notices(book: Book, *, most: int | None = None) -> None:
    """Says what was left beside the book and not read, `most` files of it by name."""
    for sentence in book.notices[:most]:
        complain(sentence)
    if most is not None and len(book.notices) > most:
        complain(f"{len(book.notices) - most} more left alone: hideledger check names each")


def give(sheet: Sheet, wanted: Namespace) -> None:
    """Gives a sheet out as `--json`, `--plain`, for a screen or on paper. Raises BrokenPipeError and NotDelivered."""
    if wanted.json:
        from hideledger.render.json_text import json_text

        deliver_utf8(json_text(sheet))
    elif wanted.plain:
        from hideledger.render.plain import plain

        deliver(plain(sheet))
    elif is_terminal():
        deliver_to_terminal(sheet)
    else:
        from hideledger.render.card import card

        deliver(card(sheet))
