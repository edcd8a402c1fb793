"""What lies on the shelf: the lines of the book run through the arithmetic of the shelf, supply by supply."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from hideledger.model.entry import Entry
from hideledger.model.moments import DAY
from hideledger.model.shop import ShopBook, Supply, as_of
from hideledger.model.units import CURRENCIES, UNITS, Quantity
from hideledger.rules.words import day_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.shelf import BASE, Move, ShelfLines, in_base, shelf_lines
from hideledger.trade.stock import NOTHING, Shelf, Taking

# The present rate is that of the last four weeks; of fewer days than one week none is told. Judgement, no source.
RATE_DAYS, LEAST_RATE_DAYS = 28, 7
_OUT = frozenset({"used", "bath", "hide", "nobody"})


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Counted:
    """One line of the shelf and what it did.

    `cost` is what the priced part of it is worth, `unpriced` how much has no price, `missing` what was taken though by the book it never
    lay there, `lost` and `found` what a count put right. `listed` says that the shop's list price stood in for one that was paid.
    """

    move: Move
    cost: Fraction
    unpriced: Fraction
    lots: tuple[str, ...] = ()
    missing: Fraction = NOTHING
    lost: Fraction = NOTHING
    found: Fraction = NOTHING
    listed: bool = False
    left: Fraction = NOTHING


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Holding:
    """One supply on the shelf: what the shop says of it, the heaps that are left, and every line that made them so.

    Amounts are in kg or L (`dimension` weight or volume); `unit` is the one the shop thinks in.
    """

    name: str
    supply: Supply | None
    dimension: str
    unit: str
    shelf: Shelf
    lines: tuple[Counted, ...]

    @property
    def written(self) -> bool:
        """Whether it was ever bought or counted: else nobody knows what lies there."""
        return any(line.move.sort in ("bought", "counted") for line in self.lines)

    @property
    def missing(self) -> tuple[Counted, ...]:
        """The lines since the last count that took what by the book never lay there."""
        last = max((number for number, line in enumerate(self.lines) if line.move.sort == "counted"), default=-1)
        return tuple(line for line in self.lines[last + 1 :] if self.is_some(line.missing))

    def is_some(self, amount: Fraction) -> bool:
        """Whether an amount is more than nothing as it is shown: three thirds of a pound, rounded to be written, are no pound."""
        return bool(amount) and bool(self.shown(amount).value)

    def shown(self, amount: Fraction) -> Quantity:
        """An amount in the unit that the shop thinks in."""
        return in_unit(amount, self.unit)


def holdings(floor: Floor) -> dict[str, Holding]:
    """Every supply that the book's lines speak of, by its name in small letters."""
    return whole_shelf(floor)[1]


@lru_cache(
    maxsize=1
)  # two rules and an answer ask for it one after the other; a floor is never changed once it is laid out
def whole_shelf(floor: Floor) -> tuple[ShelfLines, dict[str, Holding]]:
    """The shelf as it was written, and what came of it."""
    laid = shelf_lines(floor)
    shop, sign = floor.book.shop, currency_of(floor)
    found: dict[str, Holding] = {}
    for name, moves in laid.moves.items():
        if not moves:
            continue  # nothing of it could be reckoned: each line is told by itself
        supply = shop.supplies.get(name.casefold())
        dimension = laid.dimensions[name]
        shelf = Shelf()
        found[name.casefold()] = Holding(
            name=name,
            supply=supply,
            dimension=dimension,
            unit=_unit(supply, moves, dimension),
            shelf=shelf,
            lines=tuple(_counted(moves, shelf, supply, dimension, shop, sign)),
        )
    return laid, found


def on_hand(floor: Floor) -> dict[str, Quantity]:
    """What lies on the shelf of each supply that was ever bought or counted, by its name in small letters, in the shop's own unit."""
    return {name: held.shown(held.shelf.amount) for name, held in holdings(floor).items() if held.written}


def in_unit(amount: Fraction, unit: str, *, figures: int = 0) -> Quantity:
    """An amount of kg or L in another unit, to a thousandth; or to so many figures, for what is no more than a guess."""
    exact = amount / Fraction(UNITS[unit].factor)
    places = 3
    if figures and exact:
        places = min(places, max(0, figures - 1 - math.floor(math.log10(exact))))
    return Quantity(value=Decimal(round(exact * 10**places)) / 10**places, unit=unit)


def currency_of(floor: Floor) -> str:
    """The sign of the shop's money: that of most of its own prices (one supply may come from abroad), else of what it paid or took first."""
    shop = floor.book.shop
    priced = [money.unit for charge in shop.charges for money, _ in charge.money]
    priced += [supply.price.unit for supply in shop.supplies.values() if supply.price is not None]
    priced += [shop.shop.labour[0].unit] if shop.shop.labour is not None else []
    if priced:
        return Counter(priced).most_common(1)[0][0]  # of two as frequent the one that stands first
    for entry in (*floor.shelf, *floor.money):
        for fact in entry.facts:
            money = getattr(fact, "money", None)
            if isinstance(money, Quantity) and money.unit in CURRENCIES:
                return money.unit
    return "$"


