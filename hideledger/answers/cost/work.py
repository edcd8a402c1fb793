"""Work by the shop's own minutes for a step, and why there may be none in the sum."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from fractions import Fraction
from typing import TYPE_CHECKING

from hideledger.answers.jobs import Jobs
from hideledger.model.moments import Length
from hideledger.model.process import Process
from hideledger.model.shop import ShopBook, held_on
from hideledger.rules.words import listed
from hideledger.shopfloor.life import HideLife, StepMark
from hideledger.shopfloor.portions import Portions

if TYPE_CHECKING:
    from hideledger.answers.cost.hides import HideCost

_HOW = "`labour $24 per h` under shop, and `takes 20 min` on each step that wants hands"


def count_work(hides: Iterable[HideCost], jobs: Jobs, portions: Portions, sign: str) -> None:
    """Work is told by the shop's own minutes for a step, also for one written out of order: the hands were on it all the same.

    A step of another shop, or left out, is none of ours. The minutes are
    for one hide: a box wants them for each skin in it, a part its portion of them.
    """
    shop = jobs.floor.book.shop
    wage = shop.shop.labour
    if wage is None or not _states(shop):
        return
    money, per = wage
    if money.unit != sign or not per.seconds:
        return
    for one in hides:
        shared = _done_before(one.life, jobs)
        for mark in one.life.marks:
            if (id(mark.entry), mark.name) in shared:
                continue  # done on the whole skin, and handed on with what that cost
            if mark.skipped or mark.elsewhere or mark.moved or mark.name in ("in", "out"):
                continue
            takes = _takes(mark, one.life, shop)
            if takes is None:
                one.untimed.append(mark.name)
            else:
                one.seconds += round(takes.seconds * portions.of(one.life))
        one.work = Fraction(money.value) * one.seconds / per.seconds


def _done_before(life: HideLife, jobs: Jobs) -> set[tuple[int, str]]:
    """The steps that a part has from the skin it was cut from, or a skin from its box."""
    above = jobs.by_arrival.get((life.parent or life.from_box, id(life.arrived)))
    return set() if above is None else {(id(mark.entry), mark.name) for mark in above.marks}


def _takes(mark: StepMark, life: HideLife, shop: ShopBook) -> Length | None:
    """The minutes of a step: by its line of the process, else by its name there, else by its name in another process of the shop."""
    if mark.line is not None:
        return mark.line.takes
    day = date.fromordinal(life.arrived_when.day)
    processes: list[Process] = [] if life.process is None else [life.process]
    processes += [held for versions in shop.processes.values() if (held := held_on(versions, day)) is not None]
    for process in processes:
        for step in process.steps:
            if step.called(mark.name) and step.takes is not None:
                return step.takes
    return None


def _states(shop: ShopBook) -> bool:
    return any(step.takes is not None for rows in shop.processes.values() for one in rows for step in one.steps)


def work_left_out(hides: Sequence[HideCost], shop: ShopBook, sign: str) -> str:
    """What of the work is in no sum, and why; examples in the shop's own money."""
    return _why(hides, shop, sign).replace("$", sign)


def _why(hides: Sequence[HideCost], shop: ShopBook, sign: str) -> str:
    wage = shop.shop.labour
    if wage is None and not _states(shop):
        return f"work: the shop file states none; {_HOW}"
    if wage is None:
        return "work: the shop file states how long steps take, and no wage; `labour $24 per h` under shop"
    if not _states(shop):
        return f"work: the shop file has a wage, and no step says how long it takes; {_HOW}"
    if wage[0].unit != sign:
        return f"work: its wage of {wage[0]} is other money than the shop's {sign}"
    untimed = list(dict.fromkeys(name for one in hides for name in one.untimed))
    if not untimed:
        return "work on a bath: mixing, reading, stirring, letting go"
    later = _later(untimed, shop, hides)
    since = f" ({later})" if later else ""
    return f"work at {listed(untimed)}, which {'has' if len(untimed) == 1 else 'have'} no `takes` in the process{since}; and work on a bath"


def _later(untimed: Sequence[str], shop: ShopBook, hides: Sequence[HideCost]) -> str:
    """From when on the process states the minutes of these steps; a hide goes by the version of the day it came in."""
    came = min((one.life.arrived_when.day for one in hides), default=0)
    found = {
        (name, process.since)
        for versions in shop.processes.values()
        for process in versions
        for step in process.steps
        for name in untimed
        if step.takes is not None
        and step.called(name)
        and process.since is not None
        and process.since.toordinal() > came
    }
    first: dict[str, date] = {}
    for name, since in found:
        if since is not None:
            first[name] = min(first.get(name, since), since)
    days = sorted(set(first.values()))
    return listed(
        [
            f"{listed(sorted(name for name, since in first.items() if since == day))} for what comes in from {day.isoformat()} on"
            for day in days
        ]
    )
