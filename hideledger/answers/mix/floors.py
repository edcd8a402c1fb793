"""The salt that the shop's own process asks of a bath: at mixing, or with skins in. A pickle under its own floor is not printed: skins swell in it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_CEILING, Decimal

from hideledger.answers.acid.names import NotReckoned
from hideledger.answers.amounts import is_metric, volume_words
from hideledger.answers.brine.words import degrees_of
from hideledger.answers.mix.asked import Wanted
from hideledger.answers.mix.scale import Scaled
from hideledger.answers.mix.strength import Strength, strength_of, unrounded
from hideledger.answers.mix.supplies import SALT
from hideledger.answers.mix.words import amount_words
from hideledger.answers.saying import today
from hideledger.model.process import Process, Range, Step
from hideledger.model.shop import Recipe, held_on
from hideledger.model.units import Quantity
from hideledger.rules.spans import to_come
from hideledger.rules.tubs import asks_for_bath
from hideledger.rules.words import listed
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.trade import brine
from hideledger.trade.brine import WATER_IN_GREEN_SKIN
from hideledger.trade.brine_making import Batch

_AT_MIXING = "at mixing"
# A floor met to the figure that is printed is met: shares differ by less than a twentieth of a degree.
_NEAR = 0.00013
# Kilograms of skin that are none.
_NOTHING = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """A line of a process that this recipe is mixed for; `guessed` where only the skins that are named say so."""

    step: Step
    process: Process
    salt: Range
    guessed: bool = False


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
    now = date.fromordinal(today(floor.book.clock, floor.at))
    for versions in floor.book.shop.processes.values():
        yield held_on(versions, now) or versions[0]


def next_baths(lives: Sequence[HideLife]) -> tuple[tuple[Process, Step], ...]:
    """The step of each skin's process that is the next to be judged by its bath: what a sour bath of another name is most likely made for."""
    found: list[tuple[Process, Step]] = []
    for life in lives:
        step = next((step for step in to_come(life) if asks_for_bath(step) or step.salt is not None), None)
        if step is not None and life.process is not None and (life.process, step) not in found:
            found.append((life.process, step))
    return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """What is said of a floor, or of what `head` names; `trouble` where the skins bring the bath past it."""

    text: str
    trouble: bool = False
    head: str = "floor"


def held_to(wants: Wanted, mixed: Scaled, strength: Strength) -> tuple[Kept, ...]:
    """Refuses a recipe that is under its floor by itself; what is said of any other. Raises NotReckoned.

    A sour bath whose recipe no step is called after is held to the next bath of the skins that are named, which is no reason to refuse it.
    """
    said: dict[Kept, None] = {}
    named = steps_with(wants.recipe, wants.floor)
    sour = any(one.stuff.is_acid for one in mixed.taken)
    guessed = next_baths(wants.lives) if sour and not named else ()
    for process, step in named or guessed:
        if step.salt is None or step.salt.least is None:
            continue
        limit = Limit(step=step, process=process, salt=step.salt, guessed=bool(guessed))
        said[_kept(limit, wants, mixed, strength)] = None
    if (
        sour
        and not named
        and not guessed
        and any(step.salt is not None for process in _present(wants.floor) for step in process.steps)
    ):
        name = wants.recipe.name
        text = f"held against none: no step is called `{name}`, and no skin was in such a bath yet; name the skins (`mix {name} … for H41`), or look at the salt yourself"
        said[Kept(text=text)] = None
    return tuple(said)


