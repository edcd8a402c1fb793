"""Each hide's way beside its process: which line judges which step, and what was never written."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from hideledger.model.process import Process, Step
from hideledger.model.shop import ShopBook, held_on
from hideledger.shopfloor.afoot import HideAfoot, Walk
from hideledger.shopfloor.alignment import Slot, align
from hideledger.shopfloor.life import HideLife, Missing, Stay, StepMark
from hideledger.shopfloor.tanned import ENDS, leather_from


class Route:
    """A version of a process, ready for laying ways beside it. `names` turns every name of a step into its first one."""

    __slots__ = ("names", "process", "slots", "steps")

    def __init__(self, process: Process) -> None:
        self.process = process
        self.steps = process.steps
        self.slots = tuple(Slot(name=step.name, optional=step.optional) for step in process.steps)
        self.names = {name: step.name for step in process.steps for name in (step.name, *step.others)}

    def called(self, name: str) -> Step | None:
        """The last place in the process of a step of that name."""
        name = self.names.get(name, name)
        return next((step for step in reversed(self.steps) if step.name == name), None)


class Routes:
    """The processes of the shop and which one a hide follows."""

    __slots__ = ("_made", "_shop")

    def __init__(self, shop: ShopBook) -> None:
        self._shop = shop
        self._made: dict[int, Route] = {}

    def of(self, hide: HideAfoot) -> Route | None:
        """A hide follows the route named on it, else its kind's, else the only one.

        In the version that held on the day it came in.
        """
        name = hide.process_name
        if not name:
            kind = self._shop.kinds.get(hide.life.kind.casefold()) if hide.life.kind else None
            name = kind.process if kind is not None else ""
        processes = self._shop.processes
        if not name and len(processes) == 1:
            name = next(iter(processes))
        held = held_on(processes.get(name.casefold(), ()), date.fromordinal(hide.life.arrived_when.day))
        if held is None:
            return None
        route = self._made.get(id(held))
        if route is None:
            route = self._made[id(held)] = Route(held)
        return route


def settle(walk: Walk, hide: HideAfoot, route: Route | None) -> None:
    """A hide's steps get their lines of the process, what turned out to be no stay goes, and each weight gets its basis."""
    life = hide.life
    if route is not None:
        life.process = route.process
        _lay_beside(life, route)
    _keep_stays(walk, life, route)
    _weigh(hide, route)


def faults(life: HideLife, route: Route, marks: Sequence[StepMark]) -> tuple[int, int]:
    """How many faults a way would have, its steps in this order, and how many steps are missing or over in it."""
    kept = [mark for mark in marks if mark.name not in ENDS or mark.name in route.names]
    written = tuple(route.names.get(mark.name, mark.name) for mark in kept)
    returns = frozenset(i for i, mark in enumerate(kept) if mark.on_purpose)
    found = align(_slots(life, route), written, finished=life.ended_as == "out", returns=returns)
    return len(found.extra) + len(found.missing) + len(found.swapped), found.cost


def _slots(life: HideLife, route: Route) -> tuple[Slot, ...]:
    if life.tanned_before:  # what makes leather was done before it came
        made = leather_from(route.process)
        done = len(route.slots) if made is None else made + 1
        return tuple(
            replace(slot, optional=True) if i < done and slot.name != "in" else slot
            for i, slot in enumerate(route.slots)
        )
    if life.declared:
        return route.slots
    # Its `in` was written, only not to be read.
    return tuple(replace(slot, optional=True) if slot.name == "in" else slot for slot in route.slots)


