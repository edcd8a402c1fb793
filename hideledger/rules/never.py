"""What never meets an acid: bleach, sulphides and cyanides give a gas that kills.

Common knowledge of every handbook and label (chlorine from bleach, hydrogen sulphide, hydrogen cyanide), written here from memory.
Words are looked for, not whole names: a name that only holds one of them is refused too, since a mistake that way costs nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

from hideledger.text.nearest import slips_between
from hideledger.trade.chemicals import ACID, CHEMICALS

_GASES = frozenset(
    [
        *("bleach", "bleaches", "bleaching", "javel", "javelle"),
        *("chlorine", "chlorinated", "chlorite", "hypochlorite", "hypochlorous"),
        *("sulphide", "sulphides", "hydrosulphide", "sulphydrate", "sulphhydrate", "polysulphide"),
        *("cyanide", "cyanides", "ferrocyanide"),
    ]
)
# One slip of the fingers away from these is taken for them, but not what is a word of its own: table salt is a chloride.
_SLIPS = ("bleach", "chlorine", "hypochlorite", "sulphide", "cyanide")
_NO_SLIPS = frozenset(["chloride", "sulphite"])
# What these words in front of it make of a bleach: another thing, which gives no such gas with an acid.
_OTHER_BLEACH = re.compile(r"(?:wood|peroxide|oxygen)[ -]+bleach", re.IGNORECASE)
_WORD = re.compile(r"[^ \t\u00a0\u202f,;/()`0-9.-]+")


@lru_cache(maxsize=4096)  # a book names few things, on many lines
def never_with_acid(words: str) -> str:
    """What in these words gives a gas that kills where acid meets it, as it was written; empty where nothing does."""
    for found in _WORD.findall(_OTHER_BLEACH.sub(" ", words)):
        word = found.casefold().replace("sulf", "sulph")
        slip = word not in _NO_SLIPS and any(slips_between(word, each) == 1 for each in _SLIPS)
        if word in _GASES or slip:
            return str(found)
    return ""


def never_among(names: Iterable[str]) -> str:
    """The first of these names that must not meet an acid; empty where there is none."""
    return next((name for name in names if never_with_acid(name)), "")


# What an acid is called by, alone or in a longer name.
ACID_WORDS = frozenset(
    [
        *("acid", "acids", "vinegar", "vitriol"),
        *("formic", "acetic", "lactic", "citric", "oxalic", "sulphuric", "phosphoric", "hydrochloric", "muriatic"),
    ]
)

_ACID_NAMES = frozenset(
    name.casefold() for chemical in CHEMICALS.values() if chemical.sort == ACID for name in chemical.others
)


def is_acid(names: Iterable[str]) -> bool:
    """Whether what bears these names is an acid."""
    return any(_names_an_acid(name) for name in names)


@lru_cache(maxsize=4096)
def _names_an_acid(name: str) -> bool:
    words = {word.casefold().replace("sulf", "sulph") for word in _WORD.findall(name)}
    return bool(words & ACID_WORDS) or " ".join(name.casefold().split()) in _ACID_NAMES


def gas_that_kills(name: str) -> str:
    """The sentence for it: nothing is reckoned, and nothing is named in its place."""
    return f"`{name}` and acid give a gas that kills: never together, in no vessel, sink or drain, not even rests of them; nothing is reckoned. If they have met, everybody out into fresh air, stay out, and ring the emergency number"
