"""An amount in the unit in which the shop weighs or measures it, to what its scale, spoon or jug shows."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from hideledger.answers.mix.supplies import WATER, Stuff
from hideledger.answers.mix.words import bare, handy, is_metric
from hideledger.model.shop import ShopLines
from hideledger.model.units import UNITS, Quantity
from hideledger.trade.rounding import Rounded, in_sixteenths, in_thirds, rounded, to_figures

_GALLONS = frozenset(["gal", "qt", "pt", "floz"])
# More steps of a small scale than this nobody weighs one after the other.
_MOST_STEPS = 1000
# Litres: what is measured finer than to half a pint is measured with a spoon or a small glass, and water is not.
_JUG = Decimal("0.2")


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """An amount as it is measured out; `said` whether the shop says how fine that is, `assumed` a sentence to be said beside it."""

    amount: Rounded
    said: bool
    assumed: str = ""


def measured(stuff: Stuff, exact: Quantity, shop: ShopLines) -> Measured:
    """As the supply's own line has it, else the shop's; where neither says, an ordinary step of the unit one would take."""
    own = stuff.supply.weighed_to if stuff.supply is not None else None
    assumed = ""
    if own is not None:
        changed = stuff.to(exact, own.unit)
        if changed is not None:
            return Measured(amount=rounded(changed, own.value), said=True)
        verb = "weighed" if own.dimension == "weight" else "measured"
        assumed = f"{stuff.name} stays in {bare(exact.unit)}: its line says how fine it is {verb}, but not how heavy it is (`lb per gal`)"
    spoon = shop.measured_to is None or shop.measured_to.to("L") < _JUG
    if stuff.sort == WATER and spoon:  # by the marks of a tub or a pail
        return Measured(amount=rounded(handy(exact, poured=True)), said=False)
    general = shop.weighed_to if exact.dimension == "weight" else shop.measured_to
    if general is None or exact.dimension != general.dimension:
        return Measured(amount=rounded(handy(exact, poured=stuff.is_liquid)), said=False, assumed=assumed)
    return Measured(amount=_by_scale(exact, general, poured=stuff.is_liquid), said=True, assumed=assumed)


def _by_scale(exact: Quantity, general: Quantity, *, poured: bool) -> Rounded:
    """By the scale that the shop has for everything: in pounds too where it shows ounces, but never grams on a scale of ounces."""
    either = poured and general.unit == "oz"  # by weight, or fluid? a line of the book must not leave it open
    if is_metric(exact.unit) != is_metric(general.unit) and not either:
        exact = Quantity(value=exact.to(general.unit), unit=general.unit)
    taken = handy(exact, poured=poured)
    for amount in (taken, exact):
        step = general.to(amount.unit)
        if in_sixteenths(step) or in_thirds(step) is not None or _short(step):
            return rounded(amount, step)
    small = Quantity(value=exact.to(general.unit), unit=general.unit)
    if not either and small.value < _MOST_STEPS * general.value:
        return rounded(small, general.value)
    return rounded(taken)


def _short(step: Decimal) -> bool:
    """Whether a step is a number that a scale shows: `0.05`, and not the 0.015625 lb of a quarter ounce."""
    return len(step.normalize().as_tuple().digits) <= 2


def writable_here(amount: Quantity, shop: ShopLines) -> Quantity:
    """The same amount in a unit that a line of this shop can have: of gallons only its own, else litres, to three figures."""
    gallons, unit = shop.gallons, bare(amount.unit)
    if unit not in _GALLONS or (gallons and amount.unit == ("" if gallons == "US" else "imperial ") + unit):
        return amount
    own = {"US": "gal", "imperial": "imperial gal"}.get(gallons, "L")
    assert own in UNITS
    return Quantity(value=to_figures(amount.to(own), 3), unit=own)
