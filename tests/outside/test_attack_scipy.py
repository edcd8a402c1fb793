"""Attack rates against SciPy 1.17 and statsmodels 0.14 on made-up tables, small ones with empty cells among them."""

from __future__ import annotations

import random
import warnings
from math import inf, isinf, isnan

import pytest

pytest.importorskip("scipy")
pytest.importorskip("statsmodels")

from scipy import stats  # type: ignore[import-untyped, import-not-found, unused-ignore]
from scipy.stats.contingency import (  # type: ignore[import-untyped, import-not-found, unused-ignore]
    relative_risk as scipy_risk,
)
from statsmodels.stats.contingency_tables import (  # type: ignore[import-untyped, import-not-found, unused-ignore]
    StratifiedTable,
    Table2x2,
)
from statsmodels.stats.proportion import (  # type: ignore[import-untyped, import-not-found, unused-ignore]
    proportion_confint,
)

from hideledger.trade.attack import Table, adjusted, fisher_p, relative_risk, risk_interval, wilson
from hideledger.trade.attack_strata import pooled_risk, stratified_p


def made_up(made: random.Random, most: int) -> Table:
    """A table with counts up to `most`; in every third one a cell is empty."""
    cells = [made.randint(0, most) for _ in range(4)]
    if made.random() < 0.33:
        cells[made.randrange(4)] = 0
    return Table(hit=cells[0], spared=cells[1], other_hit=cells[2], other_spared=cells[3])


def rows(table: Table) -> list[list[int]]:
    """As SciPy takes it."""
    return [[table.hit, table.spared], [table.other_hit, table.other_spared]]


@pytest.mark.parametrize("hundred", range(10))
def test_fishers_p_and_the_relative_risk_are_scipys(hundred: int) -> None:
    """A thousand tables in all."""
    compared = 0
    for seed in range(100 * hundred, 100 * hundred + 100):
        made = random.Random(seed)
        table = made_up(made, made.choice((3, 8, 30, 120)))
        assert fisher_p(table) == pytest.approx(stats.fisher_exact(rows(table)).pvalue, rel=1e-6)
        if not table.exposed or not table.others:
            assert isnan(relative_risk(table))
            continue
        asked = scipy_risk(table.hit, table.exposed, table.other_hit, table.others)
        if isnan(asked.relative_risk) or isinf(asked.relative_risk):
            assert str(relative_risk(table)) == str(float(asked.relative_risk))
            assert risk_interval(table) is None
            continue
        assert relative_risk(table) == pytest.approx(asked.relative_risk, rel=1e-9)
        if table.hit and table.other_hit:
            compared += 1
            interval, theirs = risk_interval(table), asked.confidence_interval(0.95)
            assert interval is not None
            assert interval.low == pytest.approx(theirs.low, rel=1e-9)
            assert interval.high == pytest.approx(theirs.high, rel=1e-9)
            both = Table2x2(rows(table), shift_zeros=False).riskratio_confint()
            assert (interval.low, interval.high) == pytest.approx(both, rel=1e-9)
    assert compared > 40


def test_fishers_p_of_thousands_is_scipys() -> None:
    """Where binomials have hundreds of figures; SciPy is held to 1e-6 there, since it works with logarithms."""
    for counts in ((210, 2790, 160, 3040), (40, 960, 12, 8988), (700, 300, 650, 350)):
        table = Table(hit=counts[0], spared=counts[1], other_hit=counts[2], other_spared=counts[3])
        assert fisher_p(table) == pytest.approx(stats.fisher_exact(rows(table)).pvalue, rel=1e-6)


def test_wilsons_interval_is_theirs() -> None:
    for seed in range(300):
        made = random.Random(seed)
        count = made.randint(1, 200)
        hit = made.randint(0, count)
        found = wilson(hit, count)
        theirs = stats.binomtest(hit, count).proportion_ci(method="wilson")
        assert (found.low, found.high) == pytest.approx((theirs.low, theirs.high), rel=1e-9, abs=1e-12)
        both = proportion_confint(hit, count, method="wilson")
        assert (found.low, found.high) == pytest.approx(both, rel=1e-9, abs=1e-12)


