"""`start`: a starter book in a new folder."""

from __future__ import annotations

from argparse import Namespace

from hideledger.cli.arguments import Parser, WrongUse, add_looks
from hideledger.cli.giving import QUIET, give


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    add_looks(parser)
    parser.add_argument("folder", metavar="FOLDER", help="a new folder, or one that holds no *.hides page yet")


def answer(wanted: Namespace) -> int:
    """Writes the pages and says which."""
    from datetime import date

    from hideledger.answers.start.answer import ZONE, pages, started
    from hideledger.cli.moment import instant_of
    from hideledger.model.moments import Clock
    from hideledger.writing.new_files import write_new_pages
    from hideledger.writing.trouble import NotWritten

    if not wanted.folder.strip():
        raise WrongUse("start where? give the name of a new folder, as in: hideledger start book")
    clock = Clock(ZONE)  # that of the page, so that its first line is dated by the clock that the book will go by
    at = instant_of(wanted.at, clock)
    # a date alone means its end, which is still that day
    today = date.fromordinal(clock.day_of(at - 1 if wanted.at else at))
    try:
        written = write_new_pages(wanted.folder, pages(today))
    except NotWritten as trouble:
        raise WrongUse(str(trouble)) from trouble
    give(started(wanted.folder, written), wanted)
    return QUIET
