"""What each load goes into: the bath that stands there, or a new one; and what has to be seen to before they go in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from hideledger.answers.load.bathcare import before_they_go_in
from hideledger.answers.load.jobs import Plan, weight_of
from hideledger.answers.load.loads import Load
from hideledger.answers.load.making import Making, letters_for, making_of
from hideledger.answers.load.vessels import past_its_life
from hideledger.model.moments import MINUTE
from hideledger.rules.horizon import Horizon, look
from hideledger.rules.tubs import free_tag
from hideledger.shopfloor.life import BathLife
from hideledger.trade.timetable import Layout


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadBath:
    """What a load goes into: its tag; what is let go and how it is made before that, if it has to be; and what is said of it beside the load."""

    tag: str
    let_go: str = ""
    making: Making | None = None
    said: tuple[tuple[str, str], ...] = ()

    @property
    def first(self) -> tuple[str, ...]:
        """The lines before the load's own."""
        gone = (f"{self.let_go} dumped",) if self.let_go else ()
        return () if self.making is None else (*gone, self.making.line)


@dataclass(slots=True, kw_only=True)
class _Stands:
    """What stands in a vessel as the loads go by: for whom it is (empty: for the first that comes), its life, the pounds that go in by this plan."""

    tag: str
    whose: str
    bath: BathLife | None = None
    pounds: Decimal = Decimal(0)
    been_in: set[str] = field(default_factory=set)  # a skin that goes in again has gone through it once
    told: set[str] = field(default_factory=set)  # by mates: for what it has to read its readings were looked at


def baths_of(plan: Plan, layout: Layout, loads: Sequence[Load]) -> dict[tuple[int, int], LoadBath]:
    """The bath of each load by vessel and moment: one that stands there, is for that step and is not worn out, else a new one under the next free tag."""
    floor = plan.floor
    horizon = look(floor)
    taken = {*floor.baths, *floor.hides, *floor.book.shop.vessels}
    stands: dict[int, _Stands] = {}
    for place, vessel in enumerate(plan.vessels):
        inside = floor.in_vessel(vessel.tag)
        if inside:
            used = vessel.is_drum and bool(inside[-1].members)
            stands[place] = _Stands(tag=inside[-1].tag, whose="used" if used else "", bath=inside[-1])
            stands[place].been_in |= {member.hide.tag for member in inside[-1].members}
    found, noted = {}, dict[str, str]()  # why no amounts are known, and beside which it was told
    for load in loads:
        vessel, mates = plan.vessels[load.vessel], load.parts[0].mates.split(",", maxsplit=1)[0]
        step = load.parts[0].steps[0].name  # in `pickle again` the pickle does as well, whatever it has to read then
        here = stands.get(load.vessel)
        pounds = _pounds(plan, load, set() if here is None else here.been_in)
        fits = here is not None and here.whose in ("", step)
        worn = "" if here is None or here.bath is None or not fits else _worn(plan, load, here, pounds)
        if here is not None and fits and not (worn and not _others_in_it(layout, load)):
            said = [("mind", worn)] if worn else []
            if here.bath is not None and mates not in here.told:
                said = [*_wrong(plan, horizon, load, here.bath), *said]
                here.told.add(mates)
            here.pounds += pounds
            here.been_in |= set(load.tags)
            here.whose = "used" if vessel.is_drum else step
            found[load.vessel, load.start] = LoadBath(tag=here.tag, said=tuple(said))
            continue
        made = free_tag(taken, letters_for(floor, load.parts[0].steps, vessel))
        taken.add(made)
        day = floor.book.clock.day_of(load.start * MINUTE)
        making = making_of(
            floor, made, load.parts[0].steps, load.tags, floor.book.shop.vessels.get(vessel.tag, vessel), day
        )
        old = "" if here is None else here.tag
        said = [("mind", worn)] if worn else []
        said.append(("mix", _mixing(made, old, making, noted.get(making.note.replace(made, ""), ""))))
        noted.setdefault(making.note.replace(made, ""), made)
        found[load.vessel, load.start] = LoadBath(tag=made, let_go=old, making=making, said=tuple(said))
        stands[load.vessel] = _Stands(tag=made, whose="used" if vessel.is_drum else step, been_in=set(load.tags))
    return found


def _pounds(plan: Plan, load: Load, been_in: set[str]) -> Decimal:
    """What of a load goes through its bath for the first time."""
    jobs = [job for job in load.jobs if job.life.tag not in been_in]
    return sum((weight.to("lb") for job in jobs if (weight := weight_of(plan.past, job.life))), Decimal(0))


def _worn(plan: Plan, load: Load, here: _Stands, pounds: Decimal) -> str:
    """Whether the bath is at the end of its life when the load is in, the loads of this plan before it counted."""
    assert here.bath is not None
    return past_its_life(plan.floor, here.bath, load.start * MINUTE, here.pounds + pounds)


def _wrong(plan: Plan, horizon: Horizon, load: Load, bath: BathLife) -> list[tuple[str, str]]:
    return before_they_go_in(plan.floor, horizon, bath, [part.steps[0] for part in load.parts])


def _others_in_it(layout: Layout, load: Load) -> bool:
    """Whether somebody stays in the vessel over the moment at which a load goes in: a bath with skins in it is not let go."""
    return any(
        visit.tub == load.vessel and visit.start < load.start < visit.end for visits in layout for visit in visits
    )


def _mixing(made: str, old: str, making: Making, like: str) -> str:
    """What has to be mixed before a load, and where the amounts, the order of work and the cautions are told."""
    gone = f"let {old} go first, then " if old else ""
    if not making.request:
        return f"{gone}make {made} first{f', as {like}' if like else f'; {making.note}'}"
    size = f" ({making.note})" if making.note else ""
    return f"{gone}make {made} first: {making.amounts}{size}; order of work and cautions by `{making.request}`"
