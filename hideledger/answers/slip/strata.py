"""Two things that travel together: what is left of one when only like is set beside like in the other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hideledger.answers.slip.compare import GIVEN, LEVEL, Compared, Look, Outcomes, table_of
from hideledger.trade.attack import Table
from hideledger.trade.attack_strata import Pooled, pooled_risk, stratified_p

_TOO_WIDE = 1000.0  # an interval from end to end of three powers of ten says nothing of how many times

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
        """Whether nothing beyond chance is left of it that goes with more."""
        return self.pooled is None or self.p > LEVEL or self.pooled.risk <= 1

    @property
    def turned(self) -> bool:
        """Whether, like beside like, fewer of those that met it slipped, and that beyond chance."""
        return self.pooled is not None and self.p <= LEVEL and self.pooled.risk < 1

    @property
    def untold(self) -> bool:
        """Whether what is left is so wide, or within so few, that the two cannot be told apart yet."""
        return self.vanishes and (self.pooled is None or not self.narrow)

    @property
    def narrow(self) -> bool:
        """Whether the pooled interval is narrow enough to be worth saying."""
        interval = None if self.pooled is None else self.pooled.interval
        return interval is not None and interval.low > 0 and interval.high < _TOO_WIDE * interval.low


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Of what stands out: `leading` by itself, the first to be named first; `along` what something else explains.

    `tied` are those of `along` that explain what leads just as well: the two cannot be told apart.
    """

    leading: tuple[Compared, ...] = ()
    along: tuple[Within, ...] = ()
    tied: tuple[Within, ...] = ()

    def tied_to(self, one: Compared) -> tuple[Within, ...]:
        """What cannot be told apart from one that leads."""
        return tuple(look for look in self.tied if look.other is one)

    def beside(self, one: Compared) -> tuple[Within, ...]:
        """A reader cannot tell these apart from one that leads.

        They are what is tied to it, and what so few met without it, or not with it, that nothing can be said of it alone.
        """
        return tuple(
            look
            for look in self.along
            if look.other is one and (look.untold or any(look is tied for tied in self.tied))
        )


def set_apart(look: Look, outcomes: Outcomes) -> Standing:
    """What leads among all that stands out: nothing that is within chance once like is set beside like in another one.

    Where each of two explains the other, what came with the skin comes after what the shop can change, and of things the one that explains more of those
    that slipped leads, then the wider.
    """
    strong = [one for one in look.found if one.stands_out]
    # A thing that explains as much as whoever brought it is heard beside him, though it may not stand out by itself.
    people = [one for one in strong if _is_given(one)]
    beside = [
        thing
        for thing in look.found
        if not thing.stands_out and any(_explains_as_much(thing, one, outcomes) for one in people)
    ]
    return leading_among([*strong, *beside], outcomes)


def ordered(found: Sequence[Compared], outcomes: Outcomes) -> tuple[Compared, ...]:
    """Every list of `slip` is told in this order: what goes with more comes before what goes with fewer.

    Then the least p after all looks, then the least p alone; of equals what the shop can change (a bath, a lot, a step) before what came
    with the skin (its owner, its kind), then the greatest risk, then the order of SORTS, then the name.

    And nobody stands before a thing that explains as much: an owner, a hand, a day, a kind or a condition comes right behind
    the last of the things that travel with it, were met by as many that slipped, are beyond chance by themselves, and leave
    nothing beyond chance of it once like is set beside like.
    """
    row = list(found)
    for one in [each for each in found if _is_given(each) and each.table.rate > each.table.other_rate]:
        behind = [thing for thing in row[row.index(one) + 1 :] if _explains_as_much(thing, one, outcomes)]
        if behind:
            row.remove(one)
            row.insert(row.index(behind[-1]) + 1, one)
    return tuple(row)


def _explains_as_much(thing: Compared, one: Compared, outcomes: Outcomes) -> bool:
    return (
        not _is_given(thing)
        and thing.p <= LEVEL
        and thing.table.rate > thing.table.other_rate
        and thing.table.hit >= one.table.hit
        and travels(one, thing, outcomes)
        and within(one, thing, outcomes).vanishes
    )


def leading_among(strong: Sequence[Compared], outcomes: Outcomes) -> Standing:
    """The same among any comparisons that go with more."""
    looks = {
        (id(one), id(other)): within(one, other, outcomes)
        for one in strong
        for other in strong
        if one is not other and travels(one, other, outcomes)
    }

    def gone(one: Compared, other: Compared) -> bool:
        seen = looks.get((id(one), id(other)))
        return seen is not None and seen.vanishes

    order = sorted(strong, key=_is_given)
    free = [one for one in order if not any(gone(one, other) and not gone(other, one) for other in order)]
    leading: list[Compared] = []
    for one in sorted(free or order, key=_explains):
        if not any(gone(one, other) for other in leading):
            leading.append(one)
    along, tied = [], []
    for one in strong:
        by = (
            []
            if one in leading
            else [other for other in leading if gone(one, other)] or [other for other in order if gone(one, other)]
        )
        if by:
            along.append(looks[id(one), id(by[0])])
            if gone(by[0], one):
                tied.append(along[-1])
    leading.sort(key=lambda one: (_is_given(one), strong.index(one)))
    return Standing(leading=tuple(leading), along=tuple(along), tied=tuple(tied))


def _is_given(one: Compared) -> bool:
    return one.exposure.sort in GIVEN


def _explains(one: Compared) -> tuple[bool, int, int]:
    return (_is_given(one), -one.table.hit, -one.table.exposed)


def within_others(look: Look, outcomes: Outcomes) -> tuple[Within, ...]:
    """Each exposure that stands out is looked at within the strongest other one that travels with it.

    That is one that stands out too, or would if it were the only one looked at.
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
