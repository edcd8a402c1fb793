"""`owed NAME`: one customer's whole bill, with the line to read out first to somebody who calls."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from hideledger.answers.money import money_said
from hideledger.answers.owed.account import Account, HideBill, Payment, accounts
from hideledger.answers.owed.words import (
    LOOKED_AT,
    account_record,
    being_looked_at,
    in_order_of_door,
    owes_said,
    payment_said,
    where_is,
)
from hideledger.answers.saying import local_stamp, tags_said, today, unread_said, utc_stamp
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.answers.whose import NothingFound, hides_meant, person_meant
from hideledger.rules.horizon import Horizon, look
from hideledger.rules.names import account, alike
from hideledger.rules.promise import least_time_left
from hideledger.rules.words import day_said, in_order, listed
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife

_NOTHING = Fraction(0)


def owed_by(floor: Floor, about: Sequence[str]) -> Sheet:
    """The bill of one customer, found by name, by a tag, or by another shop's own tag. Raises NothingFound."""
    every = accounts(floor)
    name = _customer(floor, about)
    one = every.people.get(account(name)) or Account(name=name, sign=every.sign)
    horizon = look(floor)
    clock, at = floor.book.clock, floor.at
    near = [other.name for key, other in every.people.items() if key != account(name) and alike(key, account(name))]
    unread = f", {unread_said(floor.book)} of the book not understood" if floor.book.unread else ""
    sections = (
        _person(one, near, floor),
        Section(heading="Hides", rows=tuple(_hide_row(bill, one, floor, horizon) for bill in _open(one)), spaced=True),
        Section(
            heading="Fetched and paid",
            rows=tuple(_settled_row(bill, one, floor) for bill in in_order_of_door(one) if bill not in _open(one)),
        ),
        Section(
            heading="Paid, and not for one hide alone", rows=tuple(_pool_row(p, one.sign, floor) for p in one.pool)
        ),
        Section(heading="Together", rows=tuple(_sums(one))),
    )
    return Sheet(
        title=f"{phone_line(one, floor, horizon)}{unread}",
        title_in_plain=True,
        sections=tuple(section for section in sections if section.rows),
        record={
            "schema": 1,
            "at": utc_stamp(at, clock),
            "at_local": local_stamp(at, clock),
            "line": phone_line(one, floor, horizon),
            "currency": one.sign,
            **account_record(one, floor),
            "names_alike": near,
            "unread": len(floor.book.unread),
        },
    )


def _customer(floor: Floor, about: Sequence[str]) -> str:
    lives = hides_meant(floor, about)
    if lives is None:
        return person_meant(floor, about)
    names = {account(life.payer): life.payer for life in lives if life.payer}
    tags = listed(in_order(life.tag for life in lives))
    if not names:
        raise NothingFound(f"{tags}: for nobody named; write `{in_order(life.tag for life in lives)[0]} for NAME`")
    if len(names) > 1:
        raise NothingFound(f"{tags}: for {listed(sorted(names.values()))}; ask for one of them")
    return next(iter(names.values()))


def _open(one: Account) -> list[HideBill]:
    """The hides that are here, or not paid for."""
    return [bill for bill in in_order_of_door(one) if bill.life.here or bill.left or bill.unclear or not bill.counts]


def _settled_row(bill: HideBill, one: Account, floor: Floor) -> Row:
    life = bill.life
    out = (
        f", {life.ended_as} {day_said(floor.book.clock, life.ended_when.day, floor.at)}"
        if life.ended_when is not None
        else ""
    )
    text = f"{life.kind or life.what}{out}: {money_said(bill.charged, one.sign)}"
    return Row(head=life.tag, text=text, plain=(life.tag, text, money_said(bill.left, one.sign)))


def phone_line(one: Account, floor: Floor, horizon: Horizon) -> str:
    """The line to read out to somebody who calls: where each hide is, when it is ready, what is owed."""
    here = [bill for bill in in_order_of_door(one) if bill.life.here]
    groups: dict[str, list[str]] = {}
    for bill in here:
        groups.setdefault(_where_said(bill, floor, horizon), []).append(bill.life.tag)
    parts = [f"{tags_said(in_order(tags))} {where}" for where, tags in groups.items()]
    if not parts:
        parts = ["nothing here"]
    return f"{one.name}: {'; '.join(parts)}; {owes_said(one)}"


