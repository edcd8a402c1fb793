"""One record a line, its fields between tabs: for a search, a spreadsheet or an editor that jumps to a line."""

from __future__ import annotations

from hideledger.answers.sheet import Row, Sheet
from hideledger.text.clean import clean


def plain(sheet: Sheet) -> str:
    """Every row of the sheet as one line, nothing broken and nothing cut off."""
    lines = [_field(sheet.title)] if sheet.title_in_plain else []
    for section in sheet.sections:
        rows = section.rows if section.in_plain is None else section.in_plain
        lines.extend("\t".join(_field(part) for part in _fields(section.heading, row)) for row in rows)
    return "".join(f"{line}\n" for line in lines)


def _fields(heading: str, row: Row) -> tuple[str, ...]:
    if row.plain:
        return row.plain
    under = tuple(" ".join(part for part in both if part) for both in row.under)
    return (heading, row.head, row.text, *under)


def _field(text: str) -> str:
    return clean(text.replace("\r", "").replace("\n", " "))
