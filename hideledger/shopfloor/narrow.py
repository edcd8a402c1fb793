"""A line without a time lies somewhere in its day, between the lines of that day that name the same tag.

A helper writes no times; yet what stands above a line in the notebook was done before it. So a line without a time is
held between its neighbours *of the same tag, on the same page, on the same day*. Lines of different hides may change
places without changing anything. A line written late, below a later day, has no neighbours but other late ones of that
day; nor has one in another file.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Sequence
from dataclasses import dataclass, field

from hideledger.model.entry import Entry
from hideledger.model.facts import LiftedOut, Mixed, Stepped
from hideledger.model.moments import When
from hideledger.shopfloor.who import guessed_groups

Key = tuple[int, str]  # the entry's order and the tag
_Bounds = dict[tuple[str, int, int], int]  # by tag, calendar day and page: the instant of the next line
_Row = tuple[Entry, tuple[str, ...], tuple[str, ...], int]  # the line, whom it names, the baths that hold it, its page


@dataclass(slots=True, kw_only=True)
class Narrowed:
    """Where the lines without a time lie, for each tag they name. Timed lines are in none of these.

    `pages` holds on which page each stands: another for each file, and one more for what was written there late.
    `loose` are those that may lie anywhere in their day as far as another page knows; `last` those
    with no line without a time below them.
    """

    moments: dict[Key, When] = field(default_factory=dict)
    pages: dict[Key, int] = field(default_factory=dict)
    loose: set[Key] = field(default_factory=set)
    last: set[Key] = field(default_factory=set)


def narrowed(entries: Sequence[Entry], is_bath: Callable[[str], bool], in_bath: Container[str] = ()) -> Narrowed:
    """Every line without a time has a moment for each tag it names.

    For a group those are its bath or place, and each guessed member. `entries` in the order of the book; `in_bath` the names of steps that
    are done in a bath.
    """
    answer = Narrowed()
    days = {entry.when.day for entry in entries if not entry.when.timed}
    if not days:
        return answer
    groups: dict[int, tuple[str, ...]] = {}
    if any(entry.group is not None and entry.when.day in days for entry in entries):
        groups = guessed_groups(entries, in_bath)
    rows = _rows(entries, days, groups, is_bath, answer)
    own_most: dict[Key, int] = {}
    bath_most: dict[Key, int] = {}
    bounds: _Bounds = {}
    for entry, names, baths, page in reversed(rows):
        when = entry.when
        for name in names:
            most = when.hi
            if not when.timed:
                most = own_most[entry.order, name] = _capped(when, most, bounds.get((name, when.day, page)))
                for bath in baths:
                    bath_most[entry.order, name] = _capped(when, most, bounds.get((bath, when.day, page)))
            bounds[name, when.day, page] = most

    moments = answer.moments
    bounds = {}
    put_in: _Bounds = {}  # by bath: the line above that put hides in, which `all in` it comes after
    for entry, names, baths, page in rows:
        when = entry.when
        least = when.lo
        for name in names:
            least = when.lo
            if not when.timed:
                least = _raised(when, least, bounds.get((name, when.day, page)))
                if entry.group is not None:
                    least = _raised(when, least, put_in.get((entry.group.where, when.day, page)))
                most = own_most[entry.order, name]
                if most < least:  # the line below was written late: it says nothing about this one
                    most = when.hi
                for bath in baths:
                    raised = _raised(when, least, bounds.get((bath, when.day, page)))
                    least = raised if raised <= most else least
                capped = bath_most.get((entry.order, name), most)
                most = min(most, capped) if capped >= least else most
                moments[entry.order, name] = When(least, max(least, most), when.day, False)
            bounds[name, when.day, page] = least
        if entry.group is None:
            for bath in baths:
                put_in[bath, when.day, page] = max(least, put_in.get((bath, when.day, page), least))

    # A bath may have held a line closer than the hide's own lines did: then it holds those above it too.
    bounds = {}
    for entry, names, _, page in reversed(rows):
        for name in names:
            when = entry.when if entry.when.timed else moments[entry.order, name]
            most = when.hi
            if not when.timed:
                most = _capped(when, most, bounds.get((name, when.day, page)))
                moments[entry.order, name] = when.within(when.lo, most)
            bounds[name, when.day, page] = most
    return answer


def _rows(
    entries: Sequence[Entry],
    days: set[int],
    groups: dict[int, tuple[str, ...]],
    is_bath: Callable[[str], bool],
    answer: Narrowed,
) -> list[_Row]:
    """The lines of these days, each with its tags, the baths that hold it besides, and the page it stands on."""
    files: dict[int, int] = {}
    latest: dict[int, int] = {}  # by file: the latest day so far
    several: dict[tuple[str, int], set[int]] = {}  # by tag and day: the files
    rows: list[_Row] = []
    for entry in entries:
        day, file = entry.when.day, files.setdefault(id(entry.source), len(files))
        late = day < latest.setdefault(file, day)
        if not late:
            latest[file] = day
        if day in days:
            names = _names(entry, groups)
            for name in names:
                several.setdefault((name, day), set()).add(file)
            rows.append((entry, names, _baths(entry, is_bath), 2 * file + late))
    below: set[tuple[str, int, int]] = set()
    for entry, names, _, page in reversed(rows):
        if entry.when.timed:
            continue
        day = entry.when.day
        for name in names:
            key = entry.order, name
            answer.pages[key] = page
            if page % 2 or len(several[name, day]) > 1:
                answer.loose.add(key)
            if (name, day, page) not in below:
                answer.last.add(key)
                below.add((name, day, page))
    return rows


def _names(entry: Entry, groups: dict[int, tuple[str, ...]]) -> tuple[str, ...]:
    """Whom a line names; one that mixes a bath names the vessel too, which that tag means from there on."""
    if entry.group is not None:
        return (entry.group.where, *groups.get(entry.order, ()))
    vessels = tuple(
        fact.vessel for fact in entry.facts if isinstance(fact, Mixed) and fact.vessel and fact.vessel not in entry.tags
    )
    return (*entry.tags, *vessels) if vessels else entry.tags


def _baths(entry: Entry, is_bath: Callable[[str], bool]) -> tuple[str, ...]:
    """Baths that a hide's line names beside the hide, or whose hides it is about. They hold the line; the line does not
    hold them, or hides would push each other.
    """
    if entry.group is not None and is_bath(entry.group.where):
        return (entry.group.where,)
    return tuple(
        fact.where
        for fact in entry.facts
        if isinstance(fact, Stepped | LiftedOut) and fact.where and is_bath(fact.where) and fact.where not in entry.tags
    )


def _raised(when: When, least: int, bound: int | None) -> int:
    return least if bound is None or bound > when.hi else max(least, bound)


def _capped(when: When, most: int, bound: int | None) -> int:
    return most if bound is None or bound < when.lo else min(most, bound)
