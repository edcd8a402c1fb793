"""Baths that read out of range when a skin went in, and of which nobody wrote a better reading or a dose before that."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from hideledger.model.process import Range
from hideledger.rules.bathnow import first_in, is_judged
from hideledger.rules.readings import beyond, doubt, ranges_of
from hideledger.rules.righting import RANGED
from hideledger.shopfloor.life import BathLife, HideLife, Stay
from hideledger.shopfloor.noted import BathReading


@dataclass(frozen=True, slots=True, kw_only=True)
class WentIn:
    """A skin went into a bath whose last reading before, `reading`, lay outside the `limits` of its step.

    `may`: it lies outside by less than the instrument may be wrong.
    """

    stay: Stay
    bath: BathLife
    reading: BathReading
    limits: Range
    may: bool


def went_into_a_wrong_bath(life: HideLife) -> Iterator[WentIn]:
    """Each stay that began so, in order of time, and each quantity of it."""
    for stay in life.stays:
        if stay.bath is None or stay.line is None:
            continue
        for what in RANGED:
            before = [one for one in stay.bath.readings if one.fact.what == what and one.when.hi <= stay.start.lo]
            if not before:
                continue
            last = before[-1]
            if any(last.when.lo <= dose.when.hi and dose.when.lo <= stay.start.hi for dose in stay.bath.doses):
                continue  # nobody knows what it read after the dose
            for limits in ranges_of(stay.line, what):
                out = beyond(last.fact, limits)
                if out is not None and is_judged(last, limits, first_in(stay.bath)):
                    yield WentIn(stay=stay, bath=stay.bath, reading=last, limits=limits, may=out < doubt(last.fact))
