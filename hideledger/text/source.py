"""A page of the book as it lies on the disk."""

from __future__ import annotations

from bisect import bisect_right

from hideledger.text.place import Place
from hideledger.text.seen import Seen


class Source:
    """One file: its shown name, its text (newlines as `\\n`) and where each line starts.

    Lines are split at `\\n` only, so that numbers agree with every editor. `seen` is the state the file was in when it
    was read; None for a text that never lay on a disk.
    """

    __slots__ = ("_starts", "name", "path", "seen", "text")

    def __init__(self, *, name: str, text: str, path: str = "", seen: Seen | None = None) -> None:
        self.name = name
        self.path = path or name
        self.text = text
        self.seen = seen
        self._starts: list[int] | None = None

    @property
    def starts(self) -> list[int]:
        """Offset of the first character of each line."""
        if self._starts is None:
            starts, at = [0], self.text.find("\n")
            while at >= 0:
                starts.append(at + 1)
                at = self.text.find("\n", at + 1)
            self._starts = starts
        return self._starts

    def line(self, number: int) -> str:
        """Line `number` (from 1) without its newline."""
        starts = self.starts
        end = starts[number] - 1 if number < len(starts) else len(self.text)
        return self.text[starts[number - 1] : end].removesuffix("\r")

    def place(self, start: int, end: int | None = None) -> Place:
        """The place of the characters from offset `start` up to `end`."""
        line = bisect_right(self.starts, start)
        column = start - self.starts[line - 1] + 1
        width = 1 if end is None else max(1, end - start)
        return Place(file=self.name, line=line, column=column, width=width)
