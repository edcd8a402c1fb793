"""Which skins lay with one that slipped: in a bath, in a box, or raw in one place; what did it to one was at work on all."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from hideledger.model.moments import When
from hideledger.rules.horizon import Horizon
from hideledger.rules.telling import TAGS
from hideledger.shopfloor.life import BathLife, HideLife, Pause
from hideledger.shopfloor.noted import Defect, Test


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """One company that a skin lay in: `how` in words, the `bath` where it was one, and each that slipped, with its sign and whether that is certain."""

    how: str
    bath: BathLife | None
    slipped: list[tuple[HideLife, Defect, bool]]


class Company:
    """All that slipped, by the baths, boxes and places that they had lain in until then."""

    __slots__ = ("_at", "_by_bath", "_by_box", "_by_place", "_slipped")

    def __init__(self, horizon: Horizon) -> None:
        self._at = horizon.at
        self._slipped = _slipped(horizon)
        self._by_bath: dict[int, list[tuple[HideLife, Defect, When, When]]] = {}
        self._by_box: dict[str, list[tuple[HideLife, Defect]]] = {}
        self._by_place: dict[str, list[tuple[HideLife, Defect, Pause]]] = {}
        for life, defect in self._slipped.values():
            for stay in life.stays:
                if stay.bath is not None and stay.start.lo < defect.when.hi:
                    end = defect.when if stay.end is None or stay.end.lo > defect.when.lo else stay.end
                    self._by_bath.setdefault(id(stay.bath), []).append((life, defect, stay.start, end))
            if life.from_box:
                self._by_box.setdefault(life.from_box, []).append((life, defect))
            for pause in _raw_rests(life):
                if pause.start.lo < defect.when.hi:
                    self._by_place.setdefault(pause.place.casefold(), []).append((life, defect, pause))

    def slipped(self, life: HideLife) -> bool:
        """Whether it is one of those that slipped."""
        return id(life) in self._slipped

    def of(self, life: HideLife) -> Iterator[Beside]:
        """Each company that it lay in with some that slipped, each sign once; also those since when its own hair was pulled and held."""
        told: set[int] = set()
        for stay in life.stays if self._slipped else ():
            if stay.bath is None:
                continue
            beside: list[tuple[HideLife, Defect, bool]] = []
            for other, defect, start, end in self._by_bath.get(id(stay.bath), ()):
                leave = self._at if stay.end is None else stay.end.hi
                if stay.start.lo <= end.hi and leave >= start.lo and id(defect) not in told and other is not life:
                    told.add(id(defect))
                    certain = stay.start.hi <= end.lo and (stay.end is None or stay.end.lo >= start.hi)
                    beside.append((other, defect, certain))
            yield Beside(how=f"lay with {TAGS} in {stay.bath.tag}", bath=stay.bath, slipped=beside)
        if life.from_box:
            came = [
                (other, defect, True) for other, defect in self._by_box.get(life.from_box, ()) if id(defect) not in told
            ]
            told |= {id(defect) for _, defect, _ in came}
            yield Beside(how=f"came in box {life.from_box} with {TAGS}", bath=None, slipped=came)
        for rest in _raw_rests(life) if self._by_place else ():
            lain = [
                (other, defect, _overlap(rest, theirs, defect, self._at, surely=True))
                for other, defect, theirs in self._by_place.get(rest.place.casefold(), ())
                if id(defect) not in told and _overlap(rest, theirs, defect, self._at, surely=False)
            ]
            told |= {id(defect) for _, defect, _ in lain}
            yield Beside(how=f"lay raw with {TAGS} in {rest.place}", bath=None, slipped=lain)


def pulls_after(life: HideLife, defect: Defect) -> Iterator[Test]:
    """The tests of this very hide since a sign of slip by which its hair was pulled and held."""
    for test in life.tests:
        if (
            test.fact.passed
            and "pull" in test.fact.test
            and test.own
            and test.when.hi > defect.when.lo
            and test.entry is not defect.entry
        ):
            yield test


def pulled_after(life: HideLife, defect: Defect) -> bool:
    """Whether the hair of this very hide was pulled since a sign of slip, and held."""
    return next(pulls_after(life, defect), None) is not None


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
