"""What goes into the drum and the tubs next: the loads, the promises they keep, what would keep the others, and the lines to write.

Lengths come from the process, and where it has none from this shop's own past; the timetable is as `trade/timetable.py` says.
"""

from __future__ import annotations

from hideledger.answers.head import moment_said, record_of
from hideledger.answers.load.baths import baths_of
from hideledger.answers.load.jobs import Job, Plan
from hideledger.answers.load.lines import lines_to_write, seen_by_hand
from hideledger.answers.load.loads import Load, loads_in_order
from hideledger.answers.load.planning import planned
from hideledger.answers.load.saved import alone_is_late, missed_in, would_save
from hideledger.answers.load.words import bench_rows, load_row
from hideledger.answers.saying import counted, local_stamp, point, tags_said, utc_stamp
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.model.moments import MINUTE
from hideledger.rules.hours import ShopHours
from hideledger.rules.words import day_said, in_order
from hideledger.shopfloor.floor import Floor
from hideledger.trade.timetable import Layout, at_the_bench, days_late
from hideledger.trade.timetable_alone import Alone
from hideledger.trade.timetable_best import Best


def load_sheet(floor: Floor) -> tuple[Sheet, bool]:
    """The sheet, and whether a promise is missed or nothing can be laid out or a promised hide cannot (something rings)."""
    hours = ShopHours(floor.book.shop.shop, floor.book.clock)
    plan, best = planned(floor, hours)
    title = f"What goes in next, {moment_said(floor)}"
    if not plan.jobs or best.layout is None:
        rows = [Row(text=_nothing(plan))]
        sections = (Section(heading="Loads", rows=tuple(rows)), *_assumed(plan))
        record = _record(plan, best, [], [], ())
        sheet = Sheet(title=title, sections=tuple(section for section in sections if section.rows), record=record)
        return sheet, bool(plan.jobs) or _promised_left(plan)
    loads = loads_in_order(plan, best.layout)
    alone = Alone(plan.work)
    missed = missed_in(plan.work, best.layout)
    saved = _saved(plan, best, missed)
    baths = baths_of(plan, best.layout, loads)
    bench = at_the_bench(plan.work, best.layout, late=True) or {}
    soonest = at_the_bench(plan.work, best.layout) or {}
    lines = lines_to_write(plan, best.layout, loads, baths)
    sections = (
        Section(
            heading="Loads",
            rows=tuple(
                load_row(plan, best.layout, load, baths[load.vessel, load.start], bench, soonest, alone)
                for load in loads
            )
            or (Row(text="nothing needs a vessel"),),
        ),
        Section(heading="At the bench", rows=bench_rows(plan, bench)),
        Section(heading="Kept too long", rows=_kept_too_long(plan, best.layout)),
        Section(heading="Promises", rows=_promises(plan, best.layout)),
        Section(heading="Missed, and what would save it", rows=_missed(plan, best, missed, saved, alone)),
        Section(heading="How good it is", rows=_how_good(best)),
        Section(heading="Lines to write", rows=lines, whole_lines=True),
        Section(heading="To be written as it is seen", rows=seen_by_hand(plan, best.layout, loads, baths)),
        *_assumed(plan),
    )
    sheet = Sheet(
        title=title,
        sections=tuple(section for section in sections if section.rows),
        record=_record(plan, best, loads, saved, lines),
    )
    return sheet, bool(missed) or bool(plan.loose) or _promised_left(plan)


def _promised_left(plan: Plan) -> bool:
    """Whether a hide is not laid out whose promise is to be kept in these weeks."""
    left = {tag for _, tags in plan.left for tag in tags}
    lives = [life for life in plan.floor.here() if life.tag in left and life.resting is None]
    return any(life.promised is not None for life in lives)


def _kept_too_long(plan: Plan, layout: Layout) -> tuple[Row, ...]:
    """Who should have gone on from where it is before it does."""
    clock, at = plan.floor.book.clock, plan.floor.at
    groups: dict[int, list[Job]] = {}
    for job, visits in zip(plan.jobs, layout, strict=True):
        if job.by is not None and visits[0].end > job.by:
            groups.setdefault(visits[0].end, []).append(job)
    return tuple(
        Row(
            head=tags_said(in_order(job.life.tag for job in jobs)),
            text=f"to go on by {point(min(job.by or end for job in jobs) * MINUTE, clock, at)}, and goes on {point(end * MINUTE, clock, at)}: no way was found in time. What is raw gets salted or cold until then, where that is a way of yours",
        )
        for end, jobs in sorted(groups.items())
    )


def _nothing(plan: Plan) -> str:
    if not plan.jobs:
        return "no hide is on its way that could go into a vessel"
    return "no timetable was found in which each of these hides gets through its steps within the hours of the shop and the limits of its process"


def _promises(plan: Plan, layout: Layout) -> tuple[Row, ...]:
    """Each promised hide, by its day: when it is done."""
    clock, at = plan.floor.book.clock, plan.floor.at
    groups: dict[tuple[int, int], list[str]] = {}
    for skin, visits in zip(plan.work.skins, layout, strict=True):
        if skin.due is not None:
            groups.setdefault((skin.due, visits[-1].end), []).append(skin.name)
    rows = []
    for (due, done), tags in sorted(groups.items()):
        late = clock.day_of(done * MINUTE) - due
        said = f"done {point(done * MINUTE, clock, at)}"
        said += f", {counted(late, 'day')} late" if late > 0 else ""
        rows.append(Row(head=day_said(clock, due, at), text=f"{tags_said(in_order(tags))}: {said}"))
    return tuple(rows)


