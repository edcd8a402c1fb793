"""An amount is taken as finely as the scale, the spoon or the jug shows, and no finer: half a step is the most it is off by.

Where nobody said how fine that is, an ordinary step is taken: the coarsest that keeps an amount within one part in two hundred.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from hideledger.model.units import Quantity

# Coarse to fine; the last is what a kitchen scale or a common jug still shows (common practice, no source).
_POUNDS = ("1", "0.5", "0.25", "0.125", "0.0625")
_GALLONS = ("1", "0.5", "0.25", "0.125", "0.0625")
_LITRES = ("5", "1", "0.5", "0.1", "0.05", "0.01", "0.005")
_SPOONS = ("1", "0.5", "0.25", "0.125")
_ORDINARY: dict[str, tuple[str, ...]] = {
    "lb": _POUNDS,
    "oz": (*_POUNDS, "0.05"),
    "kg": ("1", "0.5", "0.1", "0.05", "0.01", "0.005", "0.001"),
    "g": ("10", "5", "1", "0.5", "0.1"),
    "gal": _GALLONS,
    "qt": _GALLONS,
    "pt": _GALLONS,
    "floz": ("1", "0.5", "0.25", "0.125"),
    "L": _LITRES,
    "ml": ("10", "5", "1", "0.5", "0.1"),
}
_WITHIN = Decimal("0.005")


@dataclass(frozen=True, slots=True, kw_only=True)
class Rounded:
    """`exact` as reckoned, `taken` as measured, in one unit; `step` of the scale. `taken` is `exact` where rounding would leave nothing."""

    exact: Quantity
    taken: Quantity
    step: Decimal

    @property
    def too_fine(self) -> bool:
        """Whether the amount is less than half of what the scale shows."""
        return 0 < self.exact.value < self.step / 2

    @property
    def off_by(self) -> Decimal:
        """How much more, or less, is taken than was reckoned, as a share of it."""
        return (self.taken.value - self.exact.value) / self.exact.value if self.exact.value else Decimal(0)


def rounded(exact: Quantity, finest: Decimal | None = None) -> Rounded:
    """An amount of more than nothing to the nearest step; `finest` in its own unit, else the ordinary step of that unit."""
    step = finest if finest is not None else ordinary_step(exact)
    times = (exact.value / step).to_integral_value(rounding=ROUND_HALF_UP)
    taken = Quantity(value=writable(times * step if times else exact.value), unit=exact.unit)
    return Rounded(exact=exact, taken=taken, step=step)


def writable(value: Decimal) -> Decimal:
    """A number as a line can have it: four figures behind the point, or four figures in all where it is tiny."""
    places = max(4, 3 - value.adjusted()) if value else 4
    return round(value, places).normalize()


def ordinary_step(amount: Quantity) -> Decimal:
    """The coarsest usual step of a unit that keeps this amount within one part in two hundred; the finest where none does."""
    steps = [Decimal(step) for step in _ORDINARY.get(amount.unit.removeprefix("imperial "), _SPOONS)]
    return next((step for step in steps if step / 2 <= abs(amount.value) * _WITHIN), steps[-1])
