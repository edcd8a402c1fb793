"""The fewest loads that a row of skins goes into, when each load holds so much: exact, by branch and bound.

Sizes and what a load holds are whole numbers in one unit (what kinds count, ounces). The lower bound is L2 of Martello and Toth, Knapsack Problems
(1990), chapter 8; the search fills one load at a time round the largest skin left and drops what could be no better (bin completion, after Martello
and Toth, and Korf, AAAI 2002).
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

_NODES = 400_000


class TooLarge(ValueError):
    """A skin that fits into no load at all; the number is its place in the row."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Packing:
    """Loads as the places of the skins in the row that was given. `bound` is the fewest there could be; `proved` that there are no fewer."""

    loads: tuple[tuple[int, ...], ...]
    bound: int

    @property
    def proved(self) -> bool:
        """Whether fewer loads are known to be impossible."""
        return len(self.loads) == self.bound


def least_loads(sizes: Sequence[int], holds: int) -> int:
    """No packing has fewer loads than this: L2, the best over all ways to tell large skins from small ones.

    Those above `holds - k` lie alone, those above half a load cannot share with each other, and what is left of the rest from `k` upwards has to go
    into the room beside them or into loads of its own.
    """
    if not sizes:
        return 0
    rising = sorted(sizes)
    before = [0]
    for size in rising:
        before.append(before[-1] + size)
    half = _above(rising, holds // 2)
    best = -(-before[-1] // holds)
    for k in {0, *(size for size in rising if 2 * size <= holds)}:
        alone, from_k = _above(rising, holds - k), bisect_left(rising, k)
        large = max(0, alone - half)
        start = min(from_k, half)
        room = large * holds - (before[alone] - before[half]) if alone > half else 0
        rest = before[half] - before[start] - room
        best = max(best, len(rising) - min(half, len(rising)) + max(0, -(-rest // holds)))
    return best


def _above(rising: Sequence[int], size: int) -> int:
    """How many are not larger than `size`."""
    return bisect_left(rising, size + 1)


def by_largest_first(sizes: Sequence[int], holds: int) -> tuple[tuple[int, ...], ...]:
    """The loads when each skin, the largest first, goes into the fullest load that has room (best fit decreasing)."""
    loads: list[list[int]] = []
    room: list[int] = []
    for place in sorted(range(len(sizes)), key=lambda one: (-sizes[one], one)):
        fitting = [load for load, left in enumerate(room) if left >= sizes[place]]
        if fitting:
            load = min(fitting, key=lambda one: (room[one], one))
            loads[load].append(place)
            room[load] -= sizes[place]
        else:
            loads.append([place])
            room.append(holds - sizes[place])
    return tuple(tuple(load) for load in loads)


def fewest_loads(sizes: Sequence[int], holds: int, *, nodes: int = _NODES) -> Packing:
    """The fewest loads; with `nodes` steps of search used up, the best found and a bound. Raises TooLarge."""
    for place, size in enumerate(sizes):
        if size > holds:
            raise TooLarge(place)
    first = by_largest_first(sizes, holds)
    bound = least_loads(sizes, holds)
    left = [nodes]
    while bound < len(first):
        found = _into(sorted(sizes, reverse=True), holds, bound, left)
        if found is not None:
            return Packing(loads=_places(found, sizes), bound=bound)
        if left[0] <= 0:
            return Packing(loads=first, bound=bound)
        bound += 1
    return Packing(loads=first, bound=bound)


def _into(falling: list[int], holds: int, count: int, left: list[int]) -> list[tuple[int, ...]] | None:
    """The skins in `count` loads, or None: impossible, or `left` is used up."""
    failed: dict[tuple[int, ...], int] = {}

    def fill(rest: tuple[int, ...], loads: int, waste: int) -> list[tuple[int, ...]] | None:
        if not rest:
            return []
        if waste < 0 or loads == 0 or failed.get(rest, -1) >= loads:
            return None
        left[0] -= 1
        if left[0] <= 0:
            return None
        if least_loads(rest, holds) > loads:
            failed[rest] = loads
            return None
        for load in _round_the_largest(rest, holds, waste):
            remaining = _without(rest, load)
            found = fill(remaining, loads - 1, waste - (holds - sum(load)))
            if found is not None:
                return [load, *found]
            if left[0] <= 0:
                return None
        failed[rest] = max(failed.get(rest, -1), loads)
        return None

    return fill(tuple(falling), count, count * holds - sum(falling))


def _round_the_largest(falling: tuple[int, ...], holds: int, waste: int) -> Iterator[tuple[int, ...]]:
    """Ways to fill the load of the largest skin left, the fullest first: none that has room for a skin left outside, none that wastes too much."""
    ways: list[tuple[int, ...]] = []
    room = holds - falling[0]

    def choose(start: int, room: int, chosen: tuple[int, ...], least_out: int) -> None:
        size_before = -1
        for at in range(start, len(falling)):
            size = falling[at]
            if size == size_before:
                continue
            if size <= room:
                choose(at + 1, room - size, (*chosen, size), least_out)
                size_before = size
                least_out = min(least_out, size)  # from here on this one stays outside
        if room <= waste and least_out > room:
            ways.append(chosen)

    # `least_out`: the smallest skin passed over so far; a load with room for it is worse than the same load with it.
    choose(1, room, (falling[0],), holds + 1)
    seen: set[tuple[int, ...]] = set()
    for way in sorted(ways, key=lambda one: (-sum(one), len(one))):
        if way not in seen:
            seen.add(way)
            yield way


def _without(falling: tuple[int, ...], load: tuple[int, ...]) -> tuple[int, ...]:
    rest = list(falling)
    for size in load:
        rest.remove(size)
    return tuple(rest)


def _places(loads: Sequence[Sequence[int]], sizes: Sequence[int]) -> tuple[tuple[int, ...], ...]:
    """Loads of sizes turned into loads of places."""
    by_size: dict[int, list[int]] = {}
    for place, size in enumerate(sizes):
        by_size.setdefault(size, []).append(place)
    return tuple(tuple(by_size[size].pop(0) for size in load) for load in loads)
