"""Whether a reading can be what the lines of its bath make: outside all doubt of scale, level, skin and instrument it is a slip.

Both ways count. Salt and acid lift a hydrometer, wet skins thin the bath, and bind its acid; a bath dries up. Only what none of that explains is
told. The margins are our own judgement, no source, but for the pH, which is reckoned within 0.3. They stand here and nowhere else: what a reading
may be off by is the instrument's doubt and the reckoning's own, and it misses only by more than anybody can read off the instrument.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache

from hideledger.model.facts import Reading
from hideledger.model.moments import HOUR
from hideledger.model.units import Quantity
from hideledger.rules.bath_made import Tub, strong_at
from hideledger.rules.readings import doubt
from hideledger.shopfloor.life import BathLife
from hideledger.shopfloor.noted import BathReading
from hideledger.trade import brine, brine_reading
from hideledger.trade.bath_balance import Contents
from hideledger.trade.brine_acid import SOLUTIONS
from hideledger.trade.brine_density import SIXTY_F

# What went in is not all through the bath at once: an hour for a dose, half a day for salt that lies on the bottom.
SPREADS, DISSOLVES = HOUR, 12 * HOUR
# A salometer graduated to 25 % shows more than one graduated to saturation, one made for 38 F about 2 degrees less ("The Salometer and How to Use It").
_TO_25_PERCENT, _MADE_FOR_38 = 26.395 / 25, 2.0
# A bath whose warmth was not read lies between these, C.
_COOL, _WARM = 4.0, 30.0
# What warmth does to a reading is less than this.
_FAR = 6.0
# The reckoned pH is good to 0.3; hard water brings so much base, mol a litre (300 mg of lime a litre).
PH_DOUBT, HARDNESS = 0.3, 0.006
# A salometer is graduated in degrees, and read to half of one.
_SALOMETER_GRAIN = 0.5
# Acids lift a hydrometer no more than half as much again as reckoned, other solids no more than one and a half times their weight of salt would.
_AS_SALT = 1.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """What can be read of a quantity, in pH or degrees salometer; None: no limit to that side is known."""

    low: float | None
    high: float | None

    def misses(self, value: float, grain: float) -> bool:
        """Whether a value lies outside by more than the grain to which it was read."""
        return (self.low is not None and value < self.low - grain) or (
            self.high is not None and value > self.high + grain
        )


def salometer_of(reading: Reading) -> float | None:
    """A salt reading in degrees salometer, as it was shown; None for what no brine shows."""
    value: Quantity = reading.value
    figure = float(value.value)
    try:
        match value.unit:
            case "sal":
                return figure
            case "%":
                return brine.salometer(figure / 100)
            case "Be":
                return brine.salometer(brine.share_of_specific_gravity(brine.gravity_of_baume(figure)))
            case "SG":
                return brine.salometer(brine.share_of_specific_gravity(figure))
            case _:
                return None
    except (ValueError, ZeroDivisionError):
        return None


def salt_doubt(reading: Reading) -> float:
    """What a hydrometer may be wrong by, in degrees salometer, whatever its scale."""
    return doubt(Reading(what="salt", value=Quantity(value=reading.value.value, unit="sal"), how=reading.how))


def ph_off(reading: Reading) -> float:
    """What a pH may be off by: the instrument's doubt, and the reckoning's."""
    return doubt(reading) + PH_DOUBT


def grain_of(reading: Reading) -> float:
    """How fine a reading is read, to either side, in pH or degrees salometer: half its last figure, and of a pH no less than half the instrument's doubt."""
    value = reading.value.value
    half = Decimal(5).scaleb(min(int(value.as_tuple().exponent), 0) - 1)
    if reading.what == "pH":
        return max(float(half), doubt(reading) / 2)
    ends = [
        salometer_of(replace(reading, value=replace(reading.value, value=end))) for end in (value - half, value + half)
    ]
    shown = [end for end in ends if end is not None]
    return max(_SALOMETER_GRAIN, (max(shown) - min(shown)) / 2) if shown else _SALOMETER_GRAIN


def warmth_at(bath: BathLife, reading: BathReading) -> float | None:
    """The bath's warmth when it was read, C: on the same line, or within six hours; None where it was not read."""
    near = [
        (one.entry is not reading.entry, abs(one.when.lo - reading.when.lo), one)
        for one in bath.readings
        if one.fact.what == "temperature" and abs(one.when.lo - reading.when.lo) <= 6 * HOUR
    ]
    if not near:
        return None
    celsius = float(min(near, key=lambda one: one[:2])[2].fact.value.to("C"))
    return celsius if 0 <= celsius <= 40 else None


