"""The morning's rounds: which tubs are still to be read and stirred today, before the shop is left."""

from __future__ import annotations

from hideledger.answers.saying import today
from hideledger.model.moments import Clock, When
from hideledger.model.process import Every
from hideledger.rules.hours import ShopHours
from hideledger.rules.readings import counted_quantities
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, Member


def rounds_today(bath: BathLife, floor: Floor) -> str:
    """`to read and to stir by 18:00`, `now` what is late; nothing where all is done, nobody in it, or the shop left.

    What is wanted every open day is asked for on each; what is wanted every so many hours, when that falls today.
    """
    clock, at = floor.book.clock, floor.at
    hours = ShopHours(floor.book.shop.shop, clock)
    day = today(clock, at)
    if not hours.open_day(day) or at >= hours.closing(day):
        return ""
    falls: dict[str, int] = {}
    for doing, every, last in _wanted(bath):
        falls[doing] = min(falls.get(doing, hours.closing(day) + 1), max(at, _falls(every, last, clock, hours)))
    by: dict[int, list[str]] = {}
    for doing, instant in falls.items():
        if instant <= hours.closing(day):
            by.setdefault(instant, []).append(doing)
    return "; ".join(f"{' and '.join(doings)}{_by(when, at, clock)}" for when, doings in sorted(by.items()))


def _by(when: int, at: int, clock: Clock) -> str:
    if when <= at:
        return " now"
    # a shop that names no hours closes at midnight
    return "" if when >= clock.day_end(clock.day_of(at)) else f" by {clock.local(when):%H:%M}"


def _falls(every: Every, last: When, clock: Clock, hours: ShopHours) -> int:
    """By when it is wanted next: the closing of the next open day, or the length after the last time; the closing before it where nobody is there then."""
    if every.length is None:
        return hours.closing(hours.next_open_day(last.day))
    return hours.act_by(every.length.after(last.lo, clock))


def _wanted(bath: BathLife) -> list[tuple[str, Every, When]]:
    """What the steps of those in it want done, each with the last time it was done (or that they went in)."""
    wanted: list[tuple[str, Every, When]] = []
    if not bath.now_in:
        return wanted
    moved = [noted.when for noted in bath.stirs] + [member.enter for member in bath.members]
    moved += [member.leave for member in bath.members if member.leave is not None]
    for member in bath.now_in:
        line = member.stay.line
        if line is not None and line.read_every is not None:
            counted = counted_quantities(line)
            read = [reading.when for reading in bath.readings if reading.fact.what in counted]
            wanted.append(("to read", line.read_every, _last(read, bath.now_in)))
        if line is not None and line.stirred_every is not None:
            wanted.append(("to stir", line.stirred_every, _last(moved, bath.now_in)))
    return wanted


def _last(done: list[When], members: list[Member]) -> When:
    first_in = min((member.enter for member in members), key=lambda when: when.lo)
    return max([first_in, *done], key=lambda when: (when.hi, when.lo))
