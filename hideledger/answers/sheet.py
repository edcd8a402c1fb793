"""A finished answer, like a card filled in: every word is decided, only the layout is still open.

All strings are as they stand in the book or were made here; whoever shows them makes them harmless first.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Quote:
    """A line of the book shown bare, with a mark under `column` (from 1, in characters)."""

    text: str
    column: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One thing on a card.

    `head` says who or when, `text` what; `under` are further lines beneath, each a label (may be empty) and its
    text. `plain` are the fields of the one line that `--plain` prints for it.
    """

    head: str = ""
    text: str = ""
    under: tuple[tuple[str, str], ...] = ()
    quote: Quote | None = None
    plain: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A part of a card under a heading of one or a few words.

    `whole_lines`: a row is never broken over two lines. `at_margin`: rows stand without indent. `spaced`: a blank
    line between rows. `in_plain`: the rows that `--plain` prints instead, where those of the card are drawn together; none of
    them where another section has it all.
    """

    heading: str
    rows: tuple[Row, ...]
    whole_lines: bool = False
    at_margin: bool = False
    spaced: bool = False
    in_plain: tuple[Row, ...] | None = None


def sections_record(sections: Sequence[Section]) -> list[dict[str, object]]:
    """Sections for a program: the rows of each, and the lines beneath a row as pairs of a label, which may be empty, and its text."""
    return [
        {
            "heading": section.heading,
            "rows": [
                {"head": row.head, "text": row.text, "under": [list(both) for both in row.under]}
                for row in section.rows
            ],
        }
        for section in sections
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """The whole answer: its first line, its sections, and the same for a program.

    `title_in_plain` says whether `--plain` begins with the first line. `record` is what `--json` prints; empty, the
    sections are printed as they are.
    """

    title: str
    sections: tuple[Section, ...] = ()
    title_in_plain: bool = False
    record: Mapping[str, object] | None = None
