"""Sums of money as one says them: exact until here, rounded to the cent when they are printed."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from hideledger.trade.costing import to_cents

NOTHING = Fraction(0)


def summed(several: Iterable[Fraction]) -> Fraction:
    """An exact sum of money, of one currency; nothing where there is none."""
    return sum(several, NOTHING)


def in_cents(money: Fraction) -> Fraction:
    """A sum as it is asked for or paid, to the cent, so that the lines of a bill add up to what stands below them."""
    return Fraction(to_cents(money))


def money_said(money: Fraction, sign: str) -> str:
    """`$12.30`; less than nothing `-$12.30`."""
    cents = to_cents(money)
    return f"-{sign}{-cents}" if cents < 0 else f"{sign}{abs(cents)}"


def money_record(money: Fraction) -> str:
    """A sum for a program: figures with two places, as text, so that nothing is lost on the way."""
    return str(to_cents(money))
