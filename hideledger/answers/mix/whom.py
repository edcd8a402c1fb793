"""For which skins a bath is mixed: those of the book by their tags, those in a bath, or so many of a kind."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from hideledger.answers.acid.names import NotReckoned
from hideledger.model.shop import Kind, ShopBook
from hideledger.model.units import plain_number
from hideledger.reading.asking_mix import MixAsked, no_kind
from hideledger.rules.words import who
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.text.nearest import nearest

# Any skin, of no kind of the shop's: it counts for one.
_ANY = frozenset(["cape", "capes", "pelt", "pelts", "fur", "furs"])


def by_kinds(asked: MixAsked, shop: ShopBook) -> MixAsked:
    """The request with `4 capes` and `2 elk capes` counted by the kinds of the shop. Raises Unreadable for what is none."""
    if not asked.kinds:
        return asked
    kinds = shop.kinds_by_name()
    heads, counts = asked.heads or Decimal(0), asked.counts or Decimal(0)
    for some in asked.kinds:
        kind = _kind(some.name, kinds)
        if kind is None and some.name not in _ANY:
            raise no_kind(some, kinds)
        heads += some.number
        counts += some.number * (kind.counts if kind is not None else 1)
    return replace(asked, heads=heads, counts=counts)


def _kind(name: str, kinds: dict[str, Kind]) -> Kind | None:
    """The kind of that name, or of one that it is the plural of."""
    singular = name.removesuffix("s")
    return kinds.get(name) or kinds.get(singular) or kinds.get(name.removesuffix("es"))


def lives_of(asked: MixAsked, floor: Floor) -> tuple[HideLife, ...]:
    """The hides named, or those in the bath named. Raises NotReckoned for one that is not here."""
    if asked.everyone:
        standing = [bath for bath in floor.standing() if asked.everyone in (bath.tag, bath.vessel)]
        if not standing:
            raise NotReckoned(
                f"no bath {asked.everyone} stands now{_like(asked.everyone, [bath.tag for bath in floor.standing()])}"
            )
        inside = [member.hide for member in standing[-1].now_in if member.hide.tag not in asked.but]
        if not inside:
            raise NotReckoned(f"nobody is in {asked.everyone} now")
        return tuple(inside)
    found: list[HideLife] = []
    for tag in asked.tags:
        if tag in asked.but:
            continue
        life = floor.hides[tag][-1] if floor.hides.get(tag) else None
        if life is None or not life.declared:
            broken = next((one for one in floor.book.unread if not one.definition and tag in one.tags), None)
            if broken is not None and tag not in floor.baths:
                raise NotReckoned(
                    f"{tag}: a line about it could not be read ({broken.place}): {broken.message}; right it first"
                )
            raise NotReckoned(f"{tag} is no hide of this book{_bath_or_like(tag, floor)}")
        if not life.here:
            raise NotReckoned(
                f"{tag} is not here any more: {life.ended_as}{f', {life.ended.at.short}' if life.ended is not None else ''}"
            )
        found.append(life)
    if asked.heads is not None and found and asked.heads != sum(life.count if life.box else 1 for life in found):
        raise NotReckoned(
            f"{plain_number(asked.heads)} hides, and {who(life.tag for life in found)}: which of the two?"
        )
    return tuple(found)


def _like(tag: str, known: Sequence[str] | dict[str, list[HideLife]]) -> str:
    near = nearest(tag, known, least=0.5)
    return f"; did you mean {near}?" if near else ""


def _bath_or_like(tag: str, floor: Floor) -> str:
    """What it may be meant for: a bath's tag stands for nobody, but `all in P3` does."""
    if tag in floor.baths or tag in floor.book.shop.vessels:
        what = "a bath" if tag in floor.baths else "a vessel"
        return f" but {what}: `for all in {tag}` is for the skins in it" + (
            "" if what == "a bath" else f", `in {tag}` to mix in it"
        )
    return _like(tag, floor.hides)
