"""Brine against printed tables: every scale, the density, the solubility, the two gallons.

Sources: the common US salometer table at 60 F (rows as printed in "Mixing Brine Solutions"); the Seafood Academy's "Brine strength table"
(metric); the fish-safety note "Preparing a Saltbrine" (imperial gallons); the Salt Institute's solubility table; the CRC Handbook, 102nd
edition, "Concentrative properties of aqueous solutions" (20 C); Rogers and Pitzer, J. Phys. Chem. Ref. Data 11 (1982) 15 (specific volume
at 1 bar); Baumé as in Roberts and Etherington, Bookbinding and the Conservation of Books; ILO/WEP, Small-scale processing of fish (1982).
Molar mass of salt 58.44 g/mol (standard atomic weights).
"""

from __future__ import annotations

import pytest

from hideledger.trade import brine, brine_density
from hideledger.trade.brine_making import Batch, of_brine, of_water, salt_to_reach, together, water_to_reach

IMPERIAL_TO_US = 1.20095

# Degrees salometer, % by weight, lb of salt to a US gallon of water, lb of water in a US gallon of brine.
SALOMETER_TABLE = [
    (0, 0.000, 0.000, 8.328),
    (5, 1.320, 0.111, 8.292),
    (10, 2.640, 0.226, 8.262),
    (15, 3.959, 0.343, 8.222),
    (20, 5.279, 0.464, 8.188),
    (25, 6.599, 0.588, 8.152),
    (30, 7.919, 0.716, 8.113),
    (35, 9.238, 0.848, 8.073),
    (40, 10.558, 0.983, 8.030),
    (45, 11.878, 1.123, 7.985),
    (50, 13.198, 1.266, 7.937),
    (100, 26.395, 2.986, None),
]

# Degrees, % by weight, g of salt to a litre of water, g of brine in a litre.
SEAFOOD_ACADEMY = [
    (10, 2.64, 27.07, 1016.8),
    (20, 5.28, 55.66, 1035.6),
    (30, 7.92, 86.01, 1055.6),
    (40, 10.56, 117.98, 1075.5),
    (50, 13.2, 151.95, 1095.5),
    (60, 15.84, 188.18, 1115.7),
    (70, 18.48, 226.78, 1136.0),
    (80, 21.12, 267.69, 1157.4),
    (90, 23.75, 311.57, 1179.1),
    (100, 26.4, 358.82, 1201.2),
]


@pytest.mark.parametrize(("degrees", "percent", "salt", "water"), SALOMETER_TABLE)
def test_us_salometer_table(degrees: int, percent: float, salt: float, water: float | None) -> None:
    share = brine.share_of_salometer(degrees)
    assert 100 * share == pytest.approx(percent, abs=0.005)
    assert brine.salometer(percent / 100) == pytest.approx(degrees, abs=0.02)
    assert brine.lb_per_us_gal_water(share) == pytest.approx(salt, abs=0.002)
    if water is not None:  # the printed table's last figure is rounded by hand: within 0.1 %
        left = brine.LB_WATER_PER_US_GAL * brine.specific_gravity(share) * (1 - share)
        assert left == pytest.approx(water, rel=1e-3)


@pytest.mark.parametrize(("degrees", "percent", "salt", "weight"), SEAFOOD_ACADEMY)
def test_metric_salometer_table(degrees: int, percent: float, salt: float, weight: float) -> None:
    share = brine.share_of_salometer(degrees)
    assert 100 * share == pytest.approx(percent, abs=0.01)
    assert 1000 * brine.salt_to_water(share) == pytest.approx(salt, abs=0.5)  # theirs is a litre of a whole kilogram
    assert 1000 * brine.kg_per_l_water(share) == pytest.approx(salt, rel=3e-3)  # ours is one at 60 F, weighed in air
    # Their weights of a litre are rounded low by about 1 g; saturated brine is told from 1201 to 1204 g by different sources.
    assert brine_density.density(share) == pytest.approx(weight, abs=3 if degrees == 100 else 2)


