"""A folder of files, each put in its place whole; what somebody else laid there is never written over."""

from __future__ import annotations

import os
from collections.abc import Sequence

from hideledger.text.clean import clean
from hideledger.writing.in_place import put_in_place
from hideledger.writing.trouble import NotWritten, not_written, reason_of


def put_folder(folder: str, files: Sequence[tuple[str, bytes]], marks: Sequence[bytes]) -> None:
    """Puts the files into the folder, which is made where it is missing. Raises NotWritten.

    The first file is the one by which a folder is known as ours: it begins with one of `marks`. Where anything lies there
    and that one does not, nothing is written.
    """
    if os.path.islink(folder) and not os.path.isdir(folder):
        raise NotWritten(f"{clean(folder)} is a link that leads to no folder; nothing was written")
    if os.path.lexists(folder) and not os.path.isdir(folder):
        raise NotWritten(f"{clean(folder)} is a file, not a folder; nothing was written")
    there = _lies_in(folder)
    if there and not _begins(os.path.join(folder, files[0][0]), marks):
        raise NotWritten(
            f"{clean(folder)} holds {clean(there)} already, and no export left it; name another folder, or take it away"
        )
    try:
        if not os.path.isdir(folder):
            os.mkdir(folder)  # never the folders before it: a slip of the hand would make a row of them
    except (OSError, ValueError) as trouble:
        raise not_written(folder, reason_of(trouble)) from trouble
    done: list[str] = []
    for name, body in files:
        try:
            put_in_place(os.path.join(folder, name), body, None)
        except NotWritten as trouble:
            raise NotWritten(f"{trouble}; done before it: {', '.join(done)}" if done else str(trouble)) from trouble
        done.append(name)


def _lies_in(folder: str) -> str:
    """The first thing in a folder, or nothing where it is empty or not there."""
    try:
        return min(os.listdir(folder), default="")
    except FileNotFoundError:
        return ""
    except OSError as trouble:
        raise not_written(folder, reason_of(trouble)) from trouble


def _begins(path: str, marks: Sequence[bytes]) -> bool:
    try:
        with open(path, "rb") as file:
            head = file.read(max(map(len, marks)))
    except OSError:
        return False
    return any(head.startswith(mark) for mark in marks)
