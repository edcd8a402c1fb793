"""From the floor to the work to be laid out: each hide that can go on, the vessels, and the moments at which somebody is there.

Moments are minutes of UTC. They lie a step apart from each opening on (half an hour, or as little as the shortest limit wants), and at each closing.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from hideledger.answers.load.past import Past
from hideledger.answers.load.times import bench_minutes, grid_for, times_of, worked_until
from hideledger.answers.load.vessels import SHARES, changing_tub, vessels_said
from hideledger.answers.load.way import NotPlanned, Part, Ways, mates_now
from hideledger.answers.saying import tags_said, today
from hideledger.answers.standing import time_held
from hideledger.model.moments import MINUTE
from hideledger.model.process import Step
from hideledger.model.shop import Vessel, as_of
from hideledger.model.units import Quantity
from hideledger.rules.hours import ShopHours
from hideledger.rules.spans import only_out_is_left
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.trade.timetable import Skin, Spell, Tub, Work
from hideledger.trade.timetable_alone import NEVER, Alone

# A hide, the least and most of the stay it is in and the turns still in it, its parts to come, and the doings after them.
_Draft = tuple[HideLife, tuple[int, int | None, tuple[Step, ...]], list[Part], tuple[Step, ...]]

WEEKS = 3
MOST_WEEKS = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A hide with what is laid out for it: the parts behind its spells (the first spell is the present one), and the doings after the last."""

    life: HideLife
    skin: Skin
    parts: tuple[Part, ...]
    after: tuple[Step, ...]
    by: int | None  # the minute by which it should go on from where it is
    turns: tuple[Step, ...] = ()  # further turns of the load it is in now


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The work with what it stands for. `left` are hides that are not laid out, each group with the reason; `said` what was taken for granted."""

    floor: Floor
    past: Past
    hours: ShopHours
    work: Work
    jobs: tuple[Job, ...]
    vessels: tuple[Vessel, ...]
    left: tuple[tuple[str, tuple[str, ...]], ...]
    said: tuple[str, ...]
    grid: int
    loose: tuple[str, ...] = ()  # who has to stay where it is for longer than it should

    def with_hours(self, hours: ShopHours, days: int) -> Work:
        """The same work under other hours."""
        moments, at_days, open_from = times_of(self.floor, hours, days, self.grid)
        return replace(self.work, moments=moments, days=at_days, open=open_from)


def plan_of(floor: Floor, hours: ShopHours, *, newcomers: Sequence[HideLife] = (), weeks: int = WEEKS) -> Plan:
    """All that can be laid out. `newcomers` are hides that come later, and are taken at this shop's usual lengths."""
    past = Past(floor)
    last_planned = today(floor.book.clock, floor.at) + MOST_WEEKS * 7
    ways = Ways(floor, past, last_planned)
    left: dict[str, list[str]] = {}
    drafts: list[_Draft] = []
    last_day = today(floor.book.clock, floor.at) + weeks * 7
    for life in [*floor.here(), *newcomers]:
        new = any(life is one for one in newcomers)
        reason = _stays_out(life, floor, None if new else last_day)
        if reason is None:
            try:
                parts, after = ways.parts(life, usual=new)
                drafts.append((life, ways.present(life, parts), parts, after))
                continue
            except NotPlanned as why:
                reason = str(why)
        if reason:
            left.setdefault(reason, []).append(life.tag)
    tags = sorted({tag for _, _, parts, _ in drafts for part in parts for tag in part.vessels} | _vessels_now(drafts))
    day = date.fromordinal(today(floor.book.clock, floor.at))
    vessels = tuple(as_of(floor.book.shop.vessels[tag], day) for tag in tags if tag in floor.book.shop.vessels)
    jobs = [_job(floor, hours, ways, vessels, draft) for draft in drafts]
    grid = grid_for(job.skin for job in jobs)
    tubs = tuple(changing_tub(floor, floor.book.shop.vessels[vessel.tag], last_planned) for vessel in vessels)
    work = Work(moments=(), days=(), tubs=tubs, skins=())
    loose: dict[str, None] = {}
    while True:
        moments, days, open_from = times_of(floor, hours, weeks * 7, grid)
        fitting = [job for job in jobs if not _too_large(job, work.tubs)]
        work = replace(work, moments=moments, days=days, open=open_from, skins=tuple(job.skin for job in fitting))
        alone = Alone(work)
        never = [job for place, job in enumerate(fitting) if alone.alone_done(place) >= NEVER]
        kept_too_long = {job.life.tag for job in never if job.skin.spells[0].most is not None}
        if moments and kept_too_long:
            # At first only as far as it takes alone; where that is no way either, as long as has to be.
            ends = {
                job.life.tag: alone.first_end(job.skin.since, job.skin.spells[0])
                for job in never
                if job.life.tag not in loose
            }
            loose |= dict.fromkeys(kept_too_long)
            jobs = [
                loosened(job, _instant(moments, ends.get(job.life.tag))) if job.life.tag in kept_too_long else job
                for job in jobs
            ]
            continue
        if not never or weeks >= MOST_WEEKS:
            break
        weeks += 1
    for job in jobs:
        if job not in fitting:
            left.setdefault("more than any vessel for it holds", []).append(job.life.tag)
        elif job in never:
            left.setdefault("no way through its steps within the hours of the shop and their limits", []).append(
                job.life.tag
            )
    jobs = [job for job in fitting if job not in never]
    return Plan(
        floor=floor,
        past=past,
        hours=hours,
        work=replace(work, skins=tuple(job.skin for job in jobs)),
        jobs=tuple(jobs),
        vessels=vessels,
        left=tuple((reason, tuple(tags)) for reason, tags in left.items()),
        said=(
            *_hours_said(floor),
            *ways.said,
            *_frozen_said(jobs),
            *_weights_said(jobs, vessels),
            *_bench_said(jobs),
            *vessels_said(floor, tags, days[-1] if days else last_planned),
        ),
        grid=grid,
        loose=tuple(loose),
    )


