"""A new file is first written whole beside the place it is for, under a name that is never read as a page."""

from __future__ import annotations

import os
import re
import stat
from contextlib import suppress

from hideledger.writing.holding import BINARY, settle

# Hidden, and no page by its ending; nothing of the page's own name, which may be as long as the disk allows.
_OURS = re.compile(r"^\.hideledger-[0-9a-f]{16}\.tmp$")
# A file is beside its place for less than a second; by the disk's own clock, an hour is a run that was killed.
LEFT_FOR_DEAD = 3600 * 1_000_000_000  # ns


class OtherOwner(OSError):
    """A new file cannot be given to the owner and group of the old one."""


def write_beside(target: str, body: bytes, like: os.stat_result | None) -> str:
    """Writes a file beside `target`, with mode, owner and marks of `like`, waits for the disk, and gives back its path.

    Where `like` is None its mode is that of any new file. Raises OtherOwner, OSError; then nothing is left lying.
    """
    beside = os.path.join(os.path.dirname(target), f".hideledger-{os.urandom(8).hex()}.tmp")
    page = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL | BINARY, 0o666 if like is None else 0o600)
    try:
        with os.fdopen(page, "wb") as file:
            file.write(body)
            file.flush()
            if like is not None:
                _make_alike(target, beside, file.fileno(), like)
            settle(file.fileno())
            clear_left(os.path.dirname(target), os.fstat(file.fileno()).st_mtime_ns)
    except BaseException:
        take_away(beside)
        raise
    return beside


def _make_alike(target: str, beside: str, page: int, like: os.stat_result) -> None:
    """Gives the new file owner, mode and extended marks (lists of who may do what) of the old one."""
    mine = os.fstat(page)
    if hasattr(os, "fchown") and (mine.st_uid, mine.st_gid) != (like.st_uid, like.st_gid):
        try:
            os.fchown(page, like.st_uid, like.st_gid)
        except OSError as trouble:
            raise OtherOwner(trouble.errno, trouble.strerror) from trouble
    if hasattr(os, "listxattr"):
        with suppress(OSError):
            for mark in os.listxattr(target):
                with suppress(OSError):
                    os.setxattr(page, mark, os.getxattr(target, mark))
    # After the owner, since a change of owner takes bits away. The file is ours now: only a disk that has no modes refuses.
    with suppress(PermissionError):
        os.chmod(beside, stat.S_IMODE(like.st_mode))


def clear_left(folder: str, now_ns: int, *, same_as: os.stat_result | None = None) -> None:
    """Throws away what killed runs of ours left in a folder: what is an hour old, and second names of `same_as`."""
    names: list[str] = []
    with suppress(OSError):  # a folder may take files and yet not show them
        names = os.listdir(folder or ".")
    for name in filter(_OURS.search, names):
        path = os.path.join(folder, name)
        with suppress(OSError):
            state = os.lstat(path)
            old = state.st_mtime_ns < now_ns - LEFT_FOR_DEAD
            if stat.S_ISREG(state.st_mode) and (old or (same_as is not None and os.path.samestat(state, same_as))):
                os.unlink(path)


def take_away(path: str) -> None:
    """Removes a file of ours; where even that fails it stays hidden and is thrown away by a later run."""
    with suppress(OSError):
        os.unlink(path)


def settle_folder(folder: str) -> None:
    """Waits until the disk has the folder's list of names; where a system cannot, the new name stands all the same."""
    if os.name == "nt":
        return
    with suppress(OSError):
        here = os.open(folder or ".", os.O_RDONLY)
        try:
            settle(here)
        finally:
            os.close(here)
