"""A line written late, or in another file, lies somewhere in its day: where the hide's other lines make sense of it.

Nothing happens to a hide before it is in, nor to a bath before it is mixed; what ends one comes last. A step comes
where its process has it: of all the readings of such a line the one with the fewest faults is taken.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from hideledger.model.entry import Entry
from hideledger.model.facts import Arrived, Dumped, HandedOut, LiftedOut, Lost, Mixed, Stepped, Turning
from hideledger.model.moments import When
from hideledger.shopfloor.afoot import HideAfoot, Walk
from hideledger.shopfloor.life import StepMark
from hideledger.shopfloor.narrow import Key, Narrowed
from hideledger.shopfloor.settle import Route, Routes, faults

Place = tuple[int, ...]  # sorts the lines in time: the instant, the order in the book; longer: right behind that line


@dataclass(slots=True, kw_only=True)
class Placed:
    """Where each line stands in time. `places` holds only those that stand elsewhere than their moment says."""

    moments: dict[Key, When]
    last: set[Key]
    places: dict[Key, Place] = field(default_factory=dict)

    def of(self, entry: Entry, tag: str) -> Place:
        """Where a line stands for a tag. What ends a hide or a bath comes after all that is told of that day."""
        if entry.when.timed:
            return entry.when.lo, entry.order
        key = entry.order, tag
        place = self.places.get(key)
        if place is not None:
            return place
        when = self.moments.get(key, entry.when)
        if key in self.last and ends(entry):
            return when.hi, -1, entry.order
        return when.lo, entry.order


def ends(entry: Entry) -> bool:
    """Whether a line ends a hide's time in the shop, or a bath."""
    return any(isinstance(fact, Dumped | HandedOut | Lost) for fact in entry.facts)


def _begins(entry: Entry) -> bool:
    return any(isinstance(fact, Arrived | Mixed) for fact in entry.facts)


def placed(entries: Sequence[Entry], found: Narrowed) -> Placed:
    """Where the lines stand as far as lines alone tell: behind what begins a hide or bath, before it begins anew."""
    answer = Placed(moments=found.moments, last=found.last)
    if not found.loose:
        return answer
    days: dict[tuple[str, int], list[Entry]] = {}  # by tag and day: the lines with a time, in time
    tags = {tag for _, tag in found.loose}
    for entry in sorted(entries, key=lambda entry: entry.when.lo):
        if entry.when.timed:
            for tag in entry.tags:
                if tag in tags:
                    days.setdefault((tag, entry.when.day), []).append(entry)
    for entry in entries:
        for tag in entry.tags:
            if (entry.order, tag) in found.loose:
                timed = days.get((tag, entry.when.day), [])
                if timed:
                    _hold(answer, entry, tag, timed)
    return answer


def _hold(answer: Placed, entry: Entry, tag: str, timed: list[Entry]) -> None:
    key = entry.order, tag
    when = answer.moments[key]
    begun = [line for line in timed if _begins(line)]
    again = next((line for line in begun if line is not timed[0]), None)
    end = next((line for line in timed if ends(line)), None)
    if _begins(entry):
        if end is None and not begun:
            answer.moments[key] = when.within(when.lo, timed[0].when.lo)
        return
    if ends(entry) and end is None and again is not None:  # what is let go makes room for the new one
        answer.moments[key] = when.within(when.lo, again.when.lo)
        return
    if len(begun) > 1 or (end is not None and (ends(entry) or (begun and end.when.lo < begun[0].when.lo))):
        return  # which of the lives of a tag is meant, nothing tells
    above, below = _between(entry, timed)
    least = when.lo if above is None else max(when.lo, above.when.lo)
    most = min([when.hi, *(line.when.lo for line in (below, end) if line is not None)])
    if least > most:
        return
    answer.moments[key] = when.within(least, most)
    if above is not None and least == above.when.lo and not ends(entry):
        answer.places[key] = least, above.order, entry.order


def _between(entry: Entry, timed: list[Entry]) -> tuple[Entry | None, Entry | None]:
    """Between which lines of its tag's day a late line belongs: behind the coming or the making, an `out of` behind the
    going in, an `on` or `off` where it is missing.
    """
    above = next((line for line in timed if _begins(line)), None)
    for fact in entry.facts:
        if isinstance(fact, Turning):
            turned, below = _turned(timed, on=fact.on)
            return turned or above, below
        if isinstance(fact, LiftedOut):
            into = (
                line
                for line in reversed(timed)
                if any(isinstance(one, Stepped) and one.where == fact.where for one in line.facts)
            )
            return next(into, above), None
    return above, None


