"""One hide alone in the shop: the earliest it could be done, and the latest it may go on. What no timetable can better."""

from __future__ import annotations

from bisect import bisect_left, bisect_right

from hideledger.trade.timetable import Skin, Spell, Work
from hideledger.trade.timetable_bench import Hours

NEVER = 1 << 60


class Alone:
    """For each way (row of stays) a table over the moments, made once. Moments go by their place in the row; `NEVER`: not within the moments at all."""

    __slots__ = ("_done", "_hours", "_known", "_latest", "_least_from", "_ways", "_worked", "way_of", "work")

    def __init__(self, work: Work) -> None:
        self.work = work
        numbers: dict[object, int] = {}
        self.way_of = tuple(numbers.setdefault(skin.spells, len(numbers)) for skin in work.skins)
        self._ways = [work.skins[self.way_of.index(way)].spells for way in range(len(numbers))]
        self._done: list[list[list[int]]] = []
        self._least_from: list[list[list[int]]] = []
        self._known: dict[tuple[int, int, int, int], int] = {}
        self._latest: dict[tuple[int, int, int | None], int | None] = {}
        self._hours = Hours(work.open)
        self._worked = [self._hours.until(moment) for moment in work.moments] if work.has_bench else []
        for way in range(len(numbers)):
            self._lay_out(way)

    def _lay_out(self, way: int) -> None:
        moments = self.work.moments
        done = [list(range(len(moments)))]  # after the last stay: done at that moment
        least_from = [_running_least(done[0])]
        for spell in reversed(self._ways[way][1:]):
            after, after_least = done[-1], least_from[-1]
            row = []
            for start in moments:
                lo = self.first_end(start, spell)
                if not self._takes_any(spell, start):
                    row.append(NEVER)
                elif spell.most is None:
                    row.append(after_least[lo])
                else:
                    row.append(min(after[lo : bisect_right(moments, start + spell.most)], default=NEVER))
            done.append(row)
            least_from.append(_running_least(row))
        # done[i][m]: stay i + 1 begins at moment m, and this is the place of the moment at which the hide is done.
        self._done.append(done[::-1])
        self._least_from.append(least_from[::-1])

    def earliest(self, way: int, spell: int, since: int, not_before: int) -> int:
        """When a hide is done at the earliest, in stay `spell` since the instant `since`, and not to leave it before a moment's place."""
        known = self._known.get((way, spell, since, not_before))
        if known is None:
            known = self._known[way, spell, since, not_before] = self._reckoned(way, spell, since, not_before)
        return known

    def _reckoned(self, way: int, spell: int, since: int, not_before: int) -> int:
        limits, moments = self._ways[way][spell], self.work.moments
        lo = max(not_before, self.first_end(since, limits))
        if limits.most is None:
            return self._least_from[way][spell][lo]
        return min(self._done[way][spell][lo : bisect_right(moments, since + limits.most)], default=NEVER)

    def first_end(self, start: int, spell: Spell) -> int:
        """The place of the first moment at which a stay begun at an instant may end: its least time, and then its work at the bench."""
        lo = bisect_left(self.work.moments, start + spell.least)
        if not spell.work:
            return lo
        return max(lo, bisect_left(self._worked, self._hours.until(start + spell.least) + spell.work))

    def _takes_any(self, spell: Spell, start: int) -> bool:
        """Whether a vessel for a stay takes any hide at all from an instant on, for as long as the stay lasts at the least."""
        tubs = [self.work.tubs[place] for place in spell.tubs]
        if not any(tub.steps for tub in tubs):
            return True
        return any(0 not in tub.least(start, start + max(1, spell.least)) for tub in tubs)

    def done_from(self, way: int, spell: int, start: int) -> int:
        """When it is done at the earliest if stay `spell` begins at a moment's place; past the last stay, then."""
        return self._done[way][spell - 1][start]

    def alone_done(self, skin: int) -> int:
        """When one hide would be done if it had the whole shop to itself, from where it stands."""
        return self.earliest(self.way_of[skin], 0, self.work.skins[skin].since, 0)

    def latest_start(self, skin: int, spell: int) -> int | None:
        """The last moment's place at which a stay may begin for the promise to be kept; None without a promise, -1 where it is too late."""
        return self.latest_for(self.way_of[skin], spell, self.work.skins[skin].due)

    def latest_for(self, way: int, spell: int, due: int | None) -> int | None:
        """The same for any day that a hide is to be done on; None without one."""
        key = (way, spell, due)
        if key not in self._latest:
            row, days = self._done[way][spell - 1], self.work.days
            self._latest[key] = (
                None
                if due is None
                else next((m for m in range(len(row) - 1, -1, -1) if row[m] < NEVER and days[row[m]] <= due), -1)
            )
        return self._latest[key]


def alike(work: Work) -> tuple[tuple[int, ...], tuple[Skin, ...]]:
    """The sort of each hide (same measures, stays and promise), and one hide of each sort."""
    numbers: dict[object, int] = {}
    sorts = tuple(numbers.setdefault((s.counts, s.weight, s.spells, s.due), len(numbers)) for s in work.skins)
    return sorts, tuple(work.skins[sorts.index(sort)] for sort in range(len(numbers)))


def _running_least(row: list[int]) -> list[int]:
    """The least from each place on; one place more at the end, where nothing comes."""
    least = [NEVER] * (len(row) + 1)
    for place in range(len(row) - 1, -1, -1):
        least[place] = min(row[place], least[place + 1])
    return least