def loosened(job: Job, until: int | None = None) -> Job:
    """The same hide, but that it may stay where it is up to a later minute; without one, as long as has to be."""
    first, *rest = job.skin.spells
    most = None if until is None else until - job.skin.since
    return replace(job, skin=replace(job.skin, spells=(replace(first, most=most), *rest)))


def _instant(moments: Sequence[int], place: int | None) -> int | None:
    return None if place is None or place >= len(moments) else moments[place]


def without(plan: Plan, place: int) -> Plan:
    """The same plan, but for one hide."""
    jobs = plan.jobs[:place] + plan.jobs[place + 1 :]
    return replace(plan, jobs=jobs, work=replace(plan.work, skins=tuple(job.skin for job in jobs)))


def _stays_out(life: HideLife, floor: Floor, last_day: int | None) -> str | None:
    """Why a hide is not laid out; empty where that needs no word; None where it is. `last_day`: one that rests waits when not promised by then."""
    clock = floor.book.clock
    if not life.declared or life.ended is not None or (not life.box and only_out_is_left(life, clock, floor.at)):
        return ""
    if life.box:
        return "a box, not opened"
    if life.process is None:
        return "no process is written for it"
    failed = {test.fact.test: test.fact.passed for test in life.tests}
    if not all(failed.values()):
        return "a test failed, and none since was good"
    if life.resting is not None and last_day is not None:
        promised = None if life.promised is None else life.promised[0].day.toordinal()
        if promised is None or promised > last_day:
            return f"{life.resting.name}, and not promised within these weeks"
    return None


def _vessels_now(drafts: Iterable[_Draft]) -> set[str]:
    return {
        life.stay.bath.vessel
        for life, _, _, _ in drafts
        if life.stay is not None and life.stay.bath is not None and life.stay.bath.vessel and life.resting is None
    }


