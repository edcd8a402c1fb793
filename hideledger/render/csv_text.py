"""Rows as CSV (RFC 4180) that a spreadsheet opens without harm: a comma between fields, CRLF behind each record, quotes where they are needed.

A text that begins like a formula gets an apostrophe before it, since a spreadsheet would work it out (Formula Injection, CWE-1236): `=`, `+`, `-`,
`@`, a tab or a carriage return, also behind blanks. A plain number is left as it is, in whatever column it stands. A code (a legal tag, a seal) gets one
too where a spreadsheet would make another of it: `00718` becomes 718 there, `12E5` 1200000, and `3-14` a day in March.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Collection, Iterable, Sequence

Cell = str | int | float | bool | None

_FORMULA = re.compile(r"[ \u00a0]*[=+\-@\t\r]")
_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)")
# A nought before it, more figures than a spreadsheet keeps (15), an exponent, a day, a time, a figure with a point.
_CHANGED = re.compile(
    r"0[0-9]+|[0-9]{16,}|[0-9.]+e[+-]?[0-9]+|[0-9]{1,4}[-/.][0-9]{1,2}(?:[-/.][0-9]{1,4})?|[0-9]{1,2}:[0-9]{2}(?::[0-9]{2})?"
    r"|[0-9]{1,4}[-/. ]?(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*(?:[-/. ]?[0-9]{1,4})?"
    r"|(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*[-/. ]?[0-9]{1,4}|true|false",
    re.IGNORECASE,
)
# What tells a spreadsheet that the text is UTF-8.
BYTE_ORDER_MARK = "\ufeff"


def csv_text(
    header: Sequence[str], rows: Iterable[Sequence[Cell]], *, codes: Collection[int] = (), raw: bool = False
) -> str:
    """The header and the rows, without a byte order mark. `codes` are the columns of codes, from 0; `raw` guards nothing."""
    made = io.StringIO()
    writer = csv.writer(made, lineterminator="\r\n")
    writer.writerow(header)
    for row in rows:
        writer.writerow([_cell(cell, raw, number in codes) for number, cell in enumerate(row)])
    return made.getvalue()


def _cell(cell: Cell, raw: bool, code: bool) -> str:
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, int | float):
        return str(int(cell)) if cell == int(cell) else str(cell)
    return cell if raw else kept_code(cell) if code else harmless(cell)


def harmless(text: str) -> str:
    """The text with an apostrophe before it where a spreadsheet would take it for a formula."""
    return f"'{text}" if _FORMULA.match(text) and not _NUMBER.fullmatch(text) else text


def kept_code(text: str) -> str:
    """A code, with an apostrophe before it where a spreadsheet would make a number, a day or a formula of it."""
    return f"'{text}" if _CHANGED.fullmatch(text) else harmless(text)
