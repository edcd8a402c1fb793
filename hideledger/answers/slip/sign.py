"""The hide asked about, the first sign on it, and the shop as it stood at that moment."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from hideledger.answers.history.sign import raw_at
from hideledger.answers.saying import counted
from hideledger.answers.whose import lot_said
from hideledger.model.entry import Entry
from hideledger.model.facts import By
from hideledger.model.moments import Clock, When
from hideledger.rules.words import listed, may_stand_in, tag_order, when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife, RawClock
from hideledger.shopfloor.noted import Defect
from hideledger.text.named import TAG_PARTS
from hideledger.text.nearest import nearest


class NoSuchHide(LookupError):
    """No hide of that tag is in the book; the text is one sentence that says what is near."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One hide and one sort of failure, looked at from one moment.

    `sign` is the first time the failure was written in the shop (None: never); `later` what was written of it since;
    `at_door` what was seen on arrival. `until` is the last instant (UTC seconds) at which the sign can have shown, or
    the moment of the answer. `raw` is the raw clock as it stood there.
    """

    floor: Floor
    life: HideLife
    defect: str
    sign: Defect | None
    later: tuple[Defect, ...]
    at_door: tuple[Defect, ...]
    until: int
    raw: RawClock | None

    @property
    def clock(self) -> Clock:
        """The shop's wall clock."""
        return self.floor.book.clock

    @property
    def at(self) -> int:
        """The moment of the answer."""
        return self.floor.at

    def said(self, when: When) -> str:
        """A moment as the sheet says it."""
        return when_said(self.clock, when, self.at)

    def before(self, when: When) -> bool:
        """Whether something can have been before the first sign, or at it."""
        return when.lo <= self.until


def case_of(floor: Floor, tag: str, defect: str) -> Case:
    """The hide of a tag (of the shop's own, or a code it bears) with its first sign. Raises NoSuchHide."""
    lives = _lives(floor, tag)
    # A tag may have begun anew: the skin that failed is the one asked about, else the last.
    life = next((one for one in reversed(lives) if first_sign(one, defect) is not None), lives[-1])
    life = life.before or life  # leather that came back: what did it, it met when it was tanned here
    sign = first_sign(life, defect)
    seen = [one for one in life.defects if one.fact.defect == defect]
    until = floor.at if life.ended_when is None else min(floor.at, life.ended_when.hi)
    raw = life.raw
    if sign is not None:
        until = min(floor.at, sign.when.hi)
        raw = raw_at(floor, life, until)
    return Case(
        floor=floor,
        life=life,
        defect=defect,
        sign=sign,
        later=tuple(one for one in seen if one is not sign and not one.at_door),
        at_door=tuple(one for one in seen if one.at_door),
        until=until,
        raw=raw,
    )


def first_sign(life: HideLife, defect: str) -> Defect | None:
    """The first time a failure was written of a hide in the shop; what was there at the door is no outcome of the shop.

    Of leather that this book tanned and that came back, what is seen on it then is one, at the door too.
    """
    own = next((one for one in life.defects if one.fact.defect == defect and not one.at_door), None)
    if own is not None:
        return own
    return next((one for back in life.came_back for one in back.defects if one.fact.defect == defect), None)


def seen_words(found: Defect) -> str:
    """Where and how large: `neck, left side, bad`, `1 1/2 in`; nothing where nothing was written."""
    fact = found.fact
    size = str(fact.size) if fact.size is not None else "all over" if fact.degree == "total" else fact.degree
    return ", ".join(part for part in (fact.where, size) if part)


def by_whom(entry: Entry) -> str:
    """`, by JK`, where the line says so."""
    names = [fact.who for fact in entry.facts if isinstance(fact, By)]
    return f", by {listed(names)}" if names else ""


def _lives(floor: Floor, tag: str) -> list[HideLife]:
    wanted = tag.strip().casefold()
    for known, lives in floor.hides.items():
        if known.casefold() == wanted:
            return lives
    coded = [
        life
        for life in floor.all_hides()
        if any(fact.code.casefold() == wanted for fact, _ in life.codes.values())
        and life.ended_as not in ("cut", "opened")
    ]
    tags = list(dict.fromkeys(life.tag for life in coded))
    if len(tags) == 1:
        return coded
    if tags:
        raise NoSuchHide(f"{tag} is on {listed(tags)}; give the shop's own tag")
    raise NoSuchHide(_nothing(floor, tag))


def _nothing(floor: Floor, tag: str) -> str:
    for lives in (floor.baths, floor.book.shop.vessels):
        found = next((known for known in lives if known.casefold() == tag.casefold()), None)
        if found is not None:
            return f"{found} is no hide, and only a hide is asked about here; give one that lay in it"
    if (lot := lot_said(floor, tag)) is not None:
        return lot
    near = nearest(tag, floor.hides, least=0.6) or _nearest_number(tag, floor.hides)
    many = "" if floor.hides else f"; there are {counted(0, 'hide')} in it"
    return f"{tag} is not in the book{f'; {near} is' if near else many}{may_stand_in(floor.book, tag)}"


def _nearest_number(tag: str, tags: Iterable[str]) -> str | None:
    """Of the tags with the same letters the one with the nearest number."""
    wanted = TAG_PARTS.fullmatch(tag.upper())
    if wanted is None:
        return None
    numbered = [found for one in tags if (found := TAG_PARTS.fullmatch(one)) and found[1] == wanted[1]]
    near = min(numbered, key=lambda found: (abs(int(found[2]) - int(wanted[2])), tag_order(found[0])), default=None)
    return None if near is None else near[0]
