"""`slip`: what goes with the slip in a season; with a tag what happened to one hide, what it shared, and who is next."""

from __future__ import annotations

import re
from argparse import Namespace
from datetime import date
from typing import TYPE_CHECKING

from hideledger.cli.arguments import Parser, WrongUse, add_looks, add_named_book
from hideledger.cli.book_named import books_and_words, is_tag
from hideledger.cli.giving import NOT_FOUND, QUIET, UNREAD, give, laid_out, notices
from hideledger.cli.streams import complain, line_width

if TYPE_CHECKING:
    from hideledger.shopfloor.floor import Floor

_DAY = re.compile(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})")


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    add_looks(parser)
    parser.add_argument(
        "words",
        nargs="*",
        metavar="TAG",
        help="the tag of one hide; without it the whole season; a page or a folder is the book",
    )
    parser.add_argument(
        "--defect", metavar="WHAT", default="slip", help='another defect, as in "raw streak"; else slip'
    )
    parser.add_argument(
        "--all", action="store_true", help="with a tag: every reading and gap with its line, and each sister by itself"
    )
    parser.add_argument(
        "--from", metavar="WHEN", dest="first", help="a date: only hides that came in on that day or later"
    )
    parser.add_argument(
        "--to", metavar="WHEN", dest="last", help="a date: only hides that came in on that day or before"
    )
    add_named_book(parser)


def answer(wanted: Namespace) -> int:
    """Told, the hide not found, or part of the book could not be read."""
    books, tags = books_and_words(wanted.words, wanted.named_book, wanted.command)
    for word in tags:
        if not is_tag(word) and not any(sign in "0123456789" for sign in word):
            raise WrongUse(f"{word}: neither the tag of a hide, nor a page or a folder that is there")
    if len(tags) > 1:
        raise WrongUse(f"slip tells of one hide at a time: {tags[0]} or {tags[1]}?")
    first, last = _day("--from", wanted.first), _day("--to", wanted.last)
    if first is not None and last is not None and last < first:
        raise WrongUse(f"--from {wanted.first} is later than --to {wanted.last}")
    if tags and (first is not None or last is not None):
        raise WrongUse(f"--from and --to are for a season; {tags[0]} is one hide")
    floor = laid_out(wanted, books)
    defect = _defect(floor, wanted.defect)
    notices(floor.book)
    if tags:
        return _one(floor, tags[0], defect, wanted)
    from hideledger.answers.slip.season import slip_season

    give(slip_season(floor, defect, first=first, last=last), wanted)
    return UNREAD if floor.book.unread else QUIET


def _one(floor: Floor, tag: str, defect: str, wanted: Namespace) -> int:
    from hideledger.answers.slip.hide import NoSuchHide, slip_hide

    try:
        sheet = slip_hide(floor, tag, defect=defect, whole=wanted.all, width=line_width())
    except NoSuchHide as nothing:
        complain(str(nothing))
        return UNREAD if floor.book.unread else NOT_FOUND
    give(sheet, wanted)
    return UNREAD if floor.book.unread else QUIET


def _day(option: str, written: str | None) -> int | None:
    """The ordinal of a day. Raises WrongUse."""
    if written is None:
        return None
    found = _DAY.fullmatch(written.strip())
    if found is None:
        raise WrongUse(f"{option} takes a date as in \"2026-11-05\", not '{written}'")
    try:
        return date(int(found[1]), int(found[2]), int(found[3])).toordinal()
    except ValueError:
        raise WrongUse(f"{option} {written}: there is no such day") from None


def _defect(floor: Floor, written: str) -> str:
    """The shop's own name of a defect. Raises WrongUse with the nearest."""
    from hideledger.reading.words import Vocabulary

    words = Vocabulary(floor.book.shop)
    name = " ".join(written.split()).casefold()
    known = words.names.get(name, {}).get("defect")
    if known is not None:
        return known
    near = words.meant(name, "defect")
    hint = (
        f"; did you mean {words.names[near]['defect']}?"
        if near
        else "; known are " + ", ".join(dict.fromkeys(words.names[one]["defect"] for one in words.of_sort("defect")))
    )
    raise WrongUse(f"'{written}' is no defect known here{hint}")
