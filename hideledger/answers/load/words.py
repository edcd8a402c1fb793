"""A timetable in the shop's words: each load with its reason, who is promised when, and the lines to write."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal

from hideledger.answers.load.baths import LoadBath
from hideledger.answers.load.jobs import Plan
from hideledger.answers.load.loads import Load
from hideledger.answers.load.vessels import room_beside_liquor
from hideledger.answers.saying import point, tags_said
from hideledger.answers.sheet import Row
from hideledger.model.moments import DAY, MINUTE, spoken
from hideledger.model.shop import as_of
from hideledger.model.units import plain_number
from hideledger.rules.words import entry_stamp, in_order
from hideledger.trade.timetable import Layout
from hideledger.trade.timetable_alone import Alone

Minutes = Mapping[tuple[int, int], tuple[tuple[int, int], ...]]  # at the bench, by the places of hide and stay
_BENCH_DAYS = 2
_NEARLY_FULL = 0.8  # of the room beside the liquor: from here on it is said


def load_row(
    plan: Plan, layout: Layout, load: Load, bath: LoadBath, bench: Minutes, soonest: Minutes, alone: Alone
) -> Row:
    """When, where, who; then what it is in for, how full it is, when it is out, and why now."""
    clock, at = plan.floor.book.clock, plan.floor.at
    vessel = plan.vessels[load.vessel]
    start = point(load.start * MINUTE, clock, at)
    titles = list(dict.fromkeys(part.title for part in load.parts))
    out = f"out {_point(plan, load.last_out)}"
    if load.first_out != load.last_out:
        out = f"the first out {_point(plan, load.first_out)}, the last {_point(plan, load.last_out)}"
    under = [("for", f"{' or '.join(titles)}; {out}"), ("holds", _fullness(plan, layout, load))]
    doings = {
        step.title: in_order(j.life.tag for j, p in zip(load.jobs, load.parts, strict=True) if step in p.before)
        for part in load.parts
        for step in part.before
    }
    needed = [f"{doing} ({tags_said(tags)})" for doing, tags in doings.items()]
    tight = [
        f"{plan_part.title} from {_point(plan, layout[plan.jobs.index(job)][stay - 1].start)}"
        for job, stay in zip(load.jobs, load.stays, strict=True)
        if stay > 1 and not (plan_part := job.parts[stay - 2]).vessels
    ]
    if tight:
        under.append(("before", ", ".join(dict.fromkeys(tight))))
    if needed:
        under.append(("first", ", ".join(needed)))
    hands = _bench(plan, load, bench)
    if hands:
        under.append(("bench", hands))
    under += bath.said
    under.append(("why now", _why(plan, layout, load, soonest, alone)))
    text = f"{tags_said(load.tags)} into {_where(plan, load, bath)}"
    return Row(
        head=start,
        text=text,
        under=tuple(under),
        plain=(
            entry_stamp(clock, load.start * MINUTE),
            vessel.tag,
            " ".join(load.tags),
            " or ".join(titles),
            f"out {entry_stamp(clock, load.last_out * MINUTE)}",
        ),
    )


def _point(plan: Plan, moment: int) -> str:
    return point(moment * MINUTE, plan.floor.book.clock, plan.floor.at)


def _bench(plan: Plan, load: Load, bench: Minutes) -> str:
    """How long one person works on the hides before they go in, and when."""
    minutes = [
        one
        for job, stay in zip(load.jobs, load.stays, strict=True)
        for one in bench.get((plan.jobs.index(job), stay - 1), ())
    ]
    if not minutes:
        return ""
    first, last = min(one[0] for one in minutes), max(one[1] for one in minutes)
    return f"{spoken(sum(end - start for start, end in minutes) * MINUTE)} of work for one person, from {_point(plan, first)} to {_point(plan, last)}"


def bench_rows(plan: Plan, bench: Minutes) -> tuple[Row, ...]:
    """What is done on the first two days at the bench: from when to when, which doing, on whom."""
    clock = plan.floor.book.clock
    days = sorted({clock.day_of(one[0] * MINUTE) for minutes in bench.values() for one in minutes})[:_BENCH_DAYS]
    found: list[tuple[int, int, str, list[str]]] = []
    row = sorted((minutes, place, stay) for (place, stay), all_of in bench.items() for minutes in all_of)
    for (start, end), place, stay in row:
        job = plan.jobs[place]
        steps = job.parts[stay].before if stay < len(job.parts) else job.after
        doing = ", ".join(step.title for step in steps if step.takes is not None)
        if found and found[-1][1] == start and found[-1][2] == doing:
            found[-1] = (found[-1][0], end, doing, [*found[-1][3], job.life.tag])
        else:
            found.append((start, end, doing, [job.life.tag]))
    return tuple(
        Row(
            head=f"{_point(plan, start)} to {clock.local(end * MINUTE):%H:%M}",
            text=f"{doing}: {tags_said(in_order(dict.fromkeys(tags)))}",
            plain=(entry_stamp(clock, start * MINUTE), entry_stamp(clock, end * MINUTE), doing, " ".join(tags)),
        )
        for start, end, doing, tags in found
        if clock.day_of(start * MINUTE) in days
    )


def _where(plan: Plan, load: Load, bath: LoadBath) -> str:
    """`P5 in V1` where it is no drum's load, else the vessel."""
    vessel = plan.vessels[load.vessel]
    return vessel.tag if vessel.is_drum or bath.tag == vessel.tag else f"{bath.tag} in {vessel.tag}"


