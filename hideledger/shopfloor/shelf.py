"""What came onto the shelf and what was taken from it, line by line in order of time, each amount in one unit for its supply."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from fractions import Fraction

from hideledger.model.entry import Entry
from hideledger.model.facts import Amount, Bought, Counted, Expires, Fact, Price, Took, Used
from hideledger.model.moments import When
from hideledger.model.shop import ShopBook, Supply, as_of
from hideledger.model.units import UNITS, Quantity
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife
from hideledger.shopfloor.noted import Spent

BASE = {"weight": "kg", "volume": "L"}
_SHELF = (Bought, Counted, Used)
Reckoned = dict[
    tuple[Decimal, str, str, int], Fraction | str
]  # amounts in kg or L, by figure, unit, dimension and version
_SORTS = {Bought: "bought", Counted: "counted", Used: "used"}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Move:
    """One amount that came, went or was counted.

    `sort` is `bought`, `counted`, `used` (by the shop, for what no bath tells), `bath`, `hide`, or `nobody` where the tag on its line is no
    bath and no hide of the book. `amount` is in kg or L. `price` was paid for all of it; `shared_price` says that one price stood behind
    several things bought.
    """

    sort: str
    supply: str
    lot: str
    amount: Fraction
    written: Amount
    entry: Entry
    when: When
    bath: BathLife | None = None
    hide: HideLife | None = None
    price: Quantity | None = None
    shared_price: bool = False
    expires: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class NotReckoned:
    """An amount that is in no sum, and why."""

    amount: Amount
    entry: Entry
    why: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Piece:
    """Something bought by the piece: a drum, a paddle. It is used, and not used up."""

    count: Fraction
    name: str
    price: Quantity | None
    entry: Entry
    when: When


@dataclass(slots=True, kw_only=True, eq=False)
class ShelfLines:
    """The whole shelf: by supply, as the shop names it, its moves in order of time and the dimension it is reckoned in."""

    moves: dict[str, list[Move]] = field(default_factory=dict)
    dimensions: dict[str, str] = field(default_factory=dict)
    pieces: list[Piece] = field(default_factory=list)
    not_reckoned: list[NotReckoned] = field(default_factory=list)
    no_amounts: list[BathLife] = field(default_factory=list)  # mixed by a recipe, and no amounts written


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Said:
    sort: str
    amount: Amount
    entry: Entry
    when: When
    bath: BathLife | None = None
    hide: HideLife | None = None
    price: Quantity | None = None
    shared_price: bool = False
    expires: date | None = None
    part: Fraction = Fraction(1)  # of what was written for all on the line together


def shelf_lines(floor: Floor) -> ShelfLines:
    """All that the book says of the shelf up to the moment of the floor. Water is on no shelf."""
    found = ShelfLines()
    said = [one for one in _all_said(floor, found) if one.amount.supply.casefold() != "water"]
    came = _came(said)
    said.sort(key=lambda one: (came.get(id(one), one.when.hi), one.entry.order))
    shop = floor.book.shop
    known: Reckoned = {}
    by_name: dict[str, list[_Said]] = {}
    for one in said:
        by_name.setdefault(one.amount.supply.casefold(), []).append(one)
    for name, several in by_name.items():
        supply = shop.supplies.get(name)
        if supply is None and all(one.sort == "bought" and one.amount.quantity.unit == "each" for one in several):
            found.pieces += [_piece(one) for one in several]
            continue
        dimension = _dimension(several, supply, shop)
        shown = several[0].amount.supply
        found.dimensions[shown] = dimension
        moves = found.moves.setdefault(shown, [])
        for one in several:
            _put(one, shown, supply, dimension, shop, moves, found, known)
    found.pieces.sort(key=lambda piece: piece.entry.order)
    return found


def _came(said: Iterable[_Said]) -> dict[int, int]:
    """From which instant (UTC seconds) each purchase was there, by identity.

    One without a time was there for all that was used that day, but not before a purchase that stands above it on its page.
    """
    found: dict[int, int] = {}
    above: dict[tuple[str, int], int] = {}
    for one in sorted((one for one in said if one.sort == "bought"), key=lambda one: one.entry.order):
        page = (one.entry.at.file, one.when.day)
        found[id(one)] = one.when.lo if one.when.timed else max(one.when.lo, above.get(page, one.when.lo))
        above[page] = found[id(one)]
    return found


def _put(
    one: _Said,
    name: str,
    supply: Supply | None,
    dimension: str,
    shop: ShopBook,
    moves: list[Move],
    found: ShelfLines,
    known: Reckoned,
) -> None:
    amount = _reckoned(one.amount.quantity, supply, dimension, one.when.day, shop, known)
    if isinstance(amount, str):
        before = found.not_reckoned[-1] if found.not_reckoned else None
        if (
            before is None or before.entry is not one.entry or before.amount is not one.amount
        ):  # once for all on its line
            found.not_reckoned.append(NotReckoned(amount=one.amount, entry=one.entry, why=amount))
        return
    moves.append(
        Move(
            sort=one.sort,
            supply=name,
            lot=one.amount.lot,
            amount=amount * one.part,
            written=one.amount,
            entry=one.entry,
            when=one.when,
            bath=one.bath,
            hide=one.hide,
            price=one.price,
            shared_price=one.shared_price,
            expires=one.expires,
        )
    )


def _reckoned(
    quantity: Quantity, supply: Supply | None, dimension: str, day: int, shop: ShopBook, known: Reckoned
) -> Fraction | str:
    """As `in_base`, but each amount once for a version of a supply: a shop writes the same few over and over."""
    version = supply if supply is None or not supply.earlier else as_of(supply, date.fromordinal(day))
    key = (quantity.value, quantity.unit, dimension, id(version))
    found = known.get(key)
    if found is None:
        found = known[key] = in_base(quantity, supply, dimension, day, shop)
    return found


def in_base(quantity: Quantity, supply: Supply | None, dimension: str, day: int, shop: ShopBook) -> Fraction | str:
    """An amount in kg or L, the shop's own measures too; or the sentence that says why it cannot be reckoned."""
    if not quantity.value:
        return Fraction(0)
    times, bare = Fraction(1), quantity
    if quantity.dimension == "measure":
        measure = shop.measures.get(quantity.unit.casefold())
        if measure is None:
            return "no weight and no volume is written"
        times, bare = Fraction(quantity.value), measure.quantity
    if bare.dimension not in BASE:
        return "no weight and no volume is written"
    amount = times * Fraction(bare.value) * Fraction(UNITS[bare.unit].factor)
    if bare.dimension == dimension:
        return amount
    version = None if supply is None else as_of(supply, date.fromordinal(day))
    if version is None or version.density is None:
        name = "it" if supply is None else supply.name
        return f"a {bare.dimension}, and {name} is kept by {dimension}; a line such as `7.6 lb per gal` would say how heavy it is"
    weight, volume = version.density
    heavy = Fraction(weight.to("kg")) / _liters(volume, shop)
    return amount * heavy if dimension == "weight" else amount / heavy


