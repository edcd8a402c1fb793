"""A hydrometer in brine that is warmer or colder than it was made for, and in brine with acid.

The corrections are worked out from the densities of the International Critical Tables (Kaufmann, 1960), first without and then with the
swelling of the glass (25e-6 for each degree C, from memory); the rule of thumb is that of "Preparing a Saltbrine". Densities of acids: CRC
Handbook, 102nd edition, 20 C. Sixty ounces of citric acid in 20 gallons lift a salometer by about 4 degrees: common practice, no source.
"""

from __future__ import annotations

import pytest

from hideledger.trade import brine
from hideledger.trade.brine_acid import SOLUTIONS, density_with_acid, lift, share_under_acid
from hideledger.trade.brine_density import density
from hideledger.trade.brine_reading import by_rule_of_thumb, shown_degrees, true_share

TRUE = (20, 40, 60, 80, 95)
# Degrees F, then true degrees less those shown, for each of TRUE; glass that does not swell.
CORRECTIONS = [
    (40, (-1.24, -1.81, -2.19, -2.38, -2.48)),
    (50, (-0.71, -0.97, -1.15, -1.24, -1.30)),
    (70, (0.84, 1.05, 1.19, 1.29, 1.34)),
    (80, (1.79, 2.14, 2.39, 2.60, 2.69)),
    (90, (2.85, 3.33, 3.66, 3.92, 4.05)),
    (100, (3.99, 4.57, 4.98, 5.28, 5.44)),
]
WITH_GLASS = [
    (40, (-1.09, -1.66, -2.04, -2.23, -2.33)),
    (80, (1.64, 1.99, 2.24, 2.45, 2.54)),
    (100, (3.70, 4.27, 4.68, 4.98, 5.14)),
]


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


@pytest.mark.parametrize(
    ("fahrenheit", "corrections", "glass"),
    [(*row, 0.0) for row in CORRECTIONS] + [(*row, 25e-6) for row in WITH_GLASS],
)
def test_correction_by_the_densities(fahrenheit: int, corrections: tuple[float, ...], glass: float) -> None:
    for degrees, correction in zip(TRUE, corrections, strict=True):
        share = brine.share_of_salometer(degrees)
        shown = shown_degrees(share, celsius(fahrenheit), glass=glass)
        assert degrees - shown == pytest.approx(correction, abs=0.02)
        assert true_share(shown, celsius(fahrenheit), glass=glass) == pytest.approx(share, abs=1e-9)


@pytest.mark.parametrize(
    ("fahrenheit", "degrees"), [(60, 40.0), (70, 41.0), (80, 42.0), (100, 44.0), (50, 39.0), (40, 38.0), (65, 40.5)]
)
def test_the_rule_of_thumb_is_a_degree_for_ten_f(fahrenheit: float, degrees: float) -> None:
    assert by_rule_of_thumb(40, fahrenheit) == degrees


def test_the_rule_of_thumb_falls_short_in_hot_strong_brine() -> None:
    """Within 0.8 degrees from 40 to 80 F; at 100 F, 1.0 to 1.4 degrees too little from 60 degrees of brine on."""
    for fahrenheit in (40, 50, 60, 70, 80):
        for degrees in TRUE:
            share = brine.share_of_salometer(degrees)
            shown = shown_degrees(share, celsius(fahrenheit), glass=0)
            assert by_rule_of_thumb(shown, fahrenheit) == pytest.approx(degrees, abs=0.8)
    for degrees in (60, 80, 95):
        shown = shown_degrees(brine.share_of_salometer(degrees), celsius(100), glass=0)
        assert 0.9 < degrees - by_rule_of_thumb(shown, 100) < 1.5


def test_at_its_own_temperature_a_hydrometer_is_right() -> None:
    for made_for in (celsius(60), 20.0, celsius(38)):
        assert brine.salometer(true_share(46, made_for, calibrated=made_for)) == pytest.approx(46, abs=1e-6)


def test_one_whose_hundred_is_a_quarter_of_salt() -> None:
    """Some salometers have 100 at 25 % ("The Salometer and How to Use It"): 40 on it is 10 %."""
    assert true_share(40, celsius(60), hundred=0.25) == pytest.approx(0.10, abs=1e-9)


@pytest.mark.parametrize(
    ("acid", "percent", "g_per_ml"),
    [
        ("citric acid", 10, 1.0402),
        ("formic acid", 10, 1.0224),
        ("acetic acid", 5, 1.0052),
        ("oxalic acid, anhydrous", 5, 1.0220),
        ("sulphuric acid", 10, 1.0661),
        ("sulphuric acid", 2, 1.0116),
        ("phosphoric acid", 10, 1.0531),
    ],
)
def test_acid_alone_in_water_has_the_handbooks_density(acid: str, percent: float, g_per_ml: float) -> None:
    """At 60 F instead of 20 C both it and water are heavier by about the same: the ratio is compared, within 0.2 %."""
    found = density_with_acid(0, {acid: percent / (100 - percent)}) / density(0)
    assert found == pytest.approx(g_per_ml / 0.99823, rel=2e-3)


def test_sixty_ounces_of_citric_acid_in_twenty_gallons_lift_it_by_about_four_degrees() -> None:
    share = 20 / (20 + 20 * brine.LB_WATER_PER_US_GAL)
    acid = {"citric acid": 60 / 16 / (20 + 20 * brine.LB_WATER_PER_US_GAL)}
    assert lift(share, acid) == pytest.approx(4, abs=0.5)
    shown = density_with_acid(share, acid)
    assert share_under_acid(shown, acid) == pytest.approx(share, abs=1e-6)


def test_crystals_of_citric_acid_lift_it_less_than_the_dry_acid() -> None:
    """Monohydrate: 192.123 g of acid in 210.138 g (molar masses), the rest of it is water."""
    dry, crystals = lift(0.1, {"citric acid, anhydrous": 0.02}), lift(0.1, {"citric acid, crystals": 0.02})
    assert crystals / dry == pytest.approx(192.123 / 210.138, abs=0.02)


def test_every_acid_of_the_table_lifts_it_and_more_of_it_lifts_more() -> None:
    for acid in SOLUTIONS:
        assert 0 < lift(0.10, {acid: 0.01}) < lift(0.10, {acid: 0.02})
    assert lift(0.26, {"sulphuric acid": 0.05}) > 5  # past the end of the scale it goes on


def test_an_acid_that_is_not_in_the_table_is_not_guessed_at() -> None:
    with pytest.raises(KeyError):
        density_with_acid(0.1, {"lactic acid": 0.01})
    with pytest.raises(ValueError, match="acid"):
        density_with_acid(0.1, {"citric acid": -0.01})
