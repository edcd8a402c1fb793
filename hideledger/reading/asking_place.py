"""Where a request on the command line cannot be followed, and what of it is refused alike by every command that is asked in words."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from lark import Token, Tree
from lark.exceptions import UnexpectedCharacters, UnexpectedInput, UnexpectedToken

from hideledger.model.units import SPELLINGS, UNITS
from hideledger.reading.trouble import Unreadable

# The units of what goes into a tub, as people spell them: another is no nearest thing where an amount belongs.
MEASURES = tuple(spelling for spelling, unit in SPELLINGS.items() if UNITS[unit].dimension in ("weight", "volume"))
_NEXT = re.compile("[^ \t\u00a0\u202f,]+|,")
_WORD = re.compile("[A-Za-z]+")
_BEFORE_TEN = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_IN_WORDS: dict[str, int] = {
    **{word: number for number, word in enumerate(_BEFORE_TEN, 1)},
    "ten": 10,
    "eleven": 11,
    "twelve": 12,
    "fifteen": 15,
    "sixteen": 16,
    "eighteen": 18,
    "hundred": 100,
    **{word: 10 * number for number, word in enumerate(_TENS, 2)},
}
# What stands behind a number where it is no unit.
_COUNTED = frozenset(["hide", "hides", "skin", "skins", "cape", "capes", "head", "heads", "us", "imperial", "degrees"])


@dataclass(frozen=True, slots=True, kw_only=True)
class Halt:
    """The place where reading stopped: `word` is what stands there, empty at the end; `accepted` are the terminals that could follow, `wanted` they in words."""

    start: int
    stop: int
    word: str
    accepted: frozenset[str]
    wanted: str


def halted(text: str, error: UnexpectedInput, spoken: Mapping[str, str]) -> Halt:
    """Where a request stopped making sense; `spoken` has each terminal in a person's words."""
    end = len(text.rstrip())
    if isinstance(error, UnexpectedToken):
        at = end if error.token.type == "$END" else error.token.start_pos
        accepted = frozenset(error.accepts or error.expected)
    else:
        at = error.pos_in_stream if isinstance(error, UnexpectedCharacters) else end
        accepted = frozenset(getattr(error, "allowed", None) or ())
    start = end if at is None else at
    found = _NEXT.match(text, start)
    wanted = " or ".join(dict.fromkeys(spoken[name] for name in sorted(accepted) if name in spoken))
    if found is None:
        return Halt(start=end, stop=end, word="", accepted=accepted, wanted=wanted)
    return Halt(start=start, stop=found.end(), word=found.group(), accepted=accepted, wanted=wanted)


def span_of(tree: Tree[Token]) -> tuple[int, int]:
    """Where in the request a branch stands: its first offset and the one behind its last."""
    tokens = list(tree.scan_values(lambda value: isinstance(value, Token)))
    return tokens[0].start_pos or 0, tokens[-1].end_pos or 0


def in_figures(text: str) -> None:
    """Refuses `twenty gal`: an amount is written in figures. Raises Unreadable."""
    words = list(_WORD.finditer(text))
    for at, word in enumerate(words[:-1]):
        value = _IN_WORDS.get(word.group().casefold())
        if value is None or (at and _is_tens(words[at - 1].group())):
            continue
        after = words[at + 1]
        if value >= 20 and _IN_WORDS.get(after.group().casefold(), 99) < 10 and at + 2 < len(words):
            value += _IN_WORDS[after.group().casefold()]
            after = words[at + 2]
        unit = after.group().casefold()
        if text[word.end() : after.start()].strip("abcdefghijklmnopqrstuvwxyz -") or not (
            unit in SPELLINGS or unit in _COUNTED
        ):
            continue
        said = text[word.start() : after.end()]
        raise Unreadable(
            "number", f"`{said}`: write the number in figures, as in `{value} {unit}`", word.start(), after.end()
        )


def _is_tens(word: str) -> bool:
    return word.casefold() in _TENS
