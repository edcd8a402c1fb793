"""Two things that travel together: what is left of one when only like is set beside like in the other."""

from __future__ import annotations

from dataclasses import dataclass

from hideledger.answers.slip_compare import LEVEL, Compared, Look, Outcomes, table_of
from hideledger.trade.attack import Table
from hideledger.trade.attack_strata import Pooled, pooled_risk, stratified_p

_CLOSE = 0.25  # correlation (phi) from which two things are said to travel together


@dataclass(frozen=True, slots=True, kw_only=True)
class Within:
    """`one` looked at apart among those that met `other` (`met`) and those that did not (`not_met`).

    `pooled` None: the strata say nothing of it, since all or none of either met it, or nobody slipped.
    """

    one: Compared
    other: Compared
    met: Table
    not_met: Table
    pooled: Pooled | None
    p: float

    @property
    def vanishes(self) -> bool:
        """Whether nothing beyond chance is left of it."""
        return self.pooled is None or self.p > LEVEL

    @property
    def says_nothing(self) -> bool:
        """Whether the two cannot be told apart in this book."""
        return self.pooled is None


def within_others(look: Look, outcomes: Outcomes) -> tuple[Within, ...]:
    """For each exposure that stands out, a look within the strongest other one that travels with it: one that stands out
    too, or would if it were the only one looked at.
    """
    strong = [one for one in look.found if one.p <= LEVEL and one.table.rate > one.table.other_rate]
    found = []
    for one in strong:
        if not one.stands_out:
            continue
        other = next((two for two in strong if two is not one and travels(one, two, outcomes)), None)
        if other is not None:
            found.append(within(one, other, outcomes))
    return tuple(found)


def travels(one: Compared, two: Compared, outcomes: Outcomes) -> bool:
    """Whether two exposures were met by much the same skins: their phi coefficient is a quarter or more."""
    first_met, second_met = one.exposure.met, two.exposure.met
    known = outcomes.counted - one.exposure.unsure - two.exposure.unsure
    both, first, second = (
        len(known & first_met & second_met),
        len((known & first_met) - second_met),
        len((known & second_met) - first_met),
    )
    none = len(known) - both - first - second
    spread = (both + first) * (second + none) * (both + second) * (first + none)
    return spread > 0 and (both * none - first * second) >= _CLOSE * spread**0.5


def within(one: Compared, other: Compared, outcomes: Outcomes) -> Within:
    """`one` within those that met `other` and those that did not."""
    beside = other.exposure
    met, not_met = (
        table_of(outcomes, one.exposure.unsure, one.exposure.met, among)
        for among in (beside.met, outcomes.counted - beside.met - beside.unsure)
    )
    strata = (met, not_met)
    return Within(
        one=one,
        other=other,
        met=met,
        not_met=not_met,
        pooled=pooled_risk(strata),
        p=stratified_p(strata),
    )
