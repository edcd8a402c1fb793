"""`owed NAME`: one customer's whole bill, with the line to read out first to somebody who calls."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hideledger.answers.head import moment_said, not_understood, record_of
from hideledger.answers.jobs import UNTANNED, missing_step
from hideledger.answers.money import money_said, summed
from hideledger.answers.owed.account import Account, Accounts, HideBill, Payment, accounts
from hideledger.answers.owed.calling import where_said
from hideledger.answers.owed.words import (
    account_record,
    being_looked_at,
    in_order_of_door,
    left_said,
    owes_said,
    payment_said,
    settle_rows,
)
from hideledger.answers.saying import tags_said
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.answers.whose import NothingFound, concerns, hides_meant, person_meant
from hideledger.model.facts_shelf import GIVEN_BACK
from hideledger.rules.alike import alike
from hideledger.rules.horizon import Horizon, look
from hideledger.rules.names import account
from hideledger.rules.words import day_said, in_order, listed
from hideledger.shopfloor.floor import Floor


@dataclass(frozen=True, slots=True, kw_only=True)
class _View:
    """The shop as the bills are made from it; `looked_at` are the tags of skins that are promised to nobody, `nobody` the bills of those for nobody named."""

    floor: Floor
    nobody: Sequence[HideBill]
    horizon: Horizon
    looked_at: frozenset[str]


def owed_by(floor: Floor, about: Sequence[str]) -> Sheet:
    """The bills of the customers that are asked for, by name, by tags, or by another shop's own tags, in the order of asking. Raises NothingFound."""
    every = accounts(floor)
    names, nobody = _customers(floor, about)
    horizon = look(floor)
    view = _View(floor=floor, nobody=every.nobody, horizon=horizon, looked_at=being_looked_at(floor, horizon))
    several = len(names) > 1 or bool(names and nobody)
    found = [every.people.get(account(name)) or Account(name=name, sign=every.sign) for name in names]
    sections = [section for one in found for section in _bill(one, every, view, several=several)]
    if nobody:
        sections.append(_for_nobody(nobody))
    if several:
        title = f"{listed([one.name for one in found])}, {moment_said(floor)}"
        record: dict[str, object] = record_of(
            floor,
            {
                "currency": every.sign,
                "customers": [_record(one, every, view) for one in found],
                "for_nobody_named": list(nobody),
            },
        )
    else:
        title = f"{_phone_line(found[0], view)}{not_understood(floor)}"
        record = record_of(
            floor,
            {
                "currency": every.sign,
                **_record(found[0], every, view),
            },
        )
    return Sheet(
        title=title,
        title_in_plain=True,
        sections=tuple(section for section in sections if section.rows),
        record=record,
    )


def _bill(one: Account, every: Accounts, view: _View, *, several: bool) -> Iterator[Section]:
    """The parts of one customer's bill; where several are asked for each part says whose it is, and the line to read out comes first."""
    floor, of = view.floor, f", {one.name}" if several else ""
    line = _phone_line(one, view) if several else ""
    open_bills = _open(one)
    done = [bill for bill in in_order_of_door(one) if not any(bill is other for other in open_bills)]
    yield _person(one, _names_near(one, every), floor, line)
    yield Section(heading=f"Hides{of}", rows=tuple(_hide_row(bill, one, view) for bill in open_bills), spaced=True)
    yield Section(
        heading=f"With this name, and for nobody named{of}", rows=tuple(_unnamed_rows(one, view)), spaced=True
    )
    yield Section(heading=f"To settle by word{of}", rows=tuple(settle_rows("", one.bills, floor)))
    yield Section(
        heading=f"Fetched and paid{of}",
        rows=tuple(_settled_row(bill, one, floor) for bill in done if not bill.not_finished),
    )
    yield Section(
        heading=f"Not finished, and nothing open{of}",
        rows=tuple(_settled_row(bill, one, floor) for bill in done if bill.not_finished),
    )
    yield Section(
        heading=f"Paid, and not for one hide alone{of}",
        rows=tuple(_pool_row(payment, one.sign, floor) for payment in one.pool),
    )
    yield Section(
        heading=f"Paid in other money, and in no sum{of}",
        rows=tuple(_pool_row(payment, one.sign, floor) for payment in one.other_money),
    )
    yield Section(heading=f"Together{of}", rows=tuple(_sums(one)))


