"""The days on which a hide waited for the shop and not for its owner: it was being looked at after a slip, or lay in a rest."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hideledger.answers.saying import today
from hideledger.rules.answering import Waiver, reason_of, waivers
from hideledger.rules.horizon import look
from hideledger.rules.slipped import SLIP_NEARBY, Beside, companies, pulls_after, pulls_since
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.shopfloor.noted import Defect, Test


class LookedAt:
    """It is asked of many hides of one floor; what slipped is gone through once."""

    __slots__ = ("_beside", "_floor", "_waived")

    def __init__(self, floor: Floor) -> None:
        self._floor = floor
        self._beside: dict[int, list[Beside]] | None = None
        self._waived: dict[str, list[Waiver]] = {}

    def days(self, life: HideLife) -> frozenset[int]:
        """Nobody was asked to fetch it on these days (ordinals).

        From a sign of slip on it, or on one that it lay with, to the good pull of its own hair, or the waiver with its reason; and those of its
        rests. The day itself on which it held counts no more.
        """
        if self._beside is None:
            self._beside, self._waived = {}, waivers(self._floor)
            for company in companies(look(self._floor), self._floor.all_hides(), pulled_too=True):
                self._beside.setdefault(id(company.life), []).extend(company.beside)
        clock = self._floor.book.clock
        now = today(clock, self._floor.at) if life.ended_when is None else life.ended_when.day
        found: set[int] = set()
        for begun, over in self._spells(life):
            found.update(range(clock.day_of(begun), now if over is None else min(now, clock.day_of(over))))
        return frozenset(found)

    def _spells(self, life: HideLife) -> Iterator[tuple[int, int | None]]:
        for pause in life.pauses:
            yield pause.start.lo, None if pause.end is None else pause.end.hi
        for defect in life.defects:
            if defect.fact.defect == "slip" and not defect.at_door:
                pulls = pulls_after(life, defect.when.lo, [defect.entry])
                yield defect.when.lo, self._held(life, defect, pulls)
        for one in (self._beside or {}).get(id(life), ()):
            begun = one.defect.when.lo if one.after is None else max(one.defect.when.lo, one.after.start.lo)
            yield begun, self._held(life, one.defect, pulls_since(life, one))

    def _held(self, life: HideLife, defect: Defect, pulls: Iterable[Test]) -> int | None:
        """When its hair was pulled and held after a sign, or the sign was waived with a reason; None where neither is written."""
        ends = [test.when.hi for test in pulls]
        ends += [
            waiver.until
            for waiver in self._waived.get(life.tag, ())
            if SLIP_NEARBY in waiver.names
            and waiver.after <= defect.when.lo <= waiver.until
            and reason_of(waiver.entry)
        ]
        return min(ends, default=None)
