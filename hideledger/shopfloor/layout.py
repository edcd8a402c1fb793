"""Lays out in time what was written: who was where, for how long, and in what bath, up to one moment."""

from __future__ import annotations

from collections import deque
from dataclasses import replace
from datetime import date
from operator import itemgetter

from hideledger.model.book import Book
from hideledger.model.entry import Entry
from hideledger.model.facts import Bought, Counted, Money, Reading, Stepped, Used
from hideledger.model.moments import When
from hideledger.shopfloor.afoot import HideAfoot, Walk, not_before_last, steps_in_bath
from hideledger.shopfloor.baths import bath_line
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.hides import hide_line
from hideledger.shopfloor.late import Place, Placed, better_places, ends, placed
from hideledger.shopfloor.loads import keep_own_times, settle_bath
from hideledger.shopfloor.narrow import Key, narrowed
from hideledger.shopfloor.noted import BathReading
from hideledger.shopfloor.portions import share_out
from hideledger.shopfloor.raw import Warmth, raw_clock
from hideledger.shopfloor.settle import Routes, settle
from hideledger.shopfloor.slips import dated_wrong
from hideledger.shopfloor.strangers import strangers
from hideledger.shopfloor.tanned import note_coming
from hideledger.shopfloor.who import Declared, declared

_FIRST_YEAR, _LAST_YEAR = 1900, 2200  # a kill outside is a slip of the hand, and calendars end not far beyond
_SHELF = frozenset((Bought, Counted, Used))
_Line = tuple[Place, Entry, tuple[str, ...]]  # where it stands in time, the entry, the tags it is about


def lay_out(book: Book, at: int, *, present: bool = False) -> Floor:
    """The shop at the instant `at` (UTC seconds). Lines after it do not count; how many there are is `later`.

    `present`: it is that moment now, so a line of a later day is a slip of the hand, and one below it that cannot be read
    is waited for by nobody. Else somebody looks back, and what was written since is left out.

    Raises nothing: what does not fit is an oddity, and the rest of the line still counts.
    """
    known = declared(book)
    today = book.clock.day_of(at)
    near = [entry for entry in book.entries if entry.when.day <= today or entry.when.lo <= at]
    found = narrowed(near, lambda tag: known.sorts.get(tag) in ("bath", "vessel"), steps_in_bath(book.shop))
    lines = placed(near, found)
    counted = [entry for entry in near if _has_come(entry, lines.moments, at)]
    # To somebody who looks back, a line that cannot be read and stands under a later day is not yet written, like any other.
    unread = tuple(
        trouble
        for trouble in book.unread
        if present or not trouble.day or date.fromisoformat(trouble.day).toordinal() <= today
    )
    later = len(book.entries) - len(counted) + len(book.unread) - len(unread)
    book = replace(book, unread=unread)
    routes = Routes(book.shop)
    walk = _walk(book, at, counted, later, known, lines)
    if found.loose and better_places(walk, routes, found, lines):
        walk = _walk(book, at, counted, later, known, lines)
    _settle(walk, routes)
    floor = walk.floor
    floor.moments = lines.moments
    floor.oddities += [oddity for oddity in known.wrong if oddity.entry.when.lo <= at]
    floor.oddities += strangers(floor, known.sorts)
    floor.oddities += dated_wrong(book.entries, at, today if present else None)
    floor.oddities.sort(key=lambda oddity: oddity.entry.order)
    return floor


def _walk(book: Book, at: int, counted: list[Entry], later: int, known: Declared, lines: Placed) -> Walk:
    """Once through the book, line by line in time."""
    floor = Floor(book=book, at=at, entries=sorted(counted, key=lambda entry: entry.when.hi), later=later)
    walk = Walk(floor, known.sorts, known.unsure)
    waiting = deque(_in_time(counted, lines))
    while waiting:  # let go one by one: what is laid out takes their place in memory
        _, entry, tags = waiting.popleft()
        _line(walk, entry, tags, lines.moments)
    return walk


def _has_come(entry: Entry, moments: dict[Key, When], at: int) -> bool:
    """Whether a line counts at a moment. One without a time does so from the earliest moment that its neighbours leave
    it.
    """
    if entry.when.lo > at:
        return False
    if entry.when.timed:
        return True
    names = entry.tags if entry.group is None else (entry.group.where,)
    return not names or min(moments[entry.order, name].lo for name in names) <= at