def _lay_beside(life: HideLife, route: Route) -> None:
    marks = [
        mark
        for mark in life.marks
        if not mark.skipped and not mark.moved and (mark.name not in ENDS or mark.name in route.names)
    ]
    written = tuple(route.names.get(mark.name, mark.name) for mark in marks)
    returns = frozenset(i for i, mark in enumerate(marks) if mark.on_purpose)
    finished = life.ended_as == "out"
    given = _slots(life, route)
    found = align(given, written, finished=finished, returns=returns)
    skips = [mark for mark in life.marks if mark.skipped]
    if skips:
        left_out = _left_out(skips, marks, route, found.slot_of, found.missing)
        slots = tuple(replace(slot, optional=True) if i in left_out else slot for i, slot in enumerate(given))
        found = align(slots, written, finished=finished, returns=returns)

    for i, mark in enumerate(marks):
        slot = found.slot_of[i]
        mark.line = None if slot is None else route.steps[slot]
        mark.back = i in found.back
    for i in found.extra:
        marks[i].fault = "out of order" if written[i] in route.names else "not of this process"
    for i, mark in enumerate(marks):
        if not written[i] and mark.line is None:  # `back in P3`, and nothing says what for
            mark.fault = "not of this process"
    for i, slot in found.swapped:
        marks[i].fault = "out of order"
        life.swapped.append((marks[i], route.steps[slot]))
    life.missing = [
        Missing(line=route.steps[slot], before=marks[before] if before < len(marks) else None)
        for slot, before in found.missing
    ]
    last: dict[str, Step | None] = {}
    for mark in life.marks:
        if mark.moved:
            mark.line = last.get(mark.name)
        elif not mark.skipped:
            last[mark.name] = mark.line


def _left_out(
    skips: list[StepMark],
    marks: list[StepMark],
    route: Route,
    slot_of: tuple[int | None, ...],
    missing: tuple[tuple[int, int], ...],
) -> set[int]:
    """The slots that were left out on purpose. A skip may be written before its turn comes or long after it.

    Of several places of one name it is the missing one nearest to the line that says so, else the first not done.
    """
    left_out: set[int] = set()
    done = {slot for slot in slot_of if slot is not None}
    for skip in skips:
        name = route.names.get(skip.name, skip.name)
        stands = sum(1 for mark in marks if mark.when.lo <= skip.when.lo)
        near = sorted(
            (abs(before - stands), slot)
            for slot, before in missing
            if route.slots[slot].name == name and slot not in left_out
        )
        places = [slot for slot, one in enumerate(route.slots) if one.name == name and slot not in left_out]
        chosen = near[0][1] if near else next((slot for slot in places if slot not in done), None)
        if chosen is not None:
            left_out.add(chosen)
            skip.line = route.steps[chosen]
        elif route.called(name) is None:
            skip.fault = "not of this process"
    return left_out


def _keep_stays(walk: Walk, life: HideLife, route: Route | None) -> None:
    """A step that is a moment in this hide's process held nobody, unless it names a bath or its own times.

    Without a process nothing says so, and a step that is a stay elsewhere is taken for one.
    """
    kept: list[Stay] = []
    for stay in life.stays:
        line = stay.mark.line
        moment = route is not None and (line is None or line.sort == "moment")
        if moment and stay.bath is None and not stay.told:
            continue
        before = kept[-1] if kept else None
        if (
            before is not None
            and not stay.goes_on
            and not stay.mark.on_purpose
            and before.name == stay.name
            and before.end_entry is stay.mark.entry
            and before.mark.line is line
        ):
            stay.goes_on, stay.begun = True, before.begun or before.start
            if stay.bath is not None and stay.bath is before.bath:
                stay.mark.fault, stay.mark.back = "", True
                # `in D1` and `in L1`, which lies in it, are two ways to say where: nothing stands there twice.
                if stay.where == before.where:
                    walk.oddity("twice", (life.tag,), stay.mark.entry, before.mark.entry, "step")
        kept.append(stay)
    life.stays = kept


def _weigh(hide: HideAfoot, route: Route | None) -> None:
    """A weight is green until a step that weighs otherwise; a skin that came in salted or dried was never weighed green
    here.
    """
    life = hide.life
    for weight, marks in zip(life.weights, hide.weight_marks, strict=True):
        if weight.basis:
            continue
        for mark in reversed(life.marks[:marks]):
            line = mark.line or (route.called(mark.name) if route is not None else None)
            if line is not None and line.weighs and not mark.skipped:
                weight.basis = line.weighs
                break
        else:
            came = life.condition[0].condition if life.condition is not None else ""
            weight.basis = "salted" if came in ("wet salted", "dry salted") else "green"
