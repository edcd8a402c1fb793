"""Holds a file while it is written to: our own hands wait for each other, and see at once that somebody else was here.

An editor, a phone or a sync program takes no lock, so the lock only keeps two of our own runs apart. What protects
everybody else's lines is the comparing with the state that was read.
"""

from __future__ import annotations

import errno
import os
import stat
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager

from hideledger.text.clean import clean
from hideledger.text.seen import Seen, seen_of
from hideledger.writing.trouble import changed_meanwhile, not_written

if sys.platform != "win32":
    import fcntl

LONGEST_WAIT = 10.0  # seconds; one of our own writes takes some hundredths of one
BINARY = getattr(os, "O_BINARY", 0)  # Windows would else write its own newlines
_NO_WAITING = getattr(os, "O_NONBLOCK", 0)
_HELD = {errno.EWOULDBLOCK, errno.EAGAIN, errno.EACCES}


@contextmanager
def held(path: str, *, seen: Seen | None) -> Iterator[int]:
    """A file that is there, opened for reading and for adding at its end, and locked where the system has locks.

    Raises ChangedMeanwhile where it is not the file of `seen` (any will do where that is None), NotWritten where it is
    no ordinary file or another program keeps its lock, and OSError.
    """
    _ordinary(path, seen)
    try:
        page = os.open(path, os.O_RDWR | os.O_APPEND | BINARY | _NO_WAITING)
    except FileNotFoundError:
        raise changed_meanwhile(path, "it is no longer there") from None
    try:
        compare(path, page, seen)  # no waiting for a lock where it is too late already
        _lock(path, page)
        compare(path, page, seen)
        yield page
    finally:
        os.close(page)


def compare(path: str, page: int, seen: Seen | None) -> None:
    """Raises ChangedMeanwhile where an open file is not as it was seen, or no longer stands under its name."""
    if not stands(path, page) or (seen is not None and seen_of(os.fstat(page)) != seen):
        raise changed_meanwhile(path)


def stands(path: str, page: int) -> bool:
    """Whether the name still leads to the file that is open. On Windows an open file cannot lose its name."""
    if os.name == "nt":
        return True
    try:
        there = os.stat(path)
    except FileNotFoundError:
        raise changed_meanwhile(path, "it is no longer there") from None
    return os.path.samestat(there, os.fstat(page))


def all_of(page: int, start: int = 0) -> bytes:
    """The bytes of an open file, from offset `start` to its end."""
    os.lseek(page, start, os.SEEK_SET)
    return b"".join(iter(lambda: os.read(page, 1 << 20), b""))


def refuse_loose_link(path: str) -> None:
    """Raises NotWritten where a link leads nowhere: a card or disk may be missing, and a new file there would hide it.

    Raises OSError where links lead round in a loop.
    """
    if os.path.islink(path):
        try:
            os.stat(path)
        except FileNotFoundError:
            raise not_written(path, f"it is a link to {clean(os.readlink(path))}, where nothing is") from None


def settle(page: int) -> None:
    """Waits until the disk has it. What cannot be waited for on this system (some shared folders) is no trouble."""
    try:
        os.fsync(page)
    except OSError as trouble:
        if trouble.errno not in {errno.EINVAL, errno.ENOSYS, errno.ENOTSUP}:
            raise


def _ordinary(path: str, seen: Seen | None) -> None:
    """Raises NotWritten before a pipe or device is opened: that could wait for ever, or set something going."""
    try:
        mode = os.stat(path).st_mode
    except FileNotFoundError:
        if seen is None or not os.path.lexists(path):
            raise changed_meanwhile(path, "it is no longer there") from None
        refuse_loose_link(path)
        raise
    if stat.S_ISDIR(mode):
        raise not_written(path, "it is a folder, not a file")
    if not stat.S_ISREG(mode):
        raise not_written(path, "it is no ordinary file")


def _lock(path: str, page: int) -> None:
    """Takes the file's advisory lock, which the system gives back when the file is closed, even by a kill."""
    if sys.platform == "win32":
        return
    wait, waited = 0.0005, 0.0
    while True:
        try:
            fcntl.flock(page, fcntl.LOCK_EX | fcntl.LOCK_NB)
            return
        except OSError as trouble:
            if trouble.errno not in _HELD:
                return  # a disk without locks
        if waited >= LONGEST_WAIT:
            raise not_written(path, "another program has kept it locked for ten seconds")
        threading.Event().wait(wait)
        waited += wait
        wait = min(wait * 1.5, 0.01)
