"""One thing an investigator asks, and what the book answers."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from hideledger.answers.sheet import Row, Section
from hideledger.model.entry import Entry

NOT_RECORDED = "not recorded"
NO_SUCH_STEP = "its process has no such step by name"
NOT_SO_FAR = "it had not come so far, by what is written"


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """`asked` in a word or two, `answer` from the book, `lines` what stands beneath it; `recorded` False where the book is silent.

    `entries` are the lines of the book it comes from; `short` is the answer in one line, where `lines` say what matters.
    """

    asked: str
    answer: str
    lines: tuple[tuple[str, str], ...] = ()
    recorded: bool = True
    entries: tuple[Entry, ...] = ()
    short: str = ""

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


def asked_section(asked: Sequence[Answered], *, whole: bool = True) -> Section:
    """The whole list in its order; adjoining questions that the book answers alike, with nothing more to say, stand in one row.

    Not `whole`: a line for each that the book answers, and in one paragraph below them those that it does not. `--plain` has a
    row for each, with all that is known.
    """
    missing = sum(not one.recorded for one in asked)
    rows = (
        [row for alike, those in groupby(asked, _alike) for row in _together(alike, list(those))]
        if whole
        else _briefly(asked)
    )
    return Section(
        heading=f"What an investigator asks, in order: {missing} of {len(asked)} {NOT_RECORDED}, whole or in part",
        rows=tuple(rows),
        in_plain=tuple(one.row() for one in asked),
    )


def _briefly(asked: Sequence[Answered]) -> list[Row]:
    """One line for each that is answered; then those alike in a paragraph each, in their order."""
    rows: list[Row] = []
    alike: dict[str, list[Answered]] = {}
    for one in asked:
        sort = NOT_RECORDED if not one.recorded and one.answer.startswith(NOT_RECORDED) else _alike(one)
        if sort:
            alike.setdefault(sort, []).append(one)
        else:
            rows.append(Row(head=one.asked, text=one.short or _first_said(one)))
    for sort in (NOT_RECORDED, "no such step", "not so far"):
        those = alike.get(sort, [])
        if those:
            names = ", ".join(one.asked for one in those)
            rows.append(Row(head=sort, text=names if sort == NOT_RECORDED else f"{names}: {those[0].answer}"))
    return rows


def _first_said(one: Answered) -> str:
    """The answer with the first thing that stands beneath it."""
    label, text = one.lines[0] if one.lines else ("", "")
    if not text or label:
        return one.answer
    return text if text.startswith(one.answer) else f"{one.answer}; {text}"


def _alike(one: Answered) -> str:
    """What a short answer has in common with others; nothing of one that says more."""
    if one.lines or one.entries:
        return ""
    if not one.recorded and one.answer.startswith(NOT_RECORDED):
        return NOT_RECORDED
    return {NO_SUCH_STEP: "no such step", NOT_SO_FAR: "not so far"}.get(one.answer, "")


def _together(alike: str, those: Sequence[Answered]) -> list[Row]:
    if not alike or len(those) < 2:
        return [one.row() for one in those]
    if alike == NOT_RECORDED:
        said = [one.answer.removeprefix(NOT_RECORDED).removeprefix("; ") for one in those]
        text = "; ".join(f"{one.asked} ({more})" if more else one.asked for one, more in zip(those, said, strict=True))
    else:
        text = f"{', '.join(one.asked for one in those)}: {those[0].answer}"
    return [Row(head=alike, text=text)]


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
