"""Amounts and bases of a recipe in the words of a line of the book."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

from hideledger.answers.amounts import is_metric as by_metric
from hideledger.model.shop import RecipeBasis, ShopLines
from hideledger.model.units import UNITS, Quantity, plain_number
from hideledger.trade.brine import KG_PER_LB
from hideledger.trade.rounding import in_sixteenths, in_thirds, to_figures, writable

_METRIC = frozenset(["kg", "g", "L", "ml"])
# What is less than a few gallons is poured by the quart.
_IN_QUARTS = {"gal": "qt", "imperial gal": "imperial qt"}
# From so much on an amount is taken in the larger unit, where the shop has not said in which.
_LARGER = {
    "oz": (Decimal(80), "lb"),
    "g": (Decimal(2000), "kg"),
    "ml": (Decimal(2000), "L"),
    "floz": (Decimal(64), "qt"),
    "imperial floz": (Decimal(80), "imperial qt"),
}
# Less than one of these is taken in the smaller, unless it is a half or a quarter.
_SMALLER = {
    "lb": "oz",
    "kg": "g",
    "L": "ml",
    "qt": "floz",
    "imperial qt": "imperial floz",
}


def title_of(basis: RecipeBasis) -> str:
    """`per gal water`, `per 100 lb of drained`, `per hide`."""
    if basis.per is None or basis.per.value == 1:
        return f"per {basis.base}"
    return f"per {figure_words(basis.per.value, basis.per.unit)} {basis.base}"


def amount_words(amount: Quantity) -> str:
    """`1 lb`, `2 dippers`, `1/2 oz`."""
    unit = bare(amount.unit)
    if amount.unit not in UNITS and amount.value != 1:
        unit = unit if unit.endswith("s") else f"{unit}s"
    return f"{figure_words(amount.value, unit)} {unit}"


def figure_words(value: Decimal, unit: str) -> str:
    """A figure as it is written at a bench: `22 3/4` lb, `0.45` kg, `3.2` where no common fraction fits."""
    if unit in _METRIC:
        return figure(value)
    thirds = in_thirds(value)
    if thirds is not None:
        whole, rest = divmod(thirds, 3)
        return f"{whole} {rest}/3" if whole else f"{rest}/3"
    if in_sixteenths(value) and value != int(value):
        whole, rest = divmod(int(value * 16), 16)
        bottom = 16
        while rest % 2 == 0:
            rest, bottom = rest // 2, bottom // 2
        return f"{whole} {rest}/{bottom}" if whole else f"{rest}/{bottom}"
    return figure(value)


def figure(value: Decimal) -> str:
    """Up to four figures behind the point, none of them idle."""
    return plain_number(writable(value))


def about(value: Decimal) -> str:
    """Up to four figures in all: of what was reckoned, no more is worth saying."""
    return plain_number(to_figures(value, 4))


def bare(unit: str) -> str:
    """A unit as a line of the shop has it: whose gallon it is stands in the shop file."""
    return unit.removeprefix("imperial ")


def is_metric(unit: str) -> bool:
    """Whether a unit is one of kilograms and litres."""
    return unit in _METRIC


def handy(amount: Quantity, *, poured: bool = False) -> Quantity:
    """The same amount in the unit that one would take: pounds for many ounces, ounces for part of a pound, quarts for a few gallons.

    What is `poured` never comes to ounces from pounds: an ounce of it could be either.
    """
    unit = _IN_QUARTS.get(amount.unit, "") if amount.value < 4 else ""
    most, larger = _LARGER.get(amount.unit, (Decimal(0), ""))
    unit = larger if larger and amount.value >= most else unit
    found = Quantity(value=amount.to(unit), unit=unit) if unit else amount
    smaller = _SMALLER.get(found.unit, "") if found.value < 1 and found.value * 4 != int(found.value * 4) else ""
    if not smaller or (poured and smaller == "oz"):
        return found
    return Quantity(value=found.to(smaller), unit=smaller)


def skin_words(kg: float, shop: ShopLines) -> str:
    """So much skin, to a tenth as it was weighed: `14.5 lb`, `6.6 kg`."""
    amount, unit = (kg, "kg") if by_metric(shop) else (kg / KG_PER_LB, "lb")
    return f"{plain_number(Decimal(repr(amount)).quantize(Decimal('0.1'), rounding=ROUND_HALF_UP))} {unit}"
