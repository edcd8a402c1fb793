"""A timetable of loads: which hides go into which drum or tub together, when, so that promises are kept.

This is the whole rule, in the shop's words; any other program that follows it must come to the same worth.

Time. `moments` are the instants at which somebody is there to move a hide, rising; `days` is the calendar day of each. Nothing begins or ends between them.

A hide has a row of stays, in its own order. The first is the one it is in now: it began at `since` (which may lie ahead: the hide comes then) and,
where `vessel` is given, in that vessel. The moment a stay ends the next begins; where the last ends the hide is done. A stay lasts `least` or longer,
and, where `most` is given, `most` or shorter. Every stay ends at a moment. A stay with `vessels` is spent in one of them; one without needs none, and any number
of hides may be in it at once.

A vessel holds so many by `holds` (what kinds count) and by `weighs`, each where given. At a moment those who leave are lifted out first. Whoever then
goes in must find room in both measures, and share `mates` with each hide that is in it or goes in with it. A vessel that is
`whole` (it turns, and is opened for all) takes one load at a time: whoever goes in finds it empty, and those in it come out at one moment, all of them. What is in
a vessel at the beginning may be over full or ill matched: only going in is judged. Where the limits of a vessel change (`steps`), no hide that went in may be
there at a moment from which on they hold less than what is in it.

Hands. Before a stay ends a hide may want `work` at the bench: it is done when the shop is `open`, once the stay has had its `least` time, by one pair of hands,
on one hide at a time; it may be laid down and taken up again.

A load is all that goes into one vessel at one moment; the stays of the beginning are no loads.

Worth. A hide with a `due` day is missed when it is done on a later day, and is late by the days between. Of all timetables in which every hide is done, the best
misses the fewest promises; among those it has the fewest days of lateness in all; among those the fewest loads.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass

from hideledger.trade.timetable_bench import given_out, given_out_late


@dataclass(frozen=True, slots=True, kw_only=True)
class Tub:
    """What holds hides. `holds` by count, `weighs` by weight, in whole units; `whole`: one load at a time, in and out together.

    `steps`, where its limits change: (from which moment, by count, by weight) rising, the first from the beginning; `holds` and `weighs` are the most of them then.
    """

    name: str
    holds: int | None = None
    weighs: int | None = None
    whole: bool = False
    steps: tuple[tuple[int, int | None, int | None], ...] = ()

    def least(self, start: int, end: int) -> tuple[int | None, int | None]:
        """The smallest limits by count and by weight from one moment to another, the last not taken in."""
        if not self.steps:
            return self.holds, self.weighs
        ends = (*(step[0] for step in self.steps[1:]), end)
        met = [
            step
            for step, until in zip(self.steps, ends, strict=True)
            if step[0] < end and (until > start or step is self.steps[-1])
        ]
        counts = [step[1] for step in met if step[1] is not None]
        weights = [step[2] for step in met if step[2] is not None]
        return min(counts, default=None), min(weights, default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spell:
    """A stay that is to come or has begun. `mates`: who may lie together; `tubs` the places of the vessels in the row; lengths in the unit of the moments.

    `work`: at the bench, before it ends.
    """

    mates: str = ""
    tubs: tuple[int, ...] = ()
    least: int = 0
    most: int | None = None
    work: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Skin:
    """A hide: what it counts and weighs, the stay it is in and those to come, the day it is promised for."""

    name: str
    counts: int = 1
    weight: int = 0
    since: int = 0
    tub: int | None = None
    spells: tuple[Spell, ...]
    due: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """All that is to be laid out. `open`: the stretches in which somebody is there, rising; wanted where there is work at the bench."""

    moments: tuple[int, ...]
    days: tuple[int, ...]
    tubs: tuple[Tub, ...]
    skins: tuple[Skin, ...]
    open: tuple[tuple[int, int], ...] = ()

    @property
    def has_bench(self) -> bool:
        """Whether any hide wants work at the bench."""
        return any(spell.work for skin in self.skins for spell in skin.spells)


@dataclass(frozen=True, slots=True, order=True)
class Visit:
    """One stay as laid out: in which vessel (None: in none), from when to when."""

    tub: int | None
    start: int
    end: int


Layout = tuple[tuple[Visit, ...], ...]  # a row of visits for each hide, in the order of `Work.skins`
Worth = tuple[int, int, int]  # promises missed, days late in all, loads


def days_late(work: Work, skin: Skin, done: int) -> int:
    """Days past the promise when a hide is done at this moment; 0 in time or without a promise."""
    if skin.due is None:
        return 0
    return max(0, work.days[bisect_left(work.moments, done)] - skin.due)


def loads_of(layout: Layout) -> dict[tuple[int, int], list[int]]:
    """Who goes in together: by (vessel, moment), the places of the hides."""
    loads: dict[tuple[int, int], list[int]] = {}
    for place, visits in enumerate(layout):
        for visit in visits[1:]:
            if visit.tub is not None:
                loads.setdefault((visit.tub, visit.start), []).append(place)
    return loads


def worth_of(work: Work, layout: Layout) -> Worth:
    """Promises missed, days late in all, loads: less is better, in this order."""
    late = [days_late(work, skin, visits[-1].end) for skin, visits in zip(work.skins, layout, strict=True)]
    return sum(one > 0 for one in late), sum(late), len(loads_of(layout))


def faults_of(work: Work, layout: Layout) -> list[str]:
    """Where a layout breaks the rule above, each in a sentence; nothing for a sound one. Vessels are looked at where the hides are sound."""
    faults: list[str] = []
    allowed = set(work.moments)
    for skin, visits in zip(work.skins, layout, strict=True):
        faults += _faults_of_hide(skin, visits, allowed)
    if faults:
        return faults
    for place, tub in enumerate(work.tubs):
        faults += _faults_of_tub(work, layout, place, tub)
    if work.has_bench and at_the_bench(work, layout) is None:
        faults.append("there are not hands enough at the bench")
    return faults


def at_the_bench(
    work: Work, layout: Layout, *, late: bool = False
) -> dict[tuple[int, int], tuple[tuple[int, int], ...]] | None:
    """By the places of hide and stay: in which minutes the work before its end is done, as soon as can be or as `late`; None where one pair of hands cannot do it all."""
    keys, jobs = list[tuple[int, int]](), list[tuple[int, int, int, int]]()
    for place, (skin, visits) in enumerate(zip(work.skins, layout, strict=True)):
        for stay, (spell, visit) in enumerate(zip(skin.spells, visits, strict=True)):
            if spell.work:
                jobs.append((visit.end, visit.start + spell.least, spell.work, len(keys)))
                keys.append((place, stay))
    found = (given_out_late if late else given_out)(work.open, jobs)
    return None if found is None else {keys[number]: minutes for number, minutes in found.items()}


def _faults_of_hide(skin: Skin, visits: tuple[Visit, ...], allowed: set[int]) -> list[str]:
    if len(visits) != len(skin.spells) or visits[0].start != skin.since or visits[0].tub != skin.tub:
        return [f"{skin.name} does not begin where it is, or leaves out a stay"]
    faults = []
    for place, (spell, visit) in enumerate(zip(skin.spells, visits, strict=True)):
        if place and visit.start != visits[place - 1].end:
            faults.append(f"{skin.name} is nowhere before stay {place}")
        if visit.end not in allowed:
            faults.append(f"{skin.name} ends stay {place} when nobody is there")
        if visit.end - visit.start < spell.least or (spell.most is not None and visit.end - visit.start > spell.most):
            faults.append(f"{skin.name} is in stay {place} for too short or too long")
        if place and (visit.tub not in spell.tubs if spell.tubs else visit.tub is not None):
            faults.append(f"{skin.name} spends stay {place} in the wrong vessel")
    return faults


def _faults_of_tub(work: Work, layout: Layout, place: int, tub: Tub) -> list[str]:
    inside = [
        (visit.start, visit.end, skin, spell, at == 0)
        for skin, visits in zip(work.skins, layout, strict=True)
        for at, (spell, visit) in enumerate(zip(skin.spells, visits, strict=True))
        if visit.tub == place
    ]
    faults = []
    changes = {
        step[0]
        for step in tub.steps[1:]
        if any(start < step[0] < end for start, end, _, _, given in inside if not given)
    }
    for moment in sorted({start for start, _, _, _, given in inside if not given} | changes):
        holds, weighs = tub.least(moment, moment + 1)
        there = [one for one in inside if (one[0] < moment or one[4]) and moment < one[1]]
        entering = [one for one in inside if one[0] == moment and not one[4]]
        both = [*there, *entering]
        if holds is not None and sum(one[2].counts for one in both) > holds:
            faults.append(f"{tub.name} is over full by count at {moment}")
        if weighs is not None and sum(one[2].weight for one in both) > weighs:
            faults.append(f"{tub.name} is over full by weight at {moment}")
        if len({one[3].mates for one in both}) > 1:
            faults.append(f"{tub.name} has hides in it at {moment} that do not go together")
        if tub.whole and there and entering:
            faults.append(f"{tub.name} is not empty at {moment}")
    if tub.whole:
        for load in (
            {one[1] for one in inside if one[0] == start and not one[4]} for start in {one[0] for one in inside}
        ):
            if len(load) > 1:
                faults.append(f"{tub.name} is opened for a part of its load")
        if len({one[1] for one in inside if one[4]}) > 1:
            faults.append(f"{tub.name} is opened for a part of what is in it now")
    return faults
