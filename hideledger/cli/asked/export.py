"""`export`: the whole book for other programs, as JSON Lines, as a folder of CSV files, or as one SQLite file."""

from __future__ import annotations

import os
from argparse import Namespace
from typing import TYPE_CHECKING

from hideledger.cli.arguments import Parser, WrongUse, add_book, add_forms, add_moment
from hideledger.cli.giving import QUIET, UNREAD, WRONG, books_of, give, laid_out, notices, paths_of
from hideledger.cli.streams import complain, deliver_utf8

if TYPE_CHECKING:
    from collections.abc import Sequence

    from hideledger.model.table import Table

# How book.csv begins, with a byte order mark or without: by it a folder that an export left is known again.
_MARKS = (b"schema,program,", b"\xef\xbb\xbfschema,program,")


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    add_moment(parser)
    add_forms(parser)
    to = parser.add_mutually_exclusive_group()
    to.add_argument(
        "--csv", metavar="FOLDER", help="a folder of CSV files, one a table; made, or replaced where an export left it"
    )
    to.add_argument("--sqlite", metavar="FILE", help="one SQLite file; made, or replaced where an export left it")
    to.add_argument(
        "--schema",
        action="store_true",
        help="every table and column, and what it holds (--json and --plain are forms of this)",
    )
    parser.add_argument(
        "--raw",
        action="store_true",
        help="with --csv: no byte order mark, and no apostrophe before a text that begins like a formula",
    )
    add_book(parser)


def answer(wanted: Namespace) -> int:
    """Written and said so in a line, not written, or part of the book could not be read. JSON Lines are all that is printed of them."""
    _refuse(wanted)
    if wanted.schema:
        from hideledger.answers.export.answer import schema_sheet

        give(schema_sheet(), wanted)
        return QUIET
    target = wanted.csv if wanted.csv is not None else wanted.sqlite
    if target is not None:
        _refuse_target("--csv" if wanted.csv is not None else "--sqlite", target, paths_of(books_of(wanted)))
    from hideledger.answers.export.answer import export_tables
    from hideledger.rules.judge import judge

    floor = laid_out(wanted, books_of(wanted))
    notices(floor.book)
    tables = export_tables(floor, judge(floor))
    if target is None:
        from hideledger.render.json_lines import json_lines

        deliver_utf8("".join(json_lines((table.name, table.records()) for table in tables)))
    elif not _put(wanted, tables):
        return WRONG
    else:
        from hideledger.answers.export.answer import written_sheet

        give(written_sheet(target, tables, floor, files=wanted.csv is not None), wanted)
    return UNREAD if floor.book.unread else QUIET


def _refuse(wanted: Namespace) -> None:
    if (wanted.json or wanted.plain) and not wanted.schema:
        raise WrongUse("export gives JSON Lines by itself; --json and --plain go with --schema")
    if wanted.raw and wanted.csv is None:
        raise WrongUse("--raw goes with --csv FOLDER")


def _refuse_target(option: str, path: str, book: Sequence[str]) -> None:
    """Nothing of a book is ever written over: no page, whatever it is called, and nothing that would be read as one."""
    from hideledger.text.files import ENDING, find_pages

    if not path.strip():
        raise WrongUse(f"{option} takes the name of a {'folder' if option == '--csv' else 'file'}")
    for name in (path, os.path.realpath(path)):
        if name.casefold().rstrip("/" + os.sep).endswith(ENDING):
            raise WrongUse(f"{option} {path}: what ends in {ENDING} is a page of a book, and is never written over")
    if option == "--sqlite":
        if os.path.isdir(path) or path.endswith(("/", os.sep)):
            raise WrongUse(f"{option} {path}: that is a folder; give the name of a file in it")
        pages, _ = find_pages(book)
        if os.path.exists(path) and any(os.path.samefile(path, page) for page in pages):
            raise WrongUse(f"{option} {path}: that is a page of this book, and is never written over")


def _put(wanted: Namespace, tables: Sequence[Table]) -> bool:
    """Writes the files; whether that went well. Where not, one sentence says why."""
    from hideledger.answers.export.columns import SCHEMA
    from hideledger.writing.database import put_database
    from hideledger.writing.folder import put_folder
    from hideledger.writing.trouble import NotWritten

    try:
        if wanted.sqlite is not None:
            put_database(wanted.sqlite, tables, SCHEMA)
        else:
            put_folder(wanted.csv, _files(tables, raw=wanted.raw), _MARKS)
    except NotWritten as trouble:
        complain(str(trouble))
        return False
    return True


def _files(tables: Sequence[Table], *, raw: bool) -> list[tuple[str, bytes]]:
    from hideledger.render.csv_text import BYTE_ORDER_MARK, csv_text

    mark = "" if raw else BYTE_ORDER_MARK
    return [
        (
            f"{table.name}.csv",
            (mark + csv_text(table.header, table.flat(), codes=table.codes, raw=raw)).encode(
                "utf-8", "backslashreplace"
            ),
        )
        for table in tables
    ]
