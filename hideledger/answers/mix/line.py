"""The line to write once a bath is mixed, with the amounts as they were measured out; a test reads it back to the same."""

from __future__ import annotations

from hideledger.answers.mix.asked import Wanted
from hideledger.answers.mix.scale import Scaled
from hideledger.answers.mix.words import amount_words
from hideledger.model.shop import Vessel
from hideledger.rules.tubs import free_tag


def line_of(wanted: Wanted, mixed: Scaled, vessel: Vessel | None) -> str:
    """`P4 mixed in V1, recipe pickle, 20 gal water, 20 lb salt`: the tag is the next free one of its sort, a proposal."""
    pieces = [f"{_tag(wanted, vessel)} mixed" + (f" in {vessel.tag}" if vessel is not None else "")]
    pieces.append(f"recipe {wanted.recipe.name}")
    pieces += [f"{amount_words(one.quantity)} {one.stuff.name}" for one in mixed.taken]
    if mixed.filled_to is not None:
        pieces.append(f"topped up to {amount_words(mixed.filled_to)}")
    return ", ".join(pieces)


def _tag(wanted: Wanted, vessel: Vessel | None) -> str:
    """The letters of the bath last mixed by this recipe, else L for a load in a drum and P for a pickle; the next number that nothing bears."""
    floor = wanted.floor
    before = [bath for bath in floor.all_baths() if bath.recipe.casefold() == wanted.recipe.name]
    letters = "L" if vessel is not None and vessel.is_drum else "P"
    if before and before[-1].tag not in wanted.book.vessels:
        letters = before[-1].tag.rstrip("0123456789abcdefghijklmnopqrstuvwxyz")
    return free_tag({*floor.baths, *floor.hides, *wanted.book.vessels}, letters)
