"""Sees when a book was saved, by whatever editor: a page changed or replaced, one that came or went."""

from __future__ import annotations

import os
from collections.abc import Sequence
from time import perf_counter

from hideledger.text.files import BookTrouble, find_pages
from hideledger.text.seen import Seen, seen_of

State = tuple[object, ...]
# Asked once a second: a folder so big that a look takes a tenth of a second is looked at every third second only.
_SHARE = 20


class BookWatch:
    """Looks at names, sizes, times and inodes, and never into a page.

    A change is told once the book has lain still from one look to the next: an editor that empties a page before it fills it, or moves it
    away before it writes the new one, is let finish. To be asked once a second.
    """

    __slots__ = ("_last", "_paths", "_read", "_rest")

    def __init__(self, paths: Sequence[str]) -> None:
        self._paths = tuple(paths)
        self._rest = 0
        self._read = self._last = self.state()

    def state(self) -> State:
        """The book as it lies there now."""
        try:
            pages, left = find_pages(self._paths)
        except BookTrouble as trouble:
            return ("no book", trouble.message)
        return (*((str(page), _seen(str(page))) for page in pages), *left)

    def changed(self) -> bool:
        """Whether the book differs from when it was read last, and lies still. It is then to be read: the next call starts from here."""
        if self._rest > 0:
            self._rest -= 1
            return False
        begun = perf_counter()
        now = self.state()
        self._rest = int((perf_counter() - begun) * _SHARE)
        still, self._last = now == self._last, now
        if now == self._read or not still:
            return False
        self._read = now
        return True


def _seen(page: str) -> Seen | None:
    try:
        return seen_of(os.stat(page))
    except OSError:
        return None