def test_a_figure_for_an_imperial_gallon_is_a_fifth_more_than_for_a_us_one() -> None:
    """60 degrees is 1.882 lb in an imperial gallon ("Preparing a Saltbrine"), 15.8 %, 187.8 g a litre; 1.567 lb in a US one."""
    share = brine.share_of_salometer(60)
    us = brine.lb_per_us_gal_water(share)
    imperial = us * brine.L_PER_IMPERIAL_GAL / brine.L_PER_US_GAL
    assert us == pytest.approx(1.567, abs=0.002)
    assert imperial == pytest.approx(1.882, abs=0.002)
    assert imperial / us == pytest.approx(IMPERIAL_TO_US, rel=1e-5)
    assert 100 * share == pytest.approx(15.8, abs=0.05)
    assert 1000 * brine.kg_per_l_water(share) == pytest.approx(187.8, abs=0.5)


@pytest.mark.parametrize(
    ("degrees", "gravity", "baume"),
    # Worked out with PHREEQC (pitzer.dat) and an equation of state for brine; of 90 and 100 the mean of several sources.
    [
        (0, 1.0000, 0.00),
        (10, 1.0190, 2.71),
        (20, 1.0382, 5.34),
        (30, 1.0577, 7.91),
        (40, 1.0775, 10.43),
        (50, 1.0976, 12.90),
        (60, 1.1181, 15.32),
        (70, 1.1390, 17.70),
        (80, 1.1603, 20.03),
        (90, 1.1820, 22.33),
        (100, 1.2035, 24.5),
    ],
)
def test_gravity_and_baume_at_sixty_f(degrees: int, gravity: float, baume: float) -> None:
    found = brine.specific_gravity(brine.share_of_salometer(degrees))
    assert found == pytest.approx(gravity, abs=0.0005 if degrees <= 85 else 0.001 if degrees <= 95 else 0.002)
    assert brine.baume(found) == pytest.approx(baume, abs=0.06 if degrees <= 85 else 0.2)


def test_baume_has_the_american_modulus() -> None:
    """145 - 145/1.2 = 24.167; with the older European 144.3 it would be 24.05."""
    assert brine.baume(1.2) == pytest.approx(24.1667, abs=5e-4)
    assert brine.gravity_of_baume(24.1667) == pytest.approx(1.2, abs=5e-5)


@pytest.mark.parametrize(
    ("fahrenheit", "percent"),
    [
        (32, 26.29),
        (40, 26.33),
        (50, 26.36),
        (60, 26.395),
        (70, 26.45),
        (80, 26.52),
        (100, 26.68),
        (125, 26.92),
        (150, 27.21),
    ],
)
def test_solubility(fahrenheit: float, percent: float) -> None:
    assert 100 * brine_density.saturated_share((fahrenheit - 32) / 1.8) == pytest.approx(percent, abs=0.001)


@pytest.mark.parametrize(
    ("percent", "g_per_ml"),
    [(1, 1.0053), (2, 1.0125), (5, 1.0340), (10, 1.0707), (15, 1.1085), (20, 1.1478), (25, 1.1887), (26, 1.1972)],
)
def test_density_is_the_crc_handbooks(percent: float, g_per_ml: float) -> None:
    assert brine_density.density(percent / 100, 20) / 1000 == pytest.approx(g_per_ml, rel=1e-3)


@pytest.mark.parametrize(
    ("celsius", "molal", "ml_per_g"),
    [
        (20, 0.5, 0.981833),
        (20, 1, 0.963544),
        (20, 2, 0.930909),
        (20, 3, 0.902565),
        (20, 4, 0.877643),
        (20, 5, 0.855469),
        (25, 1, 0.965038),
        (25, 3, 0.904339),
        (25, 5, 0.857301),
        (10, 1, 0.961101),
        (10, 3, 0.899262),
        (10, 5, 0.851958),
    ],
)
def test_density_is_rogers_and_pitzers(celsius: float, molal: float, ml_per_g: float) -> None:
    share = molal * 58.44 / (1000 + molal * 58.44)
    assert 1000 / brine_density.density(share, celsius) == pytest.approx(ml_per_g, rel=1e-3)


@pytest.mark.parametrize(
    # ICT values as Kaufmann prints them, picked from every part of the table: a slip of typing in a row would show in these or in the curve.
    ("percent", "celsius", "g_per_ml"),
    [
        (0, 25, 0.99707),
        (4, 10, 1.02920),
        (10, 20, 1.07068),
        (14, 30, 1.09651),
        (20, 0, 1.15663),
        (22, 40, 1.15358),
        (26, 20, 1.19717),
    ],
)
def test_density_is_the_international_critical_tables(percent: float, celsius: float, g_per_ml: float) -> None:
    assert brine_density.density(percent / 100, celsius) / 1000 == pytest.approx(g_per_ml, abs=1e-6)


