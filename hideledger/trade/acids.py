"""How much base answers how much acid, by weight. The full dose is an upper bound: the skins have taken some of the acid.

Molar masses from the elements' standard atomic weights, in g/mol (checked against periodictable 2.1).
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Chemical:
    """One substance: grams a mole, and how many acid (or base) equivalents a mole gives."""

    name: str
    molar_mass: float
    equivalents: int


ACIDS: dict[str, Chemical] = {
    chemical.name: chemical
    for chemical in (
        Chemical(name="formic acid", molar_mass=46.025, equivalents=1),
        Chemical(name="acetic acid", molar_mass=60.052, equivalents=1),
        Chemical(name="lactic acid", molar_mass=90.078, equivalents=1),
        Chemical(name="citric acid, anhydrous", molar_mass=192.123, equivalents=3),
        Chemical(name="citric acid, crystals", molar_mass=210.138, equivalents=3),
        Chemical(name="oxalic acid, anhydrous", molar_mass=90.034, equivalents=2),
        Chemical(name="oxalic acid, crystals", molar_mass=126.064, equivalents=2),
        Chemical(name="sulfuric acid", molar_mass=98.072, equivalents=2),
    )
}
BASES: dict[str, Chemical] = {
    chemical.name: chemical
    for chemical in (
        Chemical(name="baking soda", molar_mass=84.006, equivalents=1),
        Chemical(name="soda ash", molar_mass=105.988, equivalents=2),
        Chemical(name="washing soda crystals", molar_mass=286.138, equivalents=2),
        Chemical(name="borax", molar_mass=381.363, equivalents=2),
    )
}


def full_dose(*, acid: str, base: str, weight: float) -> float:
    """Weight of base that answers `weight` of pure acid in full, in the same unit. Raises KeyError for a name not in the tables."""
    acids, bases = ACIDS[acid], BASES[base]
    return weight * acids.equivalents / acids.molar_mass * bases.molar_mass / bases.equivalents
