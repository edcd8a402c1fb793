"""The record of one skin as an officer may ask for it: every field decided, and what the book does not say listed by name.

The fields are those that the rules of several states and 50 CFR 20.82 ask for, taken together (15A NCAC 10H .1003; 4VAC15-290-80; ECL 11-1733;
South Dakota Administrative Rule 41:09:11:03; 5 AAC 92.165 for a bear's seal).
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from hideledger.answers.saying import written_stamp
from hideledger.answers.wording import words_of
from hideledger.model.entry import Entry
from hideledger.model.keeping import Kept, kept_through
from hideledger.model.moments import Clock, When
from hideledger.model.shop import ShopBook
from hideledger.rules.legaltag import skins_of
from hideledger.rules.names import account
from hideledger.rules.words import in_order, listed
from hideledger.shopfloor.custody import Custody
from hideledger.shopfloor.floor import Floor

# Whose skins carry a seal of the state: 5 AAC 92.165 and its like; every other kind has one only where it is written.
_SEALED = frozenset({"bear"})
_GIVEN_UP = re.compile("(?<![A-Za-z0-9])(?:lost|refused)(?![A-Za-z0-9])(.*)", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Somebody with what the shop's `customer` line says of them; nothing of it is guessed."""

    name: str
    address: str = ""
    phone: str = ""
    licence: str = ""

    @property
    def said(self) -> str:
        """`Oren Vale, 12 Mill Road, Tarrow, phone 555-0142`."""
        phone = f"phone {self.phone}" if self.phone else ""
        return ", ".join(part for part in (self.name, self.address, phone) if part)


@dataclass(frozen=True, slots=True, kw_only=True)
class Recorded:
    """One line of the register. `number` counts from 1 over the whole register; stamps are the shop's wall clock.

    `missing` says in words what the book does not; `kept` is None while the skin is here, or where the shop has no line.
    """

    number: int
    custody: Custody
    received: str
    brought_by: Person | None
    owner: Person | None
    hunter: Person | None
    job_for: str
    killed: str
    killed_where: str
    licence: str
    out: str
    to: Person | None
    why: str
    tanning_began: str
    tanning_step: str
    kept: Kept | None
    missing: tuple[str, ...]

    @property
    def tag(self) -> str:
        """The shop's own tag."""
        return self.custody.life.tag

    @property
    def people(self) -> tuple[str, ...]:
        """Everybody whose name stands in it, each once."""
        found = [who.name for who in (self.brought_by, self.owner, self.hunter, self.to) if who is not None]
        return tuple(dict.fromkeys([*found, *([self.job_for] if self.job_for else [])]))

    @property
    def how(self) -> str:
        """`here`, `out`, `lost`, `refused`, `cut` or `opened`."""
        return self.custody.life.ended_as or "here"


def recorded(floor: Floor, records: tuple[Custody, ...]) -> tuple[Recorded, ...]:
    """The whole register, in order of arrival."""
    clock, shop = floor.book.clock, floor.book.shop
    people = {account(one.name): dict(one.lines) for one in shop.customers}
    last = max((entry.when.day for one in records for entry in one.life.lines), default=None)
    last_line = None if last is None else date.fromordinal(last)
    made = [_recorded(number, one, people, shop, clock, last_line) for number, one in enumerate(records, start=1)]
    shared = _shared_codes(made, floor)
    return tuple(
        replace(one, missing=(*one.missing, *shared.get(one.number, ()), *_second_arrivals(one.custody)))
        for one in made
    )


def _shared_codes(made: Sequence[Recorded], floor: Floor) -> dict[int, list[str]]:
    """A legal tag or a seal belongs to one skin: the parts of one that was cut share it, and one that comes in again bears it lawfully."""
    found: dict[int, list[str]] = {}
    for sort in ("tag", "seal"):
        bearers: dict[str, list[Recorded]] = {}
        for one in made:
            code = one.custody.code(sort)
            if code and (one.custody.whole is None or one.custody.whole.life.box):
                bearers.setdefault(code.casefold(), []).append(one)
        for several in bearers.values():
            skins = skins_of(floor, [one.custody.life for one in several], sort)
            of = {id(life): number for number, skin in enumerate(skins) for life in skin}
            for one in several:
                mine = of.get(id(one.custody.life))
                others = [other.tag for other in several if of.get(id(other.custody.life)) not in (None, mine)]
                if mine is not None and others:
                    own = "a legal tag" if sort == "tag" else "a seal"
                    said = f"{own} of its own ({one.custody.code(sort)} is on {listed(in_order(others)[:3])} too)"
                    found.setdefault(one.number, []).append(said)
    return found


def _second_arrivals(one: Custody) -> list[str]:
    """What came in under a tag that was taken has no record of its own until it gets a tag."""
    return [f"another tag for what came in under this one too ({entry.at.short})" for entry in one.life.twice_in]


