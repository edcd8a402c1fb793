"""One pair of hands at the bench: which minutes of the open shop go to which hide.

A job at the bench has a first instant, a last one and a length. It may be laid down and taken up again, and two are never done at the same minute. Given in the
order of their last instants, each to the first free minutes that it can have, all find room if they can at all: whoever has to be done sooner may always change
places with one that may wait (unit jobs with windows; Glover, Naval Research Logistics Quarterly 14 (1967) 313, from memory).
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence


class Bench:
    """The free minutes, as stretches that do not touch."""

    __slots__ = ("_free",)

    def __init__(self, stretches: Iterable[tuple[int, int]]) -> None:
        self._free = list(stretches)

    @property
    def free(self) -> tuple[tuple[int, int], ...]:
        """The stretches that nobody has."""
        return tuple(self._free)

    def copy(self) -> Bench:
        """The same, to try something on."""
        return Bench(self._free)

    def take(self, first: int, last: int, length: int) -> tuple[tuple[int, int], ...] | None:
        """Gives the first free minutes between two instants to a job, and takes them away; None, and nothing is taken, where there are too few."""
        free, wanted, given, kept = self._free, length, list[tuple[int, int]](), list[tuple[int, int]]()
        begin = max(0, bisect_left(free, (first, first)) - 1)
        at = begin
        while wanted > 0 and at < len(free):
            start, end = free[at]
            if start >= last:
                break
            lo, hi = max(start, first), min(end, last)
            if hi > lo:
                hi = min(hi, lo + wanted)
                given.append((lo, hi))
                wanted -= hi - lo
                kept += [one for one in ((start, lo), (hi, end)) if one[0] < one[1]]
            else:
                kept.append((start, end))
            at += 1
        if wanted > 0:
            return None
        free[begin:at] = kept
        return tuple(given)

    def after(self, first: int, last: int, length: int, many: int) -> Bench | None:
        """The bench when so many jobs of one window and length are done; None where the hands do not get to all of them. This one stays as it is."""
        if not length:
            return self
        bench = self.copy()
        return bench if all(bench.take(first, last, length) is not None for _ in range(many)) else None


class Hours:
    """How much of the time that the shop is open lies before an instant."""

    __slots__ = ("_before", "_starts", "_stretches")

    def __init__(self, stretches: Sequence[tuple[int, int]]) -> None:
        self._stretches = list(stretches)
        self._starts = [start for start, _ in stretches]
        self._before = [0]
        for start, end in stretches:
            self._before.append(self._before[-1] + end - start)

    def until(self, instant: int) -> int:
        """Minutes of open shop up to an instant."""
        place = bisect_left(self._starts, instant)
        if not place:
            return 0
        start, end = self._stretches[place - 1]
        return self._before[place - 1] + min(end, instant) - start


def given_out(
    stretches: Sequence[tuple[int, int]], jobs: Iterable[tuple[int, int, int, int]]
) -> dict[int, tuple[tuple[int, int], ...]] | None:
    """Jobs as (last instant, first instant, length, number): which minutes each gets; None where there are not minutes enough for all."""
    bench, found = Bench(stretches), dict[int, tuple[tuple[int, int], ...]]()
    for last, first, length, number in sorted(jobs):
        minutes = bench.take(first, last, length)
        if minutes is None:
            return None
        found[number] = minutes
    return found


def given_out_late(
    stretches: Sequence[tuple[int, int]], jobs: Iterable[tuple[int, int, int, int]]
) -> dict[int, tuple[tuple[int, int], ...]] | None:
    """The same with each job as late as it can be: what is done to a skin is done just before it goes on. The clock is read backwards for it."""
    backwards = [(-end, -start) for start, end in reversed(stretches)]
    found = given_out(backwards, ((-first, -last, length, -number) for last, first, length, number in jobs))
    if found is None:
        return None
    return {-number: tuple((-end, -start) for start, end in reversed(minutes)) for number, minutes in found.items()}
