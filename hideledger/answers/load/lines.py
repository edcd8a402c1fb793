"""The lines of the first days as the book will have them: the baths made and let go, the loads, and the steps between them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from hideledger.answers.load.baths import LoadBath
from hideledger.answers.load.jobs import Plan
from hideledger.answers.load.loads import Load
from hideledger.answers.load.turns import Turned, turning_lines, turns_left, turns_of
from hideledger.answers.saying import tags_said
from hideledger.answers.sheet import Row
from hideledger.model.moments import MINUTE
from hideledger.model.process import Step
from hideledger.model.shop import Vessel
from hideledger.rules.readings import common_reading, reading_said
from hideledger.rules.words import entry_stamp, in_order, who
from hideledger.shopfloor.life import HideLife
from hideledger.trade.timetable import Layout

_DAYS = 2
# The order of lines of one moment.
_OFF, _FREE, _STANDING, _MADE, _TURNED, _ON, _UNTIMED = range(7)


def lines_to_write(
    plan: Plan, layout: Layout, loads: Sequence[Load], baths: Mapping[tuple[int, int], LoadBath]
) -> tuple[Row, ...]:
    """The lines of the first two days on which something goes in; written one after another each is understood, and no bath is wanting."""
    clock = plan.floor.book.clock
    days = _days(plan, layout, loads)
    lines: dict[tuple[int, int, str, tuple[str, ...]], list[str]] = {}
    before: dict[tuple[int, int, str], tuple[str, ...]] = {}
    turns = {(load.vessel, load.start): turns_of(load) for load in loads if plan.vessels[load.vessel].is_drum}
    for job, visits in zip(plan.jobs, layout, strict=True):
        for part, visit in zip(job.parts, visits[1:], strict=True):
            rank, where = _FREE, ""
            if visit.tub is not None:
                bath = baths[visit.tub, visit.start]
                rank, where = _STANDING, f" in {bath.tag}"
                if bath.first:
                    rank = _TURNED if plan.vessels[visit.tub].is_drum else _MADE
                    before[visit.start, rank, where] = bath.first
            doings = (*(step.name for step in part.before), part.steps[0].name)
            if part is job.parts[0] and job.life.resting is not None and job.life.resting.name == "frozen":
                doings = ("thawed", *doings)
            lines.setdefault((visit.start, rank, where, doings), []).append(job.life.tag)
            later = () if visit.tub is None else turns.get((visit.tub, visit.start), ())
            for turn in later[1:]:
                key = (turn.start, _TURNED if turn.known else _UNTIMED, where, (turn.step.name,))
                lines.setdefault(key, []).append(job.life.tag)
        if job.after:
            doings = tuple(step.name for step in job.after)
            lines.setdefault((visits[-1].end, _FREE, "", doings), []).append(job.life.tag)
    written: dict[tuple[int, int, str], None] = {}
    for load in loads:
        if plan.vessels[load.vessel].is_drum:
            tag = baths[load.vessel, load.start].tag
            written |= _turning(turns[load.vessel, load.start], tag, plan.vessels[load.vessel])
    now = -(-plan.floor.at // MINUTE)
    for job, visits in zip(plan.jobs, layout, strict=True):
        left, bath_now = turns_left(job, now, visits[0].end), None if job.life.stay is None else job.life.stay.bath
        if not left or bath_now is None or visits[0].tub is None:
            continue
        turning = bool(bath_now.turns) and bath_now.turns[-1].end is None
        lines_now = _turning(left, bath_now.tag, plan.vessels[visits[0].tub])
        begun = [one for one in lines_now if one[0] == left[0].start]
        over = [one for one in lines_now if one[0] == left[0].end and one[1] == _OFF and not turning]
        written |= dict.fromkeys(one for one in lines_now if one not in begun and one not in over)
        for turn in left[1:]:
            key = (turn.start, _TURNED, f" in {bath_now.tag}", (turn.step.name,))
            lines.setdefault(key, []).append(job.life.tag)
    for (start, rank, where, doings), tags in sorted(lines.items()):
        written |= dict.fromkeys((start, rank, line) for line in before.pop((start, rank, where), ()))
        written[start, rank, f"{who(tags)} {', '.join(doings)}{where}"] = None
    rows = []
    for minute, rank, line in sorted(written, key=lambda one: one[:2]):
        if clock.day_of(minute * MINUTE) in days:
            stamp = entry_stamp(clock, minute * MINUTE)
            text = f"{stamp[:10] if rank == _UNTIMED else stamp} {line}"
            rows.append(Row(text=text, plain=(text,)))
    return tuple(rows)


def _turning(turns: Sequence[Turned], tag: str, vessel: Vessel) -> dict[tuple[int, int, str], None]:
    lines = turning_lines(turns, tag, vessel)
    return dict.fromkeys((minute, _ON if on else _OFF, line) for minute, on, line in lines)


def _days(plan: Plan, layout: Layout, loads: Sequence[Load]) -> list[int]:
    """The first two days on which something goes in; where nothing does, on which something is done."""
    moments = [load.start for load in loads] or [visit.end for visits in layout for visit in visits]
    return sorted({plan.floor.book.clock.day_of(moment * MINUTE) for moment in moments})[:_DAYS]


def _at_the_door(life: HideLife) -> tuple[Step, ...]:
    """The arrival, where it wants tests: of a frozen skin they wait for the thaw."""
    return (
        () if life.process is None else tuple(step for step in life.process.steps if step.name == "in" and step.needs)
    )


def seen_by_hand(
    plan: Plan, layout: Layout, loads: Sequence[Load], baths: Mapping[tuple[int, int], LoadBath]
) -> tuple[Row, ...]:
    """What the process wants written beside these lines, and only a look, a scale or a gauge can say: never put into a line beforehand."""
    days, clock = _days(plan, layout, loads), plan.floor.book.clock
    wanted: dict[tuple[Step, str, str], list[str]] = {}
    for job, visits in zip(plan.jobs, layout, strict=True):
        rows = [
            (part.before + part.steps, visit.start, visit.tub)
            for part, visit in zip(job.parts, visits[1:], strict=True)
        ]
        made = {test.fact.test for test in job.life.tests}
        rows.insert(0, (_at_the_door(job.life), visits[0].end, None))
        for steps, start, tub in (*rows, (job.after, visits[-1].end, None)):
            if clock.day_of(start * MINUTE) not in days:
                continue
            bath = "" if tub is None else baths[tub, start].tag
            for step in steps:
                tests = [test for test in step.needs if step.name != "in" or test not in made]
                for what in (*tests, *step.notes, *([f"{step.weighs} weight"] if step.weighs else [])):
                    wanted.setdefault((step, what, bath), []).append(job.life.tag)
    found = []
    for (step, what, bath), tags in wanted.items():
        if what in step.needs:
            line = f"{tags[0]} {what} ok"
        elif what in step.notes and what != "weight":
            example = reading_said(common_reading(what, plan.floor.book.shop.shop.degrees))
            line = f"{bath or tags[0]} {'on, ' if step.sort == 'run' and bath else ''}{example}"
        else:
            line = f"{tags[0]} 5 lb {step.weighs}".rstrip()
        found.append(Row(head=step.title, text=f"{what} ({tags_said(in_order(tags))}), like this: `{line}`"))
    return tuple(found)
