"""`check`: what needs a hand, and what the book does not say as it should."""

from __future__ import annotations

from argparse import Namespace

from hideledger.cli.arguments import Parser, add_book, add_looks
from hideledger.cli.giving import QUIET, RINGS, UNREAD, WRONG, books_of, give, laid_out, notices


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    add_looks(parser)
    add_book(parser)
    parser.add_argument("--ahead", metavar="LENGTH", help="how far ahead a limit is told as due, as in 14h")
    parser.add_argument("--all", action="store_true", help="the record of hides that are gone, too")
    parser.add_argument("--quiet", action="store_true", help="print nothing when nothing rings and every line was read")
    parser.add_argument(
        "--page",
        metavar="SHEET",
        action="append",
        default=[],
        help="also leave the whole answer as a page: .html, .htm or .txt; may be said several times",
    )
    parser.add_argument(
        "--already-told",
        metavar="FILE",
        help="leave out what the last run told, and put into FILE what this one did; what is overdue is told each time",
    )


def answer(wanted: Namespace) -> int:
    """Nothing rings, something rings, or part of the book could not be read; or what was to be left could not be written."""
    from hideledger.answers.check.answer import check
    from hideledger.cli.leaving import leave_page, leave_told, refuse_to_leave, told_last
    from hideledger.cli.moment import length_of
    from hideledger.rules.judge import judging

    ahead = None if wanted.ahead is None else length_of(wanted.ahead)
    refuse_to_leave(wanted)
    last, seen = told_last(wanted.already_told)
    floor = laid_out(wanted, books_of(wanted))
    judged = judging(floor, ahead=ahead)
    checked = check(floor, judged.findings, held=judged.held, whole_history=wanted.all, last=last)
    unread = bool(floor.book.unread)
    # first, since whoever reads the answer may go away in the middle of it
    left = True
    for path in wanted.page:
        left = leave_page(path, checked) and left
    if checked.news or unread or not wanted.quiet:
        notices(floor.book)
        give(checked.sheet, wanted)
        # only now: what nobody was told must be told next time
        if wanted.already_told is not None:
            left = leave_told(wanted.already_told, checked.whole, seen) and left
    if not left:
        return WRONG
    if unread:
        return UNREAD
    return RINGS if checked.rings else QUIET