def _record(one: Account, every: Accounts, view: _View) -> dict[str, object]:
    return {
        "line": _phone_line(one, view),
        **account_record(one, view.floor),
        "names_alike": _names_near(one, every),
        "for_nobody_named": [bill.life.tag for bill in _unnamed(one, view)],
    }


def _names_near(one: Account, every: Accounts) -> list[str]:
    own = account(one.name)
    return [other.name for key, other in every.people.items() if key != own and alike(key, own)]


def _for_nobody(tags: Sequence[str]) -> Section:
    rows = tuple(
        Row(head=tag, text=f"for nobody named; write `{tag} for NAME`", plain=(tag, "for nobody named")) for tag in tags
    )
    return Section(heading="For nobody named", rows=rows)


def _customers(floor: Floor, about: Sequence[str]) -> tuple[list[str], tuple[str, ...]]:
    """The names of those that are meant, each once, and the tags of hides that are for nobody. Raises NothingFound."""
    lives = hides_meant(floor, about)
    if lives is None:
        return [person_meant(floor, about)], ()
    names: dict[str, str] = {}
    for life in lives:
        if life.payer:
            names.setdefault(account(life.payer), life.payer)
    nobody = tuple(dict.fromkeys(life.tag for life in lives if not life.payer))
    if not names:
        raise NothingFound(f"{listed(nobody)}: for nobody named; write `{nobody[0]} for NAME`")
    return list(names.values()), nobody


def _open(one: Account) -> list[HideBill]:
    """The hides that are here, or not paid for. What is to be settled by word has a part of its own."""
    return [
        bill
        for bill in in_order_of_door(one)
        if (bill.life.here and not bill.not_finished) or bill.left or bill.unclear
    ]


def _settled_row(bill: HideBill, one: Account, floor: Floor) -> Row:
    life = bill.life
    out = (
        f", {life.ended_as} {day_said(floor.book.clock, life.ended_when.day, floor.at)}"
        if life.ended_when is not None
        else ""
    )
    if bill.not_finished:
        day = out.partition(f" {life.ended_as} ")[2] if life.ended_as else ""
        charged = f"{money_said(bill.charged, one.sign)} charged and paid" if bill.charged else "nothing charged"
        said = f"{life.kind or life.what}, {bill.not_finished}{f' {day}' if day else ''}: {charged}"
        notes = tuple(("", item.what) for item in bill.items if not item.money)
        notes += (("", missing_step(life)),) if bill.not_finished == UNTANNED else ()
        return Row(head=life.tag, text=said, under=notes, plain=(life.tag, said, money_said(bill.left, one.sign)))
    text = f"{life.kind or life.what}{out}: {money_said(bill.charged, one.sign)}"
    return Row(head=life.tag, text=text, plain=(life.tag, text, money_said(bill.left, one.sign)))


def _phone_line(one: Account, view: _View) -> str:
    """The line to read out to somebody who calls: where each hide is, when it is ready, what is owed."""
    here = [bill for bill in in_order_of_door(one) if bill.life.here and not bill.not_finished]
    groups: dict[str, list[str]] = {}
    for bill in here:
        groups.setdefault(where_said(bill, view.floor, view.horizon, view.looked_at), []).append(bill.life.tag)
    parts = [f"{tags_said(in_order(tags))} {where}" for where, tags in groups.items()]
    unnamed: dict[str, list[str]] = {}
    for bill in _unnamed(one, view):
        unnamed.setdefault(where_said(bill, view.floor, view.horizon, view.looked_at), []).append(bill.life.tag)
    parts += [f"{tags_said(in_order(tags))} {where}, for nobody named" for where, tags in unnamed.items()]
    if not parts:
        parts = ["nothing here"]
    return f"{one.name}: {'; '.join(parts)}; {owes_said(one)}"


