"""Puts a whole file in the place of another: at any moment one of the two stands there, never a part."""

from __future__ import annotations

import os
import threading

from hideledger.text.seen import Seen
from hideledger.writing.beside import OtherOwner, clear_left, settle_folder, take_away, write_beside
from hideledger.writing.holding import compare, held, refuse_loose_link
from hideledger.writing.trouble import ChangedMeanwhile, changed_meanwhile, not_written, reason_of

_TRIES = 20


def put_in_place(path: str, body: bytes, seen: Seen | None) -> None:
    """Replaces a whole file by `body`, as it is: byte order mark and newlines are the caller's.

    `seen` is the state it was read in; where it is None, whatever is there is replaced, or a new file made. A link stays
    a link, and what it leads to is replaced. Mode, owner and group stay. Raises ChangedMeanwhile where the file is not
    as it was seen, and NotWritten for all else: also where the file has a second name (a hard link), which would
    keep the old text, and where it belongs to somebody else and a new file could not.
    """
    try:
        for left in reversed(range(_TRIES)):
            try:
                _put(path, body, seen)
                return
            except ChangedMeanwhile:
                # Where nobody cares what stood there, another run that was quicker is no trouble.
                if seen is not None or not left:
                    raise
    except (OSError, ValueError) as trouble:
        raise not_written(path, reason_of(trouble)) from trouble


def _put(path: str, body: bytes, seen: Seen | None) -> None:
    target = os.path.realpath(path)
    refuse_loose_link(path)
    if not os.path.lexists(target):
        _make(path, target, body, seen)
    else:
        _replace(path, target, body, seen)


def _make(path: str, target: str, body: bytes, seen: Seen | None) -> None:
    if seen is not None:
        raise changed_meanwhile(path, "it is no longer there")
    beside = write_beside(target, body, None)
    _land(beside, target)


def _replace(path: str, target: str, body: bytes, seen: Seen | None) -> None:
    with held(path, seen=seen) as page:
        state = os.fstat(page)
        if state.st_nlink > 1:
            # A run that was killed while it made this very file may have left it a second name.
            clear_left(os.path.dirname(target), state.st_mtime_ns, same_as=state)
            state = os.fstat(page)
        if state.st_nlink > 1:
            raise not_written(
                path, "it has a second name on this disk (a hard link), and the old text would stay under that"
            )
        beside = _beside(path, target, body, state)
        try:
            # Here, not before: the writing above is what takes time.
            compare(path, page, seen)
        except BaseException:
            take_away(beside)
            raise
        if os.name != "nt":
            _land(beside, target)
            return
    # Windows replaces no file that is open, not even by ourselves.
    _land(beside, target)


def _beside(path: str, target: str, body: bytes, state: os.stat_result) -> str:
    try:
        return write_beside(target, body, state)
    except OtherOwner as trouble:
        raise not_written(
            path, "it belongs to another user or group of this machine, and a new file in its place would not"
        ) from trouble


def _land(beside: str, target: str) -> None:
    """Gives the finished file its name; under Windows a reader or a sync program may be in the way for a moment."""
    try:
        for left in reversed(range(_TRIES if os.name == "nt" else 1)):
            try:
                os.replace(beside, target)
                break
            except PermissionError:
                if not left:
                    raise
                threading.Event().wait(0.1)
    except BaseException:
        take_away(beside)
        raise
    settle_folder(os.path.dirname(target))
