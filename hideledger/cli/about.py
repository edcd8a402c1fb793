"""What the answers about one thing have in common: words that name it, the book among them or behind `--book`, found or not."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from hideledger.cli.arguments import Parser, add_looks, add_named_book
from hideledger.cli.book_named import books_and_words
from hideledger.cli.giving import NOT_FOUND, QUIET, UNREAD, give, laid_out, notices
from hideledger.cli.streams import complain

if TYPE_CHECKING:
    from hideledger.answers.sheet import Sheet
    from hideledger.shopfloor.floor import Floor


def add_about(parser: Parser, metavar: str, about: str, *, needed: bool = False) -> None:
    """The words that name what is asked for, the moment and form of the answer, and the book."""
    add_looks(parser)
    parser.add_argument(
        "about",
        nargs="+" if needed else "*",
        metavar=metavar,
        help=f"{about}; a page or a folder is the book",
    )
    add_named_book(parser)


def answer_about(wanted: Namespace, sheet_of: Callable[[Floor, Sequence[str]], Sheet]) -> int:
    """Found, not found, or part of the book could not be read. `sheet_of` makes the answer, or raises NothingFound."""
    from hideledger.answers.whose import NothingFound

    books, about = books_and_words(wanted.about, wanted.named_book, wanted.command)
    floor = laid_out(wanted, books)
    notices(floor.book)
    try:
        sheet = sheet_of(floor, about)
    except NothingFound as nothing:
        complain(str(nothing))
        return UNREAD if floor.book.unread else NOT_FOUND
    give(sheet, wanted)
    return UNREAD if floor.book.unread else QUIET
