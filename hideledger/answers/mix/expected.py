"""The strength to expect of a bath in words: by itself and with the wet skins in it, each with how far off it may be."""

from __future__ import annotations

from collections.abc import Sequence

from hideledger.answers.amounts import volume_words, weight_words
from hideledger.answers.brine.words import degrees_of, percent_of
from hideledger.answers.mix.asked import Wanted
from hideledger.answers.mix.floors import Kept, steps_with
from hideledger.answers.mix.limits import pounds_it_lasts
from hideledger.answers.mix.scale import Scaled
from hideledger.answers.mix.strength import SALOMETER_DOUBT, Strength
from hideledger.answers.mix.supplies import ALUM, SALT
from hideledger.answers.mix.words import skin_words
from hideledger.answers.sheet import Row, Section
from hideledger.trade import brine
from hideledger.trade.brine import KG_PER_LB
from hideledger.trade.brine_density import SATURATED
from hideledger.trade.brine_making import Batch

# Less than this is a rounding.
_TRIFLE_KG = 1e-6
_READ = "a salometer, and a meter or strip, decide"


def expected(wants: Wanted, mixed: Scaled, strength: Strength, floors: Sequence[Kept]) -> Section:
    """All that can be said before it is mixed."""
    shop = wants.book.shop
    rows: list[tuple[str, str]] = []
    if strength.litres:
        rows.append(("liquor", f"{volume_words(strength.litres, shop)} in all"))
    if any(one.stuff.sort == SALT for one in mixed.taken) and strength.weak.water_kg:
        rows += _salt(wants, mixed, strength)
    elif any(one.stuff.is_acid for one in mixed.taken):
        rows.append(("salt", "none in it: acid without the salt of its recipe swells a skin; is it in the sheet?"))
    rows += _sour(wants, strength)
    rows += [(kept.head, kept.text) for kept in floors]
    rows += _lasts(wants, strength)
    return Section(
        heading="Expect", rows=tuple(Row(head=head, text=text, plain=("expect", head, text)) for head, text in rows)
    )


def _salt(wants: Wanted, mixed: Scaled, strength: Strength) -> list[tuple[str, str]]:
    rows = [("salt", f"{_both(strength.weak, strength.strong)} at make-up, give or take {SALOMETER_DOUBT:g} sal")]
    if strength.weak.salt_kg != strength.strong.salt_kg:
        rows.append(
            (
                "grain",
                "salt by measure: a US quart weighs 2.1 to 2.7 lb by its grain; its line can say (`supply salt, 9 lb per gal`)",
            )
        )
    if strength.acid_lift >= 0.5:
        shown = brine.salometer(strength.strong.dissolved_share) + strength.acid_lift
        rows.append(
            (
                "salometer",
                f"shows about {shown:.0f} with the acid in it: {strength.acid_lift:.0f} of that is the acid's",
            )
        )
    if any(one.stuff.sort == ALUM for one in mixed.taken):
        rows.append(
            ("salometer", "alum lifts it far above the salt's own figure: with alum in it, it says nothing of the salt")
        )
    if strength.rounding >= 0.05:
        rows.append(("rounding", f"moves it by {strength.rounding:.1f} sal at most"))
    if strength.strong.undissolved_kg > 1e-3:
        rows.append(
            (
                "too much",
                f"{weight_words(strength.strong.undissolved_kg / KG_PER_LB, wants.book.shop)} of the salt will not dissolve: {100 * SATURATED:.1f} % is all that water holds at 60 F",
            )
        )
    if strength.skins_kg:
        weak, strong = strength.with_skins(strength.weak), strength.with_skins(strength.strong)
        skin = skin_words(strength.raw_kg, wants.book.shop)
        salted = skin_words(strength.skins_kg - strength.raw_kg, wants.book.shop)
        met = f"{salted} of skin had met salt, and bring no plain water"
        thinned = f"{_both(weak, strong)} once the water of {skin} of wet skin has joined it (62 % of a green skin; the most they thin it)"
        some_met = strength.skins_kg - strength.raw_kg > _TRIFLE_KG
        words = f"{thinned}{f'; {met}' if some_met else ''}" if strength.raw_kg else f"{_both(weak, strong)}: {met}"
        if strength.perhaps_salted:
            words = f"{thinned}; {_both(strength.weak, strength.strong)} where they were in salt or a pickle before: which of the two is not said, and the lower counts here"
        rows.append(("with skins in", words))
    return rows


def _lasts(wants: Wanted, strength: Strength) -> list[tuple[str, str]]:
    """How long the recipe says that it lasts, and how much skin may go through so much of it."""
    recipe = wants.recipe
    said = [str(recipe.lasts)] if recipe.lasts is not None else []
    pounds = pounds_it_lasts(wants, strength.litres)
    if pounds is not None:
        said.append(f"{weight_words(pounds, wants.book.shop)} of skin")
    where = recipe.lasts_place or recipe.place
    return [("lasts", f"{' or '.join(said)}, by its own line ({where.short})")] if said else []


def _both(weak: Batch, strong: Batch) -> str:
    low, high = weak.dissolved_share, strong.dissolved_share
    if degrees_of(low) == degrees_of(high):
        return f"{degrees_of(low)}, {percent_of(low)}"
    return f"{degrees_of(low)} to {degrees_of(high)}, {percent_of(low)} to {percent_of(high)}"


def _sour(wants: Wanted, strength: Strength) -> list[tuple[str, str]]:
    if strength.sour is None:
        return [("pH", f"not reckoned: {strength.why_not}; read it")] if strength.why_not else []
    sour = strength.sour
    rows = [("pH", f"about {sour.ph:.1f} at make-up, give or take {sour.doubt:.1f}; {_READ}")]
    if strength.form_open:
        rows.append(
            ("form", f"{', '.join(strength.form_open)}: crystals or anhydrous is not written; both are within it")
        )
    if strength.with_skins_in is not None:
        rows.append(("pH, skins in", strength.with_skins_in.words))
    for process, step in steps_with(wants.recipe, wants.floor):
        if step.ph is None:
            continue
        least, most = step.ph.least, step.ph.most
        over = most is not None and sour.ph - sour.doubt > float(most.value)
        under = least is not None and sour.ph + sour.doubt < float(least.value)
        if over or under:
            limit = most if over else least
            rows.append(
                (
                    "limit",
                    f"`{step.title}` of process {process.name} wants {'at most' if over else 'at least'} {limit} ({step.ph.place.short}), and this comes to about {sour.ph:.1f}: look at the recipe again",
                )
            )
    return rows
