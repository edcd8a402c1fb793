"""Tubs with nobody in them: what reads wrong is put right before the next skins go in, and not in the night."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from hideledger.model.process import Range, Step
from hideledger.rules.bathnow import doses_since, first_in, is_judged, wrong_said
from hideledger.rules.finding import Finding
from hideledger.rules.gas import is_to_be_left
from hideledger.rules.horizon import Horizon
from hideledger.rules.readings import beyond, doubt, ranges_of
from hideledger.rules.righting import righting
from hideledger.rules.telling import bath_cause, dumped_line, of_bath
from hideledger.rules.unexplained import last_misfits
from hideledger.rules.whichline import by_line, lines_named
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife
from hideledger.shopfloor.noted import BathReading


def wrong_before_the_next_skins(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A bath that is wrong harms nobody while it is empty, and the next skins from the hour they go in: it is righted before."""
    for bath in horizon.standing:
        turns = bool(bath.turns) or bath.vessel in horizon.drums or bath.tag in horizon.drums
        if not (bath.now_in or turns or is_to_be_left(bath, floor)):
            yield from _of_bath(bath, floor, horizon)


def _of_bath(bath: BathLife, floor: Floor, horizon: Horizon) -> Iterator[Finding]:
    lines = [line for line, _ in by_line(bath.members, floor)]
    lines += [line for line in lines_named(bath.recipe, floor) if line not in lines] if bath.recipe else []
    for wrong in wrong_for(bath, lines, floor, horizon):
        yield of_bath(
            bath,
            (),
            name="due",
            when="tonight",
            message=f"{wrong.said}; nobody is in it: to be seen to before the next skins go in",
            do=f"{wrong.right}; or, if it is to go, by your supplier's sheet and the rules of your sewer: `{dumped_line(bath)}`",
            entry=wrong.last.entry,
            rule=wrong.limits.place,
            may=wrong.in_doubt,
            since=wrong.last.when.lo,
            rings=False,
            cause=f"{bath_cause(bath)} empty {wrong.what}",
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Wrong:
    """A quantity of a bath that reads out of the range of a step: the last reading and the range, both in words, and how it is righted.

    `sure` where the reading itself is to be trusted, and nothing went in since.
    """

    what: str
    last: BathReading
    limits: Range
    in_doubt: bool
    sure: bool
    said: str
    right: str


def wrong_for(bath: BathLife, lines: list[Step], floor: Floor, horizon: Horizon) -> Iterator[Wrong]:
    """What must be put right in a bath before skins go in for one of these steps: what was read last of each quantity counts."""
    for what in ("pH", "temperature", "salt"):
        found = _nearest(bath, what, lines)
        if found is None:
            continue
        last, limits, out = found
        doses = doses_since(bath, last)
        in_doubt = out < doubt(last.fact)
        misread = not in_doubt and last_misfits(bath, last, floor)
        yield Wrong(
            what=what,
            last=last,
            limits=limits,
            in_doubt=in_doubt,
            sure=not (doses or in_doubt or misread),
            said=wrong_said(last, limits, doses, horizon, in_doubt=in_doubt, misread=misread),
            right=righting(bath.tag, last.fact, limits, doses=bool(doses), in_doubt=in_doubt or misread, far=False),
        )


def _nearest(bath: BathLife, what: str, lines: list[Step]) -> tuple[BathReading, Range, float] | None:
    """The last reading of a quantity, with the range that it is nearest to; None where it is good for one of the steps, or for none is judged."""
    readings = [reading for reading in bath.readings if reading.fact.what == what]
    first = first_in(bath)
    found: tuple[BathReading, Range, float] | None = None
    for limits in (limits for line in lines for limits in ranges_of(line, what)):
        row = [reading for reading in readings if is_judged(reading, limits, first)]
        if not row:
            continue
        out = beyond(row[-1].fact, limits)
        if out is None:
            return None
        if found is None or out < found[2]:
            found = (row[-1], limits, out)
    return found
