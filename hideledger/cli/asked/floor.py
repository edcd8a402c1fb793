"""`floor`: the evening and morning look."""

from __future__ import annotations

from argparse import Namespace

from hideledger.cli.arguments import Parser, add_book, add_looks
from hideledger.cli.giving import QUIET, UNREAD, books_of, give, laid_out, notices


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    add_looks(parser)
    add_book(parser)


def answer(wanted: Namespace) -> int:
    """The look itself; whether every line could be read."""
    from hideledger.answers.floor.answer import floor_look
    from hideledger.rules.judge import judging

    floor = laid_out(wanted, books_of(wanted))
    notices(floor.book)
    judged = judging(floor)
    give(floor_look(floor, judged.findings, held=judged.held), wanted)
    return UNREAD if floor.book.unread else QUIET
