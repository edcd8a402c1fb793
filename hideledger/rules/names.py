"""The names of customers: two that are nearly the same may be one person, with two bills."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from hideledger.model.entry import Entry
from hideledger.model.facts import Money
from hideledger.rules.alike import alike_pairs
from hideledger.rules.answering import reason_of
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.words import in_order, who
from hideledger.shopfloor.floor import Floor

_NAME = "two names alike"


@dataclass(slots=True, kw_only=True, eq=False)
class Named:
    """A name as it was written first, the hides it stands for as a payer, and its first line."""

    name: str
    entry: Entry
    tags: list[str]
    lines: int = 0
    known_apart: int | None = None  # when a hide of this name last said, with a reason, that it is nobody else's


def payers(floor: Floor) -> dict[str, Named]:
    """Everybody who gets a bill or paid one, by the name in small letters with single blanks."""
    found: dict[str, Named] = {}
    for life in floor.all_hides():
        party = life.parties.get("for")
        if party is not None and party[0].name:
            named = _put(found, party[0].name, party[1])
            named.tags.append(life.tag)
            for answer in life.waived:
                if answer.fact.finding.casefold() == _NAME and reason_of(answer.entry):
                    named.known_apart = max(named.known_apart or answer.when.hi, answer.when.hi)
    for entry in floor.money:
        for fact in entry.facts:
            if isinstance(fact, Money) and fact.by:
                _put(found, fact.by, entry)
    return found


def _put(found: dict[str, Named], name: str, entry: Entry) -> Named:
    known = found.get(account(name))
    if known is None:
        known = found[account(name)] = Named(name=name, entry=entry, tags=[])
    known.lines += 1
    return known


def account(name: str) -> str:
    """A name as bills are kept by it: capitals and blanks make no other person."""
    return " ".join(name.casefold().split())


def two_names_alike(floor: Floor, _horizon: Horizon) -> Iterable[Finding]:
    """One letter more or less, an accent, an `&` for `and`, and a customer has two bills, each with half of what was paid."""
    defined = {account(person.name) for person in floor.book.shop.customers}
    found = payers(floor)
    for one, other in alike_pairs(found):
        if (one in defined and other in defined) or said_apart(found[one], found[other]):
            continue
        rarer, usual = sorted(
            (found[one], found[other]), key=lambda name: (account(name.name) in defined, name.lines, -name.entry.order)
        )
        tags = in_order(rarer.tags)
        right = (
            f"write: `{who(tags)} for {usual.name}`" if tags else f"strike the line and write it again by {usual.name}"
        )
        waive = f", or write: `{who(tags)} waived two names alike -- why`" if tags else ""
        yield Finding(
            name=_NAME,
            when="record",
            message=f"{rarer.name} and {usual.name}: one customer, or two?",
            do=f"if it is one, {right}; if they are two, give each a line in the shop file: `customer {rarer.name}`{waive}",
            tags=tags,
            entry=rarer.entry,
            place=rarer.entry.at,
            since=max(rarer.entry.when.lo, usual.entry.when.lo),  # from then on there are two
            more=(f"{usual.name} stands at {usual.entry.at.short}",),
            cause=f"names {one} {other}",
        )


def said_apart(one: Named, other: Named) -> bool:
    """Whether a waiver on one of the two was written when the book had the other: a third name is asked about anew."""
    return any(
        named.known_apart is not None and named.known_apart >= like.entry.when.lo
        for named, like in ((one, other), (other, one))
    )
