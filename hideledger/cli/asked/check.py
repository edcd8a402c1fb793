"""`check`: what needs a hand, and what the book does not say as it should."""

from __future__ import annotations

from argparse import Namespace

from hideledger.cli.arguments import Parser, add_book, add_looks
from hideledger.cli.giving import QUIET, RINGS, UNREAD, give, laid_out, notices


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    add_looks(parser)
    add_book(parser)
    parser.add_argument("--ahead", metavar="LENGTH", help="how far ahead a limit is told as due, as in 14h")
    parser.add_argument("--all", action="store_true", help="the record of hides that are gone, too")
    parser.add_argument("--quiet", action="store_true", help="print nothing when nothing rings and every line was read")


def answer(wanted: Namespace) -> int:
    """Nothing rings, something rings, or part of the book could not be read."""
    from hideledger.answers.check import check
    from hideledger.cli.moment import length_of
    from hideledger.rules.judge import judging

    ahead = None if wanted.ahead is None else length_of(wanted.ahead)
    floor = laid_out(wanted, wanted.book)
    judged = judging(floor, ahead=ahead)
    checked = check(floor, judged.findings, held=judged.held, whole_history=wanted.all)
    unread = bool(floor.book.unread)
    if not (wanted.quiet and not checked.rings and not unread):
        notices(floor.book)
        give(checked.sheet, wanted)
    if unread:
        return UNREAD
    return RINGS if checked.rings else QUIET
