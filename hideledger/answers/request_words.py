"""Amounts of a bath of the book in the words that a request of `brine` or `acid` has them in, by the shop's own measures."""

from __future__ import annotations

from decimal import Decimal

from hideledger.answers.amounts import is_metric
from hideledger.model.shop import ShopLines
from hideledger.model.units import plain_number
from hideledger.trade import brine, brine_acid
from hideledger.trade.chemicals import CHEMICALS
from hideledger.trade.rounding import to_figures

_FIGURES = 3
# From so many pounds on a powder is told in pounds.
_MANY_POUNDS = 10


def lifts(name: str) -> bool:
    """Whether it is an acid of which it is known how it lifts a hydrometer."""
    return name in brine_acid.SOLUTIONS


def in_brine(name: str) -> str:
    """As `brine` has it: an acid without water in its crystals by its name alone."""
    return name.removesuffix(", anhydrous")


def pure_name(name: str) -> str:
    """As `acid` has it: of a liquid the pure thing is meant, whatever bottle it came from."""
    return f"100 % {name}" if CHEMICALS[name].liquid else name


def volume_in_words(litres: float, shop: ShopLines) -> str:
    """`22.2 US gal`, the gallon named; `75 L` where the shop has none."""
    size = {"US": brine.L_PER_US_GAL, "imperial": brine.L_PER_IMPERIAL_GAL}.get(shop.gallons)
    return f"{_figure(litres)} L" if size is None else f"{_figure(litres / size)} {shop.gallons} gal"


def part_in_words(kg: float, name: str, shop: ShopLines) -> str:
    """`60 oz citric acid crystals`; a liquid in pounds, since an ounce of it could be either. Empty for nothing."""
    if kg <= 0:
        return ""
    chemical = CHEMICALS.get(name)
    liquid = (chemical is not None and chemical.liquid) or name.startswith("100 %")
    spoken = name.replace(",", "")
    if is_metric(shop) or not shop.gallons:
        return f"{_figure(kg)} kg {spoken}"
    pounds = kg / brine.KG_PER_LB
    heavy = liquid or name in ("salt", "drained skins") or pounds >= _MANY_POUNDS
    return f"{_figure(pounds)} lb {spoken}" if heavy else f"{_figure(16 * pounds)} oz {spoken}"


def _figure(value: float) -> str:
    return plain_number(to_figures(Decimal(repr(value)), _FIGURES))
