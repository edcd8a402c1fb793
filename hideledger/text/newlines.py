"""How the lines of a file end: by a line feed, by a return and a line feed, or in very old files by a return alone."""

from __future__ import annotations


def newline_of(body: bytes) -> bytes:
    """The newline that most lines of a file end with; `\\n` where it has none, and where two are equally many.

    A tie between the other two goes to `\\r\\n`.
    """
    both = body.count(b"\r\n")
    feeds = body.count(b"\n") - both
    returns = body.count(b"\r") - both
    if feeds >= both and feeds >= returns:
        return b"\n"
    return b"\r\n" if both >= returns else b"\r"
