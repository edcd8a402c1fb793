"""`clocks`: a live sheet of the clocks that end today; off a terminal one line for each thing that happens to them."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable
from typing import TYPE_CHECKING

from hideledger.cli.arguments import Parser, WrongUse, add_book, add_looks
from hideledger.cli.giving import QUIET, RINGS, UNREAD, books_of, give, laid_out, notices, paths_of

if TYPE_CHECKING:
    from hideledger.model.moments import Clock

_ENDS = (
    "A clock is due a tenth of its limit before its end, at least 5 and at most 30 min before it (a third of a limit under 15 min), "
    "or half an hour before closing where nobody is there at its end. The bell goes then, when time is up, and when it is a minute over; "
    "also when a shortest time of two hours or less is reached. Ctrl-C ends the sheet, exit code 0 (143 and 129 when the system ends it). "
    "With --once: 1 when a clock is overdue, 3 when part of the book could not be read."
)


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    parser.epilog = _ENDS
    add_looks(parser)
    add_book(parser)
    parser.add_argument("--once", action="store_true", help="print the sheet as it stands, and end")
    parser.add_argument("--silent", action="store_true", help="no bell")


def answer(wanted: Namespace) -> int:
    """The live sheet until it is stopped; with `--once` whether a clock is over."""
    if wanted.once:
        return _once(wanted)
    if wanted.json:
        raise WrongUse(
            "--json prints one sheet: say --once with it; without it and off a terminal there is a line for each event"
        )
    return _live(wanted)


def _once(wanted: Namespace) -> int:
    from hideledger.answers.clocks.answer import any_over, clock_sheet, look_at

    floor = laid_out(wanted, books_of(wanted))
    look = look_at(floor)
    notices(floor.book)
    give(clock_sheet(look, floor.at), wanted)
    if floor.book.unread:
        return UNREAD
    return RINGS if any_over(look, floor.at) else QUIET


def _live(wanted: Namespace) -> int:
    import gc
    from time import sleep

    from hideledger.cli.book_watch import BookWatch
    from hideledger.cli.clocks_live import Lines, Painted, Shows, keep_running
    from hideledger.cli.moment import exact_now, instant_in
    from hideledger.cli.streams import is_terminal
    from hideledger.cli.whole_screen import Ended, WholeScreen, ask_to_be_told, can_be_taken
    from hideledger.reading import read_book

    gc.enable()  # it may run for weeks, and each look at the floor leaves circles behind
    paths = paths_of(books_of(wanted))
    watch = BookWatch(paths)
    book = read_book(paths)
    notices(book)
    now = exact_now if wanted.at is None else _running_from(instant_in(book, wanted.at))

    def run(show: Shows) -> None:
        keep_running(book, read=lambda: read_book(paths), changed=watch.changed, now=now, sleep=sleep, show=show)

    try:
        ask_to_be_told()
        if can_be_taken() and not wanted.plain:
            with WholeScreen() as screen:
                run(Painted(screen, bell=not wanted.silent))
        else:
            run(Lines(bell=is_terminal() and not wanted.silent, reader_is_there=_reader()))
    except KeyboardInterrupt:
        return QUIET
    except Ended as end:
        return end.code
    return QUIET


def _running_from(start: int) -> Callable[[Clock], float]:
    """A clock that shows `start` now (UTC seconds) and goes on from there."""
    from time import monotonic

    begun = monotonic()
    return lambda _: start + monotonic() - begun


def _reader() -> Callable[[], bool]:
    """Tells whether whoever reads our lines is still there: a pipe whose other end is closed would else be noticed only at the next line."""
    import select
    import sys

    gone = getattr(select, "POLLERR", 0) | getattr(select, "POLLHUP", 0)
    try:
        poll = select.poll()
        poll.register(sys.stdout.fileno(), 0)
    except (AttributeError, OSError, ValueError):
        return lambda: True
    return lambda: not any(event & gone for _, event in poll.poll(0))
