"""Like beside like: an exposure looked at within strata, so that what merely travelled with it is set aside."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, inf, log, sqrt

from hideledger.trade.attack import Z95, Interval, Table, share_no_likelier, ways_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Pooled:
    """A relative risk over several strata with its 95 % interval; `strata` how many of them said anything."""

    risk: float
    interval: Interval | None
    strata: int


def telling(strata: Sequence[Table]) -> list[Table]:
    """The strata that say something: some were exposed, some were not, and some but not all were hit."""
    return [table for table in strata if table.exposed and table.others and 0 < table.all_hit < table.count]


def pooled_risk(strata: Sequence[Table], z: float = Z95) -> Pooled | None:
    """Mantel and Haenszel's relative risk within strata: what is left of an exposure when like is set beside like.

    Variance of Greenland and Robins (Biometrics 41 (1985) 55). A stratum where all were exposed, or none, or nobody was
    hit, adds nothing; one where all were hit speaks for no difference. None where no stratum adds anything.
    """
    adding = [table for table in strata if table.exposed and table.others and table.all_hit]
    if not adding:
        return None
    over = sum(table.hit * table.others / table.count for table in adding)
    under = sum(table.other_hit * table.exposed / table.count for table in adding)
    if not under:
        return Pooled(risk=inf, interval=None, strata=len(adding))
    risk = over / under
    if not over:
        return Pooled(risk=risk, interval=None, strata=len(adding))
    scatter = sum(
        (table.exposed * table.others * table.all_hit - table.hit * table.other_hit * table.count) / table.count**2
        for table in adding
    )
    spread = z * sqrt(max(0.0, scatter) / (over * under))
    return Pooled(
        risk=risk,
        interval=Interval(low=exp(log(risk) - spread), high=exp(log(risk) + spread)),
        strata=len(adding),
    )


def stratified_p(strata: Sequence[Table]) -> float:
    """The exact conditional test within strata, two-sided; with one stratum it is Fisher's. 1 where nothing is said.

    The number hit among the exposed over all strata, given each stratum's margins; the share of all outcomes that are no
    likelier than the one seen (Agresti, Categorical Data Analysis (1990) 7.3; exact in whole numbers).
    """
    first, ways = 0, [1]
    for table in telling(strata):
        least, more = ways_of(table)
        first += least
        joined = [0] * (len(ways) + len(more) - 1)
        for index, one in enumerate(ways):
            for other, two in enumerate(more):
                joined[index + other] += one * two
        ways = joined
    seen = sum(table.hit for table in telling(strata))
    return share_no_likelier(ways, ways[seen - first])