def states_at(row: Sequence[Tub], reading: BathReading, back: int) -> list[Tub]:
    """The states a reading may have met: the one that stood `back` seconds before it, and all that began since, up to it."""
    first = 0
    last = 0
    for number, tub in enumerate(row):
        if tub.when.hi <= reading.when.lo - back:
            first = number
        if tub.when.lo <= reading.when.hi:
            last = number
    return list(row[first : last + 1])


def can_read(row: Sequence[Tub], bath: BathLife, reading: BathReading, value: float) -> Span | None:
    """What the instrument can have shown by the lines of the bath; None where they do not say what was in it.

    `value` is what it did show, in pH or degrees salometer: a side that lies far from it is not reckoned.
    """
    if reading.fact.what == "salt":
        return _salt_span(row, bath, reading, value)
    return _ph_span(row, reading, value) if reading.fact.what == "pH" else None


def _salt_span(row: Sequence[Tub], bath: BathLife, reading: BathReading, value: float) -> Span | None:
    states = states_at(row, reading, SPREADS)
    if not states[-1].salted or states[-1].by_recipe:
        return None
    before = states_at(row, reading, DISSOLVES)
    celsius = warmth_at(bath, reading)
    off = salt_doubt(reading.fact)
    fresh = before[0].what == "mixed" and before[0].when.hi > reading.when.lo - DISSOLVES
    low = None
    if not (states[-1].unweighed or fresh):
        weakest = min(one.degrees for tub in before for one in tub.weak)
        if value < weakest + _FAR:
            low = _shown_warm(weakest, _WARM if celsius is None else celsius) - off - _MADE_FOR_38
    high = None
    if not states[-1].unknown and value > max(one.degrees for tub in states for one in tub.strong) - _FAR:
        strongest = max(lifted(one) for tub in states for one in strong_at(tub, reading.when.hi))
        high = _shown_warm(strongest, _COOL if celsius is None else celsius) * _TO_25_PERCENT + off
    return Span(low=low, high=high)


def salt_range(row: Sequence[Tub], bath: BathLife, reading: BathReading) -> Span | None:
    """Both ends of what a hydrometer can have shown then, however near to them it read; None where nothing says what was in it."""
    far = 1e6
    low, high = (_salt_span(row, bath, reading, value) for value in (-far, far))
    return None if low is None or high is None else Span(low=low.low, high=high.high)


@lru_cache(maxsize=4096)
def lifted(contents: Contents) -> float:
    """No less than what a hydrometer can show of it: its salt, half as much again as its acids lift it, and other solids as more than salt."""
    whole = contents.water + contents.salt
    others = sum(kilos for name, kilos in contents.others if name not in SOLUTIONS)
    acids = contents.shown() - contents.degrees
    return contents.degrees + _AS_SALT * (acids + (brine.salometer(others / whole) if whole else 0.0))


@lru_cache(maxsize=4096)
def _shown_warm(degrees: float, celsius: float) -> float:
    """What an instrument made for 60 F shows in brine of this strength at another warmth; past its scale as it stands."""
    share = brine.share_of_salometer(degrees)
    try:
        return brine_reading.shown_degrees(share, celsius)
    except ValueError:
        return degrees if degrees > 50 else 0.0


def _ph_span(row: Sequence[Tub], reading: BathReading, value: float) -> Span | None:
    states = states_at(row, reading, SPREADS)
    last = states[-1]
    known = last.likely.has_acid or last.likely.has_base
    if last.unknown or last.by_recipe or not known or (last.been_in and last.likely.has_base):
        return None
    off = ph_off(reading.fact)
    mixed = [tub for tub in states if tub.likely.has_acid or tub.likely.has_base]
    fresh = len(mixed) < len(states)  # acid went into plain water within the hour
    try:
        low = None
        if last.likely.has_base or value < min(one.sour_guess() for tub in mixed for one in tub.strong) - off:
            low = min(acid_side(one) for tub in mixed for one in strong_at(tub, reading.when.hi)) - off
        high = None if fresh or last.unweighed else max(bound_side(one) for tub in mixed for one in tub.weak) + off
    except ValueError:
        return None
    return Span(low=low, high=high)


@lru_cache(maxsize=4096)
def acid_side(contents: Contents) -> float:
    """The lowest pH that it can have."""
    return contents.ph_span()[0]


@lru_cache(maxsize=4096)
def bound_side(contents: Contents) -> float:
    """The highest pH that it can have, in hard water, the skins having bound all they can."""
    return contents.ph_span(hardness=HARDNESS)[1]


def true_degrees(shown: float, celsius: float | None) -> float | None:
    """What a salometer made for 60 F shows in a bath of some warmth, put right; None where that is nothing brine shows."""
    if celsius is None or abs(celsius - SIXTY_F) < 1:
        return shown
    try:
        return brine.salometer(brine_reading.true_share(shown, celsius))
    except ValueError:
        return None
