"""What one hide is charged for: the price agreed on or its kind's, by the piece, by weight or by area, its extras, and storage."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from hideledger.answers.jobs import Jobs, life_at
from hideledger.answers.money import NOTHING
from hideledger.answers.owed.extras import extras
from hideledger.answers.owed.looked_at import LookedAt
from hideledger.answers.owed.measured import measured
from hideledger.answers.owed.price_lines import (
    STORAGE,
    TIMES,
    Item,
    arrived_on,
    charge_lines,
    in_money,
    names_of,
    other_money,
    per_unit,
)
from hideledger.answers.owed.storage import storage
from hideledger.model.entry import Entry
from hideledger.model.facts import Money, Remark
from hideledger.model.shop import Charge
from hideledger.model.units import UNITS, Quantity
from hideledger.rules.names import account
from hideledger.rules.words import listed
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.shopfloor.tanned import came_as_leather


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PriceList:
    """The shop's prices, made ready once for all hides: the lines with money by hide, and the names that are prices of no kind."""

    floor: Floor
    sign: str
    jobs: Jobs
    by_life: dict[int, list[Entry]]
    other_names: frozenset[str]
    looked_at: LookedAt


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Asked:
    """A sum that a line charges, `charged $92` or `charged $15 rush`, and for which hide; `label` is the word behind it."""

    money: Quantity
    label: str
    entry: Entry
    life: HideLife

    def item(self, sign: str) -> Item:
        """As it stands on the bill."""
        label = self.label or "as agreed"
        said = "" if self.money.unit == sign else f" {self.money}{other_money(self.money, sign)}"
        return Item(what=f"{label}{said}", money=in_money(self.money, sign), place=self.entry.at)


def price_list(floor: Floor, sign: str, jobs: Jobs) -> PriceList:
    """The prices of a shop and what its lines charge."""
    by_life: dict[int, list[Entry]] = {}
    for entry in floor.money:
        if any(isinstance(fact, Money) and fact.sort == "charge" for fact in entry.facts):
            for tag in entry.tags:
                life = life_at(tag, entry, floor)
                if life is not None:
                    by_life.setdefault(id(life), []).append(entry)
    kinds = set(floor.book.shop.kinds_by_name())
    names = {line.what.casefold() for line in floor.book.shop.charges if line.sort == "charge"}
    return PriceList(
        floor=floor,
        sign=sign,
        jobs=jobs,
        by_life=by_life,
        other_names=frozenset(names - kinds - {STORAGE}),
        looked_at=LookedAt(floor),
    )


def items_of(life: HideLife, prices: PriceList) -> list[Item]:
    """All that a hide is charged for, in order.

    Of one that was cut its parts are charged for, and of a box its skins, unless the box has a price of its own. What will not come back
    finished is charged for what its own lines charge when that is known, and what went back untanned for the steps that have a price.
    """
    jobs, sign = prices.jobs, prices.sign
    if life.ended_as == "cut" or id(life) in jobs.replaced_by:
        return []
    row = _asked(life, prices)
    if life.ended_as in ("lost", "refused"):
        return [one.item(sign) for one in row if _at_its_end(one)]
    if jobs.not_finished(life):
        return _untanned(life, row, prices)
    agreed = [one for one in row if not one.label]
    if life.ended_as == "opened" or (life.box and life.here):
        return [one.item(sign) for one in row if one.label or one is agreed[-1]]
    box = jobs.box_of(life)
    if box is not None and any(not one.label for one in _asked(box, prices)):
        return [Item(what=f"in the price of {box.tag}", money=NOTHING)]
    day = arrived_on(jobs.chain(life)[0])
    labels = {one.label for one in row if one.label}
    besides = [one.item(sign) for one in row if one.label]
    besides += [item for item in _extras(life, prices, day) if item.what not in labels]
    if agreed:
        found = [agreed[-1].item(sign)]
    else:
        if is_own(life, prices.floor):
            return [Item(what="the shop's own, and nobody is charged for it", money=NOTHING), *besides]
        found = _leather(life, besides, sign) if _is_no_tanning(life, jobs) else _listed(life, prices, day)
    found += besides
    return found + (
        list(storage(life, jobs, sign, day, prices.looked_at))
        if _bears(life, jobs) or _has_own_price(life, prices, day)
        else []
    )


