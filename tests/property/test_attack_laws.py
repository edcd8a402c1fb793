"""Laws of the attack rates, tried on made-up counts."""

from __future__ import annotations

from math import isclose, isinf, isnan

from hypothesis import given
from hypothesis import strategies as st

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
from hideledger.trade.attack_change import likeliest_change
from hideledger.trade.attack_strata import pooled_risk, stratified_p

tables = st.builds(
    lambda a, b, c, d: Table(hit=a, spared=b, other_hit=c, other_spared=d),
    *(st.integers(0, 40) for _ in range(4)),
)
rows_of_counts = st.lists(
    st.integers(0, 12).flatmap(lambda count: st.tuples(st.integers(0, count), st.just(count))), min_size=1, max_size=6
)


def turned(table: Table) -> Table:
    """The exposed and the others change places."""
    return Table(hit=table.other_hit, spared=table.other_spared, other_hit=table.hit, other_spared=table.spared)


@given(tables)
def test_whom_one_calls_exposed_changes_no_p(table: Table) -> None:
    assert fisher_p(turned(table)) == fisher_p(table)
    assert smallest_p(turned(table)) == smallest_p(table)


@given(tables)
def test_no_table_goes_below_what_its_margins_allow(table: Table) -> None:
    assert 0 < smallest_p(table) <= fisher_p(table) <= 1


@given(tables)
def test_the_interval_holds_the_risk_and_turns_with_it(table: Table) -> None:
    interval, other = risk_interval(table), risk_interval(turned(table))
    assert (interval is None) == (other is None)
    if interval is None or other is None:
        return
    assert interval.low <= relative_risk(table) * (1 + 1e-12)
    assert relative_risk(table) <= interval.high * (1 + 1e-12)
    assert isclose(interval.low * other.high, 1, rel_tol=1e-9)


@given(tables)
def test_a_greater_risk_is_a_greater_share(table: Table) -> None:
    risk, difference = relative_risk(table), risk_difference(table)
    if isnan(risk) or isnan(difference):
        return
    assert (risk > 1) == (difference > 0) or isclose(risk, 1, rel_tol=1e-12)


@given(st.integers(1, 300).flatmap(lambda count: st.tuples(st.integers(0, count), st.just(count))))
def test_wilsons_interval_holds_the_rate_and_lies_within_nothing_and_all(rate: tuple[int, int]) -> None:
    hit, count = rate
    found = wilson(hit, count)
    assert 0 <= found.low <= hit / count <= found.high <= 1
    other = wilson(count - hit, count)
    assert isclose(found.low, 1 - other.high, rel_tol=1e-9, abs_tol=1e-12)


@given(st.lists(st.floats(0, 1), max_size=20))
def test_adjusting_only_raises_keeps_the_order_and_hangs_on_no_order(ps: list[float]) -> None:
    raised = adjusted(ps)
    assert all(before <= after <= 1 for before, after in zip(ps, raised, strict=True))
    pairs = sorted(zip(ps, raised, strict=True))
    assert [after for _, after in pairs] == sorted(raised)
    assert dict(zip(reversed(ps), adjusted(ps[::-1]), strict=True)) == dict(zip(ps, raised, strict=True))


@given(tables)
def test_one_stratum_is_the_table_itself(table: Table) -> None:
    assert isclose(stratified_p([table]), fisher_p(table), rel_tol=1e-12)
    pooled = pooled_risk([table])
    if pooled is None:
        assert isnan(relative_risk(table))
    elif isinf(pooled.risk):
        assert isinf(relative_risk(table))
    else:
        assert isclose(pooled.risk, relative_risk(table), rel_tol=1e-12)


@given(st.lists(tables, min_size=1, max_size=4), st.integers(1, 30), st.integers(1, 30))
def test_a_stratum_that_all_or_none_met_adds_nothing(strata: list[Table], hit: int, spared: int) -> None:
    more = [*strata, Table(hit=hit, spared=spared, other_hit=0, other_spared=0)]
    assert stratified_p(more) == stratified_p(strata)
    assert pooled_risk(more) == pooled_risk(strata)


@given(rows_of_counts)
def test_a_change_is_told_with_all_that_were_counted_on_its_two_sides(row: list[tuple[int, int]]) -> None:
    found = likeliest_change(row)
    hits, total = sum(hit for hit, _ in row), sum(count for _, count in row)
    if found is None:
        assert not 0 < hits < total or sum(count > 0 for _, count in row) < 2
        return
    assert 0 < found.at < len(row)
    assert found.before == (sum(h for h, _ in row[: found.at]), sum(c for _, c in row[: found.at]))
    assert found.after == (hits - found.before[0], total - found.before[1])
    assert 0 < found.p <= 1
    # choosing the place can only make a sharp cut likelier than it is at one place
    first, last = found.before, found.after
    table = Table(hit=first[0], spared=first[1] - first[0], other_hit=last[0], other_spared=last[1] - last[0])
    assert found.p >= fisher_p(table) * (1 - 1e-9)
