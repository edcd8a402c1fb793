"""An amount is taken as finely as the scale, the spoon or the jug shows, and no finer: half a step is the most it is off by.

Where nobody said how fine that is, an ordinary step is taken: the coarsest that keeps an amount within one part in two hundred. No amount is told
to more than four figures, however fine the scale.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from hideledger.model.units import Quantity

# Coarse to fine; the last is what a kitchen scale or a common jug still shows (common practice, no source).
_POUNDS = ("10", "1", "0.5", "0.25", "0.1", "0.05")
_QUARTS = ("1", "0.5", "0.25", "0.125", "0.0625")
_SPOONS = ("1", "0.5", "0.25", "0.125")
_ORDINARY: dict[str, tuple[str, ...]] = {
    "lb": _POUNDS,
    "oz": ("1", "0.5", "0.25", "0.1", "0.05"),
    "kg": ("10", "1", "0.5", "0.1", "0.05", "0.01", "0.005", "0.001"),
    "g": ("10", "5", "1", "0.1"),
    "gal": _POUNDS,
    "qt": _QUARTS,
    "pt": _QUARTS,
    "floz": _SPOONS,
    "L": ("10", "5", "1", "0.5", "0.1", "0.05", "0.01", "0.005"),
    "ml": ("10", "5", "1", "0.5", "0.1"),
}
_WITHIN = Decimal("0.005")
# The finest step is that of a pocket scale: it is wanted only where the one before it is off by more than this (our own figure).
_COARSELY = Decimal("0.015")
_MOST_FIGURES = 4


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
    while _many_figures(_times(times, step)):
        step *= 10
        times = (exact.value / step).to_integral_value(rounding=ROUND_HALF_UP)
    taken = _times(times, step) if times else to_figures(exact.value, _MOST_FIGURES)
    return Rounded(exact=exact, taken=Quantity(value=taken, unit=exact.unit), step=step)


def writable(value: Decimal) -> Decimal:
    """A number as a line can have it: four figures behind the point, or four figures in all where it is tiny."""
    places = max(4, 3 - value.adjusted()) if value else 4
    return round(value, places).normalize()


def to_figures(value: Decimal, figures: int) -> Decimal:
    """A number to so many figures in all, none of them before the point lost."""
    places = max(0, figures - 1 - value.adjusted()) if value else 0
    return round(value, places).normalize() if places else value.to_integral_value(rounding=ROUND_HALF_UP)


def in_thirds(value: Decimal) -> int | None:
    """How many thirds a number is, where it is a whole number of them and no whole number; None else."""
    thirds = round(value * 3, 9)
    return int(thirds) if thirds == int(thirds) and value != int(value) else None


def in_sixteenths(value: Decimal) -> bool:
    """Whether a number is a whole number of sixteenths, the finest fraction of a rule or a scale."""
    return value * 16 == int(value * 16)


def ordinary_step(amount: Quantity) -> Decimal:
    """The coarsest usual step of a unit that keeps this amount within one part in two hundred; of what is smaller the finest, or the one before it where that does."""
    steps = [Decimal(step) for step in _ORDINARY.get(amount.unit.removeprefix("imperial "), _SPOONS)]
    within = next((step for step in steps if step / 2 <= abs(amount.value) * _WITHIN), steps[-1])
    if within == steps[-1] and steps[-2] / 2 <= abs(amount.value) * _COARSELY:
        return steps[-2]
    return within


def _times(times: Decimal, step: Decimal) -> Decimal:
    """So many steps. Of a third of an ounce they are whole thirds, as a line can have them."""
    thirds = in_thirds(step)
    return times * thirds / 3 if thirds is not None else writable(times * step)


def _many_figures(value: Decimal) -> bool:
    """Whether it would be told to more figures than anybody weighs; a fraction of a pound counts as none of them."""
    if value < 1000 and (in_sixteenths(value) or in_thirds(value) is not None):
        return False
    return len(value.normalize().as_tuple().digits) > _MOST_FIGURES
