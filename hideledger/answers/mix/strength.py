"""What to expect of a bath before it is mixed: how salt and how sour it will be, by itself and with the wet skins in it. A meter decides."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from hideledger.answers.acid.sour import Sour, SourWithSkins, airs, sour_with_skins
from hideledger.answers.acid.sour import sour as sour_of
from hideledger.answers.mix.scale import Scaled, Taken
from hideledger.answers.mix.supplies import ALUM, OTHER, SALT, UNKNOWN_ACID, WATER
from hideledger.trade import brine, brine_acid
from hideledger.trade.bath_ph import Liquor, made_of
from hideledger.trade.brine_making import Batch, of_brine, of_skins, together
from hideledger.trade.chemicals import ACID, BASE, Chemical

# What a salometer may be off, degrees.
SALOMETER_DOUBT = 2.0
_NOTHING = 1e-9  # a third of an ounce, times three


@dataclass(frozen=True, slots=True, kw_only=True)
class Strength:
    """What a bath will be. `weak` and `strong` are one where the salt was weighed; by volume its grain decides, and they are the two ends.

    `sour` is None where it cannot be reckoned, and `why_not` says why (empty where there is nothing sour in it). `with_skins_in` is the pH when
    the skins go in, and once they have taken their acid. `raw_kg` of the skins bring their own water; `perhaps_salted` where nobody said whether they met salt before, and they
    are taken as if they had not. `acid_lift` is what the acid adds to what a salometer shows.
    """

    weak: Batch
    strong: Batch
    litres: float
    skins_kg: float = 0.0
    raw_kg: float = 0.0
    perhaps_salted: bool = False
    acid_lift: float = 0.0
    sour: Sour | None = None
    why_not: str = ""
    with_skins_in: SourWithSkins | None = None
    form_open: tuple[str, ...] = ()
    rounding: float = 0.0  # degrees salometer that rounding can move it by, at most

    def with_skins(self, batch: Batch) -> Batch:
        """The same once the skins' water has joined it."""
        return together([batch, of_skins(self.raw_kg)])


def strength_of(
    mixed: Scaled, skins_kg: float, raw_kg: float | None = None, *, perhaps_salted: bool = False
) -> Strength:
    """What the amounts as they are measured out make; `raw_kg` of the skins bring their own water, all of them where it is None."""
    raw_kg = skins_kg if raw_kg is None else raw_kg
    poured = sum(one.stuff.litres(one.quantity) for one in mixed.taken if one.stuff.sort != WATER)
    salts = [one.stuff.kg(one.quantity) for one in mixed.taken if one.stuff.sort == SALT]
    known = [weight for weight in salts if weight is not None]
    low, high = sum(weight[0] for weight in known), sum(weight[1] for weight in known)
    weak, strong = _batch(mixed, low, poured), _batch(mixed, high, poured)
    litres = strong.litres + poured
    if mixed.filled_to is not None:
        litres = float(mixed.filled_to.to("L"))
    sour, why_not, open_forms, liquors = _sour(mixed.taken, litres, 100 * strong.dissolved_share)
    in_it = None
    if sour is not None and skins_kg and liquors:
        in_it = sour_with_skins(liquors, strong, litres, skins_kg=skins_kg, raw_kg=raw_kg)
    return Strength(
        weak=weak,
        strong=strong,
        litres=litres,
        skins_kg=skins_kg,
        raw_kg=raw_kg,
        perhaps_salted=perhaps_salted,
        acid_lift=_lift(mixed.taken, strong),
        sour=sour,
        why_not=why_not,
        with_skins_in=in_it,
        form_open=open_forms,
        rounding=_by_rounding(mixed, strong),
    )


def _batch(mixed: Scaled, salt_kg: float, poured: float) -> Batch:
    """Water and salt. Where the bath is filled up to a mark, the water is what is left of it."""
    if mixed.filled_to is None:
        litres = sum(one.stuff.litres(one.quantity) for one in mixed.taken if one.stuff.sort == WATER)
        return Batch(water_kg=litres * brine.KG_WATER_PER_L, salt_kg=salt_kg)
    whole = max(float(mixed.filled_to.to("L")) - poured, 1e-6)
    try:
        return of_brine(whole, brine.share_of_kg_per_l_brine(salt_kg / whole))
    except ValueError:  # more than dissolves: as much water as the mark leaves beside full brine
        full = of_brine(whole, brine.share_of_salometer(100))
        return Batch(water_kg=full.water_kg, salt_kg=salt_kg)


