"""Whether a rate has changed, by hand and by chance itself: all spreadings of few hits written out one by one."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest

from hideledger.trade.attack import Table, fisher_p
from hideledger.trade.attack_change import likeliest_change


def least_p(row: list[tuple[int, int]]) -> float:
    """The least of Fisher's p over all places where the row can be cut in two."""
    found = 1.0
    for at in range(1, len(row)):
        before, after = row[:at], row[at:]
        hit, other = sum(h for h, _ in before), sum(h for h, _ in after)
        table = Table(
            hit=hit,
            spared=sum(c for _, c in before) - hit,
            other_hit=other,
            other_spared=sum(c for _, c in after) - other,
        )
        found = min(found, fisher_p(table))
    return found


@pytest.mark.parametrize(
    "row", [[(0, 3), (0, 3), (3, 4)], [(1, 2), (0, 4), (1, 3), (1, 2)], [(0, 5), (4, 5)], [(2, 3), (0, 4), (2, 3)]]
)
def test_its_chance_is_the_share_of_all_spreadings_with_so_sharp_a_cut(row: list[tuple[int, int]]) -> None:
    """Worsley's conditional test (Biometrika 70 (1983) 455), worked out the long way: every choice of the skins that slipped."""
    sizes = [count for _, count in row]
    ends = [sum(sizes[:at]) for at in range(len(sizes) + 1)]
    hits = sum(hit for hit, _ in row)
    as_sharp = every = 0
    for chosen in combinations(range(ends[-1]), hits):
        spread = [(sum(first <= one < last for one in chosen), last - first) for first, last in pairwise(ends)]
        every += 1
        as_sharp += least_p(spread) <= least_p(row) * (1 + 1e-9)
    found = likeliest_change(row)
    assert found is not None
    assert found.p == pytest.approx(as_sharp / every, rel=1e-12)


def test_a_jump_is_found_where_it_is() -> None:
    found = likeliest_change([(1, 20), (0, 25), (9, 22), (8, 20)])
    assert found is not None
    assert (found.at, found.before, found.after) == (2, (1, 45), (17, 42))
    assert found.p < 0.001


def test_a_steady_rate_shows_no_change() -> None:
    found = likeliest_change([(2, 20), (3, 25), (2, 22), (2, 20)])
    assert found is not None
    assert found.p > 0.5


@pytest.mark.parametrize("row", [[], [(1, 4)], [(0, 4), (0, 5)], [(4, 4), (5, 5)], [(0, 0), (2, 5)]])
def test_with_one_month_or_with_none_and_all_nothing_can_be_told(row: list[tuple[int, int]]) -> None:
    assert likeliest_change(row) is None


def test_more_hit_than_counted_is_refused() -> None:
    with pytest.raises(ValueError, match="no more than all"):
        likeliest_change([(1, 4), (5, 4)])
