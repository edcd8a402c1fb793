"""A starter book goes only where no book is yet: nothing that a person wrote is ever written over."""

from __future__ import annotations

import os
from collections.abc import Sequence

from hideledger.text.clean import clean
from hideledger.writing.trouble import NotWritten, not_written, reason_of


def write_new_pages(folder: str, pages: Sequence[tuple[str, str]]) -> list[str]:
    """Writes new files (name, text) into a folder, which is made where it is missing, and gives back their paths.

    UTF-8, lines ended by a line feed. Raises NotWritten where the folder holds pages of a book already, cannot be
    made, or a file of that name exists; whatever was begun is then taken back.
    """
    made_folder = _ready(folder)
    written: list[str] = []
    try:
        for name, text in pages:
            path = os.path.join(folder, name)
            # "x": the system itself refuses where a file of that name is there.
            with open(path, "x", encoding="utf-8", newline="\n") as page:
                written.append(path)
                page.write(text)
                page.flush()
                os.fsync(page.fileno())
    except OSError as trouble:
        _take_back(written, folder if made_folder else "")
        raise not_written(trouble.filename or folder, reason_of(trouble)) from trouble
    return written


def _ready(folder: str) -> bool:
    """Makes sure that the folder is there and holds no book; True when it had to be made."""
    if os.path.isdir(folder):
        there = _pages_in(folder)
        if there:
            raise NotWritten(f"{folder} holds a book already ({there}); nothing was written")
        return False
    if os.path.lexists(folder):
        raise NotWritten(f"{folder} is a file, not a folder; nothing was written")
    try:
        os.mkdir(folder)
    except FileNotFoundError:
        raise NotWritten(f"there is no folder {os.path.dirname(folder) or '.'} to make {folder} in") from None
    except (OSError, ValueError) as trouble:
        raise NotWritten(f"{clean(folder)} cannot be made: {reason_of(trouble)}") from trouble
    return True


def _pages_in(folder: str) -> str:
    """The first page of a book in the folder or below, or nothing: a book is every page under its folder."""
    for here, below, names in os.walk(folder):
        below.sort()
        for name in sorted(names):
            if name.casefold().endswith(".hides"):
                return os.path.relpath(os.path.join(here, name), folder)
    return ""


def _take_back(written: Sequence[str], folder: str) -> None:
    for path in written:
        try:
            os.unlink(path)
        except OSError:
            return
    if folder:
        try:
            os.rmdir(folder)
        except OSError:
            return
