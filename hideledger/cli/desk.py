"""Takes a request, has it answered, and gives the answer out in the form that was asked for."""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from collections.abc import Sequence
from typing import TYPE_CHECKING

from hideledger.cli.arguments import Shown, WrongUse, parsed
from hideledger.cli.moment import Unclear
from hideledger.cli.streams import NotDelivered, complain, deliver, deliver_json, deliver_to_terminal, is_terminal
from hideledger.text.files import BookTrouble

if TYPE_CHECKING:
    from hideledger.answers.sheet import Sheet
    from hideledger.model.book import Book
    from hideledger.shopfloor.floor import Floor

QUIET, RINGS, NOT_FOUND, WRONG, UNREAD, FAULT = 0, 1, 1, 2, 3, 70


def answer(argv: Sequence[str] | None = None) -> int:
    """Answers one request and gives its exit code. Raises BrokenPipeError and KeyboardInterrupt."""
    try:
        wanted = parsed(sys.argv[1:] if argv is None else argv)
        match wanted.command:
            case "check":
                return _check(wanted)
            case "floor":
                return _floor(wanted)
            case "history":
                return _history(wanted)
            case "meaning":
                return _meaning(wanted)
            case _:
                return _start(wanted)
    except Shown as text:
        return _shown(str(text))
    except (WrongUse, Unclear) as trouble:
        complain(str(trouble))
        return WRONG
    except BookTrouble as trouble:
        complain(str(trouble))
        return trouble.exit_code
    except NotDelivered as trouble:
        complain(f"the answer could not be written out: {trouble}")
        return FAULT


def _shown(text: str) -> int:
    try:
        deliver(text)
    except NotDelivered as trouble:
        complain(f"the answer could not be written out: {trouble}")
        return FAULT
    return QUIET


def _check(wanted: Namespace) -> int:
    from hideledger.answers.check import check
    from hideledger.cli.moment import length_of
    from hideledger.rules.judge import judging

    ahead = None if wanted.ahead is None else length_of(wanted.ahead)
    floor = _laid_out(wanted, wanted.book)
    judged = judging(floor, ahead=ahead)
    checked = check(floor, judged.findings, held=judged.held, whole_history=wanted.all)
    unread = bool(floor.book.unread)
    if not (wanted.quiet and not checked.rings and not unread):
        _notices(floor.book)
        _give(checked.sheet, wanted)
    if unread:
        return UNREAD
    return RINGS if checked.rings else QUIET


def _floor(wanted: Namespace) -> int:
    from hideledger.answers.floor import floor_look
    from hideledger.rules.judge import judging

    floor = _laid_out(wanted, wanted.book)
    _notices(floor.book)
    judged = judging(floor)
    _give(floor_look(floor, judged.findings, held=judged.held), wanted)
    return UNREAD if floor.book.unread else QUIET


def _history(wanted: Namespace) -> int:
    from hideledger.answers.history import NothingFound, history
    from hideledger.rules.judge import judge

    books = [word for word in wanted.about if _is_path(word)] + wanted.more_book
    about = [word for word in wanted.about if not _is_path(word)]
    if not about:
        raise WrongUse("history of what? give a tag or a customer's name; see hideledger history --help")
    floor = _laid_out(wanted, books)
    _notices(floor.book)
    try:
        sheet = history(floor, judge(floor), about)
    except NothingFound as nothing:
        complain(str(nothing))
        return UNREAD if floor.book.unread else NOT_FOUND
    _give(sheet, wanted)
    return UNREAD if floor.book.unread else QUIET


def _meaning(wanted: Namespace) -> int:
    from hideledger.answers.meaning import NoSuchFinding, meaning

    try:
        _give(meaning(" ".join(wanted.finding)), wanted)
    except NoSuchFinding as nothing:
        raise WrongUse(str(nothing)) from nothing
    return QUIET


def _start(wanted: Namespace) -> int:
    from datetime import date

    from hideledger.answers.starter import pages, started
    from hideledger.cli.moment import instant_of
    from hideledger.model.moments import Clock
    from hideledger.writing.new_files import NotWritten, write_new_pages

    if not wanted.folder.strip():
        raise WrongUse("start where? give the name of a new folder, as in: hideledger start book")
    clock = Clock(None)
    at = instant_of(wanted.at, clock)
    # a date alone means its end, which is still that day
    today = date.fromordinal(clock.day_of(at - 1 if wanted.at else at))
    try:
        written = write_new_pages(wanted.folder, pages(today))
    except NotWritten as trouble:
        raise WrongUse(str(trouble)) from trouble
    _give(started(wanted.folder, written), wanted)
    return QUIET


def _laid_out(wanted: Namespace, paths: Sequence[str]) -> Floor:
    """The shop as it stood at the moment asked for. Raises BookTrouble and Unclear."""
    from hideledger.cli.moment import instant_of
    from hideledger.reading import read_book
    from hideledger.shopfloor.layout import lay_out

    book = read_book(list(paths) or [os.environ.get("HIDELEDGER_BOOK") or "."])
    return lay_out(book, instant_of(wanted.at, book.clock))


def _is_path(word: str) -> bool:
    """Whether a word can only be a page or a folder: no tag and no customer has a slash or such an ending."""
    return word in (".", "..") or "/" in word or os.sep in word or word.casefold().endswith(".hides")


def _notices(book: Book) -> None:
    for sentence in book.notices:
        complain(sentence)


def _give(sheet: Sheet, wanted: Namespace) -> None:
    if wanted.json:
        from hideledger.render.json_text import json_text

        deliver_json(json_text(sheet))
    elif wanted.plain:
        from hideledger.render.plain import plain

        deliver(plain(sheet))
    elif is_terminal():
        deliver_to_terminal(sheet)
    else:
        from hideledger.render.card import card

        deliver(card(sheet))
