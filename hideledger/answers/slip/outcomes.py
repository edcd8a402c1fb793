"""What became of each skin: it slipped here, it came through, or that is not known yet.

Any other defect is looked at in the same way. A defect seen at the door is no outcome of the shop, and a skin that is still
in its baths has none yet.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from hideledger.model.facts import Flaw
from hideledger.model.process import Process, Step
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife, Stay
from hideledger.shopfloor.noted import Defect
from hideledger.shopfloor.tanned import came_as_leather, was_worked

SLIPPED, THROUGH, HELD, NOT_YET, AT_DOOR = "slipped", "came through", "held so far", "not yet", "at the door"
AFTER_OUT, GONE, REFUSED = "after it was out", "gone", "refused at the door"
NEVER_CAME = "never came to the step"  # of a failure that happens at a step


@dataclass(frozen=True, slots=True, kw_only=True)
class Fate:
    """One skin came to one of eight ends.

    `slipped` with its first sign, `came through`, `held so far` (not through, but past the stage at which others slipped: held_so_far),
    `not yet`, `at the door` (it came in with the defect), `after it was out` (written of a skin that was gone: it came back, or the tag is
    wrong), `refused at the door` (nothing was done to it here), or `gone` (given up for another reason, or fetched again untanned).
    """

    life: HideLife
    end: str
    sign: Defect | None = None

    @property
    def hit(self) -> bool:
        """Whether it counts among those that slipped."""
        return self.end == SLIPPED

    @property
    def counts(self) -> bool:
        """Whether its outcome is known, or known so far, and the shop's own."""
        return self.end in (SLIPPED, THROUGH, HELD)

    def before_sign(self, instant: int) -> bool:
        """Whether an instant (UTC seconds) lies before the first sign: what came after it has caused nothing."""
        return self.sign is None or instant < self.sign.when.lo


def fates(floor: Floor, defect: str = "slip", *, first: int | None = None, last: int | None = None) -> tuple[Fate, ...]:
    """Every skin by arrival, with what became of it; only those that came in from day `first` to day `last` (ordinals).

    Boxes are not skins; what was refused at the door is named apart, while one that had been worked on counts as any other. A skin that came in as leather is the one that was tanned here, or was tanned elsewhere. A skin that was cut counts by its parts, unless it had
    slipped before: then it counts once, as it was.
    """
    last_baths = _last_baths(floor)
    return tuple(
        _fate(floor, life, defect, last_baths)
        for life in floor.all_hides()
        if (first is None or life.arrived_when.day >= first)
        and (last is None or life.arrived_when.day <= last)
        and _is_one(floor, life, defect)
    )


def _is_one(floor: Floor, life: HideLife, defect: str) -> bool:
    if life.box or life.count != 1 or life.ended_as == "opened" or came_as_leather(life):
        return False
    if life.ended_as == "cut":
        return _first(life, defect) is not None
    sign = _first(life, defect)
    return sign is None or all(sign.entry is not seen.entry for whole in wholes(floor, life) for seen in whole.defects)


def refused_at_the_door(life: HideLife) -> bool:
    """Whether it was not taken: refused on the day it came, or with nothing written of it since, and no step done here.

    One that was refused out of the tub had been here, and what happened to it happened here.
    """
    if life.ended_as != "refused" or life.ended_when is None:
        return False
    if any(mark.name not in ("in", "out") and not mark.elsewhere and not mark.skipped for mark in life.marks):
        return False
    return life.ended_when.day == life.arrived_when.day or all(one.at_door for one in life.defects)


def wholes(floor: Floor, life: HideLife) -> Iterator[HideLife]:
    """The skins that this one was cut from."""
    parent = (
        next((one for one in floor.hides.get(life.parent, ()) if one.ended_as == "cut"), None) if life.parent else None
    )
    if parent is not None and parent is not life:
        yield parent
        yield from wholes(floor, parent)


def _first(life: HideLife, defect: str) -> Defect | None:
    seen = [one for one in life.defects if one.fact.defect == defect]
    return min(seen, key=lambda one: (one.when.lo, one.entry.order), default=None)


def _fate(floor: Floor, life: HideLife, defect: str, last_baths: dict[int, int]) -> Fate:
    if refused_at_the_door(life):
        return Fate(life=life, end=REFUSED)
    seen = [one for one in life.defects if one.fact.defect == defect]
    if any(one.at_door for one in seen):
        return Fate(life=life, end=AT_DOOR)
    if seen:
        return Fate(life=life, end=SLIPPED, sign=_first(life, defect))
    back = [one for again in life.came_back if (one := _first(again, defect)) is not None]
    if back:  # the same skin, which this shop finished
        return Fate(life=life, end=SLIPPED, sign=back[0])
    if any(isinstance(fact, Flaw) and fact.defect == defect for entry in life.after_end for fact in entry.facts):
        return Fate(life=life, end=AFTER_OUT)
    if life.ended_as == "out":
        return Fate(life=life, end=THROUGH if was_worked(life) else GONE)
    if _is_past(floor, life, last_baths):
        return Fate(life=life, end=THROUGH)
    return Fate(life=life, end=NOT_YET if life.here else GONE)


def _last_baths(floor: Floor) -> dict[int, int]:
    """For each version of a process, the place of its last wet step: as its lines say, or as the shop does it."""
    found: dict[int, int] = {}
    for life in floor.all_hides():
        process = life.process
        if process is None:
            continue
        if id(process) not in found:
            found[id(process)] = max((i for i, step in enumerate(process.steps) if _is_wet(step)), default=-1)
        for stay in life.stays:
            if _in_liquor(floor, stay):
                found[id(process)] = max(found[id(process)], place_of_step(process, stay.line))
    return found


def _is_wet(step: Step) -> bool:
    """Whether the process itself says that a step is done in liquor, if only by what is to be read there, or by the two
    names that every shop has for it.
    """
    readings = (step.ph, step.salt, step.temperature)
    return step.in_bath or step.tanning or any(readings) or any(step.called(name) for name in ("pickle", "tan"))


def _in_liquor(floor: Floor, stay: Stay) -> bool:
    """In a bath, or in a vessel of which nobody wrote what was in it."""
    return stay.bath is not None or stay.where in floor.book.shop.vessels


def place_of_step(process: Process, line: object) -> int:
    """Where a step stands in its process; -1 for none of its steps."""
    return next((i for i, step in enumerate(process.steps) if step is line or step == line), -1)


def _is_past(floor: Floor, life: HideLife, last_baths: dict[int, int]) -> bool:
    """Whether it has gone on to a step behind its last bath, and lies in none now."""
    process = life.process
    if process is None or (life.stay is not None and _in_liquor(floor, life.stay)):
        return False
    last = last_baths.get(id(process), -1)
    return last >= 0 and any(
        place_of_step(process, mark.line) > last
        for mark in life.marks
        if not mark.skipped and not mark.fault and not mark.elsewhere and mark.line is not None
    )
