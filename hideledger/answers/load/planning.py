"""The timetable of a floor. Where not everybody can go on in time, those who cannot stay where they are for longer, and that is said."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from hideledger.answers.load.jobs import MOST_WEEKS, WEEKS, Job, Plan, loosened, plan_of
from hideledger.model.moments import DAY, MINUTE
from hideledger.rules.hours import ShopHours
from hideledger.shopfloor.floor import Floor
from hideledger.trade.timetable_best import Best, best_layout

_FEW_PASSES = 60
_DAYS_LONGER = 4  # then it is not held to a day any more


def planned(floor: Floor, hours: ShopHours) -> tuple[Plan, Best]:
    """The work of a floor and the best timetable found for it; no layout only where nothing helped."""
    weeks = WEEKS
    plan, best = settled(plan_of(floor, hours))
    while best.layout is None and weeks < MOST_WEEKS:
        weeks = min(MOST_WEEKS, 2 * weeks)
        plan, best = settled(plan_of(floor, hours, weeks=weeks))
    return plan, best


def settled(plan: Plan) -> tuple[Plan, Best]:
    """The best timetable for a plan, those kept longer where they are who cannot go on in time."""
    best = best_layout(plan.work)
    while best.layout is None:
        stuck = [place for place in best.stuck if plan.work.skins[place].spells[0].most is not None]
        if not stuck:
            return plan, best
        plan = _kept_longer(plan, stuck)
        best = best_layout(plan.work, nodes=0, passes=_FEW_PASSES)
        if best.layout is not None:
            best = best_layout(plan.work, like=best.manner)
    return plan, best


def _kept_longer(plan: Plan, places: Sequence[int]) -> Plan:
    jobs = tuple(
        loosened(job, _a_day_later(plan, job)) if place in set(places) else job for place, job in enumerate(plan.jobs)
    )
    loose = dict.fromkeys((*plan.loose, *(plan.jobs[place].life.tag for place in places)))
    return replace(
        plan,
        jobs=jobs,
        work=replace(plan.work, skins=tuple(job.skin for job in jobs)),
        loose=tuple(loose),
    )


def _a_day_later(plan: Plan, job: Job) -> int | None:
    """The next closing behind the minute by which a hide should go on; None where it was given some days already."""
    first = job.skin.spells[0]
    must = job.skin.since + (first.most or 0)
    moments, days = plan.work.moments, plan.work.days
    closings = [one for one, day, after in zip(moments, days, (*days[1:], -1), strict=True) if day != after]
    later = next((one for one in closings if one > must), None)
    return None if later is None or job.by is None or later > job.by + _DAYS_LONGER * DAY // MINUTE else later