def _untanned(life: HideLife, row: Sequence[Asked], prices: PriceList) -> list[Item]:
    """A skin fetched again as it came: the price of a finished one is not asked for it."""
    found = []
    for one in row:
        if one.label or _at_its_end(one):
            found.append(one.item(prices.sign))
        else:
            said = f"agreed {one.money} for a finished skin: not charged; if it is owed, write `{life.tag} charged {one.money}`"
            found.append(Item(what=said, money=NOTHING, place=one.entry.at))
    labels = {one.label for one in row if one.label}
    steps = _extras(life, prices, arrived_on(life), steps_alone=True)
    return found + [item for item in steps if item.what not in labels]


def is_own(life: HideLife, floor: Floor) -> bool:
    """Whether the job is for the shop itself, by its own name."""
    name = floor.book.shop.shop.name
    return bool(name) and bool(life.payer) and account(life.payer) == account(name)


def _is_no_tanning(life: HideLife, jobs: Jobs) -> bool:
    """Whether it came in as leather to have something else done; what this shop had sent to be tanned is a tanning job all the same."""
    return came_as_leather(life) and id(life) not in jobs.took_over


def _leather(life: HideLife, besides: Sequence[Item], sign: str) -> list[Item]:
    """The price of a kind is for tanning it: of leather only what was asked for on its own lines is charged, the tan never twice."""
    if life.before is not None:
        as_tag = f" as {life.before.tag}" if life.before.tag != life.tag else ""
        return [Item(what=f"tanned here before{as_tag}, and not charged again", money=NOTHING)]
    if besides:
        return [Item(what="leather when it came in: no tanning is charged", money=NOTHING)]
    said = (
        f"leather when it came in, and what is done to it has no price; write it, `{life.tag} charged {sign}25 repair`"
    )
    return [Item(what=said, money=None)]


def _at_its_end(one: Asked) -> bool:
    """Whether a charge was written when the hide was gone, or in the very line."""
    life = one.life
    if life.ended is None or life.ended_when is None:
        return False
    return one.entry is life.ended or one.entry.when.hi >= life.ended_when.lo


def _asked(life: HideLife, prices: PriceList) -> list[Asked]:
    """What the lines of a hide charge, behind those of the skins whose job it took over; of a whole with the part that bears them."""
    row: list[Asked] = []
    for one in prices.jobs.chain(life):
        whole = prices.jobs.whole(one)
        if whole is not one and _bears(one, prices.jobs):
            row += _charges_of(whole, prices)
        row += _charges_of(one, prices)
    return row


def _charges_of(life: HideLife, prices: PriceList) -> Iterator[Asked]:
    for entry in prices.by_life.get(id(life), ()):
        for number, fact in enumerate(entry.facts):
            if isinstance(fact, Money) and fact.sort == "charge":
                behind = entry.facts[number + 1] if number + 1 < len(entry.facts) else None
                label = " ".join(behind.text.casefold().split()) if isinstance(behind, Remark) else ""
                yield Asked(money=fact.money, label=label, entry=entry, life=life)


def _bears(life: HideLife, jobs: Jobs) -> bool:
    """Whether what is charged once for a skin stands on this bill: it is whole, or the first part of it that may come back finished."""
    if not life.parent:
        return True
    row = jobs.leaves(jobs.whole(life))
    return life is next((part for part in row if not jobs.not_finished(part)), row[0])


def _has_own_price(life: HideLife, prices: PriceList, day: date) -> bool:
    """Whether a charge of the list is for this part, and not for the kind of the skin that it is from."""
    floor, whole = prices.floor, prices.jobs.whole(life)
    return bool(charge_lines(floor, names_of(life, floor) - names_of(whole, floor), day))


