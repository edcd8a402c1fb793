"""How long this shop's own hides stayed in each step, which steps they left out, and in which vessels they lay: what its book knows and no process says."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from statistics import median

from hideledger.model.process import Process, Step
from hideledger.model.units import Quantity
from hideledger.rules.spans import elapsed, place_in_process, spells
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife, Stay

_ENOUGH = 3  # as many stays make a usual one


@dataclass(frozen=True, slots=True, kw_only=True)
class Usual:
    """The middle one of so many lengths of this shop's own, in seconds; `slow`: nine in ten took no longer."""

    middle: int
    slow: int
    of: int


class Past:
    """What the book of a shop knows of its own ways, up to the moment of the floor."""

    def __init__(self, floor: Floor) -> None:
        self.floor = floor
        self._stays: dict[tuple[str, str], list[int]] = {}
        self._drums: dict[tuple[str, str], list[int]] = {}
        self._whole: dict[str, list[int]] = {}
        self._passed: dict[tuple[str, str], list[bool]] = {}
        self._served: dict[str, set[str]] = {}
        self._weights: dict[str, list[Quantity]] = {}
        for life in floor.all_hides():
            if life.declared and life.process is not None:
                self._learn(life, life.process)
            alone = [weight.weight for weight in life.weights if weight.shared_by == 1]
            if alone:
                self._weights.setdefault(life.kind.casefold(), []).append(alone[-1])

    def _learn(self, life: HideLife, process: Process) -> None:
        running: list[Stay] = []
        for spell in spells(life):
            first, last = spell[0], spell[-1]
            for stay in spell:
                if stay.bath is not None and stay.bath.vessel:
                    self._served.setdefault(stay.name, set()).add(stay.bath.vessel)
            if last.end is None or first.line is None:
                continue
            if first.line.sort == "run":
                running.append(first)
                self._drum(process, running, last)
                continue
            running = []
            took = elapsed(life, first.start, last.end, self.floor.at)
            if took[1] - took[0] <= took[1] // 4:
                self._stays.setdefault((process.name, first.line.title), []).append(sum(took) // 2)
        done = {mark.line.title for mark in life.marks if mark.line is not None and not mark.skipped}
        furthest = max((place_in_process(life, mark.line) for mark in life.marks if mark.line is not None), default=-1)
        for step in process.steps[: max(0, furthest)]:
            self._passed.setdefault((process.name, step.title), []).append(step.title in done)
        if life.ended_as == "out" and life.marks:
            ready = [
                mark for mark in life.marks if not mark.skipped and mark.line is not None and mark.line.name != "out"
            ]
            if ready:
                self._whole.setdefault(process.name, []).append(max(0, ready[-1].when.hi - life.arrived_when.lo))

    def _drum(self, process: Process, running: list[Stay], last: Stay) -> None:
        """From the first turn's start to the last one's end, on the wall clock, under the title of the last."""
        assert last.end is not None and last.line is not None
        start, end = running[0].start, last.end
        if start.lo == start.hi and end.lo == end.hi and len({id(stay.bath) for stay in running}) == 1:
            key = (process.name, " ".join(stay.line.title for stay in running if stay.line is not None))
            self._drums.setdefault(key, []).append(end.lo - start.lo)

    def stayed(self, process: str, step: Step) -> Usual | None:
        """How long a step usually held a hide here; None with too few to tell."""
        return _usual(self._stays.get((process, step.title), ()))

    def in_the_drum(self, process: str, steps: Iterable[Step]) -> Usual | None:
        """How long a load usually was in the drum, for all its turns and what lies between them."""
        return _usual(self._drums.get((process, " ".join(step.title for step in steps)), ()))

    def whole_way(self, process: str) -> Usual | None:
        """How long it usually took from the door to the last step before it was handed back."""
        return _usual(self._whole.get(process, ()))

    def usually_done(self, process: str, step: Step) -> bool:
        """Whether more than half of the hides that came past an optional step had it."""
        known = self._passed.get((process, step.title), [])
        return sum(known) * 2 > len(known)

    def came_past(self, process: str, step: Step) -> bool:
        """Whether any hide has come past an optional step, with it or without."""
        return bool(self._passed.get((process, step.title)))

    def vessels_of(self, name: str) -> frozenset[str]:
        """The vessels that hides have lain in for a step of that name."""
        return frozenset(self._served.get(name, ()))

    def usual_weight(self, kind: str) -> Quantity | None:
        """The middle one of the last weights of the hides of a kind; of all kinds where there is none."""
        known = self._weights.get(kind.casefold()) or [one for several in self._weights.values() for one in several]
        ordered = sorted(known, key=lambda one: one.to("g"))
        return ordered[len(ordered) // 2] if ordered else None


def _usual(lengths: Iterable[int]) -> Usual | None:
    known = sorted(lengths)
    if len(known) < _ENOUGH:
        return None
    return Usual(middle=int(median(known)), slow=known[min(len(known) - 1, len(known) * 9 // 10)], of=len(known))
