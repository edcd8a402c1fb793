"""What lies in the folder of a book and is not read."""

from __future__ import annotations

from dataclasses import dataclass

from hideledger.text.clean import clean


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """A file or folder left alone: its path, and what is said of it.

    `lost`: it holds lines of the book that are read nowhere else, or may. `copy_of`: path of the page it is a copy of, or
    empty.
    """

    path: str
    said: str
    lost: bool = False
    copy_of: str = ""

    def __str__(self) -> str:
        return f"{clean(self.path)}: {self.said}"
