"""How the answers about the whole book begin, on a card and for a program."""

from __future__ import annotations

from collections.abc import Mapping

from hideledger.answers.saying import local_stamp, now_words, unread_said, utc_stamp
from hideledger.model.moments import Clock
from hideledger.shopfloor.floor import Floor


def moment_said(floor: Floor) -> str:
    """`Tue 2026-11-10 18:02`, and how much of the book is not understood."""
    return f"{now_words(floor.at, floor.book.clock)}{not_understood(floor)}"


def not_understood(floor: Floor) -> str:
    """`, 2 lines of the book not understood`; nothing where all was read."""
    return f", {unread_said(floor.book)} of the book not understood" if floor.book.unread else ""


def moment_record(at: int, clock: Clock) -> dict[str, object]:
    """The moment of an answer (UTC seconds) for a program, by both clocks: ISO 8601 in UTC, and as the shop's clock has it."""
    return {"at": utc_stamp(at, clock), "at_local": local_stamp(at, clock)}


def record_head(at: int, clock: Clock, *, schema: int = 1) -> dict[str, object]:
    """How an answer for a program begins: the version of its form, which every command counts for itself, and the moment."""
    return {"schema": schema, **moment_record(at, clock)}


def record_of(floor: Floor, parts: Mapping[str, object], *, schema: int = 1) -> dict[str, object]:
    """An answer about the whole book for a program: its head, the parts, and how many lines could not be read."""
    return {**record_head(floor.at, floor.book.clock, schema=schema), **parts, "unread": len(floor.book.unread)}