def _listed(life: HideLife, prices: PriceList, day: date) -> list[Item]:
    """By the list. The price of a kind holds for a skin once, however many parts it was cut into; a part may have a price of its own."""
    jobs, floor = prices.jobs, prices.floor
    whole = jobs.whole(life)
    if whole is life:
        return _by_list(life, life, names_of(life, floor), prices, day)
    row = jobs.leaves(whole)
    bearer = next((part.tag for part in row if _bears(part, jobs)), whole.tag)
    if any(not one.label for one in _charges_of(whole, prices)):
        return [Item(what=f"in the price agreed for {whole.tag}, which stands with {bearer}", money=NOTHING)]
    if _has_own_price(life, prices, day):
        return _by_list(life, life, names_of(life, floor) - names_of(whole, floor), prices, day)
    priced = [part.tag for part in row if part is not life and _has_own_price(part, prices, day)]
    if priced:
        named = life.what or life.kind or "this part"
        said = f"no price for {named} of {whole.tag}, and {listed(priced)} {'has one of its' if len(priced) == 1 else 'have prices of their'} own"
        return [Item(what=said, money=None)]
    if not _bears(life, jobs):
        return [Item(what=f"one skin with {bearer}, and in its price", money=NOTHING)]
    return _by_list(life, whole, names_of(whole, floor), prices, day)


def _by_list(life: HideLife, sized: HideLife, names: set[str], prices: PriceList, day: date) -> list[Item]:
    """The list's price for a name; what it is `sized` by is the skin that was weighed and measured."""
    first = prices.jobs.chain(life)[0]
    if not life.kind:  # a spare that took over a job, and of which only the tag is written
        names = names | names_of(first, prices.floor)
    lines = charge_lines(prices.floor, names, day)
    found = [item for line in lines for item in _by_line(line, sized, prices.sign)]
    named = life.kind or first.kind or life.what or "a hide whose kind is not written"
    return found or [Item(what=f"no price for {named}", money=None)]


def _by_line(line: Charge, life: HideLife, sign: str) -> Iterator[Item]:
    for money, what in line.money:
        if what in ("", "per hide", "per skin", "per head"):
            yield _for_each_skin(line.what, money, life, line, sign)
        elif what.startswith("per "):
            measure = per_unit(what)
            if measure is None:
                yield Item(
                    what=f"{line.what} at {money} {what}: not known how that is measured", money=None, place=line.place
                )
            elif UNITS[measure.unit].dimension not in TIMES:
                yield measured(line, money, measure, life, sign)


def _for_each_skin(name: str, money: Quantity, life: HideLife, line: Charge, sign: str) -> Item:
    """So much a skin: once, or for every skin of a box."""
    other = f" {money}{other_money(money, sign)}" if money.unit != sign else ""
    if not life.box:
        return Item(what=f"{name}{other}", money=in_money(money, sign), place=line.place)
    whole = in_money(money, sign)
    said = f"{name}, {life.count} skins at {money}{other_money(money, sign)}"
    return Item(what=said, money=None if whole is None else whole * life.count, place=line.place)


def _extras(life: HideLife, prices: PriceList, day: date, *, steps_alone: bool = False) -> Iterator[Item]:
    """What the list has a price for besides, and what a line of the hide or a step done on it says by the same word."""
    floor, sign, jobs = prices.floor, prices.sign, prices.jobs
    said = extras(life, jobs, bears=_bears(life, jobs), steps_alone=steps_alone)
    names = names_of(life, floor)
    for before in (*jobs.chain(life), jobs.whole(life)):
        names |= names_of(before, floor)
    for line in charge_lines(floor, names, day):
        for money, what in line.money:
            if what and not what.startswith("per ") and what.casefold() in said:
                yield _for_each_skin(what.casefold(), money, life, line, sign)
    for line in charge_lines(floor, set(prices.other_names & said), day):
        if line.what.casefold() not in names:
            yield from _by_line(line, life, sign)
