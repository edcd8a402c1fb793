"""How far a skin has come, by what has been done to it: what saves a raw one spoils a tanned one."""

from __future__ import annotations

from enum import Enum

from hideledger.model.moments import DAY, Clock
from hideledger.rules.spans import only_out_is_left
from hideledger.shopfloor.doings import DRIED, NEUTRALISED, PICKLE, SALT, SOAKED, TAN, Done, steps_of
from hideledger.shopfloor.life import HideLife
from hideledger.shopfloor.raw import came_cured
from hideledger.shopfloor.tanned import tans_of

# Out of the tan for so long, the pull can wait for the day it goes (common practice, no source).
_LONG = 2 * DAY


class Stands(Enum):
    """Where a skin stands: what may be done to it goes by this, and by nothing that only its bath tells."""

    FROZEN = "frozen"
    GREEN = "green"
    SALTED = "salted or dried"
    PICKLED = "in pickle"
    NEUTRALISED = "neutralised"
    TANNING = "in tan"
    TANNED = "tanned"
    UNKNOWN = "unknown"


_BY_SORT = {
    SALT: Stands.SALTED,
    DRIED: Stands.SALTED,
    SOAKED: Stands.GREEN,
    PICKLE: Stands.PICKLED,
    NEUTRALISED: Stands.NEUTRALISED,
}


def stands(life: HideLife) -> Stands:
    """Where a skin stands now. Once the tan has begun nothing brings it back, whatever its later steps are called.

    Of one whose steps say nothing of it, only that it is raw can be known.
    """
    if life.resting is not None:
        return Stands.FROZEN
    done = _done(life)
    if life.tanned_before or tans_of(life, done):
        in_it = life.stay is not None and any(one.sort == TAN and one.mark is life.stay.mark for one in done)
        return Stands.TANNING if in_it else Stands.TANNED
    found = Stands.SALTED if came_cured(life) else Stands.UNKNOWN
    for one in done:
        found = _BY_SORT.get(one.sort, found)
    raw = life.raw is not None and life.raw.running
    return Stands.GREEN if raw and found not in (Stands.PICKLED, Stands.NEUTRALISED) else found


def is_tanned(life: HideLife) -> bool:
    """Whether its tan has begun: neither cold nor acid is for such a skin."""
    return life.tanned_before or bool(tans_of(life, _done(life)))


def can_wait(life: HideLife, clock: Clock, at: int) -> bool:
    """Whether a tanned skin is ready, or out of the tan for so long that it is looked at before it goes, and not at once."""
    tans = tans_of(life, _done(life))
    if stands(life) is not Stands.TANNED:
        return False
    if not tans:  # leather when it came
        return only_out_is_left(life, clock, at) or at - life.arrived_when.hi >= _LONG
    last = tans[-1]
    left = last.mark.when if last.stay is None or last.stay.end is None else last.stay.end
    return only_out_is_left(life, clock, at) or at - left.hi >= _LONG


def _done(life: HideLife) -> list[Done]:
    return [one for one in steps_of(life) if not one.mark.skipped]