def person(name: str, people: Mapping[str, Mapping[str, str]]) -> Person | None:
    """A name with its `customer` line; None where no name is written."""
    if not name:
        return None
    known = people.get(account(name), {})
    return Person(
        name=name,
        address=known.get("address", ""),
        phone=known.get("phone", ""),
        licence=known.get("licence", ""),
    )


def _recorded(
    number: int,
    one: Custody,
    people: Mapping[str, Mapping[str, str]],
    shop: ShopBook,
    clock: Clock,
    last_line: date | None,
) -> Recorded:
    life = one.life
    owner = person(one.owner, people)
    brought = person(one.party("from") or one.person_for or one.owner, people)
    hunter = person(one.party("hunter"), people)
    killed = one.killed
    tanning = one.tanning
    to = person(life.handed_to, people) if life.ended_as == "out" else None
    licence = one.code("licence") or next((who.licence for who in (hunter, owner) if who and who.licence), "")
    kept = kept_through(
        shop.shop.kept,
        came=date.fromordinal(life.arrived_when.day),
        left=one.left,
        last_line=last_line,
    )
    made = Recorded(
        number=number,
        custody=one,
        received=written_stamp(life.arrived_when, clock) if life.declared else "",
        brought_by=brought,
        owner=owner,
        hunter=hunter,
        job_for=life.payer,
        killed=_kill_stamp(one),
        killed_where=killed.where if killed is not None else "",
        licence=licence,
        out=_out_stamp(life.ended_when, life.ended, clock),
        to=to,
        why="" if life.ended is None else reason_at_end(life.ended),
        tanning_began="" if tanning is None else written_stamp(tanning.when, clock),
        tanning_step="" if tanning is None else tanning.line.title if tanning.line is not None else tanning.name,
        kept=kept,
        missing=(),
    )
    return _with_missing(made, shop.shop.name)


def reason_at_end(entry: Entry) -> str:
    """Why it was lost or refused: all that stands behind that word, with a dash before it, in brackets or bare; else the remark."""
    found = _GIVEN_UP.search(words_of(entry))
    if found is None:
        return entry.remark
    words = found[1].split()
    while words and words[0].strip(",&+").casefold() in {"", "and", *(tag.casefold() for tag in entry.tags)}:
        words.pop(0)  # `lost H41, slipped all over`
    said = " ".join(words).strip(" ,:–—-")
    return entry.remark if not said or said.strip("()") == entry.remark else said


def _out_stamp(when: When | None, entry: Entry | None, clock: Clock) -> str:
    return "" if when is None or entry is None else written_stamp(entry.when if entry.when.timed else when, clock)


def _kill_stamp(one: Custody) -> str:
    """As it was written: the day, and the time where one was."""
    killed = one.killed
    stamp = None if killed is None else killed.stamp
    if stamp is None:
        return ""
    day = stamp.day.isoformat()
    return day if stamp.minute is None else f"{day} {stamp.minute // 60:02d}:{stamp.minute % 60:02d}"


def wants_seal(one: Custody) -> bool:
    """Whether a skin of this kind carries a seal of the state."""
    return any(word in _SEALED for word in one.life.kind.casefold().split())


def _with_missing(made: Recorded, shop: str) -> Recorded:
    return replace(made, missing=tuple(dict.fromkeys(_missing(made, shop))))


def _missing(made: Recorded, shop: str) -> list[str]:
    one = made.custody
    life = one.life
    if one.whole is not None and not one.whole.life.box:
        return []  # told of the whole that it was cut from: one skin, one record
    lacks: list[str] = []
    if not life.declared:
        lacks.append("when it came in")
    if made.owner is None:
        lacks.append("whose it is")
    if life.ended_as in ("lost", "refused") and not made.why:
        lacks.append(f"why {life.ended_as}")
    if life.ended_as == "refused" and life.ended is life.arrived:
        return lacks  # never taken into custody: the day, who came with it and why are the whole record
    if not life.kind:
        lacks.append("kind")
    for who in (made.owner, made.brought_by, made.hunter, made.to):
        if who is None or account(who.name) == account(shop):
            continue  # where the shop itself is to be found an officer knows
        if not who.address:
            lacks.append(f"address of {who.name}")
        if not who.phone and who is made.owner:
            lacks.append(f"phone of {who.name}")
    if life.box or (one.parts and life.ended_as == "opened"):
        return lacks  # the rest is asked of each skin in it
    if not life.sex:
        lacks.append("sex")
    if not made.killed:
        lacks.append("when killed")
    if not made.killed_where:
        lacks.append("where killed")
    if not made.licence:
        lacks.append("licence")
    if not one.code("tag"):
        lacks.append("legal tag")
    if wants_seal(one) and not one.code("seal"):
        lacks.append("seal")
    return lacks
