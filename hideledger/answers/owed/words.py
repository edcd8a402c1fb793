"""How an account is said: what is owed, a payment, what is to be settled by word, where a hide is; and the whole of it for a program."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from hideledger.answers.money import money_record, money_said
from hideledger.answers.owed.account import Account, HideBill, Payment
from hideledger.answers.saying import local_stamp, tags_said
from hideledger.answers.sheet import Row
from hideledger.answers.standing import spot_of, state_of
from hideledger.model.facts_shelf import GIVEN_BACK
from hideledger.rules.answering import answered, waivers
from hideledger.rules.hair import hair_comes_loose
from hideledger.rules.horizon import Horizon
from hideledger.rules.raw import pulled_since
from hideledger.rules.slip_nearby import slip_nearby
from hideledger.rules.words import day_said, in_order, listed, tag_order
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife

_HOW = "give it back or take it for another hide, by word with the customer; when that is settled write"
_FOR_ANOTHER = "and if it is taken for another, on a line of that hide"


def in_order_of_door(one: Account) -> list[HideBill]:
    """Hides that are here come first, each sort by tag."""
    return sorted(one.bills, key=lambda bill: (not bill.life.here, tag_order(bill.life.tag)))


def where_is(life: HideLife) -> str:
    """`pickle in P3`, `frozen in freezer`, `after shaved`."""
    bath = life.stay.bath if life.stay is not None and life.resting is None else None
    spot = bath.tag if bath is not None else spot_of(life)
    return f"{state_of(life)} in {spot}" if spot else state_of(life)


LOOKED_AT = "being looked at, not to be promised yet"


def being_looked_at(floor: Floor, horizon: Horizon) -> frozenset[str]:
    """The tags of those that slipped here, or of which `slip nearby` or `hair comes loose` is told: promised to nobody before a pull has held."""
    known = waivers(floor)
    sought = (*slip_nearby(floor, horizon), *hair_comes_loose(floor, horizon))
    told = (answered(finding, known, floor) for finding in sought)
    found = {tag for finding in told if finding is not None for tag in finding.tags}
    for life in floor.here():
        seen = [one.when.lo for one in life.defects if one.fact.defect == "slip" and not one.at_door]
        if seen and not pulled_since(life, max(seen)):
            found.add(life.tag)
    return frozenset(found)


def owes_said(one: Account) -> str:
    """`owes $42.00 for what is ready or fetched, $134.00 when all is done`; what is not known yet is said first."""
    return f"{_sums_said(one)}{beside(one)}"


def _sums_said(one: Account) -> str:
    now, end = one.now, one.in_the_end
    if one.unclear_now:
        return f"what is owed is not known yet, {_not_reckoned(one.unclear_now, now, one.sign)}"
    if now == end and not one.unclear:
        return _balance(now, one.sign)
    said = _balance(now, one.sign) if now < 0 else "owes nothing yet"
    if now > 0:
        said = f"{_balance(now, one.sign)} for what is ready or fetched"
    if one.unclear:
        return f"{said}; the sum when all is done is not known yet, {_not_reckoned(one.unclear, end, one.sign)}"
    then = (
        money_said(end, one.sign) if end > 0 else "nothing" if not end else f"{money_said(-end, one.sign)} to the good"
    )
    return f"{said}, {then} when all is done"


def _not_reckoned(bills: Sequence[HideBill], rest: Fraction, sign: str) -> str:
    tags = tags_said(in_order(bill.life.tag for bill in bills))
    beside = f"; without {'it' if len(bills) == 1 else 'them'} {_balance(rest, sign)}" if rest else ""
    return f"{tags} not reckoned{beside}"


def beside(one: Account) -> str:
    """What is in no sum of the line: money to be settled by word, and money of another sort; and what may be a slip of the pen."""
    said = f"; {money_said(one.to_settle, one.sign)} to settle by word" if one.to_settle else ""
    if one.other_money:
        ways = [
            f"{together} {how}"
            for how, back in (("paid", False), ("given back", True))
            if (together := _other_sums([p for p in one.other_money if (p.sort == GIVEN_BACK) is back]))
        ]
        said += f"; {listed(ways)} in other money, in no sum"
    if one.given_beyond:
        said += f"; {money_said(one.given_beyond, one.sign)} more was given back than paid"
    if not one.bills and one.pool:
        said += f"; no hide of the book is for {one.name}"
    return said


def _other_sums(several: Sequence[Payment]) -> str:
    """`€70.00 and £5.00`: each money by itself."""
    sums: dict[str, Fraction] = {}
    for payment in several:
        sums[payment.written.unit] = sums.get(payment.written.unit, Fraction(0)) + Fraction(payment.written.value)
    return listed([money_said(money, unit) for unit, money in sums.items()])


def _balance(money: Fraction, sign: str) -> str:
    """`owes $42.00`, `owes nothing`, `has $10.00 to the good`."""
    if money > 0:
        return f"owes {money_said(money, sign)}"
    return f"has {money_said(-money, sign)} to the good" if money < 0 else "owes nothing"


def left_said(bill: HideBill, sign: str) -> str:
    """What is left to pay for a hide; `not reckoned` where a charge of it is not known."""
    if not bill.unclear:
        return money_said(bill.left, sign)
    return f"not reckoned; without it {money_said(bill.left, sign)}" if bill.left else "not reckoned"


def payment_said(payment: Payment, sign: str, floor: Floor) -> str:
    """`deposit Mon 2 Nov: -$50.00 (november.hides:5)`; what was given back without the minus; what is in other money as it was written, and that it is in no sum."""
    day = day_said(floor.book.clock, payment.entry.when.day, floor.at)
    given_back = payment.sort == GIVEN_BACK
    by = f" {'to' if given_back else 'by'} {payment.by}" if payment.by else ""
    on = f" {'for' if given_back else 'on'} {payment.on}" if payment.on else ""
    money = (
        f"{'' if given_back or not payment.money else '-'}{money_said(abs(payment.money), sign)}"
        if payment.written.unit == sign
        else f"{payment.written}, in no sum"
    )
    return f"{payment.sort}{on}{by} {day}: {money} ({payment.entry.at.short})"


def settle_rows(name: str, bills: Sequence[HideBill], floor: Floor) -> list[Row]:
    """Money taken for hides that will not come back finished: nobody but the customer can say where it goes.

    With a `name` for the list of all customers, without one for a bill.
    """
    return [_settle_row(name, bill, floor) for bill in bills if bill.to_settle]


def _settle_row(name: str, bill: HideBill, floor: Floor) -> Row:
    life, sign = bill.life, bill.payments[0].written.unit
    money = money_said(bill.to_settle, sign)
    day = f" {day_said(floor.book.clock, life.ended_when.day, floor.at)}" if life.ended_when is not None else ""
    under = [("", payment_said(payment, sign, floor)) for payment in bill.payments]
    under.append(("", f"{_HOW} `{life.tag} gave back {money}`, {_FOR_ANOTHER} `paid {money}`"))
    said = f"{bill.not_finished}{day}: {money}"
    text = f"{life.tag}, {said}" if name else said
    return Row(head=name or life.tag, text=text, under=tuple(under), plain=(name, life.tag, bill.not_finished, money))


def settling_record(people: Sequence[Account], nobody: Sequence[HideBill]) -> list[dict[str, object]]:
    """The same for a program."""
    rows = [(one.name, bill) for one in people for bill in one.bills] + [("", bill) for bill in nobody]
    return [
        {
            "customer": name or None,
            "tag": bill.life.tag,
            "not_finished": bill.not_finished,
            "money": money_record(bill.to_settle),
            "paid": [_payment_record(payment) for payment in bill.payments],
        }
        for name, bill in rows
        if bill.to_settle
    ]


def account_record(one: Account, floor: Floor) -> dict[str, object]:
    """One account for a program; sums are text with two places, null where something in them is not reckoned."""
    clock = floor.book.clock
    return {
        "customer": one.name,
        "owed_now": None if one.unclear_now else money_record(one.now),
        "owed_in_the_end": None if one.unclear else money_record(one.in_the_end),
        "reckoned_now": money_record(one.now),
        "reckoned_in_the_end": money_record(one.in_the_end),
        "not_reckoned": list(in_order(bill.life.tag for bill in one.unclear)),
        "to_settle": money_record(one.to_settle),
        "hides": [
            {
                "tag": bill.life.tag,
                "kind": bill.life.kind,
                "their_tag": bill.life.codes["their tag"][0].code if "their tag" in bill.life.codes else None,
                "here": bill.life.here,
                "ended_as": bill.life.ended_as or None,
                "not_finished": bill.not_finished or None,
                "state": where_is(bill.life) if bill.life.here else None,
                "ready_since": None if bill.ready is None else local_stamp(clock.day_start(bill.ready), clock)[:10],
                "items": [
                    {"what": item.what, "money": None if item.money is None else money_record(item.money)}
                    for item in bill.items
                ],
                "paid": [_payment_record(payment) for payment in bill.payments],
                "left": None if bill.unclear else money_record(bill.left),
                "to_settle": money_record(bill.to_settle),
            }
            for bill in in_order_of_door(one)
        ],
        "paid_otherwise": [_payment_record(payment) for payment in one.pool],
        "paid_in_other_money": [_payment_record(payment) for payment in one.other_money],
    }


def _payment_record(payment: Payment) -> dict[str, object]:
    place = payment.entry.at
    return {
        "sort": payment.sort,
        "money": money_record(payment.money),
        "currency": payment.written.unit,
        "by": payment.by or None,
        "on": payment.on or None,
        "file": place.file,
        "line": place.line,
    }