def _job(floor: Floor, hours: ShopHours, ways: Ways, vessels: tuple[Vessel, ...], draft: _Draft) -> Job:
    """One hide: the stay it is in, with what is left of its limits, and those to come."""
    life, (least, most, turns), parts, after = draft
    at = -(-floor.at // MINUTE)
    places = {vessel.tag: place for place, vessel in enumerate(vessels)}
    since, tub, mates = max(at, life.arrived_when.lo // MINUTE), None, ""
    if life.stay is not None and life.resting is None:
        since = at - time_held(life, floor.book.clock, floor.at)[0] // MINUTE
        if life.stay.bath is not None:
            tub = places.get(life.stay.bath.vessel)
        mates = mates_now(life)
    doings = parts[0].before if parts else after
    deadline = ways.deadline(life, doings, parts[0] if parts else None)
    if deadline is not None:
        most = min(deadline // MINUTE - since, NEVER if most is None else most)
    if most is not None and (since + most < at or most < least):
        most = None  # too late for that already: `check` rings
    works = [*(bench_minutes(part.before) for part in parts), bench_minutes(after)]
    if ways.presses(life, doings, parts[0] if parts else None):
        soonest = worked_until(floor.book.clock, hours, max(at, since + least), works[0])
        most = soonest - since if most is None else min(most, soonest - since)
    spells = (
        Spell(mates=mates, least=least, most=most, work=works[0]),
        *(
            Spell(
                mates=part.mates,
                tubs=tuple(places[tag] for tag in part.vessels),
                least=max(1, part.least),
                most=part.most,
                # What is longer than the stay leaves it is done in as long as there is.
                work=work if part.most is None else min(work, max(0, part.most - max(1, part.least))),
            )
            for part, work in zip(parts, works[1:], strict=True)
        ),
    )
    kind = floor.book.shop.kinds.get(life.kind.casefold())
    weight = weight_of(ways.past, life)
    skin = Skin(
        name=life.tag,
        counts=int((Decimal(1) if kind is None else kind.counts) * SHARES),
        weight=0 if weight is None else int(weight.to("g")),
        since=since,
        tub=tub,
        spells=spells,
        due=None if life.promised is None else life.promised[0].day.toordinal(),
    )
    by = None if most is None or most >= NEVER else since + most
    return Job(life=life, skin=skin, parts=tuple(parts), after=after, by=by, turns=turns)


def weight_of(past: Past, life: HideLife) -> Quantity | None:
    """The last weight of a hide; else what its kind usually weighs here; None without either."""
    own = [one for one in life.weights if one.shared_by == 1]
    return own[-1].weight if own else past.usual_weight(life.kind)


def _hours_said(floor: Floor) -> list[str]:
    if floor.book.shop.shop.hours:
        return []
    return ["no `hours` are written down for the shop: somebody is taken to be there by day and night"]


def _frozen_said(jobs: list[Job]) -> list[str]:
    """Who has to be taken out of a rest first: how long a thaw takes no book says."""
    resting = [job.life.tag for job in jobs if job.life.resting is not None and job.life.resting.name == "frozen"]
    if not resting:
        return []
    return [
        f"{tags_said(resting)}: to be taken out to thaw the evening before at the latest, since no book says how long a skin thaws (a night is reckoned: common practice, no source)"
    ]


def _weights_said(jobs: list[Job], vessels: tuple[Vessel, ...]) -> list[str]:
    """Whose weight was guessed, where a vessel goes by weight."""
    if not any(vessel.holds_weight is not None for vessel in vessels):
        return []
    unknown = [job.life.tag for job in jobs if not any(one.shared_by == 1 for one in job.life.weights)]
    if not unknown:
        return []
    return [f"no weight of its own is written for {' '.join(unknown)}: the usual one of its kind here is taken"]


def _bench_said(jobs: list[Job]) -> list[str]:
    """How many hands are reckoned with, where a process says how long the work on a hide takes."""
    if not any(spell.work for job in jobs for spell in job.skin.spells):
        return []
    return [
        "the work at the bench (`takes`) is done by one person, on one hide after the other, while the shop is open; it may be laid down and taken up again"
    ]


def _too_large(job: Job, tubs: tuple[Tub, ...]) -> bool:
    """Whether some stay has no vessel that would take the hide alone."""

    def takes(tub: Tub) -> bool:
        return (tub.holds is None or job.skin.counts <= tub.holds) and (
            tub.weighs is None or job.skin.weight <= tub.weighs
        )

    return any(spell.tubs and not any(takes(tubs[place]) for place in spell.tubs) for spell in job.skin.spells[1:])