def _liters(volume: Quantity, shop: ShopBook) -> Fraction:
    own = shop.measures.get(volume.unit.casefold())
    if own is not None:
        return Fraction(volume.value) * Fraction(own.quantity.to("L"))
    return Fraction(volume.to("L"))


def _dimension(several: list[_Said], supply: Supply | None, shop: ShopBook) -> str:
    """As the shop keeps it, else as it was first bought or counted, else as it was first used."""
    if supply is not None and supply.by in BASE:
        return supply.by
    for one in (*(one for one in several if one.sort in ("bought", "counted")), *several):
        own = shop.measures.get(one.amount.quantity.unit.casefold())
        dimension = one.amount.quantity.dimension if own is None else own.quantity.dimension
        if dimension in BASE:
            return dimension
    return "weight"


def _piece(one: _Said) -> Piece:
    return Piece(
        count=Fraction(one.amount.quantity.value),
        name=one.amount.supply,
        price=one.price,
        entry=one.entry,
        when=one.when,
    )


def _all_said(floor: Floor, found: ShelfLines) -> Iterator[_Said]:
    told: set[int] = set()
    for entry in floor.shelf:
        told.add(id(entry))
        yield from _on_shelf(entry)
    for bath in floor.all_baths():
        told.add(id(bath.made))
        for amount in bath.amounts:
            yield _Said(sort="bath", amount=amount, entry=bath.made, when=bath.made_when, bath=bath)
        for dose in bath.doses:
            told.add(id(dose.entry))
            for amount in dose.amounts:
                yield _Said(sort="bath", amount=amount, entry=dose.entry, when=dose.when, bath=bath)
        if bath.recipe and bath.declared and all(amount.supply.casefold() == "water" for amount in bath.amounts):
            found.no_amounts.append(bath)
    left: dict[tuple[int, int], tuple[Spent, Fraction]] = {}
    for life in floor.all_hides():
        for spent in life.used:
            entry, key = spent.entry, (id(spent.entry), id(spent.whole))
            told.add(id(entry))
            left[key] = (spent, left.get(key, (spent, Fraction(1)))[1] - spent.part)
            when = floor.moment(entry, life.tag)
            yield _Said(sort="hide", amount=spent.whole, entry=entry, when=when, hide=life, part=spent.part)
    for spent, part in left.values():
        if part > 0:  # of a tag on the line that no hide of the book bears, or that was gone
            yield _Said(sort="nobody", amount=spent.whole, entry=spent.entry, when=spent.entry.when, part=part)
    told |= {id(oddity.entry) for oddity in floor.oddities if oddity.sort == "twice"}
    for entry in floor.entries:
        if id(entry) in told:
            continue
        for fact in entry.facts:
            if isinstance(fact, Took):
                yield _Said(sort="nobody", amount=fact.amount, entry=entry, when=entry.when)


def _on_shelf(entry: Entry) -> Iterator[_Said]:
    """What one line bought, counted or used: a price goes with what stands before it, and with nothing where that is several."""
    row: list[tuple[str, Amount]] = []
    prices: dict[int, tuple[Quantity | None, bool]] = {}
    dates: dict[int, date] = {}
    sort, unpriced = "", []
    for fact in entry.facts:
        amount = _amount_of(fact)
        if amount is not None and (isinstance(fact, _SHELF) or sort):
            sort = _SORTS.get(type(fact), sort)
            unpriced.append(len(row))
            row.append((sort, amount))
        elif isinstance(fact, Price):
            alone = len(unpriced) == 1
            prices.update(dict.fromkeys(unpriced, (fact.money if alone else None, not alone)))
            unpriced = []
        elif isinstance(fact, Expires) and row:
            dates[len(row) - 1] = fact.day
    for index, (sort, amount) in enumerate(row):
        price, shared = prices.get(index, (None, False))
        yield _Said(
            sort=sort,
            amount=amount,
            entry=entry,
            when=entry.when,
            price=price,
            shared_price=shared,
            expires=dates.get(index),
        )


def _amount_of(fact: Fact) -> Amount | None:
    return fact.amount if isinstance(fact, Bought | Counted | Used | Took) else None
