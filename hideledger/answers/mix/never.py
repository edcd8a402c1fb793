"""A recipe in which acid would meet what gives a gas that kills is not mixed, whatever its amounts."""

from __future__ import annotations

from datetime import date

from hideledger.answers.acid.names import NotReckoned
from hideledger.answers.mix.asked import Wanted
from hideledger.answers.mix.supplies import stuff_of
from hideledger.rules.never import gas_that_kills


def never_together(wants: Wanted, day: date) -> None:
    """Refuses it with the place of the recipe. Raises NotReckoned."""
    names = dict.fromkeys(name for basis in wants.recipe.bases for _, name in basis.amounts)
    stuffs = [stuff_of(name, wants.book, day) for name in names]
    never = next((stuff for stuff in stuffs if stuff.never_with_acid), None)
    if never is not None and any(stuff.is_acid for stuff in stuffs):
        raise NotReckoned(f"recipe {wants.recipe.name} ({wants.recipe.place.short}): {gas_that_kills(never.name)}")