def list_price(supply: Supply | None, dimension: str, day: int, shop: ShopBook, sign: str) -> Fraction | None:
    """The shop's own price of a kg or L on a day; None where its supply line gives none."""
    version = None if supply is None else as_of(supply, date.fromordinal(day))
    if version is None or version.price is None or version.price_per is None or version.price.unit != sign:
        return None
    amount = in_base(version.price_per, version, dimension, day, shop)
    return None if isinstance(amount, str) or not amount else Fraction(version.price.value) / amount


def _counted(
    moves: list[Move], shelf: Shelf, supply: Supply | None, dimension: str, shop: ShopBook, sign: str
) -> Iterator[Counted]:
    prices: dict[int, Fraction | None] = {}  # by the version of its supply line
    for move in moves:
        version = supply if supply is None or not supply.earlier else as_of(supply, date.fromordinal(move.when.day))
        if id(version) not in prices:
            prices[id(version)] = list_price(supply, dimension, move.when.day, shop, sign)
        each = prices[id(version)]
        if move.sort == "bought":
            paid = move.price if move.price is not None and move.price.unit == sign else None
            cost = Fraction(paid.value) if paid is not None else None if each is None else each * move.amount
            shelf.put(move.amount, cost, move.lot)
            yield Counted(
                move=move,
                cost=cost or NOTHING,
                unpriced=move.amount if cost is None else NOTHING,
                lots=(move.lot,),
                listed=paid is None and cost is not None,
                left=shelf.amount,
            )
        elif move.sort == "counted":
            settled = shelf.count(move.amount, move.lot, each)
            yield Counted(
                move=move,
                cost=settled.lost.cost if not settled.found else (each or NOTHING) * settled.found,
                unpriced=settled.lost.unpriced if not settled.found or each is not None else settled.found,
                lots=tuple(portion.lot for portion in settled.lost.portions),
                lost=settled.lost.amount,
                found=settled.found,
                listed=bool(settled.found) and each is not None,
                left=shelf.amount,
            )
        else:
            yield _taken(move, shelf.take(move.amount, move.lot), each, shelf)


def _taken(move: Move, taking: Taking, each: Fraction | None, shelf: Shelf) -> Counted:
    """What never lay there by the book is told, and costs what the shop's list says."""
    missing = taking.missing
    return Counted(
        move=move,
        cost=taking.cost + each * missing if missing and each is not None else taking.cost,
        unpriced=taking.unpriced + missing if missing and each is None else taking.unpriced,
        lots=tuple(portion.lot for portion in taking.portions),
        missing=missing,
        listed=bool(missing) and each is not None,
        left=shelf.amount,
    )


def _unit(supply: Supply | None, moves: list[Move], dimension: str) -> str:
    """The unit the shop thinks in: that of what it keeps, of its price, else as it was bought, counted or used first."""
    told = [] if supply is None else [supply.keep, supply.price_per]
    told += [move.written.quantity for move in moves if move.sort in ("bought", "counted")]
    told += [move.written.quantity for move in moves]
    return next((one.unit for one in told if one is not None and one.dimension == dimension), BASE[dimension])


@dataclass(frozen=True, slots=True, kw_only=True)
class Rate:
    """How fast a supply goes: so much a day, over the days `since` (an ordinal) to now."""

    daily: Fraction
    days: int
    since: int

    def said(self, held: Holding, floor: Floor) -> str:
        """`1.5 lb a day over the 28 days since Thu 1 Oct`."""
        per_day = in_unit(self.daily, held.unit, figures=3)
        return f"{per_day} a day over the {self.days} days since {day_said(floor.book.clock, self.since, floor.at)}"


def rate_of(held: Holding, floor: Floor) -> Rate | None:
    """The present rate of use: of the last four weeks, or since the supply was first written of; None where that is under a week."""
    today = floor.book.clock.day_of(floor.at - 1)
    first = max(today - RATE_DAYS + 1, min(line.move.when.day for line in held.lines))
    days = today - first + 1
    if days < LEAST_RATE_DAYS:
        return None
    used = sum(
        (line.move.amount for line in held.lines if line.move.sort in _OUT and line.move.when.day >= first), NOTHING
    )
    return Rate(daily=used / days, days=days, since=first)


def runs_down(held: Holding, rate: Rate, level: Fraction, at: int) -> int | None:
    """The instant at which only `level` is left at the present rate; None when nothing is being used."""
    if not rate.daily:
        return None
    return at + int((held.shelf.amount - level) / rate.daily * DAY)


def keep_level(held: Holding, shop: ShopBook) -> Fraction | None:
    """What should lie there by the shop's own line, in kg or L."""
    if held.supply is None or held.supply.keep is None:
        return None
    amount = in_base(held.supply.keep, held.supply, held.dimension, 1, shop)
    return None if isinstance(amount, str) else amount


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DatedLot:
    """A lot with a date on it: the last good day, and the line that says so."""

    holding: Holding
    lot: str
    day: date
    entry: Entry


def dated_lots(held: Holding) -> Iterator[DatedLot]:
    """The lots of a supply that were bought with a date on them; of one bought twice the later line counts."""
    found: dict[str, DatedLot] = {}
    for line in held.lines:
        move = line.move
        if move.sort == "bought" and not move.lot and move.expires is None:
            found.pop("", None)  # which of the two lies there nobody can tell
        if move.expires is not None:
            found[move.lot.casefold()] = DatedLot(holding=held, lot=move.lot, day=move.expires, entry=move.entry)
    yield from found.values()
