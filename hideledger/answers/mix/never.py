"""A recipe in which acid or ammonia would meet what gives a gas that kills is not mixed, whatever its amounts."""

from __future__ import annotations

from datetime import date

from hideledger.answers.acid.names import NotReckoned
from hideledger.answers.mix.asked import Wanted
from hideledger.answers.mix.supplies import stuff_of
from hideledger.rules.never import gas_that_kills, is_acid_by_name, met


def never_together(wants: Wanted, day: date) -> None:
    """Refuses it with the place of the recipe. Raises NotReckoned."""
    names = dict.fromkeys(name for basis in wants.recipe.bases for _, name in basis.amounts)
    pair = met(stuff_of(name, wants.book, day).names for name in names)
    if pair is not None:
        never, other = pair
        plain = "acid" if is_acid_by_name(other) else f"`{other}`"
        raise NotReckoned(f"recipe {wants.recipe.name} ({wants.recipe.place.short}): {gas_that_kills(never, plain)}")
