"""What the shop's own lines say against a bath besides its salt: the pH that its skins bring it to, and the weight of skin that its recipe bears."""

from __future__ import annotations

from collections.abc import Iterator

from hideledger.answers.amounts import volume_words, weight_words
from hideledger.answers.mix.asked import Wanted
from hideledger.answers.mix.floors import Kept, next_baths, steps_with
from hideledger.answers.mix.scale import Scaled
from hideledger.answers.mix.strength import Strength
from hideledger.answers.mix.words import skin_words
from hideledger.trade.brine import KG_PER_LB


def bears(wants: Wanted, mixed: Scaled, strength: Strength) -> tuple[Kept, ...]:
    """What is said of the pH with the skins in, and of the weight that the recipe bears; trouble where a line of the shop is passed."""
    return (*_ph(wants, mixed, strength), *_weight(wants, strength))


def pounds_it_lasts(wants: Wanted, litres: float) -> float | None:
    """How many pounds of skin the recipe's own line lets through so much of it; None where it has none."""
    recipe = wants.recipe
    if recipe.lasts_weight is None:
        return None
    pounds = float(recipe.lasts_weight.to("lb"))
    return pounds if recipe.lasts_weight_per is None else pounds * litres / float(recipe.lasts_weight_per.to("L"))


def _ph(wants: Wanted, mixed: Scaled, strength: Strength) -> Iterator[Kept]:
    """A bath that climbs past its range as the skins take acid: told as a model, and as trouble where even its doubt does not reach back."""
    in_it = strength.with_skins_in
    if in_it is None or not any(one.stuff.is_acid for one in mixed.taken):
        return
    told: set[tuple[str, str]] = set()
    for process, step in steps_with(wants.recipe, wants.floor) or next_baths(wants.lives):
        most = None if step.ph is None else step.ph.most
        if step.ph is None or most is None or in_it.settled.ph <= float(most.value):
            continue
        if (process.name, str(most)) in told:
            continue  # `pickle` and `pickle again` of one limit
        told.add((process.name, str(most)))
        where = f"`{step.title}` of process {process.name} wants at most {most} ({step.ph.place.short})"
        settles = f"with these skins in it climbs to about {in_it.settled.ph:.1f} in a day or more, give or take {in_it.settled.doubt:.1f} (a model)"
        sure = in_it.settled.ph - in_it.settled.doubt > float(most.value)
        cure = (
            "mix more bath for them, or have acid ready: read it, and ask `acid`"
            if sure
            else "read it; it may want acid"
        )
        yield Kept(text=f"{where}, and {settles}: {cure}", trouble=sure, head="skins in")


def _weight(wants: Wanted, strength: Strength) -> Iterator[Kept]:
    """More skin at once than the recipe's own line lets through all its life."""
    pounds = pounds_it_lasts(wants, strength.litres)
    skins = strength.skins_kg / KG_PER_LB
    if pounds is None or skins <= pounds * 1.001:
        return
    shop, recipe = wants.book.shop, wants.recipe
    where = recipe.lasts_place or recipe.place
    more = (
        ""
        if recipe.lasts_weight_per is None
        else f"; {volume_words(strength.litres * skins / pounds, shop)} would bear them"
    )
    yield Kept(
        text=f"so much of it lasts for {weight_words(pounds, shop)} of skin by its own line ({where.short}), and these are {skin_words(strength.skins_kg, shop)}{more}",
        trouble=True,
    )
