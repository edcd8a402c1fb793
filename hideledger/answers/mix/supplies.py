"""What stands behind the name of a supply in a recipe: water, an acid, salt …; and whatever is not said of it that must be, before anything is mixed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from hideledger.answers.acid.names import NotReckoned, meant_by, supply_of
from hideledger.model.shop import Measure, ShopBook, Supply, as_of
from hideledger.model.units import Quantity
from hideledger.rules.never import ACID_WORDS, never_among
from hideledger.trade import strengths
from hideledger.trade.chemicals import ACID, CHEMICALS, Chemical

WATER, SALT, ALUM, OTHER, UNKNOWN_ACID = "water", "salt", "alum", "other", "unknown acid"
# An acid sold in two forms: a name that leaves open which of them.
_FORMS = {
    "citric acid": ("citric acid, crystals", "citric acid, anhydrous"),
    "oxalic acid": ("oxalic acid, crystals", "oxalic acid, anhydrous"),
}
_SODAS = frozenset(["soda", "washing soda", "sodium carbonate", "carbonate of soda"])
_LIQUID_WORDS = frozenset(["oil", "oils", "vinegar", "vitriol", "glycerin", "glycerine", "formalin", "liquor"])
# A quart of salt weighs 2.1 to 2.7 lb by its grain: reckoned from bulk densities of fine and coarse salt; a US quart.
SALT_KG_A_LITRE = (2.1 * 0.45359237 / 0.946352946, 2.7 * 0.45359237 / 0.946352946)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stuff:
    """A supply as a recipe names it. `chemicals` are what it may be (two where its form is not written), `sort` what it does in a bath."""

    name: str
    supply: Supply | None
    sort: str
    chemicals: tuple[Chemical, ...] = ()
    measures: dict[str, Measure]

    @property
    def is_acid(self) -> bool:
        """Whether it goes in last and slowly."""
        return self.sort in (ACID, UNKNOWN_ACID)

    @property
    def names(self) -> tuple[str, ...]:
        """The name in the recipe, and those of the shop's supply line."""
        return (self.name,) if self.supply is None else (self.name, self.supply.name, *self.supply.others)

    @property
    def never_with_acid(self) -> bool:
        """Whether it gives a gas that kills where acid meets it, by any of its names."""
        return bool(never_among(self.names))

    @property
    def strength(self) -> float:
        """Share of the pure thing in what is weighed out, 0 to 1."""
        said = self.supply.strength if self.supply is not None else None
        return float(said) / 100 if said is not None else 1.0

    @property
    def kg_a_litre(self) -> tuple[float, float] | None:
        """How heavy a litre of it is, least and most; None where nobody knows."""
        if self.supply is not None and self.supply.density is not None:
            weight, volume = self.supply.density
            own = float(weight.to("kg") / volume.to("L"))
            return own, own
        if self.sort == WATER:
            return 1.0, 1.0
        if self.sort == SALT:
            return SALT_KG_A_LITRE
        chemical = self.chemicals[0] if self.chemicals else None
        if chemical is not None and chemical.liquid:
            try:
                known = strengths.density(chemical.protons, 100 * self.strength)
            except (ValueError, KeyError):
                return None
            return known, known
        return None

    @property
    def density_from_memory(self) -> float | None:
        """Kilograms a litre, where neither the shop nor a printed table says it; None where one does, or where nothing is known."""
        own = self.supply is not None and self.supply.density is not None
        chemical = self.chemicals[0] if self.chemicals else None
        if (
            own
            or chemical is None
            or not chemical.liquid
            or not strengths.from_memory(chemical.protons, 100 * self.strength)
        ):
            return None
        return self.kg_a_litre[0] if self.kg_a_litre is not None else None

    def plain(self, amount: Quantity) -> Quantity:
        """An amount in kg or L, the shop's own measures resolved."""
        own = self.measures.get(amount.unit)
        if own is not None:
            base = "kg" if own.quantity.dimension == "weight" else "L"
            return Quantity(value=amount.value * own.quantity.to(base), unit=base)
        base = "kg" if amount.dimension == "weight" else "L"
        return Quantity(value=amount.to(base), unit=base)

    def kg(self, amount: Quantity) -> tuple[float, float] | None:
        """What an amount weighs, least and most; None where its density is not known."""
        plain = self.plain(amount)
        if plain.unit == "kg":
            return float(plain.value), float(plain.value)
        heavy = self.kg_a_litre
        return None if heavy is None else (float(plain.value) * heavy[0], float(plain.value) * heavy[1])

    def litres(self, amount: Quantity) -> float:
        """The liquid that an amount adds to a bath: nothing for what dissolves."""
        plain = self.plain(amount)
        liquid = self.sort == WATER or (bool(self.chemicals) and self.chemicals[0].liquid) or self.is_liquid
        if not liquid:
            return 0.0
        if plain.unit == "L":
            return float(plain.value)
        heavy = self.kg_a_litre
        return float(plain.value) / (heavy[0] if heavy is not None else 1.0)

    @property
    def is_liquid(self) -> bool:
        """Whether it is poured: known to be, kept by volume, or an oil by its name."""
        if self.chemicals:
            return self.chemicals[0].liquid
        if self.supply is not None and self.supply.by:
            return self.supply.by == "volume"
        return self.sort in (WATER, UNKNOWN_ACID) or bool(_LIQUID_WORDS & set(self.name.split()))

    def to(self, amount: Quantity, unit: str) -> Quantity | None:
        """The same amount in another unit, by its own density where one is a weight and the other a volume; None where that is not known."""
        if amount.unit == unit:
            return amount
        plain, one = self.plain(amount), self.plain(Quantity(value=Decimal(1), unit=unit))
        if plain.unit == one.unit:
            return Quantity(value=plain.value / one.value, unit=unit)
        heavy = self._sure_density
        if heavy is None:
            return None
        value = plain.value / heavy if plain.unit == "kg" else plain.value * heavy
        return Quantity(value=value / one.value, unit=unit)

    @property
    def _sure_density(self) -> Decimal | None:
        """Kilograms a litre, exact where the shop wrote it; None where it is a range or unknown."""
        if self.supply is not None and self.supply.density is not None:
            weight, volume = self.supply.density
            return weight.to("kg") / volume.to("L")
        heavy = self.kg_a_litre
        return Decimal(repr(heavy[0])) if heavy is not None and heavy[0] == heavy[1] else None


