"""Readings, sizes, lengths of time. A unit of the wrong kind is refused at its place."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from hideledger.model.facts import Hung, Pressed, Reading, Shrinks, Sized, Span, Stepped
from hideledger.model.moments import Length
from hideledger.model.units import UNITS, Quantity
from hideledger.reading.desk import Desk, Phrase
from hideledger.reading.loose import Across, Size
from hideledger.reading.trouble import Unreadable
from hideledger.reading.values import below_nothing, clock_minute, number, unit_name

_IMPERIAL = {"gal", "qt", "pt", "floz"}


_MOST_PH = Decimal(14)
# What is measured on a hide, and as well where a defect is or how far it goes.
_OF_A_DEFECT_TOO = ("neck", "belly", "length", "width")
# Readings that only a hide has: of its cut, of the water that a piece of it was shaken in, and of that water diluted tenfold.
OF_A_HIDE = frozenset({"cut", "extract", "diluted"})


def as_quantity(desk: Desk, phrase: Phrase) -> Quantity:
    """A NUMBER with a UNIT, a degree sign or an inch mark; gallons and bare degrees by the shop's own lines."""
    figures, mark = phrase.tokens[-2], phrase.tokens[-1]
    value = number(figures, figures.start_pos or 0)
    if mark.type == "DEGREE":
        degrees = desk.shop.shop.degrees
        if not degrees:
            raise desk.refuse(
                "degrees", f"{figures}{mark}: F or C? write it, or a line `degrees F` under `shop`", phrase
            )
        return Quantity(value=value, unit=degrees)
    unit = "in" if mark.type == "INCHES" else unit_name(mark)
    assert unit is not None, mark
    if value < 0 and UNITS[unit].dimension != "temperature":
        raise below_nothing(figures, figures.start_pos or 0)
    if unit in _IMPERIAL:
        gallons = desk.shop.shop.gallons
        if not gallons:
            raise desk.refuse(
                "gallons",
                f"{mark}: US or imperial? a line `gallons US` or `gallons imperial` under `shop` says which",
                phrase,
            )
        if gallons == "imperial":
            unit = f"imperial {unit}"
    return Quantity(value=value, unit=unit)


def reading(desk: Desk, found: Quantity, phrase: Phrase) -> None:
    """A temperature or a salt reading."""
    what = "temperature" if found.dimension == "temperature" else "salt"
    if desk.after_step:
        raise desk.refuse(
            "whose reading",
            f"{found}: the bath's reading or the hide's? the bath's stands on a line of its own: `P3 {found}`",
            phrase,
        )
    if desk.mode == "arrival" and what == "temperature":
        desk.say(Hung(temperature=found))
        return
    how = desk.name("how")
    desk.say(Reading(what=what, value=found, how=how[1] if how else ""))
    desk.mode = desk.mode or "reading"


def scale(desk: Desk) -> None:
    """`pH 2.3 strip`, `SG 1.08`."""
    phrase = desk.take()
    name, figures = phrase.tokens[0], phrase.tokens[-1]
    value = number(figures, figures.start_pos or 0)
    if value < 0 and name.casefold().startswith("sg"):
        raise below_nothing(figures, figures.start_pos or 0)
    if name.casefold().startswith("sg"):
        desk.say(Reading(what="salt", value=Quantity(value=value, unit="SG")))
        desk.mode = desk.mode or "reading"
        return
    if not 0 <= value <= _MOST_PH:
        digits = str(figures)
        hint = f"; did you mean {digits[0]}.{digits[1:]}?" if digits.isdigit() and len(digits) in (2, 3) else ""
        raise desk.refuse("pH range", f"pH {figures}: a pH lies between 0 and 14{hint}", phrase)
    how = desk.name("how")
    if desk.after_step and (how is None or how[1] not in OF_A_HIDE):
        raise desk.refuse(
            "whose reading",
            f"pH {figures}: the bath's, or the hide's cut? the bath's stands on a line of its own (`P3 pH {figures}`), the hide's is `pH {figures} cut`",
            phrase,
        )
    desk.say(Reading(what="pH", value=Quantity(value=value, unit="pH"), how=how[1] if how else ""))
    desk.mode = desk.mode or "reading"


