"""Which acid, base or salt a name means; where it could mean two, nothing is reckoned and a sentence asks."""

from __future__ import annotations

from collections.abc import Iterable

from hideledger.model.shop import ShopBook, Supply
from hideledger.rules.never import gas_that_kills, never_with_acid
from hideledger.text.nearest import nearest
from hideledger.trade.chemicals import CHEMICALS, Chemical


class NotReckoned(Exception):
    """Nothing was reckoned; the text is one sentence that says why and what to write."""


class NeverWithAcid(NotReckoned):
    """It gives a gas that kills where acid meets it: nothing is reckoned, whatever else it may be called."""


_SPELT = {
    "sulfuric": "sulphuric",
    "muriatic": "hydrochloric",
    "crystal": "crystals",
    "crystalline": "crystals",
    "acids": "acid",
}
# Words that say nothing about which substance it is.
_IDLE = frozenset(
    ["pure", "food", "grade", "powder", "powdered", "granular", "technical", "the", "some", "of", "household"]
)
# What could be two things, or what this arithmetic does not know.
_UNCLEAR: dict[str, str] = {
    "citric acid": "citric acid: crystals (monohydrate) or anhydrous? the same weight of one is 9 % weaker; the packet or the supplier's sheet says which: `citric acid crystals` or `anhydrous citric acid`",
    "oxalic acid": "oxalic acid: crystals (dihydrate, the usual) or anhydrous? the same weight of crystals is 29 % weaker: write `oxalic acid crystals` or `anhydrous oxalic acid`",
    "soda": "which soda? baking soda, soda ash and washing soda crystals are up to 2.7-fold apart: write one of them",
    "washing soda": "washing soda: crystals or ash? soda ash is 2.7 times as strong by weight: write `washing soda crystals` or `soda ash`",
    "sodium carbonate": "sodium carbonate: crystals or ash? soda ash is 2.7 times as strong by weight: write `washing soda crystals` or `soda ash`",
    "sodium acetate": "sodium acetate: crystals (trihydrate) or anhydrous? write `sodium acetate crystals` or `sodium acetate anhydrous`",
    "sodium citrate": "sodium citrate: crystals (dihydrate) or anhydrous? write `sodium citrate crystals` or `sodium citrate anhydrous`",
    "citrate": "which citrate? write `sodium citrate crystals` or `sodium citrate anhydrous`",
    "acid": "which acid? write its name, as in `citric acid crystals` or `85 % formic acid`",
    "acid crystals": "which acid? write its name, as in `citric acid crystals`",
    "alum": "alum is not reckoned: its aluminium makes acid of its own in water; read the bath with a meter or strip",
    "alum tan": "an alum tan is not reckoned: its aluminium makes acid of its own in water; read the bath with a meter or strip",
}


def _key(name: str) -> frozenset[str]:
    words = (_SPELT.get(word, word) for word in name.casefold().replace(",", " ").split())
    return frozenset(word for word in words if word not in _IDLE)


_KNOWN: dict[frozenset[str], Chemical] = {
    _key(spoken): chemical for chemical in CHEMICALS.values() for spoken in (chemical.name, *chemical.others)
}
_ASKED: dict[frozenset[str], str] = {_key(name): sentence for name, sentence in _UNCLEAR.items()}
# What may be proposed for a name that is not known: an acid that is called a bleach never is.
_SPOKEN = sorted(
    {
        spoken
        for chemical in CHEMICALS.values()
        for spoken in (chemical.name, *chemical.others)
        if "bleach" not in spoken
    }
)


def named(name: str) -> Chemical:
    """The substance of a name. Raises NotReckoned, and NeverWithAcid for what must not meet an acid."""
    if never_with_acid(name):
        raise NeverWithAcid(gas_that_kills(name))
    key = _key(name)
    for words in (key, key | {"acid"}):
        if words in _KNOWN:
            return _KNOWN[words]
        if words in _ASKED:
            raise NotReckoned(_ASKED[words])
    close = nearest(name, (*_SPOKEN, *_UNCLEAR))
    unknown = "a supplier's own acid, soda or tan has its dose on its sheet" if key else "write its name"
    hint = f"did you mean `{close}`?" if close else unknown
    raise NotReckoned(f"`{name}` is no acid, base or salt that can be reckoned here; {hint}")


def supply_of(name: str, book: ShopBook | None) -> Supply | None:
    """The shop's supply of that name, or of that other name."""
    if book is None:
        return None
    wanted = _spelt(name)
    for supply in book.supplies.values():
        if wanted in (_spelt(other) for other in (supply.name, *supply.others)):
            return supply
    return None


def _spelt(name: str) -> str:
    """A name in small letters and one spelling, so that `sulfuric` finds `sulphuric`."""
    return " ".join(name.casefold().split()).replace("sulf", "sulph")


def named_in(name: str, book: ShopBook | None) -> tuple[Chemical, Supply | None]:
    """The substance of a name, by the shop's own supply of that name where one of its names is clear. Raises NotReckoned."""
    supply = supply_of(name, book)
    if supply is None:
        try:
            return named(name), None
        except NeverWithAcid:
            raise
        except NotReckoned:
            only = _only_form(name, book)
            if only is None:
                raise
            return only
    for spoken in (name, supply.name, *supply.others):
        try:
            return named(spoken), supply
        except NeverWithAcid:
            raise
        except NotReckoned:
            continue
    return named(name), supply


def _only_form(name: str, book: ShopBook | None) -> tuple[Chemical, Supply] | None:
    """The one supply of the shop that is a form of what was named: `citric acid` where it has the crystals and nothing else of it."""
    found: dict[str, tuple[Chemical, Supply]] = {}
    for supply in () if book is None else book.supplies.values():
        for spoken in (supply.name, *supply.others):
            try:
                chemical = named(spoken)
            except NotReckoned:
                continue
            whole = chemical.name.partition(",")[0]
            if whole != chemical.name and _spelt(name) in (whole, whole.removesuffix(" acid")):
                found[chemical.name] = chemical, supply
    return next(iter(found.values())) if len(found) == 1 else None


def form_among(name: str, held: Iterable[Chemical]) -> Chemical | None:
    """The one form of what is named among these: `citric acid` where the bath holds its crystals and no other form of it."""
    found = {
        chemical.name: chemical
        for chemical in held
        if (whole := chemical.name.partition(",")[0]) != chemical.name
        and _spelt(name) in (whole, whole.removesuffix(" acid"))
    }
    return next(iter(found.values())) if len(found) == 1 else None


def is_water(name: str) -> bool:
    """Whether a name is the bath itself: nothing, `water`, `bath`, `liquor`, `pickle`."""
    return _key(name) <= {"water", "bath", "liquor", "pickle", "tap", "cold", "warm"}
