"""What no timetable can better, however well it is laid: floors under missed promises, lateness and loads."""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter

from hideledger.trade.packing import fewest_loads, least_loads
from hideledger.trade.timetable import Spell, Tub, Work, Worth, days_late
from hideledger.trade.timetable_alone import NEVER, Alone

_PACKING_NODES = 20_000


def floors(work: Work, alone: Alone) -> Worth | None:
    """A floor under each of the three; None where some hide cannot be done within the moments even alone."""
    missed = late = 0
    for place, skin in enumerate(work.skins):
        done = alone.alone_done(place)
        if done >= NEVER:
            return None
        days = days_late(work, skin, work.moments[done])
        missed, late = missed + (days > 0), late + days
    crowded = max((_missed_for_room(work, alone, mates) for mates in _uses(work)), default=0)
    if crowded:
        return missed + crowded, late + crowded, _loads(work, alone, timely=False)
    return missed, late, _loads(work, alone, timely=True)


def _loads(work: Work, alone: Alone, *, timely: bool) -> int:
    """Loads of hides that may not lie together are different loads, so the fewest of each sort of mates are added up.

    `timely`: only timetables count in which each hide is no later than it would be alone.
    """
    total = 0
    for uses in _uses(work).values():
        tubs = {place for _, _, spell in uses for place in spell.tubs}
        often = Counter(skin for skin, _, _ in uses)  # a hide that goes in again is in another load
        fewest = max(often.values())
        for limits, sizes in (
            ([work.tubs[place].holds for place in tubs], [work.skins[skin].counts for skin, _, _ in uses]),
            ([work.tubs[place].weighs for place in tubs], [work.skins[skin].weight for skin, _, _ in uses]),
        ):
            known = [limit for limit in limits if limit is not None]
            most = max(known) if len(known) == len(limits) else sum(sizes)
            if any(size > most for size in sizes):
                return NEVER
            if most:
                fewest = max(fewest, fewest_loads(sizes, most, nodes=_PACKING_NODES).bound)
            if timely:
                fewest = max(fewest, _loads_in_time(work, alone, uses, sizes, most))
        total += fewest
    return total


def _loads_in_time(work: Work, alone: Alone, uses: list[tuple[int, int, Spell]], sizes: list[int], most: int) -> int:
    """The fewest loads, each going in at one moment, when each hide has a first and a last moment at which it can: a hide may even be divided.

    The load of the hide that can wait least goes in at its last moment, and takes with it those that can wait least of those that are there by then.
    """
    wanted: list[list[int]] = []
    for (skin, at, _), size in zip(uses, sizes, strict=True):
        due = work.skins[skin].due
        if due is not None:
            due = max(due, work.days[alone.alone_done(skin)])
        latest = alone.latest_for(alone.way_of[skin], at, due)
        wanted.append([len(work.moments) if latest is None else latest, _first_start(work, skin, at), size])
    wanted.sort()
    loads = 0
    while wanted:
        end, room = wanted[0][0], most
        loads += 1
        for one in wanted:
            if one[1] <= end:
                taken = min(room, one[2])
                one[2], room = one[2] - taken, room - taken
        wanted = [one for one in wanted if one[2] > 0] if most else []
    return loads


def _uses(work: Work) -> dict[str, list[tuple[int, int, Spell]]]:
    """By mates: each hide with each stay to come in a vessel."""
    uses: dict[str, list[tuple[int, int, Spell]]] = {}
    for place, skin in enumerate(work.skins):
        for at, spell in enumerate(skin.spells[1:], 1):
            if spell.tubs:
                uses.setdefault(spell.mates, []).append((place, at, spell))
    return uses


def _missed_for_room(work: Work, alone: Alone, mates: str) -> int:
    """Promises that could be kept alone and must be missed since between the first and the last moment that would do there is no time for so many loads."""
    wanted: list[tuple[int, int, int]] = []  # the first and the last place at which the load may begin, and the count
    first_of = {one[0]: one for one in reversed(_uses(work)[mates])}  # of a hide that goes in twice, the first time
    uses = [one for one in first_of.values() if work.skins[one[0]].due is not None]
    for skin, at, _ in uses:
        if days_late(work, work.skins[skin], work.moments[alone.alone_done(skin)]):
            continue  # missed in any case, and counted already
        latest = alone.latest_start(skin, at)
        first = _first_start(work, skin, at)
        if latest is not None and latest >= first:
            wanted.append((first, latest, work.skins[skin].counts))
    tubs = [work.tubs[place] for place in {t for _, _, spell in uses for t in spell.tubs}]
    if any(tub.holds is None for tub in tubs):
        return 0
    least = min((spell.least for _, _, spell in uses), default=0)
    most = 0
    for start in {one[0] for one in wanted}:
        for end in {one[1] for one in wanted if one[1] >= start}:
            sizes = sorted(counts for first, latest, counts in wanted if first >= start and latest <= end)
            most = max(most, _too_many(sizes, tubs, _turns(work, start, end, least)))
    return most


def _too_many(sizes: list[int], tubs: list[Tub], turns: int) -> int:
    """How many of the hides, the largest, must stay out for the rest to go into the vessels in so many turns.

    Where each vessel takes one load at a time the rest has to be packed; in a tub all that go in within one turn lie in it together at its end.
    """
    holds = [tub.holds or 0 for tub in tubs]
    packed, out = all(tub.whole for tub in tubs), 0
    while sizes and (
        sizes[-1] > max(holds)
        or sum(sizes) > turns * sum(holds)
        or (packed and least_loads(sizes, max(holds)) > turns * len(tubs))
    ):
        sizes, out = sizes[:-1], out + 1
    return out


def _turns(work: Work, start: int, end: int, least: int) -> int:
    """How many loads of one vessel can begin between two moments, one after the other, each at least so long."""
    turns, at = 0, start
    while at <= end:
        turns += 1
        at = max(at + 1, bisect_left(work.moments, work.moments[at] + least)) if at < len(work.moments) else end + 1
    return turns


def _first_start(work: Work, skin: int, at: int) -> int:
    """The first moment's place at which stay `at` of a hide could begin."""
    now = work.skins[skin].since
    place = 0
    for spell in work.skins[skin].spells[:at]:
        place = bisect_left(work.moments, now + spell.least)
        if place >= len(work.moments):
            return place
        now = work.moments[place]
    return place
