"""A price by weight, by area or by length: by what was measured of this hide."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from hideledger.answers.owed.price_lines import Item, other_money
from hideledger.model.facts import Sized
from hideledger.model.shop import Charge
from hideledger.model.units import UNITS, Quantity, plain_number
from hideledger.shopfloor.life import HideLife


def measured(line: Charge, money: Quantity, measure: Quantity, life: HideLife, sign: str) -> Item:
    """So much a pound, a square foot, an inch: by what was measured of this hide."""
    unit, dimension = measure.unit, UNITS[measure.unit].dimension
    size: Fraction | None = None
    basis = ""
    if dimension == "weight" and life.weights:
        first = life.weights[0]
        size = Fraction(first.weight.to(unit)) / first.shared_by
        basis = f" {first.basis}" if first.basis else ""
    elif dimension == "area":
        size = _area(life, unit)
    elif dimension == "length":
        long = _sizes(life).get("length")
        size = None if long is None else Fraction(long.to(unit))
    per = f"{money} per {unit}" if measure.value == 1 else f"{money} per {measure}"
    per += other_money(money, sign)
    if size is None:
        missing = {"weight": "weight", "area": "length and width", "length": "length"}.get(dimension, "measure")
        return Item(what=f"{line.what} at {per}: no {missing} is written", money=None, place=line.place)
    whole = Fraction(money.value) * size / Fraction(measure.value) if money.unit == sign else None
    shown = plain_number(Decimal(round(size * 100)) / 100)
    return Item(what=f"{line.what}, {shown} {unit}{basis} at {per}", money=whole, place=line.place)


def _sizes(life: HideLife) -> dict[str, Quantity]:
    return {taken.fact.what: taken.fact.size for taken in life.taken if isinstance(taken.fact, Sized)}


def _area(life: HideLife, unit: str) -> Fraction | None:
    """The area as it was written, else length by width."""
    sizes = _sizes(life)
    if "area" in sizes:
        return Fraction(sizes["area"].to(unit))
    if "length" in sizes and "width" in sizes:
        sqm = Fraction(sizes["length"].to("m")) * Fraction(sizes["width"].to("m"))
        return sqm * Fraction(UNITS["sqm"].factor) / Fraction(UNITS[unit].factor)
    return None
