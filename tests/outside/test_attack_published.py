"""Attack rates against published figures: each has its source beside it."""

from __future__ import annotations

from math import inf, isnan

import pytest

from hideledger.trade.attack import (
    Table,
    adjusted,
    fisher_p,
    relative_risk,
    risk_difference,
    risk_interval,
    smallest_p,
    wilson,
)
from tests.outside.oswego import FOODS, GUESTS

# Attack-rate table of the supper as printed (CDC case study 401-303): ill and well that ate, ill and well that did not, rates in
# per cent. Relative risk, its 95 % interval and Fisher's p: worked out from those counts with R (epitools, fisher.test).
PRINTED = {
    "baked ham": (29, 17, 17, 12, 63.04, 58.62, 1.0754, 0.7373, 1.5686, 0.80874),
    "spinach": (26, 17, 20, 12, 60.47, 62.50, 0.9674, 0.6742, 1.3883, 1),
    "mashed potato": (23, 14, 23, 14, 62.16, 62.16, 1.0000, 0.7008, 1.4269, 1),
    "cabbage salad": (18, 10, 28, 19, 64.29, 59.57, 1.0791, 0.7507, 1.5511, 0.80760),
    "jello": (16, 7, 30, 22, 69.57, 57.69, 1.2058, 0.8440, 1.7226, 0.44215),
    "rolls": (21, 16, 25, 13, 56.76, 65.79, 0.8627, 0.6002, 1.2401, 0.48176),
    "brown bread": (18, 9, 28, 20, 66.67, 58.33, 1.1429, 0.7988, 1.6351, 0.62215),
    "milk": (2, 2, 44, 27, 50.00, 61.97, 0.8068, 0.2978, 2.1861, 0.63781),
    "coffee": (19, 12, 27, 17, 61.29, 61.36, 0.9988, 0.6934, 1.4388, 1),
    "water": (13, 11, 33, 18, 54.17, 64.71, 0.8371, 0.5499, 1.2743, 0.44972),
    "cakes": (27, 13, 19, 16, 67.50, 54.29, 1.2434, 0.8568, 1.8044, 0.34200),
    "vanilla ice cream": (43, 11, 3, 18, 79.63, 14.29, 5.5741, 1.9383, 16.0293, 2.59745e-07),
    "chocolate ice cream": (25, 22, 20, 7, 53.19, 74.07, 0.7181, 0.5066, 1.0179, 0.08907),
    "fruit salad": (4, 2, 42, 27, 66.67, 60.87, 1.0952, 0.6031, 1.9888, 1),
}


def counted(food: str) -> Table:
    """The four counts of one food from the line list; guests who did not know are left out."""
    place = FOODS.index(food)
    cells = [(ill, ate[place]) for ill, ate in GUESTS if ate[place] != "?"]
    return Table(
        hit=cells.count((True, "Y")),
        spared=cells.count((False, "Y")),
        other_hit=cells.count((True, "N")),
        other_spared=cells.count((False, "N")),
    )


def table(hit: int, spared: int, other_hit: int, other_spared: int) -> Table:
    """Four counts in the order of a printed table."""
    return Table(hit=hit, spared=spared, other_hit=other_hit, other_spared=other_spared)


@pytest.mark.parametrize("food", FOODS)
def test_the_line_list_of_the_supper_gives_the_printed_table(food: str) -> None:
    hit, spared, other_hit, other_spared, rate, other_rate, risk, low, high, p = PRINTED[food]
    found = counted(food)
    assert found == table(hit, spared, other_hit, other_spared)
    assert 100 * found.rate == pytest.approx(rate, abs=0.005)
    assert 100 * found.other_rate == pytest.approx(other_rate, abs=0.005)
    assert relative_risk(found) == pytest.approx(risk, abs=5.1e-5)
    interval = risk_interval(found)
    assert interval is not None
    assert (interval.low, interval.high) == pytest.approx((low, high), abs=5.1e-5)
    assert fisher_p(found) == pytest.approx(p, rel=1e-5)


def test_only_the_vanilla_ice_cream_of_the_supper_stands_out() -> None:
    """Adjusted p over the 14 foods: `p.adjust(..., "BH")` of R."""
    raised = dict(zip(FOODS, adjusted([fisher_p(counted(food)) for food in FOODS]), strict=True))
    assert raised["vanilla ice cream"] == pytest.approx(3.63643e-06, rel=1e-5)
    assert raised["chocolate ice cream"] == pytest.approx(0.62348, rel=1e-4)
    assert all(raised[food] == 1 for food in FOODS if "ice cream" not in food)
    assert risk_difference(counted("vanilla ice cream")) == pytest.approx(0.65344, abs=5e-6)


