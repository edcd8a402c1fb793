"""The acids, bases and salts that go into a bath: what a mole weighs, how readily it gives its protons away, what the trade calls it.

Molar masses in g/mol from the elements' standard atomic weights (checked against periodictable 2.1). pKa at 25 C and zero ionic strength.
"""

from __future__ import annotations

from dataclasses import dataclass

ACID, BASE, SALT = "acid", "base", "salt"


@dataclass(frozen=True, slots=True, kw_only=True)
class Protons:
    """What gives up protons one after the other: its pKa in that order, counted from the form without charge."""

    name: str
    pkas: tuple[float, ...]


# CRC Handbook values as printed in Principles of General Chemistry, Appendix C ("Acid Dissociation Constants at 25 C"), save where said:
# carbonic from CRC section 8 (Perrin 1982); lactic from a table of organic acids (aqion); phosphoric pKa3 from memory; the first proton of
# sulphuric and that of hydrochloric acid are off in any bath, and -3 stands for that.
# Oxalic pKa2: the 3.81 of some textbook tables is an outlier; 4.27 is what critical compilations give. Citric pKa3: one table prints 5.60,
# all others 6.40.
PROTONS: dict[str, Protons] = {
    protons.name: protons
    for protons in (
        Protons(name="formic", pkas=(3.75,)),
        Protons(name="acetic", pkas=(4.756,)),
        Protons(name="citric", pkas=(3.13, 4.76, 6.40)),
        Protons(name="oxalic", pkas=(1.25, 4.27)),
        Protons(name="lactic", pkas=(3.86,)),
        Protons(name="sulphuric", pkas=(-3.0, 1.99)),
        Protons(name="hydrochloric", pkas=(-3.0,)),
        Protons(name="phosphoric", pkas=(2.16, 7.21, 12.32)),
        Protons(name="carbonic", pkas=(6.35, 10.33)),
        Protons(name="boric", pkas=(9.24,)),
    )
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Chemical:
    """One substance as it is bought.

    A mole gives `groups` of `protons` (empty for what gives none), `cations` positive charges that never leave, and `equivalents` of acid or
    base where it is used up in full. `liquid`: sold as a liquid of some strength. `others` are further names of the trade.
    """

    name: str
    sort: str
    molar_mass: float
    equivalents: int = 0
    protons: str = ""
    groups: int = 1
    cations: int = 0
    liquid: bool = False
    others: tuple[str, ...] = ()


CHEMICALS: dict[str, Chemical] = {
    chemical.name: chemical
    for chemical in (
        Chemical(name="formic acid", sort=ACID, molar_mass=46.025, equivalents=1, protons="formic", liquid=True),
        Chemical(
            name="acetic acid",
            sort=ACID,
            molar_mass=60.052,
            equivalents=1,
            protons="acetic",
            liquid=True,
            others=("vinegar", "white vinegar", "glacial acetic acid"),
        ),
        Chemical(name="lactic acid", sort=ACID, molar_mass=90.078, equivalents=1, protons="lactic", liquid=True),
        Chemical(
            name="citric acid, anhydrous",
            sort=ACID,
            molar_mass=192.123,
            equivalents=3,
            protons="citric",
            others=("anhydrous citric acid", "citric acid anhydrous"),
        ),
        Chemical(
            name="citric acid, crystals",
            sort=ACID,
            molar_mass=210.138,
            equivalents=3,
            protons="citric",
            others=("citric acid crystals", "citric acid monohydrate", "citric crystals", "citric monohydrate"),
        ),
        Chemical(
            name="oxalic acid, anhydrous",
            sort=ACID,
            molar_mass=90.034,
            equivalents=2,
            protons="oxalic",
            others=("anhydrous oxalic acid", "oxalic acid anhydrous"),
        ),
        Chemical(
            name="oxalic acid, crystals",
            sort=ACID,
            molar_mass=126.064,
            equivalents=2,
            protons="oxalic",
            others=(
                "oxalic acid crystals",
                "oxalic acid dihydrate",
                "oxalic crystals",
                "oxalic dihydrate",
                "wood bleach",
            ),
        ),
        Chemical(
            name="sulphuric acid",
            sort=ACID,
            molar_mass=98.072,
            equivalents=2,
            protons="sulphuric",
            liquid=True,
            others=("battery acid", "oil of vitriol", "concentrated sulphuric acid"),
        ),
        # used up as far as the second proton: the third is not given away in any bath
        Chemical(
            name="phosphoric acid", sort=ACID, molar_mass=97.994, equivalents=2, protons="phosphoric", liquid=True
        ),
        Chemical(
            name="hydrochloric acid",
            sort=ACID,
            molar_mass=36.458,
            equivalents=1,
            protons="hydrochloric",
            liquid=True,
            others=("muriatic acid", "hydrochloric"),
        ),
        Chemical(
            name="baking soda",
            sort=BASE,
            molar_mass=84.006,
            equivalents=1,
            protons="carbonic",
            cations=1,
            others=("bicarbonate", "sodium bicarbonate", "bicarbonate of soda", "bicarb"),
        ),
        Chemical(
            name="soda ash",
            sort=BASE,
            molar_mass=105.988,
            equivalents=2,
            protons="carbonic",
            cations=2,
            others=("anhydrous sodium carbonate", "sodium carbonate anhydrous"),
        ),
        Chemical(
            name="washing soda crystals",
            sort=BASE,
            molar_mass=286.138,
            equivalents=2,
            protons="carbonic",
            cations=2,
            others=("sal soda", "soda crystals", "sodium carbonate decahydrate"),
        ),
        Chemical(
            name="borax",
            sort=BASE,
            molar_mass=381.363,
            equivalents=2,
            protons="boric",
            groups=4,
            cations=2,
            others=("borax decahydrate",),
        ),
        Chemical(
            name="lye",
            sort=BASE,
            molar_mass=39.997,
            equivalents=1,
            cations=1,
            others=("caustic soda", "sodium hydroxide"),
        ),
        Chemical(name="sodium formate", sort=SALT, molar_mass=68.007, protons="formic", cations=1),
        Chemical(name="sodium acetate, anhydrous", sort=SALT, molar_mass=82.034, protons="acetic", cations=1),
        Chemical(
            name="sodium acetate, crystals",
            sort=SALT,
            molar_mass=136.079,
            protons="acetic",
            cations=1,
            others=("sodium acetate crystals", "sodium acetate trihydrate"),
        ),
        Chemical(name="sodium citrate, anhydrous", sort=SALT, molar_mass=258.069, protons="citric", cations=3),
        Chemical(
            name="sodium citrate, crystals",
            sort=SALT,
            molar_mass=294.099,
            protons="citric",
            cations=3,
            others=("sodium citrate crystals", "sodium citrate dihydrate", "trisodium citrate dihydrate"),
        ),
        Chemical(
            name="salt",
            sort=SALT,
            molar_mass=58.44,
            others=("table salt", "rock salt", "pickling salt", "non-iodized salt", "stock salt", "sodium chloride"),
        ),
    )
}
