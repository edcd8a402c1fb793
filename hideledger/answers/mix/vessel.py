"""Whether the vessel holds a bath with the skins in it. Skins take up about a litre for each kilogram (common practice, no source)."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from hideledger.answers.acid.names import NotReckoned
from hideledger.answers.amounts import volume_words
from hideledger.answers.mix.asked import Wanted
from hideledger.answers.mix.strength import Strength
from hideledger.answers.mix.words import skin_words
from hideledger.model.shop import Vessel, as_of
from hideledger.model.units import plain_number
from hideledger.rules.words import who
from hideledger.shopfloor.life import BathLife
from hideledger.text.nearest import nearest
from hideledger.trade.brine import L_PER_IMPERIAL_GAL, L_PER_US_GAL

_LITRES_A_KG = 1.0
# With less room than this share of it left, a vessel is full to the brim (our own figure).
_BRIM = 0.01


_GALLONS = {"US": L_PER_US_GAL, "imperial": L_PER_IMPERIAL_GAL}


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """What is said of the room in a vessel, and of the trouble with it; `stands` where a bath of this very recipe is in it."""

    said: tuple[str, ...] = ()
    trouble: tuple[str, ...] = ()
    stands: bool = False


def fits(wanted: Wanted, vessel: Vessel, strength: Strength) -> Room:
    """What is said of the room in it. Raises NotReckoned where the bath would run over."""
    shop = wanted.book.shop
    skins = strength.skins_kg * _LITRES_A_KG
    whole = strength.litres + skins
    said, trouble = list[str](), list[str]()
    if vessel.volume is None:
        said.append(
            f"how much {vessel.tag} takes is not written: `vessel {vessel.tag}, {vessel.sort or 'vat'}, 40 gal` ({vessel.place.short})"
        )
    else:
        room = float(vessel.volume.to("L"))
        makes = f"{volume_words(strength.litres, shop)} of liquor" + (
            f" and {skin_words(strength.skins_kg, shop)} of wet skin" if skins else ""
        )
        if whole > room * 1.001:
            part = max(0.0, room - skins) / strength.litres
            asked = wanted.water or wanted.liquor or wanted.bare
            most = ""
            if asked is not None and part > 0:
                litres = part * float(asked.quantity.to("L" if asked.quantity.dimension == "volume" else "kg"))
                most = f"; at most {_down(litres, wanted)} would fit"
            come = f"{makes} come to {_finely(whole, wanted)}" if skins else f"this makes {makes}"
            raise NotReckoned(
                f"{vessel.tag} takes {vessel.volume} ({vessel.place.short}), and {come}: it would run over by {volume_words(whole - room, shop)}{most}"
            )
        if room - whole < _BRIM * room:
            trouble.append(
                f"{vessel.tag} takes {vessel.volume}, and this fills it to the brim: no room to stir{'' if skins else ', nor for a skin'}"
            )
        left = volume_words(max(0.0, room - whole), shop)
        said.append(
            f"{vessel.tag} takes {vessel.volume}: {makes}, {left} of room left"
            + (" (a kilogram of skin taken for a litre)" if skins else ", before any skin is in")
        )
    if vessel.holds is not None and (wanted.lives or wanted.asked.counts is not None):
        enough, words = _by_count(wanted, vessel, vessel.holds)
        (said if enough else trouble).extend(words)
    if vessel.holds_weight is not None and strength.skins_kg > float(vessel.holds_weight.to("kg")):
        trouble.append(
            f"{vessel.tag} holds {vessel.holds_weight} of skin, and these are {skin_words(strength.skins_kg, shop)}: too many at once"
        )
    there = wanted.floor.in_vessel(vessel.tag)
    trouble += [_stands(bath, wanted) for bath in there]
    stands = any(bath.recipe.casefold() == wanted.recipe.name for bath in there)
    return Room(said=tuple(said), trouble=tuple(trouble), stands=stands)


def _stands(bath: BathLife, wanted: Wanted) -> str:
    """A bath is not let go from under the skins in it; one of the same recipe may be meant to be kept and strengthened."""
    inside = [member.hide.tag for member in bath.now_in]
    kept = ""
    if bath.recipe.casefold() == wanted.recipe.name:
        kept = f"; where it is kept, and this goes into it, write `{bath.tag} add …` with these amounts, or ask what it wants by its readings: `brine {bath.tag} to 40 sal`, `acid {bath.tag} to pH 2.0 with …`"
    if inside:
        lie = "lies" if len(inside) == 1 else "lie"
        rest = "it is" if len(inside) == 1 else "they are"
        return f"{who(inside)} {lie} in {bath.tag} in that tub, mixed at {bath.made.at.short}: {bath.tag} stays until {rest} out of it{kept}"
    return (
        f"{bath.tag} stands in it, mixed at {bath.made.at.short}: let it go first, and write `{bath.tag} dumped`{kept}"
    )


def _by_count(wanted: Wanted, vessel: Vessel, holds: Decimal) -> tuple[bool, list[str]]:
    try:
        counts = wanted.counts()
    except NotReckoned:
        return True, []
    if counts > holds:
        return False, [
            f"{vessel.tag} holds {plain_number(holds)} skins, and these count {plain_number(counts)}: too many at once"
        ]
    return True, [f"{vessel.tag} holds {plain_number(holds)} skins, and these count {plain_number(counts)}"]


def _down(litres: float, wanted: Wanted) -> str:
    """No more than fits, in the shop's measure: to the half gallon or litre below."""
    size = _GALLONS.get(wanted.book.shop.gallons, 1.0)
    return f"{int(2 * litres / size) / 2:g} {'L' if size == 1 else 'gal'}"


def _finely(litres: float, wanted: Wanted) -> str:
    """A volume to a tenth, so that it is seen to be more than the vessel takes."""
    size = _GALLONS.get(wanted.book.shop.gallons, 1.0)
    return f"{litres / size:.1f} {'L' if size == 1 else 'gal'}"
