"""What tells one state of a file from the next: whoever writes to it later can see whether somebody else did meanwhile."""

from __future__ import annotations

import os
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """A file as it was when it was read: device, inode, size in bytes, time of its last change in ns since 1970.

    An editor that saves by renaming gives the file a new inode, even with the same size and time.
    """

    device: int
    inode: int
    size: int
    changed_ns: int


def seen_of(state: os.stat_result) -> Seen:
    """The same from what the system says of an open file or a path."""
    return Seen(device=state.st_dev, inode=state.st_ino, size=state.st_size, changed_ns=state.st_mtime_ns)
