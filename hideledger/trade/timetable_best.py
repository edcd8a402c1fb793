"""The best timetable, and how far that is proved: rules of thumb first, floors under the worth, and search for what is left between them."""

from __future__ import annotations

from dataclasses import dataclass

from hideledger.trade.timetable import Layout, Work, Worth, days_late, faults_of, worth_of
from hideledger.trade.timetable_alone import NEVER, Alone
from hideledger.trade.timetable_floors import floors
from hideledger.trade.timetable_lists import LoadByLoad
from hideledger.trade.timetable_search import Search

NODES = 300_000
PASSES = 60
_ROUNDS = 5  # how often the order is changed in favour of those who came out late


@dataclass(frozen=True, slots=True, kw_only=True)
class Best:
    """What was found. `layout` None: no timetable is known; with `proved` there is none. `floor`: no timetable is better in any of the three."""

    layout: Layout | None
    worth: Worth | None
    floor: Worth
    proved: bool
    nodes: int


def best_layout(work: Work, *, nodes: int = NODES, passes: int = PASSES, enough: int = -1) -> Best:
    """The best timetable that can be found with so many passes by rule of thumb and steps of search; `proved` where nothing is better.

    With `enough` it is broken off as soon as no more than so many promises are missed.
    """
    if not work.skins:
        return Best(layout=(), worth=(0, 0, 0), floor=(0, 0, 0), proved=True, nodes=0)
    alone = Alone(work)
    floor = floors(work, alone)
    if floor is None or floor[2] >= NEVER:
        return Best(layout=None, worth=None, floor=(0, 0, 0), proved=True, nodes=0)
    thumb = _by_thumb(work, _Thumb(work, alone, floor, passes, enough))
    layout, worth = thumb.layout, thumb.worth
    if worth == floor or nodes <= 0 or thumb.ended:
        return Best(layout=layout, worth=worth, floor=floor, proved=worth == floor, nodes=0)
    search = Search(work, alone, worth, nodes, floor)
    search.run()
    better = search.layout()
    if better is not None:
        layout, worth = better, search.best
    if search.ended and worth is not None:
        floor = worth
    return Best(layout=layout, worth=worth, floor=floor, proved=search.ended, nodes=nodes - search.left)


def _by_thumb(work: Work, best: _Thumb) -> _Thumb:
    """The best of many passes: all with one patience first, then with another for one sort of mates after the other."""
    span = max(1, work.moments[-1] - work.moments[0])
    ways = [span // 12, span * 4, span // 4, span // 40, 0]
    mates = sorted({spell.mates for skin in work.skins for spell in skin.spells if spell.tubs})
    by_need = _by_need(work, best.alone)
    by_size = sorted(
        range(len(work.skins)), key=lambda one: (-work.skins[one].counts, -work.skins[one].weight, by_need[one])
    )
    for patience in ways:
        best.tries(dict.fromkeys(mates, patience), by_need, fill=1.0, roomy=True)
    for patience in ways[:3]:
        best.tries(dict.fromkeys(mates, patience), _ranks(by_size), fill=0.7, roomy=True)
    for one in mates:
        for patience in ways if best.worth is not None else ():
            best.tries({**best.patience, one: patience}, best.rank, fill=best.fill, roomy=best.roomy)
    if best.worth is not None:
        best.tries(best.patience, best.rank, fill=best.fill, roomy=False)
    return best


class _Thumb:
    """The best pass so far, and with which patience, order and choice of vessel it came about."""

    def __init__(self, work: Work, alone: Alone, floor: Worth, passes: int, enough: int) -> None:
        self.work, self.alone, self.floor = work, alone, floor
        self.passes, self.enough = passes, enough
        self.layout: Layout | None = None
        self.worth: Worth | None = None
        self.patience: dict[str, int] = {}
        self.rank: list[int] = []
        self.roomy = True
        self.fill = 1.0

    @property
    def ended(self) -> bool:
        """Whether nothing better is wanted, or possible."""
        return self.worth is not None and (self.worth == self.floor or self.worth[0] <= self.enough)

    def tries(self, patience: dict[str, int], rank: list[int], *, fill: float, roomy: bool) -> None:
        """One pass, and again with those in front that came out late, as long as that may help."""
        rank = list(rank)
        for _ in range(_ROUNDS):
            if self.ended or self.passes <= 0:
                return
            self.passes -= 1
            found = LoadByLoad(
                work=self.work, alone=self.alone, patience=patience, order=rank, fill=fill, roomy=roomy
            ).lay_out()
            if found is None:
                return
            worth = worth_of(self.work, found)
            if (self.worth is None or worth < self.worth) and not faults_of(self.work, found):
                self.layout, self.worth = found, worth
                self.patience, self.rank, self.fill, self.roomy = patience, list(rank), fill, roomy
            late = [i for i, visits in enumerate(found) if days_late(self.work, self.work.skins[i], visits[-1].end)]
            if not late:
                return
            for place in late:
                rank[place] -= len(rank)


def _by_need(work: Work, alone: Alone) -> list[int]:
    """Ranks by how little time is left between the earliest it could be done and the promise; those without a promise last, by when they could be done."""

    def need(place: int) -> tuple[int, int, int]:
        skin, done = work.skins[place], alone.alone_done(place)
        if skin.due is None:
            return (1, done, place)
        return (0, skin.due - work.days[done] if done < NEVER else 0, place)

    return _ranks(sorted(range(len(work.skins)), key=need))


def _ranks(order: list[int]) -> list[int]:
    ranks = [0] * len(order)
    for rank, place in enumerate(order):
        ranks[place] = rank
    return ranks
