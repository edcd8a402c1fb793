"""From when on a bath was past its life, by the shop's own lines: so long after it was mixed, or so many pounds of skin put through."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from hideledger.answers.amounts import pounds_a_bath_takes, weight_words
from hideledger.model.entry import Entry
from hideledger.model.moments import When
from hideledger.rules.words import when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife
from hideledger.shopfloor.loads import gone_through
from hideledger.text.place import Place

_ROUNDING = 1 + 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Worn:
    """A bath is past its life from `when` on; `said` why, `line` the line of the book it comes from, `rule` the shop's line."""

    when: When
    said: str
    line: Entry
    rule: Place


def worn_by(floor: Floor, bath: BathLife) -> Iterator[Worn]:
    """Each limit of the shop that a bath came to the end of: of its days, and of the skin put through it."""
    recipe = floor.book.shop.recipe_named(bath.recipe)
    if recipe is None:
        return
    clock, rule = floor.book.clock, recipe.lasts_place or recipe.place
    if recipe.lasts is not None:
        lo, hi = recipe.lasts.after(bath.made_when.lo, clock), recipe.lasts.after(bath.made_when.hi, clock)
        said = f"mixed {when_said(clock, bath.made_when, floor.at)}, and {recipe.name} lasts {recipe.lasts}"
        yield Worn(when=When(lo, hi, clock.day_of(lo), lo == hi), said=said, line=bath.made, rule=rule)
    most = pounds_a_bath_takes(recipe, bath)
    if most is None:
        return
    for member, through, _ in gone_through(floor, bath):
        if through > most * _ROUNDING:
            shop = floor.book.shop.shop
            said = f"{weight_words(through, shop)} of skin put through with {member.hide.tag}, and it lasts {weight_words(most, shop)}"
            yield Worn(when=member.enter, said=said, line=member.stay.mark.entry, rule=rule)
            return


def lay_in_a_worn_one(floor: Floor, bath: BathLife, lo: int, hi: int) -> bool | None:
    """Whether a skin that left a bath between two instants (UTC seconds) had lain in it past its life.

    None where nobody can tell: one of the two has no time, or skins went in that nobody weighed.
    """
    ends = list(worn_by(floor, bath))
    if any(end.when.hi < lo for end in ends):
        return True
    if any(end.when.lo < hi for end in ends):
        return None
    recipe = floor.book.shop.recipe_named(bath.recipe)
    if pounds_a_bath_takes(recipe, bath) is None:
        return False
    unweighed = any(count for member, _, count in gone_through(floor, bath) if member.enter.lo < hi)
    return None if unweighed else False
