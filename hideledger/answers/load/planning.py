"""The timetable of a floor. Where not everybody can go on in time, those who cannot stay where they are for longer, and that is said."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from hideledger.answers.load.jobs import MOST_WEEKS, WEEKS, Plan, loosened, plan_of
from hideledger.rules.hours import ShopHours
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.trade.timetable_best import Best, best_layout

_FEW_PASSES = 60


def planned(
    floor: Floor, hours: ShopHours, *, newcomers: Sequence[HideLife] = (), weeks: int = WEEKS
) -> tuple[Plan, Best]:
    """The work and the best timetable found for it; no layout only where nothing helped."""
    plan = plan_of(floor, hours, newcomers=newcomers, weeks=weeks)
    best = best_layout(plan.work)
    while best.layout is None:
        if any(plan.work.skins[place].spells[0].most is not None for place in best.stuck):
            plan = _kept_longer(plan, best.stuck)
        elif weeks < MOST_WEEKS:
            weeks = min(MOST_WEEKS, 2 * weeks)
            loose = plan.loose
            plan = plan_of(floor, hours, newcomers=newcomers, weeks=weeks)
            plan = _kept_longer(plan, [i for i, job in enumerate(plan.jobs) if job.life.tag in loose])
        else:
            return plan, best
        best = best_layout(plan.work, nodes=0, passes=_FEW_PASSES)
        if best.layout is not None:
            best = best_layout(plan.work, like=best.manner)
    return plan, best


def _kept_longer(plan: Plan, places: Sequence[int]) -> Plan:
    jobs = tuple(loosened(job) if place in set(places) else job for place, job in enumerate(plan.jobs))
    loose = dict.fromkeys((*plan.loose, *(plan.jobs[place].life.tag for place in places)))
    return replace(
        plan,
        jobs=jobs,
        work=replace(plan.work, skins=tuple(job.skin for job in jobs)),
        loose=tuple(loose),
    )
