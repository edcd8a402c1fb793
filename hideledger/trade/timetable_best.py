"""The best timetable, and how far that is proved: good orders first, floors under the worth, and search for what is left between them."""

from __future__ import annotations

from dataclasses import dataclass

from hideledger.trade.timetable import Layout, Work, Worth
from hideledger.trade.timetable_alone import NEVER, Alone
from hideledger.trade.timetable_floors import floors
from hideledger.trade.timetable_orders import Manner, Orders
from hideledger.trade.timetable_search import Search

NODES = 60_000
_MOST_PASSES = 600
_PASSES_A_HIDE = 15
_HIDES_LAID_OUT = 24_000  # passes times hides: what a large shop may take


@dataclass(frozen=True, slots=True, kw_only=True)
class Best:
    """What was found. `layout` None: no timetable is known; with `proved` there is none. `floor`: no timetable is better in any of the three.

    `manner` is how a pass came to it, or near it: a good beginning for work that is nearly the same.
    """

    layout: Layout | None
    worth: Worth | None
    floor: Worth
    proved: bool
    nodes: int
    manner: Manner | None = None
    stuck: tuple[int, ...] = ()  # where there is no layout: the places of hides that were kept too long


def passes_for(work: Work) -> int:
    """How many orders are tried in a shop of that size: enough for small ones, and no more than patience allows for large ones."""
    hides = max(1, len(work.skins))
    return max(60, min(_MOST_PASSES, _PASSES_A_HIDE * hides, _HIDES_LAID_OUT // hides))


def best_layout(
    work: Work, *, nodes: int = NODES, passes: int | None = None, goal: Worth | None = None, like: Manner | None = None
) -> Best:
    """The best timetable that can be found with so many passes and steps of search; `proved` where nothing is better.

    With a `goal` it is broken off where a timetable is as good, or none can be; `like` is how like work was done well.
    """
    if not work.skins:
        return Best(layout=(), worth=(0, 0, 0), floor=(0, 0, 0), proved=True, nodes=0)
    alone = Alone(work)
    floor = floors(work, alone)
    if floor is None or floor[2] >= NEVER:
        return Best(layout=None, worth=None, floor=(0, 0, 0), proved=True, nodes=0)
    if goal is not None and floor > goal:
        return Best(layout=None, worth=None, floor=floor, proved=False, nodes=0)
    orders = Orders(work, alone, floor if goal is None else goal, passes_for(work) if passes is None else passes)
    orders.run(like)
    layout, worth, manner = orders.layout, orders.worth, orders.manner
    if worth == floor or nodes <= 0 or orders.ended:
        return Best(
            layout=layout, worth=worth, floor=floor, proved=worth == floor, nodes=0, manner=manner, stuck=orders.stuck
        )
    search = Search(work, alone, worth, nodes, floor)
    search.run()
    better = search.layout()
    if better is not None:
        layout, worth = better, search.best
    if search.ended and worth is not None:
        floor = worth
    return Best(
        layout=layout,
        worth=worth,
        floor=floor,
        proved=search.ended,
        nodes=nodes - search.left,
        manner=manner,
        stuck=() if layout is not None else orders.stuck,
    )
