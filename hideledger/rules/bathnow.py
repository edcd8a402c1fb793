"""The tubs and rooms now: what reads wrong."""

from __future__ import annotations

from collections.abc import Iterable

from hideledger.model.moments import When
from hideledger.model.process import Range
from hideledger.rules.bathwatch import SETTLES
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.readings import beyond, doubt, limit_said, ranges_of, reading_said
from hideledger.rules.righting import RANGED, righting, righting_place
from hideledger.rules.telling import bath_cause, of_bath, of_hide
from hideledger.rules.unexplained import last_misfits
from hideledger.rules.whichline import by_line, known_first
from hideledger.rules.words import listed, when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife
from hideledger.shopfloor.noted import BathReading, Dose


def out_of_range_now(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Acid without salt swells a skin, salt without acid lets it rot, warm acid eats it: a bath is righted at once."""
    for bath in horizon.standing:
        if bath.now_in:
            yield from _bath_out(floor, bath, horizon)
    yield from _places_out(floor, horizon)


def _bath_out(floor: Floor, bath: BathLife, horizon: Horizon) -> Iterable[Finding]:
    first = first_in(bath)
    rows = [(by_line(row, floor), doubtful) for row, doubtful in known_first(bath.now_in)]
    for what in RANGED:
        readings = [reading for reading in bath.readings if reading.fact.what == what]
        worst: tuple[float, Range, BathReading] | None = None
        hides: list[HideLife] = []
        unread = True
        for lines, doubtful in rows:
            for line, members in lines:
                for limits in ranges_of(line, what):
                    judged = [r for r in readings if is_judged(r, limits, first)]
                    out = beyond(judged[-1].fact, limits) if judged else None
                    if out is None:
                        continue
                    hides += [member.hide for member in members]
                    unread = unread and doubtful
                    if worst is None or (out > worst[0] and (unread or not doubtful)):
                        worst = (out, limits, judged[-1])
        if worst is None:
            continue
        out, limits, last = worst
        doses = doses_since(bath, last)
        settling = bool(doses) and horizon.at <= doses[-1].when.hi + SETTLES
        in_doubt = out < doubt(last.fact)
        misread = not in_doubt and last_misfits(bath, last, floor)
        yield of_bath(
            bath,
            hides,
            name="out of range now",
            when="now",
            message=wrong_said(last, limits, doses, horizon, in_doubt=in_doubt, misread=misread),
            do=righting(bath.tag, last.fact, limits, doses=bool(doses), in_doubt=in_doubt or misread, far=out >= 10),
            entry=last.entry,
            rule=limits.place,
            may=in_doubt or unread,
            since=last.when.lo,
            rings=not settling,
            cause=f"{bath_cause(bath)} {what}",
        )


def first_in(bath: BathLife) -> When | None:
    """When the first skin went into a bath; None where none did."""
    return min((member.enter for member in bath.members), key=lambda when: when.lo, default=None)


def is_judged(reading: BathReading, limits: Range, first: When | None) -> bool:
    """Whether a range holds for a reading: one `at mixing` is for the bath before any skin went in."""
    fresh = first is None or reading.when.hi <= first.lo
    return not limits.basis or fresh == (limits.basis == "at mixing")


def doses_since(bath: BathLife, last: BathReading) -> list[Dose]:
    """What went into a bath behind a reading of it."""
    return [dose for dose in bath.doses if dose.when.lo >= last.when.lo and dose.entry is not last.entry]


def wrong_said(
    last: BathReading, limits: Range, doses: list[Dose], horizon: Horizon, *, in_doubt: bool, misread: bool
) -> str:
    """A reading out of its range, and what may be behind it: `pH 2.8 meter today 17:00, 2.2 at most; 8 oz citric acid added since, not read again`."""
    return (
        f"{reading_said(last.fact)} {when_said(horizon.clock, last.when, horizon.at)}, {limit_said(last.fact, limits)}"
        + (f"; {_doses_said(doses)}, not read again" if doses else "")
        + ("; that is within the doubt of the instrument" if in_doubt else "")
        + ("; nothing that was put in explains it" if misread else "")
    )


def _doses_said(doses: list[Dose]) -> str:
    """What went in since: `8 oz citric acid added since`."""
    amounts = [f"{amount.quantity} {amount.supply}" for dose in doses for amount in dose.amounts]
    return f"{listed(amounts)} added since" if amounts else "topped up since"


def _places_out(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    lying: dict[str, list[HideLife]] = {}
    for life in horizon.here:
        pause = life.resting
        place = pause.place if pause is not None and pause.place else (life.places[-1][1] if life.places else "")
        if place:
            lying.setdefault(place.casefold(), []).append(life)
    for name, spot in floor.book.shop.spots.items():
        hides = lying.get(name.casefold(), []) or lying.get(spot.name.casefold(), [])
        taken = floor.place_readings.get(spot.name) or floor.place_readings.get(name) or []
        readings = [reading for reading in taken if reading.fact.what == "temperature"]
        if not hides or not readings:
            continue
        last = readings[-1]
        out = beyond(last.fact, spot)
        if out is None:
            continue
        for life in hides:
            yield of_hide(
                life,
                name="out of range now",
                when="now",
                message=f"{spot.name} read {last.fact.value} {when_said(horizon.clock, last.when, horizon.at)}, "
                f"{limit_said(last.fact, spot)}",
                do=righting_place(spot.name, last.fact, spot),
                entry=last.entry,
                rule=spot.place,
                may=out < doubt(last.fact),
                since=last.when.lo,
                cause=f"place {spot.name}",
            )
