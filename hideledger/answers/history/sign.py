"""The raw clock at the moment at which hair was first seen to come loose."""

from __future__ import annotations

from hideledger.answers.saying import length_said
from hideledger.rules.spans import arrival_unread
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.layout import lay_out
from hideledger.shopfloor.life import HideLife, RawClock
from hideledger.shopfloor.noted import Defect


def raw_at(floor: Floor, life: HideLife, instant: int) -> RawClock | None:
    """The raw clock of a hide as it stood at an instant. Where it ran on since, the shop is laid out anew as of then."""
    raw = life.raw
    if raw is None or instant >= floor.at or not any(end > instant for _, end, _ in raw.spans):
        return raw
    then = lay_out(floor.book, instant).hides.get(life.tag, ())
    return next((one.raw for one in then if one.arrived is life.arrived), None)


def raw_at_first_slip(life: HideLife, floor: Floor) -> tuple[Defect, str] | None:
    """The first slip written in the shop, and the raw clock there in words; None for a hide that has none."""
    sign = next((one for one in life.defects if one.fact.defect == "slip" and not one.at_door), None)
    if sign is None:
        return None
    raw = raw_at(floor, life, min(floor.at, sign.when.hi))
    if raw is None or arrival_unread(life):
        return sign, "how long it was raw is not known before its arrival is in the book"
    door = "nobody knows how long before the door" if raw.door is None else f"{length_said(*raw.door)} before the door"
    return sign, f"raw {length_said(*raw.shop)} in the shop, {door}"
