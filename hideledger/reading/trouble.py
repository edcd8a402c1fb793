"""A spot that cannot be read, on its way from where it is noticed to the list of complaints. It never leaves this room."""

from __future__ import annotations


class Unreadable(Exception):
    """`start` and `end` are offsets into the text that was handed in; `code` names the sort of mistake."""

    def __init__(self, code: str, message: str, start: int, end: int | None = None) -> None:
        super().__init__(message)
        self.code = code
        self.message = message
        self.start = start
        self.end = start + 1 if end is None else end

    def moved(self, by: int) -> Unreadable:
        """The same trouble, seen from a longer text in which this one begins at offset `by`."""
        return Unreadable(self.code, self.message, self.start + by, self.end + by)
