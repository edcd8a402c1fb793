"""A reading that nothing which was put into the bath explains: misread, or a line of the bath is wrong or missing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from math import inf

from hideledger.model.shop import as_of
from hideledger.model.units import Quantity
from hideledger.rules import bath_explained as explained
from hideledger.rules.bath_explained import Span
from hideledger.rules.bath_made import Tub, what_it_holds
from hideledger.rules.bath_put_in import own_name
from hideledger.rules.bath_screen import Screen, screen
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.jumps import jumps, may_jump
from hideledger.rules.readings import reading_said
from hideledger.rules.telling import bath_cause, of_bath
from hideledger.rules.words import listed, when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife
from hideledger.shopfloor.noted import BathReading

_WHAT = ("salt", "pH")
# So many older readings are named, the rest is counted.
_NAMED = 4
# More gallons, or ten litres, than any vessel of a shop takes.
_MOST_STEPS = 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class Misfit:
    """A reading, its value in pH or degrees salometer, and what could have been read."""

    reading: BathReading
    value: float
    span: Span

    @property
    def low(self) -> bool:
        """Whether it is too low, and not too high."""
        return self.span.low is not None and self.value < self.span.low


def value_of(reading: BathReading) -> float | None:
    """A reading as a number: pH, or degrees salometer; None for what is neither."""
    if reading.fact.what == "pH":
        return float(reading.fact.value.value)
    return explained.salometer_of(reading.fact) if reading.fact.what == "salt" else None


def reading_not_explained(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Salt and acid do not come or go by themselves: a bath reads what was put in, less what its skins took, or a line is wrong."""
    for bath in horizon.baths:
        readings = [reading for reading in bath.readings if reading.fact.what in _WHAT]
        if readings and bath.amounts:
            misfits = [*_of_bath(bath, readings, floor, horizon)]
            yield from misfits
            yield from _jumped(bath, floor, horizon, told={id(finding.entry) for finding in misfits})


def _of_bath(bath: BathLife, readings: list[BathReading], floor: Floor, horizon: Horizon) -> Iterator[Finding]:
    quick, row = screen(bath, floor), list[Tub]()
    for what in _WHAT:
        doubtful = [
            reading
            for reading in readings
            if reading.fact.what == what and reading.entry is not bath.ended and not _passes(quick, reading)
        ]
        if not doubtful:
            continue
        row = row or what_it_holds(bath, floor)
        if row:
            found = [misfit for reading in doubtful if (misfit := misfit_of(row, bath, reading)) is not None]
            yield from _told(bath, found, floor, horizon)


def _passes(quick: Screen, reading: BathReading) -> bool:
    value = value_of(reading)
    return value is None or quick.passes(reading.fact.what, value, explained.ph_off(reading.fact), reading.when.hi)


def misfit_of(row: Sequence[Tub], bath: BathLife, reading: BathReading) -> Misfit | None:
    """What a reading misses, where nothing explains it. What is read as the bath is let go was mostly neutralised for the drain first."""
    if reading.entry is bath.ended:
        return None
    value = value_of(reading)
    span = None if value is None else explained.can_read(row, bath, reading, value)
    if value is None or span is None or not span.misses(value, explained.grain_of(reading.fact)):
        return None
    return Misfit(reading=reading, value=value, span=span)


def _told(bath: BathLife, found: list[Misfit], floor: Floor, horizon: Horizon) -> Iterator[Finding]:
    """One finding for each quantity and side, at its newest reading: where one line is missing, all later ones miss the mark together."""
    clock, at = horizon.clock, horizon.at
    for low in (True, False):
        several = [misfit for misfit in found if misfit.low == low]
        if not several:
            continue
        # The newest is what the tub is now, and who is in it now; where one line is missing, the older ones miss the mark with it.
        newest = several[-1]
        reading = newest.reading
        before = [
            f"{reading_said(one.reading.fact)} {when_said(clock, one.reading.when, at)}"
            for one in reversed(several[:-1])
        ]
        named, more = before[:_NAMED], len(before) - _NAMED
        older = f"; likewise {listed([*named, f'{more} more'] if more > 0 else named)}" if named else ""
        inside = [m.hide for m in bath.inside(reading.when.hi)]
        why, example = _missing(newest, bath, floor)
        missing = (
            f"{why} and nobody wrote it, write that line with its own day and amount, like this: `{bath.tag} {example}`"
            if example
            else f"{bath.vessel or 'it'} does not take the water that would thin it so far"
        )
        yield of_bath(
            bath,
            inside,
            name="reading not explained",
            when="record",
            message=f"{reading_said(reading.fact)} {when_said(clock, reading.when, at)}; what was put in could read {limit_said(newest)}: "
            f"misread, or a line of {bath.tag} is wrong or missing{older}",
            do=f"put nothing into the tub for it; read it again, and a wrong figure is struck and written again; {missing}; "
            f"else say why: `{bath.tag} waived reading not explained -- why`",
            entry=reading.entry,
            since=reading.when.lo,
            more=(f"mixed at {bath.made.at.short}",),
            cause=f"{bath_cause(bath)} {reading.fact.what} {low}",
            days=(bath.made_when.day, reading.when.day),
        )