def _kept(limit: Limit, wants: Wanted, mixed: Scaled, strength: Strength) -> Kept:
    least, recipe = limit.salt.least, wants.recipe
    assert least is not None
    floor, words = _share(least), f"at least {_written(least)} {limit.salt.basis}"
    where = f"`{limit.step.title}` of process {limit.process.name} ({limit.salt.place.short})"
    if limit.guessed:
        where += ", the next bath of these skins,"
    if strength.strong.dissolved_share < floor - _NEAR:
        exact = strength_of(unrounded(mixed), 0.0).strong.dissolved_share
        if exact >= floor - _NEAR:
            coarse = max((one for one in mixed.taken if one.stuff.sort == SALT), key=lambda one: -one.amount.off_by)
            step = amount_words(Quantity(value=coarse.amount.step, unit=coarse.quantity.unit))
            raise NotReckoned(
                f"{recipe.name} is {degrees_of(exact)} of salt by its recipe, and {degrees_of(strength.strong.dissolved_share)} with {coarse.stuff.name} weighed to {step}, which is too coarse for so little; {where} wants {words}: take a finer scale, or mix more"
            )
        if limit.guessed:
            return Kept(
                text=f"{where} wants {words}, and this comes to {degrees_of(strength.strong.dissolved_share)} of salt at mixing: skins swell in acid with too little salt; is it mixed for that?",
                trouble=True,
            )
        raise NotReckoned(
            f"{recipe.name} comes to {degrees_of(strength.strong.dissolved_share)} of salt at mixing, and {where} wants {words}: skins swell in acid with too little salt; right the recipe ({recipe.place.short}), or its floor, by your tan maker's sheet"
        )
    mixing = limit.salt.basis == _AT_MIXING
    weak = strength.weak if mixing else strength.with_skins(strength.weak)
    strong = strength.strong if mixing else strength.with_skins(strength.strong)
    bears = _skins_it_bears(strength.weak, floor)
    if strong.dissolved_share < floor - _NEAR:
        salted = ""
        if strength.perhaps_salted and strength.strong.dissolved_share >= floor - _NEAR:
            salted = (
                f"; met where they were in salt or a pickle before, with {degrees_of(strength.strong.dissolved_share)}"
            )
        return Kept(
            text=f"{where} wants {words}, and with these skins in it comes to {degrees_of(strong.dissolved_share)}{' where they met no salt before' if strength.perhaps_salted else ''}: {_cure(wants, strength, bears)}{salted}",
            trouble=True,
        )
    if weak.dissolved_share < floor - _NEAR:
        return Kept(
            text=f"{where} wants {words}: whether it is met hangs on the grain of the salt; weigh it", trouble=True
        )
    if mixing:
        return Kept(text=f"{where} wants {words}: met")
    if unknown := wants.unweighed_raw():
        none = "no weight is written for"
        return Kept(
            text=f"{where} wants {words}: not known, since {none} {listed(unknown)} (`{unknown[0]} 8 lb green`); it bears {_pounds(bears)} of wet skin in all",
            trouble=True,
        )
    if strength.skins_kg:
        return Kept(text=f"{where} wants {words}: met")
    return Kept(text=f"{where} wants {words}: met with up to {_pounds(bears)} of wet skin")


def _pounds(kg: float) -> str:
    return f"{kg / brine.KG_PER_LB:.0f} lb ({kg:.0f} kg)"


def _cure(wants: Wanted, strength: Strength, bears: float) -> str:
    """So much more of the same bath as these skins want, or so many fewer skins; both on the safe side."""
    shop = wants.book.shop
    less = f"{int(bears)} kg" if is_metric(shop) else f"{int(bears / brine.KG_PER_LB)} lb"
    if bears < _NOTHING:
        return "it bears no skin that brings water; salt the skins first"
    asked = wants.water or wants.liquor or wants.bare
    times = strength.raw_kg / bears
    litres = (
        float(asked.quantity.to("L")) if asked is not None and asked.quantity.dimension == "volume" else strength.litres
    )
    size = {"US": brine.L_PER_US_GAL, "imperial": brine.L_PER_IMPERIAL_GAL}.get(shop.gallons, 1.0)
    whole = (Decimal(repr(litres * times / size)) - Decimal("0.001")).to_integral_value(rounding=ROUND_CEILING)
    more = f"{whole} {'gal' if size > 1 else 'L'}"
    return f"more bath, {more} in place of {volume_words(litres, shop)}; or at most {less} of such skin in it"


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