def stuff_of(name: str, book: ShopBook, day: date) -> Stuff:
    """What a name in a recipe is. Raises NotReckoned for a soda of which nobody said which it is."""
    if name == "water":
        return Stuff(name=name, supply=None, sort=WATER, measures=book.measures)
    found = supply_of(name, book)
    supply = as_of(found, day) if found is not None else None
    names = (name,) if found is None else (name, found.name, *found.others)
    bare = Stuff(name=name, supply=supply, sort=OTHER, measures=book.measures)
    if bare.never_with_acid:
        return bare
    try:
        chemical = meant_by(name, book).chemical
    except NotReckoned as asked:
        if any(each in _SODAS for each in names):
            where = f"; or give its supply line the other name, as in `supply soda ash or {name}`"
            raise NotReckoned(f"{asked}{where}") from None
        for each in names:
            full = each if each.endswith("acid") else f"{each} acid"
            if full in _FORMS:
                forms = tuple(CHEMICALS[form] for form in _FORMS[full])
                return replace(bare, sort=ACID, chemicals=forms)
        words = {word for each in names for word in each.casefold().replace(",", " ").split()}
        if "alum" in words:
            return replace(bare, sort=ALUM)
        return replace(bare, sort=UNKNOWN_ACID) if words & ACID_WORDS else bare
    sort = SALT if chemical.name == "salt" else chemical.sort
    return replace(bare, sort=sort, chemicals=(chemical,))


def must_be_said(stuff: Stuff, amount: Quantity, where: str) -> None:
    """Refuses an acid of unknown strength, and an ounce that may be either. Raises NotReckoned.

    Fluid ounces and ounces by weight of a strong acid are nearly two-fold apart, battery acid and concentrated acid four-fold by volume.
    """
    supply = stuff.supply
    unsure = stuff.sort == UNKNOWN_ACID or (stuff.sort == ACID and stuff.chemicals[0].liquid)
    if unsure and (supply is None or supply.strength is None):
        at = f" ({supply.place.short})" if supply is not None else ""
        raise NotReckoned(
            f"{stuff.name}: of what strength? no pickle is printed on a guess; write it on its supply line, from the label or the sheet: `supply {supply.name if supply is not None else stuff.name}, __ %`{at}"
        )
    if amount.unit == "oz" and stuff.is_liquid and (supply is None or not supply.by):
        named = supply.name if supply is not None else stuff.name
        raise NotReckoned(
            f"{amount} {stuff.name}: ounces by weight, or fluid ounces? write `floz` in the recipe ({where}), or say that it is kept by weight: `supply {named}, keep 5 lb`"
        )
