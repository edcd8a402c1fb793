"""A table for other programs: its columns say what they hold, so that one list serves every file format and the page about them."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass

# What a column may hold, and how a program that knows only rows and columns gets it.
SORTS = {
    "text": "text",
    "code": "text; may look like a number, and is none",
    "integer": "whole number",
    "number": "number",
    "yes or no": "true or false; yes or no in CSV, 1 or 0 in SQLite",
    "tags": "list of tags; with blanks between in CSV and SQLite",
    "list": "list of texts; with `; ` between in CSV and SQLite",
    "facts": "list of objects; JSON text in CSV and SQLite",
}
_JOINT = {"tags": " ", "list": "; "}


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column: `sort` is a word of SORTS; an empty cell is None. `points_to` names the table whose `id` it holds."""

    name: str
    sort: str
    about: str
    points_to: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows of cells, one for each column and in their order."""

    name: str
    about: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[object, ...], ...] = ()

    @property
    def header(self) -> tuple[str, ...]:
        """The names of the columns."""
        return tuple(column.name for column in self.columns)

    @property
    def codes(self) -> frozenset[int]:
        """Which columns hold codes, counted from 0: one tag alone in a list of tags is a code too."""
        return frozenset(number for number, column in enumerate(self.columns) if column.sort in ("code", "tags"))

    def records(self) -> Iterator[dict[str, object]]:
        """Each row as an object, for JSON: lists stay lists, what is not known is null."""
        for row in self.rows:
            yield {
                name: list(cell) if isinstance(cell, tuple) else cell
                for name, cell in zip(self.header, row, strict=True)
            }

    def flat(self) -> Iterator[tuple[str | int | float | bool | None, ...]]:
        """Each row with nothing in it but texts, numbers, true, false and None."""
        for row in self.rows:
            yield tuple(_flat(cell, column.sort) for cell, column in zip(row, self.columns, strict=True))


def in_words(cell: str | float | bool | None) -> str:
    """A flat cell as a text: nothing for None, `yes` or `no`, a number without needless figures."""
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    return str(int(cell)) if isinstance(cell, float) and cell.is_integer() else str(cell)


def _flat(cell: object, sort: str) -> str | int | float | bool | None:
    if cell is None or isinstance(cell, str | int | float | bool):
        return cell
    if sort in _JOINT and isinstance(cell, tuple):
        return _JOINT[sort].join(str(one) for one in cell)
    return json.dumps(cell, ensure_ascii=False, allow_nan=False)
