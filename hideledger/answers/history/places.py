"""What stood in a tub or drum, or lay in the freezer, in order of time: for the day on which it has to be emptied."""

from __future__ import annotations

from collections.abc import Iterator

from hideledger.answers.history.lines import LINE, Happening, moved, of_bath, written
from hideledger.answers.saying import counted, length_said, tags_said
from hideledger.model.entry import Entry
from hideledger.model.moments import When
from hideledger.model.shop import Spot, Vessel
from hideledger.model.units import plain_number
from hideledger.rules.spans import now_when
from hideledger.rules.words import in_order
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife


def of_vessel(tag: str, floor: Floor) -> list[Happening]:
    """Every bath and load that was in it with their lines, skins that lay in it by its own tag, and lines about it."""
    told: list[Happening] = []
    for bath in floor.all_baths():
        if bath.vessel == tag:
            told += of_bath(bath, (), floor)
    told += _hides_in(tag, floor)
    return _with_lines(told, [entry for entry in floor.entries if tag in entry.tags], tag, floor)


def of_place(name: str, floor: Floor) -> list[Happening]:
    """Every skin that lay there, from when to when, and the lines about the place itself: readings, remarks."""
    about = [entry for entry in floor.entries if entry.place.casefold() == name.casefold()]
    return _with_lines(list(_hides_in(name, floor)), about, name, floor)


def vessel_heading(tag: str, floor: Floor) -> str:
    """`V1, vat, 40 gal, holds 12, in it P3`."""
    vessel = floor.book.shop.vessels.get(tag)
    parts = [tag] if vessel is None else [tag, *_described(vessel)]
    inside = [bath.tag for bath in floor.in_vessel(tag)] + _lying(tag, floor)
    parts.append(f"in it {tags_said(inside)}" if inside else "empty")
    return ", ".join(parts)


def place_heading(name: str, floor: Floor) -> str:
    """`freezer, at most 5 F, 3 skins in it: H4 H5 H9`."""
    spot = next((spot for spot in floor.book.shop.spots.values() if spot.name.casefold() == name.casefold()), None)
    inside = _lying(name, floor)
    skins = sum(life.count for life in floor.here() if life.tag in inside)
    lying = f"{counted(skins, 'skin')} in it: {tags_said(inside)}" if inside else "no skins in it"
    return ", ".join([name, *(_limits(spot) if spot is not None else []), lying])


def _described(vessel: Vessel) -> list[str]:
    words = [vessel.sort] if vessel.sort else []
    if vessel.volume is not None:
        words.append(str(vessel.volume))
    if vessel.holds is not None:
        words.append(f"holds {plain_number(vessel.holds)}")
    return words


def _limits(spot: Spot) -> list[str]:
    least = [f"at least {spot.least}"] if spot.least is not None else []
    return [*least, f"at most {spot.most}"] if spot.most is not None else least


def _lying(where: str, floor: Floor) -> list[str]:
    """Tags of the skins that lie there now, in order."""
    return list(in_order(life.tag for life in floor.here() for _, _, _, end in _times(life, where) if end is None))


def _hides_in(where: str, floor: Floor) -> Iterator[Happening]:
    clock, at = floor.book.clock, floor.at
    for life in floor.all_hides():
        for state, (start, entry), last, end in _times(life, where):
            yield moved(where, start, entry, f"{life.tag} in, {state}", clock)
            stop = now_when(clock, at) if end is None else end[0]
            length = length_said(max(0, stop.lo - start.hi), max(0, stop.hi - start.lo))
            way = "still in" if end is None else "out"
            yield moved(where, stop, last, f"{life.tag} {way}, {state}, {length}", clock)


def _times(
    life: HideLife, where: str
) -> Iterator[tuple[str, tuple[When, Entry], Entry, tuple[When, Entry | None] | None]]:
    """Each time it lay there by that name, in a step, at rest, or since a step of a moment.

    As what; when it came, with the line that says so; the line that is shown for its going; and when it went (None:
    it is there now).
    """
    for stay in life.stays:
        if stay.bath is None and stay.where.casefold() == where.casefold():
            end = None if stay.end is None else (stay.end, stay.end_entry)
            state = stay.line.title if stay.line is not None else stay.name
            yield state, (stay.start, stay.mark.entry), stay.end_entry or stay.mark.entry, end
    for pause in life.pauses:
        if pause.place.casefold() == where.casefold():
            end = None if pause.end is None else (pause.end, pause.end_entry)
            yield pause.name, (pause.start, pause.entry), pause.end_entry or pause.entry, end
    holding = {id(stay.mark) for stay in life.stays}
    for number, mark in enumerate(life.marks):
        if mark.where.casefold() == where.casefold() and id(mark) not in holding:
            after = [(later.when, later.entry) for later in life.marks[number + 1 :]]
            after += [(pause.start, pause.entry) for pause in life.pauses if pause.start.lo >= mark.when.lo]
            if life.ended is not None and life.ended_when is not None:
                after.append((life.ended_when, life.ended))
            went = min(after, key=lambda one: one[0].lo, default=None)
            state = f"after {mark.line.title if mark.line is not None else mark.name}"
            yield state, (mark.when, mark.entry), went[1] if went is not None else mark.entry, went


def _with_lines(told: list[Happening], lines: list[Entry], name: str, floor: Floor) -> list[Happening]:
    """The same with those lines of the book that it does not show yet, in order."""
    shown = {one.order for one in told if one.sort == LINE}
    clock = floor.book.clock
    told += [
        written(entry, floor.moment(entry, name), name, LINE, clock) for entry in lines if entry.order not in shown
    ]
    return sorted(told, key=lambda one: one.rank)
