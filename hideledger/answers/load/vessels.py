"""The vessels of a shop as a timetable wants them: which are in use, what they take, and what is to be said of their baths."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from decimal import Decimal

from hideledger.model.moments import MINUTE, Clock
from hideledger.model.shop import ShopBook, Vessel, as_of
from hideledger.model.units import Quantity, plain_number
from hideledger.rules.words import day_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife
from hideledger.trade.timetable import Tub

SHARES = 100  # kinds may count halves and quarters; the timetable takes whole numbers
_GRAMS_A_LITRE = (
    1000  # a wet skin takes up the room of its weight in water, a little less at most (common practice, no source)
)


def in_use(shop: ShopBook, day: int) -> dict[str, Vessel]:
    """The vessels as they are on a day, by tag, without those that hold nothing: they are out of use."""
    today = {tag: as_of(vessel, date.fromordinal(day)) for tag, vessel in shop.vessels.items()}
    return {tag: vessel for tag, vessel in today.items() if vessel.holds is None or vessel.holds > 0}


def back_in_use(shop: ShopBook, day: int, last_day: int) -> dict[str, tuple[int, Vessel]]:
    """The vessels that hold nothing on a day and take skins again on a later one, with that day, up to the last."""
    found: dict[str, tuple[int, Vessel]] = {}
    used = in_use(shop, day)
    for tag, vessel in shop.vessels.items():
        for later, version in _later(vessel, day, last_day) if tag not in used else ():
            if tag not in found and (version.holds is None or version.holds > 0):
                found[tag] = (later, version)
    return found


def tub_of(floor: Floor, vessel: Vessel) -> Tub:
    """What it takes, in whole units: by count, and by weight, its own limit or what goes into it beside the liquor."""
    limits = [int(limit.to("g")) for limit in (vessel.holds_weight,) if limit is not None]
    limits += [] if (room := room_beside_liquor(floor, vessel)) is None else [room]
    return Tub(
        name=vessel.tag,
        holds=None if vessel.holds is None else int(vessel.holds * SHARES),
        weighs=min(limits, default=None),
        whole=vessel.is_drum,
    )


def changing_tub(floor: Floor, vessel: Vessel, last_day: int) -> Tub:
    """The same, with the limits that its later lines give it within the weeks laid out, by the minute from which they hold."""
    clock = floor.book.clock
    first = clock.day_of(floor.at)
    later = _later(vessel, first, last_day)
    tub = tub_of(floor, as_of(vessel, date.fromordinal(first)))
    if not later:
        return tub
    steps = [(0, tub.holds, tub.weighs)]
    for day, version in later:
        then = tub_of(floor, version)
        steps.append((clock.day_start(day) // MINUTE, then.holds, then.weighs))
    steps.sort(key=lambda step: step[0])
    counts, weights = [step[1] for step in steps], [step[2] for step in steps]
    return replace(
        tub,
        holds=None if None in counts else max(one for one in counts if one is not None),
        weighs=None if None in weights else max(one for one in weights if one is not None),
        steps=tuple(steps),
    )


def _later(vessel: Vessel, first: int, last_day: int) -> list[tuple[int, Vessel]]:
    """The day and the limits of each line that makes another of a vessel behind the first day, up to the last."""
    versions = [
        (version.since.toordinal(), version) for version in (*vessel.earlier, vessel) if version.since is not None
    ]
    return [(day, version) for day, version in versions if first < day <= last_day]


def liquor(floor: Floor, vessel: Vessel) -> float | None:
    """Litres that stand in it, or that the last bath or load there had; None where none is written."""
    baths = [bath for bath in floor.all_baths() if bath.vessel == vessel.tag and bath.volume_l is not None]
    return max(baths, key=lambda bath: (bath.ended is None, bath.made_when.lo)).volume_l if baths else None


def room_beside_liquor(floor: Floor, vessel: Vessel) -> int | None:
    """Grams of wet skin that go into it beside the liquor before it runs over; None where no volume is written."""
    litres = liquor(floor, vessel)
    if vessel.volume is None or litres is None:
        return None
    return max(0, int((float(vessel.volume.to("L")) - litres) * _GRAMS_A_LITRE))


def vessels_said(floor: Floor, tags: Iterable[str], last_day: int) -> list[str]:
    """What changes about the vessels within the weeks laid out, and is not reckoned with; which are out of use."""
    clock = floor.book.clock
    first = clock.day_of(floor.at)
    back = back_in_use(floor.book.shop, first, last_day)
    said = [
        f"{tag} holds 0 until {day_said(clock, day, floor.at)}, and is laid out from then on ({version.place.short})"
        for tag, (day, version) in back.items()
    ]
    for vessel in floor.book.shop.vessels.values():
        for day, version in _later(vessel, first, last_day):
            if back.get(vessel.tag, (0, vessel))[0] == day:
                continue
            said.append(
                f"from {day_said(clock, day, floor.at)} on {_holding(version)} ({version.place.short}): what stays in it past that day, or may, goes by the smaller limit"
            )
    known = {*tags, *in_use(floor.book.shop, first), *back}
    said += [f"{tag} holds 0, and is left out: out of use" for tag in floor.book.shop.vessels if tag not in known]
    return said


def _holding(vessel: Vessel) -> str:
    """`V2 holds 6`: what a line of a vessel says that it takes."""
    if vessel.holds == 0:
        return f"{vessel.tag} is out of use"
    limits = [
        str(one)
        for one in (None if vessel.holds is None else plain_number(vessel.holds), vessel.holds_weight)
        if one is not None
    ]
    return f"{vessel.tag} holds {' and '.join(limits) or 'any number'}"


def past_its_life(floor: Floor, bath: BathLife, moment: int, pounds: Decimal) -> str:
    """What is wrong with putting so many pounds of skin into a bath at an instant, by the `lasts` of its recipe; empty where nothing is."""
    recipe = floor.book.shop.recipe_named(bath.recipe)
    if recipe is None:
        return ""
    clock: Clock = floor.book.clock
    if recipe.lasts is not None and (ends := recipe.lasts.after(bath.made_when.hi, clock)) < moment:
        return f"{bath.tag} is past its life by then (it lasts {recipe.lasts}, up to {day_said(clock, clock.day_of(ends), floor.at)}): mix a new one for them"
    most = _pounds(recipe.lasts_weight, recipe.lasts_weight_per, bath.volume_l)
    through = Decimal(str(bath.pounds_through)) + pounds
    if most is not None and through > most:
        return f"with these {through:.0f} lb of skin have gone through {bath.tag}, and it lasts {most:.0f} lb: strengthen it by your supplier's sheet, or mix a new one"
    return ""


def _pounds(weight: Quantity | None, per: Quantity | None, litres: float | None) -> Decimal | None:
    if weight is None or (per is not None and litres is None):
        return None
    return weight.to("lb") * (Decimal(1) if per is None else Decimal(str(litres)) / per.to("L"))