def _jumped(bath: BathLife, floor: Floor, horizon: Horizon, *, told: set[int]) -> Iterator[Finding]:
    """A reading between two that agree, or that its neighbour cannot stand beside: nothing that was put in could do that, whatever the doubt of scales."""
    if not may_jump(bath):
        return
    clock, at = horizon.clock, horizon.at
    row = what_it_holds(bath, floor)
    found = [
        jump
        for jump in jumps(bath, row)
        if id(jump.reading.entry) not in told and misfit_of(row, bath, jump.reading) is None
    ]
    for what in _WHAT:
        several = [jump for jump in found if jump.reading.fact.what == what]
        if not several:
            continue
        newest = several[-1]
        reading = newest.reading
        named = [f"{reading_said(one.reading.fact)} {when_said(clock, one.reading.when, at)}" for one in several[:-1]]
        shown = [*reversed(named)][:_NAMED]
        more = [f"{len(named) - _NAMED} more"] if len(named) > _NAMED else []
        older = f"; likewise {listed([*shown, *more])}" if named else ""
        beside = listed([f"{reading_said(one.fact)} {when_said(clock, one.when, at)}" for one in newest.beside])
        yield of_bath(
            bath,
            [member.hide for member in bath.inside(reading.when.hi)],
            name="reading not explained",
            when="record",
            message=f"{reading_said(reading.fact)} {when_said(clock, reading.when, at)}, and {beside}, with nothing written between: "
            f"misread, or a line of {bath.tag} is wrong or missing{older}",
            do=f"put nothing into the tub for it; stir it and read it again, and a wrong figure is struck and written again; what went in and nobody wrote gets a line with its own day and amount; "
            f"else say why: `{bath.tag} waived reading not explained -- why`",
            entry=reading.entry,
            since=reading.when.lo,
            more=(f"mixed at {bath.made.at.short}",),
            cause=f"{bath_cause(bath)} {what} jump",
            days=(newest.beside[0].when.day, reading.when.day),
        )


def last_misfits(bath: BathLife, last: BathReading, floor: Floor) -> bool:
    """Whether nothing that was put in explains the last reading: then it is read again before anything is done about it."""
    row = what_it_holds(bath, floor)
    if row and misfit_of(row, bath, last) is not None:
        return True
    return may_jump(bath) and any(jump.reading is last for jump in jumps(bath, row))


def limit_said(misfit: Misfit) -> str:
    """`no less than 30 sal`, `no more than pH 3.1`. It never looks like what was read, which misses it by more than half of a last figure."""
    limit = misfit.span.low if misfit.low else misfit.span.high
    assert limit is not None
    figure = f"pH {limit:.1f}" if misfit.reading.fact.what == "pH" else f"{limit:.0f} sal"
    return f"no less than {figure}" if misfit.low else f"no more than {figure}"


def _missing(misfit: Misfit, bath: BathLife, floor: Floor) -> tuple[str, str]:
    """What may have gone in unwritten, and a line that would say so in the shop's own words."""
    shop = floor.book.shop
    if misfit.reading.fact.what == "salt":
        if misfit.low:
            level = _thinned_to(misfit, bath, floor)
            return ("water thins it: if some went in", f"topped up to {level}") if level else ("", "")
        return "salt raises it: if some went in", f"add 5 lb {own_name(bath.amounts, shop, 'salt') or 'salt'}"
    if misfit.low:
        return "an acid lowers it: if some went in", f"add 8 oz {own_name(bath.amounts, shop, 'acid') or 'citric acid'}"
    return "a soda raises it: if some went in", f"add 4 oz {own_name(bath.amounts, shop, 'base') or 'soda ash'}"


def _thinned_to(misfit: Misfit, bath: BathLife, floor: Floor) -> Quantity | None:
    """The least level, by the whole gallon or ten litres above what is in it, that makes its salt read so little; None where its vessel does not take that."""
    tub = explained.states_at(what_it_holds(bath, floor), misfit.reading, 0)[-1]
    water = next((a.quantity for a in bath.amounts if a.quantity.dimension == "volume" and a.supply == "water"), None)
    unit = (
        water.unit
        if water is not None and water.unit in ("gal", "L")
        else "gal"
        if floor.book.shop.shop.gallons
        else "L"
    )
    step = Decimal(1) if unit == "gal" else Decimal(10)
    one = float(Quantity(value=step, unit=unit).to("L"))
    vessel = floor.book.shop.vessels.get(bath.vessel)
    takes = None if vessel is None else as_of(vessel, date.fromordinal(misfit.reading.when.day)).volume
    room = inf if takes is None else float(takes.to("L")) * 1.001
    steps = int(tub.likely.litres / one) + 1
    weakest = min(tub.weak, key=lambda one_end: one_end.degrees)
    while steps * one <= room and steps < _MOST_STEPS:
        if weakest.filled_to(steps * one).degrees <= misfit.value:
            return Quantity(value=step * steps, unit=unit)
        steps += 1
    return None
