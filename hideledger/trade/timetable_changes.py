"""What changes while hides stand where they are: how much a vessel takes from an instant on, and the minutes that are left at the bench."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence

from hideledger.trade.timetable import Skin, Spell, Work
from hideledger.trade.timetable_bench import Bench

Free = tuple[tuple[int, int], ...]  # the free minutes at the bench, as stretches


class Changes:
    """The instants at which vessels take more or less."""

    __slots__ = ("_at", "_tubs", "bench", "work")

    def __init__(self, work: Work) -> None:
        self.work, self.bench = work, work.has_bench
        self._tubs = [(place, tub) for place, tub in enumerate(work.tubs) if tub.steps]
        self._at = sorted({step[0] for _, tub in self._tubs for step in tub.steps[1:]})

    def after(self, instant: int) -> int | None:
        """The next change behind an instant."""
        place = bisect_right(self._at, instant)
        return self._at[place] if place < len(self._at) else None

    def over_full(self, inside: Mapping[int, Sequence[tuple[Skin, int, int]]], first: int, last: int) -> bool:
        """Whether a vessel takes less than what is in it from some instant between two on, the first taken in: hides as (skin, how many, stay).

        What has been in it from the beginning may be over full; only where somebody went in it is judged.
        """
        for place, tub in self._tubs:
            there = inside.get(place, ())
            if not any(stay for _, _, stay in there):
                continue
            for instant, holds, weighs in tub.steps[1:]:
                if not first <= instant < last:
                    continue
                if holds is not None and sum(skin.counts * many for skin, many, _ in there) > holds:
                    return True
                if weighs is not None and sum(skin.weight * many for skin, many, _ in there) > weighs:
                    return True
        return False

    def worked_on(self, free: Free, leaving: Iterable[tuple[Spell, int, int]], now: int) -> Free | None:
        """What is free at the bench when the work on all who leave is done: (stay, since when, how many); None where there are not hands enough."""
        if not self.bench:
            return free
        bench: Bench | None = Bench(free)
        for spell, since, many in leaving:
            bench = None if bench is None else bench.after(since + spell.least, now, spell.work, many)
        return None if bench is None else bench.free

    def still_free(self, free: Free, waiting: Iterable[tuple[Spell, int]], now: int) -> Free:
        """The free minutes that can still be of use: those from now on, and those since the first that waits for hands may be worked on."""
        if not self.bench:
            return free
        first = min(now, min((since + spell.least for spell, since in waiting if spell.work), default=now))
        return tuple((max(start, first), end) for start, end in free if end > first)
