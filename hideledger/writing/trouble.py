"""What keeps a file from being written, in plain words: each of these means that nothing was written."""

from __future__ import annotations

import errno

from hideledger.text.clean import clean


class NotWritten(Exception):
    """Nothing was written; the text is one sentence that says why."""


class ChangedMeanwhile(NotWritten):
    """The file is no longer as it was when it was read; whoever reads it again may try again."""


# What the system calls it, and what a person at the bench calls it.
_REASONS = {
    "ENOSPC": "the disk is full",
    "EDQUOT": "your share of this disk is used up",
    "EFBIG": "the file would grow larger than this system lets it",
    "EROFS": "this disk can be read but not written to",
    "EACCES": "no permission to write here",
    "EPERM": "no permission to write here",
    "EISDIR": "it is a folder, not a file",
    "ENOTDIR": "what stands before its name is a file, not a folder",
    "ENOENT": "the folder that it lies in is not there",
    "ELOOP": "its links lead round in a loop",
    "ENAMETOOLONG": "its name is too long",
    "EIO": "the disk did not take it (a fault in reading or writing)",
    "EBUSY": "another program keeps it in use",
    "ETXTBSY": "another program keeps it in use",
    "ESTALE": "the shared folder that it lies in is out of reach",
    "EHOSTDOWN": "the shared folder that it lies in is out of reach",
    "ENOTCONN": "the shared folder that it lies in is out of reach",
    "ETIMEDOUT": "the shared folder that it lies in does not answer",
    "ENODEV": "the disk that it lies on is gone",
    "ENXIO": "the disk that it lies on is gone",
    "EMFILE": "too many files are open at once",
    "ENFILE": "too many files are open at once",
    "EINVAL": "this disk does not take such a file",
}
_BY_NUMBER = {getattr(errno, name): reason for name, reason in _REASONS.items() if hasattr(errno, name)}


def reason_of(trouble: OSError | ValueError) -> str:
    """What went wrong in a few plain words, without the name of the file."""
    if isinstance(trouble, OSError):
        return _BY_NUMBER.get(trouble.errno or 0) or (trouble.strerror or "it cannot be written").casefold()
    return "no file can have such a name"


def not_written(path: str, reason: str) -> NotWritten:
    """The sentence about a file that stays as it was."""
    return NotWritten(f"{clean(path)}: {reason}; nothing was written")


def changed_meanwhile(path: str, how: str = "it was changed after it had been read") -> ChangedMeanwhile:
    """The sentence about a file that somebody else wrote to after it was read."""
    return ChangedMeanwhile(f"{clean(path)}: {how}; nothing was written")
