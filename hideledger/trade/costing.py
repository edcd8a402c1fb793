"""What a hide costs: a sum shared out by weight, lost hides carried by the others, and how many hides pay for a machine."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from math import ceil


class NeverPaid(ValueError):
    """Each one brings in no more than it costs, so that no number of them pays for anything."""


def shares(total: Fraction, weights: Sequence[Fraction]) -> tuple[Fraction, ...]:
    """A sum shared out by weights; the parts add up to it exactly. Even parts where all weigh nothing."""
    whole = sum(weights, Fraction(0))
    if not whole:
        return tuple(total / len(weights) for _ in weights)
    return tuple(total * weight / whole for weight in weights)


def units_to_break_even(fixed: Fraction, price: Fraction, variable: Fraction) -> int:
    """How many units, whole ones, bring in what was laid out: fixed / (price - variable), rounded up.

    Raises NeverPaid where the price is no higher than what each unit costs. Source: OpenStax, Principles of Accounting, volume 2, on the
    break-even point.
    """
    each = price - variable
    if each <= 0:
        raise NeverPaid("each one costs as much as it brings in, or more")
    return ceil(fixed / each)


def to_cents(money: Fraction) -> Decimal:
    """A sum of money rounded to the cent, halves away from nothing."""
    exact = Decimal(money.numerator) / Decimal(money.denominator)
    return exact.quantize(Decimal("0.01"), rounding=ROUND_HALF_UP)