def _turned(timed: list[Entry], *, on: bool) -> tuple[Entry | None, Entry | None]:
    """Between which lines of a load's day an `on` or `off` is missing; else behind the last one."""
    above: Entry | None = None
    turning = False
    for line in timed:
        for fact in line.facts:
            if isinstance(fact, Turning):
                if fact.on == turning != on:
                    return above, line
                above, turning = line, fact.on
    return above, None


def better_places(walk: Walk, routes: Routes, found: Narrowed, lines: Placed) -> bool:
    """Puts the loose steps of every hide where its process has them. Whether any of them came to stand elsewhere."""
    loose: dict[str, set[int]] = {}
    for order, tag in found.loose:
        loose.setdefault(tag, set()).add(order)
    moved = False
    for hide in walk.walked:
        orders = loose.get(hide.life.tag)
        route = routes.of(hide) if orders else None
        if orders and route is not None:
            moved = _arrange(hide, route, orders, found, lines) or moved
    return moved


@dataclass(slots=True, kw_only=True)
class _Stop:
    """A step on the way of one hide, as it stands among the others."""

    place: Place
    latest: int
    mark: StepMark


def _arrange(hide: HideAfoot, route: Route, orders: set[int], found: Narrowed, lines: Placed) -> bool:
    life = hide.life
    tag = life.tag
    blocks: dict[int, list[StepMark]] = {}
    way: list[_Stop] = []
    for mark in life.marks:
        entry = mark.entry
        if mark.skipped:
            continue
        if entry.order in orders and entry is not life.arrived and not ends(entry):
            blocks.setdefault(entry.order, []).append(mark)
        elif not mark.moved:
            latest = lines.moments.get((entry.order, tag), entry.when).hi
            way.append(_Stop(place=lines.of(entry, tag), latest=latest, mark=mark))
    behind: dict[tuple[int, int], int] = {}  # by page and day: lines of one page keep their order
    moved = False
    for order in sorted(blocks):
        block = blocks[order]
        entry = block[0].entry
        when = lines.moments[order, tag]
        row = found.pages[order, tag], entry.when.day
        first = max((i + 1 for i, stop in enumerate(way) if _before(stop, life.arrived, behind.get(row))), default=0)
        best: tuple[tuple[int, int], int, When, Place] | None = None
        returns = any(mark.on_purpose for mark in block)
        for at in range(first, len(way) + 1):
            room = _room(way, at, entry, when)
            if room is None:
                continue
            marks = [*(stop.mark for stop in way[:at]), *block, *(stop.mark for stop in way[at:])]
            cost = faults(life, route, marks)
            # Among equals as early as can be; only what comes back comes after it was there.
            if best is None or cost < best[0] or (returns and cost == best[0]):
                best = cost, at, *room
        if best is None:
            continue
        _, at, narrower, place = best
        way[at:at] = [_Stop(place=place, latest=narrower.hi, mark=mark) for mark in block]
        behind[row] = order
        if place != lines.of(entry, tag) or narrower != when:
            lines.moments[order, tag], lines.places[order, tag] = narrower, place
            moved = True
    return moved


def _before(stop: _Stop, arrived: Entry, above: int | None) -> bool:
    return stop.mark.entry is arrived or stop.mark.entry.order == above


def _room(way: list[_Stop], at: int, entry: Entry, when: When) -> tuple[When, Place] | None:
    """The moment and the place of a line put in at a point of the way; None where its day does not reach."""
    before = way[at - 1] if at else None
    after = way[at] if at < len(way) else None
    least = when.lo if before is None else max(when.lo, before.place[0])
    most = when.hi if after is None else min(when.hi, after.latest)
    if least > most:
        return None
    place: Place = least, entry.order
    if before is not None and before.place[0] == least:
        place = *before.place, entry.order
    elif after is not None and after.place[0] == least:
        place = least, -1, entry.order
    if after is not None and place >= after.place:
        return None
    return When(least, most, when.day, False), place
