"""Attack rates: of those that met with something, how many fell to it, and of the others.

Counts in, figures out. Nothing here knows a hide: a table is the four counts of one exposure and one outcome.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import comb, exp, inf, log, nan, sqrt

# The normal deviate that leaves 2.5 % on each side.
Z95 = 1.959963984540054
# A table counts as no likelier than the one seen up to one in ten millions more, as in the Fisher test of R.
_MILLIONS = 10**7


@dataclass(frozen=True, slots=True, kw_only=True)
class Interval:
    """From `low` to `high`, both ends included."""

    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Four counts: `hit` and `spared` among those exposed, `other_hit` and `other_spared` among the others.

    Raises ValueError for a count below nothing.
    """

    hit: int
    spared: int
    other_hit: int
    other_spared: int

    def __post_init__(self) -> None:
        if min(self.hit, self.spared, self.other_hit, self.other_spared) < 0:
            raise ValueError("a count is no less than nothing")

    @property
    def exposed(self) -> int:
        """How many were exposed."""
        return self.hit + self.spared

    @property
    def others(self) -> int:
        """How many were not."""
        return self.other_hit + self.other_spared

    @property
    def all_hit(self) -> int:
        """How many were hit, exposed or not."""
        return self.hit + self.other_hit

    @property
    def count(self) -> int:
        """All of them."""
        return self.exposed + self.others

    @property
    def rate(self) -> float:
        """Share hit among those exposed; nan where nobody was."""
        return self.hit / self.exposed if self.exposed else nan

    @property
    def other_rate(self) -> float:
        """Share hit among the others; nan where there are none."""
        return self.other_hit / self.others if self.others else nan


def relative_risk(table: Table) -> float:
    """The exposed have so many times the others' rate.

    Inf where none of the others was hit, nan where nobody was hit or one of the two groups is empty.
    """
    if not table.exposed or not table.others or not table.all_hit:
        return nan
    return table.rate / table.other_rate if table.other_hit else inf


def risk_interval(table: Table, z: float = Z95) -> Interval | None:
    """The interval of the relative risk on the log scale (Katz et al., Biometrics 34 (1978) 469), 95 % unless `z` says else.

    None where it cannot be reckoned: nobody hit on one side, or an empty group.
    """
    if not table.hit or not table.other_hit:
        return None
    spread = z * sqrt(1 / table.hit - 1 / table.exposed + 1 / table.other_hit - 1 / table.others)
    middle = log(relative_risk(table))
    return Interval(low=exp(middle - spread), high=exp(middle + spread))


def risk_difference(table: Table) -> float:
    """The exposed rate less that of the others; nan where a group is empty."""
    return table.rate - table.other_rate


def fisher_p(table: Table) -> float:
    """Fisher's exact test, two-sided: the share of all tables with these margins that are no likelier than this one.

    Reckoned in whole numbers, so that no rounding decides which tables are as likely.
    """
    ways, seen = _ways(table)
    return share_no_likelier(ways, seen)


def smallest_p(table: Table) -> float:
    """The smallest p that Fisher's test could give with these margins: what so few cases can show at best."""
    ways, _ = _ways(table)
    return share_no_likelier(ways, min(ways))


def share_no_likelier(ways: list[int], seen: int) -> float:
    """The share of ways no likelier than `seen`: whole numbers throughout, since they soon grow past any float."""
    return sum(way for way in ways if way <= as_likely_as(seen)) / sum(ways)


def as_likely_as(seen: int) -> int:
    """The most ways that still count as no likelier than `seen`."""
    return seen * (_MILLIONS + 1) // _MILLIONS


def _ways(table: Table) -> tuple[list[int], int]:
    """In how many ways each table with these margins can come about, and this one."""
    first, ways = ways_of(table)
    return ways, ways[table.hit - first]


def ways_of(table: Table) -> tuple[int, list[int]]:
    """With these margins so many at the fewest could be hit among the exposed.

    That number, and in how many ways it and each greater one come about.
    """
    return _ways_with(table.exposed, table.others, table.all_hit)


@lru_cache(maxsize=1024)
def _ways_with(exposed: int, others: int, all_hit: int) -> tuple[int, list[int]]:
    first, last = max(0, all_hit - others), min(exposed, all_hit)
    ways = [comb(exposed, first) * comb(others, all_hit - first)]
    for hit in range(first, last):
        # each from the one before: exact, and much less work than two binomials of thousands
        ways.append(ways[-1] * (exposed - hit) * (all_hit - hit) // ((hit + 1) * (others - all_hit + hit + 1)))
    return first, ways


def wilson(hit: int, count: int, z: float = Z95) -> Interval:
    """The score interval of a rate (Wilson 1927; Newcombe, Statistics in Medicine 17 (1998) 857).

    Raises ValueError where nobody was counted, or more were hit than counted.
    """
    if count <= 0 or not 0 <= hit <= count:
        raise ValueError("a rate is of some, and no more than all of them")
    share = hit / count
    middle = share + z * z / (2 * count)
    spread = z * sqrt(share * (1 - share) / count + z * z / (4 * count * count))
    whole = 1 + z * z / count
    # the ends are exact where nobody, or everybody, was hit
    low = 0.0 if hit == 0 else (middle - spread) / whole
    high = 1.0 if hit == count else (middle + spread) / whole
    return Interval(low=low, high=high)


def adjusted(ps: list[float]) -> list[float]:
    """P values of several looks at once, each raised so that few of those called real are chance.

    Benjamini and Hochberg, Journal of the Royal Statistical Society B 57 (1995) 289; in the order given.
    """
    order = sorted(range(len(ps)), key=lambda index: ps[index])
    raised = [0.0] * len(ps)
    least = 1.0
    for rank in range(len(ps), 0, -1):
        index = order[rank - 1]
        least = min(least, ps[index] * (len(ps) / rank))  # never below the p itself, not even by rounding
        raised[index] = least
    return raised
