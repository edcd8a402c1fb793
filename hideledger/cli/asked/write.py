"""`write`: a line goes into the book, stamped, read first, and said back."""

from __future__ import annotations

import os
import random
import sys
import time
from argparse import Namespace
from typing import TYPE_CHECKING

from hideledger.cli.arguments import LONG_DASH, Parser, WrongUse, add_looks, add_named_book
from hideledger.cli.giving import FAULT, QUIET, RINGS, UNREAD, WRONG, give, notices, paths_of
from hideledger.cli.streams import NotDelivered, complain, own_fault
from hideledger.text.files import BookTrouble, decode

if TYPE_CHECKING:
    from hideledger.answers.sheet import Sheet
    from hideledger.model.book import Book
    from hideledger.reading.draft import Draft
    from hideledger.reading.stamping import Moment

_TRIES = 40
_LONGEST_PAUSE = 0.25  # seconds
_WHAT = "write what? give the line in quotes, as in: hideledger write 'H41 salt'; or lines on standard input"
_STAMPS = (
    "A line without a date gets the shop's date and time, one with only a time today's date; a time still to come today is asked about. "
    "A line that begins with a date stays as it is. A line that says how the shop works (customer ..., vessel ...) gets none and goes to the shop page. "
    "Several lines are written together or not at all. Exit codes: 0 written and quiet; 1 written, and the line makes something ring; "
    "2 not written; 3 refused, or kept unread."
)
_STANDARD_INPUT = "-"
_MOST = 1024 * 1024  # bytes


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    parser.epilog = _STAMPS
    add_looks(parser)
    parser.add_argument(
        "words",
        nargs="*",
        metavar="WORDS",
        help="the line, best in single quotes ('H41 salt'); none or -: lines on standard input",
    )
    add_named_book(parser)
    parser.add_argument(
        "--file", metavar="PAGE", help="the page it goes to, there already or new; else the one with the latest line"
    )
    parser.add_argument(
        "--keep", action="store_true", help="write lines that cannot be read, too; check asks until they are mended"
    )
    parser.add_argument(
        "--strike",
        action="store_true",
        help="take back the last line of the page: struck is put before it, and it stands there still",
    )
    parser.add_argument("--try", action="store_true", dest="only_try", help="show what would come of it; write nothing")


def answer(wanted: Namespace) -> int:
    """Written and quiet, written and something rings, refused or kept unread, or not written."""
    from hideledger.writing.trouble import NotWritten

    if wanted.strike:
        return _strike(wanted)
    text = _text(wanted)
    try:
        draft, at, refused = _written(wanted, text, paths_of(wanted.named_book))
    except NotWritten as trouble:
        complain(str(trouble))
        return WRONG
    if refused:
        return _refused(draft, at, wanted)
    notices(draft.before, most=2)
    try:
        sheet, code = _sheet(draft, at, wanted)
    except Exception as fault:
        if wanted.only_try:
            raise
        own_fault(fault, f"the line stands in the book ({draft.page.name}:{draft.first})")
        return FAULT
    try:
        give(sheet, wanted)
    except NotDelivered:
        if not wanted.only_try:
            complain(f"the line stands in the book ({draft.page.name}:{draft.first})")
        raise
    return code


def _strike(wanted: Namespace) -> int:
    """Takes back the last line of the page that a line of now would stand on."""
    from hideledger.answers.write.taken_back import taken_back
    from hideledger.reading import read_book
    from hideledger.writing.newest import named_page, newest_page
    from hideledger.writing.strike import last_entry, strike
    from hideledger.writing.trouble import NotWritten

    if wanted.words or wanted.keep:
        raise WrongUse("--strike takes back the last line and writes none: say it without a line and without --keep")
    paths = paths_of(wanted.named_book)
    book = read_book(paths)
    at, moment = _moment(wanted.at, book)
    try:
        page = (
            named_page(book, paths, wanted.file)
            if wanted.file is not None
            else newest_page(book, paths, at, moment.day)
        )
        if page.source is None:
            raise NotWritten(
                f"{page.name}: no such page is there yet; name the page whose last line is meant with --file; nothing was struck"
            )
        entry = last_entry(page.source)
        if not wanted.only_try:
            strike(page.source, entry)
    except NotWritten as trouble:
        complain(str(trouble))
        return WRONG
    give(taken_back(entry.place, entry.lines, tried=wanted.only_try), wanted)
    return QUIET


def _written(wanted: Namespace, text: str, paths: list[str]) -> tuple[Draft, int, bool]:
    """The lines in the book, the moment, and whether they were refused. Raises NotWritten and BookTrouble."""
    from hideledger.writing.at_end import add_at_end
    from hideledger.writing.trouble import ChangedMeanwhile

    attempt = 0
    while True:
        draft, path, at = _drafted(wanted, text, paths)
        refused = bool(draft.to_come or (draft.unread and not wanted.keep))
        if refused or wanted.only_try:
            return draft, at, refused
        try:
            add_at_end(path, draft.lines, draft.page.seen)
        except ChangedMeanwhile:
            attempt += 1
            if attempt == _TRIES:
                raise
            # Somebody else wrote, and what they wrote may change what this line means: all is read again.
            time.sleep(random.uniform(0, min(_LONGEST_PAUSE, 0.01 * 2**attempt)))
        else:
            return draft, at, False


