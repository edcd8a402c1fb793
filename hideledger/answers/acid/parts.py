"""What a bath is made of: each part weighed out into moles, and nothing guessed about strength, form or ounces."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from hideledger.answers.acid.names import Meant, NotReckoned, is_water, meant_by
from hideledger.model.shop import ShopBook, Supply, as_of
from hideledger.reading.asking_part import FORMS, HIDES, Part
from hideledger.trade import strengths
from hideledger.trade.bath_ph import Liquor, made_of
from hideledger.trade.brine import KG_WATER_PER_L
from hideledger.trade.brine_making import Batch
from hideledger.trade.chemicals import ACID, Chemical

# So called, a skin has been in salt or in a bath, and brings no plain water.
MET_SALT = frozenset(["salted", "drained", "shaved"])
_GRAMS_OZ, _LITRES_GAL = 28.349523125, 3.785411784
# A litre of water takes up so much salt and no more: 26.395 % by weight at 60 F (Salt Institute).
_SALT_FULL = 358.6
_HINTS = {
    "sulphuric acid": "battery acid is often 33 to 37 % and concentrated acid 93 to 98 %, but the label decides",
    "acetic acid": "household vinegar says 5 % or so, glacial acid 99 % or more; the label decides",
    "formic acid": "it is sold at 85 to 95 % and weaker; the label decides",
    "lactic acid": "it is sold at 80 or 88 %; the label decides",
    "hydrochloric acid": "muriatic acid is often 28 to 32 %; the label decides",
    "phosphoric acid": "it is sold at 75 or 85 % and weaker; the label decides",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A chemical in a bath: `grams` of the pure thing, the `litres` it adds, `text` as it was asked."""

    chemical: Chemical
    grams: float
    litres: float
    text: str
    doubtful: float | None = None  # kg a litre, where it counted and was not read in a printed table

    @property
    def moles(self) -> float:
        """Moles in all."""
        return self.grams / self.chemical.molar_mass


@dataclass(frozen=True, slots=True, kw_only=True)
class Bottle:
    """A chemical as it is taken from the shelf: `strength` from 0 to 1, `kg_a_litre` None where it is not known."""

    chemical: Chemical
    strength: float = 1.0
    kg_a_litre: float | None = None
    doubtful: bool = False  # the density was not read in a printed table
    form_by: str = ""  # where its form is written, where the name that was asked does not say it

    @property
    def name(self) -> str:
        """`85 % formic acid`; `citric acid, crystals`."""
        return f"{100 * self.strength:g} % {self.chemical.name}" if self.strength < 1 else self.chemical.name


@dataclass(frozen=True, slots=True, kw_only=True)
class Bath:
    """Water and what is in it; `litres` 0 where no water was named."""

    litres: float
    water_litres: float
    held: tuple[Held, ...]
    skins_kg: float = 0.0
    raw_kg: float = 0.0  # of the skins, those that bring their own water

    @property
    def salt_per_cent(self) -> float:
        """Salt by weight, of salt and water."""
        salt = self.salt_grams
        return 100 * salt / (salt + 998 * self.water_litres) if salt else 0.0

    @property
    def salt_grams(self) -> float:
        """Salt in all."""
        return sum(held.grams for held in self.held if held.chemical.name == "salt")

    @property
    def batch(self) -> Batch:
        """Its water and salt alone."""
        return Batch(water_kg=KG_WATER_PER_L * self.water_litres, salt_kg=self.salt_grams / 1000)

    @property
    def acids(self) -> tuple[Held, ...]:
        """The acids among what is in it."""
        return tuple(held for held in self.held if held.chemical.sort == ACID)

    def liquor(self, air: str) -> Liquor:
        """The same in mol a litre."""
        return made_of(((held.chemical, held.moles / self.litres) for held in self.held), air=air)


def bath_of(parts: Iterable[Part], book: ShopBook | None, day: date | None, in_bath: Iterable[Meant] = ()) -> Bath:
    """A bath of parts; `in_bath` are the forms that it is known to be made with. Raises NotReckoned."""
    joined = _with_forms(tuple(parts))
    water, skins, raw, rest = 0.0, 0.0, 0.0, list[Part]()
    for part in joined:
        if is_water(part.name) and part.strength is None:
            if part.amount is None or part.per is not None:
                raise NotReckoned(f"`{part.text}`: how much of it in all?")
            water += float(part.amount.to("L")) if part.amount.dimension == "volume" else float(part.amount.to("kg"))
        elif is_skins(part.name):
            weight = _skins(part)
            skins += weight
            raw += 0.0 if MET_SALT & set(part.name.split()) else weight
        else:
            rest.append(part)
    forms = tuple(in_bath)
    held = [weighed(_in_all(part, water), book, day, forms) for part in rest]
    bath = Bath(
        litres=water + sum(each.litres for each in held) if water else 0.0,
        water_litres=water,
        held=tuple(held),
        skins_kg=skins,
        raw_kg=raw,
    )
    if water:
        _sensible(bath)
    return bath


def is_skins(name: str) -> bool:
    """Whether a name is that of skins, however wet: `wet skins`, `drained capes`."""
    return bool(name) and name.rsplit(maxsplit=1)[-1] in HIDES


def _skins(part: Part) -> float:
    if part.amount is None or part.amount.dimension != "weight" or part.per is not None:
        raise NotReckoned(
            f"`{part.text}`: how much do they weigh together? as in `30 lb skins`, or `30 lb drained skins`"
        )
    return float(part.amount.to("kg"))


