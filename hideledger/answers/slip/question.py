"""One thing an investigator asks, and what the book answers."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from hideledger.answers.sheet import Row
from hideledger.model.entry import Entry

NOT_RECORDED = "not recorded"


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """`asked` in a word or two, `answer` from the book, `lines` what stands beneath it; `recorded` False where the book is silent.

    `entries` are the lines of the book it comes from.
    """

    asked: str
    answer: str
    lines: tuple[tuple[str, str], ...] = ()
    recorded: bool = True
    entries: tuple[Entry, ...] = ()

    def row(self) -> Row:
        """As it stands on the sheet."""
        under = self.lines
        if self.entries:
            under = (*under, ("from", places_of(self.entries)))
        return Row(head=self.asked, text=self.answer, under=under)

    def record(self) -> dict[str, object]:
        """The same for a program."""
        return {
            "asked": self.asked,
            "recorded": self.recorded,
            "answer": self.answer,
            "lines": [" ".join(part for part in both if part) for both in self.lines],
            "from": [{"file": entry.at.file, "line": entry.at.line} for entry in _once(self.entries)],
        }


def silent(asked: str, more: str = "") -> Answered:
    """The book does not say."""
    return Answered(asked=asked, answer=f"{NOT_RECORDED}{f'; {more}' if more else ''}", recorded=False)


def places_of(entries: Iterable[Entry]) -> str:
    """`november.hides:12, 14, december.hides:3`: a page is named once for the lines that follow each other on it."""
    said: list[str] = []
    page = ""
    for entry in _once(entries):
        place = entry.at
        said.append(str(place.line) if place.file == page else place.short)
        page = place.file
    return ", ".join(said)


def _once(entries: Iterable[Entry]) -> list[Entry]:
    return list({entry.order: entry for entry in entries}.values())
