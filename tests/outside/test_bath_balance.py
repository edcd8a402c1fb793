"""What a tub holds after salt, acid, water and skins went in, against published figures.

- Salt and water: the US brine table at 60 F as
  printed at deejayssmokepit.net ("Mixing Brine Solutions") and the metric one of the Seafood Academy ("Brine strength table"), with its rule that
  the water stays when salt goes in.
- Water in green skin: 62 lb in 100 lb (Indian agricultural e-course on hides, ecoursesonline.iasri.res.in, id 63825).
- Acid that skin binds: 29 % collagen ("What's in it for you? - Collagen", leathermag.com, 2009), 0.9 mol a kilogram (Bowes and Kenten, Biochem. J. 43
  (1948) 358; from memory). The weights of acid that follow were worked out by hand from the molar masses.
- pH: reckoned beforehand with pHcalc and a solver of charge balance in SciPy, ideal, 25 C.
"""

from __future__ import annotations

import pytest

from hideledger.trade.bath_balance import Contents
from hideledger.trade.brine import KG_PER_LB, KG_WATER_PER_L, L_PER_US_GAL
from hideledger.trade.chemicals import CHEMICALS
from hideledger.trade.skin_uptake import BINDS_MOL_PER_KG

GALLON = KG_WATER_PER_L * L_PER_US_GAL


def brine(gallons: float, pounds: float) -> Contents:
    return Contents().with_more(water=gallons * GALLON, salt=pounds * KG_PER_LB)


@pytest.mark.parametrize(
    ("pounds_a_gallon", "degrees"),
    [(0.226, 10), (0.464, 20), (0.716, 30), (0.983, 40), (1.123, 45), (1.266, 50), (2.986, 100)],
)
def test_the_printed_table_of_pounds_a_gallon(pounds_a_gallon: float, degrees: float) -> None:
    assert brine(20, 20 * pounds_a_gallon).degrees == pytest.approx(degrees, abs=0.1)


def test_bringing_a_brine_from_60_to_80_degrees_takes_the_printed_salt() -> None:
    """79.5 g to each litre of its water (267.69 less 188.18 of the table)."""
    weak = Contents().with_more(water=1.0, salt=0.18818)
    assert weak.degrees == pytest.approx(60, abs=0.1)
    assert weak.with_more(salt=0.0795).degrees == pytest.approx(80, abs=0.1)


def test_as_much_water_again_halves_a_saturated_brine() -> None:
    """100 to 50 degrees takes exactly one kilogram of water to one of brine."""
    full = Contents().with_more(water=1 - 0.26395, salt=0.26395)
    assert full.with_more(water=1.0).degrees == pytest.approx(50, abs=0.01)


def test_wet_skins_thin_the_bath_by_their_own_water() -> None:
    """20 gal and 20 lb: 10.7 %, 40.6 degrees; with 30 lb of skin 22.2 gal, 9.7 %, 36.9 (by hand: 20/(20+22.233*8.328))."""
    before = brine(20, 20)
    after = before.with_skins(30 * KG_PER_LB)
    assert before.share == pytest.approx(0.1072, abs=5e-5)
    assert before.degrees == pytest.approx(40.6, abs=0.05)
    assert after.water / GALLON == pytest.approx(22.23, abs=0.01)
    assert after.share == pytest.approx(0.0975, abs=5e-5)
    assert after.degrees == pytest.approx(36.9, abs=0.05)


def test_the_drum_formula_ends_where_its_own_water_leaves_it() -> None:
    """25 gal, 22 lb of salt: 9.6 %; with 110 lb of pelt 7.4 % (22/(22+25*8.328+0.62*110), by hand)."""
    drum = brine(25, 22)
    assert 100 * drum.share == pytest.approx(9.6, abs=0.05)
    assert 100 * drum.with_skins(110 * KG_PER_LB).share == pytest.approx(7.4, abs=0.05)


@pytest.mark.parametrize(
    ("acid", "grams"),
    [
        ("formic acid", 12.0),
        ("sulphuric acid", 12.8),
        ("lactic acid", 23.5),
        ("citric acid, anhydrous", 16.7),
        ("oxalic acid, crystals", 16.5),
    ],
)
def test_a_kilogram_of_wet_skin_binds_the_weight_of_acid(acid: str, grams: float) -> None:
    chemical = CHEMICALS[acid]
    assert BINDS_MOL_PER_KG / chemical.equivalents * chemical.molar_mass == pytest.approx(grams, abs=0.06)


@pytest.mark.parametrize(
    ("acid", "grams_a_litre", "ideal"),
    [
        ("formic acid", 5.0, 2.366),
        ("citric acid, anhydrous", 10.0, 2.231),
        ("citric acid, crystals", 10.0, 2.252),
        ("oxalic acid, crystals", 15.0, 1.233),
        ("sulphuric acid", 2.0, 1.583),
    ],
)
def test_acid_in_plain_water_gives_the_ideal_ph(acid: str, grams_a_litre: float, ideal: float) -> None:
    bath = Contents().with_more(water=100 * KG_WATER_PER_L, others={acid: grams_a_litre / 10})
    low, high = bath.ph_span()
    assert low - 0.005 <= ideal <= high + 0.005
    assert high - low < 0.05  # no salt in it: both ways of reckoning agree


def test_sixty_ounces_of_citric_acid_lift_the_hydrometer_by_about_four_degrees() -> None:
    """By hand from the CRC Handbook's density of 10 % citric acid at 20 C, 1.0402 g/cm3."""
    bath = brine(20, 20).with_more(others={"citric acid, anhydrous": 60 / 16 * KG_PER_LB})
    assert bath.shown() - bath.degrees == pytest.approx(4, abs=0.5)
