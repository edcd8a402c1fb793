"""The arithmetic of the shelf and of the machine that pays for itself, against the figures of a textbook.

Source: OpenStax, Principles of Accounting, volume 1 (cost of goods sold and ending inventory by the perpetual method: first in first out, moving
average) and volume 2 (break-even point in units). The second break-even is from Accounting 211, Pennsylvania State University Pressbooks, 7.2:
its figures are published, the division is ours. The hide of three supplies is common practice, no source.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from hideledger.trade.costing import NeverPaid, shares, to_cents, units_to_break_even
from hideledger.trade.stock import Shelf

# July: 1st 150 units at 21, 5th 120 sold, 10th 225 at 27, 15th 180 sold, 25th 210 at 33. A price of None: sold.
JULY: list[tuple[int, int, int | None]] = [(1, 150, 21), (5, 120, None), (10, 225, 27), (15, 180, None), (25, 210, 33)]
AVAILABLE = 16_155


def july(*, lots: bool) -> tuple[Fraction, Shelf]:
    """What the sold ones cost, and the shelf at the end; each purchase a lot of its own, or none of them."""
    shelf, sold = Shelf(), Fraction(0)
    for day, units, price in JULY:
        if price is not None:
            shelf.put(Fraction(units), Fraction(units * price), str(day) if lots else "")
            continue
        taken = shelf.take(Fraction(units))
        assert taken.missing == 0
        sold += taken.cost
    return sold, shelf


def test_lots_go_first_in_first_out() -> None:
    sold, shelf = july(lots=True)
    assert [sold, shelf.cost, shelf.amount] == [7_200, 8_955, 285]
    assert sold + shelf.cost == AVAILABLE


def test_what_has_no_lot_goes_at_the_moving_average() -> None:
    """The book prints 7,253, having rounded each average to the cent; carried in full it is 7,252.94."""
    sold, shelf = july(lots=False)
    assert (to_cents(sold), to_cents(shelf.cost)) == (Decimal("7252.94"), Decimal("8902.06"))
    assert sold + shelf.cost == AVAILABLE
    assert abs(sold - 7_253) < 1


def test_the_averages_on_the_way_are_those_of_the_book() -> None:
    shelf = Shelf()
    shelf.put(Fraction(30), Fraction(630))
    shelf.put(Fraction(225), Fraction(6_075))
    assert round(float(shelf.cost / shelf.amount), 4) == 26.2941  # 6,705 / 255
    shelf.take(Fraction(180))
    shelf.put(Fraction(210), Fraction(6_930))
    assert round(float(shelf.cost / shelf.amount), 4) == 31.2353


@pytest.mark.parametrize(
    ("fixed", "price", "variable", "units"),
    [(18_000, 100, 20, 225), (20_000, 400, 250, 134)],
    ids=["OpenStax", "Accounting 211: 133.33, and a third of a unit is none"],
)
def test_break_even_in_whole_units(fixed: int, price: int, variable: int, units: int) -> None:
    assert units_to_break_even(Fraction(fixed), Fraction(price), Fraction(variable)) == units


def test_what_costs_as_much_as_it_brings_in_never_pays() -> None:
    with pytest.raises(NeverPaid):
        units_to_break_even(Fraction(18_000), Fraction(20), Fraction(20))


def test_a_hide_here_and_sent_out() -> None:
    """Common practice, no source: three supplies at 1.13, 1.35 and 0.16; sent out at 45 and 12 each way; 35 hides."""
    here = sum((Fraction(cost) for cost in ("1.13", "1.35", "0.16")), Fraction(0))
    away = Fraction(45) + 12 + 12
    assert here == Fraction("2.64")
    assert away == 69
    assert to_cents(35 * (away - here)) == Decimal("2322.60")


def test_a_sum_shared_out_adds_up_to_the_cent_and_beyond() -> None:
    parts = shares(Fraction(10), [Fraction(1), Fraction(1), Fraction(1)])
    assert sum(parts) == 10
    assert [to_cents(part) for part in parts] == [Decimal("3.33")] * 3