def _in_time(entries: list[Entry], placed_lines: Placed) -> list[_Line]:
    """The lines in the order in which they happened. One without a time may stand elsewhere for each of its tags."""
    lines: list[_Line] = []
    for entry in entries:
        when = entry.when
        if when.timed or not entry.tags:
            where = "" if entry.group is None else entry.group.where
            lines.append((placed_lines.of(entry, where), entry, entry.tags))
            continue
        places: dict[Place, list[str]] = {}
        for tag in entry.tags:
            places.setdefault(placed_lines.of(entry, tag), []).append(tag)
        lines += [(place, entry, tuple(tags)) for place, tags in places.items()]
    lines.sort(key=itemgetter(0))  # what is written at one minute stays as in the file
    return lines


def _line(walk: Walk, entry: Entry, tags: tuple[str, ...], moments: dict[Key, When]) -> None:
    sorts = {type(fact) for fact in entry.facts}
    floor = walk.floor
    if not sorts.isdisjoint(_SHELF):
        floor.shelf.append(entry)
    if Money in sorts:
        floor.money.append(entry)
    if entry.place:
        _read_place(walk, entry)
        return
    sharing = len(entry.tags)
    if entry.group is not None:
        where = entry.group.where
        inside = [hide.life.tag for hide in walk.hides_in(where) if hide.life.tag not in entry.group.but]
        tags, sharing = tuple(inside), len(inside)
        bath = walk.bath(where)
        if bath is not None:
            bath.life.lines.append(entry)
        if not inside and walk.sorts.get(where, "place") != "hide":
            walk.oddity("group of nobody", (where,), entry)
    when = entry.when
    for tag in tags:
        if not entry.when.timed:
            when = _moment(walk, entry, tag, moments)
            if ends(entry):
                when = not_before_last(walk, tag, when)
        sort = walk.sorts.get(tag)
        if sort == "hide":
            hide_line(walk, tag, entry, when, sorts, sharing)
        elif sort is not None:
            bath_line(walk, tag, entry, when)
    if Stepped in sorts:
        _name_baths(walk, entry)


def _moment(walk: Walk, entry: Entry, tag: str, moments: dict[Key, When]) -> When:
    """A line without a time lies between its neighbours, and before now, since it is written."""
    when = moments.get((entry.order, tag))
    if when is None and entry.group is not None:
        when = moments.get((entry.order, entry.group.where))
    return _by_now(entry.when if when is None else when, walk.floor.at)


def _by_now(when: When, at: int) -> When:
    return when if when.hi <= at else When(min(when.lo, at), at, when.day, when.timed, when.twice)


def _name_baths(walk: Walk, entry: Entry) -> None:
    """A line that puts hides into a bath is one of the bath's lines too."""
    for fact in entry.facts:
        if isinstance(fact, Stepped) and fact.where:
            bath = walk.bath(fact.where)
            if bath is not None and (not bath.life.lines or bath.life.lines[-1] is not entry):
                bath.life.lines.append(entry)


def _read_place(walk: Walk, entry: Entry) -> None:
    when = _by_now(entry.when, walk.floor.at)
    for fact in entry.facts:
        if isinstance(fact, Reading):
            readings = walk.floor.place_readings.setdefault(entry.place, [])
            readings.append(BathReading(entry=entry, when=when, fact=fact))


def _settle(walk: Walk, routes: Routes) -> None:
    """What can be known only when all lines are read: the process each hide follows, turning, weights, the raw clock."""
    floor = walk.floor
    for hide in walk.walked:
        note_coming(floor, hide.life)
        _goes_its_old_way(hide)
        settle(walk, hide, routes.of(hide))
    share_out(floor)
    for several in floor.baths.values():
        for bath in several:
            settle_bath(floor, bath)
    warmth = Warmth(floor)
    for hide in walk.walked:
        keep_own_times(hide.life)
        _kill(walk, hide)
        hide.life.raw = raw_clock(floor, hide, warmth)


def _goes_its_old_way(hide: HideAfoot) -> None:
    """A skin that was here before goes the way that was said for it outright then, not its kind's, where nothing is said now."""
    was = hide.life.was
    if was is None or hide.process_name or was.kind != hide.life.kind:
        return
    if was.process_entry is not None and was.process is not None:
        hide.process_name = was.process.name


def _kill(walk: Walk, hide: HideAfoot) -> None:
    """A day alone is some time that day, and in any case before it came in."""
    life = hide.life
    stamp = None if life.killed is None else life.killed[0].stamp
    if stamp is None or not _FIRST_YEAR <= stamp.day.year <= _LAST_YEAR:
        return
    day = stamp.day.toordinal()
    if stamp.minute is None:
        when = walk.clock.some_time(day)
        life.kill_when = when.within(when.lo, life.arrived_when.hi)
    else:
        instant = walk.clock.opening(day, stamp.minute)
        life.kill_when = When(instant, instant, day, True)
