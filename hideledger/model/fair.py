"""A page written out fair: what would stand where, line by line, and what was left as it stands."""

from __future__ import annotations

from dataclasses import dataclass

from hideledger.text.source import Source


@dataclass(frozen=True, slots=True, kw_only=True)
class FairLine:
    """One entry written out. `line` is where it begins now, `to_line` where it will; both count from 1."""

    line: int
    to_line: int
    was: tuple[str, ...]
    now: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftLine:
    """An entry that could not be written out whole without changing what it says; `why` is one sentence."""

    line: int
    text: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FairPage:
    """One page with its changes. `entries` counts the entries on it, `unread` the lines of it that could not be read.

    `refused` is empty, or the sentence that says why nothing of the page may be changed; it has no changes then.
    """

    source: Source
    entries: int
    unread: int
    changes: tuple[FairLine, ...] = ()
    left: tuple[LeftLine, ...] = ()
    refused: str = ""
