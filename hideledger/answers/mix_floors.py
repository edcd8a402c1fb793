"""The salt that the shop's own process asks of a bath: at mixing, or with skins in. A pickle under its own floor is not printed: skins swell in it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from hideledger.answers.acid_names import NotReckoned
from hideledger.answers.brine_words import degrees_of
from hideledger.answers.mix_strength import Strength
from hideledger.model.process import Process, Range, Step
from hideledger.model.shop import Recipe
from hideledger.model.units import Quantity
from hideledger.shopfloor.floor import Floor
from hideledger.trade import brine
from hideledger.trade.brine import WATER_IN_GREEN_SKIN
from hideledger.trade.brine_making import Batch

_AT_MIXING = "at mixing"
# A floor met to the figure that is printed is met: shares differ by less than a twentieth of a degree.
_NEAR = 0.00013


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """A line of a process that this recipe is mixed for."""

    step: Step
    process: Process
    salt: Range


def steps_with(recipe: Recipe, floor: Floor) -> tuple[tuple[Process, Step], ...]:
    """The steps that a recipe is mixed for: those of its name, and those that skins were in such a bath for."""
    been = {
        member.stay.line.place
        for bath in floor.all_baths()
        if bath.recipe.casefold() == recipe.name
        for member in bath.members
        if member.stay.line is not None
    }
    found: list[tuple[Process, Step]] = []
    for process in _present(floor):
        for step in process.steps:
            if step.called(recipe.name) or step.place in been:
                found.append((process, step))
    return tuple(found)


def _present(floor: Floor) -> Iterator[Process]:
    """The version of each process that holds for a hide that comes in now."""
    today = floor.book.clock.day_of(floor.at - 1)
    for versions in floor.book.shop.processes.values():
        held = [one for one in versions if one.since is None or one.since.toordinal() <= today]
        yield (held or list(versions))[-1 if held else 0]


def held_to(recipe: Recipe, floor: Floor, strength: Strength) -> tuple[str, ...]:
    """Refuses a bath under its floor; what is said of one that keeps it. Raises NotReckoned."""
    said: dict[str, None] = {}
    for process, step in steps_with(recipe, floor):
        if step.salt is None or step.salt.least is None:
            continue
        said[_kept(Limit(step=step, process=process, salt=step.salt), recipe, strength)] = None
    return tuple(said)


def _kept(limit: Limit, recipe: Recipe, strength: Strength) -> str:
    least = limit.salt.least
    assert least is not None
    floor, words = _share(least), f"at least {_written(least)} {limit.salt.basis}"
    where = f"`{limit.step.title}` of process {limit.process.name} ({limit.salt.place.short})"
    mixing = limit.salt.basis == _AT_MIXING
    weak = strength.weak if mixing else strength.with_skins(strength.weak)
    strong = strength.strong if mixing else strength.with_skins(strength.strong)
    if strong.dissolved_share < floor - _NEAR:
        state = "at mixing" if mixing or not strength.skins_kg else "with the skins in"
        raise NotReckoned(
            f"{recipe.name} comes to {degrees_of(strong.dissolved_share)} of salt {state}, and {where} wants {words}: skins swell in acid with too little salt; right the recipe ({recipe.place.short}), or its floor, by your tan maker's sheet"
        )
    if weak.dissolved_share < floor - _NEAR:
        return f"{where} wants {words}: whether it is met hangs on the grain of the salt; weigh it"
    if mixing or strength.skins_kg:
        return f"{where} wants {words}: met"
    most = _skins_it_bears(strength.weak, floor)
    return f"{where} wants {words}: met with up to {most / brine.KG_PER_LB:.0f} lb ({most:.0f} kg) of wet skin"


def _skins_it_bears(batch: Batch, floor: float) -> float:
    """Kilograms of green skin whose water brings a batch down to its floor."""
    water = batch.salt_kg / brine.salt_to_water(floor) - batch.water_kg
    return max(0.0, water) / WATER_IN_GREEN_SKIN


def _share(limit: Quantity) -> float:
    figure = float(limit.value)
    if limit.unit == "sal":
        return brine.share_of_salometer(figure)
    if limit.unit == "%":
        return figure / 100
    gravity = figure if limit.unit == "SG" else brine.gravity_of_baume(min(figure, 144))
    try:
        return brine.share_of_specific_gravity(gravity)
    except ValueError:  # heavier than any brine, or lighter than water
        return 1.0 if gravity > 1 else 0.0


def _written(limit: Quantity) -> str:
    return f"SG {limit.value:f}" if limit.unit == "SG" else str(limit)
