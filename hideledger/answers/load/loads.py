"""One load of a timetable: what goes into one vessel at one moment."""

from __future__ import annotations

from dataclasses import dataclass

from hideledger.answers.load.jobs import Job, Plan
from hideledger.answers.load.way import Part
from hideledger.rules.words import in_order
from hideledger.trade.timetable import Layout, loads_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """One load: the vessel's place, from when to when (the first and the last that comes out), who, and the stay of each."""

    vessel: int
    start: int
    first_out: int
    last_out: int
    jobs: tuple[Job, ...]
    stays: tuple[int, ...]

    @property
    def parts(self) -> tuple[Part, ...]:
        """The part of its way that each hide has in it."""
        return tuple(job.parts[stay - 1] for job, stay in zip(self.jobs, self.stays, strict=True))

    @property
    def tags(self) -> tuple[str, ...]:
        """Who is in it."""
        return in_order(job.life.tag for job in self.jobs)


def loads_in_order(plan: Plan, layout: Layout) -> list[Load]:
    """The loads as they go in."""
    found = []
    for (vessel, start), places in loads_of(layout).items():
        stays = [
            next(
                stay for stay, visit in enumerate(layout[place]) if stay and (visit.tub, visit.start) == (vessel, start)
            )
            for place in places
        ]
        ends = [layout[place][stay].end for place, stay in zip(places, stays, strict=True)]
        found.append(
            Load(
                vessel=vessel,
                start=start,
                first_out=min(ends),
                last_out=max(ends),
                jobs=tuple(plan.jobs[place] for place in places),
                stays=tuple(stays),
            )
        )
    return sorted(found, key=lambda load: (load.start, plan.vessels[load.vessel].tag))
