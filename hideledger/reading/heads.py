"""Heads of lines that are nearly right: a definition in the wrong place or with a slip in its first word, a day of the week for a date."""

from __future__ import annotations

import re
from datetime import date

from hideledger.reading.hurried import LANGUAGE_WORDS
from hideledger.reading.hurried_days import WEEK
from hideledger.reading.trouble import Unreadable
from hideledger.reading.unknown_words import DOINGS
from hideledger.reading.words import Vocabulary
from hideledger.text.nearest import slip_of

_FIRST_WORD = re.compile(r"[ \t\u00a0\u202f]*(?P<word>[A-Za-z]{3,})(?P<behind>[ \t\u00a0\u202f]+[A-Za-z0-9])?")
# What a line at the margin begins with that tells how the shop works.
_DEFINING = (
    "shop",
    "customer",
    "vessel",
    "place",
    "kind",
    "measure",
    "supply",
    "recipe",
    "process",
    "charge",
    "defect",
    "test",
)
# Those of them that are one slip away from no other word of the trade: `change` is no slip of `charge`.
_LIKE_NO_OTHER = ("customer", "vessel", "supply", "recipe", "process")


def definition_trouble(line: str, words: Vocabulary) -> Unreadable | None:
    """A line without a stamp that tells how the shop works, but for its place or a slip in its first word."""
    found = _FIRST_WORD.match(line)
    if found is None or not found["behind"]:
        return None
    word = found["word"].casefold()
    if word in _DEFINING and found.start("word"):
        message = f"`{found['word']}` tells how the shop works: begin it at the margin"
        return Unreadable("margin", message, found.start("word"), found.end("word"))
    near = None if word in _DEFINING else slip_of(word, _LIKE_NO_OTHER)
    if near is None or words.hint(word, *DOINGS, also=LANGUAGE_WORDS) is not None:
        return None
    message = f"`{found['word']}` begins no line; did you mean `{near}`?"
    return Unreadable("word", message, found.start("word"), found.end("word"))


def weekday_trouble(line: str, trouble: Unreadable, above: int) -> Unreadable:
    """The refusal of a day of the week, with its date next from the one above on (an ordinal)."""
    word = line[trouble.start : trouble.end].casefold()
    day = next(day for day in range(above, above + 7) if word.startswith(WEEK[date.fromordinal(day).weekday()]))
    message = f"leave the day of the week away; a line begins with its date: did you mean {date.fromordinal(day).isoformat()}?"
    return Unreadable(trouble.code, message, trouble.start, trouble.end)
