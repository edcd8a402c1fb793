"""How the answers about the whole book begin, on a card and for a program."""

from __future__ import annotations

from collections.abc import Mapping

from hideledger.answers.saying import local_stamp, now_words, unread_said, utc_stamp
from hideledger.shopfloor.floor import Floor


def moment_said(floor: Floor) -> str:
    """`Tue 2026-11-10 18:02`, and how much of the book is not understood."""
    return f"{now_words(floor.at, floor.book.clock)}{not_understood(floor)}"


def not_understood(floor: Floor) -> str:
    """`, 2 lines of the book not understood`; nothing where all was read."""
    return f", {unread_said(floor.book)} of the book not understood" if floor.book.unread else ""


def record_of(floor: Floor, parts: Mapping[str, object]) -> dict[str, object]:
    """An answer for a program: the version of the form, the moment by both clocks, the parts, and how many lines could not be read."""
    clock = floor.book.clock
    return {
        "schema": 1,
        "at": utc_stamp(floor.at, clock),
        "at_local": local_stamp(floor.at, clock),
        **parts,
        "unread": len(floor.book.unread),
    }