def _sour(
    taken: Sequence[Taken], litres: float, salt_per_cent: float
) -> tuple[Sour | None, str, tuple[str, ...], list[Liquor]]:
    """The pH at make-up, or why there is none; acids whose form is open; and the liquors it was reckoned for, one for each form."""
    if not any(one.stuff.is_acid or one.stuff.sort in (BASE, ALUM) for one in taken):
        return None, "", (), []
    for one in taken:
        if one.stuff.sort == ALUM:
            return None, f"{one.stuff.name} makes acid of its own in water, which is not reckoned here", (), []
        if one.stuff.sort == UNKNOWN_ACID:
            return None, f"what {one.stuff.name} is made of is not known here", (), []
        if one.stuff.sort == OTHER:
            return None, f"what {one.stuff.name} does to it is not known here", (), []
        if one.stuff.chemicals and one.stuff.sort != SALT and one.stuff.kg(one.quantity) is None:
            return None, f"how heavy {one.quantity.unit} of {one.stuff.name} is is not known: weigh it", (), []
    if litres <= 0:
        return None, "there is no water to reckon with", (), []
    least, most = list[tuple[Chemical, float]](), list[tuple[Chemical, float]]()
    for one in taken:
        weight = one.stuff.kg(one.quantity)
        if not one.stuff.chemicals or weight is None:
            continue
        ends = [
            1000 * kg * one.stuff.strength / litres / chemical.molar_mass
            for kg in weight
            for chemical in one.stuff.chemicals
        ]
        whose = one.stuff.chemicals
        least.append((whose[0], min(ends)))
        most.append((whose[-1], max(ends)))
    sour = any(one.stuff.is_acid for one in taken)
    carbonic = any(chemical.protons == "carbonic" for one in taken for chemical in one.stuff.chemicals)
    liquors = [made_of(parts, air=air) for air in airs(sour=sour, carbonic=carbonic) for parts in (least, most)]
    still_open = tuple(one.stuff.name for one in taken if len(one.stuff.chemicals) > 1)
    return sour_of(liquors, salt_per_cent), "", still_open, liquors


def _lift(taken: Sequence[Taken], batch: Batch) -> float:
    """What acid in it adds to the reading of a salometer, in degrees, as far as the acid is known."""
    whole = batch.water_kg + batch.salt_kg
    acids: dict[str, float] = {}
    for one in taken:
        weight = one.stuff.kg(one.quantity) if one.stuff.sort == ACID else None
        # of two forms the one without water in its crystals: it adds the more
        name = one.stuff.chemicals[-1].name if weight is not None else ""
        if weight is not None and name in brine_acid.SOLUTIONS and whole:
            pure = weight[1] * (one.stuff.strength if one.stuff.chemicals[0].liquid else 1.0)
            acids[name] = acids.get(name, 0.0) + pure / whole
    return brine_acid.lift(batch.dissolved_share, acids) if acids and batch.salt_kg else 0.0


def unrounded(mixed: Scaled) -> Scaled:
    """The recipe as it was reckoned, before any scale or spoon."""
    taken = tuple(replace(one, amount=replace(one.amount, taken=one.amount.exact)) for one in mixed.taken)
    return replace(mixed, taken=taken)


def _by_rounding(mixed: Scaled, batch: Batch) -> float:
    """How far half a step of every scale can move the salt, in degrees salometer, at most."""
    salt = water = 0.0
    for one in mixed.taken:
        if one.as_asked or abs(one.amount.off_by) < _NOTHING:
            continue
        share = float(one.amount.step / 2 / one.quantity.value)
        if one.stuff.sort == SALT:
            weight = one.stuff.kg(one.quantity)
            salt += share * weight[1] if weight is not None else 0.0
        elif one.stuff.sort == WATER:
            water += share * one.stuff.litres(one.quantity) * brine.KG_WATER_PER_L
    if not (salt or water) or not batch.salt_kg:
        return 0.0
    return max(
        abs(
            brine.salometer(
                Batch(
                    water_kg=max(batch.water_kg + sign * water, 1e-9), salt_kg=max(batch.salt_kg - sign * salt, 0.0)
                ).share
                - batch.share
            )
        )
        for sign in (1, -1)
    )
