"""`history`: all that happened to one hide, bath, vessel, place or customer."""

from __future__ import annotations

from argparse import Namespace

from hideledger.cli.arguments import BOOK, Parser, WrongUse, add_looks
from hideledger.cli.giving import NOT_FOUND, QUIET, UNREAD, give, is_path, laid_out, notices
from hideledger.cli.streams import complain


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    add_looks(parser)
    parser.add_argument(
        "about",
        nargs="+",
        metavar="TAG",
        help="tags of hides, baths or vessels, names of places, or all words of a customer's name; a page or a folder "
        "with a slash is the book",
    )
    parser.add_argument("--book", action="append", default=[], metavar="BOOK", dest="more_book", help=BOOK)


def answer(wanted: Namespace) -> int:
    """Found, not found, or part of the book could not be read."""
    from hideledger.answers.history.answer import NothingFound, history
    from hideledger.rules.judge import judge

    books = [word for word in wanted.about if is_path(word)] + wanted.more_book
    about = [word for word in wanted.about if not is_path(word)]
    if not about:
        raise WrongUse("history of what? give a tag or a customer's name; see hideledger history --help")
    floor = laid_out(wanted, books)
    notices(floor.book)
    try:
        sheet = history(floor, judge(floor), about)
    except NothingFound as nothing:
        complain(str(nothing))
        return UNREAD if floor.book.unread else NOT_FOUND
    give(sheet, wanted)
    return UNREAD if floor.book.unread else QUIET
