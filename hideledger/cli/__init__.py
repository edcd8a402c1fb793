"""The front desk: takes the request, hands it on, gives the answer out. It does no work of its own.

What the exit code says: 0 nothing rings, 1 something rings (or nothing was found), 2 the request cannot be
followed, 3 part of the book could not be read, 70 a fault of the program itself, 74 the answer could not be written
out (a full disk), 130 stopped by the keyboard, 141 whoever was reading went away. 70 and 74 mean so by the old table of
the BSD systems (sysexits).
"""

from __future__ import annotations

import gc
from collections.abc import Sequence

FAULT, STOPPED, GONE = 70, 130, 141


def main(argv: Sequence[str] | None = None) -> int:
    """Answers one request from the shell; `argv` without the program's name. Gives the exit code and raises nothing."""
    gc.disable()  # a short life: what is made for one answer goes with the process, and looking for circles would take a tenth of it
    try:
        from hideledger.cli.desk import answer

        return answer(argv)
    except KeyboardInterrupt:
        return STOPPED
    except BrokenPipeError:
        from hideledger.cli.streams import let_go

        let_go()
        return GONE
    except Exception as fault:  # whatever it is, the person at the bench gets one sentence
        from hideledger.cli.streams import own_fault

        own_fault(fault)
        return FAULT
