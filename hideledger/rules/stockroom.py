"""The shelf: what will be short before an order could come, and lots that are past their date."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from fractions import Fraction

from hideledger.model.moments import DAY, Length, spoken
from hideledger.model.units import Quantity
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.onhand import DatedLot, Holding, dated_lots, holdings, keep_level, rate_of, runs_down
from hideledger.rules.words import day_said, in_order, listed
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife


def stock_short(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Salt is wanted on the day the hides come in, and the order takes days: what is short is told while there is time to order."""
    if not floor.shelf:
        return
    for held in holdings(floor).values():
        if held.written and held.supply is not None and (held.supply.keep or held.supply.comes_in):
            yield from _short(held, floor, horizon)


def _short(held: Holding, floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    supply, at = held.supply, floor.at
    assert supply is not None
    keep = keep_level(held, floor.book.shop) or Fraction(0)
    below = held.shelf.amount < keep or not held.shelf.amount
    rate = rate_of(held, floor)
    reached = None if rate is None else runs_down(held, rate, keep, at)
    out = None if rate is None else runs_down(held, rate, Fraction(0), at)
    arrives = None if supply.comes_in is None else arrival(supply.comes_in, horizon, at)
    late = None if supply.comes_in is None else arrival(supply.comes_in, horizon, _next_chance(horizon, at))
    soon = late is not None and reached is not None and reached < late
    if not below and not soon:
        return
    has = held.shown(held.shelf.amount)
    kept = f", keep {supply.keep}" if supply.keep is not None else ""
    parts = [f"{held.name}: {has} on the shelf{kept}"]
    if rate is not None and rate.daily and held.shelf.amount:
        gone = f"lasts {days_said(held.shelf.amount / rate.daily)}"
        down = (
            f"falls to the {supply.keep} to keep on {_day(horizon, reached)}"
            if keep and not below and reached is not None
            else gone
        )
        parts.append(f"at {rate.said(held, floor)} it {down}")
    if arrives is not None and late is not None:
        chance = _day(horizon, _next_chance(horizon, at))
        later = f", ordered {chance} it comes {_day(horizon, late)}" if not below else ""
        parts.append(f"ordered today it comes {_day(horizon, arrives)}{later}")
    missing = held.missing
    more = tuple(
        f"{held.shown(line.missing)} more was taken than had come in ({line.move.entry.at.short})"
        for line in missing[-2:]
    )
    last = held.lines[-1].move
    some = supply.keep if supply.keep is not None else Quantity(value=Decimal(5), unit=held.unit)
    yield Finding(
        name="stock short",
        when="now",
        message="; ".join(parts),
        do=f"order {held.name}; when it is here write what came: `bought {some} {held.name}`; if the shelf holds more, count it: `counted {some} {held.name}`",
        tags=(),
        entry=last.entry,
        place=last.entry.at,
        rule=supply.place,
        since=last.when.lo,
        # It wakes somebody only where the shelf will be empty before an order could be there.
        rings=not held.shelf.amount or (out is not None and (out < (late or at))),
        more=more,
        cause=f"supply {held.name.casefold()}",
    )


def _day(horizon: Horizon, instant: int) -> str:
    return day_said(horizon.clock, horizon.clock.day_of(instant), horizon.at)


def arrival(length: Length, horizon: Horizon, ordered: int) -> int:
    """When an order comes: so long after it is placed, and on to the next time somebody is there to take it in."""
    return horizon.hours.next_opening(length.after(ordered, horizon.clock))


def _next_chance(horizon: Horizon, at: int) -> int:
    """The next opening after this day: who does not order today orders then."""
    day = horizon.hours.next_open_day(horizon.clock.day_of(at))
    stretches = horizon.hours.stretches(day)
    return stretches[0][0] if stretches else at + DAY


def days_said(days: Fraction) -> str:
    """`6 days`, `1 day`, `under a day`, rounded down: nobody is helped by a day that is not there."""
    whole = int(days)
    if whole < 1:
        return "under a day"
    return "1 day" if whole == 1 else f"{whole} days"


def lot_past_its_date(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """What stands too long does less than its label says, or something else: oil goes rancid, peroxide and aldehyde fade."""
    if not floor.shelf:
        return
    for held in holdings(floor).values():
        for dated in dated_lots(held):
            over = horizon.at - horizon.clock.day_end(dated.day.toordinal())
            if over >= 0:
                yield from _past(dated, over, horizon)


def live_baths(lot: DatedLot, horizon: Horizon) -> list[BathLife]:
    """The standing baths that took something of a lot."""
    found = {
        id(line.move.bath): line.move.bath
        for line in lot.holding.lines
        if line.move.bath is not None
        and line.move.bath.ended is None
        and lot.lot.casefold() in {name.casefold() for name in line.lots or (line.move.lot,)}
    }
    return [bath for bath in horizon.standing if id(bath) in found]


def left_of(lot: DatedLot) -> Fraction:
    """How much of a lot lies on the shelf, in kg or L."""
    here = [heap.amount for heap in lot.holding.shelf.heaps if heap.lot.casefold() == lot.lot.casefold()]
    return sum(here, Fraction(0))


def _past(lot: DatedLot, over: int, horizon: Horizon) -> Iterable[Finding]:
    held = lot.holding
    baths, left = live_baths(lot, horizon), left_of(lot)
    if not held.is_some(left):
        left = Fraction(0)
    if not baths and not left:
        return
    named = f"{held.name} lot {lot.lot}" if lot.lot else f"{held.name} without a lot"
    tags = in_order(bath.tag for bath in baths)
    where = [f"{held.shown(left)} on the shelf"] if left else []
    where += [f"in {listed(tags)}"] if tags else []
    gone = f"`used {held.shown(left)} {held.name}{f' lot {lot.lot}' if lot.lot else ''} -- thrown out`"
    waive = f"`{tags[0]} waived lot past its date -- why`" if tags else ""
    ask = "ask the supplier whether it is still good, and where it may go if not"
    do = f"{ask}; if it is thrown out write {gone}" if left else ask
    yield Finding(
        name="lot past its date",
        when="record",
        message=f"{named} was good until {day_said(horizon.clock, lot.day.toordinal(), horizon.at)}, {spoken(over) if over else 'no time'} ago: {listed(where)}",
        do=f"{do}; if the bath may stay write {waive}" if waive else do,
        tags=tags,
        entry=lot.entry,
        place=lot.entry.at,
        since=horizon.clock.day_end(lot.day.toordinal()),
        over_s=over,
        cause=f"lot {held.name.casefold()} {lot.lot.casefold()}",
    )
