"""A customer's account: each hide with its charges and what was paid on it, and payments that name no one hide."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from fractions import Fraction

from hideledger.answers.jobs import Jobs, jobs_of, life_at
from hideledger.answers.money import NOTHING, in_cents, summed
from hideledger.answers.owed.charges import is_own, items_of, price_list
from hideledger.answers.owed.price_lines import Item
from hideledger.answers.owed.storage import ready_since
from hideledger.answers.saying import tags_said
from hideledger.model.entry import Entry
from hideledger.model.facts import Money
from hideledger.model.facts_shelf import GIVEN_BACK, PAID_IN
from hideledger.model.units import Quantity
from hideledger.rules.names import account
from hideledger.rules.onhand import currency_of
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife

_PAID = (*PAID_IN, GIVEN_BACK)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Payment:
    """One sum came in from a customer, or went back to him.

    It is a `deposit` or `paid`, by whom where another than the customer paid it; or less than nothing, `given back` to him. `on` is the tag
    of the hide that it was paid on, where that hide's job is another's now.
    """

    sort: str
    money: Fraction
    written: Quantity
    entry: Entry
    by: str = ""
    on: str = ""


@dataclass(slots=True, kw_only=True, eq=False)
class HideBill:
    """One hide: its charges and what was paid for it alone. `not_finished` says why it will not come back finished; empty where it may."""

    life: HideLife
    items: list[Item]
    ready: int | None  # the day from which it could be fetched, an ordinal
    not_finished: str = ""
    own: bool = False  # the shop's own skin: nobody owes for it, and nobody fetches it
    payments: list[Payment] = field(default_factory=list)

    @property
    def charged(self) -> Fraction:
        """The sum of all charges that can be reckoned."""
        return summed(item.money for item in self.items if item.money is not None)

    @property
    def paid(self) -> Fraction:
        """What was paid for it alone."""
        return summed(payment.money for payment in self.payments)

    @property
    def left(self) -> Fraction:
        """What is still to be paid for it; less than nothing where more was paid. What is to be settled by word is no credit."""
        left = self.charged - self.paid
        return max(NOTHING, left) if self.not_finished else left

    @property
    def to_settle(self) -> Fraction:
        """What was taken for a hide that will not come back finished, beyond what is charged for it."""
        return max(NOTHING, self.paid - self.charged) if self.not_finished else NOTHING

    @property
    def is_due(self) -> bool:
        """Whether it is to be paid now: ready, gone, or a box whose skins are at work."""
        return self.ready is not None or self.life.ended_as in ("opened", "out", "lost", "refused")

    @property
    def unclear(self) -> bool:
        """Whether some charge of it cannot be reckoned."""
        return any(item.money is None for item in self.items)


@dataclass(slots=True, kw_only=True, eq=False)
class Account:
    """One customer owes for hides and has paid sums.

    `pool` are payments for several hides at once, or for none that is named; `other_money` what was paid in another currency, which is in no sum.
    """

    name: str
    sign: str
    bills: list[HideBill] = field(default_factory=list)
    pool: list[Payment] = field(default_factory=list)
    other_money: list[Payment] = field(default_factory=list)

    @property
    def pooled(self) -> Fraction:
        """What was paid, and not for one hide alone."""
        return summed(payment.money for payment in self.pool)

    @property
    def now(self) -> Fraction:
        """What is owed for the hides that are ready or gone, without what cannot be reckoned."""
        return summed(bill.left for bill in self.bills if bill.is_due) - self.pooled

    @property
    def given_beyond(self) -> Fraction:
        """How much more was given back than was ever paid: a gift, or a slip of the pen."""
        own = summed(payment.money for bill in self.bills for payment in bill.payments)
        return max(NOTHING, -own - self.pooled)

    @property
    def in_the_end(self) -> Fraction:
        """What is owed when all that is here is done, without what cannot be reckoned."""
        return summed(bill.left for bill in self.bills) - self.pooled

    @property
    def unclear(self) -> list[HideBill]:
        """The hides with something that cannot be reckoned."""
        return [bill for bill in self.bills if bill.unclear]

    @property
    def unclear_now(self) -> list[HideBill]:
        """Of these the ones that are to be paid now."""
        return [bill for bill in self.unclear if bill.is_due]

    @property
    def to_settle(self) -> Fraction:
        """All that was taken for what will not come back finished."""
        return summed(bill.to_settle for bill in self.bills)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Loose:
    """A payment that goes to no account, or into no sum, and why."""

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
    jobs = jobs_of(floor)
    prices = price_list(floor, sign, jobs)
    bills: dict[int, HideBill] = {}
    on_wholes: list[tuple[HideLife, Payment]] = []
    for life in floor.all_hides():
        if not life.declared:
            continue
        bill = HideBill(
            life=life,
            items=[
                one if one.money is None else replace(one, money=in_cents(one.money)) for one in items_of(life, prices)
            ],
            ready=ready_since(life, jobs),
            not_finished=jobs.not_finished(life),
            own=is_own(life, floor),
        )
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
                _pay(fact, entry, found, bills, jobs, on_wholes)
    for one in found.people.values():
        _settle(one)
    for whole, payment in on_wholes:
        _share_out(
            payment, _account(found, whole.payer), [bills[id(part)] for part in jobs.leaves(whole) if id(part) in bills]
        )
    return found


def _share_out(payment: Payment, one: Account, parts: list[HideBill]) -> None:
    """What was paid on a skin that was cut since pays what is left of its parts, those first that are to be paid now; the rest is the customer's."""
    for bill in sorted(parts, key=lambda bill: not bill.is_due):
        part = min(payment.money, bill.left)
        if part > 0 and any(bill is own for own in one.bills):
            bill.payments.append(replace(payment, money=part, on=tags_said(payment.entry.tags)))
            payment = replace(payment, money=payment.money - part)
    if payment.money:
        one.pool.append(payment)


