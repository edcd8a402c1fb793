"""What one hide is charged for: its kind's price, by the piece, by weight or by area, and its extras."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from hideledger.answers.owed.price_lines import (
    STORAGE,
    TIMES,
    Item,
    arrived_on,
    charge_lines,
    in_money,
    names_of,
    per_unit,
)
from hideledger.answers.owed.storage import storage
from hideledger.model.entry import Entry
from hideledger.model.facts import Divided, Money, Remark, Sized
from hideledger.model.shop import Charge
from hideledger.model.units import UNITS, Quantity, plain_number
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.text.place import Place


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PriceList:
    """The shop's prices, made ready once for all hides: the lines with money by tag, and the names that are prices of no kind."""

    floor: Floor
    sign: str
    by_tag: dict[str, list[Entry]]
    other_names: frozenset[str]


def price_list(floor: Floor, sign: str) -> PriceList:
    """The prices of a shop and what its lines charge."""
    by_tag: dict[str, list[Entry]] = {}
    for entry in floor.money:
        if any(isinstance(fact, Money) and fact.sort == "charge" for fact in entry.facts):
            for tag in entry.tags:
                by_tag.setdefault(tag, []).append(entry)
    kinds = {name.casefold() for kind in floor.book.shop.kinds.values() for name in (kind.name, *kind.others)}
    names = {line.what.casefold() for line in floor.book.shop.charges if line.sort == "charge"}
    return PriceList(floor=floor, sign=sign, by_tag=by_tag, other_names=frozenset(names - kinds - {STORAGE}))


def items_of(life: HideLife, prices: PriceList) -> list[Item]:
    """All that a hide is charged for, in order. A lost or refused one is charged for nothing; of one that was cut its parts are charged
    for, and of a box its skins, unless the box has a price of its own.
    """
    if life.ended_as in ("lost", "refused", "cut"):
        return []
    own = _own_charges(life, prices)
    agreed = any(not label for _, label, _ in own)
    if life.ended_as == "opened" or (life.box and life.here):
        return [_agreed(own, prices.sign)] if agreed else []
    if life.from_box and any(not label for _, label, _ in _charges_of(life.from_box, life, prices)):
        return [Item(what=f"in the price of {life.from_box}", money=Fraction(0))]
    found = [_agreed(own, prices.sign)] if agreed else _listed(life, prices.floor, prices.sign)
    labels = {label for _, label, _ in own if label}
    for money, label, place in own:
        if label:
            found.append(Item(what=label, money=in_money(money, prices.sign), place=place))
    found += [item for item in _extras(life, prices) if item.what not in labels]
    return found + list(storage(life, prices.floor, prices.sign))


def _agreed(own: list[tuple[Quantity, str, Place]], sign: str) -> Item:
    """A price written on the hide's own line stands in for the list's; the last one counts."""
    money, _, place = [one for one in own if not one[1]][-1]
    return Item(what="as agreed", money=in_money(money, sign), place=place)


def _own_charges(life: HideLife, prices: PriceList) -> list[tuple[Quantity, str, Place]]:
    """`charged $92`, `charged $15 rush`: the sum, what for, and the line. What was written of a whole goes with its first part."""
    whole = _charges_of(life.parent, life, prices) if life.parent and _is_first_part(life) else []
    return [*whole, *_charges_of(life.tag, life, prices)]


def _charges_of(tag: str, life: HideLife, prices: PriceList) -> list[tuple[Quantity, str, Place]]:
    found = []
    for entry in prices.by_tag.get(tag, ()):
        if not _of_this_life(life, entry.order):
            continue
        for number, fact in enumerate(entry.facts):
            if isinstance(fact, Money) and fact.sort == "charge":
                behind = entry.facts[number + 1] if number + 1 < len(entry.facts) else None
                label = " ".join(behind.text.casefold().split()) if isinstance(behind, Remark) else ""
                found.append((fact.money, label, entry.at))
    return found


def _is_first_part(life: HideLife) -> bool:
    """Whether a hide is whole, or the first of the parts it was cut into: what was done to the whole is charged once."""
    if not life.parent:
        return True
    cuts = [fact for entry in life.lines for fact in entry.facts if isinstance(fact, Divided)]
    return any(fact.parts and fact.parts[0][0] == life.tag for fact in cuts)


