"""How a file begins and its lines end: perhaps a byte order mark; a line feed, a return and a line feed, or in very old files a return alone."""

from __future__ import annotations

BYTE_ORDER_MARK = b"\xef\xbb\xbf"  # U+FEFF as UTF-8 writes it


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
