"""Finds the files of a book and decodes them; the only place that does."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

from hideledger.text.clean import clean
from hideledger.text.copies import copy_left, is_an_editors, misnamed_left
from hideledger.text.left import Left
from hideledger.text.newlines import BYTE_ORDER_MARK
from hideledger.text.place import Place
from hideledger.text.seen import Seen, seen_of
from hideledger.text.source import Source

ENDING = ".hides"
MOST_BYTES = 64 * 1024 * 1024
_MOST_FOLDERS = 10_000


class BookTrouble(Exception):
    """A book that cannot be read at all. `exit_code` is 2 for a wrong path, 3 for a book that is there and cannot be read."""

    def __init__(self, message: str, exit_code: int = 3, *, place: Place | None = None, said: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.exit_code = exit_code
        self.place = place  # where in a page, when the other pages can be read without it
        self.said = said or message


def find_pages(paths: Sequence[str]) -> tuple[list[Path], list[Left]]:
    """The files of the book, by path, and what was left alone. Raises BookTrouble."""
    found: dict[str, Path] = {}
    left: list[Left] = []
    for given in paths:
        path = Path(given)
        try:
            if path.is_dir():
                pages = list(_below(path, left))
                if not pages:
                    raise _no_page(given, left)
            elif path.exists():
                if not path.is_file():
                    raise BookTrouble(f"{clean(given)}: no file and no folder, cannot be read", 2)
                pages = [path]
            else:
                raise BookTrouble(f"{clean(given)}: there is no such file or folder", 2)
        except OSError as trouble:
            raise BookTrouble(f"{clean(given)}: {_reason(trouble)}", 2) from None
        for page in pages:
            found.setdefault(os.path.realpath(page), page)
    return sorted(found.values(), key=str), left


def _no_page(given: str, left: Sequence[Left]) -> BookTrouble:
    lost = [one for one in left if one.lost]
    if lost:
        return BookTrouble("; ".join(map(str, lost)))
    none = f"no page of a book here (a file that ends in {ENDING}); `hideledger start FOLDER` makes a book"
    return BookTrouble(f"{clean(given)}: {none}", 2)


def _below(folder: Path, left: list[Left]) -> list[Path]:
    """Every page under a folder; a folder met twice (a loop of links) is entered once."""
    pages: list[Path] = []
    seen: set[tuple[int, int]] = set()
    waiting = [folder]
    while waiting:
        here = waiting.pop()
        try:
            mark = here.stat()
            if (mark.st_dev, mark.st_ino) in seen:
                continue
            seen.add((mark.st_dev, mark.st_ino))
            if len(seen) > _MOST_FOLDERS:
                raise BookTrouble(
                    f"{clean(str(folder))}: more than {_MOST_FOLDERS} folders; name the book's own folder", 2
                )
            children = sorted(here.iterdir())
            names = {child.name for child in children}
        except OSError as trouble:
            if here == folder:
                raise BookTrouble(f"{clean(str(here))}: {_reason(trouble)}") from None
            left.append(Left(path=str(here), said=f"{_reason(trouble)}; left alone"))
            continue
        for child in children:
            name = child.name
            if child.is_dir():
                if not name.startswith("."):
                    waiting.append(child)
            elif is_an_editors(name):
                continue
            elif aside := copy_left(child, names, ENDING) or misnamed_left(child, ENDING):
                left.append(aside)
            elif name.endswith(ENDING):
                if name.startswith("."):
                    left.append(Left(path=str(child), said="a hidden file; not read"))
                elif child.is_file():
                    pages.append(child)
                else:
                    left.append(Left(path=str(child), said=_no_file(child), lost=True))
    return pages


def _no_file(path: Path) -> str:
    """Why a thing with the name of a page is no file: a stick that was pulled out, a folder that is not there today."""
    if path.is_symlink():
        return f"leads to {clean(os.readlink(path))}, which is not there or no file; nothing of this page could be read"
    return "no file; nothing of this page could be read"


def read_page(path: Path, shown: str | None = None) -> Source:
    """One file, decoded; `shown` is the name reports give it. Raises BookTrouble with one sentence."""
    name = shown if shown is not None else str(path)
    raw, seen = read_raw(path, name)
    return Source(name=name, text=decode(raw, clean(name)), path=str(path), seen=seen)


def read_raw(path: Path, name: str) -> tuple[bytes, Seen]:
    """The bytes of one file and the state it was in then. Raises BookTrouble with one sentence."""
    said = clean(name)
    try:
        with path.open("rb") as page:
            state = os.fstat(page.fileno())
            if state.st_size > MOST_BYTES:
                reason = f"{state.st_size // 1_000_000} MB is no page of a book; pages are read up to {MOST_BYTES // 1_048_576} MB"
                raise BookTrouble(f"{said}: {reason}", place=Place(file=name, line=1), said=reason)
            # The state before the reading: what somebody adds while we read then counts as a change.
            return page.read(), seen_of(state)
    except OSError as trouble:
        raise BookTrouble(
            f"{said}: {_reason(trouble)}", place=Place(file=name, line=1), said=_reason(trouble)
        ) from None


def decode(raw: bytes, said: str, *, sent: bool = False) -> str:
    """UTF-8 text without its byte order mark, every newline as `\\n`. Raises BookTrouble naming line and column."""
    saved, save_it = ("this is sent", "send it") if sent else ("this page is saved", "save it")
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff") or raw[1:4:2] == b"\0\0" or raw[0:4:2] == b"\0\0":
        reason = f"{'this' if sent else 'this page'} is written as UTF-16; {save_it} as UTF-8"
        raise BookTrouble(f"{said}:1:1: {reason}", place=Place(file=said, line=1), said=reason)
    body = raw.removeprefix(BYTE_ORDER_MARK)
    try:
        text = body.decode("utf-8")
    except UnicodeDecodeError as trouble:
        line = body.count(b"\n", 0, trouble.start) + 1
        line_start = body.rfind(b"\n", 0, trouble.start) + 1
        column = len(body[line_start : trouble.start].decode("utf-8", "replace")) + 1
        reason = f"{saved} in another encoding (ANSI, Windows): byte {body[trouble.start]:#04x} is no UTF-8, first on line {line}; {save_it} again as UTF-8"
        place = Place(file=said, line=line, column=column)
        raise BookTrouble(f"{place}: {reason}", place=place, said=reason) from None
    if "\r" in text:
        text = text.replace("\r\n", "\n").replace("\r", "\n")
    return text


def _reason(trouble: OSError) -> str:
    known = {
        2: "there is no such file or folder",
        13: "no permission to read it",
        21: "is a folder",
        40: "a loop of links",
        36: "its name is too long",
    }
    return known.get(trouble.errno or 0, (trouble.strerror or "cannot be read").casefold())
