"""What lies on the shelf of a supply by the book, what is left of it after this, and what an amount of it costs at the price that holds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal

from hideledger.answers.mix.supplies import Stuff
from hideledger.answers.mix.words import bare, is_metric
from hideledger.model.units import Quantity, plain_number
from hideledger.trade.rounding import to_figures

# More than this of a unit is told in the larger one that the shop buys and keeps it by.
_MANY = 1000


def on_shelf(hand: Mapping[str, Quantity], stuff: Stuff, unit: str) -> Quantity | None:
    """What is left of a supply, by the shelf of `on_hand`: in the unit it is taken in where that is no odd one for so much, else in the shop's own.

    None where nothing of it was ever counted or bought.
    """
    names = (stuff.name,) if stuff.supply is None else (stuff.supply.name, *stuff.supply.others, stuff.name)
    found = next((hand[name.casefold()] for name in names if name.casefold() in hand), None)
    if found is None or (found.dimension not in ("weight", "volume") and found.unit not in stuff.measures):
        return found
    as_taken = stuff.to(found, unit)
    if as_taken is None or is_metric(unit) != is_metric(found.unit) or as_taken.value >= _MANY:
        return found
    return as_taken


def shelf_words(shelf: Quantity, stuff: Stuff, taken: Sequence[Quantity]) -> str:
    """`160 lb by the book, 148 lb after this`; `taken` is all that goes of it, since the same supply may stand twice in a recipe."""
    words = f"{_figure(shelf.value)} {bare(shelf.unit)} by the book"
    going = [stuff.to(amount, shelf.unit) for amount in taken]
    if any(amount is None for amount in going):
        return f"{words}; how heavy {stuff.name} is is not written, so nobody knows what is left after this"
    left = shelf.value - sum((amount.value for amount in going if amount is not None), Decimal(0))
    if left < 0 and _figure(-left) != "0":
        return f"{words}: {_figure(-left)} {bare(shelf.unit)} short"
    return f"{words}, {_figure(max(left, Decimal(0)))} {bare(shelf.unit)} after this"


def _figure(value: Decimal) -> str:
    """Three figures or so: nobody reads a shelf to the gram."""
    return plain_number(min(to_figures(value, 3), round(value, 2), key=lambda one: len(plain_number(one))))


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
