"""The arithmetic of the bath against printed tables.

Sources: the common US salometer table at 60 F (rows as printed in "Mixing Brine Solutions"), the Salt Institute's solubility at 60 F
(26.395 %), and full neutralisation from standard atomic weights (equations balanced with chempy). The hand-reckoned figures are common
practice, no source.
"""

from __future__ import annotations

import pytest

from hideledger.trade import acids, brine
from hideledger.trade.brine_making import Batch, of_skins, together

# Degrees salometer, % by weight, lb of salt per US gallon of water.
SALOMETER_TABLE = [
    (5, 1.320, 0.111),
    (10, 2.640, 0.226),
    (15, 3.959, 0.343),
    (20, 5.279, 0.464),
    (25, 6.599, 0.588),
    (30, 7.919, 0.716),
    (35, 9.238, 0.848),
    (40, 10.558, 0.983),
    (45, 11.878, 1.123),
    (50, 13.198, 1.266),
    (100, 26.395, 2.986),
]

# Grams of base for one gram of acid, full equivalence.
FULL_DOSES = [
    ("formic acid", "baking soda", 1.8252),
    ("formic acid", "soda ash", 1.1514),
    ("acetic acid", "washing soda crystals", 2.3824),
    ("lactic acid", "borax", 2.1168),
    ("citric acid, anhydrous", "baking soda", 1.3117),
    ("citric acid, anhydrous", "soda ash", 0.8275),
    ("citric acid, crystals", "baking soda", 1.1993),
    ("oxalic acid, anhydrous", "borax", 4.2358),
    ("oxalic acid, crystals", "baking soda", 1.3327),
    ("sulphuric acid", "baking soda", 1.7131),
    ("sulphuric acid", "washing soda crystals", 2.9176),
]


def _batch(*, salt_lb: float, water_gal: float) -> Batch:
    return Batch(water_kg=water_gal * brine.LB_WATER_PER_US_GAL * brine.KG_PER_LB, salt_kg=salt_lb * brine.KG_PER_LB)


@pytest.mark.parametrize(("degrees", "percent", "lb_per_gal"), SALOMETER_TABLE)
def test_salometer_table(degrees: int, percent: float, lb_per_gal: float) -> None:
    assert 100 * _batch(salt_lb=lb_per_gal, water_gal=1).share == pytest.approx(percent, abs=0.006)
    assert brine.salometer(percent / 100) == pytest.approx(degrees, abs=0.02)


def test_twenty_pounds_in_twenty_gallons_then_the_skins() -> None:
    """20 gal water and 20 lb salt: 10.7 %, 40.6 degrees; with 30 lb of wet skin 22.2 gal, 9.7 %, 36.9 degrees."""
    made = _batch(salt_lb=20, water_gal=20)
    assert 100 * made.share == pytest.approx(10.7, abs=0.05)
    assert brine.salometer(made.share) == pytest.approx(40.6, abs=0.05)
    soaked = together([made, of_skins(30 * brine.KG_PER_LB)])
    assert soaked.water_kg / brine.KG_PER_LB / brine.LB_WATER_PER_US_GAL == pytest.approx(22.2, abs=0.05)
    assert 100 * soaked.share == pytest.approx(9.7, abs=0.06)
    assert brine.salometer(soaked.share) == pytest.approx(36.9, abs=0.15)
    assert brine.salometer(_batch(salt_lb=23, water_gal=20).share) == pytest.approx(46, abs=0.1)


@pytest.mark.parametrize(("acid", "base", "dose"), FULL_DOSES)
def test_full_dose(acid: str, base: str, dose: float) -> None:
    assert acids.full_dose(acid=acid, base=base, weight=1) == pytest.approx(dose, rel=2e-4)


def test_soda_for_sixty_eight_ounces_of_citric_acid() -> None:
    """89 oz of baking soda for the anhydrous form, 82 oz for crystals: an upper bound, the skins took some."""
    assert acids.full_dose(acid="citric acid, anhydrous", base="baking soda", weight=68) == pytest.approx(89, abs=0.5)
    assert acids.full_dose(acid="citric acid, crystals", base="baking soda", weight=68) == pytest.approx(82, abs=0.5)


def test_what_no_bath_can_be_is_refused() -> None:
    for salt, water in ((-1.0, 1.0), (1.0, -2.0)):
        with pytest.raises(ValueError, match="weight"):
            _batch(salt_lb=salt, water_gal=water)
    with pytest.raises(ValueError, match="weight"):
        of_skins(-1)
