"""`yesterday` and `Friday` mean a date to whoever writes now: a refusal says which, so that it need not be looked up."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

from hideledger.text.place import Complaint

_DAYS = {"today": 0, "tonight": 0, "yesterday": -1, "tomorrow": 1}
WEEK = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_WORD = re.compile(
    r"(?:(?P<day>today|tonight|yesterday|tomorrow)|(?P<week>mon|tue|wed|thu|fri|sat|sun)[a-z]*)", re.IGNORECASE
)
_CODES = frozenset(("hurried", "weekday"))


def with_its_date(complaint: Complaint, today: int) -> Complaint:
    """The complaint with the date that such a word means on a day (an ordinal); any other as it is.

    A day of the week is the last one that was, today among them: a book tells what was done.
    """
    at = complaint.place.column - 1
    found = _WORD.match(complaint.text, at) if complaint.code in _CODES else None
    if found is None:
        return complaint
    if found["day"]:
        ordinal = today + _DAYS[found["day"].casefold()]
    else:
        ordinal = today - (date.fromordinal(today).weekday() - WEEK.index(found["week"].casefold())) % 7
    day = date.fromordinal(ordinal).isoformat()
    if complaint.text[:at].strip():
        line = day
    else:
        line = f"{day} {complaint.text[found.end() :].lstrip('. ,')}".strip()
    return replace(complaint, message=f"a book is read later; for `{found.group()}` write the date itself: `{line}`")
