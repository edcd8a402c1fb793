"""What acids and bases weigh against each other, against printed tables.

- Grams of base for a gram of acid: from standard atomic weights, the equations balanced with chempy.
- Molar masses: periodictable 2.1.0.
- Mol a litre and density of solutions at 20 C: CRC Handbook, "Concentrative Properties of Aqueous Solutions" (102nd ed.).
"""

from __future__ import annotations

import pytest

from hideledger.trade import acids, strengths
from hideledger.trade.chemicals import CHEMICALS

BASES = ("baking soda", "soda ash", "washing soda crystals", "borax", "lye")
FULL = {
    "formic acid": (1.8252, 1.1514, 3.1085, 4.1430, 0.8690),
    "acetic acid": (1.3989, 0.8825, 2.3824, 3.1753, 0.6660),
    "lactic acid": (0.9326, 0.5883, 1.5883, 2.1168, 0.4440),
    "citric acid, anhydrous": (1.3117, 0.8275, 2.2340, 2.9775, 0.6245),
    "citric acid, crystals": (1.1993, 0.7566, 2.0425, 2.7222, 0.5710),
    "oxalic acid, anhydrous": (1.8661, 1.1772, 3.1781, 4.2358, 0.8885),
    "oxalic acid, crystals": (1.3327, 0.8407, 2.2698, 3.0252, 0.6345),
    "sulphuric acid": (1.7131, 1.0807, 2.9176, 3.8886, 0.8157),
    "phosphoric acid": (1.7145, 1.0816, 2.9200, 3.8917, 0.8163),
    "hydrochloric acid": (2.3042, 1.4536, 3.9242, 5.2302, 1.0971),
}
MILLIEQUIVALENTS = {
    "formic acid": 21.73,
    "acetic acid": 16.65,
    "lactic acid": 11.10,
    "citric acid, anhydrous": 15.61,
    "citric acid, crystals": 14.28,
    "oxalic acid, anhydrous": 22.21,
    "oxalic acid, crystals": 15.86,
    "sulphuric acid": 20.39,
    "phosphoric acid": 20.41,
    "hydrochloric acid": 27.43,
}
MOLAR = {
    "formic acid": 46.025,
    "acetic acid": 60.052,
    "citric acid, anhydrous": 192.123,
    "citric acid, crystals": 210.138,
    "oxalic acid, anhydrous": 90.034,
    "oxalic acid, crystals": 126.064,
    "lactic acid": 90.078,
    "sulphuric acid": 98.072,
    "phosphoric acid": 97.994,
    "hydrochloric acid": 36.458,
    "baking soda": 84.006,
    "soda ash": 105.988,
    "washing soda crystals": 286.138,
    "borax": 381.363,
    "sodium formate": 68.007,
    "sodium acetate, anhydrous": 82.034,
    "lye": 39.997,
    "salt": 58.44,
}
# acid, % by weight, mol a litre, g/cm3
CRC_ROWS = [
    ("formic acid", 10, 2.221, 1.0224),
    ("formic acid", 52, 12.633, 1.1183),
    ("formic acid", 60, 14.813, 1.1364),
    ("formic acid", 64, 15.928, 1.1456),
    ("acetic acid", 5, 0.837, 1.0052),
    ("acetic acid", 36, 6.255, 1.0434),
    ("acetic acid", 88, 15.619, 1.0658),
    ("acetic acid", 100, 17.447, 1.0477),
    ("citric acid, anhydrous", 10, 0.541, 1.0402),
    ("citric acid, anhydrous", 30, 1.772, 1.1346),
    ("oxalic acid, anhydrous", 5, 0.568, 1.0220),
    ("lactic acid", 32, 3.811, 1.0728),
    ("lactic acid", 68, 8.741, 1.1579),
    ("phosphoric acid", 10, 1.075, 1.0531),
    ("phosphoric acid", 40, 5.117, 1.2536),
    ("hydrochloric acid", 16, 4.729, 1.0777),
    ("hydrochloric acid", 32, 10.175, 1.1594),
    ("sulphuric acid", 2, 0.206, 1.0116),
    ("sulphuric acid", 10, 1.087, 1.0661),
    ("sulphuric acid", 34, 4.339, 1.2518),
    ("sulphuric acid", 38, 4.981, 1.2855),
    ("sulphuric acid", 50, 7.113, 1.3952),
    ("sulphuric acid", 74, 12.505, 1.6574),
    ("sulphuric acid", 84, 15.153, 1.7693),
    ("sulphuric acid", 96, 17.966, 1.8355),
    ("formic acid", 36, 8.477, 1.0839),
    ("formic acid", 40, 9.502, 1.0935),
    ("formic acid", 44, 10.529, 1.1015),
    ("formic acid", 48, 11.572, 1.1097),
    ("formic acid", 56, 13.715, 1.1273),
    ("formic acid", 68, 17.054, 1.1544),
    ("formic acid", 70, 17.619, 1.1586),
    ("acetic acid", 10, 1.685, 1.0121),
    ("acetic acid", 20, 3.414, 1.0250),
    ("acetic acid", 30, 5.180, 1.0369),
    ("acetic acid", 40, 6.977, 1.0474),
    ("acetic acid", 50, 8.794, 1.0562),
    ("acetic acid", 60, 10.620, 1.0629),
    ("acetic acid", 70, 12.441, 1.0673),
    ("acetic acid", 78, 13.874, 1.0681),
    ("acetic acid", 84, 14.930, 1.0673),
    ("acetic acid", 90, 15.953, 1.0644),
    ("acetic acid", 94, 16.602, 1.0606),
    ("acetic acid", 98, 17.198, 1.0538),
    ("lactic acid", 10, 1.132, 1.0199),
    ("lactic acid", 20, 2.318, 1.0439),
    ("lactic acid", 40, 4.847, 1.0915),
    ("lactic acid", 60, 7.588, 1.1392),
    ("lactic acid", 80, 10.522, 1.1848),
    ("hydrochloric acid", 5, 1.403, 1.0228),
    ("hydrochloric acid", 10, 2.873, 1.0476),
    ("hydrochloric acid", 20, 6.023, 1.0980),
    ("hydrochloric acid", 30, 9.456, 1.1492),
    ("hydrochloric acid", 36, 11.642, 1.1791),
    ("hydrochloric acid", 40, 13.140, 1.1977),
    ("sulphuric acid", 15, 1.685, 1.1020),
    ("sulphuric acid", 20, 2.324, 1.1398),
    ("sulphuric acid", 24, 2.866, 1.1714),
    ("sulphuric acid", 30, 3.729, 1.2191),
    ("sulphuric acid", 36, 4.656, 1.2685),
    ("sulphuric acid", 40, 5.313, 1.3028),
    ("sulphuric acid", 46, 6.364, 1.3570),
    ("sulphuric acid", 48, 6.734, 1.3759),
    ("sulphuric acid", 54, 7.901, 1.4351),
    ("sulphuric acid", 56, 8.312, 1.4558),
    ("sulphuric acid", 58, 8.734, 1.4770),
    ("sulphuric acid", 60, 9.168, 1.4987),
    ("sulphuric acid", 66, 10.529, 1.5646),
    ("sulphuric acid", 70, 11.494, 1.6105),
    ("sulphuric acid", 78, 13.554, 1.7043),
    ("sulphuric acid", 80, 14.088, 1.7272),
    ("sulphuric acid", 82, 14.623, 1.7491),
    ("sulphuric acid", 86, 15.671, 1.7872),
    ("sulphuric acid", 88, 16.170, 1.8022),
    ("sulphuric acid", 90, 16.649, 1.8144),
    ("sulphuric acid", 92, 17.109, 1.8240),
    ("sulphuric acid", 94, 17.550, 1.8312),
    ("sulphuric acid", 98, 18.346, 1.8361),
    ("sulphuric acid", 100, 18.663, 1.8305),
]


