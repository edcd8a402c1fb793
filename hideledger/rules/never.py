"""What never meets an acid: bleach, sulphides and cyanides give a gas that kills; and bleach never ammonia. The names of a household's shelf too.

Common knowledge of every handbook and label (chlorine from bleach, chloramine from bleach and ammonia, hydrogen sulphide, hydrogen cyanide),
written here from memory. A salt of acid, such as alum, is sour in water and does to bleach what an acid does.
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


_BETWEEN = "[ \t\u00a0\u202f-]+"


def _phrases(*several: str) -> re.Pattern[str]:
    """Any of these names of more than one word, both spellings of sulphur and mould in them, within a longer text."""
    each = "|".join(
        name.replace("sulph", "sul(?:ph|f)").replace("mould", "mou?ld").replace(" ", _BETWEEN) for name in several
    )
    return re.compile(rf"(?<![A-Za-z])(?:{each})s?(?![A-Za-z])", re.IGNORECASE)


# A chlorine of the household by the name on its tub: pool shock is calcium hypochlorite or a dry chlorine.
_CHLORINE_NAMES = _phrases(
    *("pool shock", "shock treatment", "cal hypo", "calcium hypo", "chloride of lime", "pool tablet", "pool tab"),
    *("mildew remover", "mould remover", "trichlor", "dichlor", "calhypo", "bleach"),
    *("chlorine", "chlorinated lime", "hypochlorite", "hypochlorous acid"),
)
_SULPHIDE_NAMES = _phrases("lime sulphur", "liver of sulphur")
# What may be a bleach, a lye or an acid, as its label says: neither acid nor bleach goes near it.
_EITHER = {
    "drain": _phrases("drain cleaner", "drain opener", "drain unblocker", "drain declogger", "drain unclogger"),
    "toilet": _phrases("toilet bowl cleaner", "toilet cleaner", "bowl cleaner", "lavatory cleaner"),
}
_MAY_BE = {"drain": "lye, lye with bleach in it, or sulphuric acid", "toilet": "hydrochloric acid, or bleach"}
# Sour in water, by the name on the packet.
_SOUR_NAMES = _phrases(
    *(
        "rust remover",
        "rust dissolver",
        "lime remover",
        "limescale remover",
        "scale remover",
        "descaler",
        "lemon juice",
    ),
    *("brick cleaner", "concrete cleaner", "masonry cleaner", "ph down", "ph minus", "dry acid", "spirits of salt"),
    *("bisulphate", "aqua fortis", "cream of tartar", "alum", "alumini?um sulphate"),
)
_AMMONIA_NAMES = _phrases("ammonia", "amonia", "ammonium", "ammoniac", "hartshorn", "ammonia water")


@lru_cache(maxsize=4096)  # a book names few things, on many lines
def never_with_acid(words: str) -> str:
    """What in these words gives a gas that kills where acid meets it, or may, as it was written; empty where nothing does."""
    plain = _OTHER_BLEACH.sub(" ", words)
    for found in _WORD.findall(plain):
        word = found.casefold().replace("sulf", "sulph")
        slip = word not in _NO_SLIPS and any(slips_between(word, each) == 1 for each in _SLIPS)
        if word in _GASES or slip:
            return str(found)
    for pattern in (_CHLORINE_NAMES, _SULPHIDE_NAMES, *_EITHER.values()):
        if named := pattern.search(plain):
            return named.group()
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


def is_acid_by_name(name: str) -> bool:
    """Whether a name says itself that it is an acid."""
    return bool({word.casefold().replace("sulf", "sulph") for word in _WORD.findall(name)} & ACID_WORDS)


def is_sour(names: Iterable[str]) -> bool:
    """Whether what bears these names is an acid, a salt of acid as alum is, or may be one by its label."""
    return any(_names_an_acid(name) for name in names)


@lru_cache(maxsize=4096)
def _names_an_acid(name: str) -> bool:
    words = {word.casefold().replace("sulf", "sulph") for word in _WORD.findall(name)}
    if words & ACID_WORDS or " ".join(name.casefold().split()) in _ACID_NAMES:
        return True
    return any(pattern.search(name) for pattern in (_SOUR_NAMES, *_EITHER.values()))


def met(things: Iterable[tuple[str, ...]]) -> tuple[str, str] | None:
    """The first two among these that give a gas that kills, each by all its names, the first as it was written: what gives the gas, and what drives it out."""
    before: list[tuple[str, ...]] = []
    for thing in things:
        for other in before:
            for one, two in ((other, thing), (thing, other)):
                if one[0].casefold() != two[0].casefold() and _give_gas(one, two):
                    return one[0], two[0]
        before.append(thing)
    return None


def _give_gas(one: tuple[str, ...], other: tuple[str, ...]) -> bool:
    """Whether `one` gives off a gas where `other` meets it."""
    never = never_among(one)
    if not never:
        return False
    chlorine = any(_CHLORINE_NAMES.search(never_with_acid(name)) or _may_be(name) for name in one)
    ammonia = any(_AMMONIA_NAMES.search(name) for name in other)
    sour = is_sour(other) and not never_among(other)
    # what may be either is a matter beside acid and beside bleach alike
    either = any(_may_be(name) for name in other)
    return sour or either or (chlorine and ammonia)


def _may_be(name: str) -> str:
    """What a household name may stand for; empty for any other."""
    return next((_MAY_BE[key] for key, pattern in _EITHER.items() if pattern.search(name)), "")


def gas_that_kills(name: str, other: str = "acid") -> str:
    """The sentence for it: nothing is reckoned, and nothing is named in its place."""
    may_be = _may_be(name)
    gives = f"{may_be} by its label, and with {other} it may give" if may_be else ""
    together = (
        f"`{name}` is {gives} a gas that kills or boil over"
        if may_be
        else f"`{name}` and {other} give a gas that kills"
    )
    return f"{together}: never together, in no vessel, sink or drain, not even rests of them; nothing is reckoned. If they have met, everybody out into fresh air, stay out, and ring the emergency number"
