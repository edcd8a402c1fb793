"""How a bath or a place that reads wrong is put right: which way it is off decides what must not go in."""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from hideledger.model.facts import Reading
from hideledger.model.process import Range, Step
from hideledger.model.shop import Spot
from hideledger.model.units import Quantity
from hideledger.rules.readings import beyond, common_reading, counted_quantities, is_over, ranges_of, reading_said
from hideledger.shopfloor.life import BathLife

_NEUTRAL = Decimal(7)
RANGED = ("pH", "temperature", "salt")
_CARE = "slowly, with goggles and gloves"


def righting(tag: str, last: Reading, limits: Range, *, doses: bool, in_doubt: bool, far: bool) -> str:
    """What to do about a reading of a bath, and the line to write. Never more of what there is too much of."""
    example = f"`{tag} {inside(last, limits)}`"
    if doses:
        return f"read it an hour after the dose and write what it says, like this: {example}"
    if in_doubt:
        return f"read it again and write what it says, like this: {example}"
    over = is_over(last, limits)
    if last.what == "temperature":
        return f"{_of_warmth(over, far=far)}, and write what it reads then, like this: {example}"
    how = _of_salt(over) if last.what == "salt" else _of_acid(over, limits)
    return f"{how}; write the dose, read it an hour later, and write what it says, like this: {example}"


def _of_acid(over: bool, limits: Range) -> str:
    """A lower pH is more acid; a step with a range above 7 works with alkali."""
    alkaline = limits.least is not None and limits.least.value >= _NEUTRAL
    if alkaline:
        return (
            f"it has too much alkali: add none, and bring it down by your supplier's sheet, {_CARE}"
            if over
            else f"it has too little alkali: add no acid, and put it right by your supplier's sheet (alkali into water, {_CARE})"
        )
    return (
        f"it has too little acid: add no alkali, and put it right by your supplier's sheet (acid into water, {_CARE})"
        if over
        else f"it is too sour: add no acid, and let it down by your supplier's sheet, a little at a time ({_CARE}; soda foams)"
    )


def _of_salt(over: bool) -> str:
    return (
        "it has too much salt: add none, and let it down with water by your supplier's sheet"
        if over
        else "it has too little salt: add no acid before it is right, and salt it by your supplier's sheet, dissolved before it goes in"
    )


def _of_warmth(over: bool, *, far: bool) -> str:
    if over:
        return (
            "it is too warm: take the heat from it, and the skins out of it, now"
            if far
            else "it is too warm: take the heat from it"
        )
    return "it is too cold: warm it slowly, no skin against what heats it" + (", beginning now" if far else "")


def righting_place(name: str, last: Reading, spot: Spot) -> str:
    """What to do about a freezer or a rack, and the line to write."""
    example = f"`{name} {inside(last, spot)}`"
    if is_over(last, spot):
        how = "it is too warm: see that it runs and is shut, and move what lies there to where it is cold enough"
    else:
        how = "it is too cold: turn it up, or move what lies there to where it is warm enough"
    return f"{how}; write what it reads then, like this: {example}"


def inside(last: Reading, limits: Range | Spot) -> str:
    """A reading as an example, taken as the last one was, that lies inside the limits."""
    what, least, most = last.what, limits.least, limits.most
    step = Decimal("0.2") if what == "pH" else Decimal(5)
    if least is not None and most is not None and least.unit == most.unit:
        value, unit = (least.value + most.value) / 2, least.unit
    elif most is not None:
        value, unit = most.value - step, most.unit
    elif least is not None:
        value, unit = least.value + step, least.unit
    else:
        return reading_said(last)
    fine = Decimal("0.1") if what == "pH" else Decimal(1)
    for rounding in (ROUND_FLOOR, ROUND_CEILING):
        found = Reading(what=what, value=Quantity(value=value.quantize(fine, rounding), unit=unit), how=last.how)
        if beyond(found, limits) is None:
            return reading_said(found)
    edge = least or most
    return reading_said(last if edge is None else Reading(what=what, value=edge, how=last.how))


def example_for(line: Step | None, bath: BathLife, degrees: str, what: str = "") -> str:
    """A reading to write is shown for the first quantity that counts for a step and was not given.

    It is like the last one of that bath while that is right, else one inside the range of the step. `degrees` as the shop reads them.
    """
    what = what or (counted_quantities(line)[0] if line is not None else "pH")
    last = next((r.fact for r in reversed(bath.readings) if r.fact.what == what), None)
    shown = last if last is not None else common_reading(what, degrees)
    limits = next(iter(ranges_of(line, what)), None) if line is not None and what in RANGED else None
    if limits is None or (last is not None and beyond(last, limits) is None):
        return reading_said(shown)
    return inside(shown, limits)
