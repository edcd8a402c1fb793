"""A good timetable by changing the order in which hides go, again and again, and keeping what is no worse. Sound, not always the best.

Each order is laid out load by load (`timetable_lists`). Those that can still be in time come first, then those that cannot, then those that nobody waits for;
from there on one hide after the other is moved: a late one forward, one in time to the end so that others are saved. Chance chooses, from the
same beginning each time, so that the same work gives the same timetable.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from random import Random

from hideledger.trade.timetable import Layout, Work, Worth, days_late, faults_of, worth_of
from hideledger.trade.timetable_alone import NEVER, Alone
from hideledger.trade.timetable_lists import LoadByLoad

_BEGINNING = 12
_MOST_MOVED = 3
_REPAIRS = 8
_STARTS = 3  # beginnings that are changed, the best of them longest
_SHARES_OF_THE_BEST = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Manner:
    """How a pass is made: who goes before whom, how long a load waits for company (by mates), and the rest as `LoadByLoad` has it."""

    order: tuple[int, ...]  # the places of the hides, the first first
    patience: tuple[tuple[str, int], ...]
    ahead: int
    fill: float = 1.0
    roomy: bool = True
    held: tuple[tuple[int, int], ...] = ()  # (place, instant): a hide that leaves room for another, and goes no sooner


class Orders:
    """The best pass so far. `passes` are those still to be made; it ends early where one is as good as the `goal`."""

    def __init__(self, work: Work, alone: Alone, goal: Worth, passes: int) -> None:
        self.work, self.alone, self.goal, self.passes = work, alone, goal, passes
        self.layout: Layout | None = None
        self.worth: Worth | None = None
        self.manner: Manner | None = None
        self.stuck: tuple[int, ...] = ()  # who was kept too long in the last pass that found no way
        self._lost = frozenset(
            place
            for place, skin in enumerate(work.skins)
            if alone.alone_done(place) >= NEVER or days_late(work, skin, work.moments[alone.alone_done(place)])
        )
        span = max(1, work.moments[-1] - work.moments[0])
        self._waits = (span // 12, span * 4, span // 4, span // 40, 0)
        self._aheads = (span // 12, span // 40, span // 5, NEVER)
        self._mates = sorted({spell.mates for skin in work.skins for spell in skin.spells if spell.tubs})

    @property
    def ended(self) -> bool:
        """Whether nothing better is wanted, or possible."""
        return self.worth is not None and self.worth <= self.goal

    def run(self, first: Manner | None = None) -> None:
        """Tries the beginnings (or one that did well for like work), then changes the best of them as long as passes are left."""
        tried = [self._tried(manner) for manner in (self._beginnings() if first is None else (first,))]
        if self.manner is None and first is not None:
            tried = [self._tried(manner) for manner in self._beginnings()]
        found = sorted((one for one in tried if one is not None), key=lambda one: one[2])
        starts: list[tuple[Manner, Layout, Worth]] = []
        for one in found:
            if all(other[0].ahead != one[0].ahead for other in starts):
                starts.append(one)
        chance = Random(_BEGINNING)
        share = self.passes // (_SHARES_OF_THE_BEST + len(starts[1:_STARTS]))
        for start in starts[1:_STARTS]:
            self._improve(start, share, chance)
        if self.layout is not None and self.worth is not None and self.manner is not None:
            self._improve((self.manner, self.layout, self.worth), self.passes, chance)

    def _beginnings(self) -> Iterator[Manner]:
        by_day = self._by_day()
        by_size = tuple(sorted(by_day, key=lambda one: (-self.work.skins[one].counts, -self.work.skins[one].weight)))
        for ahead in self._aheads:
            for wait in self._waits:
                patience = tuple((mates, wait) for mates in self._mates)
                yield Manner(order=by_day, patience=patience, ahead=ahead)
                if wait and ahead in (self._aheads[0], NEVER):
                    yield Manner(order=by_size, patience=patience, ahead=ahead, fill=0.7)

    def _by_day(self) -> tuple[int, ...]:
        def need(place: int) -> tuple[int, int, int]:
            skin = self.work.skins[place]
            if skin.due is None:
                return (2, self.alone.alone_done(place), place)
            return (1, skin.counts, place) if place in self._lost else (0, skin.due, self.alone.alone_done(place))

        return tuple(sorted(range(len(self.work.skins)), key=need))

    def _tried(self, manner: Manner) -> tuple[Manner, Layout, Worth] | None:
        """One pass, and where somebody was kept too long again with those in front; None where no way was found, or nothing more is wanted."""
        for _ in range(_REPAIRS):
            if self.ended or self.passes <= 0:
                return None
            self.passes -= 1
            layout, stuck = self._pass(manner)
            if layout is not None:
                worth = worth_of(self.work, layout)
                if (self.worth is None or worth < self.worth) and not faults_of(self.work, layout):
                    self.layout, self.worth, self.manner = layout, worth, manner
                return manner, layout, worth
            if not stuck:
                return None
            self.stuck = tuple(stuck)
            first = set(stuck)
            order = (*stuck, *(place for place in manner.order if place not in first))
            manner = replace(manner, order=order, held=tuple(one for one in manner.held if one[0] not in first))
        return None

    def _pass(self, manner: Manner) -> tuple[Layout | None, list[int]]:
        ranks = [0] * len(manner.order)
        for rank, place in enumerate(manner.order):
            ranks[place] = rank
        one = LoadByLoad(
            work=self.work,
            alone=self.alone,
            patience={**dict.fromkeys(self._mates, self._waits[0]), **dict(manner.patience)},
            order=ranks,
            fill=manner.fill,
            ahead=manner.ahead,
            roomy=manner.roomy,
            held=dict(manner.held),
        )
        return one.lay_out(), one.stuck

    def _improve(self, start: tuple[Manner, Layout, Worth], passes: int, chance: Random) -> None:
        manner, layout, worth = start
        last = self.passes - passes
        while self.passes > last and not self.ended:
            found = self._tried(self._changed(manner, layout, chance))
            if found is not None and found[2] <= worth:
                manner, layout, worth = found

    def _changed(self, manner: Manner, layout: Layout, chance: Random) -> Manner:
        """The order with one to three hides moved; now and then another patience."""
        order = list(manner.order)
        late = [p for p, row in enumerate(layout) if days_late(self.work, self.work.skins[p], row[-1].end)]
        to_save = [place for place in late if place not in self._lost]
        in_time = [place for place in order if self.work.skins[place].due is not None and place not in set(late)]
        for _ in range(chance.randint(1, _MOST_MOVED)):
            kind = chance.random()
            if to_save and kind < 0.4:
                _move(order, chance.choice(to_save), chance.random() * chance.random())
            elif in_time and late and kind < 0.6:
                _move(order, chance.choice(in_time), 1.0 - 0.5 * chance.random() * chance.random())
            elif late and kind < 0.75:
                _move(order, chance.choice(late), chance.random())
            else:
                _move(order, chance.choice(order), chance.random())
        found = replace(manner, order=tuple(order))
        other = chance.random()
        if other < 0.12 and self._mates:
            patience = {**dict(manner.patience), chance.choice(self._mates): chance.choice(self._waits)}
            found = replace(found, patience=tuple(sorted(patience.items())))
        elif other < 0.17:
            found = replace(found, ahead=chance.choice(self._aheads))
        elif other < 0.2:
            found = replace(found, roomy=not manner.roomy)
        elif other < 0.4 and to_save:
            found = replace(found, held=self._held(manner, chance.choice(to_save), chance))
        elif other < 0.45 and manner.held:
            found = replace(found, held=tuple(one for one in manner.held if chance.random() < 0.5))
        return found

    def _held(self, manner: Manner, saved: int, chance: Random) -> tuple[tuple[int, int], ...]:
        """Some that could go at once wait until one that cannot yet is there to go before them."""
        skin = self.work.skins[saved]
        until = skin.since + skin.spells[0].least
        sooner = [place for place, one in enumerate(self.work.skins) if one.since + one.spells[0].least < until]
        held = dict(manner.held)
        for _ in range(chance.randint(1, _MOST_MOVED) if sooner else 0):
            # Those who come late in the order can wait better than others.
            place = max((chance.choice(sooner) for _ in range(2)), key=manner.order.index)
            held[place] = max(held.get(place, 0), until)
        return tuple(sorted(held.items()))


def _move(order: list[int], place: int, share: float) -> None:
    """Puts a hide elsewhere in the order: 0 at its front, 1 at its end."""
    order.remove(place)
    order.insert(round(share * len(order)), place)
