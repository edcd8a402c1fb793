"""Whom a request means: hides by their tags, by a legal tag or another shop's own, or by the name of a person."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from hideledger.model.facts import Money
from hideledger.rules.names import account
from hideledger.rules.words import listed, may_stand_in
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.text.nearest import nearest


class NothingFound(LookupError):
    """Nothing and nobody of that name is in the book; the text says what is near."""


def hides_meant(floor: Floor, about: Sequence[str]) -> list[HideLife] | None:
    """The hides that tags or codes name; None where the words are neither, and may be a name."""
    name = " ".join(" ".join(about).split())
    known = {tag.casefold(): tag for tag in floor.hides}
    words = [word.rstrip(",").casefold() for word in about]
    if words and all(word in known for word in words):
        return [life for word in dict.fromkeys(words) for life in floor.hides[known[word]]]
    bare = name.casefold()
    by_code = [
        life for life in floor.all_hides() if any(code.code.casefold() == bare for code, _ in life.codes.values())
    ]
    return by_code or None


def person_meant(floor: Floor, about: Sequence[str]) -> str:
    """The name of the one person that the words mean: the whole of it, or some of its words. Raises NothingFound."""
    name = " ".join(" ".join(about).split())
    people = names_of_people(floor)
    wanted = account(name)
    if wanted in people:
        return people[wanted]
    words = set(wanted.split())
    found = [shown for key, shown in people.items() if words <= set(key.split())]
    if len(found) == 1:
        return found[0]
    if found:
        raise NothingFound(f"{name} could be {listed(sorted(found)).replace(' and ', ' or ')}; give the whole name")
    near = nearest(name, [*people.values(), *floor.hides], least=0.6)
    if near is None:  # one word of a name, misspelt
        by_word = {word: shown for key, shown in people.items() for word in key.split()}
        near = by_word.get(nearest(name, by_word) or "")
    raise NothingFound(f"{name} is not in the book{f'; {near} is' if near else ''}{may_stand_in(floor.book, name)}")


def names_of_people(floor: Floor) -> dict[str, str]:
    """Everybody who has to do with a hide, paid, or has a line in the shop file; by the name in small letters."""
    found: dict[str, str] = {}
    for person in floor.book.shop.customers:
        found.setdefault(account(person.name), person.name)
    for name in _written(floor):
        found.setdefault(account(name), name)
    found.pop("", None)
    return found


def _written(floor: Floor) -> Iterable[str]:
    for life in floor.all_hides():
        yield from (party.name for party, _ in life.parties.values())
    for entry in floor.money:
        yield from (fact.by for fact in entry.facts if isinstance(fact, Money) and fact.by)


def paid_for_by(life: HideLife, name: str) -> bool:
    """Whether a hide's bill goes to a person."""
    return account(life.payer) == account(name)


def concerns(life: HideLife, name: str) -> bool:
    """Whether a hide has to do with a person: for, from, hunter or owner."""
    return any(account(party.name) == account(name) for party, _ in life.parties.values())