def _of_this_life(life: HideLife, order: int) -> bool:
    return life.arrived.order <= order or any(entry.order == order for entry in life.lines)


def _listed(life: HideLife, floor: Floor, sign: str) -> list[Item]:
    lines = charge_lines(floor, names_of(life, floor), arrived_on(life))
    named = life.kind or life.what or "a hide whose kind is not written"
    found = [item for line in lines for item in _by_line(line, life, sign)]
    if not found:
        return [Item(what=f"no price for {named}", money=None)]
    return found


def _by_line(line: Charge, life: HideLife, sign: str) -> Iterator[Item]:
    for money, what in line.money:
        if what in ("", "per hide", "per skin", "per head"):
            yield Item(what=line.what, money=in_money(money, sign), place=line.place)
        elif what.startswith("per "):
            measure = per_unit(what)
            if measure is None:
                yield Item(
                    what=f"{line.what} at {money} {what}: not known how that is measured", money=None, place=line.place
                )
            elif UNITS[measure.unit].dimension not in TIMES:
                yield _measured(line, money, measure, life, sign)


def _measured(line: Charge, money: Quantity, measure: Quantity, life: HideLife, sign: str) -> Item:
    """So much a pound, a square foot, an inch: by what was measured of this hide."""
    unit, dimension = measure.unit, UNITS[measure.unit].dimension
    size: Quantity | None = None
    basis = ""
    if dimension == "weight" and life.weights:
        first = life.weights[0]
        size = Quantity(value=first.weight.to(unit) / first.shared_by, unit=unit)
        basis = f" {first.basis}" if first.basis else ""
    elif dimension == "area":
        size = _area(life, unit)
    elif dimension == "length":
        size = _sizes(life).get("length")
    per = f"{money} per {unit}" if measure.value == 1 else f"{money} per {measure}"
    if size is None:
        missing = {"weight": "weight", "area": "length and width", "length": "length"}.get(dimension, "measure")
        return Item(what=f"{line.what} at {per}: no {missing} is written", money=None, place=line.place)
    number = size.to(unit)
    whole = Fraction(money.value) * Fraction(number) / Fraction(measure.value) if money.unit == sign else None
    shown = plain_number(round(number, 2))
    return Item(what=f"{line.what}, {shown} {unit}{basis} at {per}", money=whole, place=line.place)


def _sizes(life: HideLife) -> dict[str, Quantity]:
    return {taken.fact.what: taken.fact.size for taken in life.taken if isinstance(taken.fact, Sized)}


def _area(life: HideLife, unit: str) -> Quantity | None:
    """The area as it was written, else length by width."""
    sizes = _sizes(life)
    if "area" in sizes:
        return sizes["area"]
    if "length" in sizes and "width" in sizes:
        sqm = sizes["length"].to("m") * sizes["width"].to("m")
        return Quantity(value=Quantity(value=sqm, unit="sqm").to(unit), unit=unit)
    return None


def _extras(life: HideLife, prices: PriceList) -> Iterator[Item]:
    """What the list has a price for besides, and what a line of the hide or a step done on it says by the same word."""
    floor, sign = prices.floor, prices.sign
    said = _words_said(life)
    for line in charge_lines(floor, names_of(life, floor), arrived_on(life)):
        for money, what in line.money:
            if what and not what.startswith("per ") and what.casefold() in said:
                yield Item(what=what.casefold(), money=in_money(money, sign), place=line.place)
    for line in charge_lines(floor, set(prices.other_names & said), arrived_on(life)):
        if line.what.casefold() not in names_of(life, floor):
            yield from _by_line(line, life, sign)


def _words_said(life: HideLife) -> set[str]:
    first = _is_first_part(life)
    said = {
        mark.name.casefold()
        for mark in life.marks
        if not mark.skipped and not mark.elsewhere and (first or life.tag in mark.entry.tags)
    }
    for entry in life.lines:
        if not (first or life.tag in entry.tags):
            continue
        facts = entry.facts
        for number, fact in enumerate(facts):
            if isinstance(fact, Remark) and not (number and isinstance(facts[number - 1], Money)):
                said.add(" ".join(fact.text.casefold().split()))
    return said
