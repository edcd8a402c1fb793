"""The tables about baths, and about what can be measured out or read: baths, amounts, readings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from hideledger.answers.export.columns import columns_of
from hideledger.answers.export.facts import number
from hideledger.answers.export.ground import Ground, figure
from hideledger.model.entry import Entry
from hideledger.model.facts import Amount, Reading, Shrinks, Sized
from hideledger.model.moments import When
from hideledger.model.table import Table
from hideledger.model.units import Quantity
from hideledger.shopfloor.life import BathLife, HideLife
from hideledger.shopfloor.shelf import shelf_lines

Row = tuple[object, ...]
_SHELF = frozenset({"bought", "counted", "used"})


def bath_tables(ground: Ground) -> tuple[Table, ...]:
    """All of them, each numbered from 1."""
    baths = ground.floor.all_baths()
    return (
        replace(columns_of("baths"), rows=tuple(_bath(bath, ground) for bath in baths)),
        _filled("amounts", _amounts(ground)),
        _filled("readings", _readings(ground)),
    )


def _filled(name: str, rows: Iterator[Row]) -> Table:
    return replace(columns_of(name), rows=tuple((count, *row) for count, row in enumerate(rows, start=1)))


def _bath(bath: BathLife, ground: Ground) -> Row:
    return (
        ground.bath(bath),
        bath.tag,
        bath.vessel,
        bath.recipe,
        bath.declared,
        *ground.when(bath.made_when),
        bath.ended_as,
        *ground.when(bath.ended_when),
        None if bath.volume_l is None else figure(bath.volume_l),
        figure(bath.pounds_through),
        len({id(member.hide) for member in bath.members}),
        ground.event(bath.made),
    )


def _amounts(ground: Ground) -> Iterator[Row]:
    floor = ground.floor
    for bath in floor.all_baths():
        for amount in bath.amounts:
            yield _amount("mixed", amount, bath.made, bath.made_when, ground, bath=bath)
        for dose in bath.doses:
            for amount in dose.amounts:
                yield _amount("add", amount, dose.entry, dose.when, ground, bath=bath)
    for life in floor.all_hides():
        for one in life.used:
            yield _amount("hide", one.amount, one.entry, floor.moment(one.entry, life.tag), ground, hide=life)
    lines = shelf_lines(floor)
    moves = [move for several in lines.moves.values() for move in several if move.sort in _SHELF]
    for move in sorted(moves, key=lambda move: (move.when.lo, move.entry.order)):
        yield _amount(move.sort, move.written, move.entry, move.when, ground, price=move.price)
    on_shelf = {entry.order for entry in floor.shelf}
    for odd in lines.not_reckoned:
        if odd.entry.order in on_shelf:
            yield _amount("not reckoned", odd.amount, odd.entry, odd.entry.when, ground)
    for piece in lines.pieces:
        quantity = Quantity(value=_decimal(piece.count), unit="each")
        amount = Amount(quantity=quantity, supply=piece.name, known=False)
        yield _amount("bought", amount, piece.entry, piece.when, ground, price=piece.price)


def _decimal(count: Fraction) -> Decimal:
    """As it was written: what is counted by the piece has few places."""
    return Decimal(count.numerator) / Decimal(count.denominator)


def _amount(
    what: str,
    amount: Amount,
    entry: Entry,
    when: When,
    ground: Ground,
    *,
    bath: BathLife | None = None,
    hide: HideLife | None = None,
    price: Quantity | None = None,
) -> Row:
    return (
        what,
        ground.bath(bath),
        None if hide is None else ground.hide(hide),
        amount.supply,
        number(amount.quantity.value),
        amount.quantity.unit,
        *ground.base(amount.quantity),
        amount.lot,
        None if price is None else number(price.value),
        "" if price is None else price.unit,
        *ground.when(when),
        ground.event(entry),
    )


def _readings(ground: Ground) -> Iterator[Row]:
    floor = ground.floor
    for bath in floor.all_baths():
        for one in bath.readings:
            yield _reading(one.fact, one.when, one.entry, ground, bath=bath)
    for life in floor.all_hides():
        for taken in life.taken:
            yield _reading(taken.fact, taken.when, taken.entry, ground, hide=life)
    for place, readings in floor.place_readings.items():
        for one in readings:
            yield _reading(one.fact, one.when, one.entry, ground, place=place)


def _reading(
    fact: Reading | Shrinks | Sized,
    when: When,
    entry: Entry,
    ground: Ground,
    *,
    bath: BathLife | None = None,
    hide: HideLife | None = None,
    place: str = "",
) -> Row:
    if isinstance(fact, Reading):
        what, value, how = fact.what, fact.value, fact.how
    elif isinstance(fact, Shrinks):
        what, value, how = "shrinks", fact.temperature, ""
    else:
        what, value, how = fact.what, fact.size, ""
    warm = figure(value.to("F")) if value.dimension == "temperature" else None
    return (
        ground.bath(bath),
        None if hide is None else ground.hide(hide),
        place,
        what,
        number(value.value),
        value.unit,
        warm,
        how,
        *ground.when(when),
        False if hide is None else ground.before_tag(hide, entry),
        ground.event(entry),
    )