def bottle_of(part: Part, book: ShopBook | None, day: date | None, in_bath: Iterable[Meant] = ()) -> Bottle:
    """What a part is taken from: substance, strength, density. Raises NotReckoned where the strength is not known."""
    meant = meant_by(part.name, book, in_bath)
    chemical, supply = meant.chemical, meant.supply
    supply = as_of(supply, day) if supply is not None and day is not None else supply
    if part.strength is not None and part.strength_by == "volume":
        raise NotReckoned(f"`{part.text}`: a strength by weight is needed, as on the label or the supplier's sheet")
    strength = part.strength if part.strength is not None else supply.strength if supply is not None else None
    if strength is None and chemical.liquid:
        hint = _HINTS.get(chemical.name, "the label decides")
        raise NotReckoned(
            f"`{part.name}` of what strength? {hint}; write its figure in front, as in `85 % formic acid`"
        )
    per_cent = float(strength) if strength is not None else 100.0
    own = supply is not None and supply.density is not None
    return Bottle(
        chemical=chemical,
        strength=per_cent / 100,
        kg_a_litre=_density(chemical, per_cent, supply),
        doubtful=not own and strengths.from_memory(chemical.protons, per_cent),
        form_by=meant.by,
    )


def weighed(part: Part, book: ShopBook | None, day: date | None, in_bath: Iterable[Meant] = ()) -> Held:
    """One part weighed out. Raises NotReckoned."""
    if part.amount is None:
        raise NotReckoned(f"how much `{part.name or part.text}`? write an amount, as in `60 oz` or `200 ml`")
    if not part.name:
        raise NotReckoned(f"`{part.text}` of what? write the name behind it, as in `60 oz citric acid crystals`")
    bottle = bottle_of(part, book, day, in_bath)
    chemical, amount = bottle.chemical, part.amount
    if amount.dimension == "weight":
        if chemical.liquid and amount.unit == "oz" and not part.by:
            apart = f", {bottle.kg_a_litre * 29.5735 / _GRAMS_OZ:.2f}-fold apart here" if bottle.kg_a_litre else ""
            raise NotReckoned(f"`{part.text}`: ounces by weight or fluid ounces{apart}? write `oz by weight` or `floz`")
        grams = float(amount.to("g"))
        litres = grams / 1000 / (bottle.kg_a_litre or 1.0) if chemical.liquid else 0.0
    else:
        if bottle.kg_a_litre is None:
            why = (
                "what a measure of it weighs hangs on its grain; weigh it"
                if not chemical.liquid
                else "no density is known here for that strength; weigh it, or give the supply its `lb per gal` in the book"
            )
            raise NotReckoned(f"`{part.text}`: {why}")
        litres = float(amount.to("L"))
        grams = 1000 * litres * bottle.kg_a_litre
        litres = litres if chemical.liquid else 0.0
    doubtful = bottle.kg_a_litre if bottle.doubtful and amount.dimension == "volume" else None
    return Held(chemical=chemical, grams=grams * bottle.strength, litres=litres, text=part.text, doubtful=doubtful)


def _density(chemical: Chemical, per_cent: float, supply: Supply | None) -> float | None:
    if supply is not None and supply.density is not None:
        weight, volume = supply.density
        return float(weight.to("kg") / volume.to("L"))
    if not chemical.liquid:
        return None
    try:
        return strengths.density(chemical.protons, per_cent)
    except ValueError:
        return None


def density_by_memory(text: str, kg_a_litre: float) -> str:
    """What is said beside an answer that rests on a density of no printed table."""
    return f"`{text}` was turned into weight with {kg_a_litre:.3f} kg a litre, a figure from memory; its sheet has the right one"


def _with_forms(parts: tuple[Part, ...]) -> tuple[Part, ...]:
    """`60 oz citric acid, anhydrous` is one part: a form alone behind a comma belongs to what stands before it."""
    joined: list[Part] = []
    for part in parts:
        alone = part.amount is None and part.strength is None
        if joined and alone and part.name in FORMS:
            joined.append(_of_form(joined.pop(), part))
        else:
            joined.append(part)
    return tuple(joined)


def _in_all(part: Part, water: float) -> Part:
    """An amount for each gallon or litre, times the water."""
    if part.per is None or part.amount is None:
        return part
    if not water:
        raise NotReckoned(f"`{part.text}`: of how much water? write it too, as in `20 gal water`")
    times = Decimal(repr(water)) / part.per.to("L")
    return replace(part, amount=replace(part.amount, value=part.amount.value * times))


def _of_form(part: Part, form: Part) -> Part:
    return replace(part, name=f"{part.name} {form.name}", text=f"{part.text}, {form.text}", end=form.end)


def _sensible(bath: Bath) -> None:
    """Refuses what no bath holds: a slip of unit or figure would else be reckoned."""
    for held in bath.held:
        grams = held.grams / bath.litres
        if held.chemical.name == "salt" and grams > 1.02 * _SALT_FULL:
            raise NotReckoned(
                f"`{held.text}`: more salt than that water takes up ({_SALT_FULL:.0f} g a litre, 3 lb a US gallon); is it a slip?"
            )
        equivalents = grams / held.chemical.molar_mass * (held.chemical.equivalents or held.chemical.cations)
        if equivalents > 2.0:
            per_gal = grams * _LITRES_GAL / _GRAMS_OZ
            raise NotReckoned(
                f"`{held.text}` is {per_gal:.0f} oz of it in a US gallon ({grams:.0f} g a litre), more than a bath holds; is it a slip?"
            )
    if bath.litres > 40_000:
        raise NotReckoned(f"{bath.litres:.0f} litres is no bath of a shop; is it a slip?")