def test_the_adjusted_p_are_scipys() -> None:
    for seed in range(300):
        made = random.Random(seed)
        ps = [round(made.random() ** 3, made.choice((1, 6))) for _ in range(made.randint(1, 40))]
        assert adjusted(ps) == pytest.approx(list(stats.false_discovery_control(ps)), rel=1e-9, abs=1e-15)


def test_what_is_left_within_strata_is_theirs() -> None:
    """The pooled relative risk of Mantel and Haenszel, on 300 sets of strata."""
    told = 0
    for seed in range(300):
        made = random.Random(seed)
        strata = [
            Table(hit=a, spared=b, other_hit=c, other_spared=d)
            for a, b, c, d in ([made.randint(0, 14) for _ in range(4)] for _ in range(made.randint(2, 5)))
        ]
        # a stratum with an empty side says nothing; statsmodels would divide by it
        asked = [table for table in strata if table.exposed and table.others and 0 < table.all_hit < table.count]
        if len(asked) < 2:
            continue
        told += 1
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            theirs = StratifiedTable([rows(table) for table in asked])
            pooled = pooled_risk(asked)
            assert pooled is not None
            if isinf(pooled.risk):
                assert theirs.riskratio_pooled == inf
            else:
                assert pooled.risk == pytest.approx(theirs.riskratio_pooled, rel=1e-9)
    assert told > 250


def test_the_pooled_interval_is_that_of_greenland_and_robins() -> None:
    """Their variance written out with numbers of its own: for one stratum it is the Katz interval, which SciPy has."""
    for seed in range(100):
        made = random.Random(seed)
        table = Table(
            hit=made.randint(1, 30),
            spared=made.randint(0, 30),
            other_hit=made.randint(1, 30),
            other_spared=made.randint(1, 30),
        )
        pooled = pooled_risk([table])
        assert pooled is not None and pooled.interval is not None
        theirs = scipy_risk(table.hit, table.exposed, table.other_hit, table.others).confidence_interval(0.95)
        assert (pooled.interval.low, pooled.interval.high) == pytest.approx((theirs.low, theirs.high), rel=1e-9)


def test_the_pooled_interval_holds_the_true_risk_about_nineteen_times_in_twenty() -> None:
    """What a 95 % interval promises, tried on 800 made-up sets of three strata in which the exposed are hit twice as often."""
    made = random.Random(41)
    held = told = 0
    for _ in range(800):
        strata = []
        for rate in (0.1, 0.2, 0.35):
            exposed, others = made.randint(20, 40), made.randint(20, 60)
            hit = sum(made.random() < 2 * rate for _ in range(exposed))
            other_hit = sum(made.random() < rate for _ in range(others))
            strata.append(Table(hit=hit, spared=exposed - hit, other_hit=other_hit, other_spared=others - other_hit))
        pooled = pooled_risk(strata)
        assert pooled is not None and pooled.interval is not None
        told += 1
        held += pooled.interval.low <= 2 <= pooled.interval.high
    # 0.95 give or take four times the standard error of 800 trials
    assert held / told == pytest.approx(0.95, abs=0.031)


def test_rabbits_and_penicillin() -> None:
    """Agresti, Categorical Data Analysis (1990), page 234, with the answer of R's `mantelhaen.test` (from memory): exact
    conditional p 0.03994."""
    strata = [
        Table(hit=a, spared=b, other_hit=c, other_spared=d)
        for a, b, c, d in ((0, 6, 0, 5), (3, 3, 0, 6), (6, 0, 2, 4), (5, 1, 6, 0), (2, 0, 5, 0))
    ]
    assert stratified_p(strata) == pytest.approx(0.03994, abs=5e-6)


def test_weight_and_heart_within_ages() -> None:
    """Confounding and effect measure modification, module of the Boston University School of Public Health (from memory):
    obesity and heart disease, crude 1.79 times, pooled over the two ages 1.44 times."""
    young = Table(hit=10, spared=90, other_hit=35, other_spared=465)
    old = Table(hit=36, spared=164, other_hit=25, other_spared=175)
    crude = Table(hit=46, spared=254, other_hit=60, other_spared=640)
    assert relative_risk(crude) == pytest.approx(1.79, abs=0.005)
    pooled = pooled_risk([young, old])
    assert pooled is not None
    assert pooled.risk == pytest.approx(1.44, abs=0.005)
