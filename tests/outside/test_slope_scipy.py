"""The robust slope against SciPy 1.17, `scipy.stats.theilslopes` (Sen's estimator, J. Am. Stat. Assoc. 63, 1968, 1379, with his interval)."""

from __future__ import annotations

import random

import pytest

pytest.importorskip("scipy")

from scipy import stats  # type: ignore[import-untyped, import-not-found, unused-ignore]

from hideledger.trade.slope import robust_slope


@pytest.mark.parametrize("hundred", range(10))
def test_slope_and_interval_are_scipys(hundred: int) -> None:
    """A thousand sets of made-up readings: few and many, with ties in the times and, rounded like pH on a strip, in the values."""
    compared = 0
    for seed in range(100 * hundred, 100 * hundred + 100):
        made = random.Random(seed)
        count = made.randint(4, 25)
        times = [round(made.uniform(0, 10), made.choice((0, 1, 6))) for _ in range(count)]
        values = [round(1.8 + 0.05 * time + made.gauss(0, 0.3), made.choice((0, 1, 6))) for time in times]
        confidence = made.choice((0.8, 0.9, 0.95, 0.99))
        found = robust_slope(times, values, confidence=confidence)
        if len(set(times)) < 2:
            assert found is None
            continue
        compared += 1
        asked = stats.theilslopes(values, times, alpha=confidence)
        assert found is not None
        assert found.slope == pytest.approx(asked.slope, rel=1e-9, abs=1e-12)
        assert found.least == pytest.approx(asked.low_slope, rel=1e-9, abs=1e-12)
        assert found.most == pytest.approx(asked.high_slope, rel=1e-9, abs=1e-12)
        assert found.level == pytest.approx(asked.intercept + asked.slope * max(times), rel=1e-9, abs=1e-9)
    assert compared > 90
