"""How acid and base are handled at a tub, in the order of the work; what every answer about them carries.

Acid into water and never the other way, salt first, cool before skins: farm and taxidermy handbooks that print such pickles say the same. No
discharge to a public sewer below pH 5.0: 40 CFR 403.5(b)(2). Thinning a liquid acid first, and lifting the skins out before a dose, are common
practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from hideledger.answers.sheet import Row, Section

SEWER_LEAST = Decimal(5)
SHOP_FIGURE = "Shop figure, check your tan maker's sheet."


# Concentrated acid and a base boil where they meet; thinned it is a sour bath like any other (common practice, no source).
_THINNED = (
    "never the base onto acid as it came from the bottle: it heats, boils and spatters acid",
    "thin it first: much cold water in a big plastic vessel, twenty times the acid or more, and the acid into the water, slowly, stirring; never water into acid",
    "it heats as it is thinned: wait until it is cold again, then the base",
)


def making_up(*, besides: str = "") -> Section:
    """A new bath, step by step; `besides` the alum that goes in before the acid."""
    alum = (f"the {besides} dissolved apart, in some warm water, and into it",) if besides else ()
    return steps(
        "Order of work",
        (
            "water in the vessel, salt into it, stir until it is dissolved",
            *alum,
            "let it cool to the room before any acid, and before any skin",
            "the acid last, into the water, slowly, stirring; never water into acid",
            "wait a quarter of an hour, stir again, read with a meter or strip, and let that reading decide",
        ),
    )


def topping_up() -> Section:
    """More of a bath into the one that stands, step by step (common practice, no source)."""
    return steps(
        "Order of work, where it goes into the bath that stands",
        (
            "lift the skins out, and read the bath: its salt and its pH say what it wants, and not the recipe alone",
            "the water and the salt apart, stirred until the salt is dissolved, then into the bath; no dry salt onto skins",
            "the acid last, dissolved or thinned in some of that water, slowly, stirring; never water into acid",
            "stir the whole tub, wait a quarter of an hour, read with a meter or strip, and let that reading decide",
            "then the skins back in",
        ),
    )


def making_rinse() -> Section:
    """A bath of base alone, to rinse in."""
    return steps(
        "Order of work",
        (
            "water in the vessel, the powder into it a little at a time, stirring until it is dissolved",
            "read it with a meter or strip before a skin goes in",
            "a sour skin makes it foam: one at a time, slowly, and read it again",
        ),
    )


def making_alum(alum: str, rest: str) -> Section:
    """A bath of alum without soda; that alum dissolves slowly in the cold is common practice, no source."""
    with_rest = (f"the {rest} in the rest of the water, then both together",) if rest else ()
    return steps(
        "Order of work",
        (
            f"the {alum} in some warm water, stirred until it is dissolved: in the cold it is slow (its own sheet goes first)",
            *with_rest,
            "let it cool to the room before any skin; read it with a meter or strip",
        ),
    )


def adding_acid(*, liquid: bool) -> Section:
    """A dose of acid into a standing bath."""
    first = (
        "thin the acid first: cold water in a plastic pail, the acid into the water, slowly; never water into acid"
        if liquid
        else "dissolve it in some water first; never pour water onto acid"
    )
    return steps(
        "Order of work",
        (
            "lift the skins out, or draw them to the far side",
            first,
            "into the bath slowly, stirring; half of it, then wait a quarter of an hour and read",
            "go on by the reading with a meter or strip, not by this figure; then the skins back in",
        ),
    )


def adding_base(*, undiluted: bool = False) -> Section:
    """A base into an acid bath: it foams. `undiluted`: the acid is as it came, in no water yet."""
    return steps(
        "Order of work",
        (
            *(_THINNED if undiluted else ()),
            "a little at a time, stirring: baking soda and soda ash foam over, so leave a hand's breadth of room in the vessel",
            "never in a closed drum or a lidded pail: the gas has to get out, and the room wants air",
            "half of it, then wait until the foam is down and read; go on by the reading, not by this figure",
            "gas still in the water holds the reading down: stir, and read again before more goes in",
        ),
    )


def care(names: Iterable[str], *, drain: bool, shop_least: Decimal | None, recipe: bool = False) -> Section:
    """The cautions, in short. `shop_least` is the shop's own line `sewer pH at least`; `recipe`: the amounts are those of a recipe of the shop."""
    reckoned = "reckoned, not a recipe: the supplier's sheet and your tan maker's sheet go before this figure"
    rows = [
        *([SHOP_FIGURE] if recipe else []),
        "goggles, gloves, apron, a door or a fan that moves the air; plenty of water at hand to flush eyes and skin",
        *([] if recipe else [reckoned]),
        "a vessel that is not metal; on it a label: contents, date, strength; a drum: pressure at zero and locked out before it is opened",
        "acid (alum too) and bleach, pool shock or sulphide, and bleach and ammonia, give a gas that kills: never the same vessel, sink or drain",
    ]
    held = set(names)
    if "oxalic acid" in {name.split(",")[0] for name in held}:
        rows.append("oxalic acid is a poison, swallowed or as dust: its sheet says what to wear")
    if "lye" in held:
        rows.append("lye burns eyes and skin worse than these acids do")
    least = max(SEWER_LEAST, shop_least) if shop_least is not None else SEWER_LEAST
    if least > SEWER_LEAST:
        where = f"nothing below pH {least} down the sewer (your line `sewer pH`; by 40 CFR 403.5 never below 5.0)"
    else:
        where = "nothing below pH 5.0 down a public sewer (40 CFR 403.5); your sewer authority may say stricter"
    rows.append(f"{where}; never a storm drain, a ditch or a septic tank")
    if drain:
        rows.append("a bath made neutral still holds salt, tan and protein: ask the authority before it goes")
    return Section(heading="Care", rows=tuple(Row(text=text, plain=("care", text)) for text in rows))


def care_without_acid(*, alum: bool, shop_least: Decimal | None, never: tuple[str, ...]) -> Section:
    """The cautions of a bath of alum or soda: dust and foam go at the eyes, and what goes down the drain holds salt, alum and protein."""
    metal = "a vessel that is not metal (alum is sour); " if alum else ""
    sewer = f"; nothing below pH {shop_least} by your line `sewer pH`" if shop_least is not None else ""
    rows = [
        SHOP_FIGURE,
        "goggles and gloves: the dust and the foam go at the eyes; plenty of water at hand to flush eyes and skin; the air moving",
        f"{metal}on the vessel a label: contents, date, strength; a drum: pressure at zero and locked out before it is opened",
        *never,
        f"down a public sewer as its authority allows{sewer}; a used bath still holds salt, {'alum' if alum else 'soda'} and protein, even when it is neutral; never a storm drain, a ditch or a septic tank",
    ]
    return Section(heading="Care", rows=tuple(Row(text=text, plain=("care", text)) for text in rows))


def steps(heading: str, said: tuple[str, ...]) -> Section:
    """Steps in their order, each with its number."""
    return Section(
        heading=heading,
        rows=tuple(
            Row(head=str(number), text=text, plain=("step", str(number), text)) for number, text in enumerate(said, 1)
        ),
    )