def _saved(plan: Plan, best: Best, missed: list[int]) -> list[tuple[str, int]]:
    """What would keep promises that are missed; where their days are past nothing would."""
    last = max((plan.work.skins[place].due or 0 for place in missed), default=0)
    return would_save(plan, best, last - plan.work.days[0]) if last >= plan.work.days[0] else []


def _missed(plan: Plan, best: Best, missed: list[int], saved: list[tuple[str, int]], alone: Alone) -> tuple[Row, ...]:
    """Each missed promise with the reason, and what would save it."""
    if not missed or best.worth is None:
        return ()
    clock, at = plan.floor.book.clock, plan.floor.at
    groups: dict[str, list[str]] = {}
    last = 0
    for place in missed:
        skin = plan.work.skins[place]
        assert skin.due is not None
        last = max(last, skin.due)
        done = point(plan.work.moments[alone.alone_done(place)] * MINUTE, clock, at)
        if skin.due < plan.work.days[0]:
            why = f"that day is past; alone it could be done {done}"
        elif alone_is_late(plan.work, alone, place):
            why = f"even with the shop to itself it would be done {done}"
        else:
            sure = best.worth[0] == best.floor[0]
            why = f"alone it could be done {done}, but " + (
                "the vessels and the hours do not take all at once"
                if sure
                else "no timetable was found that keeps it beside the others"
            )
        groups.setdefault(f"promised for {day_said(clock, skin.due, at)}; {why}", []).append(skin.name)
    rows = [Row(head=tags_said(in_order(tags)), text=why) for why, tags in groups.items()]
    if last < plan.work.days[0]:
        return tuple(rows)  # their days are past: nothing saves them
    rows += [Row(head="saves", text=f"{said}: {counted(kept, 'promise')} more kept") for said, kept in saved]
    if not saved:
        tried = "a second one of each vessel"
        tried += ", an hour longer on each weekday, a day more" if plan.floor.book.shop.shop.hours else ""
        rows.append(Row(head="saves", text=f"nothing that was tried: {tried}"))
    return tuple(rows)


def _how_good(best: Best) -> tuple[Row, ...]:
    """What is proved, and how far it could be from the best."""
    assert best.worth is not None
    missed, late, loads = best.worth
    said = f"{counted(missed, 'promise')} missed, {counted(late, 'day')} late in all, {counted(loads, 'load')}"
    if best.proved:
        return (Row(text=f"{said}: no timetable is better"),)
    parts = []
    if missed == best.floor[0]:
        parts.append("no timetable misses fewer promises")
    elif best.floor[0]:
        parts.append(f"at least {counted(best.floor[0], 'promise')} must be missed")
    else:
        parts.append("it is not known that any must be missed")
    if missed == best.floor[0] and late > best.floor[1]:
        parts.append(f"at least {counted(best.floor[1], 'day')} late in all")
    if (missed, late) == best.floor[:2]:
        parts.append(
            f"at least {counted(best.floor[2], 'load')} are needed, so it could be {loads - best.floor[2]} fewer"
        )
    return (Row(text=f"{said}; {'; '.join(parts)}. The search was broken off."),)


def _assumed(plan: Plan) -> tuple[Section, ...]:
    left = tuple(Row(head=tags_said(in_order(tags)), text=reason) for reason, tags in plan.left)
    said = tuple(Row(text=one) for one in plan.said)
    return Section(heading="Not laid out", rows=left), Section(heading="Taken for granted", rows=said)


def _record(
    plan: Plan, best: Best, loads: list[Load], saved: list[tuple[str, int]], lines: tuple[Row, ...]
) -> dict[str, object]:
    """For a program."""
    clock = plan.floor.book.clock
    promises = []
    for skin, visits in zip(plan.work.skins, best.layout or (), strict=False):
        done = visits[-1].end
        promises.append(
            {
                "tag": skin.name,
                "done": utc_stamp(done * MINUTE, clock),
                "done_local": local_stamp(done * MINUTE, clock),
                "promised": None if skin.due is None else local_stamp(clock.day_start(skin.due), clock)[:10],
                "late_days": days_late(plan.work, skin, done),
            }
        )
    return record_of(
        plan.floor,
        {
            "loads": [
                {
                    "vessel": plan.vessels[load.vessel].tag,
                    "in": utc_stamp(load.start * MINUTE, clock),
                    "in_local": local_stamp(load.start * MINUTE, clock),
                    "out": utc_stamp(load.last_out * MINUTE, clock),
                    "out_local": local_stamp(load.last_out * MINUTE, clock),
                    "tags": list(load.tags),
                    "steps": sorted({part.title for part in load.parts}),
                }
                for load in loads
            ],
            "hides": promises,
            "worth": None
            if best.worth is None
            else dict(zip(("missed", "days_late", "loads"), best.worth, strict=True)),
            "floor": dict(zip(("missed", "days_late", "loads"), best.floor, strict=True)),
            "proved": best.proved,
            "left": [{"reason": reason, "tags": list(tags)} for reason, tags in plan.left],
            "assumed": list(plan.said),
            "saves": [{"change": said, "more_kept": kept} for said, kept in saved],
            "kept_too_long": [
                job.life.tag
                for job, visits in zip(plan.jobs, best.layout or (), strict=False)
                if job.by is not None and visits[0].end > job.by
            ],
            "lines": [row.text for row in lines],
        },
    )
