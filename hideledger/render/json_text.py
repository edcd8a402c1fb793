"""The same answer for a program: one JSON object (RFC 8259), its keys always in the same order."""

from __future__ import annotations

import json

from hideledger.answers.sheet import Sheet, sections_record


def json_text(sheet: Sheet) -> str:
    """The sheet's record; without one, its title and sections as they stand.

    Text stands as in the book, control characters escaped as JSON asks. Raises ValueError for a number that JSON
    does not know.
    """
    record = sheet.record if sheet.record is not None else as_record(sheet)
    return json.dumps(record, ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def as_record(sheet: Sheet) -> dict[str, object]:
    """Title and sections; the lines beneath a row as pairs of label and text."""
    return {
        "schema": 1,
        "title": sheet.title,
        "sections": sections_record(sheet.sections),
    }
