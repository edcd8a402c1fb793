"""`custody`: the register of skins, a list to count against, the boxes, what is held of other people's, and the year."""

from __future__ import annotations

import os
from argparse import Namespace
from typing import TYPE_CHECKING

from hideledger.cli.arguments import Parser, WrongUse, add_looks, add_named_book
from hideledger.cli.giving import NOT_FOUND, QUIET, UNREAD, give, is_path, laid_out, notices
from hideledger.cli.streams import complain, deliver_utf8

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from hideledger.answers.custody.record import Recorded
    from hideledger.answers.sheet import Sheet
    from hideledger.model.table import Table
    from hideledger.shopfloor.floor import Floor

_FIRST_YEAR, _LAST_YEAR = 1900, 2998


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    add_looks(parser)
    which = parser.add_mutually_exclusive_group()
    which.add_argument("--open-first", action="store_true", help="those still here before those that are gone")
    which.add_argument(
        "--by-place",
        action="store_true",
        help="a list to count against, place by place; numbers that are not here are explained",
    )
    which.add_argument(
        "--boxes", action="store_true", help="what came in boxes, what was opened, whose tags, what is missing"
    )
    which.add_argument(
        "--held",
        action="store_true",
        help="other people's skins that are here, with the stated value, for an insurer; with --at on another day",
    )
    which.add_argument(
        "--year",
        metavar="YEAR",
        type=str,
        help="the year: skins in and out, baths let go, money, the shelf on its last day",
    )
    parser.add_argument("--csv", action="store_true", help="as CSV that a spreadsheet opens unharmed; not with --year")
    parser.add_argument(
        "--raw",
        action="store_true",
        help="with --csv, for a program: no byte order mark, and no apostrophe before a text that begins like a formula",
    )
    parser.add_argument(
        "about",
        nargs="*",
        metavar="TAG",
        help="only these: tags, a legal tag, seal or tag of another shop, all words of a name, or a kind; a page or a folder "
        "is the book",
    )
    add_named_book(parser)


def answer(wanted: Namespace) -> int:
    """Found, not found, or part of the book could not be read."""
    books = [word for word in wanted.about if _is_book(word, wanted)] + wanted.named_book
    about = [word for word in wanted.about if not _is_book(word, wanted)]
    _refuse(wanted, about)
    if wanted.year is not None:
        return _year(wanted, books)
    from hideledger.answers.custody.asked import NoSuchRecord, asked_for
    from hideledger.answers.custody.record import recorded
    from hideledger.shopfloor.custody import custody_of

    floor = laid_out(wanted, books)
    notices(floor.book)
    made = recorded(floor, custody_of(floor))
    try:
        shown = asked_for(made, about, floor.book.shop.kinds_by_name()) if about else None
    except NoSuchRecord as nothing:
        complain(str(nothing))
        return UNREAD if floor.book.unread else NOT_FOUND
    chosen = made if shown is None else tuple(one for one in made if one.tag in shown)
    sheet, table = _asked(wanted, floor, made, chosen)
    if wanted.csv:
        from hideledger.render.csv_text import BYTE_ORDER_MARK, csv_text

        rows = table()
        text = csv_text(rows.header, rows.flat(), codes=rows.codes, raw=wanted.raw)
        deliver_utf8(text if wanted.raw else BYTE_ORDER_MARK + text)
    else:
        give(sheet(), wanted)
    return UNREAD if floor.book.unread else QUIET


def _is_book(word: str, wanted: Namespace) -> bool:
    """A word that can only be a path, or a folder that is there; where --book says which book it is, a bare word is a name."""
    return is_path(word) or (not wanted.named_book and os.path.isdir(word))


def _refuse(wanted: Namespace, about: Sequence[str]) -> None:
    if wanted.csv and (wanted.json or wanted.plain):
        raise WrongUse("--csv, --json and --plain are three forms of the answer; which of them?")
    if wanted.raw and not wanted.csv:
        raise WrongUse("--raw goes with --csv")
    if wanted.year is not None and wanted.csv:
        raise WrongUse("--year is several tables, and CSV is one; hideledger export --csv FOLDER has every table")
    if wanted.year is not None and about:
        raise WrongUse(
            f"--year tells of the whole shop, and not of {' '.join(about)}; a page or a folder has a slash or .hides"
        )


def _asked(
    wanted: Namespace, floor: Floor, made: Sequence[Recorded], chosen: Sequence[Recorded]
) -> tuple[Callable[[], Sheet], Callable[[], Table]]:
    """What makes the sheet, and what makes the table."""
    if wanted.by_place:
        from hideledger.answers.custody.places import by_place, place_table

        return lambda: by_place(floor, chosen, whole=len(chosen) == len(made)), lambda: place_table(floor, chosen)
    if wanted.boxes:
        from hideledger.answers.custody.boxes import box_table, boxes

        return lambda: boxes(floor, chosen), lambda: box_table(chosen)
    if wanted.held:
        from hideledger.answers.custody.held import held, held_table

        return lambda: held(floor, chosen), lambda: held_table(chosen)
    from hideledger.answers.custody.register import register
    from hideledger.answers.custody.table import register_table

    tags = frozenset(one.tag for one in chosen)
    whole = register_table(chosen if not wanted.open_first else sorted(chosen, key=lambda one: not one.custody.here))
    return lambda: register(floor, made, shown=tags, open_first=wanted.open_first), lambda: whole


def _year(wanted: Namespace, books: Sequence[str]) -> int:
    from hideledger.answers.custody.year import NotBegun, year_sheet
    from hideledger.cli.giving import paths_of
    from hideledger.cli.moment import instant_in
    from hideledger.reading import read_book

    year = wanted.year.strip()
    if not (year.isascii() and year.isdigit() and _FIRST_YEAR <= int(year) <= _LAST_YEAR):
        raise WrongUse(f"--year {wanted.year}: a year has four figures, as in --year 2026")
    book = read_book(paths_of(books))
    notices(book)
    try:
        sheet = year_sheet(book, int(year), instant_in(book, wanted.at))
    except NotBegun as trouble:
        raise WrongUse(str(trouble)) from None
    give(sheet, wanted)
    return UNREAD if book.unread else QUIET