@pytest.mark.parametrize(
    ("counts", "p"),
    [
        ((8, 2, 1, 5), 0.0349650),  # the page of scipy.stats.fisher_exact
        ((2, 7, 8, 2), 0.0230141),  # from here on R's fisher.test, as SciPy's own tests quote it
        ((5, 1, 10, 10), 0.1973244),
        ((5, 15, 20, 20), 0.0958044),
        ((5, 0, 1, 4), 0.04761904),
        ((0, 2, 6, 4), 0.4545454545),
        ((3, 1, 1, 3), 34 / 70),  # the lady tasting tea: Fisher, The Design of Experiments (1935), chapter 2
        ((4, 0, 0, 4), 2 / 70),
    ],
)
def test_fishers_test_gives_published_p(counts: tuple[int, int, int, int], p: float) -> None:
    assert fisher_p(table(*counts)) == pytest.approx(p, abs=6e-8)


@pytest.mark.parametrize(
    ("counts", "risk", "low", "high"),
    [
        ((16, 112, 24, 232), 1.333333, 0.7347317, 2.419628),  # R, epitools `riskratio`, as SciPy's own tests quote it
        # the page of scipy.stats.contingency.relative_risk
        ((27, 95, 44, 443), 2.4495156482861398, 1.5836990926700116, 3.7886786315466354),
    ],
)
def test_the_relative_risk_has_its_published_interval(
    counts: tuple[int, int, int, int], risk: float, low: float, high: float
) -> None:
    interval = risk_interval(table(*counts))
    assert interval is not None
    assert relative_risk(table(*counts)) == pytest.approx(risk, rel=1e-6)
    assert interval.low == pytest.approx(low, rel=1e-6)
    assert interval.high == pytest.approx(high, rel=1e-6)


def test_zero_cells_are_nothing_without_end_or_not_to_be_told() -> None:
    """As the tests of scipy.stats.contingency.relative_risk have them: 0, inf and nan, and no interval."""
    assert relative_risk(table(0, 10, 5, 15)) == 0
    assert relative_risk(table(5, 10, 0, 20)) == inf
    assert isnan(relative_risk(table(0, 10, 0, 20)))
    assert risk_interval(table(0, 10, 5, 15)) is None
    assert risk_interval(table(5, 10, 0, 20)) is None
    assert risk_interval(table(0, 10, 0, 20)) is None


@pytest.mark.parametrize(
    ("hit", "count", "low", "high"),
    [
        (3, 10, 0.1077913, 0.6032219),  # R's prop.test, as SciPy's own tests quote it
        (0, 10, 0, 0.2775328),
        (10, 10, 0.7224672, 1),
        (520, 1000, 0.4890177, 0.5508292),  # Hmisc `binconf`
        (43, 54, 0.67098, 0.88226),  # the supper: those who ate vanilla, those who did not, all
        (3, 21, 0.04981, 0.34636),
        (46, 75, 0.50017, 0.71545),
        (81, 263, 0.2553, 0.3662),  # Newcombe, Statistics in Medicine 17 (1998) 857, table I (from memory)
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ],
)
def test_wilsons_interval_is_the_published_one(hit: int, count: int, low: float, high: float) -> None:
    found = wilson(hit, count)
    exact = 5e-8 if hit in (3, 0, 10) and count == 10 else 5.1e-5 if count in (263, 148, 20, 29) else 6e-6
    assert (found.low, found.high) == pytest.approx((low, high), abs=exact)


def test_benjamini_and_hochberg_reject_four_of_their_fifteen() -> None:
    """Journal of the Royal Statistical Society B 57 (1995) 289, section 3; the adjusted p are R's `p.adjust`."""
    theirs = [
        *(0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344),
        *(0.0459, 0.3240, 0.4262, 0.5719, 0.6528, 0.7590, 1.0),
    ]
    raised = [
        *(0.0015, 0.003, 0.0095, 0.035625, 0.0603, 0.063857, 0.063857, 0.0645),
        *(0.0765, 0.486, 0.581182, 0.714875, 0.753231, 0.813214, 1),
    ]
    assert adjusted(theirs) == pytest.approx(raised, abs=5e-7)
    assert sum(p <= 0.05 for p in adjusted(theirs)) == 4


def test_the_adjusted_p_stand_in_the_order_they_were_given() -> None:
    """Second example: the page of the R package HDLSSkST."""
    found = adjusted([0.50, 0.01, 0.001, 0.69, 0.02, 0.05, 0.0025])
    assert [p <= 0.05 for p in found] == [False, True, True, False, True, False, True]


def test_three_of_twenty_can_show_no_less_than_one_in_1140() -> None:
    """There are C(20, 3) = 1140 ways to choose three of twenty."""
    least = min(
        smallest_p(table(min(3, exposed), max(0, exposed - 3), max(0, 3 - exposed), 20 - max(3, exposed)))
        for exposed in range(1, 20)
    )
    assert least == pytest.approx(1 / 1140)
