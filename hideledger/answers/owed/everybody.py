"""`owed`: who owes what, what waits to be fetched, and what goes to no account."""

from __future__ import annotations

from collections.abc import Sequence

from hideledger.answers.head import not_understood, record_of
from hideledger.answers.jobs import UNTANNED, missing_step
from hideledger.answers.money import money_record, money_said, summed
from hideledger.answers.owed.account import Account, Accounts, HideBill, accounts
from hideledger.answers.owed.calling import calls_first
from hideledger.answers.owed.words import (
    LOOKED_AT,
    account_record,
    being_looked_at,
    owes_said,
    payment_said,
    settle_rows,
    settling_record,
)
from hideledger.answers.saying import counted, now_words, tags_said, today
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.answers.whose import NOBODY
from hideledger.model.entry import Entry
from hideledger.rules.horizon import look
from hideledger.rules.names import account
from hideledger.rules.words import day_said, in_order
from hideledger.shopfloor.floor import Floor

_RECENT_DAYS = 61


def owed(floor: Floor) -> Sheet:
    """Every customer who owes something or has something to fetch; then payments and hides that go to no account."""
    every = accounts(floor)
    people = sorted(every.people.values(), key=lambda one: account(one.name))
    owing = [one for one in people if one.now or one.in_the_end or one.unclear or one.other_money]
    now = summed(one.now for one in people if one.now > 0 and one.bills)
    unclear = [bill.life.tag for one in people for bill in one.unclear_now]
    besides = f", and {tags_said(in_order(unclear))} not reckoned" if unclear else ""
    name = floor.book.shop.shop.name or "The shop"
    sections = (
        Section(heading="To fetch", rows=tuple(to_fetch(every, floor))),
        Section(heading="Owed", rows=tuple(_owing_row(one, floor) for one in owing)),
        Section(heading="To settle by word", rows=tuple(_to_settle(people, every, floor))),
        Section(heading="Handed back untanned, and nothing charged", rows=tuple(_untanned(people, every, floor))),
        Section(heading="In no account", rows=tuple(_in_none(every, floor))),
    )
    return Sheet(
        title=f"{name}, {now_words(floor.at, floor.book.clock)}: {money_said(now, every.sign)} owed for what is ready or fetched{besides}{not_understood(floor)}",
        title_in_plain=True,
        sections=tuple(section for section in sections if section.rows),
        record=record_of(
            floor,
            {
                "currency": every.sign,
                "owed_now": None if unclear else money_record(now),
                "reckoned_now": money_record(now),
                "not_reckoned_now": list(in_order(unclear)),
                "to_settle": settling_record(people, every.nobody),
                "customers": [account_record(one, floor) for one in people],
                "in_no_account": [
                    {
                        "sort": loose.payment.sort,
                        "money": money_record(loose.payment.money),
                        "currency": loose.payment.written.unit,
                        "why": loose.why,
                        "file": loose.payment.entry.at.file,
                        "line": loose.payment.entry.at.line,
                    }
                    for loose in every.loose
                ],
            },
        ),
    )


def _to_settle(people: Sequence[Account], every: Accounts, floor: Floor) -> list[Row]:
    rows = [row for one in people for row in settle_rows(one.name, one.bills, floor)]
    return rows + settle_rows(NOBODY, every.nobody, floor)


def _untanned(people: Sequence[Account], every: Accounts, floor: Floor) -> list[Row]:
    """What went back in the last two months as it came, by what is written: where the lines are missing and not the work, nobody would be asked to pay."""
    now = today(floor.book.clock, floor.at)
    rows = []
    for name, bills in (*((one.name, one.bills) for one in people), (NOBODY, every.nobody)):
        found = [
            bill.life
            for bill in bills
            if bill.not_finished == UNTANNED
            and not bill.charged
            and bill.life.ended_when is not None
            and bill.life.ended_when.day >= now - _RECENT_DAYS
        ]
        if found:
            tags = in_order(life.tag for life in found)
            text = f"{tags_said(tags)}: {missing_step(found[0])}"
            rows.append(Row(head=name, text=text, plain=(name, " ".join(tags))))
    return rows


