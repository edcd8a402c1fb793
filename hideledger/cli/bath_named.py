"""A bath of the book in a request that needs none: the book is laid out only where a tag stands in it."""

from __future__ import annotations

from argparse import Namespace
from typing import TYPE_CHECKING

from hideledger.cli.arguments import WrongUse

if TYPE_CHECKING:
    from hideledger.answers.of_book import InBook
    from hideledger.model.book import Book


def bath_of_book(text: str, book: Book | None, wanted: Namespace, command: str) -> InBook | None:
    """The request of `brine` or `acid` with its bath spelt out; None where it names none. Raises WrongUse, Unclear and NotReckoned."""
    from hideledger.reading.asked import BATH

    named = BATH.search(text)
    if named is None:
        return None
    if book is None:
        raise WrongUse(
            f"{named.group()} of which book? none lies in this folder; name it, as in: hideledger {command} --book FOLDER {text}"
        )
    from hideledger.answers.of_book import acid_of_book, brine_of_book
    from hideledger.cli.moment import instant_in
    from hideledger.shopfloor.layout import lay_out

    floor = lay_out(book, instant_in(book, wanted.at))
    return (brine_of_book if command == "brine" else acid_of_book)(text, floor)
