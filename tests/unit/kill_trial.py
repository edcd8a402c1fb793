"""A trial for whatever writes to a page: killed at any moment, it must leave the old page or the new one.

`kill_trial` takes any work, so that a whole command can stand the same trial as the hands that write.
"""

import contextlib
import os
import random
import signal
import sys
import time
import traceback
import warnings
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from hideledger.text.files import find_pages

if sys.platform != "win32":
    import fcntl


def split_off(work: Callable[[], object]) -> int:
    """A process of its own that does the work and ends; its exit code is 0, or 1 where the work raised anything."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # of processes split off beside threads
        child = os.fork()
    if child:
        return child
    code = 1
    try:
        work()
        code = 0
    except BaseException:
        traceback.print_exc()
    finally:
        os._exit(code)


def ended(child: int) -> int:
    """Exit code of a process, or minus the signal that ended it."""
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def settled(page: Path) -> bytes | None:
    """The bytes of a page, once nobody is writing to it any more; None where there is none."""
    if not page.exists():
        return None
    with page.open("rb") as held:
        fcntl.flock(held, fcntl.LOCK_SH)
        return page.read_bytes()


@dataclass(kw_only=True)
class Counted:
    """How often a kill left the old page, the new one, or anything else; `cut` counts runs that the kill really ended."""

    old: int = 0
    new: int = 0
    torn: int = 0
    cut: int = 0


def kill_trial(
    page: Path, old: bytes | None, new: bytes, work: Callable[[], object], *, runs: int, seed: int
) -> Counted:
    """Kills `work`, which makes `new` of the page `old` (None: there is none), at random moments while it is at it.

    After each kill the folder must hold no page but this. The next run begins with what the killed ones left lying.
    """
    shop = page.with_name("shop.hides")
    shop.write_bytes(b"# another page\n")
    chance, counted, longest = random.Random(seed), Counted(), 0.0
    for run in range(-3, runs):
        page.unlink(missing_ok=True)
        if old is not None:
            page.write_bytes(old)
        begun = time.perf_counter()
        child = split_off(work)
        if run < 0:
            assert ended(child) == 0, "the work goes well where nobody kills it"
            assert page.read_bytes() == new
            longest = time.perf_counter() - begun
            continue
        until = begun + chance.uniform(0, longest)
        while time.perf_counter() < until:
            pass
        with contextlib.suppress(ProcessLookupError):
            os.kill(child, signal.SIGKILL)
        counted.cut += ended(child) == -signal.SIGKILL
        body = settled(page)
        counted.old += body == old
        counted.new += body == new
        counted.torn += body not in (old, new)
        # Whatever the machine is busy with: half of the kills come before the new page stands there, half after.
        longest *= 1.02 if body == old else 0.98
        assert find_pages([str(page.parent)]) == ([page, shop] if body is not None else [shop], [])
    return counted
