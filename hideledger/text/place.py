"""Where something stands in the book, and what could not be read there."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Place:
    """A spot in a file that a person can put a finger on.

    `line` and `column` count from 1, `column` in characters as an editor counts them; `width` is in characters.
    """

    file: str
    line: int
    column: int = 1
    width: int = 1

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"

    @property
    def short(self) -> str:
        """File and line alone, for a sentence."""
        return f"{self.file}:{self.line}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Complaint:
    """One piece of the book that could not be read, and why.

    `code` names the sort of mistake for tests and for `meaning`; `text` is the line as it stands in the file; `tags` and
    `day` (ISO date or empty) are what could still be made out, so that findings about those hides can be held back.
    """

    place: Place
    code: str
    message: str
    text: str = ""
    tags: tuple[str, ...] = ()
    day: str = ""
    definition: bool = False