def _fullness(plan: Plan, layout: Layout, load: Load) -> str:
    """What is in the vessel when the load is in, of what it holds."""
    vessel = plan.vessels[load.vessel]
    day = date.fromordinal(plan.floor.book.clock.day_of(load.start * MINUTE))
    vessel = as_of(plan.floor.book.shop.vessels.get(vessel.tag, vessel), day)
    inside = [
        job
        for job, visits in zip(plan.jobs, layout, strict=True)
        if any(v.tub == load.vessel and v.start <= load.start < v.end for v in visits)
    ]
    kinds = plan.floor.book.shop.kinds
    counts = sum(
        (kinds[j.life.kind.casefold()].counts if j.life.kind.casefold() in kinds else Decimal(1)) for j in inside
    )
    said = plain_number(Decimal(counts))
    said += f" of {plain_number(vessel.holds)} by count" if vessel.holds is not None else " by count, no limit written"
    if vessel.holds_weight is not None:
        pounds = sum(j.skin.weight for j in inside) / 453.59237
        said += (
            f", {pounds:.1f} lb of {vessel.holds_weight}"
            if vessel.holds_weight.unit == "lb"
            else f", {pounds * 0.45359237:.1f} kg of {vessel.holds_weight}"
        )
    room = room_beside_liquor(plan.floor, vessel)
    heavy = sum(j.skin.weight for j in inside)
    if room is not None and plan.work.tubs[load.vessel].weighs == room and heavy > room * _NEARLY_FULL:
        said += (
            f", {heavy / 453.59237:.1f} lb of {room / 453.59237:.1f} lb that go into {vessel.volume} beside the liquor"
        )
    already = len(inside) - len(load.jobs)
    return said + (f", {already} of them in it before" if already else "")


def _why(plan: Plan, layout: Layout, load: Load, bench: Minutes, alone: Alone) -> str:
    """The reason that presses most: a promise, a limit, a full vessel, who was waited for."""
    moments = plan.work.moments
    latest = [
        (moments[found], job)
        for job, stay in zip(load.jobs, load.stays, strict=True)
        if (found := alone.latest_start(plan.jobs.index(job), stay)) is not None and found >= 0
    ]
    if latest:
        last, job = min(latest, key=lambda one: one[0])
        if last < load.start:
            return f"{job.life.tag} was to be in by {_point(plan, last)} for its promise, and is late"
        if last * MINUTE - load.start * MINUTE <= DAY and job.life.promised is not None:
            return f"{job.life.tag} has to be in by {_point(plan, last)} for its promise"
    came: dict[int, list[str]] = {}
    worked: set[str] = set()
    for job, stay in zip(load.jobs, load.stays, strict=True):
        place = plan.jobs.index(job)
        visit, spell = layout[place][stay - 1], plan.work.skins[place].spells[stay - 1]
        since = max(moments[0], visit.start + spell.least)
        done = max((end for _, end in bench.get((place, stay - 1), ())), default=since)
        worked |= {job.life.tag} if done > since else set()
        came.setdefault(max(since, done), []).append(job.life.tag)
    ready = max(came)
    free = [
        visit.end
        for visits in layout
        for visit in visits
        if visit.tub == load.vessel and visit.end <= load.start and plan.work.tubs[load.vessel].whole
    ]
    if load.start == moments[0]:
        return "all of them are ready, and so is the vessel"
    makes_room = _who_makes_room(plan, layout, load)
    if makes_room:
        return f"there is room when {tags_said(makes_room)} {'comes' if len(makes_room) == 1 else 'come'} out"
    if free and max(free) > ready:
        return f"{plan.vessels[load.vessel].tag} is free from {_point(plan, max(free))}"
    waited = tags_said(in_order(came[ready]))
    if load.start - ready <= max(DAY // MINUTE, plan.grid):
        others = "" if len(came[ready]) == len(load.jobs) else ", and the others wait for company"
        if worked.issuperset(came[ready]):
            return f"the work at the bench on {waited} is done {_point(plan, ready)}{others}"
        return f"{waited} may go on from {_point(plan, ready)}{others}"
    return f"ready since {_point(plan, ready)}; nothing presses, and so there are fewer loads"


def _who_makes_room(plan: Plan, layout: Layout, load: Load) -> tuple[str, ...]:
    """Who comes out of a tub at the moment a load goes in, where without that not even the smallest of it would go in."""
    tub = plan.work.tubs[load.vessel]
    before = [
        (skin, visit.end)
        for skin, visits in zip(plan.work.skins, layout, strict=True)
        for visit in visits
        if visit.tub == load.vessel and visit.start < load.start <= visit.end
    ]
    counts = sum(skin.counts for skin, _ in before) + min(job.skin.counts for job in load.jobs)
    weight = sum(skin.weight for skin, _ in before) + min(job.skin.weight for job in load.jobs)
    if (tub.holds is None or counts <= tub.holds) and (tub.weighs is None or weight <= tub.weighs):
        return ()
    return in_order(skin.name for skin, end in before if end == load.start and skin.name not in load.tags)
