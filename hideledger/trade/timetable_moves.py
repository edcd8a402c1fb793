"""All ways to move hides at one moment, and how the shop stands after each: what the search for the best timetable chooses from."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from hideledger.trade.timetable import Spell, Work
from hideledger.trade.timetable_alone import NEVER, Alone, alike
from hideledger.trade.timetable_changes import Changes

_LONG_AGO = -(1 << 60)


class Standing(NamedTuple):
    """Where hides of one sort stand: which sort, in which of its stays, since when, in which vessel (-1: none)."""

    sort: int
    spell: int
    since: int
    tub: int


class Move(NamedTuple):
    """So many of those that stand alike go on, to a vessel (-1: to none, or out of the door)."""

    standing: Standing
    tub: int
    many: int


State = tuple[tuple[Standing, int], ...]
Moves = tuple[Move, ...]


class Moving:
    """The ways to move in one shop. `left` is how much may still be tried: where it is used up the ways end early."""

    def __init__(self, work: Work, alone: Alone, left: int) -> None:
        self.work, self.alone, self.left = work, alone, left
        self.sort_of, self.sorts = alike(work)
        self._way = [alone.way_of[self.sort_of.index(sort)] for sort in range(len(self.sorts))]
        self._twins = _twins(work)
        self.changes = Changes(work)
        # Whether a hide in a stay still wants hands, now or later: then to be sooner may be to be in another's way.
        self._wants_hands = [
            [any(spell.work for spell in skin.spells[place:]) for place in range(len(skin.spells))]
            for skin in self.sorts
        ]
        # Stays after which no vessel is needed any more; and those whose mates all go on alike.
        self._last_tub = [
            [not any(later.tubs for later in skin.spells[place + 1 :]) for place in range(len(skin.spells))]
            for skin in self.sorts
        ]
        tails: dict[str, set[tuple[Spell, ...]]] = {}
        for skin in self.sorts:
            for place, spell in enumerate(skin.spells[1:], 1):
                if spell.tubs:
                    tails.setdefault(spell.mates, set()).add(skin.spells[place:])
        self._free: dict[tuple[int, int, int], int] = {}
        self._of_one_way = {mates for mates, found in tails.items() if len(found) == 1}

    def leavings(self, at: int, state: State) -> Iterator[tuple[tuple[Standing, int], ...]]:
        """Who may leave where they are: for each set of alike hides so many, a whole load together, nobody kept too long."""
        now = self.work.moments[at]
        after = self.work.moments[at + 1] if at + 1 < len(self.work.moments) else NEVER
        bundles: list[tuple[list[tuple[Standing, int]], int, int]] = []  # members, least and most shares of them to go
        shared: dict[int, list[tuple[Standing, int]]] = {}
        for standing, count in state:
            if standing.tub >= 0 and self.work.tubs[standing.tub].whole:
                shared.setdefault(standing.tub, []).append((standing, count))
                continue
            spell = self.sorts[standing.sort].spells[standing.spell]
            able = self._able(spell, standing.since, now)
            must = spell.most is not None and after > standing.since + spell.most
            if must and not able:
                return
            if able:
                bundles.append(([(standing, 1)], count if must or self._at_once(standing, at) else 0, count))
        for members in shared.values():
            spells = [(self.sorts[s.sort].spells[s.spell], s.since) for s, _ in members]
            able = all(self._able(spell, since, now) for spell, since in spells)
            must = any(spell.most is not None and after > since + spell.most for spell, since in spells)
            if must and not able:
                return
            if able:
                at_once = all(self._no_later(standing, at) for standing, _ in members)
                bundles.append((members, 1 if must or at_once else 0, 1))
        yield from _shares(bundles, 0)

    @staticmethod
    def _able(spell: Spell, since: int, now: int) -> bool:
        return now >= since + spell.least and (spell.most is None or now <= since + spell.most)

    def _at_once(self, standing: Standing, at: int) -> bool:
        """Whether to go on at once loses nothing: to where no vessel is needed and time is not limited, or on the way to the door."""
        if self._no_later(standing, at):
            return True
        here, *following = self.sorts[standing.sort].spells[standing.spell : standing.spell + 2]
        return not here.work and bool(following) and not following[0].tubs and following[0].most is None

    def _no_later(self, standing: Standing, at: int) -> bool:
        """Whether a hide that needs no vessel any more is done no later when it goes on at this moment than at any other."""
        sort, spell, since, _ = standing
        if not self._last_tub[sort][spell] or self._wants_hands[sort][spell]:
            return False
        way = self._way[sort]
        return self.alone.done_from(way, spell + 1, at) <= self.alone.earliest(way, spell, since, at + 1)

    def _no_better_next(self, standing: Standing, at: int) -> bool:
        """Whether a load that a hide may go in with now is no better at the next moment: the vessel is free again no later, and the hide is done no later.

        For the last vessel of a way, and mates who all go the same way from there.
        """
        sort, spell = standing.sort, standing.spell + 1
        following = self.sorts[sort].spells[spell]
        if not (self._last_tub[sort][spell] and following.mates in self._of_one_way):
            return False
        way, moments = self._way[sort], self.work.moments
        free = self._free_again(way, spell, following, at)
        if free >= NEVER or at + 1 >= len(moments):
            return False
        done = self.alone.done_from(way, spell + 1, free)
        return free <= self._free_again(way, spell, following, at + 1) and done <= self.alone.done_from(
            way, spell, at + 1
        )

    def _free_again(self, way: int, spell: int, limits: Spell, start: int) -> int:
        """The place of the first moment at which a stay begun at a moment can end so that the hide gets to the door."""
        known = self._free.get((way, spell, start))
        if known is None:
            moments = self.work.moments
            lo = bisect_left(moments, moments[start] + limits.least)
            hi = len(moments) if limits.most is None else bisect_right(moments, moments[start] + limits.most)
            ends = (end for end in range(lo, hi) if self.alone.done_from(way, spell + 1, end) < NEVER)
            known = self._free[way, spell, start] = next(ends, NEVER)
        return known

    def goings(
        self, now: int, onward: list[tuple[Standing, int]], inside: dict[int, list[tuple[Standing, int]]]
    ) -> Iterator[Moves]:
        """Into which vessels those go that leave: all ways in which none is over full and all in it are mates."""
        room: dict[int, tuple[int, int, str | None]] = {}
        for place, tub in enumerate(self.work.tubs):
            there = inside.get(place, [])
            if tub.whole and there:
                room[place] = (-1, -1, None)
                continue
            mates = {self.sorts[s.sort].spells[s.spell].mates for s, _ in there}
            held = sum(n * self.sorts[s.sort].counts for s, n in there)
            weight = sum(n * self.sorts[s.sort].weight for s, n in there)
            holds, weighs = tub.least(now, now + 1) if tub.steps else (tub.holds, tub.weighs)
            room[place] = (
                -1 if len(mates) > 1 else NEVER if holds is None else holds - held,
                NEVER if weighs is None else weighs - weight,
                next(iter(mates), None),
            )
        if self._may_fit(onward, room):
            yield from self._placed(onward, 0, room, frozenset(inside), ())

    def _may_fit(self, onward: list[tuple[Standing, int]], room: dict[int, tuple[int, int, str | None]]) -> bool:
        """Whether all that go on to one sort of stay could go in if they might be divided: a look before the trying."""
        wanted: dict[tuple[str, tuple[int, ...]], int] = {}
        for standing, count in onward:
            following = self.sorts[standing.sort].spells[standing.spell + 1]
            if following.tubs:
                key = (following.mates, following.tubs)
                wanted[key] = wanted.get(key, 0) + count * self.sorts[standing.sort].counts
        self.left -= 1
        return all(
            counts <= sum(max(0, room[tub][0]) for tub in tubs if room[tub][2] in (None, mates))
            for (mates, tubs), counts in wanted.items()
        )

    def _placed(
        self,
        onward: list[tuple[Standing, int]],
        place: int,
        room: dict[int, tuple[int, int, str | None]],
        used: frozenset[int],
        moves: Moves,
    ) -> Iterator[Moves]:
        self.left -= 1
        if self.left <= 0:
            return
        if place == len(onward):
            yield moves
            return
        standing, count = onward[place]
        skin = self.sorts[standing.sort]
        following = skin.spells[standing.spell + 1]
        if not following.tubs:
            yield from self._placed(onward, place + 1, room, used, (*moves, Move(standing, -1, count)))
            return
        open_tubs = [
            tub
            for tub in following.tubs
            if room[tub][2] in (None, following.mates)
            and min(room[tub][:2]) >= 0
            and not any(
                twin not in used and twin < tub and twin in following.tubs
                for twin in self._twins[tub]
                if tub not in used
            )
        ]
        for tub in open_tubs:
            holds, weighs, _ = room[tub]
            fits = min(
                count, holds // skin.counts if skin.counts else count, weighs // skin.weight if skin.weight else count
            )
            first = [move.tub for move in moves if move.standing == standing]
            if first and tub <= first[-1]:
                continue  # the same hides over the same vessels in another order
            for taken in range(fits, 0, -1):
                rest = [*onward[: place + 1], *onward[place + 1 :]]
                rest[place] = (standing, count - taken)
                fuller = {**room, tub: (holds - taken * skin.counts, weighs - taken * skin.weight, following.mates)}
                step = place + 1 if taken == count else place
                yield from self._placed(rest, step, fuller, used | {tub}, (*moves, Move(standing, tub, taken)))

    def after(self, at: int, state: State, moves: Moves) -> tuple[State, int]:
        """The state after these moves, and the place of the next moment worth a look."""
        now = self.work.moments[at]
        following = at + 1
        standing_now = Counter(dict(state))
        for move in moves:
            standing_now[move.standing] -= move.many
            if move.standing.spell + 1 < len(self.sorts[move.standing.sort].spells):
                standing_now[Standing(move.standing.sort, move.standing.spell + 1, now, move.tub)] += move.many
        if not moves and not self.changes.bench:
            following = self._next_event(at, state)
        then = self.work.moments[following] if following < len(self.work.moments) else NEVER
        settled: Counter[Standing] = Counter()
        for standing, count in standing_now.items():
            if count:
                spell = self.sorts[standing.sort].spells[standing.spell]
                long_ago = spell.most is None and not spell.work and standing.since + spell.least <= then
                settled[standing._replace(since=_LONG_AGO) if long_ago else standing] += count
        return tuple(sorted(settled.items())), following

    def _next_event(self, at: int, state: State) -> int:
        """After a moment at which nobody moved: the next at which that could change."""
        moments = self.work.moments
        now, least = moments[at], NEVER
        change = self.changes.after(now)
        least = least if change is None else change
        waiting: list[Standing] = []
        for standing, _ in state:
            spells = self.sorts[standing.sort].spells
            spell = spells[standing.spell]
            ready = standing.since + spell.least
            if ready > now:
                least = min(least, ready)
                continue
            if spell.most is not None:  # the last moment at which it may go
                least = min(least, moments[bisect_right(moments, standing.since + spell.most) - 1])
            if standing.spell + 1 < len(spells) and spells[standing.spell + 1].most is not None:
                if not spells[standing.spell + 1].tubs:
                    return at + 1
                waiting.append(standing)
        following = at + 1
        while following < len(moments) and moments[following] < max(least, now + 1):
            if not all(self._no_better_next(standing, following - 1) for standing in waiting):
                return following
            following += 1
        return following

    def settled(self, place: int, spell: int, since: int, tub: int, now: int) -> Standing:
        """How a hide stands at a moment: one that may wait for ever and has had its least time stands as if it had always been there."""
        limits = self.work.skins[place].spells[spell]
        long_ago = limits.most is None and not limits.work and since + limits.least <= now
        return Standing(self.sort_of[place], spell, _LONG_AGO if long_ago else since, tub)


def _shares(
    bundles: list[tuple[list[tuple[Standing, int]], int, int]], place: int
) -> Iterator[tuple[tuple[Standing, int], ...]]:
    if place == len(bundles):
        yield ()
        return
    members, least, most = bundles[place]
    for share in range(most, least - 1, -1):
        chosen = tuple((standing, count * share) for standing, count in members) if share else ()
        for rest in _shares(bundles, place + 1):
            yield (*chosen, *rest)


def _twins(work: Work) -> list[tuple[int, ...]]:
    """For each vessel those that are like it in every way, so that of empty ones only the first need be tried."""
    uses = [
        frozenset(spell for skin in work.skins for spell in skin.spells if tub in spell.tubs)
        for tub in range(len(work.tubs))
    ]

    def the_same(one: int, other: int) -> bool:
        a, b = work.tubs[one], work.tubs[other]
        return (a.holds, a.weighs, a.whole, a.steps) == (b.holds, b.weighs, b.whole, b.steps) and uses[one] == uses[
            other
        ]

    return [tuple(b for b in range(len(work.tubs)) if b != a and the_same(a, b)) for a in range(len(work.tubs))]