def _settle(one: Account) -> None:
    """What was given back to a customer and for no one hide settles what was taken for those that will not come back finished."""
    rest = []
    for pooled in one.pool:
        payment = pooled
        for bill in one.bills if payment.sort == GIVEN_BACK else ():
            part = min(-payment.money, bill.to_settle)
            if part > 0:
                bill.payments.append(replace(payment, money=-part, on=tags_said(payment.entry.tags)))
                payment = replace(payment, money=payment.money + part)
        if payment.money or payment.sort != GIVEN_BACK:
            rest.append(payment)
    one.pool = rest


def _account(found: Accounts, name: str) -> Account:
    key = account(name)
    if key not in found.people:
        found.people[key] = Account(name=name, sign=found.sign)
    return found.people[key]


def _pay(
    fact: Money,
    entry: Entry,
    found: Accounts,
    bills: dict[int, HideBill],
    jobs: Jobs,
    on_wholes: list[tuple[HideLife, Payment]],
) -> None:
    """One hide's own payment goes to its bill, or to that of the skin that has its job now; so does one for several of which none will come
    back finished. All others go to the account of who paid.
    """
    lives = [life for tag in entry.tags if (life := life_at(tag, entry, jobs.floor)) is not None]
    names = {account(life.payer): life.payer for life in lives if life.payer}
    payer = next(iter(names.values())) if len(names) == 1 else fact.by if not names or account(fact.by) in names else ""
    bearer = _bearer(lives, bills, jobs) if len(names) == 1 else None
    payment = Payment(
        sort=fact.sort,
        money=in_cents(Fraction(fact.money.value)) * (-1 if fact.sort == GIVEN_BACK else 1),
        written=fact.money,
        entry=entry,
        by=fact.by,
        on=tags_said(entry.tags) if bearer is not None and entry.tags != (bearer.life.tag,) else "",
    )
    done, who = ("given back", "to") if fact.sort == GIVEN_BACK else ("paid", "by")
    if fact.money.unit != found.sign:
        found.loose.append(Loose(payment=payment, why=f"{fact.money} is other money than the shop's {found.sign}"))
        if payer:
            _account(found, payer).other_money.append(payment)
    elif bearer is not None:
        bearer.payments.append(payment)
    elif payer and len(lives) == 1 and lives[0].ended_as == "cut" and lives[0].payer:
        on_wholes.append((lives[0], payment))  # when all is known that was paid on its parts
    elif payer:
        _account(found, payer).pool.append(payment)
    elif names:
        found.loose.append(
            Loose(payment=payment, why=f"{done} for hides of several customers, and not said {who} whom")
        )
    else:
        found.loose.append(Loose(payment=payment, why=f"{done} {who} nobody named, for no hide that is for somebody"))


def _bearer(lives: list[HideLife], bills: dict[int, HideBill], jobs: Jobs) -> HideBill | None:
    """The bill of the one hide that a payment is for; None where it is for the customer."""
    last = [jobs.chain_end(life) for life in lives]
    if len(last) == 1 and last[0].ended_as not in ("cut", "opened"):
        return bills.get(id(last[0]))
    if any(jobs.may_come(life) for life in last):
        return None
    leaves = [leaf for life in last for leaf in jobs.leaves(life)]
    return bills.get(id(leaves[0])) if leaves else None
