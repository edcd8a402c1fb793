"""Whether the vessel holds a bath with the skins in it. Skins take up about a litre for each kilogram (common practice, no source)."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from hideledger.answers.acid_names import NotReckoned
from hideledger.answers.amounts import volume_words, weight_words
from hideledger.answers.mix_asked import Wanted
from hideledger.answers.mix_strength import Strength
from hideledger.model.shop import Vessel, as_of
from hideledger.model.units import plain_number
from hideledger.text.nearest import nearest
from hideledger.trade.brine import KG_PER_LB

_LITRES_A_KG = 1.0


def vessel_of(wanted: Wanted, day: date) -> Vessel | None:
    """The vessel that was named. Raises NotReckoned for one that the shop has not."""
    tag = wanted.asked.vessel
    if not tag:
        return None
    vessels = wanted.book.vessels
    if tag not in vessels:
        near = nearest(tag, vessels, least=0.4)
        known = ", ".join(sorted(vessels)) or "none"
        raise NotReckoned(f"{tag} is no vessel of the shop; {f'did you mean {near}?' if near else f'it has {known}'}")
    return as_of(vessels[tag], day)


def fits(wanted: Wanted, vessel: Vessel, strength: Strength) -> tuple[str, ...]:
    """What is said of the room in it. Raises NotReckoned where the bath would run over."""
    shop = wanted.book.shop
    skins = strength.skins_kg * _LITRES_A_KG
    whole = strength.litres + skins
    said: list[str] = []
    if vessel.volume is None:
        said.append(
            f"how much {vessel.tag} takes is not written: `vessel {vessel.tag}, {vessel.sort or 'vat'}, 40 gal` ({vessel.place.short})"
        )
    else:
        room = float(vessel.volume.to("L"))
        makes = f"{volume_words(strength.litres, shop)} of liquor" + (
            f" and {weight_words(strength.skins_kg / KG_PER_LB, shop)} of wet skin" if skins else ""
        )
        if whole > room * 1.001:
            part = max(0.0, room - skins) / strength.litres
            asked = wanted.water or wanted.liquor or wanted.bare
            most = ""
            if asked is not None and part > 0:
                liters = part * float(asked.quantity.to("L" if asked.quantity.dimension == "volume" else "kg"))
                most = f"; at most {_down(liters, wanted)} would fit"
            come = f"{makes} come to {volume_words(whole, shop)}" if skins else f"this makes {makes}"
            raise NotReckoned(
                f"{vessel.tag} takes {vessel.volume} ({vessel.place.short}), and {come}: it would run over{most}"
            )
        left = volume_words(room - whole, shop)
        said.append(
            f"{vessel.tag} takes {vessel.volume}: {makes}, {left} of room left"
            + ("" if skins else ", before any skin is in")
        )
    if vessel.holds is not None and wanted.lives:
        said += _by_count(wanted, vessel, vessel.holds)
    if vessel.holds_weight is not None and strength.skins_kg > float(vessel.holds_weight.to("kg")):
        said.append(
            f"{vessel.tag} holds {vessel.holds_weight} of skin, and these are {weight_words(strength.skins_kg / KG_PER_LB, shop)}: too many at once"
        )
    standing = wanted.floor.in_vessel(vessel.tag)
    said += [
        f"{bath.tag} stands in it, mixed at {bath.made.at.short}: let it go first, and write `{bath.tag} dumped`"
        for bath in standing
    ]
    return tuple(said)


def _by_count(wanted: Wanted, vessel: Vessel, holds: Decimal) -> list[str]:
    try:
        counts = wanted.counts()
    except NotReckoned:
        return []
    if counts > holds:
        return [
            f"{vessel.tag} holds {plain_number(holds)} skins, and these count {plain_number(counts)}: too many at once"
        ]
    return [f"{vessel.tag} holds {plain_number(holds)} skins, and these count {plain_number(counts)}"]


def _down(litres: float, wanted: Wanted) -> str:
    """No more than fits, in the shop's measure: whole gallons or litres."""
    gallons = {"US": 3.785411784, "imperial": 4.54609}.get(wanted.book.shop.gallons)
    return f"{int(litres)} L" if gallons is None else f"{int(litres / gallons)} gal"
