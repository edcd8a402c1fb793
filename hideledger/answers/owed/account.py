"""A customer's account: each hide with its charges and what was paid on it, and payments that name no one hide."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from hideledger.answers.owed.charges import items_of, price_list
from hideledger.answers.owed.price_lines import Item
from hideledger.answers.owed.storage import ready_since
from hideledger.model.entry import Entry
from hideledger.model.facts import Money
from hideledger.rules.names import account
from hideledger.rules.onhand import currency_of
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife

_NOTHING = Fraction(0)
_PAID = ("deposit", "paid")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Payment:
    """One sum that came in: `deposit` or `paid`, by whom where another than the customer paid it."""

    sort: str
    money: Fraction
    entry: Entry
    by: str = ""


@dataclass(slots=True, kw_only=True, eq=False)
class HideBill:
    """One hide: its charges and what was paid for it alone."""

    life: HideLife
    items: list[Item]
    ready: int | None  # the day from which it could be fetched, an ordinal
    payments: list[Payment] = field(default_factory=list)

    @property
    def charged(self) -> Fraction:
        """The sum of all charges that can be reckoned."""
        return sum((item.money for item in self.items if item.money is not None), _NOTHING)

    @property
    def paid(self) -> Fraction:
        """What was paid for it alone."""
        return sum((payment.money for payment in self.payments), _NOTHING)

    @property
    def left(self) -> Fraction:
        """What is still to be paid for it; less than nothing where more was paid."""
        return self.charged - self.paid

    @property
    def counts(self) -> bool:
        """Whether it is in the sum: a lost or refused hide is not, and what was paid on it is to be settled by word."""
        return self.life.ended_as not in ("lost", "refused")

    @property
    def is_due(self) -> bool:
        """Whether it is to be paid now: ready, fetched, or a box whose skins are at work."""
        return self.counts and (self.ready is not None or self.life.ended_as == "opened")

    @property
    def unclear(self) -> bool:
        """Whether some charge of it cannot be reckoned."""
        return any(item.money is None for item in self.items)


@dataclass(slots=True, kw_only=True, eq=False)
class Account:
    """One customer. `pool` are payments for several hides at once, or for none that is named."""

    name: str
    sign: str
    bills: list[HideBill] = field(default_factory=list)
    pool: list[Payment] = field(default_factory=list)

    @property
    def pooled(self) -> Fraction:
        """What was paid, and not for one hide alone."""
        return sum((payment.money for payment in self.pool), _NOTHING)

    @property
    def now(self) -> Fraction:
        """What is owed for the hides that are ready or handed out."""
        return sum((bill.left for bill in self.bills if bill.is_due), _NOTHING) - self.pooled

    @property
    def in_the_end(self) -> Fraction:
        """What is owed when all that is here is done."""
        return sum((bill.left for bill in self.bills if bill.counts), _NOTHING) - self.pooled

    @property
    def unclear(self) -> list[HideBill]:
        """The hides with something that cannot be reckoned."""
        return [bill for bill in self.bills if bill.counts and bill.unclear]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Loose:
    """A payment that goes to no account, and why."""

    payment: Payment
    why: str


@dataclass(slots=True, kw_only=True, eq=False)
class Accounts:
    """All customers by their names in small letters; payments and hides that belong to none."""

    sign: str
    people: dict[str, Account] = field(default_factory=dict)
    loose: list[Loose] = field(default_factory=list)
    nobody: list[HideBill] = field(default_factory=list)  # hides for nobody named


def accounts(floor: Floor) -> Accounts:
    """Every customer's account at the moment of the floor."""
    sign = currency_of(floor)
    found = Accounts(sign=sign)
    prices = price_list(floor, sign)
    bills: dict[int, HideBill] = {}
    for life in floor.all_hides():
        if not life.declared:
            continue
        bill = HideBill(life=life, items=items_of(life, prices), ready=ready_since(life, floor))
        bills[id(life)] = bill
        if life.ended_as in ("cut", "opened") and not bill.items:
            continue  # its parts, its skins are charged for
        if life.payer:
            _account(found, life.payer).bills.append(bill)
        elif not (life.box and life.here):
            found.nobody.append(bill)
    for entry in floor.money:
        for fact in entry.facts:
            if isinstance(fact, Money) and fact.sort in _PAID:
                _pay(fact, entry, found, bills, floor)
    return found


def _account(found: Accounts, name: str) -> Account:
    key = account(name)
    if key not in found.people:
        found.people[key] = Account(name=name, sign=found.sign)
    return found.people[key]


def _pay(fact: Money, entry: Entry, found: Accounts, bills: dict[int, HideBill], floor: Floor) -> None:
    payment = Payment(sort=fact.sort, money=Fraction(fact.money.value), entry=entry, by=fact.by)
    if fact.money.unit != found.sign:
        found.loose.append(Loose(payment=payment, why=f"{fact.money} is other money than the shop's {found.sign}"))
        return
    lives = [life for tag in entry.tags if (life := _life_at(tag, entry, floor)) is not None]
    payers = {account(life.payer): life.payer for life in lives if life.payer}
    if len(lives) == 1 and len(payers) == 1 and lives[0].ended_as not in ("cut", "opened") and id(lives[0]) in bills:
        bills[id(lives[0])].payments.append(payment)
    elif len(payers) == 1:
        _account(found, next(iter(payers.values()))).pool.append(payment)
    elif fact.by and (not payers or account(fact.by) in payers):
        _account(found, fact.by).pool.append(payment)
    elif payers:
        found.loose.append(Loose(payment=payment, why="paid for hides of several customers, and not said by whom"))
    else:
        found.loose.append(Loose(payment=payment, why="paid by nobody named, for no hide that is for somebody"))


def _life_at(tag: str, entry: Entry, floor: Floor) -> HideLife | None:
    """The hide that bore a tag when the line was written."""
    lives = floor.hides.get(tag, [])
    before = [life for life in lives if life.arrived is entry or life.arrived_when.lo <= entry.when.hi]
    return before[-1] if before else lives[0] if lives else None
