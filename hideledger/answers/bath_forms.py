"""In which form the acids of a bath of the book went in: as its lines and the shop's supply lines say it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from hideledger.answers.acid.names import Meant
from hideledger.model.entry import Entry
from hideledger.model.facts import Amount
from hideledger.rules.bath_put_in import PutIn, by_recipe, put_in
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife
from hideledger.trade.chemicals import CHEMICALS


def _all_put_in(bath: BathLife, floor: Floor) -> Iterator[tuple[Entry, Amount, PutIn]]:
    """What was put into it, line by line: the line, the amount, and what that is by the shop's lines of that day."""
    shop = floor.book.shop
    recipe = shop.recipes.get(bath.recipe.casefold()) if bath.recipe else None
    made = (*bath.amounts, *(by_recipe(recipe, bath.amounts) if recipe is not None else ()))
    lines = [(bath.made, bath.made_when, amount) for amount in made]
    lines += [(dose.entry, dose.when, amount) for dose in bath.doses for amount in dose.amounts]
    for entry, when, amount in lines:
        yield entry, amount, put_in(amount, shop, date.fromordinal(when.day))


def forms_taken(bath: BathLife, floor: Floor) -> list[str]:
    """Which form of an acid was taken where neither the line nor the shop says it."""
    found = dict[str, str]()
    for _, amount, part in _all_put_in(bath, floor):
        if len(part.forms) > 1:
            found[amount.supply] = part.forms[part.usual][0].partition(", ")[2]
    return [
        f"{name}: crystals or anhydrous is not written; {form}, the usual, was taken (`supply {name} or {name} {form}` says it)"
        for name, form in found.items()
    ]


def forms_written(bath: BathLife, floor: Floor) -> tuple[Meant, ...]:
    """Which forms it was made with, where a line says so."""
    return tuple(
        Meant(chemical=CHEMICALS[part.forms[0][0]], by=f"what {bath.tag} was made with ({entry.at.short})")
        for entry, _, part in _all_put_in(bath, floor)
        if len(part.forms) == 1
    )