def _drafted(wanted: Namespace, text: str, paths: list[str]) -> tuple[Draft, str, int]:
    """The book with the lines, the path of the page they go to, and the moment. Raises BookTrouble, NotWritten."""
    from hideledger.reading import read_book
    from hideledger.reading.draft import draft
    from hideledger.reading.stamping import composed
    from hideledger.text.source import Source
    from hideledger.writing.newest import named_page, newest_page, shop_page

    book = read_book(paths)
    at, moment = _moment(wanted.at, book)
    lines = composed(text, moment, book.shop, book.clock)
    if not lines.text:
        raise WrongUse(_WHAT)
    if lines.remark_alone:
        raise WrongUse(
            f"`{lines.remark_alone}` goes on with no line: say whose remark it is, as in 'H41 -- soft ears', or 'remark buy salt' for the shop's own; nothing was written"
        )
    if wanted.file is not None:
        page = named_page(book, paths, wanted.file)
    elif not lines.defines:
        page = newest_page(book, paths, at, max(lines.days, default=moment.day))
    elif lines.records:
        raise WrongUse(
            "lines of the day and lines on how the shop works go to different pages: write them one after the other, or name a page with --file"
        )
    else:
        page = shop_page(book, paths)
    source = page.source or Source(name=page.name, path=page.path, text="")
    made = draft(book, lines, source, moment)
    if lines.records and not (made.new or made.unread or lines.defines):
        raise WrongUse(f"a date alone says nothing; {_WHAT}")
    return made, page.path, at


def _moment(written: str | None, book: Book) -> tuple[int, Moment]:
    """The moment of the writing; where `--at` names a day alone, no time is known."""
    from hideledger.answers.saying import today
    from hideledger.cli.moment import instant_in, is_a_day
    from hideledger.reading.stamping import Moment

    clock = book.clock
    at = instant_in(book, written)
    if is_a_day(written, book.shop.shop.dates):
        return at, Moment(at=at, day=today(clock, at))
    return at, Moment(at=at, day=clock.day_of(at), time=f"{clock.local(at):%H:%M}")


def _text(wanted: Namespace) -> str:
    """What is to be written, newlines as `\\n`. Raises WrongUse."""
    words = ["--" if word == LONG_DASH else word for word in wanted.words]
    if words[:1] == ["--"]:
        words = words[1:]  # as elsewhere in a shell: no options from here on
    if words and words != [_STANDARD_INPUT]:
        text = " ".join(words)
        try:
            return decode(_as_typed(text), "the line")
        except (UnicodeEncodeError, BookTrouble):
            raise WrongUse("the line is no UTF-8 text; nothing was written") from None
    if sys.stdin is None or (not words and sys.stdin.isatty()):
        raise WrongUse(_WHAT)
    raw = sys.stdin.buffer.read(_MOST + 1)
    if len(raw) > _MOST:
        raise WrongUse(f"standard input: more than {_MOST // 1024} KB is no note from the bench; nothing was written")
    try:
        return decode(raw, "standard input", sent=True)
    except BookTrouble as trouble:
        raise WrongUse(f"{_of_input(trouble)}; nothing was written") from None


def _as_typed(text: str) -> bytes:
    """The bytes that were typed, whatever the locale took them for."""
    try:
        return os.fsencode(text)
    except UnicodeEncodeError:
        return text.encode("utf-8")


def _of_input(trouble: BookTrouble) -> str:
    place = trouble.place
    return f"standard input:{place.line}:{place.column}: {trouble.said}" if place is not None else trouble.said


def _refused(draft: Draft, at: int, wanted: Namespace) -> int:
    from hideledger.answers.write.answer import refused_sheet

    give(refused_sheet(draft, at), wanted)
    if wanted.keep:
        complain("--keep keeps what cannot be read; a line that only wants its date would be read with the wrong one")
    return UNREAD


def _sheet(draft: Draft, at: int, wanted: Namespace) -> tuple[Sheet, int]:
    """What is said back of lines that stand in the book, or would, and the exit code."""
    from hideledger.answers.write.answer import written_sheet
    from hideledger.answers.write.near import near
    from hideledger.answers.write.understood import moment_of, understood
    from hideledger.shopfloor.layout import lay_out

    moment = moment_of(draft, at)
    before, after = near(draft)
    told = understood(draft, lay_out(before, moment), lay_out(after, moment))
    sheet = written_sheet(draft, told, at, tried=wanted.only_try, in_plain=wanted.plain)
    if draft.unread:
        return sheet, UNREAD
    return sheet, RINGS if told.rings else QUIET
