"""Who shared a bath, a box or a place with one that slipped: at one time with it, or in its bath after it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from hideledger.model.entry import Entry
from hideledger.model.moments import When
from hideledger.rules.answering import waived_since
from hideledger.rules.horizon import Horizon
from hideledger.shopfloor.life import BathLife, HideLife, Pause, Stay
from hideledger.shopfloor.noted import Defect, Test

SLIP_NEARBY = "slip nearby"


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """One that slipped, as seen from one that shared something with it.

    `certain`: they lay there at one time for certain. `after` is the stay of the one that went into the bath later, None where they lay together.
    """

    other: HideLife
    defect: Defect
    certain: bool
    after: Stay | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Company:
    """What one skin shared with some that slipped: a `bath`, else a `box` it came in, else the `place` it lay raw in."""

    life: HideLife
    beside: tuple[Beside, ...]
    bath: BathLife | None = None
    box: str = ""
    place: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lain:
    """One that slipped in a bath it lay in before that: from `start` to `end`; `last` where it lay in no other between then and the sign."""

    other: HideLife
    defect: Defect
    start: When
    end: When
    last: bool


def companies(
    horizon: Horizon, lives: Iterable[HideLife] | None = None, *, pulled_too: bool = False
) -> Iterator[Company]:
    """All that those here (or other `lives`) shared with some that slipped, each sign told once of a skin: first of a bath, then of a box, then of a place.

    A sign after which a skin's own hair was pulled, and held, is left out unless it is wanted too.
    """
    slipped = _slipped(horizon)
    if not slipped:
        return
    by_bath: dict[int, list[_Lain]] = {}
    by_box: dict[str, list[tuple[HideLife, Defect]]] = {}
    by_place: dict[str, list[tuple[HideLife, Defect, Pause]]] = {}
    for life, defect in slipped.values():
        for bath, lain in _lain(life, defect):
            by_bath.setdefault(id(bath), []).append(lain)
        if life.from_box:
            by_box.setdefault(life.from_box, []).append((life, defect))
        for pause in _raw_rests(life):
            if pause.start.lo < defect.when.hi:
                by_place.setdefault(pause.place.casefold(), []).append((life, defect, pause))
    unread = [life for life in horizon.unread if not life.declared]  # beside it all the same, however it came
    for life in (*horizon.here, *unread) if lives is None else lives:
        if id(life) in slipped:
            continue
        told: set[int] = set()
        for bath, stays in _baths_of(life):
            new = [lain for lain in by_bath.get(id(bath), ()) if id(lain.defect) not in told]
            found = [one for lain in new if (one := _beside(lain, stays, bath, horizon.at))]
            told |= {id(one.defect) for one in found}
            yield Company(life=life, bath=bath, beside=_left(life, found, pulled_too))
        if life.from_box:
            came = [
                Beside(other=other, defect=defect, certain=True)
                for other, defect in by_box.get(life.from_box, ())
                if id(defect) not in told
            ]
            told |= {id(one.defect) for one in came}
            yield Company(life=life, box=life.from_box, beside=_left(life, came, pulled_too))
        for rest in _raw_rests(life):
            lay = [
                Beside(other=other, defect=defect, certain=_overlap(rest, theirs, defect, horizon.at, surely=True))
                for other, defect, theirs in by_place.get(rest.place.casefold(), ())
                if id(defect) not in told and _overlap(rest, theirs, defect, horizon.at, surely=False)
            ]
            told |= {id(one.defect) for one in lay}
            yield Company(life=life, place=rest.place, beside=_left(life, lay, pulled_too))


def slipped_in(bath: BathLife, horizon: Horizon) -> tuple[tuple[HideLife, Defect], ...]:
    """Those that slipped with this bath as the last that they lay in, where nothing says since that it was set right; the first sign first."""
    found = [
        (life, defect)
        for life, defect in _slipped(horizon).values()
        for other, lain in _lain(life, defect)
        if other is bath and lain.last and not _set_right(bath, defect)
    ]
    once = {id(life): (life, defect) for life, defect in reversed(found)}
    return tuple(sorted(once.values(), key=lambda one: (one[1].when.lo, one[1].entry.order)))


def _lain(life: HideLife, defect: Defect) -> Iterator[tuple[BathLife, _Lain]]:
    before = [stay for stay in life.stays if stay.start.lo < defect.when.hi]
    for stay in before:
        if stay.bath is not None:
            end = defect.when if stay.end is None or stay.end.lo > defect.when.lo else stay.end
            last = stay.bath is before[-1].bath
            yield stay.bath, _Lain(other=life, defect=defect, start=stay.start, end=end, last=last)


def _baths_of(life: HideLife) -> Iterator[tuple[BathLife, list[Stay]]]:
    """Each bath it lay in once, with all its stays there."""
    found: dict[int, tuple[BathLife, list[Stay]]] = {}
    for stay in life.stays:
        if stay.bath is not None:
            found.setdefault(id(stay.bath), (stay.bath, []))[1].append(stay)
    yield from found.values()


def _beside(lain: _Lain, stays: Iterable[Stay], bath: BathLife, at: int) -> Beside | None:
    """How one that has these stays in the bath was beside one that slipped; None where it was not, or went in after the bath was set right."""
    later: Beside | None = None
    maybe: Beside | None = None
    for stay in stays:
        leave = at if stay.end is None else stay.end.hi
        if stay.start.lo <= lain.end.hi and leave >= lain.start.lo:
            if stay.start.hi <= lain.end.lo and (stay.end is None or stay.end.lo >= lain.start.hi):
                return Beside(other=lain.other, defect=lain.defect, certain=True)
            maybe = Beside(other=lain.other, defect=lain.defect, certain=False)
        elif stay.start.lo > lain.end.hi and lain.last and not _set_right(bath, lain.defect):
            # What was wrong with the bath is wrong with it still, for all that anybody wrote.
            later = later or Beside(other=lain.other, defect=lain.defect, certain=True, after=stay)
    return later or maybe


def _set_right(bath: BathLife, defect: Defect) -> bool:
    """Whether somebody wrote, with a reason, that the bath was seen to after the sign."""
    return waived_since(bath, SLIP_NEARBY, defect.when.lo)


def _raw_rests(life: HideLife) -> list[Pause]:
    """Its rests in a named place before salt, acid or tan had stopped the raw clock: there a slow frost or a warm day harms it."""
    cured = min(
        (
            mark.when.lo
            for mark in life.marks
            if mark.line is not None and mark.line.raw == "stops" and not mark.skipped
        ),
        default=None,
    )
    return [one for one in life.pauses if one.place and (cured is None or one.start.hi <= cured)]


def _overlap(rest: Pause, theirs: Pause, defect: Defect, at: int, *, surely: bool) -> bool:
    """Whether two lay there at one time before the slip was seen: for certain, or maybe."""
    ends = [one.end for one in (rest, theirs)]
    if surely:
        start = max(rest.start.hi, theirs.start.hi)
        return start <= min(defect.when.lo, *(at if end is None else end.lo for end in ends))
    start = max(rest.start.lo, theirs.start.lo)
    return start <= min(defect.when.hi, *(at if end is None else end.hi for end in ends))


def _slipped(horizon: Horizon) -> dict[int, tuple[HideLife, Defect]]:
    """The first slip of each hide that had one; what was there at the door proves nothing about the shop."""
    found: dict[int, tuple[HideLife, Defect]] = {}
    for life in (*horizon.lives, *(one for one in horizon.unread if not one.declared)):
        for defect in life.defects:
            if defect.fact.defect == "slip" and not defect.at_door:
                found[id(life)] = (life, defect)
                break
    return found


def _left(life: HideLife, beside: Iterable[Beside], pulled_too: bool) -> tuple[Beside, ...]:
    return tuple(one for one in beside if pulled_too or next(pulls_since(life, one), None) is None)


def pulls_since(life: HideLife, one: Beside) -> Iterator[Test]:
    """The tests since a sign by which its own hair was pulled and held; of one that went in later, since then: the pull at the door says nothing of the bath."""
    lines = [one.defect.entry]
    if one.after is None:
        return pulls_after(life, one.defect.when.lo, lines)
    return pulls_after(life, max(one.defect.when.lo, one.after.start.lo), [*lines, one.after.mark.entry])


def pulls_after(life: HideLife, since: int, besides: Sequence[Entry] = ()) -> Iterator[Test]:
    """The tests of this very hide since an instant by which its hair was pulled and held, those of some lines left out."""
    for test in life.tests:
        held = test.fact.passed and "pull" in test.fact.test and test.own and test.when.hi > since
        if held and not any(test.entry is line for line in besides):
            yield test
