"""Readings, sizes, lengths of time. A unit of the wrong kind is refused at its place."""

from __future__ import annotations

from decimal import Decimal

from hideledger.model.facts import Hung, Pressed, Reading, Shrinks, Sized, Span, Stepped
from hideledger.model.moments import Length
from hideledger.model.units import UNITS, Quantity
from hideledger.reading.desk import Desk, Phrase
from hideledger.reading.loose import Size
from hideledger.reading.trouble import Unreadable
from hideledger.reading.values import clock_minute, number, unit_name

_IMPERIAL = {"gal", "qt", "pt", "floz"}


_MOST_PH = Decimal(14)


def as_quantity(desk: Desk, phrase: Phrase) -> Quantity:
    """A NUMBER with a UNIT, a degree sign or an inch mark; gallons and bare degrees by the shop's own lines."""
    figures, mark = phrase.tokens[-2], phrase.tokens[-1]
    value = number(figures, figures.start_pos or 0)
    if mark.type == "INCHES":
        return Quantity(value=value, unit="in")
    if mark.type == "DEGREE":
        degrees = desk.shop.shop.degrees
        if not degrees:
            raise desk.refuse(
                "degrees", f"{figures}{mark}: F or C? write it, or a line `degrees F` under `shop`", phrase
            )
        return Quantity(value=value, unit=degrees)
    unit = unit_name(mark)
    assert unit is not None, mark
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
    if desk.mode in ("step", "step supply", "bath step"):
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
    if name.casefold() == "sg":
        desk.say(Reading(what="salt", value=Quantity(value=value, unit="SG")))
        desk.mode = desk.mode or "reading"
        return
    if not 0 <= value <= _MOST_PH:
        digits = str(figures)
        hint = f"; did you mean {digits[0]}.{digits[1:]}?" if digits.isdigit() and len(digits) in (2, 3) else ""
        raise desk.refuse("pH range", f"pH {figures}: a pH lies between 0 and 14{hint}", phrase)
    how = desk.name("how")
    if desk.mode in ("step", "step supply", "bath step") and (how is None or how[1] != "cut"):
        raise desk.refuse(
            "whose reading",
            f"pH {figures}: the bath's, or the hide's cut? the bath's stands on a line of its own (`P3 pH {figures}`), the hide's is `pH {figures} cut`",
            phrase,
        )
    desk.say(Reading(what="pH", value=Quantity(value=value, unit="pH"), how=how[1] if how else ""))
    desk.mode = desk.mode or "reading"


def pressure(desk: Desk, found: Quantity) -> None:
    last = desk.facts[-1] if desk.facts else None
    if isinstance(last, Pressed) and last.pressure is None:
        desk.facts[-1] = Pressed(pressure=found)
        return
    desk.say(Reading(what="pressure", value=found))


def length(desk: Desk, found: Quantity, phrase: Phrase) -> None:
    if desk.mode == "defect" or (desk.mode == "arrival" and found.dimension == "length"):
        desk.say(Size(size=found, start=phrase.start))
        desk.skip_word("across", "wide", "long", "round")
        return
    what = "area" if found.dimension == "area" else ""
    if what:
        desk.say(Sized(what=what, size=found))
        return
    raise desk.refuse("size of what", f"{found} of what? `neck {found}`, or behind a defect", phrase)


def time_taken(desk: Desk, found: Quantity, phrase: Phrase) -> None:
    if (desk.mode in ("step", "step supply", "bath step") and desk.facts) or desk.mode in (
        "step",
        "step supply",
        "bath step",
    ):
        for index in range(len(desk.facts) - 1, -1, -1):
            fact = desk.facts[index]
            if isinstance(fact, Stepped):
                seconds = int(found.value * UNITS[found.unit].factor) if UNITS[found.unit].dimension == "time" else 0
                if not seconds:
                    raise desk.refuse("length", f"{found}: a step is written with its minutes, hours or days", phrase)
                desk.facts[index] = Stepped(
                    step=fact.step,
                    where=fact.where,
                    back=fact.back,
                    span=Span(length=Length(seconds=seconds, written=str(found))),
                )
                desk.mode = "timed step"
                return
        raise desk.refuse(
            "length", f"{found}: the length of a step stands right behind its name: `neutralised 20 min`", phrase
        )
    if desk.mode == "turning":
        raise desk.refuse(
            "gone or to come", f"{found}: gone (`ran 8:25 to 9:05`), or to come? `on` takes no length", phrase
        )
    raise desk.refuse(
        "length", f"{found} says nothing here; a length stands behind its step: `neutralised 20 min`", phrase
    )


def span(desk: Desk) -> None:
    """`8:15 to 8:35` behind a step."""
    phrase = desk.take()
    start, end = phrase.tokens[0], phrase.tokens[-1]
    begun, over = clock_minute(start, start.start_pos or 0), clock_minute(end, end.start_pos or 0)
    for index in range(len(desk.facts) - 1, -1, -1):
        fact = desk.facts[index]
        if isinstance(fact, Stepped):
            desk.facts[index] = Stepped(
                step=fact.step, where=fact.where, back=fact.back, span=Span(start=begun, end=over)
            )
            desk.mode = "timed step"
            return
    raise Unreadable(
        "span",
        f"{start} to {end}: from and to of what? behind a step, or `ran {start} to {end}` of a load",
        phrase.start,
        phrase.end,
    )


def sized(desk: Desk) -> None:
    """`nose to eye 7 in`."""
    phrase = desk.take()
    found = as_quantity(desk, phrase)
    if found.dimension != "length":
        raise desk.refuse("unit kind", f"{found}: a length is expected here (in, cm, mm)", phrase)
    desk.say(Sized(what=phrase.word.replace("-", " "), size=found))


def shrinks(desk: Desk) -> None:
    """`shrinks at 78 C`."""
    phrase = desk.take()
    found = as_quantity(desk, phrase)
    if found.dimension != "temperature":
        raise desk.refuse("unit kind", f"{found}: a temperature is expected here (F or C)", phrase)
    desk.say(Shrinks(temperature=found))


def hung(desk: Desk) -> None:
    """`hung 45 F`."""
    phrase = desk.take()
    found = as_quantity(desk, phrase)
    if found.dimension != "temperature":
        raise desk.refuse("unit kind", f"{found}: a temperature is expected here (F or C)", phrase)
    desk.say(Hung(temperature=found))
