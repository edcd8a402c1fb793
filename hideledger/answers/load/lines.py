"""The lines of the first days as the book will have them: the baths made and let go, the loads, and the steps between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hideledger.answers.load.jobs import Plan
from hideledger.answers.load.words import Load
from hideledger.answers.sheet import Row
from hideledger.model.moments import MINUTE
from hideledger.model.process import Step
from hideledger.rules.tubs import free_tag
from hideledger.rules.words import entry_stamp, who
from hideledger.trade.timetable import Layout

_DAYS = 2
_FREE, _STANDING, _MADE, _TURNED, _UNTIMED = range(5)  # the order of lines of one moment


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bath:
    """What a load goes into: its tag, what is let go and how it is made before that, if it has to be."""

    tag: str
    first: tuple[str, ...] = ()


def lines_to_write(plan: Plan, layout: Layout, loads: Sequence[Load]) -> tuple[Row, ...]:
    """The lines of the first two days on which something goes in; written one after another each is understood, and no bath is wanting."""
    clock = plan.floor.book.clock
    days = sorted({clock.day_of(load.start * MINUTE) for load in loads})[:_DAYS]
    baths = _baths(plan, loads)
    lines: dict[tuple[int, int, str, tuple[str, ...]], list[str]] = {}
    before: dict[tuple[int, int, str], tuple[str, ...]] = {}
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
            for turn in part.steps[1:]:  # whose hour only the day will show
                lines.setdefault((visit.start, _UNTIMED, where, (turn.name,)), []).append(job.life.tag)
        if job.after:
            doings = tuple(step.name for step in job.after)
            lines.setdefault((visits[-1].end, _FREE, "", doings), []).append(job.life.tag)
    rows = []
    for (start, rank, where, doings), tags in sorted(lines.items()):
        if clock.day_of(start * MINUTE) not in days:
            continue
        stamp = entry_stamp(clock, start * MINUTE)
        written = [f"{stamp} {line}" for line in before.pop((start, rank, where), ())]
        written.append(f"{stamp[:10] if rank == _UNTIMED else stamp} {who(tags)} {', '.join(doings)}{where}")
        rows += [Row(text=line, plain=(line,)) for line in written]
    return tuple(rows)


def _baths(plan: Plan, loads: Sequence[Load]) -> dict[tuple[int, int], _Bath]:
    """The bath of each load by vessel and moment: one that stands there and is for that step, else a new one under the next free tag."""
    floor = plan.floor
    taken = {*floor.baths, *floor.hides, *floor.book.shop.vessels}
    # By vessel: the tag of its bath, and for whom it is; empty: for the first that comes.
    stands: dict[int, tuple[str, str]] = {}
    for place, vessel in enumerate(plan.vessels):
        inside = floor.in_vessel(vessel.tag)
        if inside:
            used = vessel.is_drum and bool(inside[-1].members)
            stands[place] = (inside[-1].tag, "used" if used else "")
    found = {}
    for load in loads:
        vessel, mates = plan.vessels[load.vessel], load.parts[0].mates.split(",", maxsplit=1)[0]
        tag, whose = stands.get(load.vessel, ("", ""))
        if tag and whose in ("", mates):
            found[load.vessel, load.start] = _Bath(tag=tag)
        else:
            made = free_tag(taken, "L" if vessel.is_drum else "P")
            taken.add(made)
            recipe = _recipe(plan, load.parts[0].steps)
            line = f"{made} mixed in {vessel.tag}" + (f", recipe {recipe}" if recipe else "")
            found[load.vessel, load.start] = _Bath(tag=made, first=(f"{tag} dumped", line) if tag else (line,))
            tag = made
        stands[load.vessel] = (tag, "used" if vessel.is_drum else mates)
    return found


def _recipe(plan: Plan, steps: Sequence[Step]) -> str:
    """The recipe of the shop that is called as the step is; else what the last bath for that step was made by."""
    recipes = plan.floor.book.shop.recipes
    names = [name.casefold() for step in steps for name in (step.name, *step.others)]
    for name in names:
        if name in recipes:
            return recipes[name].name
    for bath in reversed(plan.floor.all_baths()):
        if bath.recipe and any(member.stay.name.casefold() in names for member in bath.members):
            return bath.recipe
    return ""
