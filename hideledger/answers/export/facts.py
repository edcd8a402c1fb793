"""What was understood of an entry, as plain objects: `{"fact": "weighed", "weight": {"value": 7.5, "unit": "lb"}, ...}`."""

from __future__ import annotations

import re
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal

from hideledger.model import facts
from hideledger.model.facts import Fact, Stamp
from hideledger.model.moments import Length

_CAPITAL = re.compile("(?<!^)(?=[A-Z])")


def fact_object(fact: Fact) -> dict[str, object]:
    """One fact: `fact` is its name in small words, then its own keys in a fixed order."""
    return {"fact": fact_name(type(fact)), **{one.name: _plain(getattr(fact, one.name)) for one in fields(fact)}}


def fact_sorts() -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Every sort of fact by its name, with its keys in their order: what `export --schema` lists."""
    sorts = [getattr(facts, name) for name in facts.__all__]
    found = [sort for sort in sorts if issubclass(sort, Fact) and sort is not Fact]
    return tuple(sorted((fact_name(sort), tuple(one.name for one in fields(sort))) for sort in found))


def fact_name(sort: type[Fact]) -> str:
    """`HandedOut` is `handed out`."""
    return _CAPITAL.sub(" ", sort.__name__).casefold()


def number(value: Decimal) -> int | float:
    """A figure as a number: whole ones without a point."""
    return int(value) if value == value.to_integral_value() and abs(value) < 10**15 else float(value)


def _plain(value: object) -> object:
    match value:
        case None | bool() | int() | float() | str():
            return value
        case Decimal():
            return number(value)
        case date():
            return value.isoformat()
        case Stamp():
            time = "" if value.minute is None else f" {value.minute // 60:02d}:{value.minute % 60:02d}"
            return f"{value.day.isoformat()}{time}"
        case Length():
            return {"seconds": value.seconds, "months": value.months}
        case tuple():
            return [_plain(one) for one in value]
        case _ if is_dataclass(value):
            return {one.name: _plain(getattr(value, one.name)) for one in fields(value)}
        case _:
            return str(value)
