"""A reading that nothing which was put into the bath explains: misread, or a line of the bath is wrong or missing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from hideledger.rules import bath_explained as explained
from hideledger.rules.bath_explained import Span
from hideledger.rules.bath_made import Tub, what_it_holds
from hideledger.rules.bath_put_in import own_name
from hideledger.rules.bath_screen import Screen, screen
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.readings import doubt, reading_said
from hideledger.rules.telling import bath_cause, of_bath
from hideledger.rules.words import when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, BathReading

_WHAT = ("salt", "pH")


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
            yield from _of_bath(bath, readings, floor, horizon)


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
    return value is None or quick.passes(
        reading.fact.what, value, doubt(reading.fact) + explained.PH_DOUBT, reading.when.hi
    )


def misfit_of(row: Sequence[Tub], bath: BathLife, reading: BathReading) -> Misfit | None:
    """What a reading misses, where nothing explains it. What is read as the bath is let go was mostly neutralised for the drain first."""
    if reading.entry is bath.ended:
        return None
    value = value_of(reading)
    span = None if value is None else explained.can_read(row, bath, reading, value)
    if value is None or span is None or not span.misses(value):
        return None
    return Misfit(reading=reading, value=value, span=span)


def _told(bath: BathLife, found: list[Misfit], floor: Floor, horizon: Horizon) -> Iterator[Finding]:
    """One finding for each quantity and side: where one line is missing, all later readings miss the mark together."""
    clock, at = horizon.clock, horizon.at
    for low in (True, False):
        several = [misfit for misfit in found if misfit.low == low]
        if not several:
            continue
        first = several[0]
        reading = first.reading
        more = f", and {len(several) - 1} more so" if len(several) > 1 else ""
        inside = [m.hide for m in bath.inside(reading.when.hi)]
        yield of_bath(
            bath,
            inside,
            name="reading not explained",
            when="record",
            message=f"{reading_said(reading.fact)} {when_said(clock, reading.when, at)}{more}; what was put in could read {limit_said(first)}: "
            f"misread, or a line of {bath.tag} is wrong or missing",
            do=f"read it again; a wrong figure is struck and written again, what went in and is not written gets its line with its own date, "
            f"like this: `{bath.tag} {_missing(first, bath, floor)}`; else say why: `{bath.tag} waived reading not explained -- why`",
            entry=reading.entry,
            since=reading.when.lo,
            more=(f"mixed at {bath.made.at.short}",),
            cause=f"{bath_cause(bath)} {reading.fact.what} {low}",
            days=(bath.made_when.day, reading.when.day),
        )


def last_misfits(bath: BathLife, last: BathReading, floor: Floor) -> bool:
    """Whether nothing that was put in explains the last reading: then it is read again before anything is done about it."""
    row = what_it_holds(bath, floor)
    return bool(row) and misfit_of(row, bath, last) is not None


def limit_said(misfit: Misfit) -> str:
    """`no less than 30 sal`, `no more than pH 3.1`."""
    limit = misfit.span.low if misfit.low else misfit.span.high
    assert limit is not None
    figure = f"pH {limit:.1f}" if misfit.reading.fact.what == "pH" else f"{limit:.0f} sal"
    return f"no less than {figure}" if misfit.low else f"no more than {figure}"


def _missing(misfit: Misfit, bath: BathLife, floor: Floor) -> str:
    """What may be the line that is missing, in the shop's own words."""
    salt = misfit.reading.fact.what == "salt"
    if misfit.low == salt:  # thinned, or more acid than is written
        if salt:
            water = next((amount.quantity for amount in bath.amounts if amount.quantity.dimension == "volume"), None)
            return f"topped up to {water or '20 gal'}"
        return f"add 8 oz {own_name(bath.amounts, floor.book.shop, 'acid') or 'citric acid'}"
    if salt:
        return f"add 5 lb {own_name(bath.amounts, floor.book.shop, 'salt') or 'salt'}"
    return f"add 4 oz {own_name(bath.amounts, floor.book.shop, 'base') or 'soda ash'}"
