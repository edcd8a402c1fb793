"""`load`: what goes into the drum and the tubs next."""

from __future__ import annotations

import os
from argparse import Namespace

from hideledger.cli.arguments import Parser, WrongUse, add_book, add_looks
from hideledger.cli.giving import QUIET, RINGS, UNREAD, books_of, give, laid_out, notices


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    parser.add_argument(
        "--with",
        dest="newcomer",
        metavar="HIDE",
        help='the earliest honest promise for one hide more, as in "H60 in tomorrow, whitetail cape, promised 2026-12-20"',
    )
    add_looks(parser)
    add_book(parser)


def answer(wanted: Namespace) -> int:
    """The timetable; whether a promise is missed, and whether every line could be read."""
    books = books_of(wanted)
    if wanted.newcomer is not None and (loose := [word for word in books if not os.path.exists(word)]):
        whole = " ".join([wanted.newcomer, *loose])
        raise WrongUse(
            f'{loose[0]}: there is no such file or folder; what is said of the hide stands in quotes: hideledger load --with "{whole}"'
        )
    floor = laid_out(wanted, books)
    notices(floor.book)
    if wanted.newcomer is None:
        from hideledger.answers.load.answer import load_sheet

        sheet, rings = load_sheet(floor)
    else:
        from hideledger.answers.load.asked import promise_sheet
        from hideledger.cli.words import in_words, not_followed
        from hideledger.reading.trouble import Unreadable

        text = in_words(
            [wanted.newcomer], 'hideledger load --with "H60 in tomorrow, whitetail cape, promised 2026-12-20"'
        )
        try:
            sheet, rings = promise_sheet(floor, text)
        except Unreadable as trouble:
            raise not_followed(text, trouble) from None
    give(sheet, wanted)
    return UNREAD if floor.book.unread else RINGS if rings else QUIET
