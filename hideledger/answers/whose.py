"""Whom a request means: hides by their tags, by a legal tag or another shop's own, or by the name of a person."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from hideledger.model.entry import Entry
from hideledger.model.facts import By, Money
from hideledger.rules.names import account
from hideledger.rules.onhand import holdings
from hideledger.rules.words import listed, may_stand_in
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.text.nearest import nearest

NOBODY = "nobody named"  # whose a hide is where no line says whom it is for
_NUMBERED = re.compile("([A-Z]{1,4}-?)([0-9]{1,6})")


class NothingFound(LookupError):
    """Nothing and nobody of that name is in the book: no tag, code, place, supply, lot or person. The text says what is near."""


def lot_said(floor: Floor, name: str) -> str | None:
    """What a name is that is no tag but the lot of a supply in the book, and who tells of it; None where it is none."""
    wanted = " ".join(name.split()).casefold().removeprefix("lot ")
    lots = {line.move.lot.casefold(): (line.move.lot, held) for held in holdings(floor).values() for line in held.lines}
    if not wanted or wanted not in lots:
        return None
    lot, held = lots[wanted]
    return f"{lot} is a lot of {held.name} and no hide; hideledger stock {lot} tells of it"


def hides_meant(floor: Floor, about: Sequence[str]) -> list[HideLife] | None:
    """The hides that tags or codes name, in the order of asking; None where the words are neither, and may be a name.

    Raises NothingFound where some of the words are tags and one is nothing that is known.
    """
    words = [word.rstrip(",").casefold() for word in about]
    known = {tag.casefold(): tag for tag in floor.hides}
    by_code = _lives_by_code(floor)
    whole = " ".join(" ".join(about).split()).casefold()
    if whole in by_code and not all(word in known for word in words):
        return by_code[whole]
    found: dict[int, HideLife] = {}
    missing = []
    for word, written in zip(words, about, strict=True):
        lives = floor.hides[known[word]] if word in known else by_code.get(word, [])
        found.update((id(life), life) for life in lives)
        if not lives:
            missing.append(written.rstrip(","))
    if not found:
        return None
    if missing:
        if (lot := lot_said(floor, missing[0])) is not None:
            raise NothingFound(lot)
        near = nearest(missing[0], floor.hides, least=0.6) or near_number(missing[0], floor.hides)
        raise NothingFound(
            f"{missing[0]} is not in the book{f'; {near} is' if near else ''}; ask for tags, or for one name"
        )
    return list(found.values())


def _lives_by_code(floor: Floor) -> dict[str, list[HideLife]]:
    """Hides by their legal tags, seals and other shops' tags, in small letters."""
    found: dict[str, list[HideLife]] = {}
    for life in floor.all_hides():
        for code in dict.fromkeys(fact.code.casefold() for fact, _ in life.codes.values()):
            found.setdefault(code, []).append(life)
    return found


def near_number(word: str, tags: Iterable[str]) -> str | None:
    """Of the tags with the same letters the one with the nearest number; as words short tags are too unlike."""
    wanted = _NUMBERED.fullmatch(word.upper())
    if wanted is None:
        return None
    numbered = [found for tag in tags if (found := _NUMBERED.fullmatch(tag)) and found[1] == wanted[1]]
    near = min(numbered, key=lambda found: (abs(int(found[2]) - int(wanted[2])), found[0]), default=None)
    return None if near is None else near[0]


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
    if (lot := lot_said(floor, name)) is not None:
        raise NothingFound(lot)
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


def concerns(life: HideLife, name: str) -> bool:
    """Whether a hide has to do with a person: for, from, hunter or owner."""
    return any(account(party.name) == account(name) for party, _ in life.parties.values())


def signed_by(entry: Entry) -> str:
    """Who wrote or did it, as far as the line says; empty where it is not signed."""
    return next((fact.who for fact in entry.facts if isinstance(fact, By)), "")
