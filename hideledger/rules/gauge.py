"""The gauge of a drum: what it may stand, and what a falling needle says."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from itertools import pairwise

from hideledger.model.moments import DAY, HOUR, MINUTE, spoken
from hideledger.model.units import Quantity
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.telling import bath_cause, of_bath
from hideledger.rules.words import stamp, when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, Member

# A fall of the gauge by 2 psi or more, at a tenth of a psi a minute or faster, between two readings of one hour with
# nothing vented, pressed or stopped between (from 9 to 5 psi in 20 min is twice that). Common practice, no source.
_LEAK_PSI, _LEAK_PSI_A_MINUTE, _LEAK_WITHIN = Decimal(2), Decimal("0.1"), HOUR

# A load never written as vented is taken to be under pressure for so long; after that the reading is a matter of the record.
_STILL_UNDER_PRESSURE = 3 * DAY


def pressure_over_the_limit(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A drum is no boiler: what its maker did not build it for, its door does not hold."""
    clock, at = horizon.clock, horizon.at
    for bath in horizon.baths:
        vessel = floor.book.shop.vessels.get(bath.vessel)
        if vessel is None or vessel.most_pressure is None:
            continue
        limit = vessel.most_pressure.to("psi")
        gauge = [(r.when, r.fact.value, r.entry) for r in bath.readings if r.fact.what == "pressure"]
        gauge += [(noted.when, value, noted.entry) for noted, value in bath.pressed if value is not None]
        gauge.sort(key=lambda item: item[0].hi)
        for i, (when, value, entry) in enumerate(gauge):
            if value.to("psi") <= limit:
                continue
            # Under pressure still, for all that is written: whoever stands by it may be hurt.
            open_now = bath.ended is None and i == len(gauge) - 1 and not any(v.when.hi >= when.lo for v in bath.vents)
            now = horizon.fresh(when.hi) or (open_now and at - when.hi < _STILL_UNDER_PRESSURE)
            yield of_bath(
                bath,
                [m.hide for m in bath.inside(when.hi)],
                name="pressure over the vessel's limit",
                when="now" if now else "record",
                message=f"{value} in {vessel.tag}, {vessel.most_pressure} at most, {when_said(clock, when, at)}",
                do=(
                    "stop it and let it down to no pressure before anybody opens it, and write: "
                    f"`{bath.tag} off`, `{bath.tag} vented`; if the figure is misread, strike the line"
                    if now
                    else "have door, shaft and gauge looked at by the maker's sheet; if the figure is misread, strike the line"
                ),
                entry=entry,
                rule=vessel.place,
                since=when.lo,
                hurts=now and open_now,
                cause=f"{bath_cause(bath)} {entry.order}",
            )


def pressure_falling(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A gauge that falls while the drum is shut is a leak at door or shaft, and liquor goes where the air goes."""
    for bath in horizon.baths:
        gauge = [
            (reading.when, reading.fact.value, reading.entry)
            for reading in bath.readings
            if reading.fact.what == "pressure"
        ]
        if len(gauge) < 2 or not bath.turns:
            continue
        gauge.sort(key=lambda item: item[0].lo)
        for (when, value, _), (later, lower, entry) in pairwise(gauge):
            fall, took = _psi(value) - _psi(lower), later.lo - when.hi
            if when.lo != when.hi or later.lo != later.hi or not 0 < took <= _LEAK_WITHIN:
                continue
            if fall < _LEAK_PSI or fall * MINUTE < _LEAK_PSI_A_MINUTE * took or _let_off(bath, when.hi, later.lo):
                continue
            now = bath.ended is None and horizon.fresh(later.hi)
            yield of_bath(
                bath,
                [member.hide for member in bath.inside(later.lo)],
                name="pressure falling",
                when="now" if now else "record",
                message=(
                    f"the gauge fell from {value} to {lower} in {spoken(took)} up to "
                    f"{stamp(horizon.clock, later.lo, horizon.at)}, "
                    "with nothing written of venting, pressing or stopping"
                ),
                do=(
                    "stop it, bring it to no pressure before anybody opens it, look at door and shaft by the maker's "
                    "sheet, and write: "
                    f"`{bath.tag} off`, `{bath.tag} vented`"
                ),
                entry=entry,
                since=later.lo,
                cause=f"{bath_cause(bath)} {later.lo}",
            )


def no_vent_written(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A door opened under pressure opens by itself: a drum is vented to nothing and locked out before a hand goes near it."""
    for bath in horizon.baths:
        gauge = [(r.when, r.fact.value) for r in bath.readings if r.fact.what == "pressure"]
        gauge += [(noted.when, value) for noted, value in bath.pressed if value is not None]
        gauge.sort(key=lambda item: item[0].hi)
        for member in bath.members:
            leave, entry, line = member.leave, member.stay.end_entry, member.stay.line
            if line is None or "pressure" not in line.notes or _stays_in(bath, member):
                continue
            under = [item for item in gauge if leave is not None and item[0].hi <= leave.lo]
            if leave is None or entry is None or not under or _psi(under[-1][1]) <= 0:
                continue
            when, value = under[-1]
            if any(noted.when.hi >= when.lo and noted.when.lo <= leave.hi for noted in bath.vents):
                continue
            yield of_bath(
                bath,
                [one.hide for one in bath.members if one.leave is not None and one.stay.end_entry is entry],
                name="no vent written",
                when="record",
                message=(
                    f"opened {when_said(horizon.clock, leave, horizon.at)}, {value} on the gauge "
                    f"{when_said(horizon.clock, when, horizon.at)}, and nothing written of venting"
                ),
                do=f"if it stood at no pressure, write it late with its own date: `{bath.tag} vented`; no door is opened before",
                entry=entry,
                rule=line.place,
                since=leave.lo,
                cause=bath_cause(bath),
            )
            break


def _stays_in(bath: BathLife, member: Member) -> bool:
    """Whether the hide only goes on to its next turn in the same load: the door stays shut."""
    return any(
        other.hide is member.hide
        and other is not member
        and member.leave is not None
        and other.enter.lo == member.leave.lo
        for other in bath.members
    )


def _psi(quantity: Quantity) -> Decimal:
    return quantity.to("psi")


def _let_off(bath: BathLife, start: int, end: int) -> bool:
    """Whether the load was vented, pressed or stopped between two moments, for all that was written."""
    if any(start <= noted.when.hi and noted.when.lo <= end for noted in bath.vents):
        return True
    if any(start < noted.when.hi and noted.when.lo < end for noted, _ in bath.pressed):
        return True
    return any(turn.end is not None and start <= turn.end.hi and turn.end.lo <= end for turn in bath.turns)