def _unnamed(one: Account, view: _View) -> list[HideBill]:
    """What is here for nobody named, and this person brought it, shot it or owns it: he who calls asks for that too."""
    return [bill for bill in view.nobody if bill.life.here and concerns(bill.life, one.name)]


def _unnamed_rows(one: Account, view: _View) -> Iterator[Row]:
    for bill in _unnamed(one, view):
        life = bill.life
        roles = [
            f"{role} {one.name}"
            for role, (party, _) in life.parties.items()
            if account(party.name) == account(one.name)
        ]
        text = f"{life.kind or life.what or 'a skin'}, {listed(roles)}: {where_said(bill, view.floor, view.horizon, view.looked_at)}"
        write = f"`{life.tag} for {one.name}`, if that is who pays"
        yield Row(head=life.tag, text=text, under=(("write", write),), plain=(life.tag, text))


def _person(one: Account, near: Sequence[str], floor: Floor, line: str) -> Section:
    lines = next((p.lines for p in floor.book.shop.customers if account(p.name) == account(one.name)), ())
    rows = [Row(text=line, plain=(line,))] if line else []
    rows += [Row(head=word, text=text, plain=(word, text)) for word, text in lines if word == "phone"]
    if near:
        text = f"{listed(near)} has a bill of its own; one customer, or two?"
        rows.append(Row(head="name", text=text, plain=("name", text)))
    return Section(heading=one.name, rows=tuple(rows))


def _hide_row(bill: HideBill, one: Account, view: _View) -> Row:
    life, sign, floor = bill.life, one.sign, view.floor
    clock, at = floor.book.clock, floor.at
    theirs = life.codes.get("their tag")
    named = ", ".join(
        part for part in (life.kind or life.what, f"their tag {theirs[0].code}" if theirs else "") if part
    )
    if life.ended_when is not None:
        state = f"{life.ended_as}{f' to {life.handed_to}' if life.handed_to else ''} {day_said(clock, life.ended_when.day, at)}"
    else:
        state = where_said(bill, view.floor, view.horizon, view.looked_at)
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
    under += [("", payment_said(payment, sign, floor)) for payment in bill.payments]
    if bill.items or bill.payments:
        under.append(("left", left_said(bill, sign)))
    text = f"{named}, {state}" if named else state
    return Row(
        head=life.tag,
        text=text,
        under=tuple(under),
        plain=(life.tag, text, left_said(bill, sign)),
    )


def _pool_row(payment: Payment, sign: str, floor: Floor) -> Row:
    whom = tags_said(payment.entry.tags) or payment.by
    text = payment_said(payment, sign, floor)
    return Row(head=whom, text=text, plain=(whom, text))


def _sums(one: Account) -> list[Row]:
    """The sums; where something cannot be reckoned they are said to be without it."""
    charged = summed(bill.charged for bill in one.bills)
    given = -summed(
        payment.money
        for payment in (*one.pool, *(p for b in one.bills for p in b.payments))
        if payment.sort == GIVEN_BACK
    )
    paid = summed(bill.paid - bill.to_settle for bill in one.bills) + one.pooled + given
    rest = ", without what is not reckoned"
    rows = [
        ("charged", f"{money_said(charged, one.sign)}{rest if one.unclear else ''}"),
        ("paid", money_said(paid, one.sign)),
        *([("given back", money_said(given, one.sign))] if given else []),
        ("owed now", f"{money_said(one.now, one.sign)}{rest if one.unclear_now else ''}"),
        ("when all is done", f"{money_said(one.in_the_end, one.sign)}{rest if one.unclear else ''}"),
    ]
    if one.unclear:
        rows.append(("not reckoned", f"{tags_said(in_order(b.life.tag for b in one.unclear))}: see above"))
    if one.to_settle:
        rows.append(("to settle", f"{money_said(one.to_settle, one.sign)}, by word, and in no sum above"))
    return [Row(head=head, text=text, plain=(head, text)) for head, text in rows]
