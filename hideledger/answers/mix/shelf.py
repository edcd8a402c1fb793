"""What lies on the shelf of a supply by the book, in the unit that it is taken in, and what an amount of it costs at the price that holds."""

from __future__ import annotations

from collections.abc import Mapping

from hideledger.answers.mix.supplies import Stuff
from hideledger.model.units import Quantity


def on_shelf(hand: Mapping[str, Quantity], stuff: Stuff, unit: str) -> Quantity | None:
    """What is left of a supply, by the shelf of `on_hand`; in the shop's own unit where it cannot be turned into `unit`.

    None where nothing of it was ever counted or bought.
    """
    names = (stuff.name,) if stuff.supply is None else (stuff.supply.name, *stuff.supply.others, stuff.name)
    found = next((hand[name.casefold()] for name in names if name.casefold() in hand), None)
    if found is None or (found.dimension not in ("weight", "volume") and found.unit not in stuff.measures):
        return found
    return stuff.to(found, unit) or found


def cost_of(stuff: Stuff, amount: Quantity) -> Quantity | None:
    """What an amount costs at the price that holds; None where it has none, or its unit cannot be turned into that of the price."""
    supply = stuff.supply
    if supply is None or supply.price is None or supply.price_per is None:
        return None
    if supply.price_per.dimension not in ("weight", "volume") and supply.price_per.unit not in stuff.measures:
        return None
    in_unit = stuff.to(amount, supply.price_per.unit)
    if in_unit is None:
        return None
    return Quantity(value=supply.price.value * in_unit.value / supply.price_per.value, unit=supply.price.unit)
