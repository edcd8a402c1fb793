"""When a load turns and stands within its time in the drum: the lines `on` and `off`, and the vent before anybody opens it."""

from __future__ import annotations

from dataclasses import dataclass

from hideledger.answers.load.loads import Load
from hideledger.answers.load.way import Part
from hideledger.model.moments import MINUTE
from hideledger.model.process import Step
from hideledger.model.shop import Vessel


@dataclass(frozen=True, slots=True, kw_only=True)
class Turned:
    """One turn: from when to when it turns, in minutes; `known` whether its own length is written, so that its hour can be told."""

    step: Step
    start: int
    end: int
    known: bool


def turns_of(load: Load) -> tuple[Turned, ...]:
    """The turns of a load, each as long as the hide in it that needs it longest; what is left of its time lies evenly behind each of them.

    Where a length is not written nobody can tell when one turn ends and the next begins: all of them are one, from in to out.
    """
    steps = load.parts[0].steps
    lengths = [_length(load, place) for place in range(len(steps))]
    start, end = load.start, load.last_out
    if None in lengths or sum(one or 0 for one in lengths) > end - start:
        return tuple(Turned(step=step, start=start, end=end, known=len(steps) == 1) for step in steps)
    pause = (end - start - sum(one or 0 for one in lengths)) // len(lengths)
    found, at = [], start
    for step, length in zip(steps, lengths, strict=True):
        found.append(Turned(step=step, start=at, end=at + (length or 0), known=True))
        at += (length or 0) + pause
    return tuple(found)


def _length(load: Load, place: int) -> int | None:
    """The longest of the shortest times of the hides in a load, in minutes."""
    found = []
    for job, part in zip(load.jobs, load.parts, strict=True):
        limits = part.steps[place].limits_for(job.life.kind)
        if limits is None or limits.least is None:
            return None
        found.append(-(-limits.least.about_seconds // MINUTE))
    return max(found)


def under_pressure(vessel: Vessel, part: Part) -> bool:
    """Whether a load may stand under pressure, so that it is vented before it is opened."""
    return vessel.most_pressure is not None or any("pressure" in step.notes for step in part.steps)


def turning_lines(load: Load, tag: str, vessel: Vessel) -> list[tuple[int, bool, str]]:
    """(minute, whether it is an `on`, the line) of each start and stop, and of the vent at the end; two that meet without a rest between are one run."""
    lines: list[tuple[int, bool, str]] = []
    turns = turns_of(load)
    whole = turns if turns[0].known else turns[:1]
    for number, turn in enumerate(whole):
        lines.append((turn.start, True, f"{tag} on"))
        vent = number == len(whole) - 1 and under_pressure(vessel, load.parts[0])
        lines.append((turn.end, False, f"{tag} off{', vented' if vent else ''}"))
    return lines
