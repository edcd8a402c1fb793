"""Which of many things the skins met with goes with the slip: every one is a table of four counts, and all are weighed at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import isnan

from hideledger.model.entry import Entry
from hideledger.trade.attack import Interval, Table, adjusted, fisher_p, relative_risk, risk_interval, smallest_p

FEWEST = 2  # fewer than two on a side is one skin's own story
LEVEL = 0.05

# What is named first when several things were met by the very same skins: that which can be looked at or changed.
SORTS = (
    "lot",
    "bath",
    "load",
    "box",
    "raw",
    "before the door",
    "salt",
    "frost",
    "worn bath",
    "finding",
    "hand",
    "condition",
    "kind",
    "process",
    "owner",
    "day",
)

# What has a side of its own only when nothing that skins lay in or were given explains it: whoever brought or handled them
# shared it with the others.
PEOPLE = frozenset({"owner", "hand", "day"})
# What the shop cannot change, too: it came with the skin.
GIVEN = PEOPLE | {"kind", "condition"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Exposure:
    """Some skins met with one thing, and the others did not.

    `sort` is one of SORTS, `name` says the thing (`lot C-31 (citric acid)`), `those` says who met it (`skins from lot C-31`).

    The skins stand in one order for all exposures: `met` are the places of those that met it, `unsure` of those of whom
    nobody can tell; all others did not. `lines` are the lines of the book that tell of it, `said` what findings say of it.
    """

    sort: str
    name: str
    those: str
    met: frozenset[int]
    unsure: frozenset[int] = frozenset()
    lines: tuple[Entry, ...] = ()
    said: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """An exposure with its table: `same` were met by the very same skins, `against` by the very others.

    `unknown` is how many skins were left out because nobody can tell; `adjusted` is p raised for all that were looked at.
    """

    exposure: Exposure
    same: tuple[Exposure, ...]
    against: tuple[Exposure, ...]
    table: Table
    unknown: int
    risk: float
    interval: Interval | None
    p: float
    adjusted: float

    @property
    def stands_out(self) -> bool:
        """Whether more of those slipped than chance lets one expect from so many looks."""
        return self.adjusted <= LEVEL and self.table.rate > self.table.other_rate

    @property
    def spares(self) -> bool:
        """Whether fewer of those slipped than chance lets one expect."""
        return self.adjusted <= LEVEL and self.table.rate < self.table.other_rate


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """All comparisons, the most telling first; `smallest` is the least p that any of these numbers could have given."""

    found: tuple[Compared, ...]
    smallest: float | None

    @property
    def looks(self) -> int:
        """How many were looked at."""
        return len(self.found)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcomes:
    """By place in the order of the skins: `hit` are those that slipped, `counted` those whose outcome is known."""

    hit: frozenset[int]
    counted: frozenset[int]


_Group = tuple[frozenset[int], frozenset[int]]  # of those whose outcome is known: who is unsure, who met it


def compare(outcomes: Outcomes, exposures: Sequence[Exposure]) -> Look:
    """Weighs each exposure against the outcome.

    What fewer than two met, or all but one, is not looked at. What the very same skins met is one look, and so is what the
    very others met.
    """
    groups: dict[_Group, list[Exposure]] = {}
    for exposure in exposures:
        unsure, met = exposure.unsure & outcomes.counted, exposure.met & outcomes.counted
        if min(len(met), len(outcomes.counted) - len(unsure) - len(met)) >= FEWEST:
            groups.setdefault((unsure, met), []).append(exposure)
    opposite = _opposites(outcomes, groups)
    rows: list[tuple[Table, list[Exposure], list[Exposure], int]] = []
    done: set[_Group] = set()
    for group, several in groups.items():
        if group in done:
            continue
        table, other = table_of(outcomes, *group), opposite.get(group)
        if other is None:
            rows.append((table, several, [], len(group[0])))
            continue
        done.add(other)
        turned = table.other_rate > table.rate or (
            table.other_rate == table.rate and _first(groups[other]) < _first(several)
        )
        if turned:
            rows.append((table_of(outcomes, *other), groups[other], several, len(group[0])))
        else:
            rows.append((table, several, groups[other], len(group[0])))
    ps = [fisher_p(table) for table, *_ in rows]
    found = [
        _compared(table, several, others, unknown, p, raised)
        for (table, several, others, unknown), p, raised in zip(rows, ps, adjusted(ps), strict=True)
    ]
    found.sort(key=_order)
    return Look(found=tuple(found), smallest=min((smallest_p(table) for table, *_ in rows), default=None))


def _opposites(outcomes: Outcomes, groups: dict[_Group, list[Exposure]]) -> dict[_Group, _Group]:
    """For each group the one that was met by the very others, where there is one."""
    sized: dict[tuple[frozenset[int], int], list[_Group]] = {}
    for group in groups:
        sized.setdefault((group[0], len(group[1])), []).append(group)
    found: dict[_Group, _Group] = {}
    for group in groups:
        unsure, met = group
        left = len(outcomes.counted) - len(unsure) - len(met)
        for other in sized.get((unsure, left), ()):
            if met.isdisjoint(other[1]):
                found[group] = other
    return found


def table_of(
    outcomes: Outcomes, unsure: frozenset[int], met: frozenset[int], among: frozenset[int] | None = None
) -> Table:
    """The four counts; only `among` these skins where that is said."""
    counted, hit = outcomes.counted, outcomes.hit
    if among is not None:
        counted, hit = counted & among, hit & among
    met, unsure = met & counted, unsure & counted
    struck, other_struck = len(met & hit), len(hit - unsure - met)
    return Table(
        hit=struck,
        spared=len(met) - struck,
        other_hit=other_struck,
        other_spared=len(counted) - len(unsure) - len(met) - other_struck,
    )


def _first(exposures: Sequence[Exposure]) -> int:
    return min(_rank(exposure) for exposure in exposures)


def _rank(exposure: Exposure) -> int:
    return SORTS.index(exposure.sort)


def _compared(
    table: Table, several: list[Exposure], others: list[Exposure], unknown: int, p: float, raised: float
) -> Compared:
    head, *same = sorted(several, key=lambda one: (_rank(one), several.index(one)))
    return Compared(
        exposure=head,
        same=tuple(same),
        against=tuple(sorted(others, key=lambda one: (_rank(one), others.index(one)))),
        table=table,
        unknown=unknown,
        risk=relative_risk(table),
        interval=risk_interval(table),
        p=p,
        adjusted=raised,
    )


def _order(one: Compared) -> tuple[object, ...]:
    """The order of `ordered` (strata), without what it says of things that travel together.

    Where adjusting has made two alike the p itself decides before the risk, which runs wild where few met a thing.
    """
    more = one.table.rate > one.table.other_rate
    risk = 0.0 if isnan(one.risk) else one.risk
    return (not more, one.adjusted, one.p, one.exposure.sort in GIVEN, -risk, _rank(one.exposure), one.exposure.name)