def pressure(desk: Desk, found: Quantity) -> None:
    """A pressure belongs to a `pressed to` that still wants one; else it is what the gauge read."""
    last = desk.facts[-1] if desk.facts else None
    if isinstance(last, Pressed) and last.pressure is None:
        desk.facts[-1] = Pressed(pressure=found)
        return
    desk.say(Reading(what="pressure", value=found))


def length(desk: Desk, found: Quantity, phrase: Phrase) -> None:
    """A length is the size of a defect or of a hide that arrives, an area the hide's; elsewhere a length is refused. Raises Unreadable."""
    if desk.mode == "defect" or (desk.mode == "arrival" and found.dimension == "length"):
        desk.say(Size(size=found, start=phrase.start))
        desk.skip_word("across", "wide", "long", "round")
        return
    if found.dimension == "area":
        desk.say(Sized(what="area", size=found))
        return
    raise desk.refuse("size of what", f"{found} of what? `neck {found}`, or behind a defect", phrase)


def time_taken(desk: Desk, found: Quantity, phrase: Phrase) -> None:
    """`20 min` behind a step: how long it took, written afterwards."""
    if desk.after_step:
        seconds = int(found.value * UNITS[found.unit].factor) if found.dimension == "time" else 0
        if not seconds:
            raise desk.refuse("length", f"{found}: a step is written with its minutes, hours or days", phrase)
        if _took(desk, Span(length=Length(seconds=seconds, written=str(found)))):
            return
        right = "the length of a step stands right behind its name: `neutralised 20 min`"
        raise desk.refuse("length", f"{found}: {right}", phrase)
    if desk.mode == "turning":
        asked = "gone (`ran 8:25 to 9:05`), or to come? `on` takes no length"
        raise desk.refuse("gone or to come", f"{found}: {asked}", phrase)
    right = "a length stands behind its step: `neutralised 20 min`"
    raise desk.refuse("length", f"{found} says nothing here; {right}", phrase)


def span(desk: Desk) -> None:
    """`8:15 to 8:35` behind a step."""
    phrase = desk.take()
    start, end = phrase.tokens[0], phrase.tokens[-1]
    begun, over = clock_minute(start, start.start_pos or 0), clock_minute(end, end.start_pos or 0)
    if not _took(desk, Span(start=begun, end=over)):
        asked = f"from and to of what? behind a step, or `ran {start} to {end}` of a load"
        raise Unreadable("span", f"{start} to {end}: {asked}", phrase.start, phrase.end)


def _took(desk: Desk, times: Span) -> bool:
    """Gives the last step of the piece its own times; False when there is none."""
    for index in range(len(desk.facts) - 1, -1, -1):
        fact = desk.facts[index]
        if isinstance(fact, Stepped):
            desk.facts[index] = replace(fact, span=times)
            desk.mode = "timed step"
            return True
    return False


def sized(desk: Desk) -> None:
    """`nose to eye 7 in`."""
    phrase = desk.take()
    what, size = phrase.word.replace("-", " "), _of_kind(desk, phrase, "length", "a length", "in, cm, mm")
    if desk.mode in ("defect", "arrival") and what in _OF_A_DEFECT_TOO:
        desk.say(Across(what=what, size=size, start=phrase.start, end=phrase.end))
    else:
        desk.say(Sized(what=what, size=size))


def shrinks(desk: Desk) -> None:
    """`shrinks at 78 C`."""
    desk.say(Shrinks(temperature=_of_kind(desk, desk.take(), "temperature", "a temperature", "F or C")))


def hung(desk: Desk) -> None:
    """`hung 45 F`."""
    desk.say(Hung(temperature=_of_kind(desk, desk.take(), "temperature", "a temperature", "F or C")))


def _of_kind(desk: Desk, phrase: Phrase, dimension: str, called: str, units: str) -> Quantity:
    """The phrase's quantity; a unit of another kind is refused at its place."""
    found = as_quantity(desk, phrase)
    if found.dimension != dimension:
        raise desk.refuse("unit kind", f"{found}: {called} belongs here ({units})", phrase)
    return found
