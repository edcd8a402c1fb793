"""A spot that cannot be read, on its way from where it is noticed to the list of complaints. It never leaves this room."""

from __future__ import annotations

from hideledger.text.clean import invisible_mark


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


def unseen(text: str, start: int, end: int) -> Unreadable | None:
    """The trouble with the first sign in a stretch of text that nobody can see, which a web page or a phone leaves behind."""
    for at in range(start, min(end, len(text))):
        if mark := invisible_mark(text, at):
            message = f"{mark} stands here; take it out, or write the words about it again"
            return Unreadable("invisible", message, at, at + 1)
    return None
