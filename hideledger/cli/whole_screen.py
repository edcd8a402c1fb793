"""Takes the whole screen of a terminal for a while, and gives it back as it was, however the program ends."""

from __future__ import annotations

import os
import signal
import sys
from types import FrameType, TracebackType
from typing import Self

from hideledger.cli.streams import NotDelivered, deliver, is_terminal
from hideledger.render.screenful import ENTER, LEAVE

_ROWS, _COLUMNS = 24, 80


class Ended(BaseException):
    """The system asked the program to go (the terminal was closed, the computer goes down); `code` as a shell would say it.

    No fault: nothing on its way out may take it for one.
    """

    def __init__(self, code: int) -> None:
        super().__init__(code)
        self.code = code


def can_be_taken() -> bool:
    """Whether somebody looks at a terminal that can be painted over."""
    if not is_terminal() or os.environ.get("TERM", "dumb") in ("", "dumb"):
        return False
    try:
        import termios
    except ImportError:
        return False
    return bool(termios)


def size() -> tuple[int, int]:
    """Columns and rows of the screen as it is now."""
    try:
        found = os.get_terminal_size(sys.stdout.fileno())
    except (OSError, ValueError):
        return _COLUMNS, _ROWS
    return found.columns or _COLUMNS, found.lines or _ROWS


def ask_to_be_told() -> None:
    """Turns a request to end (SIGTERM, SIGHUP, SIGQUIT) into Ended, so that the screen is given back; what is ignored stays so (nohup)."""
    for name in ("SIGTERM", "SIGHUP", "SIGQUIT"):
        number = getattr(signal, name, None)
        if number is not None and signal.getsignal(number) is not signal.SIG_IGN:
            signal.signal(number, _end)


def _end(number: int, _frame: FrameType | None) -> None:
    signal.signal(number, signal.SIG_IGN)  # once is enough: what follows is the way out
    raise Ended(128 + number)


class WholeScreen:
    """While it is held the terminal shows another page, no cursor, and no letters typed by mistake; Ctrl-Z gives it back for a while."""

    __slots__ = ("_before",)

    def __init__(self) -> None:
        self._before: list[object] | None = None

    def __enter__(self) -> Self:
        try:
            self._take()
            signal.signal(signal.SIGTSTP, self._aside)
        except BaseException:
            self._give_back()
            raise
        return self

    def __exit__(
        self, sort: type[BaseException] | None, trouble: BaseException | None, trace: TracebackType | None
    ) -> None:
        del sort, trouble, trace
        interrupt = signal.signal(signal.SIGINT, signal.SIG_IGN)  # a second Ctrl-C must not stop the giving back
        signal.signal(signal.SIGTSTP, signal.SIG_DFL)
        self._give_back()
        signal.signal(signal.SIGINT, interrupt)

    def paint(self, text: str) -> None:
        """Writes one whole picture. Raises BrokenPipeError and NotDelivered."""
        signal.pthread_sigmask(
            signal.SIG_BLOCK, {signal.SIGTSTP}
        )  # giving back writes too, and must not come in between
        try:
            deliver(text)
        finally:
            signal.pthread_sigmask(signal.SIG_UNBLOCK, {signal.SIGTSTP})

    def _take(self) -> None:
        import termios

        line = sys.stdout.fileno()
        try:
            self._before = termios.tcgetattr(line)
            quiet = termios.tcgetattr(line)
            quiet[3] &= ~(termios.ECHO | termios.ICANON)
            termios.tcsetattr(line, termios.TCSADRAIN, quiet)
        except termios.error:
            self._before = None
        deliver(ENTER)

    def _give_back(self) -> None:
        import termios

        try:
            deliver(LEAVE)
        except (NotDelivered, OSError):
            return  # the terminal itself is gone
        if self._before is not None:
            try:
                # what was typed meanwhile was meant for nobody, least of all for the shell
                termios.tcsetattr(sys.stdout.fileno(), termios.TCSAFLUSH, self._before)  # type: ignore[arg-type]
            except (termios.error, ValueError, OSError):
                return

    def _aside(self, number: int, _frame: FrameType | None) -> None:
        """Ctrl-Z: the shell gets its screen, and `fg` brings the sheet back."""
        self._give_back()
        signal.signal(number, signal.SIG_DFL)
        os.kill(os.getpid(), number)
        signal.signal(number, self._aside)
        self._take()