@pytest.mark.parametrize(
    ("acid", "base", "grams"),
    [(acid, base, grams) for acid, row in FULL.items() for base, grams in zip(BASES, row, strict=True)],
)
def test_grams_of_base_for_a_gram_of_acid(acid: str, base: str, grams: float) -> None:
    assert acids.full_dose(acid=acid, base=base, weight=1) == pytest.approx(grams, rel=2e-4)


@pytest.mark.parametrize(("acid", "each"), MILLIEQUIVALENTS.items())
def test_equivalents_in_a_gram(acid: str, each: float) -> None:
    chemical = CHEMICALS[acid]
    assert 1000 * chemical.equivalents / chemical.molar_mass == pytest.approx(each, abs=0.006)


@pytest.mark.parametrize(("name", "grams"), MOLAR.items())
def test_molar_mass(name: str, grams: float) -> None:
    assert CHEMICALS[name].molar_mass == pytest.approx(grams, abs=0.01)


def _moles_a_litre(acid: str, per_cent: float, molar_mass: float) -> float:
    return 10 * per_cent * strengths.density(acid, per_cent) / molar_mass


@pytest.mark.parametrize(("name", "per_cent", "molar", "density"), CRC_ROWS)
def test_a_litre_of_acid_of_a_strength(name: str, per_cent: float, molar: float, density: float) -> None:
    chemical = CHEMICALS[name]
    assert strengths.density(chemical.protons, per_cent) == pytest.approx(density, rel=1.5e-3)
    assert _moles_a_litre(chemical.protons, per_cent, chemical.molar_mass) == pytest.approx(molar, rel=3e-3)


def test_two_hundred_grams_of_sulfuric_acid_from_the_96_per_cent_bottle() -> None:
    """113.5 ml, worked from the CRC row."""
    litres = 200 / 98.072 / _moles_a_litre("sulphuric", 96, 98.072)
    assert 1000 * litres == pytest.approx(113.5, abs=0.1)


def test_acetic_acid_is_heaviest_before_it_is_strongest() -> None:
    """CRC: 1.0681 at 78 %, 1.0477 at 100 %; so density does not tell the strength."""
    densities = [strengths.density("acetic", per_cent) for per_cent in range(101)]
    assert densities.index(max(densities)) == 78
    assert densities[100] == pytest.approx(1.0477, abs=1e-4)


def test_crystals_and_ash_are_as_far_apart_as_the_trade_says() -> None:
    """Washing soda crystals are 37 % soda and ash 2.7 times as strong; one citric acid is 9 % weaker than the other."""
    ash = acids.full_dose(acid="formic acid", base="soda ash", weight=1)
    crystals = acids.full_dose(acid="formic acid", base="washing soda crystals", weight=1)
    assert crystals / ash == pytest.approx(2.7, abs=0.01)
    assert ash / crystals == pytest.approx(0.37, abs=0.001)
    weaker = CHEMICALS["citric acid, anhydrous"].molar_mass / CHEMICALS["citric acid, crystals"].molar_mass
    assert 1 - weaker == pytest.approx(0.09, abs=0.005)


def test_four_parts_of_battery_acid_are_one_of_concentrated() -> None:
    """The 4 to 1 by volume of farm papers, for about 35 % at a specific gravity near 1.26."""
    battery = _moles_a_litre("sulphuric", 35, 98.072)
    strong = _moles_a_litre("sulphuric", 96, 98.072)
    assert strong / battery == pytest.approx(4, abs=0.1)
    assert strengths.density("sulphuric", 35) == pytest.approx(1.26, abs=0.005)
