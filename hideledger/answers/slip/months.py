"""The rate month by month, by the month in which the skins came in, and whether it has changed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from hideledger.answers.slip.outcomes import HELD, NOT_YET, Fate
from hideledger.trade.attack import Interval, wilson
from hideledger.trade.attack_change import Change, likeliest_change

# Those that slip are known before those that come through: a month counts once nine in ten of its skins have their outcome.
_KNOWN = 0.9


@dataclass(frozen=True, slots=True, kw_only=True)
class Month:
    """The skins that came in during one month: `hit` of `count` with an outcome slipped, `waiting` have none yet.

    `held` of the count have only held so far. `judged` says whether so few are waiting, or have only held so far, that its rate can be set beside the others.
    """

    year: int
    month: int
    hit: int
    count: int
    waiting: int
    held: int
    interval: Interval | None
    judged: bool

    @property
    def name(self) -> str:
        """`2026-11`."""
        return f"{self.year}-{self.month:02d}"


def months(ends: Sequence[Fate]) -> tuple[Month, ...]:
    """Every month in which a skin came in that has an outcome or is waiting for one."""
    cells: dict[tuple[int, int], list[int]] = {}
    for fate in ends:
        if not (fate.counts or fate.end == NOT_YET):
            continue
        day = date.fromordinal(fate.life.arrived_when.day)
        cell = cells.setdefault((day.year, day.month), [0, 0, 0, 0])
        cell[0] += fate.hit
        cell[1] += fate.counts
        cell[2] += not fate.counts
        cell[3] += fate.end == HELD
    return tuple(
        Month(
            year=year,
            month=month,
            hit=hit,
            count=count,
            waiting=waiting,
            held=held,
            interval=wilson(hit, count) if count else None,
            judged=count > held and count - held >= _KNOWN * (count + waiting),
        )
        for (year, month), (hit, count, waiting, held) in sorted(cells.items())
    )


def change_in(row: Sequence[Month]) -> tuple[Change, Month] | None:
    """The likeliest change among the months that can be judged, and the first month after it."""
    judged = [month for month in row if month.judged]
    found = likeliest_change([(month.hit, month.count) for month in judged])
    return None if found is None else (found, judged[found.at])
