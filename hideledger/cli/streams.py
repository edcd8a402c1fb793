"""Answers go to standard output, everything else to standard error, and a pipe that closes early is no fault."""

from __future__ import annotations

import os
import sys
import traceback
from typing import TYPE_CHECKING, TextIO, cast

from hideledger.text.clean import clean

if TYPE_CHECKING:
    from hideledger.answers.sheet import Sheet


class NotDelivered(Exception):
    """The answer was ready but could not be written out (a full disk, a closed output)."""


def is_terminal() -> bool:
    """Whether a person looks at standard output directly."""
    return sys.stdout is not None and not sys.stdout.closed and sys.stdout.isatty()


def line_width() -> int:
    """How many places a line of an answer has: those of a card in a pipe or a file, what the terminal leaves on a screen."""
    from hideledger.render.card import CARD_WIDTH

    if not is_terminal():
        return CARD_WIDTH
    from hideledger.render.terminal import width_on

    return width_on(_output())


def deliver(text: str) -> None:
    """Writes an answer out and makes sure that it arrived. Raises BrokenPipeError and NotDelivered."""
    out = _output()
    try:
        encoding = out.encoding or "utf-8"
        binary = getattr(out, "buffer", None)
        if binary is None:
            out.write(text)
        else:
            binary.write(text.encode(encoding, "backslashreplace"))
            binary.flush()
        out.flush()
    except BrokenPipeError:
        raise
    except (OSError, ValueError) as trouble:
        let_go()
        raise NotDelivered(_reason(trouble)) from trouble


def deliver_utf8(text: str) -> None:
    """Writes JSON out, in UTF-8 whatever the locale, as RFC 8259 asks. Raises BrokenPipeError and NotDelivered."""
    out = _output()
    binary = getattr(out, "buffer", None)
    if binary is None:
        deliver(text)
        return
    try:
        out.flush()
        # A file name that is no UTF-8 comes as lone surrogates, and these are escaped the way JSON does it.
        binary.write(text.encode("utf-8", "backslashreplace"))
        binary.flush()
    except BrokenPipeError:
        raise
    except (OSError, ValueError) as trouble:
        let_go()
        raise NotDelivered(_reason(trouble)) from trouble


def deliver_to_terminal(sheet: Sheet) -> None:
    """Shows a sheet on the screen. Raises BrokenPipeError and NotDelivered."""
    from hideledger.render.terminal import paint

    out = _output()
    reconfigure = getattr(out, "reconfigure", None)
    if reconfigure is not None:
        reconfigure(errors="backslashreplace")
    try:
        paint(sheet, out)
        out.flush()
    except BrokenPipeError:
        raise
    except OSError as trouble:
        let_go()
        raise NotDelivered(_reason(trouble)) from trouble


def complain(sentence: str) -> None:
    """Says one sentence on standard error; where nobody listens there either, nothing happens."""
    if sys.stderr is None:
        return
    try:
        sys.stderr.write(f"hideledger: {clean(sentence)}\n")
        sys.stderr.flush()
    except (OSError, ValueError):
        return


def own_fault(fault: Exception, book: str = "nothing in the book was changed") -> None:
    """Owns up to a fault of the program in one sentence that ends with how the book stands.

    The variable HIDELEDGER_TRACE adds where it happened.
    """
    last = traceback.extract_tb(fault.__traceback__)[-1:]
    spot = f" at {os.path.basename(last[0].filename)}:{last[0].lineno}" if last else ""
    what = f"{type(fault).__name__}{spot}"
    complain(f"a fault of the program, not of your book ({what}); {book}")
    if os.environ.get("HIDELEDGER_TRACE") and sys.stderr is not None:
        traceback.print_exception(fault, file=sys.stderr)


def let_go() -> None:
    """Closes standard output under Python's feet, so that it does not try to empty its buffer once more at the end."""
    raw = getattr(getattr(sys.stdout, "buffer", None), "raw", None)
    try:
        if raw is not None:
            raw.close()
    except (OSError, ValueError):
        return


def _output() -> TextIO:
    out = cast("TextIO | None", sys.stdout)
    if out is None or out.closed:
        raise NotDelivered("standard output is closed")
    return out


def _reason(trouble: Exception) -> str:
    return (trouble.strerror or str(trouble)) if isinstance(trouble, OSError) else str(trouble)
