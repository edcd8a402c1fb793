"""The kind of a skin: a word at the door that seems to be one, and that the shop file does not name."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from hideledger.model.brought import AGES, ANIMALS, LIKE_A_LOOK, LOOKED_AT, SKINS, animals_of, one_of
from hideledger.model.entry import Entry
from hideledger.model.facts import Arrived, Divided, OfKind, Remark
from hideledger.model.moments import When
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.spans import arrival_unread
from hideledger.rules.telling import TAGS, of_hide
from hideledger.rules.words import when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.text.nearest import nearest, slip_of

_MOST_WORDS = 3
_MOST_OF_A_SKIN = 6  # words that end in what is brought, a skin or a cape
_MARKS_IN_WORDS = str.maketrans("", "", "-'’")
# `cape of a mule deer`, `a moose`
_SAID_OF_IT = re.compile(r"^(?:(?:of|from)\s+)?(?:an?|one|the)\s+(?=\S)|^of\s+(?=\S)", re.IGNORECASE)
_LONG = 5  # letters from which on a slip may be told: `pit` is no pig


def unknown_kind(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """The kind says what way a skin goes, what it costs, and what an officer counts: a word that names none is lost for all three."""
    shop = floor.book.shop
    kinds = sorted(shop.kinds_by_name())
    for life in horizon.lives:
        text = seems_a_kind(life, kinds)
        if not text:
            continue
        entry, written = _line_of(life, floor)
        meant = _righted(text)
        near = nearest(meant, kinds) or _one_with(meant, kinds)
        if near is not None and animals_of(near.split()) != animals_of(meant.split()):
            near = None  # an elk is not what somebody meant who wrote a deer
        hint = near or (meant if meant != text.casefold() else "")
        taken = f"and it is written down as {life.kind}" if life.kind else "and no other is written of it"
        again = f"write what it is: `{TAGS} {near}`; else "
        yield of_hide(
            life,
            name="unknown kind",
            when="record",
            message=f"`{text}` is no kind of the shop, {taken}{f'; did you mean {hint}?' if hint else ''}, "
            f"{when_said(horizon.clock, written, horizon.at)}",
            do=(again if near else "if it is a kind, ")
            + f"write it into the shop file at the margin: `kind {meant}`"
            + ("" if meant == text.casefold() and not life.kind else f", and then of {TAGS} that it is one")
            + "; what is only a remark goes behind a dash",
            entry=entry,
            may=not shop.whole,
            since=written.lo,
            ended=not any(one is life or life.tag in (one.from_box, one.parent) for one in horizon.here),
            cause=f"kind {text.casefold()} {life.kind}",
        )


def seems_a_kind(life: HideLife, kinds: Sequence[str]) -> str:
    """The words on its own arrival line that stand where a kind would; nothing where one is known, or they are a look at it."""
    if life.parent:
        return _part_of_another_name(life, kinds) if kinds else ""
    if life.from_box or arrival_unread(life):
        return ""
    entry = life.arrived
    if life.tag not in entry.tags:
        return ""
    if life.kind:
        return _beside_its_kind(life)
    if any(isinstance(fact, OfKind) for fact in entry.facts):
        return ""
    facts = [fact for fact in entry.facts if not isinstance(fact, Arrived)]
    for number, fact in enumerate(facts):
        if not isinstance(fact, Remark) or fact.text == entry.remark:
            continue
        text = _SAID_OF_IT.sub("", fact.text)
        words = text.casefold().split()
        most = _MOST_OF_A_SKIN if one_of(words[-1]) in SKINS else _MOST_WORDS
        if len(words) > most or not all(word.translate(_MARKS_IN_WORDS).isalpha() for word in words):
            continue
        if any(word in LOOKED_AT for word in words):
            continue
        last = one_of(words[-1])
        names_one = last in ANIMALS or last in SKINS or (len(last) >= _LONG and slip_of(last, ANIMALS) is not None)
        # A word nobody knows, in the very place of the kind, of a shop that names its kinds.
        in_its_place = bool(kinds) and number == 0 and len(words) <= 2 and not any(map(LIKE_A_LOOK.fullmatch, words))
        if names_one or in_its_place:
            return text
    return ""


def _beside_its_kind(life: HideLife) -> str:
    """`in, mule deer, cape`, `in, cape, mule deer`: another animal, said in front of the kind that the line names, or just that behind it."""
    facts = [fact for fact in life.arrived.facts if not isinstance(fact, Arrived)]
    number = next((number for number, fact in enumerate(facts) if isinstance(fact, OfKind)), 0)
    said = facts[number] if facts else None
    if not isinstance(said, OfKind) or said.kind != life.kind:
        return ""  # what it is was written again, on a later line
    own = animals_of(life.kind.split())
    for place, fact in enumerate(facts):
        if not isinstance(fact, Remark) or fact.text == life.arrived.remark:
            continue
        text = _SAID_OF_IT.sub("", fact.text)
        words = text.casefold().split()
        others = animals_of(words) - own - AGES
        if not others or len(words) > _MOST_WORDS or any(word in LOOKED_AT for word in words):
            continue
        if place < number or all(one_of(word) in ANIMALS | SKINS for word in words):
            return text  # behind the kind free words are many (`dog bite at the neck`): only what says nothing else
    return ""


def _one_with(meant: str, kinds: Sequence[str]) -> str | None:
    """The one kind of the shop whose name has all these words in it: `elk` where there is an elk cape."""
    words = {one_of(word) for word in meant.split()}
    found = [kind for kind in kinds if words <= {one_of(word) for word in kind.split()}]
    return found[0] if len(found) == 1 else None


def _part_of_another_name(life: HideLife, kinds: Sequence[str]) -> str:
    """`H11b back skin`: a part that is a skin by a name of its own, and no kind of the shop, goes on as what it was cut from."""
    words = [one_of(word) for word in life.what.split()]
    if not life.kind or not words or words[-1] not in SKINS or set(words) <= set(life.kind.casefold().split()):
        return ""
    told_later = any(
        life.tag in entry.tags and any(isinstance(fact, OfKind) for fact in entry.facts) for entry in life.lines
    )
    return "" if told_later or life.what.casefold() in kinds else life.what


def _line_of(life: HideLife, floor: Floor) -> tuple[Entry, When]:
    """The line that said what it is: of a part the one on which it was cut off, else that of its arrival."""
    for whole in floor.hides.get(life.parent, ()) if life.parent else ():
        cut = whole.ended if whole.ended_as == "cut" else None
        if (
            cut is not None
            and whole.ended_when is not None
            and any(isinstance(fact, Divided) and life.tag in dict(fact.parts) for fact in cut.facts)
        ):
            return cut, whole.ended_when
    return life.arrived, life.arrived_when


def _righted(text: str) -> str:
    """The words with slips of the fingers put right, as far as they are words of the trade."""
    known = ANIMALS | SKINS
    return " ".join(
        word if word in known else slip_of(word, known if len(word) >= _LONG else ()) or word
        for word in text.casefold().split()
    )
