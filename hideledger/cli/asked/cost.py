"""`cost`: what hides cost, and what sending them out would have."""

from __future__ import annotations

from argparse import Namespace

from hideledger.cli.arguments import BOOK, Parser, add_looks
from hideledger.cli.giving import NOT_FOUND, QUIET, UNREAD, give, is_path, laid_out, notices
from hideledger.cli.streams import complain

_GROUPS = ("kind", "hide", "load", "customer", "month")


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    add_looks(parser)
    parser.add_argument(
        "about",
        nargs="*",
        metavar="TAG",
        help="tags of hides, baths or loads, a legal tag or another shop's own, or a customer's name; a page or a folder with a slash is the book",
    )
    parser.add_argument(
        "--by",
        choices=_GROUPS,
        help="what goes together in one row; else by kind, and of a hide that is named each by itself",
    )
    parser.add_argument("--book", action="append", default=[], metavar="BOOK", dest="more_book", help=BOOK)


def answer(wanted: Namespace) -> int:
    """Found, not found, or part of the book could not be read."""
    from hideledger.answers.cost.answer import cost
    from hideledger.answers.whose import NothingFound

    books = [word for word in wanted.about if is_path(word)] + wanted.more_book
    about = [word for word in wanted.about if not is_path(word)]
    floor = laid_out(wanted, books)
    notices(floor.book)
    try:
        sheet = cost(floor, about, wanted.by or ("hide" if about else "kind"))
    except NothingFound as nothing:
        complain(str(nothing))
        return UNREAD if floor.book.unread else NOT_FOUND
    give(sheet, wanted)
    return UNREAD if floor.book.unread else QUIET
