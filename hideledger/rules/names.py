"""The names of customers: two that are nearly the same may be one person, with two bills."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from hideledger.model.entry import Entry
from hideledger.model.facts import Money
from hideledger.rules.answering import reason_of
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.words import in_order, who
from hideledger.shopfloor.floor import Floor
from hideledger.text.nearest import slips_between

_NAME = "two names alike"
_MOST_SLIPS = 2


@dataclass(slots=True, kw_only=True, eq=False)
class Named:
    """A name as it was written first, the hides it stands for as a payer, and its first line."""

    name: str
    entry: Entry
    tags: list[str]
    lines: int = 0
    known_apart: bool = False  # a hide of this name says, with a reason, that it is nobody else's


def payers(floor: Floor) -> dict[str, Named]:
    """Everybody who gets a bill or paid one, by the name in small letters with single blanks."""
    found: dict[str, Named] = {}
    for life in floor.all_hides():
        party = life.parties.get("for")
        if party is not None and party[0].name:
            named = _put(found, party[0].name, party[1])
            named.tags.append(life.tag)
            named.known_apart = named.known_apart or any(
                answer.fact.finding.casefold() == _NAME and reason_of(answer.entry) for answer in life.waived
            )
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
    """One letter more or less, and a customer has two bills, each with half of what was paid."""
    defined = {account(person.name) for person in floor.book.shop.customers}
    found = payers(floor)
    for one, other in _alike(found, defined):
        if found[one].known_apart or found[other].known_apart:
            continue  # whichever of the two it was written on
        rarer, usual = sorted((found[one], found[other]), key=lambda name: (account(name.name) in defined, name.lines))
        tags = in_order(rarer.tags)
        right = f"`{who(tags)} for {usual.name}`" if tags else f"strike the line and write it again by {usual.name}"
        waive = f", or write: `{who(tags)} waived two names alike -- why`" if tags else ""
        yield Finding(
            name=_NAME,
            when="record",
            message=f"{rarer.name} and {usual.name}: one customer, or two?",
            do=f"if it is one, write: {right}; if they are two, give each a line in the shop file: `customer {rarer.name}`{waive}",
            tags=tags,
            entry=rarer.entry,
            place=rarer.entry.at,
            since=rarer.entry.when.lo,
            more=(f"{usual.name} stands at {usual.entry.at.short}",),
            cause=f"names {one} {other}",
        )


def _alike(names: Iterable[str], defined: set[str]) -> Iterator[tuple[str, str]]:
    """Pairs of names that a slip of the fingers, an initial, or the order of the words makes of one another."""
    row = sorted(names)
    for number, one in enumerate(row):
        for other in row[number + 1 :]:
            if not (one in defined and other in defined) and alike(one, other):
                yield one, other


def alike(one: str, other: str) -> bool:
    """Whether two names, in small letters, may well be one person's: a slip or two in a word, an initial, words in another order."""
    first, second = _words(one), _words(other)
    if first == second or sorted(first) == sorted(second):
        return True
    if len(first) != len(second):
        return False
    slips = 0
    for word, like in zip(first, second, strict=True):
        if word == like:
            continue
        short, long = sorted((word, like), key=len)
        if len(short) == 1 and long.startswith(short):
            continue  # an initial
        count = slips_between(word, like)
        # `Ida` and `Ada` are two people; in a longer word one letter is a slip, and `Vail` sounds as `Vale`.
        if len(short) < 4 or count > (1 if len(short) < 7 and _sound(word) != _sound(like) else _MOST_SLIPS):
            return False
        slips += count
    return slips <= _MOST_SLIPS


def _sound(word: str) -> str:
    """The first letter, and the consonants behind it, doubled ones once."""
    heard = word[:1]
    for letter in word[1:]:
        if letter not in "aeiouyh" and letter != heard[-1]:
            heard += letter
    return heard


def _words(name: str) -> list[str]:
    return [word.strip(".,'’") for word in name.replace(",", " ").split()]
