"""What stands side by side in a request without a comma, and a number without a unit: read only where one meaning is left."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from hideledger.model.units import Quantity
from hideledger.reading.asked import Asked, Measured, Stuff
from hideledger.reading.trouble import Unreadable

_SCALES = frozenset(["sal", "Be", "SG", "%"])
# What a strength behind an amount can be that of.
_LIQUIDS = frozenset(["", "water", "brine", "bath", "liquor", "pickle"])


def read_beside(asked: Asked, text: str) -> Asked:
    """`20 gal 36 sal` as `20 gal at 36 sal`, `1 lb 4 oz salt` as one weight, `36 to 46 sal` with one unit. Raises Unreadable."""
    stuffs = _with_units(_per_water(_brought_together(asked.stuffs, text)), asked.to)
    to = asked.to
    if to is not None and not to.value.unit:
        first = next((measured for stuff in stuffs for measured in _strengths(stuff)), None)
        to = to if first is None else _in_unit_of(to, first)
    for measured in (*(one for stuff in stuffs for one in (stuff.measured, *stuff.held)), *([to] if to else [])):
        if not measured.value.unit:
            said = text[measured.start : measured.end]
            message = f"`{said}` of what? a unit stands behind its number: `40 sal`, `20 gal`, `72 F`"
            raise Unreadable("unit", message, measured.start, measured.end)
    return Asked(stuffs=stuffs, to=to)


def _brought_together(stuffs: Sequence[Stuff], text: str) -> tuple[Stuff, ...]:
    found: list[Stuff] = []
    for stuff in stuffs:
        last = found[-1] if found else None
        touches = last is not None and not last.held and not text[last.end : stuff.start].strip()
        if last is not None and touches and _is_strength(stuff.measured) and not stuff.name and _is_liquid(last):
            found[-1] = replace(last, held=(stuff.measured, *stuff.held), end=stuff.end)
        elif last is not None and touches and not last.name and _goes_on(last.measured, stuff.measured):
            found[-1] = replace(stuff, measured=_sum(last.measured, stuff.measured), start=last.start)
        else:
            found.append(stuff)
    return tuple(found)


def _per_water(stuffs: Sequence[Stuff]) -> tuple[Stuff, ...]:
    """`20 gal water, 1 lb salt per gal`: so much for each gallon of the water is so much in all."""
    waters = [stuff for stuff in stuffs if not stuff.held and _is_water(stuff)]
    if len(waters) != 1:
        return tuple(stuffs)
    return tuple(_in_all(stuff, waters[0].measured) for stuff in stuffs)


def _is_water(stuff: Stuff) -> bool:
    return stuff.measured.dimension == "volume" and stuff.name in ("", "water")


def _in_all(stuff: Stuff, water: Measured) -> Stuff:
    measured, per = stuff.measured, stuff.measured.per
    name = stuff.name or measured.stuff
    to_brine = measured.of not in ("", "water")
    if per is None or stuff.held or to_brine or name not in ("", "salt") or per.value <= 0:
        return stuff
    if per.dimension != water.dimension or measured.value.dimension != "weight":
        return stuff
    times = water.value.to(per.unit) / per.value
    whole = Quantity(value=measured.value.value * times, unit=measured.value.unit)
    return replace(stuff, measured=replace(measured, value=whole, per=None, stuff="", of=""), name="salt")


def _is_liquid(stuff: Stuff) -> bool:
    return stuff.measured.dimension in ("weight", "volume") and stuff.name in _LIQUIDS


def _is_strength(measured: Measured) -> bool:
    """A strength, or a number that may become one."""
    return measured.per is not None or not measured.value.unit or measured.value.unit in _SCALES


def _goes_on(first: Measured, second: Measured) -> bool:
    """`1 lb 4 oz`: the same sort of measure, and the second smaller than one of the first."""
    if first.dimension not in ("weight", "volume") or first.dimension != second.dimension:
        return False
    return second.value.to(first.value.unit) < 1


def _sum(first: Measured, second: Measured) -> Measured:
    whole = first.value.value + second.value.to(first.value.unit)
    return replace(first, value=Quantity(value=whole, unit=first.value.unit), end=second.end)


def _with_units(stuffs: Sequence[Stuff], to: Measured | None) -> tuple[Stuff, ...]:
    """`36 to 46 sal`: the number before `to` takes the unit of the one behind it."""
    if to is None or to.per is not None or to.value.unit not in _SCALES:
        return tuple(stuffs)
    return tuple(_with_unit(stuff, to) for stuff in stuffs)


def _with_unit(stuff: Stuff, to: Measured) -> Stuff:
    if not stuff.measured.value.unit:
        return replace(stuff, measured=_in_unit_of(stuff.measured, to))
    if stuff.held and not stuff.held[0].value.unit:
        return replace(stuff, held=(_in_unit_of(stuff.held[0], to), *stuff.held[1:]))
    return stuff


def _strengths(stuff: Stuff) -> list[Measured]:
    """The strength by a scale that a thing of the request is said to have."""
    first = stuff.held[0] if stuff.held else stuff.measured
    return [first] if first.per is None and first.value.unit in _SCALES else []


def _in_unit_of(measured: Measured, other: Measured) -> Measured:
    return replace(measured, value=Quantity(value=measured.value.value, unit=other.value.unit))