def test_water_at_sixty_f() -> None:
    """999.017 kg/m3 (IAPWS-95): the curve through the table of brine is within 0.01 % of it."""
    assert brine_density.density(0) == pytest.approx(999.017, rel=1e-4)


def test_outside_the_tables_nothing_is_made_up() -> None:
    for share, celsius in ((0.28, 20.0), (-0.01, 20.0), (0.1, -5.0), (0.1, 41.0)):
        with pytest.raises(ValueError, match=r"salt|tabled"):
            brine_density.density(share, celsius)
    with pytest.raises(ValueError, match="tabled"):
        brine_density.saturated_share(70)
    with pytest.raises(ValueError, match="heavier"):
        brine_density.share_of_density(1300, 20)
    with pytest.raises(ValueError, match="lighter"):
        brine_density.share_of_density(990, 20)


# --- making up -----------------------------------------------------------------------------------------------------------------------


def test_saturated_brine_takes_three_and_five_eighths_pounds_to_an_imperial_gallon() -> None:
    """ILO/WEP 1982, II.3: 3 lb 10 oz to an imperial gallon of water, about 360 g a litre."""
    found = brine.kg_per_l_water(brine_density.SATURATED)
    assert found == pytest.approx(3.625 * brine.KG_PER_LB / brine.L_PER_IMPERIAL_GAL, rel=0.012)


def test_one_part_in_ten_by_volume_is_no_tenth() -> None:
    """The same text makes "10 degree brine" of 1 part saturated and 9 of water; by weight it is 3.12 %, 11.8 degrees."""
    mixed = together([of_brine(1, brine_density.SATURATED), of_water(9)])
    assert 100 * mixed.share == pytest.approx(3.12, abs=0.01)
    assert brine.salometer(mixed.share) == pytest.approx(11.8, abs=0.05)


def test_thirty_pounds_in_ten_gallons_are_just_more_than_the_water_takes() -> None:
    """Brining, Bookbinding and the Conservation of Books: 26.48 %, 100.3 degrees, so that some stays on the bottom."""
    batch = Batch(water_kg=10 * brine.LB_WATER_PER_US_GAL, salt_kg=30)
    assert 100 * batch.share == pytest.approx(26.48, abs=0.01)
    assert brine.salometer(batch.share) == pytest.approx(100.3, abs=0.05)
    assert 0 < batch.undissolved_kg < 0.2
    assert batch.dissolved_share == pytest.approx(brine_density.SATURATED)


@pytest.mark.parametrize(("have", "want", "lb"), [(40, 70, 0.904), (60, 80, 0.662), (90, 100, 0.392)])
def test_salt_for_each_gallon_of_the_water_in_the_bath(have: int, want: int, lb: float) -> None:
    """The rule of the Seafood Academy's page, in pounds a US gallon."""
    one = Batch(
        water_kg=brine.LB_WATER_PER_US_GAL,
        salt_kg=brine.lb_per_us_gal_water(brine.share_of_salometer(have)),
    )
    assert salt_to_reach(one, brine.share_of_salometer(want)) == pytest.approx(lb, abs=0.002)


@pytest.mark.parametrize(("have", "want", "water"), [(100, 50, 1.0), (90, 40, 1.25)])
def test_water_for_each_weight_of_brine(have: int, want: int, water: float) -> None:
    """Salt is conserved, so these are exact."""
    share = brine.share_of_salometer(have)
    one = Batch(water_kg=1 - share, salt_kg=share)
    assert water_to_reach(one, brine.share_of_salometer(want)) == pytest.approx(water, rel=1e-12)


def test_twenty_three_pounds_of_salt_alone_read_forty_six_in_twenty_gallons() -> None:
    """Reckoned by hand (common practice, no source): 20 lb read 40.6, and 46 on salt alone wants 3 lb more."""
    have = Batch(water_kg=20 * brine.LB_WATER_PER_US_GAL, salt_kg=20)
    assert salt_to_reach(have, brine.share_of_salometer(46)) == pytest.approx(3.0, abs=0.05)
