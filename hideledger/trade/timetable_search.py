"""The best timetable by search: every way to move hides at every moment, with what cannot be better left out.

The search goes from moment to moment. Hides that are alike (same limits, promise, stay and time in it) are counted, not named. A state that was
reached before at no higher price is not looked at again. What each hide alone still needs, and how few loads could carry what is left, is a floor under
the price; where it reaches the best price known the branch is left.

Three things lose nothing and are always done. A hide that has had its last stay goes out, and one that needs no vessel any more goes on when that brings it
to the door no later. A hide goes at once where it needs no vessel and may stay as long as it likes. And after a moment at which nobody moved the next to be looked
at is the first at which somebody's least time is over or longest stay runs out, since whoever moved in between could have moved before; but for those who may go where time is
limited each moment is looked at, unless they are done, and their vessel is free again, no later for having gone before. Where hides want hands at the bench
each moment is looked at, and only those who want none any more go at once.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from hideledger.trade.timetable import Layout, Spell, Visit, Work, Worth, days_late
from hideledger.trade.timetable_alone import NEVER, Alone
from hideledger.trade.timetable_changes import Free
from hideledger.trade.timetable_moves import Move, Moves, Moving, Standing, State

# Where a choice leads: the next moment, how all stand then, the price, what was moved, the minutes free at the bench.
_Choice = tuple[int, State, Worth, Moves, Free]


class Search(Moving):
    """One search. `best` is the price to beat; `ended` that everything was looked at, so that what was found is the best there is.

    A state looked at costs as many `nodes` as sorts of hide stand in it, a way tried to fill the vessels one.
    """

    def __init__(self, work: Work, alone: Alone, best: Worth | None, nodes: int, floor: Worth = (0, 0, 0)) -> None:
        super().__init__(work, alone, nodes)
        self.best, self.floor = best, floor
        self.found: list[tuple[int, Moves]] | None = None
        self.ended = True
        self._seen: dict[tuple[int, State, Free], Worth] = {}
        # For each sort, stay by stay, what is still to be carried after it: (mates, how often, most that one of the vessels holds).
        self._to_carry = [
            [_to_carry(work, skin.spells[place + 1 :]) for place in range(len(skin.spells))] for skin in self.sorts
        ]
        self._late: dict[tuple[int, int], int] = {}

    def run(self) -> None:
        """Looks everywhere, or until the nodes are used up."""
        first = self.work.moments[0]
        start = Counter(
            self.settled(place, 0, skin.since, -1 if skin.tub is None else skin.tub, first)
            for place, skin in enumerate(self.work.skins)
        )
        self._from(0, tuple(sorted(start.items())), self.work.open if self.changes.bench else ())

    def _from(self, at: int, state: State, free: Free) -> None:
        """Depth first, with a row of open choices of its own: a season has more moments than the machine has patience for nested calls."""
        path: list[tuple[int, Moves]] = []
        open_choices: list[Iterator[_Choice]] = [iter([(at, state, (0, 0, 0), (), free)])]
        while open_choices:
            if self.best is not None and self.best <= self.floor:
                return  # nothing is better than the floor
            if self.left <= 0:
                self.ended = False
                return
            step = next(open_choices[-1], None)
            if step is None:
                open_choices.pop()
                if path:
                    path.pop()
                continue
            at, state, price, moves, free = step
            path.append((at - 1, moves))
            self.left -= max(1, len(state))
            if not state:
                if self.best is None or price < self.best:
                    self.best, self.found = price, list(path)
                path.pop()
                continue
            if at >= len(self.work.moments) or not self._worth_it(at, state, price, free):
                path.pop()
                continue
            open_choices.append(self._choices(at, state, price, free))
        self.ended = self.left > 0

    def _worth_it(self, at: int, state: State, price: Worth, free: Free) -> bool:
        known = self._seen.get((at, state, free))
        if known is not None and known <= price:
            return False
        missed, late, loads = price
        going: dict[str, tuple[int, int, int]] = {}
        for standing, count in state:
            counts = count * self.sorts[standing.sort].counts
            done = self.alone.earliest(self._way[standing.sort], standing.spell, standing.since, at)
            if done >= NEVER:
                return False
            days = self._days_late(standing.sort, done)
            missed += count * (days > 0)
            late += count * days
            for mates, often, most in self._to_carry[standing.sort][standing.spell]:
                held, room, visits = going.get(mates, (0, 0, 0))
                going[mates] = (held + often * counts, max(room, most), max(visits, often))
        loads += sum(max(visits, -(-held // room)) if room else NEVER for held, room, visits in going.values())
        if self.best is not None and (missed, late, loads) >= self.best:
            return False
        self._seen[at, state, free] = price
        return True

    def _days_late(self, sort: int, done: int) -> int:
        known = self._late.get((sort, done))
        if known is None:
            known = self._late[sort, done] = days_late(self.work, self.sorts[sort], self.work.moments[done])
        return known

    def _choices(self, at: int, state: State, price: Worth, free: Free) -> Iterator[_Choice]:
        """What may be done at a moment, and the state and price after it; doing the most comes first."""
        now = self.work.moments[at]
        for leaving in self.leavings(at, state):
            if self.left <= 0:
                return
            spells = ((self.sorts[s.sort].spells[s.spell], s.since, n) for s, n in leaving)
            bench = self.changes.worked_on(free, spells, now)
            self.left -= int(self.changes.bench)
            if bench is None:
                continue  # there are not hands enough for all of them yet
            inside: dict[int, list[tuple[Standing, int]]] = {}
            gone = dict(leaving)
            for standing, count in state:
                stays = count - gone.get(standing, 0)
                if stays and standing.tub >= 0 and standing.since <= now:
                    inside.setdefault(standing.tub, []).append((standing, stays))
            if self._over_full(inside, now, now + 1):
                continue
            out = tuple((s, n) for s, n in leaving if s.spell + 1 == len(self.sorts[s.sort].spells))
            onward = [(s, n) for s, n in leaving if s.spell + 1 < len(self.sorts[s.sort].spells)]
            missed, late, loads = price
            for standing, count in out:
                days = self._days_late(standing.sort, at)
                missed, late = missed + count * (days > 0), late + count * days
            ending = tuple(Move(s, -1, n) for s, n in out)
            for going in self.goings(now, onward, inside):
                moves = (*ending, *going)
                entered = len({move.tub for move in going if move.tub >= 0})
                after, then = self.after(at, state, moves)
                if self._over_full(_in_tubs(after), now + 1, self.work.moments[min(then, len(self.work.moments) - 1)]):
                    continue
                waiting = ((self.sorts[s.sort].spells[s.spell], s.since) for s, _ in after)
                left = self.changes.still_free(bench, waiting, now)
                yield then, after, (missed, late, loads + entered), moves, left

    def _over_full(self, inside: Mapping[int, list[tuple[Standing, int]]], first: int, last: int) -> bool:
        """Whether a vessel takes less than what stays in it from an instant on, with nobody moved between the two."""
        if self.changes.after(first - 1) is None:
            return False
        there = {tub: [(self.sorts[s.sort], n, s.spell) for s, n in row] for tub, row in inside.items()}
        return self.changes.over_full(there, first, last)

    def layout(self) -> Layout | None:
        """What was found, hide by hide."""
        if self.found is None:
            return None
        work = self.work
        visits: list[list[Visit]] = [[] for _ in work.skins]
        where: list[tuple[int, int]] = [(s.since, -1 if s.tub is None else s.tub) for s in work.skins]
        for at, moves in self.found:
            pool: dict[Standing, list[int]] = {}
            now = work.moments[at] if moves else 0
            for place in range(len(work.skins)) if moves else ():
                spell = len(visits[place])
                if spell < len(work.skins[place].spells):
                    pool.setdefault(self.settled(place, spell, *where[place], now), []).append(place)
            for move in moves:
                for _ in range(move.many):
                    place = pool[move.standing].pop(0)
                    since, tub = where[place]
                    visits[place].append(Visit(None if tub < 0 else tub, since, now))
                    where[place] = (now, move.tub)
        return tuple(tuple(row) for row in visits)


def _in_tubs(state: State) -> dict[int, list[tuple[Standing, int]]]:
    inside: dict[int, list[tuple[Standing, int]]] = {}
    for standing, count in state:
        if standing.tub >= 0:
            inside.setdefault(standing.tub, []).append((standing, count))
    return inside


def _to_carry(work: Work, spells: tuple[Spell, ...]) -> tuple[tuple[str, int, int], ...]:
    """By mates: how many loads a hide is still part of, and what the largest of their vessels holds by count."""
    found: dict[str, tuple[int, int]] = {}
    for spell in spells:
        if spell.tubs:
            often, most = found.get(spell.mates, (0, 0))
            holds = (NEVER if one is None else one for one in (work.tubs[place].holds for place in spell.tubs))
            found[spell.mates] = (often + 1, max(most, *holds))
    return tuple((mates, often, most) for mates, (often, most) in found.items())
