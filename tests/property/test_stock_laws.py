"""What holds of any shelf, whatever was bought, used and counted."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from hideledger.trade.costing import shares
from hideledger.trade.stock import Shelf

AMOUNTS = st.fractions(min_value=0, max_value=500, max_denominator=64)
BOUGHT = st.fractions(min_value=Fraction(1, 64), max_value=500, max_denominator=64)  # nobody buys nothing
PRICES = st.one_of(st.none(), st.fractions(min_value=0, max_value=90, max_denominator=100))
LOTS = st.sampled_from(["", "S-1", "s-1", "S-2"])


@dataclass(frozen=True)
class Deed:
    """One line: `in` at a price, `out`, or `count`."""

    sort: str
    amount: Fraction
    lot: str
    price: Fraction | None


DEEDS = st.lists(
    st.one_of(
        st.builds(Deed, sort=st.just("in"), amount=BOUGHT, lot=LOTS, price=PRICES),
        st.builds(Deed, sort=st.sampled_from(["out", "count"]), amount=AMOUNTS, lot=LOTS, price=PRICES),
    ),
    max_size=10,
)


@dataclass
class Sums:
    """What came, what went, and what was told beside it."""

    came: Fraction = Fraction(0)
    went: Fraction = Fraction(0)
    paid: Fraction = Fraction(0)
    spent: Fraction = Fraction(0)
    missing: Fraction = Fraction(0)
    wanted: Fraction = Fraction(0)


def done(deeds: list[Deed], *, halves: bool = False) -> tuple[Shelf, Sums]:
    """All the lines; with `halves` each purchase is made in two of a third and two thirds."""
    shelf, sums = Shelf(), Sums()
    for deed in deeds:
        if deed.sort == "in":
            for part in (Fraction(1, 3), Fraction(2, 3)) if halves else (Fraction(1),):
                shelf.put(deed.amount * part, None if deed.price is None else deed.price * part, deed.lot)
            sums.came += deed.amount
            sums.paid += deed.price or 0
        elif deed.sort == "out":
            taken = shelf.take(deed.amount, deed.lot)
            sums.wanted += deed.amount
            sums.went += taken.amount
            sums.spent += taken.cost
            sums.missing += taken.missing
        else:
            settled = shelf.count(deed.amount, deed.lot, deed.price)
            sums.went += settled.lost.amount
            sums.spent += settled.lost.cost
            sums.came += settled.found
            sums.paid += settled.found * (deed.price or 0)
            assert not (settled.lost.amount and settled.found)
            assert settled.lost.missing == 0
        for heap in shelf.heaps:
            assert heap.amount >= 0
            assert 0 <= heap.unpriced <= heap.amount
            assert heap.cost >= 0
    return shelf, sums


@given(DEEDS)
def test_what_is_not_there_is_told_and_never_less_than_nothing_lies_there(deeds: list[Deed]) -> None:
    shelf, sums = done(deeds)
    assert shelf.amount >= 0
    assert sums.came - sums.went == shelf.amount
    taken_only = sum((deed.amount for deed in deeds if deed.sort == "out"), Fraction(0))
    assert sums.wanted == taken_only
    assert sums.missing <= sums.wanted


@given(DEEDS)
def test_what_was_paid_is_spent_or_still_there(deeds: list[Deed]) -> None:
    shelf, sums = done(deeds)
    assert sums.paid == sums.spent + shelf.cost


@given(DEEDS)
def test_a_purchase_made_in_two_changes_nothing(deeds: list[Deed]) -> None:
    whole, sums = done(deeds)
    halved, others = done(deeds, halves=True)
    assert [(h.lot, h.amount, h.cost, h.unpriced) for h in whole.heaps] == [
        (h.lot, h.amount, h.cost, h.unpriced) for h in halved.heaps
    ]
    assert sums == others


@given(AMOUNTS, st.lists(AMOUNTS, min_size=1, max_size=9))
def test_a_sum_shared_out_adds_up_to_itself(total: Fraction, weights: list[Fraction]) -> None:
    parts = shares(total, weights)
    assert sum(parts) == total
    assert all(part >= 0 for part in parts)


@given(DEEDS, AMOUNTS)
def test_after_a_count_as_much_lies_there_as_was_counted(deeds: list[Deed], counted: Fraction) -> None:
    shelf, _ = done(deeds)
    shelf.count(counted)
    assert shelf.amount == counted
