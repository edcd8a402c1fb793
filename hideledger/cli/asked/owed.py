"""`owed`: who owes what, and one customer's whole bill."""

from __future__ import annotations

from argparse import Namespace

from hideledger.cli.arguments import BOOK, Parser, add_looks
from hideledger.cli.giving import NOT_FOUND, QUIET, UNREAD, give, is_path, laid_out, notices
from hideledger.cli.streams import complain


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    add_looks(parser)
    parser.add_argument(
        "about",
        nargs="*",
        metavar="TAG",
        help="a customer by all words of the name, by the tag of one of the hides, or by another shop's own tag; a page or a folder with a slash is the book",
    )
    parser.add_argument("--book", action="append", default=[], metavar="BOOK", dest="more_book", help=BOOK)


def answer(wanted: Namespace) -> int:
    """Found, not found, or part of the book could not be read."""
    from hideledger.answers.owed.bill import owed_by
    from hideledger.answers.owed.everybody import owed
    from hideledger.answers.whose import NothingFound

    books = [word for word in wanted.about if is_path(word)] + wanted.more_book
    about = [word for word in wanted.about if not is_path(word)]
    floor = laid_out(wanted, books)
    notices(floor.book)
    try:
        sheet = owed_by(floor, about) if about else owed(floor)
    except NothingFound as nothing:
        complain(str(nothing))
        return UNREAD if floor.book.unread else NOT_FOUND
    give(sheet, wanted)
    return UNREAD if floor.book.unread else QUIET
