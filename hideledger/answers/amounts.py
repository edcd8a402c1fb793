"""Readings, weights and volumes in the units of the shop that wrote them."""

from __future__ import annotations

from decimal import Decimal

from hideledger.model.facts import Reading
from hideledger.model.shop import Recipe, ShopLines
from hideledger.model.units import UNITS, plain_number
from hideledger.shopfloor.life import BathLife

_LB_PER_KG = Decimal("0.45359237")


def reading_words(reading: Reading) -> str:
    """`pH 2.0 meter`, `63 F`, `38 sal`: the figure as it was written."""
    if reading.what == "pH":
        words = f"pH {reading.value.value:f}"
    else:
        words = f"{reading.value.value:f} {reading.value.unit}"
    return f"{words} {reading.how}" if reading.how else words


def is_metric(shop: ShopLines) -> bool:
    """Whether the shop thinks in kilograms and litres: it says Celsius and names no gallons."""
    return shop.degrees == "C" and not shop.gallons


def volume_words(litres: float, shop: ShopLines) -> str:
    """`20 gal`, `150 L`."""
    if not shop.gallons:  # nobody said which gallon
        return f"{_rounded(litres)} L"
    unit = UNITS["imperial gal" if shop.gallons == "imperial" else "gal"]
    return f"{_rounded(litres / float(unit.factor))} gal"


def weight_words(pounds: float, shop: ShopLines) -> str:
    """`24 lb`, `11 kg`."""
    return f"{_rounded(pounds * float(_LB_PER_KG))} kg" if is_metric(shop) else f"{_rounded(pounds)} lb"


def pounds_a_bath_takes(recipe: Recipe | None, bath: BathLife) -> float | None:
    """How many pounds of skin may go through a bath by its recipe's own line; None where it has none."""
    if recipe is None or recipe.lasts_weight is None:
        return None
    pounds = float(recipe.lasts_weight.to("lb"))
    per = recipe.lasts_weight_per
    if per is None:
        return pounds
    if bath.volume_l is None:
        return None
    return pounds * bath.volume_l / float(per.to("L"))


def _rounded(value: float) -> str:
    places = 2 if value < 2 else 1 if value < 10 else 0
    return plain_number(Decimal(f"{value:.{places}f}"))
