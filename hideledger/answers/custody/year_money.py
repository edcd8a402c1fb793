"""The money of a year, what is unpaid, and the shelf on the last day; what cannot be reckoned is named, never taken as nothing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from fractions import Fraction

from hideledger.answers.money import money_record, money_said, summed
from hideledger.answers.owed.account import Account, Accounts, HideBill
from hideledger.answers.owed.words import beside, payment_said, settle_rows
from hideledger.answers.saying import tags_said
from hideledger.answers.sheet import Row, Section
from hideledger.answers.stock.shelf import worth_said
from hideledger.answers.whose import NOBODY
from hideledger.model.facts import Bought, Money, Price, Took
from hideledger.model.units import CURRENCIES, Quantity
from hideledger.rules.onhand import Holding, currency_of, whole_shelf
from hideledger.rules.words import in_order, listed
from hideledger.shopfloor.floor import Floor
from hideledger.trade.costing import to_cents

_SORTS = (
    ("paid", "paid by customers"),
    ("deposit", "deposits"),
    ("given back", "given back to customers"),
    ("charge", "charged, as written on hides"),
    ("bought", "paid for supplies"),
    ("machines", "paid for machines"),
)


def sums_of(floor: Floor, first: int, last: int) -> dict[str, list[Quantity]]:
    """What was paid, put down, charged, paid for supplies and for machines from day `first` to day `last`, each in its own money."""
    sums: dict[str, dict[str, Decimal]] = {}

    def add(what: str, money: Quantity) -> None:
        if money.unit in CURRENCIES:
            of = sums.setdefault(what, {})
            of[money.unit] = of.get(money.unit, Decimal(0)) + to_cents(Fraction(money.value))

    for entry in floor.money:
        if first <= entry.when.day <= last:
            for fact in entry.facts:
                if isinstance(fact, Money) and fact.sort != "value":
                    add(fact.sort, fact.money)
    for entry in floor.shelf:
        if first <= entry.when.day <= last:
            for fact in entry.facts:
                if isinstance(fact, Price):
                    add("bought", fact.money)
    for piece in whole_shelf(floor)[0].pieces:  # a drum is used, and not used up: it is no supply
        if piece.price is not None and first <= piece.entry.when.day <= last:
            add("machines", piece.price)
            add("bought", Quantity(value=-piece.price.value, unit=piece.price.unit))
    found = {
        what: [Quantity(value=value, unit=unit) for unit, value in of.items() if value] for what, of in sums.items()
    }
    return {what: of for what, of in found.items() if of}


def money_section(floor: Floor, first: int, last: int) -> Section:
    """The sums as they were written, and what was bought for nobody knows how much."""
    sums = sums_of(floor, first, last)
    rows = [
        Row(head=words, text=" and ".join(str(one) for one in sums[sort])) for sort, words in _SORTS if sort in sums
    ]
    unpriced = list(_bought_without_a_price(floor, first, last))
    if unpriced:
        text = f"{', '.join(unpriced)}: bought, and no price is written"
        rows.append(Row(head="not reckoned", text=text, plain=("not reckoned", *unpriced)))
    return Section(heading="Money of the year, as written", rows=tuple(rows))


def _bought_without_a_price(floor: Floor, first: int, last: int) -> Iterator[str]:
    """A price goes with what stands before it: what no price follows was bought for nobody knows how much."""
    for entry in floor.shelf:
        bare: list[str] = []
        bought = first <= entry.when.day <= last and any(isinstance(fact, Bought) for fact in entry.facts)
        for fact in entry.facts if bought else ():
            if isinstance(fact, Bought | Took):
                bare.append(f"{fact.amount.quantity} {fact.amount.supply}")
            elif isinstance(fact, Price):
                bare.clear()
        if bare:
            yield f"{listed(bare)} ({entry.at.short})"


def unpaid_section(every: Accounts, floor: Floor) -> Section:
    """Who owes what on the last day, what of it cannot be reckoned, and what belongs to no account."""
    people = sorted(every.people.values(), key=lambda one: one.name.casefold())
    rows = [_person(one) for one in people if one.now or one.in_the_end or one.unclear]
    rows += [
        Row(head="in no account", text=f"{payment_said(one.payment, every.sign, floor)}: {one.why}")
        for one in every.loose
    ]
    nobody = [bill for bill in every.nobody if bill.charged or bill.payments or bill.unclear]
    if nobody:
        left = summed(bill.left for bill in nobody)
        said = [f"{_tags(nobody)}: {money_said(left, every.sign)}" if left else "", _not_reckoned(nobody)]
        rows.append(Row(head="for nobody named", text="; ".join(part for part in said if part)))
    now = summed(one.now for one in people if one.now > 0 and one.bills)
    if rows:
        unclear = [bill for bill in (*(bill for one in people for bill in one.unclear), *nobody) if bill.unclear]
        without = f", without what is not reckoned: {_tags(unclear)}" if unclear else ""
        text = f"{money_said(now, every.sign)} for what is ready or fetched{without}"
        if not now and any(bill.is_due for bill in unclear):
            text = (
                f"not reckoned: {_tags(unclear)} have no price"
                if len(unclear) > 1
                else f"not reckoned: {_tags(unclear)} has no price"
            )
        rows.append(Row(head="in all", text=text))
    return Section(heading="Unpaid on the last day", rows=tuple(rows))


def _person(one: Account) -> Row:
    now, end = one.now, one.in_the_end
    said = []
    if now > 0:
        said.append(f"{money_said(now, one.sign)}{' for what is ready or fetched' if one.bills else ''}")
    elif now < 0:
        said.append(f"{money_said(-now, one.sign)} paid{'' if one.unclear else ' ahead'}")
    elif end > 0 and not any(bill.is_due for bill in one.unclear):
        said.append("nothing yet")
    if end > 0 and end != now:
        said.append(f"{money_said(end, one.sign)} when all that is here is done")
    text = "; ".join(part for part in (", ".join(said), _not_reckoned(one.unclear)) if part) + beside(one)
    plain = (one.name, money_said(now, one.sign), money_said(end, one.sign), _tags(one.unclear))
    return Row(head=one.name, text=text, plain=plain)


def _not_reckoned(bills: Sequence[HideBill]) -> str:
    """`not reckoned: H2 H9 (no price for elk cape), H4 (no price for bobcat)`."""
    whys: dict[str, list[HideBill]] = {}
    for bill in bills:
        why = next((item.what for item in bill.items if item.money is None), "")
        if why:
            whys.setdefault(why, []).append(bill)
    said = ", ".join(f"{_tags(some)} ({why})" for why, some in whys.items())
    return f"not reckoned: {said}" if said else ""


def _tags(bills: Sequence[HideBill]) -> str:
    return tags_said(in_order(bill.life.tag for bill in bills))


def unpaid_record(every: Accounts) -> list[dict[str, object]]:
    """The same for a program; `not_reckoned` are the tags whose price is not known."""
    return [
        {
            "customer": one.name,
            "now": None if one.unclear_now else money_record(one.now),
            "in_the_end": None if one.unclear else money_record(one.in_the_end),
            "reckoned_now": money_record(one.now),
            "reckoned_in_the_end": money_record(one.in_the_end),
            "not_reckoned": list(in_order(bill.life.tag for bill in one.unclear)),
        }
        for one in every.people.values()
        if one.now or one.in_the_end or one.unclear
    ]


def settle_section(every: Accounts, floor: Floor) -> Section:
    """Money taken for a skin that will not come back finished: given back or carried over, as the two agree."""
    people = sorted(every.people.values(), key=lambda one: one.name.casefold())
    rows = [row for one in people for row in settle_rows(one.name, one.bills, floor)]
    return Section(heading="To settle by word", rows=(*rows, *settle_rows(NOBODY, every.nobody, floor)))


def worth_of(shelf: dict[str, Holding]) -> Fraction:
    """What the priced part of the shelf cost."""
    return summed(one.shelf.cost for one in shelf.values())


def shelf_section(shelf: dict[str, Holding], floor: Floor) -> Section:
    """What lies there, each with what it is worth, and the sum without what has no price."""
    sign = currency_of(floor)
    rows = [
        Row(head=one.name, text=f"{one.shown(one.shelf.amount)}, {worth_said(one.shelf, one, sign)}")
        for one in shelf.values()
    ]
    if rows:
        unpriced = [one.name for one in shelf.values() if one.shelf.unpriced]
        bare = len(unpriced) == len(shelf) and not worth_of(shelf)
        worth = "not reckoned" if bare else f"worth {money_said(worth_of(shelf), sign)}"
        without = f", without what has no price: {listed(unpriced)}" if unpriced else ""
        rows.append(
            Row(head="in all", text=f"{worth}{without if not bare else f': no price is known of {listed(unpriced)}'}")
        )
    elif floor.book.shop.supplies:
        rows.append(Row(head="not reckoned", text="no line says what was bought or counted"))
    return Section(heading="The shelf on the last day", rows=tuple(rows))
