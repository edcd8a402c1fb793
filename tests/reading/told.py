"""Says in one short line what was read, for the tables of these tests."""

from __future__ import annotations

import dataclasses
from datetime import date
from decimal import Decimal
from pathlib import Path

from hideledger.model.book import Book
from hideledger.model.entry import Entry
from hideledger.model.moments import Clock, Length
from hideledger.model.units import Quantity
from hideledger.reading import read_sources
from hideledger.text.source import Source

HERE = Path(__file__).parent
TRIAL_SHOP = (HERE / "trial_shop.hides").read_text(encoding="utf-8")


def read_with_trial_shop(page: str, shop: str = TRIAL_SHOP) -> Book:
    """A page read in the words of the trial shop."""
    return read_sources([Source(name="shop.hides", text=shop), Source(name="page.hides", text=page)])


def _value(value: object) -> str:
    match value:
        case Quantity() | Length():
            return str(value)
        case date():
            return value.isoformat()
        case Decimal():
            return f"{value:f}"
        case tuple():
            return "+".join(_value(one) for one in value)
        case bool() | str() | int():
            return str(value)
        case _:
            return _fields(value)


def _fields(fact: object) -> str:
    assert dataclasses.is_dataclass(fact)
    shown = []
    for field in dataclasses.fields(fact):
        value = getattr(fact, field.name)
        default = field.default
        if value != default or default is dataclasses.MISSING:
            shown.append(f"{field.name}={_value(value)}")
    return " ".join(shown)


def told(entry: Entry, clock: Clock) -> str:
    """`18:20 H41: Arrived, OfKind kind=whitetail cape -- remark`."""
    when = entry.when
    start, end = clock.local(when.lo), clock.local(when.hi)
    stamp = f"{start:%m-%d %H:%M}" if when.timed else f"{start:%m-%d %H:%M}..{end:%d %H:%M}"
    who = " ".join(entry.tags) or entry.place
    if entry.group is not None:
        who = f"all in {entry.group.where}" + (f" but {' '.join(entry.group.but)}" if entry.group.but else "")
    facts = "; ".join(f"{type(fact).__name__} {_fields(fact)}".strip() for fact in entry.facts)
    return f"{stamp} {who}: {facts}" + (f" -- {entry.remark}" if entry.remark else "")
