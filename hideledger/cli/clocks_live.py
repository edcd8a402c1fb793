"""Keeps the clocks running: looks at the book again when it was saved, at the minute, and counts down in between.

Time, sleep, the book and whatever shows the clocks are handed in, so that a test can let an evening pass in no time.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol

from hideledger.answers.clocks.answer import ClockLook, clock_sheet, foot_words, look_at
from hideledger.answers.clocks.events import Event, Heard, begun, not_readable, read_again, ringing
from hideledger.cli.streams import deliver
from hideledger.cli.whole_screen import WholeScreen, size
from hideledger.model.book import Book
from hideledger.model.moments import MINUTE, Clock
from hideledger.render.screenful import BELL, Line, frame, screen_lines
from hideledger.shopfloor.layout import lay_out
from hideledger.text.clean import clean
from hideledger.text.files import BookTrouble

# How often a page that was open before is tried again before the book is taken without it, once a second.
_PATIENCE = 10
_AWAY = "is no longer there: put it back, or end the clocks and begin them again without it"


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """The clocks at one moment, and what happened since the last one: `read` is when the book was read (UTC seconds)."""

    look: ClockLook
    now: int
    read: int
    trouble: str
    events: tuple[Event, ...]


class Shows(Protocol):
    """Whoever puts a picture before the eyes."""

    def __call__(self, picture: Picture) -> None:
        """Shows it. Raises BrokenPipeError and NotDelivered."""


def keep_running(
    book: Book,
    *,
    read: Callable[[], Book],
    changed: Callable[[], bool],
    now: Callable[[Clock], float],
    sleep: Callable[[float], None],
    show: Shows,
) -> None:
    """Goes on until something is raised: KeyboardInterrupt, Ended, BrokenPipeError, NotDelivered. `book` is already read."""
    heard, trouble, patience, away = Heard(), "", _PATIENCE, False
    look: ClockLook | None = None
    read_at = int(now(book.clock))
    while True:
        exact = now(book.clock)
        instant = int(exact)
        events: list[Event] = []
        # A book that could not be read is tried again even when nothing seems to have changed; a page that is away shows when it is back.
        if look is not None and (changed() or (trouble and not away)):
            found = _read(read, book, patience)
            if isinstance(found, _NotTaken):
                patience, away = patience - 1, found.away
                if found.why != trouble:
                    events.append(not_readable(found.why))
                trouble = found.why
            else:
                events += read_again(book, found, mended=bool(trouble))
                book, trouble, patience, away, read_at, look = found, "", _PATIENCE, False, instant, None
        if look is None or look.floor.at != instant - instant % MINUTE:
            look = look_at(lay_out(book, instant - instant % MINUTE))
            if not heard.began:
                events.append(begun(look, instant))
            events += heard.unread(look.floor.book.unread)
        events += heard.clocks(look, instant)
        show(Picture(look=look, now=instant, read=read_at, trouble=trouble, events=tuple(events)))
        sleep(1 - exact % 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class _NotTaken:
    """Why the book as it lies there now is not taken; `away`: a page is missing, and only its return changes that."""

    why: str
    away: bool = False


def _read(read: Callable[[], Book], before: Book, patience: int) -> Book | _NotTaken:
    """The book as it is now, or why it is not taken: a page that could be read before and cannot now is waited for, since it may be half saved."""
    try:
        book = read()
    except BookTrouble as trouble:
        return _NotTaken(why=str(trouble))
    was_closed = {one.place.file for one in before.unread if one.code == "page"}
    away = _taken_away(before, book)
    if away:
        return _NotTaken(why=f"{clean(away)} {_AWAY}", away=True)
    closed = [one for one in book.unread if one.code == "page" and one.place.file not in was_closed]
    if closed and patience > 0:
        return _NotTaken(why=f"{closed[0].place}: {closed[0].message}")
    return book


def _taken_away(before: Book, book: Book) -> str:
    """The first page with lines of work that is there no longer; one that was only given another name is there."""
    here = {source.name for source in book.sources} | {one.place.file for one in book.unread if one.code == "page"}
    texts = {source.text for source in book.sources}
    worked = {entry.source.name for entry in before.entries}
    gone = (one for one in before.sources if one.name not in here and one.name in worked and one.text not in texts)
    return next((one.name for one in gone), "")


class Lines:
    """Off a terminal: one line an event, and out at once. `bell` where somebody sits before a screen that cannot be painted over."""

    __slots__ = ("_bell", "_reader_is_there")

    def __init__(self, *, bell: bool, reader_is_there: Callable[[], bool]) -> None:
        self._bell = bell
        self._reader_is_there = reader_is_there

    def __call__(self, picture: Picture) -> None:
        if not self._reader_is_there():
            raise BrokenPipeError
        clock = picture.look.floor.book.clock
        for event in picture.events:
            bell = BELL if self._bell and event.rings else ""
            deliver(f"{bell}{clean(event.line(picture.now, clock).replace(chr(10), ' '))}\n")


class Painted:
    """On a terminal: the whole sheet, painted again each second, as many clocks as there is room for."""

    __slots__ = ("_bell", "_screen")

    def __init__(self, screen: WholeScreen, *, bell: bool) -> None:
        self._screen = screen
        self._bell = bell

    def __call__(self, picture: Picture) -> None:
        columns, rows = size()
        foot = foot_words(picture.look, picture.read, picture.trouble)
        bell = BELL if self._bell and ringing(picture.events) else ""
        self._screen.paint(frame(fitting(picture, columns, rows - 1), foot, columns, rows) + bell)


def fitting(picture: Picture, columns: int, rows: int) -> Sequence[Line]:
    """The sheet with as many clocks as fit into so many rows, and of the lines not understood some, or one."""
    count = len(picture.look.shown(picture.now))
    lines: Sequence[Line] = ()
    for unread in (3, 1, 0):
        for most in range(min(count, rows), 0 if unread == 0 else max(0, min(count, rows) - 1), -1):
            sheet = clock_sheet(picture.look, picture.now, seconds=True, most=most, unread=unread)
            lines = screen_lines(sheet, columns)
            if len(lines) <= rows:
                return lines
    return lines or screen_lines(clock_sheet(picture.look, picture.now, seconds=True, unread=1), columns)
