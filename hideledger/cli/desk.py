"""Takes a request and hands it to whoever answers it; what cannot be followed becomes one sentence."""

from __future__ import annotations

import sys
from collections.abc import Sequence

from hideledger.cli.arguments import Shown, WrongUse, asked, parsed
from hideledger.cli.giving import NOT_OUT, QUIET, WRONG
from hideledger.cli.moment import Unclear
from hideledger.cli.streams import NotDelivered, complain, deliver
from hideledger.text.files import BookTrouble


def answer(argv: Sequence[str] | None = None) -> int:
    """Answers one request and gives its exit code. Raises BrokenPipeError and KeyboardInterrupt."""
    try:
        wanted = parsed(sys.argv[1:] if argv is None else argv)
        return asked(wanted.command).answer(wanted)
    except Shown as text:
        return _shown(str(text))
    except (WrongUse, Unclear) as trouble:
        complain(str(trouble))
        return WRONG
    except BookTrouble as trouble:
        complain(str(trouble))
        return trouble.exit_code
    except NotDelivered as trouble:
        complain(f"the answer could not be written out: {trouble}")
        return NOT_OUT


def _shown(text: str) -> int:
    try:
        deliver(text)
    except NotDelivered as trouble:
        complain(f"the answer could not be written out: {trouble}")
        return NOT_OUT
    return QUIET
