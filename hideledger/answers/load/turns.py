"""When a load turns and stands within its time in the drum: the lines `on` and `off`, and the vent before anybody opens it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from hideledger.answers.load.jobs import Job
from hideledger.answers.load.loads import Load
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
        least = _least(part.steps[place], job)
        if least is None:
            return None
        found.append(least)
    return max(found)


def _least(step: Step, job: Job) -> int | None:
    limits = step.limits_for(job.life.kind)
    return None if limits is None or limits.least is None else -(-limits.least.about_seconds // MINUTE)


def turns_left(job: Job, now: int, end: int) -> tuple[Turned, ...]:
    """The turns of a load that stands in a drum now: what is left of the one it is in, and those still to come, up to its end in minutes."""
    line = None if job.life.stay is None else job.life.stay.line
    if line is None or line.sort != "run":
        return ()
    lengths = [_least(step, job) for step in (line, *job.turns)]
    known = [one for one in lengths if one is not None]
    over = max(now, job.skin.since + known[0]) if known else end
    if len(known) < len(lengths) or over + sum(known[1:]) > end:
        return (Turned(step=line, start=job.skin.since, end=end, known=True),)
    pause = (end - over - sum(known[1:])) // len(known)
    found = [Turned(step=line, start=job.skin.since, end=over, known=True)]
    for step, length in zip(job.turns, known[1:], strict=True):
        start = found[-1].end + pause
        found.append(Turned(step=step, start=start, end=start + length, known=True))
    return tuple(found)


def under_pressure(vessel: Vessel, steps: Iterable[Step]) -> bool:
    """Whether a load may stand under pressure, so that it is vented before it is opened."""
    return vessel.most_pressure is not None or any("pressure" in step.notes for step in steps)


def turning_lines(turns: Sequence[Turned], tag: str, vessel: Vessel) -> list[tuple[int, bool, str]]:
    """Each start and stop has its minute, whether it is an `on`, and its line; so has the vent at the end."""
    lines: list[tuple[int, bool, str]] = []
    whole = turns if turns[0].known else turns[:1]
    for number, turn in enumerate(whole):
        lines.append((turn.start, True, f"{tag} on"))
        vent = number == len(whole) - 1 and under_pressure(vessel, (one.step for one in turns))
        lines.append((turn.end, False, f"{tag} off{', vented' if vent else ''}"))
    return lines
