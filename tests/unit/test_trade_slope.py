"""A few readings, one of them a misread: which way they go, and when they come to a limit."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hideledger.trade.slope import Slope, robust_slope


def test_one_misread_does_not_bend_it() -> None:
    """pH 1.8 rising 0.1 a day; the fourth was read as 4.0 (reckoned by hand)."""
    found = robust_slope([0, 1, 2, 3, 4, 5, 6], [1.8, 1.9, 2.0, 4.0, 2.2, 2.3, 2.4])
    assert found is not None
    assert found.slope == pytest.approx(0.1)
    assert found.level == pytest.approx(2.5, abs=0.11)


def test_a_steady_rise_meets_its_limit() -> None:
    """From 2.0 by 0.05 a day: 2.2 on the eighth day, four days after the last reading."""
    found = robust_slope([0, 1, 2, 3, 4], [1.8, 1.85, 1.9, 1.95, 2.0])
    assert found is not None
    assert found.direction == 1
    crossing = found.passes(2.2)
    assert crossing is not None
    assert (crossing.soonest, crossing.likely, crossing.latest) == pytest.approx((8, 8, 8))


def test_the_interval_of_the_slope_makes_one_of_the_crossing() -> None:
    found = robust_slope([0, 1, 2, 3, 4, 5, 6, 7], [40.0, 39.4, 38.9, 38.6, 37.9, 37.6, 36.9, 36.5])
    assert found is not None
    assert found.direction == -1
    crossing = found.passes(36)
    assert crossing is not None
    assert 7 < crossing.soonest < crossing.likely < crossing.latest


@pytest.mark.parametrize("count", range(4))
def test_fewer_than_four_readings_say_nothing(count: int) -> None:
    assert robust_slope(list(range(count)), [2.0 + i for i in range(count)]) is None


def test_readings_of_one_time_say_nothing() -> None:
    assert robust_slope([3, 3, 3, 3], [1.8, 1.9, 2.0, 2.1]) is None


def test_a_slope_that_may_be_none_meets_no_limit() -> None:
    found = robust_slope([0, 1, 2, 3, 4], [2.0, 2.1, 2.0, 2.1, 2.0])
    assert found is not None
    assert found.direction == 0
    assert found.passes(2.2) is None


def test_a_limit_behind_it_is_never_met() -> None:
    found = robust_slope([0, 1, 2, 3, 4], [1.8, 1.9, 2.0, 2.1, 2.2])
    assert found is not None
    assert found.passes(1.0) is None


def test_what_is_no_number_is_refused() -> None:
    with pytest.raises(ValueError, match="number"):
        robust_slope([0, 1, 2, float("nan")], [1, 2, 3, 4])
    with pytest.raises(ValueError, match="one time"):
        robust_slope([0, 1, 2], [1, 2, 3, 4])


readings = st.lists(st.tuples(st.integers(0, 500), st.integers(0, 140)), min_size=4, max_size=15)


@given(readings, st.randoms(use_true_random=False))
def test_the_order_of_writing_does_not_matter(rows: list[tuple[int, int]], shuffler: object) -> None:
    turned = list(rows)
    shuffler.shuffle(turned)  # type: ignore[attr-defined]
    one = robust_slope([time for time, _ in rows], [value / 10 for _, value in rows])
    other = robust_slope([time for time, _ in turned], [value / 10 for _, value in turned])
    assert one == other


@given(readings, st.integers(-5, 5))
def test_a_steady_drift_more_is_as_much_more_slope(rows: list[tuple[int, int]], drift: int) -> None:
    times = [time for time, _ in rows]
    one = robust_slope(times, [value for _, value in rows])
    other = robust_slope(times, [value + drift * time for time, value in rows])
    if one is None or other is None:
        assert one is other is None
    else:
        assert other.slope == pytest.approx(one.slope + drift, abs=1e-9)


@given(readings, st.integers(-50, 200))
def test_the_likely_crossing_lies_between_soonest_and_latest_and_after_the_last(
    rows: list[tuple[int, int]], limit: int
) -> None:
    found = robust_slope([time for time, _ in rows], [value / 10 for _, value in rows])
    crossing = None if found is None else found.passes(limit / 10)
    if found is not None and crossing is not None:
        assert found.last <= crossing.soonest <= crossing.likely <= crossing.latest


def test_the_window_holds_the_crossing_from_the_last_reading_and_the_doubt_of_the_instrument() -> None:
    """By hand: 0.2 a day for certain, the line at 2.10 and 2.2 the limit, so half a day; the last reading at 2.14 has 0.06 to go, 0.3 of a day; a doubt
    of 0.1 is half a day either way."""
    line = Slope(slope=0.2, least=0.2, most=0.2, last=10.0, level=2.10)
    crossing = line.passes(2.2, read=2.14, doubt=0.1)
    assert crossing is not None
    assert (crossing.soonest, crossing.likely, crossing.latest) == pytest.approx((10.3, 10.5, 10.5))
    assert (crossing.first, crossing.last) == pytest.approx((10.0, 11.0))
    assert not crossing.met


def test_a_line_at_its_limit_is_met_while_the_last_reading_is_not() -> None:
    """By hand: the line stands at 2.30 already, and the last reading has 0.06 to go at 0.2 a day."""
    line = Slope(slope=0.2, least=0.1, most=0.3, last=10.0, level=2.30)
    crossing = line.passes(2.2, read=2.14, doubt=0.1)
    assert crossing is not None
    assert crossing.met
    assert (crossing.soonest, crossing.likely, crossing.latest) == pytest.approx((10.0, 10.3, 10.6))
    assert line.passes(2.2) is None
    assert line.passes(2.1, read=2.14) is None
