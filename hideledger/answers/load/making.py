"""A bath or load that has to be made before skins go in: its line with the amounts as `mix` reckons them, and from where its size was taken."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from hideledger.answers.acid.names import NotReckoned
from hideledger.answers.amounts import volume_words
from hideledger.answers.mix.asked import Wanted, wanted
from hideledger.answers.mix.line import line_of
from hideledger.answers.mix.never import never_together
from hideledger.answers.mix.scale import scaled
from hideledger.answers.mix.strength import strength_of
from hideledger.answers.mix.supplies import WATER
from hideledger.answers.mix.vessel import fits
from hideledger.answers.mix.words import amount_words
from hideledger.model.process import Step
from hideledger.model.shop import Vessel, as_of
from hideledger.reading.asking_mix import mix_asked
from hideledger.reading.trouble import Unreadable
from hideledger.rules.words import who
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife

# Of the room beside the skins so much is filled where no bath before says it: the rest is for salt, stirring and hands (our own figure).
_FILLED = 0.8


@dataclass(frozen=True, slots=True, kw_only=True)
class Making:
    """The line without its date. `request` is what to ask for all of it, empty where no amounts are known; `note` from where the size is, or why there is none."""

    line: str
    request: str = ""
    amounts: str = ""
    note: str = ""
    litres: float | None = None


def making_of(floor: Floor, tag: str, steps: Sequence[Step], tags: Sequence[str], vessel: Vessel, day: int) -> Making:
    """How a bath for one load is made: by the recipe of its step, to the size that the recipe or the baths before say."""
    bare = f"{tag} mixed in {vessel.tag}"
    recipe = recipe_for(floor, steps)
    if not recipe:
        return Making(line=bare, note=_no_recipe(floor, bare, steps))
    line, why = f"{bare}, recipe {recipe}", ""
    vessel = as_of(vessel, date.fromordinal(day))
    for size, note in _sizes(floor, recipe, tags, vessel):
        request = " ".join(part for part in (recipe, size, "for", who(tags), "in", vessel.tag) if part)
        try:
            wants = wanted(mix_asked(request, gallons=floor.book.shop.shop.gallons), floor, date.fromordinal(day))
            return _made(wants, vessel, day, tag, note, f"mix {request}")
        except (NotReckoned, Unreadable) as trouble:
            why = why or str(trouble)
    return Making(line=line, note=f"its amounts are not known: {why}")


def _no_recipe(floor: Floor, bare: str, steps: Sequence[Step]) -> str:
    """Which recipe is meant nobody can tell: the first that no step of the shop is called by is the example."""
    named = {
        name.casefold()
        for versions in floor.book.shop.processes.values()
        for process in versions
        for step in process.steps
        for name in (step.name, *step.others)
    }
    example = next((recipe.name for name, recipe in floor.book.shop.recipes.items() if name not in named), "")
    how = f"name yours behind it, as in `{bare}, recipe {example}`" if example else "write behind `mixed` what went in"
    return f"no recipe is called {' or '.join(dict.fromkeys(step.name for step in steps))}, and none was used for it before: {how}"


def _made(wants: Wanted, vessel: Vessel, day: int, tag: str, note: str, request: str) -> Making:
    at = date.fromordinal(day)
    never_together(wants, at)
    mixed = scaled(wants, at)
    strength = strength_of(mixed, wants.wet_kg()[0], wants.raw_kg())
    fits(wants, vessel, strength)
    line = line_of(wants, mixed, vessel)
    amounts = line.split(f"recipe {wants.recipe.name}, ", 1)[-1]
    return Making(
        line=f"{tag} {line.split(' ', 1)[1]}", request=request, amounts=amounts, note=note, litres=strength.litres
    )


def _sizes(floor: Floor, recipe: str, tags: Sequence[str], vessel: Vessel) -> Iterator[tuple[str, str]]:
    """Sizes to try, and from where each is: the skins alone, then what stood in that vessel last, what the last such bath was, and what the vessel takes."""
    yield "", ""
    before = [bath for bath in reversed(floor.all_baths()) if bath.recipe.casefold() == recipe.casefold()]
    before.sort(key=lambda bath: bath.vessel != vessel.tag)
    for bath in before:
        size = _size_of(floor, bath)
        if size:
            yield size, f"as much as {bath.tag} was, {bath.made.at.short}"
    if vessel.volume is not None:
        room = _FILLED * max(0.0, float(vessel.volume.to("L")) - _litres_of_skin(floor, tags))
        size = volume_words(float(int(room / _GALLON)) * _GALLON, floor.book.shop.shop)
        yield size, f"{_FILLED:.0%} of what {vessel.tag} takes beside them".replace("%", " %")


_GALLON = 3.785411784


def _size_of(floor: Floor, bath: BathLife) -> str:
    water = [amount.quantity for amount in bath.amounts if amount.supply.casefold() == WATER]
    if len(water) == 1:
        return amount_words(water[0])
    return volume_words(bath.volume_l, floor.book.shop.shop) if bath.volume_l else ""


def _litres_of_skin(floor: Floor, tags: Iterable[str]) -> float:
    """A kilogram of skin taken for a litre (common practice, no source)."""
    weights = [life.weights[-1] for tag in tags for life in floor.hides.get(tag, [])[-1:] if life.weights]
    return sum(float(weight.weight.to("kg")) / weight.shared_by for weight in weights)


def letters_for(floor: Floor, steps: Sequence[Step], vessel: Vessel) -> str:
    """The letters of the bath last mixed by the recipe of these steps, else L for a load in a drum and P for a bath."""
    recipe = recipe_for(floor, steps).casefold()
    before = [bath.tag for bath in floor.all_baths() if recipe and bath.recipe.casefold() == recipe]
    named = [tag for tag in before if tag not in floor.book.shop.vessels]
    letters = named[-1].rstrip("0123456789abcdefghijklmnopqrstuvwxyz") if named else ""
    return letters or ("L" if vessel.is_drum else "P")


def recipe_for(floor: Floor, steps: Sequence[Step]) -> str:
    """The recipe of the shop that is called as the step is; else what the last bath for that step was made by."""
    recipes = floor.book.shop.recipes
    names = [name.casefold() for step in steps for name in (step.name, *step.others)]
    for name in names:
        if name in recipes:
            return recipes[name].name
    for bath in reversed(floor.all_baths()):
        if bath.recipe and any(member.stay.name.casefold() in names for member in bath.members):
            return bath.recipe
    return ""
