"""Parties of hides, and the room that they take in vessels over time, as a timetable is filled load by load."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hideledger.trade.timetable import Spell, Work
from hideledger.trade.timetable_alone import NEVER


@dataclass(slots=True, kw_only=True, eq=False)
class Held:
    """Room taken in a vessel; `end` moves up from `NEVER` when the hides leave."""

    start: int
    end: int
    counts: int
    weight: int
    mates: str


@dataclass(slots=True, kw_only=True, eq=False)
class Party:
    """Hides that stand alike and, in a vessel that is emptied whole, have to go on as one."""

    skins: list[int]
    spell: int
    since: int
    tub: int | None
    held: Held | None = None
    able: int = 0
    must: int = NEVER
    slack: int | None = None  # by when it must go on for its promises, once that was asked
    size: tuple[int, int] | None = None  # what it counts and weighs, once that was asked


class Room:
    """What is taken in each vessel, from now on."""

    def __init__(self, work: Work) -> None:
        self.work = work
        self._taken: list[list[Held]] = [[] for _ in work.tubs]
        self._changes = [step[0] for tub in work.tubs for step in tub.steps[1:]]

    def forget(self, now: int) -> None:
        """Lets go of what is over."""
        self._taken = [[held for held in taken if held.end > now] for taken in self._taken]

    def give_back(self, tub: int, held: Held) -> None:
        """Undoes a taking."""
        self._taken[tub].remove(held)

    def ends(self) -> list[int]:
        """When rooms that are taken become free, and vessels take more."""
        return [*(held.end for taken in self._taken for held in taken), *self._changes]

    def take(self, tub: int, start: int, end: int, skins: Sequence[int], mates: str) -> Held:
        """Takes room for hides; what is taken is given back by its `end`, or by `give_back`."""
        all_of = [self.work.skins[place] for place in skins]
        held = Held(
            start=start,
            end=end,
            counts=sum(one.counts for one in all_of),
            weight=sum(one.weight for one in all_of),
            mates=mates,
        )
        self._taken[tub].append(held)
        return held

    def largest(self, meant: Spell) -> int:
        """What the largest of the vessels for a stay holds by count."""
        limits = [self.work.tubs[tub].holds for tub in meant.tubs]
        return max(1 << 20 if limit is None else limit for limit in limits)

    def free(self, tub: int, now: int) -> int:
        """What a vessel still takes by count at an instant."""
        holds = self.work.tubs[tub].holds
        inside = sum(held.counts for held in self._taken[tub] if held.start <= now < held.end)
        return (1 << 20 if holds is None else holds) - inside

    def fits(
        self, tub: int, start: int, end: int, skins: Sequence[int], mates: str, *, leaving: Sequence[Held | None] = ()
    ) -> bool:
        """Whether hides have room and company from one instant to another, with those `leaving` taken out."""
        limit, all_of = self.work.tubs[tub], self.work.skins
        gone = {id(held) for held in leaving}
        beside = [h for h in self._taken[tub] if h.start < end and start < h.end and id(h) not in gone]
        if beside and (limit.whole or any(held.mates != mates for held in beside)):
            return False
        # The smallest over the whole stay: nobody comes to lift one out in between.
        by_count, by_weight = limit.least(start, end)
        holds = NEVER if by_count is None else by_count - sum(all_of[skin].counts for skin in skins)
        weighs = NEVER if by_weight is None else by_weight - sum(all_of[skin].weight for skin in skins)
        if holds < 0 or weighs < 0:
            return False
        if sum(held.counts for held in beside) <= holds and sum(held.weight for held in beside) <= weighs:
            return True
        for instant in {start, *(held.start for held in beside if held.start > start)}:
            there = [held for held in beside if held.start <= instant < held.end]
            if sum(held.counts for held in there) > holds or sum(held.weight for held in there) > weighs:
                return False
        return True
