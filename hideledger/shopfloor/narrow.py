"""A line without a time lies somewhere in its day, between the lines of that day that name the same tag.

A helper writes no times; yet what stands above a line in the notebook was done before it. So a line without a time is
held between its neighbours *of the same tag, in the same file, on the same day*. Lines of different hides may change
places without changing anything.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from hideledger.model.entry import Entry
from hideledger.model.facts import LiftedOut, Stepped
from hideledger.model.moments import When
from hideledger.shopfloor.who import guessed_groups

Narrowed = dict[tuple[int, str], When]  # by the entry's order and the tag
_Bounds = dict[tuple[str, int, int], int]  # by tag, calendar day and number of the file: the instant of the next line


def narrowed(entries: Sequence[Entry], is_bath: Callable[[str], bool]) -> Narrowed:
    """The moment of every line without a time, for each tag it names (for a group: its bath or place, and each guessed
    member).

    `entries` in the order of the book. Timed lines are not in the answer.
    """
    days = {entry.when.day for entry in entries if not entry.when.timed}
    if not days:
        return {}
    near = [entry for entry in entries if entry.when.day in days]
    groups = guessed_groups(entries) if any(entry.group is not None for entry in near) else {}
    files: dict[int, int] = {}
    rows = [
        (entry, files.setdefault(id(entry.source), len(files)), _names(entry, groups), _baths(entry, is_bath))
        for entry in near
    ]

    own_most: dict[tuple[int, str], int] = {}
    bath_most: dict[tuple[int, str], int] = {}
    bounds: _Bounds = {}
    for entry, file, names, baths in reversed(rows):
        when = entry.when
        for name in names:
            most = when.hi
            if not when.timed:
                most = own_most[entry.order, name] = _capped(when, most, bounds.get((name, when.day, file)))
                for bath in baths:
                    bath_most[entry.order, name] = _capped(when, most, bounds.get((bath, when.day, file)))
            bounds[name, when.day, file] = most

    answer: Narrowed = {}
    bounds = {}
    for entry, file, names, baths in rows:
        when = entry.when
        for name in names:
            least = when.lo
            if not when.timed:
                least = _raised(when, least, bounds.get((name, when.day, file)))
                most = own_most[entry.order, name]
                if most < least:  # the line below was written late: it says nothing about this one
                    most = when.hi
                for bath in baths:
                    raised = _raised(when, least, bounds.get((bath, when.day, file)))
                    least = raised if raised <= most else least
                capped = bath_most.get((entry.order, name), most)
                most = min(most, capped) if capped >= least else most
                answer[entry.order, name] = When(least, max(least, most), when.day, False)
            bounds[name, when.day, file] = least

    # A bath may have held a line closer than the hide's own lines did: then it holds those above it too.
    bounds = {}
    for entry, file, names, _ in reversed(rows):
        for name in names:
            when = entry.when if entry.when.timed else answer[entry.order, name]
            most = when.hi
            if not when.timed:
                most = _capped(when, most, bounds.get((name, when.day, file)))
                answer[entry.order, name] = when.within(when.lo, most)
            bounds[name, when.day, file] = most
    return answer


def _names(entry: Entry, groups: dict[int, tuple[str, ...]]) -> tuple[str, ...]:
    if entry.group is None:
        return entry.tags
    return (entry.group.where, *groups.get(entry.order, ()))


def _baths(entry: Entry, is_bath: Callable[[str], bool]) -> tuple[str, ...]:
    """Baths that a hide's line names beside the hide. They hold the line; the line does not hold them, or hides would
    push each other.
    """
    return tuple(
        fact.where
        for fact in entry.facts
        if isinstance(fact, Stepped | LiftedOut) and fact.where and is_bath(fact.where) and fact.where not in entry.tags
    )


def _raised(when: When, least: int, bound: int | None) -> int:
    return least if bound is None or bound > when.hi else max(least, bound)


def _capped(when: When, most: int, bound: int | None) -> int:
    return most if bound is None or bound < when.lo else min(most, bound)