def _where_said(bill: HideBill, floor: Floor, horizon: Horizon) -> str:
    if bill.ready is not None and bill.life.tag in being_looked_at(floor, horizon):
        return LOOKED_AT
    if bill.ready is not None:
        return f"ready since {day_said(floor.book.clock, bill.ready, floor.at)}"
    return f"{where_is(bill.life)}, {_ready_when(bill.life, floor, horizon)}"


def _ready_when(life: HideLife, floor: Floor, horizon: Horizon) -> str:
    clock, at = floor.book.clock, floor.at
    parts = []
    if life.promised is not None:
        parts.append(f"promised {day_said(clock, life.promised[0].day.toordinal(), at)}")
    if life.process is not None and not life.box and life.resting is None:
        earliest = clock.day_of(at + least_time_left(life, horizon))
        if earliest > today(clock, at):
            parts.append(f"not before {day_said(clock, earliest, at)}")
    return ", ".join(parts) or "no day said"


def _person(one: Account, near: Sequence[str], floor: Floor) -> Section:
    lines = next((p.lines for p in floor.book.shop.customers if account(p.name) == account(one.name)), ())
    rows = [Row(head=word, text=text, plain=(word, text)) for word, text in lines if word == "phone"]
    if near:
        text = f"{listed(near)} has a bill of its own; one customer, or two?"
        rows.append(Row(head="name", text=text, plain=("name", text)))
    return Section(heading=one.name, rows=tuple(rows))


def _hide_row(bill: HideBill, one: Account, floor: Floor, horizon: Horizon) -> Row:
    life, sign = bill.life, one.sign
    clock, at = floor.book.clock, floor.at
    theirs = life.codes.get("their tag")
    named = ", ".join(
        part for part in (life.kind or life.what, f"their tag {theirs[0].code}" if theirs else "") if part
    )
    if life.ended_when is not None:
        state = f"{life.ended_as}{f' to {life.handed_to}' if life.handed_to else ''} {day_said(clock, life.ended_when.day, at)}"
    else:
        state = _where_said(bill, floor, horizon)
    under: list[tuple[str, str]] = []
    for item in bill.items:
        under.append(
            (
                "",
                f"{item.what}: {money_said(item.money, sign)}"
                if item.money is not None
                else f"{item.what}: not reckoned",
            )
        )
    under += [("", f"{payment_said(payment, sign, floor)}") for payment in bill.payments]
    if not bill.counts:
        under.append(
            (
                "",
                f"nothing charged; {money_said(bill.paid, sign)} paid on it is in no sum: settle it by word"
                if bill.payments
                else "nothing charged",
            )
        )
    elif bill.items:
        under.append(("left", money_said(bill.left, sign)))
    text = f"{named}, {state}" if named else state
    return Row(
        head=life.tag,
        text=text,
        under=tuple(under),
        plain=(life.tag, text, money_said(bill.left, sign) if bill.counts else ""),
    )


def _pool_row(payment: Payment, sign: str, floor: Floor) -> Row:
    whom = tags_said(payment.entry.tags) or payment.by
    text = payment_said(payment, sign, floor)
    return Row(head=whom, text=text, plain=(whom, text))


def _sums(one: Account) -> list[Row]:
    counting = [bill for bill in one.bills if bill.counts]
    charged = sum((bill.charged for bill in counting), _NOTHING)
    paid = sum((bill.paid for bill in counting), _NOTHING) + one.pooled
    rows = [
        ("charged", money_said(charged, one.sign)),
        ("paid", money_said(paid, one.sign)),
        ("owed now", money_said(one.now, one.sign)),
        ("when all is done", money_said(one.in_the_end, one.sign)),
    ]
    if one.unclear:
        rows.append(
            (
                "not in it",
                f"{tags_said(in_order(b.life.tag for b in one.unclear))}: a price cannot be reckoned, see above",
            )
        )
    return [Row(head=head, text=text, plain=(head, text)) for head, text in rows]