def to_fetch(every: Accounts, floor: Floor) -> list[Row]:
    """The pick-up list: by customer what is ready, how long the first of it waits, and what is unpaid."""
    now = today(floor.book.clock, floor.at)
    looked_at = being_looked_at(floor, look(floor))
    rows = []
    for one in sorted(every.people.values(), key=lambda one: account(one.name)):
        ready = [bill for bill in one.bills if bill.life.here and bill.ready is not None and not bill.own]
        if ready:
            rows.append(
                _fetch_row(one.name, ready, money_said(one.now, one.sign) if one.now > 0 else "", now, looked_at)
            )
    nobody = [bill for bill in every.nobody if bill.life.here and bill.ready is not None]
    if nobody:
        rows.append(_fetch_row(NOBODY, nobody, "", now, looked_at))
    return rows


def _fetch_row(name: str, ready: Sequence[HideBill], owes: str, now: int, looked_at: frozenset[str]) -> Row:
    waits = now - min(bill.ready for bill in ready if bill.ready is not None)
    tags = tags_said(in_order(bill.life.tag for bill in ready))
    waiting = f"waiting {counted(waits, 'day')}" if waits else "ready today"
    unpriced = tags_said(in_order(bill.life.tag for bill in ready if bill.unclear))
    unpaid = f"{owes} unpaid" if owes else "" if unpriced else "nothing unpaid"
    no_price = f"{unpriced} not reckoned yet: settle the price before it goes" if unpriced else ""
    doubtful = tags_said(in_order(bill.life.tag for bill in ready if bill.life.tag in looked_at))
    not_yet = f"{doubtful} {LOOKED_AT}" if doubtful else ""
    spoilt = calls_first(bill.life for bill in ready)
    text = ", ".join(part for part in (tags, waiting, unpaid, no_price, not_yet, *spoilt) if part)
    return Row(head=name, text=text, plain=(name, tags, str(waits), owes))


def _owing_row(one: Account, floor: Floor) -> Row:
    text = owes_said(one)
    out = [bill for bill in one.bills if bill.life.ended_as == "out" and bill.left > 0]
    under = []
    if out and one.now > 0:
        first = min(bill.life.ended_when.day for bill in out if bill.life.ended_when is not None)
        tags = tags_said(in_order(bill.life.tag for bill in out))
        together = f", less {money_said(one.pooled, one.sign)} paid for several together" if one.pooled > 0 else ""
        under.append(
            (
                "fetched",
                f"{tags}, {money_said(summed(b.left for b in out), one.sign)}{together}, the first {day_said(floor.book.clock, first, floor.at)}",
            )
        )
    return Row(
        head=one.name,
        text=text,
        under=tuple(under),
        plain=(one.name, money_said(one.now, one.sign), money_said(one.in_the_end, one.sign)),
    )


def _perhaps(bill: HideBill) -> str:
    """The name that a line is written with: of whoever brought it, where that is written."""
    brought = bill.life.parties.get("from")
    return brought[0].name if brought else "NAME"


def _in_none(every: Accounts, floor: Floor) -> list[Row]:
    rows = []
    for loose in every.loose:
        text = f"{payment_said(loose.payment, every.sign, floor)}: {loose.why}"
        rows.append(Row(head=_whom(loose.payment.entry), text=text, plain=(_whom(loose.payment.entry), text)))
    nobody = [
        bill for bill in every.nobody if bill.charged or bill.unclear or (bill.payments and not bill.not_finished)
    ]
    if nobody:
        tags = tags_said(in_order(bill.life.tag for bill in nobody))
        left = summed(bill.left for bill in nobody)
        missing = in_order(bill.life.tag for bill in nobody if bill.unclear)
        unclear = f", and {tags_said(missing)} not reckoned" if missing else ""
        rows.append(
            Row(
                head="for nobody",
                text=f"{tags}: {money_said(left, every.sign)}{unclear}; write `{nobody[0].life.tag} for {_perhaps(nobody[0])}`",
                plain=("for nobody", tags),
            )
        )
    return rows


def _whom(entry: Entry) -> str:
    return tags_said(entry.tags) or "no hide"
