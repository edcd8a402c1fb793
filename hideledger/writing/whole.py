"""A block of bytes goes whole into an open file or not at all, also when the run is killed or the disk is full."""

from __future__ import annotations

import os
import sys
import warnings
from collections.abc import Iterator
from contextlib import contextmanager, suppress

from hideledger.text.clean import clean
from hideledger.writing.holding import all_of, settle
from hideledger.writing.trouble import NotWritten

if sys.platform != "win32":
    import signal

# The smallest page of memory of any machine; where they are larger they begin at multiples of it.
_MEMORY_PAGE = 4096  # bytes
_UNKNOWN = 255  # what a second process gives back where the system gave no number


def write_whole(path: str, page: int, block: bytes) -> None:
    """Adds a block to an open file and waits for the disk; what went only half into it is cut off again."""
    before = os.fstat(page).st_size
    try:
        with _undisturbed():
            number = _write_apart(page, block) if _crosses(before, len(block)) else _write(page, block)
        if number or os.fstat(page).st_size < before + len(block):
            raise OSError(number, os.strerror(number) if 0 < number < _UNKNOWN else "the disk took only a part of it")
        settle(page)
    except BaseException:
        _cut_back(path, page, before, block)
        raise


def _cut_back(path: str, page: int, before: int, block: bytes) -> None:
    """Takes a half-written block off again, unless somebody else's bytes already stand behind it."""
    added = all_of(page, before)
    if not added:
        return
    if block.startswith(added):
        with suppress(OSError):
            os.ftruncate(page, before)
            with suppress(OSError):
                settle(page)
            return
    raise NotWritten(
        f"{clean(path)}: the lines went into it only in part and could not be taken out again; look at its last lines"
    )


def _crosses(before: int, length: int) -> bool:
    """Whether a kill in the very moment could cut a block in two: the system copies it one page of memory at a time."""
    return before // _MEMORY_PAGE != (before + length - 1) // _MEMORY_PAGE


def _write_apart(page: int, block: bytes) -> int:
    """Writes the block in a process of its own and gives back 0, or the system's number for what went wrong.

    The second process is not killed with the first, keeps the file's lock until it is done, and only writes. Where a
    system has no such processes, or gives us none, we write ourselves.
    """
    writer = _second_process()
    if writer is None:
        return _write(page, block)
    if writer == 0:
        number = _UNKNOWN
        try:
            os.setsid()
            number = _write(page, block)
        finally:
            os._exit(number)
    try:
        code = os.waitstatus_to_exitcode(os.waitpid(writer, 0)[1])
    except ChildProcessError:
        return 0  # nobody is told of ended processes here; the file's length says how it went
    return code if code >= 0 else 0


def _second_process() -> int | None:
    if not hasattr(os, "fork"):
        return None
    with warnings.catch_warnings(), suppress(OSError):
        # Python warns of processes split off beside threads: ours takes no lock that a thread could hold.
        warnings.simplefilter("ignore", DeprecationWarning)
        return os.fork()
    return None


def _write(page: int, block: bytes) -> int:
    try:
        done = os.write(page, block)
        while done < len(block):  # the second try says why the first stopped
            done += os.write(page, block[done:])
    except OSError as trouble:
        return trouble.errno or _UNKNOWN
    return 0


@contextmanager
def _undisturbed() -> Iterator[None]:
    """Lets a stop by hand, or the end of a phone's connection, wait for the moment that the writing takes."""
    if sys.platform == "win32":
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, signal.valid_signals())
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)
