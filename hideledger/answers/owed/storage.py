"""Storage: from when a hide could have been fetched, and what its waiting costs."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from fractions import Fraction

from hideledger.answers.jobs import Jobs
from hideledger.answers.owed.looked_at import LookedAt
from hideledger.answers.owed.price_lines import STORAGE, TIMES, Item, charge_lines, names_of, other_money, per_unit
from hideledger.answers.saying import counted, today
from hideledger.model.moments import Length
from hideledger.model.units import UNITS, Quantity
from hideledger.rules.words import day_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife

_DAY = 86400
_SAID = {"d": "day", "wk": "week", "mo": "month", "y": "year"}


def ready_since(life: HideLife, jobs: Jobs) -> int | None:
    """The day (an ordinal) from which a hide could be fetched; None while it is in work, and for one that never was finished."""
    if not jobs.came_through(life):
        return None
    clock = jobs.floor.book.clock
    done = [mark for mark in life.marks if not mark.skipped and mark.name not in ("in", "out")]
    if not done:
        return life.arrived_when.day
    last = done[-1]
    limits = None if last.line is None else last.line.limits_for(life.kind)
    least = limits.least if limits is not None else None
    over = last.when.lo if least is None else least.after(last.when.lo, clock)
    day = clock.day_of(over)
    return day if life.ended_when is None else min(day, life.ended_when.day)


def storage(life: HideLife, jobs: Jobs, sign: str, day: date, looked_at: LookedAt) -> Iterator[Item]:
    """What the waiting costs, by each line that held on a day; whole days, weeks or months behind the free ones, for each skin of a box.

    The days on which it waited for the shop itself, being looked at, are neither charged nor free ones used up.
    """
    floor = jobs.floor
    since, skins = ready_since(life, jobs), max(1, life.count)
    if since is None:
        return
    until = life.ended_when.day if life.ended_when is not None else today(floor.book.clock, floor.at)
    for line in charge_lines(floor, {STORAGE, *names_of(life, floor)}, day):
        for money, what in line.money:
            measure = per_unit(what) if what.startswith("per ") else None
            if measure is None or UNITS[measure.unit].dimension not in TIMES:
                continue
            ours = looked_at.days(life)
            begins = _behind(since, _days(line.free_for, since, floor), ours)
            left_out = sum(1 for one in ours if begins <= one < until)
            units = _whole_units(measure, begins, until - left_out)
            if units:
                how = counted(units, _SAID.get(measure.unit, measure.unit)) if measure.value == 1 else f"{units} times"
                first = day_said(floor.book.clock, begins, floor.at)
                many = f" for each of {skins} skins" if skins > 1 else ""
                without = f", {counted(left_out, 'day')} of waiting for the shop left out" if left_out else ""
                said = f"storage, {how} since {first} at {money} {what}{many}{without}{other_money(money, sign)}"
                each = Fraction(money.value) * units * skins if money.unit == sign else None
                yield Item(what=said, money=each, place=line.place)


def _behind(since: int, free: int, ours: frozenset[int]) -> int:
    """The first day that is charged: behind so many free ones on which it could have been fetched."""
    day = since
    while free or day in ours:
        free -= day not in ours
        day += 1
    return day


def _whole_units(measure: Quantity, begins: int, until: int) -> int:
    """How many whole days, weeks or months lie between two days; what is shorter than a day counts as one."""
    if until <= begins:
        return 0
    if UNITS[measure.unit].dimension == "calendar":
        months = int(measure.value * UNITS[measure.unit].factor)
        first, last = date.fromordinal(begins), date.fromordinal(until)
        gone = (last.year - first.year) * 12 + last.month - first.month - (last.day < first.day)
        return gone // max(1, months)
    return (until - begins) // max(1, int(measure.value * UNITS[measure.unit].factor) // _DAY)


def _days(length: Length | None, since: int, floor: Floor) -> int:
    """How many days storage is free."""
    if length is None:
        return 0
    clock = floor.book.clock
    start = clock.opening(since, 12 * 60)
    return clock.day_of(length.after(start, clock)) - since
