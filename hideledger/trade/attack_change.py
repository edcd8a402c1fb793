"""Whether a rate has changed from one month to another: so many of so many, month after month.

The common run rules (eight in a row on one side of the middle) need years of months. Here every place where the row could
be cut in two is looked at, and the likeliest one is weighed against what chance gives by itself when one may choose the
place: the exact test for one change in a row of binomial counts (Worsley, Biometrika 70 (1983) 455), with Fisher's p of the
two halves as the measure.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate
from math import comb

from hideledger.trade.attack import Table, as_likely_as, ways_of

Counted = tuple[int, int]  # hit, of so many


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A rate changed most likely at one place of a row.

    `at` is the index of the first count after it, `before` and `after` what stands on each side (hit, of so many), `p` the chance of so
    sharp a cut somewhere in the row when the rate never changed.
    """

    at: int
    before: Counted
    after: Counted
    p: float


def likeliest_change(row: Sequence[Counted]) -> Change | None:
    """Where a rate most likely changed. None where nothing could be told: fewer than two counts, or all or none hit.

    Raises ValueError where more were hit than counted.
    """
    if any(not 0 <= hit <= count for hit, count in row):
        raise ValueError("a rate is of some, and no more than all of them")
    hits, total = sum(hit for hit, _ in row), sum(count for _, count in row)
    if not 0 < hits < total:
        return None
    cuts: list[tuple[float, int, Counted]] = []
    hit = count = 0
    for index, (more_hit, more) in enumerate(row[:-1], 1):
        hit, count = hit + more_hit, count + more
        if 0 < count < total:
            cuts.append((_ps(hits, total, count)[hit], index, (hit, count)))
    if not cuts:
        return None
    least, at, before = min(cuts, key=lambda cut: cut[0])
    return Change(
        at=at,
        before=before,
        after=(hits - before[0], total - before[1]),
        p=_chance_of(row, hits, total, least),
    )


@lru_cache(maxsize=256)
def _ps(hits: int, total: int, count: int) -> dict[int, float]:
    """Fisher's p for each number of the hits that may lie in the first `count`."""
    least = max(0, hits - (total - count))
    margins = Table(hit=least, spared=count - least, other_hit=hits - least, other_spared=total - count - hits + least)
    first, ways = ways_of(margins)
    rising = sorted(ways)
    sums = list(accumulate(rising))
    return {
        first + index: sums[bisect_right(rising, as_likely_as(way)) - 1] / sums[-1] for index, way in enumerate(ways)
    }


def _chance_of(row: Sequence[Counted], hits: int, total: int, least: float) -> float:
    """The chance that some cut has so small a p: all ways to spread the hits over the row, less those where none has."""
    allowed = least * (1 + 1e-9)
    staying: dict[int, int] = {0: 1}  # hits so far -> ways to come by them without a cut as sharp
    so_far = 0
    for index, (_, count) in enumerate(row):
        so_far += count
        onwards: dict[int, int] = {}
        for have, ways in staying.items():
            for more in range(min(count, hits - have) + 1):
                onwards[have + more] = onwards.get(have + more, 0) + ways * comb(count, more)
        if index < len(row) - 1 and 0 < so_far < total:
            ps = _ps(hits, total, so_far)
            onwards = {have: ways for have, ways in onwards.items() if have in ps and ps[have] > allowed}
        staying = onwards
    every = comb(total, hits)
    return (every - staying.get(hits, 0)) / every
