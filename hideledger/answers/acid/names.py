"""Which acid, base or salt a name means; where it could mean two, nothing is reckoned and a sentence asks."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from hideledger.model.shop import ShopBook, Supply
from hideledger.rules.never import gas_that_kills, never_among, never_with_acid
from hideledger.text.nearest import nearest
from hideledger.trade.chemicals import CHEMICALS, Chemical


class NotReckoned(Exception):
    """Nothing was reckoned; the text is one sentence that says why and what to write."""


class NeverWithAcid(NotReckoned):
    """It gives a gas that kills where acid meets it: nothing is reckoned, whatever else it may be called."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Meant:
    """What a name means, the shop's supply of it, and `by` what its form is known where the name leaves that open."""

    chemical: Chemical
    supply: Supply | None = None
    by: str = ""


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


def meant_by(name: str, book: ShopBook | None, in_bath: Iterable[Meant] = ()) -> Meant:
    """The substance of a name; of one with two forms the one that the shop's supply line has, or that the bath was made with. Raises NotReckoned."""
    supply = supply_of(name, book)
    try:
        return Meant(chemical=named(name), supply=supply)
    except NeverWithAcid:
        raise
    except NotReckoned as why:
        asks = why
    own = {} if supply is None else _clear_names(supply)
    if not own:
        own = {form.chemical.name: form for form in (*_forms_kept(name, book), *in_bath) if _is_form_of(form, name)}
    if len(own) > 1:
        raise NotReckoned(_two_forms(name, list(own.values())))
    if not own:
        raise asks
    (found,) = own.values()
    return replace(found, supply=supply if supply is not None else found.supply)


def _clear_names(supply: Supply) -> dict[str, Meant]:
    """What the names of a supply mean, each substance once."""
    found: dict[str, Meant] = {}
    for spoken in (supply.name, *supply.others):
        try:
            chemical = named(spoken)
        except NeverWithAcid:
            raise
        except NotReckoned:
            continue
        by = f"the shop's line `supply {supply.name}` ({supply.place.short})"
        found.setdefault(chemical.name, Meant(chemical=chemical, supply=supply, by=by))
    return found


def _forms_kept(name: str, book: ShopBook | None) -> list[Meant]:
    """The supplies of the shop that are a form of what was named: `citric acid` where it has the crystals."""
    found: list[Meant] = []
    for supply in () if book is None else book.supplies.values():
        if never_among((supply.name, *supply.others)):
            continue
        found += [form for form in _clear_names(supply).values() if _is_form_of(form, name)]
    return found


def _is_form_of(form: Meant, name: str) -> bool:
    whole = form.chemical.name.partition(",")[0]
    return whole != form.chemical.name and _spelt(name) in (whole, whole.removesuffix(" acid"))


def _two_forms(name: str, forms: list[Meant]) -> str:
    each = " and ".join(f"{form.chemical.name.partition(', ')[2] or form.chemical.name} by {form.by}" for form in forms)
    write = " or ".join(f"`{(*form.chemical.others, form.chemical.name)[0]}`" for form in forms)
    return f"{name}: {each}; which of them goes in? write {write}"


def is_water(name: str) -> bool:
    """Whether a name is the bath itself: nothing, `water`, `bath`, `liquor`, `pickle`."""
    return _key(name) <= {"water", "bath", "liquor", "pickle", "tap", "cold", "warm"}
