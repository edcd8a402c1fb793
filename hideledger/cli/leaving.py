"""What `check` leaves on the disk for a machine that nobody watches: a page to open, and what was told last time."""

from __future__ import annotations

import os
from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from hideledger.cli.arguments import WrongUse
from hideledger.cli.giving import books_of, paths_of
from hideledger.cli.streams import complain
from hideledger.text.files import ENDING, BookTrouble, find_pages, read_raw

if TYPE_CHECKING:
    from hideledger.answers.check.answer import Checked
    from hideledger.answers.check.told_before import Told
    from hideledger.answers.sheet import Sheet
    from hideledger.text.seen import Seen

_HTML, _TEXT = (".html", ".htm"), (".txt",)


def refuse_to_leave(wanted: Namespace) -> None:
    """Sees before anything is done that none of the files is a page of the book, nor somebody's own. Raises WrongUse and BookTrouble."""
    named = [("--page", path) for path in wanted.page]
    if wanted.already_told is not None:
        named.append(("--already-told", wanted.already_told))
    if not named:
        return
    pages, _ = find_pages(paths_of(books_of(wanted)))
    for option, path in named:
        _refuse(option, path, pages)
    for path in wanted.page:
        _refuse_page(path)
    if wanted.already_told is not None:
        told = os.path.realpath(wanted.already_told)
        if any(os.path.realpath(path) == told for path in wanted.page):
            raise WrongUse("--page and --already-told cannot be the same file")


def _refuse(option: str, path: str, pages: list[Path]) -> None:
    if not path.strip():
        raise WrongUse(f"{option} takes the name of a file")
    for name in (path, os.path.realpath(path)):
        if name.casefold().endswith(ENDING):
            raise WrongUse(
                f"{option} {path}: a file that ends in {ENDING} is a page of a book, and is never written over"
            )
    if os.path.isdir(path) or path.endswith(("/", os.sep)):
        raise WrongUse(f"{option} {path}: that is a folder; give the name of a file in it")
    if os.path.exists(path) and any(os.path.samefile(path, page) for page in pages):
        raise WrongUse(f"{option} {path}: that is a page of this book, and is never written over")
    if os.path.exists(path) and not os.path.isfile(path):
        raise WrongUse(f"{option} {path}: that is no file that can be replaced")


def _refuse_page(path: str) -> None:
    from hideledger.render.page import MARK

    if not path.casefold().endswith(_HTML + _TEXT):
        raise WrongUse(f"--page {path}: does the page end in .html (or .htm), or as plain text in .txt?")
    there = _bytes_of("--page", path)
    if there is not None and there[0] and MARK.encode() not in there[0]:
        raise WrongUse(
            f"--page {path}: there is such a file already, and no check left it; name another, or take it away"
        )


def _bytes_of(option: str, path: str) -> tuple[bytes, Seen] | None:
    """What stands there now; nothing where no file is. Raises WrongUse."""
    if not os.path.exists(path):
        return None
    try:
        return read_raw(Path(path), path)
    except BookTrouble as trouble:
        raise WrongUse(f"{option} {trouble.message}") from None


def told_last(path: str | None) -> tuple[Told | None, Seen | None]:
    """What the last run told, and the file as it was read; where no file is yet, nothing was. Raises WrongUse."""
    if path is None:
        return None, None
    from hideledger.answers.check.told_before import NoSuchRecord, Told, told_before

    there = _bytes_of("--already-told", path)
    if there is None:
        return Told(findings=(), unread=()), None
    try:
        return told_before(there[0]), there[1]
    except NoSuchRecord as trouble:
        raise WrongUse(f"--already-told {path}: {trouble}; name another file, or take it away") from None


def leave_page(path: str, checked: Checked) -> bool:
    """Puts the whole sheet there as a page; whether that went well. Where not, one sentence says why."""
    from hideledger.render.page import page, text_page

    laid_out = page if path.casefold().endswith(_HTML) else text_page
    return _put(path, laid_out(checked.whole, checked.looked), None)


def leave_told(path: str, sheet: Sheet, seen: Seen | None) -> bool:
    """Puts there what `check --json` prints of all findings, for the next run; whether that went well."""
    from hideledger.render.json_text import json_text

    return _put(path, json_text(sheet), seen)


def _put(path: str, text: str, seen: Seen | None) -> bool:
    from hideledger.writing.in_place import put_in_place
    from hideledger.writing.trouble import NotWritten

    try:
        put_in_place(path, text.encode("utf-8", "backslashreplace"), seen)
    except NotWritten as trouble:
        complain(str(trouble))
        return False
    return True
