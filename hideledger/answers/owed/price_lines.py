"""The shop's price lines: which hold for a hide, and what they are by."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from hideledger.model.shop import Charge
from hideledger.model.units import SPELLINGS, Quantity
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.text.place import Place

TIMES = ("time", "calendar")
STORAGE = "storage"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Item:
    """One line of a bill. `money` None: it cannot be reckoned, and `what` says why. `place` is the line it comes from."""

    what: str
    money: Fraction | None
    place: Place | None = None


def charge_lines(floor: Floor, names: set[str], day: date) -> list[Charge]:
    """The shop's own prices for any of these names, as they held on a day: the newest of each name."""
    newest: dict[str, Charge] = {}
    for line in floor.book.shop.charges:
        what = line.what.casefold()
        if line.sort != "charge" or what not in names or (line.since is not None and line.since > day):
            continue
        before = newest.get(what)
        if before is None or (line.since or date.min) >= (before.since or date.min):
            newest[what] = line
    return list(newest.values())


def names_of(life: HideLife, floor: Floor) -> set[str]:
    """The kind by all its names, and what part of a whole it is."""
    kind = floor.book.shop.kinds.get(life.kind.casefold())
    others = () if kind is None else kind.others
    return {name.casefold() for name in (life.kind, life.what, *others) if name}


def arrived_on(life: HideLife) -> date:
    """The day a hide came in."""
    return date.fromordinal(life.arrived_when.day)


def in_money(money: Quantity, sign: str) -> Fraction | None:
    """A sum of the shop's own money; None for any other."""
    return Fraction(money.value) if money.unit == sign else None


def other_money(money: Quantity, sign: str) -> str:
    """`, other money than the shop's $`, behind what is asked in another currency: unlike moneys are never added."""
    return "" if money.unit == sign else f", other money than the shop's {sign}"


def per_unit(what: str) -> Quantity | None:
    """`per lb`, `per pound`, `per 2 sqft`: so much of a unit of the language; None where it is none."""
    figure, _, name = what.removeprefix("per ").strip().rpartition(" ")
    unit = SPELLINGS.get(name)
    try:
        value = Decimal(figure) if figure else Decimal(1)
    except ArithmeticError:
        return None
    return None if unit is None or value <= 0 else Quantity(value=value, unit=unit)
