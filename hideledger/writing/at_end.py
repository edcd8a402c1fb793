"""Adds lines at the end of a page: whole or not at all, and only to the page that was read."""

from __future__ import annotations

import os
import re
from collections.abc import Sequence

from hideledger.text.clean import clean
from hideledger.text.files import BookTrouble, decode
from hideledger.text.newlines import BYTE_ORDER_MARK, newline_of
from hideledger.text.seen import Seen
from hideledger.writing.beside import settle_folder, take_away, write_beside
from hideledger.writing.holding import all_of, held, refuse_loose_link, stands
from hideledger.writing.trouble import NotWritten, changed_meanwhile, not_written, reason_of
from hideledger.writing.whole import write_whole

# What ends a line or a page for some reader, is no text at all, or cannot be seen: a tab may stand.
_NO_LINE = re.compile("[\x00-\x08\x0a-\x1f\x7f-\x9f\u2028\u2029\ufeff\ud800-\udfff]")


def add_at_end(path: str, lines: Sequence[str], seen: Seen | None) -> None:
    """Puts lines, given without newlines, at the end of a file, all of them or none.

    `seen` is the state the file was read in; where it is None the file must not be there yet and is made. The lines end
    as most lines of the file do, and a last line without its end is ended first. Without lines nothing is touched.
    Raises ChangedMeanwhile where the file is not as it was seen, and NotWritten for all else.
    """
    for line in lines:
        _refuse_no_line(path, line)
    if not lines:
        return
    try:
        if seen is None:
            _make(path, "".join(f"{line}\n" for line in lines).encode())
            return
        with held(path, seen=seen) as page:
            _append(path, page, lines)
    except (OSError, ValueError) as trouble:
        raise not_written(path, reason_of(trouble)) from trouble


def _refuse_no_line(path: str, line: str) -> None:
    wrong = _NO_LINE.search(line)
    if wrong:
        column = wrong.start() + 1
        shown = clean(wrong.group()) if wrong.group() != "\n" else "\\n"
        raise not_written(path, f"a line to be added holds {shown} at column {column}, which would break the page")


def _make(path: str, block: bytes) -> None:
    """Makes a page that was not there: it gets its name when it is whole, and never takes another's."""
    refuse_loose_link(path)
    if os.path.lexists(path):
        raise changed_meanwhile(path, "there is such a file by now")
    beside = write_beside(path, block, None)
    try:
        _name(beside, path, block)
    except FileExistsError:
        raise changed_meanwhile(path, "there is such a file by now") from None
    finally:
        take_away(beside)
    settle_folder(os.path.dirname(path))


def _name(beside: str, path: str, block: bytes) -> None:
    """Gives a finished file its name where nobody has it. Raises FileExistsError."""
    if os.name == "nt":
        os.rename(beside, path)  # which refuses there where the name is taken
        return
    try:
        os.link(beside, path)
    except FileExistsError:
        raise
    except OSError:
        # A disk without second names (a card from a camera or phone): written under its own name at once.
        page = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_APPEND, 0o666)
        try:
            write_whole(path, page, block)
        except BaseException:
            take_away(path)
            raise
        finally:
            os.close(page)


def _append(path: str, page: int, lines: Sequence[str]) -> None:
    body = all_of(page)
    try:
        decode(body, path)
    except BookTrouble as trouble:
        raise NotWritten(f"{trouble.message}; nothing was written") from trouble
    block = block_for(body, lines)
    write_whole(path, page, block)
    if not stands(path, page) and block not in _there(path):
        # Somebody saved by renaming in that very moment: the lines went into the file that was put away.
        raise changed_meanwhile(path, "another program replaced it while the lines were being added")


def block_for(body: bytes, lines: Sequence[str]) -> bytes:
    """What has to follow the bytes of a page so that these lines stand at its end."""
    newline = newline_of(body)
    block = b"".join(line.encode() + newline for line in lines)
    text = body.removeprefix(BYTE_ORDER_MARK)
    if text and not text.endswith((b"\n", b"\r")):
        return newline + block
    if text.endswith(b"\r") and block.startswith(b"\n"):
        return b"\n" + block  # else that return and this line feed would be one newline, and an empty line lost
    return block


def _there(path: str) -> bytes:
    with open(path, "rb") as page:
        return page.read()
