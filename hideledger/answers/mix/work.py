"""The order of the work of a bath, and the cautions that its recipe carries."""

from __future__ import annotations

from hideledger.answers.acid import care
from hideledger.answers.mix.scale import Scaled
from hideledger.answers.mix.supplies import ALUM, SALT
from hideledger.answers.sheet import Row, Section
from hideledger.shopfloor.floor import Floor
from hideledger.trade.chemicals import BASE


def order_of_work(mixed: Scaled, *, stands: bool = False) -> list[Section]:
    """The order of the work: acid last and into water; a soda into alum slowly, since it foams (salt-alum directions of farm handbooks).

    `stands`: a bath of the same recipe is in the vessel already, and this goes into it.
    """
    sorts = [one.stuff for one in mixed.taken]
    alum = next((stuff.name for stuff in sorts if stuff.sort == ALUM), "")
    if any(stuff.is_acid for stuff in sorts):
        return [care.topping_up() if stands else care.making_up(besides=alum)]
    sodas = [stuff.name for stuff in sorts if stuff.sort == BASE]
    if sodas and not alum:
        return [care.making_rinse()]
    if not alum:
        return []
    rest = " and ".join(dict.fromkeys(stuff.name for stuff in sorts if stuff.sort in (SALT, BASE)))
    if not sodas:
        return [care.making_alum(alum, rest)]
    return [
        care.steps(
            "Order of work",
            (
                f"the {alum} in one part of the water, stirred until it is dissolved",
                f"the {rest} in the rest of the water, in another pail",
                f"pour the {sodas[0]} into the {alum} slowly, stirring hard: it foams over, and never in a closed drum",
            ),
        )
    ]


def cautions(mixed: Scaled, floor: Floor) -> Section:
    """The cautions that every recipe carries; one with an acid in it carries all of them."""
    if any(one.stuff.is_acid for one in mixed.taken):
        names = [chemical.name for one in mixed.taken for chemical in one.stuff.chemicals[:1]]
        return care.care(names, drain=False, shop_least=floor.book.shop.shop.sewer_ph, recipe=True)
    stuffs = [one.stuff for one in mixed.taken]
    alum, soda = any(stuff.sort == ALUM for stuff in stuffs), any(stuff.sort == BASE for stuff in stuffs)
    if alum or soda:
        return care.care_without_acid(alum=alum, shop_least=floor.book.shop.shop.sewer_ph, never=_never(mixed))
    label = "gloves; on the vessel a label: contents, date, strength; a drum: pressure at zero and locked out before it is opened"
    rows = (care.SHOP_FIGURE, label, *_never(mixed))
    return Section(heading="Care", rows=tuple(Row(text=text, plain=("care", text)) for text in rows))


def _never(mixed: Scaled) -> tuple[str, ...]:
    never = next((one.stuff.name for one in mixed.taken if one.stuff.never_with_acid), "")
    alum = next((one.stuff.name for one in mixed.taken if one.stuff.sort == ALUM), "")
    apart = f"{never} and acid give a gas that kills: never the same vessel, sink or drain"
    sour = f"{alum} is a salt of acid: with bleach, pool shock or a sulphide it gives a gas that kills; never the same vessel, sink or drain"
    return (*((apart,) if never else ()), *((sour,) if alum else ()))
