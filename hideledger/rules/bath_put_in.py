"""What an amount that was put into a bath weighs, and which substance it is by the name that the shop gives it.

Nothing is guessed: a name that could be two forms is both, one that no table knows stays unknown, and an acid from a bottle without a
strength has none.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from hideledger.model.facts import Amount
from hideledger.model.shop import Recipe, ShopBook, Supply, as_of
from hideledger.model.units import Quantity
from hideledger.trade import strengths
from hideledger.trade.brine import KG_WATER_PER_L
from hideledger.trade.chemicals import CHEMICALS, SALT, Chemical

_KNOWN: dict[str, tuple[Chemical, ...]] = {
    spoken.casefold(): (chemical,) for chemical in CHEMICALS.values() for spoken in (chemical.name, *chemical.others)
}
# Sold in two forms, the weaker by weight first; of citric acid the anhydrous one is the usual, of oxalic the crystals (common practice, no source).
_FORMS: dict[str, tuple[Chemical, ...]] = {
    "citric acid": (CHEMICALS["citric acid, crystals"], CHEMICALS["citric acid, anhydrous"]),
    "oxalic acid": (CHEMICALS["oxalic acid, crystals"], CHEMICALS["oxalic acid, anhydrous"]),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class PutIn:
    """One amount: kilograms of `water`, of `salt`, or of a pure chemical, weaker and stronger form side by side in `forms`.

    `usual` says which of them is meant where the name does not. `unknown` names what cannot be reckoned with; `kilos` is then what it weighs, as far as that is known.
    """

    water: float = 0.0
    salt: float = 0.0
    forms: tuple[tuple[str, float], ...] = ()
    usual: int = 0
    unknown: str = ""
    kilos: float = 0.0


def put_in(amount: Amount, shop: ShopBook, day: date) -> PutIn:
    """What an amount of a supply is, by the supply's line that held on that day."""
    supply = _supply(amount.supply, shop)
    supply = as_of(supply, day) if supply is not None else None
    quantity = _measured(amount.quantity, shop)
    if quantity is None or quantity.dimension not in ("weight", "volume"):
        return PutIn(unknown=amount.supply)
    if amount.supply.casefold() == "water":
        by_volume = quantity.dimension == "volume"
        return PutIn(water=float(quantity.to("L")) * KG_WATER_PER_L if by_volume else float(quantity.to("kg")))
    forms = _forms(amount.supply, supply)
    kilos = _kilos(quantity, forms, supply)
    strength = _strength(forms, supply)
    if kilos is None or not forms or strength is None:
        own = kilos if kilos is not None else float(quantity.to("L")) if quantity.dimension == "volume" else 0.0
        return PutIn(unknown=amount.supply, kilos=own)
    pure = kilos * strength
    if forms[0].name == "salt":
        return PutIn(salt=pure, water=kilos - pure)
    return PutIn(
        forms=tuple((form.name, pure) for form in forms),
        usual=1 if len(forms) > 1 and forms[0].protons == "citric" else 0,
        water=kilos - pure if forms[0].liquid else 0.0,
    )


def by_recipe(recipe: Recipe, written: Iterable[Amount]) -> tuple[Amount, ...]:
    """What a recipe puts into the water that was written, where the line names nothing of it but the water.

    Empty where the line names more, or the recipe goes by the skins.
    """
    amounts = tuple(written)
    if any(amount.supply.casefold() != "water" for amount in amounts):
        return ()
    litres = sum(
        (amount.quantity.to("L") for amount in amounts if amount.quantity.dimension == "volume"), start=Decimal(0)
    )
    found: list[Amount] = []
    for basis in recipe.bases:
        if basis.per is None or basis.per.dimension != "volume" or not basis.base.casefold().endswith("water"):
            return ()
        times = litres / basis.per.to("L")
        found += [
            Amount(quantity=Quantity(value=quantity.value * times, unit=quantity.unit), supply=supply)
            for quantity, supply in basis.amounts
        ]
    return tuple(found) if litres else ()


def _supply(name: str, shop: ShopBook) -> Supply | None:
    return shop.supplies.get(name.casefold())


def _measured(quantity: Quantity, shop: ShopBook) -> Quantity | None:
    """A measure of the shop's own in the units that it is made of."""
    if quantity.dimension != "measure":
        return quantity
    measure = shop.measures.get(quantity.unit.casefold())
    if measure is None:
        return None
    return Quantity(value=quantity.value * measure.quantity.value, unit=measure.quantity.unit)


def _forms(name: str, supply: Supply | None) -> tuple[Chemical, ...]:
    """The substance of a name; of one that does not say which form, by the supply's other names where one of them does."""
    spoken = [name] if supply is None else [name, supply.name, *supply.others]
    keys = [" ".join(one.casefold().replace("sulfuric", "sulphuric").split()) for one in spoken]
    for table in (_KNOWN, _FORMS):
        for key in keys:
            if key in table:
                return table[key]
    return ()


def _strength(forms: tuple[Chemical, ...], supply: Supply | None) -> float | None:
    """Share of the pure thing (0 to 1); None for an acid from a bottle whose supply line gives no figure."""
    if supply is not None and supply.strength is not None:
        return float(supply.strength) / 100
    return None if forms and forms[0].liquid else 1.0


def _kilos(quantity: Quantity, forms: tuple[Chemical, ...], supply: Supply | None) -> float | None:
    """What it weighs; None for a volume whose density nothing tells."""
    if quantity.dimension == "weight":
        return float(quantity.to("kg"))
    if supply is not None and supply.density is not None:
        weight, volume = supply.density
        return float(quantity.to("L") * weight.to("kg") / volume.to("L"))
    if not forms or not forms[0].liquid or supply is None or supply.strength is None:
        return None
    try:
        return float(quantity.to("L")) * strengths.density(forms[0].protons, float(supply.strength))
    except (ValueError, KeyError):
        return None


def own_name(amounts: Iterable[Amount], shop: ShopBook, sort: str) -> str | None:
    """The shop's own name of the first supply of a sort (`acid`, `base`, `salt`) among these; None where none is."""
    for amount in amounts:
        forms = _forms(amount.supply, _supply(amount.supply, shop))
        if forms and forms[0].sort == sort and (sort != SALT or forms[0].name == "salt"):
            return amount.supply
    return None


def is_salt(name: str, shop: ShopBook) -> bool:
    """Whether a supply is common salt."""
    forms = _forms(name, _supply(name, shop))
    return bool(forms) and forms[0].sort == SALT and forms[0].name == "salt"


def sort_of(name: str, shop: ShopBook) -> str:
    """What a supply is: `acid`, `base` or `salt`; empty for what no table knows."""
    forms = _forms(name, _supply(name, shop))
    return forms[0].sort if forms else ""


def same_supply(name: str, other: str, shop: ShopBook) -> bool:
    """Whether one supply can stand for another: two names of it, two acids, two bases, or two names of common salt."""
    one, two = _supply(name, shop), _supply(other, shop)
    if name.casefold() == other.casefold() or (one is not None and one is two):
        return True
    sort = sort_of(name, shop)
    if sort == SALT:
        return is_salt(name, shop) and is_salt(other, shop)
    return bool(sort) and sort == sort_of(other, shop)
