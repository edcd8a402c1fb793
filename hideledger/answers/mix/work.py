"""The order of the work of a bath, and the cautions that its recipe carries."""

from __future__ import annotations

from hideledger.answers.acid import care
from hideledger.answers.mix.scale import Scaled
from hideledger.answers.mix.supplies import ALUM, SALT
from hideledger.answers.sheet import Row, Section
from hideledger.shopfloor.floor import Floor
from hideledger.trade.chemicals import BASE


def order_of_work(mixed: Scaled) -> list[Section]:
    """The order of the work: acid last and into water; a soda into alum slowly, since it foams (salt-alum directions of farm handbooks)."""
    sorts = [one.stuff for one in mixed.taken]
    if any(stuff.is_acid for stuff in sorts):
        return [care.making_up()]
    sodas = [stuff.name for stuff in sorts if stuff.sort == BASE]
    if not sodas or not any(stuff.sort == ALUM for stuff in sorts):
        return []
    alum = next(stuff.name for stuff in sorts if stuff.sort == ALUM)
    rest = " and ".join(dict.fromkeys(stuff.name for stuff in sorts if stuff.sort in (SALT, BASE)))
    steps = (
        f"the {alum} in one part of the water, stirred until it is dissolved",
        f"the {rest} in the rest of the water, in another pail",
        f"pour the {sodas[0]} into the {alum} slowly, stirring hard: it foams over, and never in a closed drum",
    )
    rows = tuple(
        Row(head=str(number), text=text, plain=("step", str(number), text)) for number, text in enumerate(steps, 1)
    )
    return [Section(heading="Order of work", rows=rows)]


def cautions(mixed: Scaled, floor: Floor) -> Section:
    """The cautions that every recipe carries; one with an acid in it carries all of them."""
    if any(one.stuff.is_acid for one in mixed.taken):
        names = [chemical.name for one in mixed.taken for chemical in one.stuff.chemicals[:1]]
        return care.care(names, drain=False, shop_least=floor.book.shop.shop.sewer_ph, recipe=True)
    label = "gloves; on the vessel a label: contents, date, strength; a drum: pressure at zero and locked out before it is opened"
    never = next((one.stuff.name for one in mixed.taken if one.stuff.never_with_acid), "")
    apart = f"{never} and acid give a gas that kills: never the same vessel, sink or drain"
    alum = next((one.stuff.name for one in mixed.taken if one.stuff.sort == ALUM), "")
    sour = f"{alum} is a salt of acid: with bleach, pool shock or a sulphide it gives a gas that kills; never the same vessel, sink or drain"
    rows = (care.SHOP_FIGURE, label, *((apart,) if never else ()), *((sour,) if alum else ()))
    return Section(heading="Care", rows=tuple(Row(text=text, plain=("care", text)) for text in rows))
