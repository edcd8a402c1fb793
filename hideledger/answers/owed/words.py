"""How an account is said: what is owed, a payment, where a hide is; and the whole of it for a program."""

from __future__ import annotations

from fractions import Fraction

from hideledger.answers.money import money_record, money_said
from hideledger.answers.owed.account import Account, HideBill, Payment
from hideledger.answers.saying import local_stamp, tags_said
from hideledger.answers.standing import spot_of, state_of
from hideledger.rules.answering import answered, waivers
from hideledger.rules.company import slip_nearby
from hideledger.rules.horizon import Horizon
from hideledger.rules.raw import pulled_since
from hideledger.rules.words import day_said, in_order, tag_order
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife


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
    """The tags of those that slipped here, or for which `slip nearby` rings: promised to nobody before a pull has held."""
    known = waivers(floor)
    told = (answered(finding, known, floor) for finding in slip_nearby(floor, horizon))
    found = {tag for finding in told if finding is not None for tag in finding.tags}
    for life in floor.here():
        seen = [one.when.lo for one in life.defects if one.fact.defect == "slip" and not one.at_door]
        if seen and not pulled_since(life, max(seen)):
            found.add(life.tag)
    return frozenset(found)


def owes_said(one: Account) -> str:
    """`owes $42.00 for what is ready or fetched, $134.00 when all is done`."""
    unclear = f", and what has no price: {tags_said(in_order(b.life.tag for b in one.unclear))}" if one.unclear else ""
    now, end = one.now, one.in_the_end
    if now == end:
        return f"{_balance(now, one.sign)}{unclear}"
    said = _balance(now, one.sign) if now < 0 else "owes nothing yet"
    if now > 0:
        said = f"{_balance(now, one.sign)} for what is ready or fetched"
    then = (
        money_said(end, one.sign) if end > 0 else "nothing" if not end else f"{money_said(-end, one.sign)} to the good"
    )
    return f"{said}, {then} when all is done{unclear}"


def _balance(money: Fraction, sign: str) -> str:
    """`owes $42.00`, `owes nothing`, `has $10.00 to the good`."""
    if money > 0:
        return f"owes {money_said(money, sign)}"
    return f"has {money_said(-money, sign)} to the good" if money < 0 else "owes nothing"


def payment_said(payment: Payment, sign: str, floor: Floor) -> str:
    """`deposit Mon 2 Nov: -$50.00 (november.hides:5)`."""
    day = day_said(floor.book.clock, payment.entry.when.day, floor.at)
    by = f" by {payment.by}" if payment.by else ""
    return f"{payment.sort}{by} {day}: -{money_said(payment.money, sign)} ({payment.entry.at.short})"


def account_record(one: Account, floor: Floor) -> dict[str, object]:
    """One account for a program; sums are text with two places."""
    clock = floor.book.clock
    return {
        "customer": one.name,
        "owed_now": money_record(one.now),
        "owed_in_the_end": money_record(one.in_the_end),
        "hides": [
            {
                "tag": bill.life.tag,
                "kind": bill.life.kind,
                "their_tag": bill.life.codes["their tag"][0].code if "their tag" in bill.life.codes else None,
                "here": bill.life.here,
                "ended_as": bill.life.ended_as or None,
                "state": where_is(bill.life) if bill.life.here else None,
                "ready_since": None if bill.ready is None else local_stamp(clock.day_start(bill.ready), clock)[:10],
                "items": [
                    {"what": item.what, "money": None if item.money is None else money_record(item.money)}
                    for item in bill.items
                ],
                "paid": [_payment_record(payment) for payment in bill.payments],
                "left": money_record(bill.left) if bill.counts else None,
            }
            for bill in in_order_of_door(one)
        ],
        "paid_otherwise": [_payment_record(payment) for payment in one.pool],
    }


def _payment_record(payment: Payment) -> dict[str, object]:
    place = payment.entry.at
    return {
        "sort": payment.sort,
        "money": money_record(payment.money),
        "by": payment.by or None,
        "file": place.file,
        "line": place.line,
    }
