"""What holds of every brine: salt and water are conserved, the scales agree, stronger is heavier, and gallons and litres give one answer."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hideledger.answers.brine.asked import understood
from hideledger.answers.brine.strength import Instrument
from hideledger.trade import brine
from hideledger.trade.brine_acid import SOLUTIONS, density_with_acid, lift, share_under_acid
from hideledger.trade.brine_density import density, saturated_share, share_of_density
from hideledger.trade.brine_making import Batch, of_brine, of_skins, of_water, salt_to_reach, together, water_to_reach
from hideledger.trade.brine_reading import shown_degrees, true_share

shares = st.floats(0.0, 0.2629)  # no brine from 0 to 40 C is more than saturated with this
real_shares = st.floats(0.005, 0.26)
temperatures = st.floats(0, 40)
litres = st.floats(0.5, 2000)
weights = st.floats(0.01, 500)


@given(shares)
def test_there_and_back_on_every_scale(share: float) -> None:
    assert brine.share_of_salometer(brine.salometer(share)) == pytest.approx(share, abs=1e-12)
    gravity = brine.specific_gravity(share)
    assert brine.share_of_specific_gravity(gravity) == pytest.approx(share, abs=1e-9)
    assert brine.gravity_of_baume(brine.baume(gravity)) == pytest.approx(gravity, rel=1e-12)
    assert brine.share_of_salt_to_water(brine.salt_to_water(share)) == pytest.approx(share, abs=1e-12)
    assert brine.share_of_kg_per_l_brine(brine.kg_per_l_brine(share)) == pytest.approx(share, abs=1e-9)


@given(shares, temperatures)
def test_there_and_back_by_density_at_any_temperature(share: float, celsius: float) -> None:
    assert share_of_density(density(share, celsius), celsius) == pytest.approx(share, abs=1e-9)


@given(shares, shares, temperatures)
def test_stronger_is_heavier(one: float, other: float, celsius: float) -> None:
    low, high = sorted((one, other))
    if high - low > 1e-6:
        assert density(low, celsius) < density(high, celsius)
        assert brine.kg_per_l_brine(low) < brine.kg_per_l_brine(high)
        assert brine.kg_per_l_water(low) < brine.kg_per_l_water(high)


@given(real_shares, st.floats(4, 40), st.floats(4, 40))
def test_warmer_is_lighter(share: float, one: float, other: float) -> None:
    """Salt water has no densest point above 4 C, as fresh water has."""
    low, high = sorted((one, other))
    if high - low > 1e-3:
        assert density(share, low) > density(share, high)


@given(temperatures, temperatures)
def test_warmer_water_holds_no_less_salt(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert saturated_share(low) <= saturated_share(high)


# up to 0.24: icy brine that is nearly full would sink an instrument made for a warm room off its scale
@given(st.floats(0.03, 0.24), temperatures, st.floats(5, 30))
def test_a_corrected_reading_is_what_was_dissolved(share: float, celsius: float, made_for: float) -> None:
    shown = shown_degrees(share, celsius, calibrated=made_for)
    assert true_share(shown, celsius, calibrated=made_for) == pytest.approx(share, abs=1e-9)
    assert (shown < brine.salometer(share)) == (celsius > made_for) or abs(celsius - made_for) < 1e-6


@given(litres, real_shares, real_shares)
def test_salt_or_water_brings_it_where_it_was_to_go(volume: float, have: float, want: float) -> None:
    now = of_brine(volume, have)
    salt = salt_to_reach(now, want)
    if salt >= 0:
        then = Batch(water_kg=now.water_kg, salt_kg=now.salt_kg + salt)
        assert water_to_reach(now, want) <= 1e-9
    else:
        water = water_to_reach(now, want)
        then = Batch(water_kg=now.water_kg + water, salt_kg=now.salt_kg)
        assert water >= -1e-9
    assert then.share == pytest.approx(want, rel=1e-9)
    if then.share <= saturated_share():
        assert then.litres >= now.litres - 1e-9


@given(st.lists(st.tuples(litres, real_shares), min_size=1, max_size=5))
def test_mixing_conserves_salt_and_water_and_no_strength_leaves_its_bounds(parts: list[tuple[float, float]]) -> None:
    batches = [of_brine(volume, share) for volume, share in parts]
    whole = together(batches)
    assert whole.salt_kg == pytest.approx(sum(one.salt_kg for one in batches))
    assert whole.water_kg == pytest.approx(sum(one.water_kg for one in batches))
    assert min(share for _, share in parts) - 1e-9 <= whole.share <= max(share for _, share in parts) + 1e-9


@given(litres, real_shares)
def test_a_volume_of_brine_has_that_volume(volume: float, share: float) -> None:
    assert of_brine(volume, share).litres == pytest.approx(volume, rel=1e-9)
    assert of_water(volume).litres == pytest.approx(volume, rel=1e-9)


@given(litres, st.floats(0, 1000))
def test_no_salt_is_lost_past_saturation(volume: float, salt: float) -> None:
    batch = Batch(water_kg=of_water(volume).water_kg, salt_kg=salt)
    dissolved = batch.salt_kg - batch.undissolved_kg
    assert 0 <= batch.undissolved_kg <= salt
    assert batch.dissolved_share <= saturated_share()
    assert dissolved / (dissolved + batch.water_kg) == pytest.approx(batch.dissolved_share, abs=1e-12)


@given(litres, real_shares, weights)
def test_skins_only_thin_a_bath(volume: float, share: float, skins: float) -> None:
    now = of_brine(volume, share)
    then = together([now, of_skins(skins)])
    assert then.share < now.share
    assert then.salt_kg == now.salt_kg


@given(st.floats(0.01, 0.24), st.sampled_from(sorted(SOLUTIONS)), st.floats(0.0005, 0.02))
def test_acid_lifts_the_reading_and_the_salt_under_it_is_found_again(share: float, acid: str, to_brine: float) -> None:
    acids = {acid: to_brine}
    # acetic acid is about as heavy as strong brine itself (1.16 g/mL in water), so there it lifts nothing
    assert lift(share, acids) > 0 or acid == "acetic acid"
    assert share_under_acid(density_with_acid(share, acids), acids) == pytest.approx(share, abs=1e-7)


@given(st.integers(1, 200), st.integers(1, 60))
def test_us_gallons_imperial_gallons_and_litres_agree(gallons: int, pounds: int) -> None:
    """The same bath written three ways; a gallon taken for the other one is a fifth off, and is never taken silently."""
    instrument = Instrument()
    us = understood(f"{gallons} US gal water, {pounds} lb salt", instrument).batch
    metric = understood(f"{gallons * 3.785411784:.9f} L water, {pounds * 0.45359237:.9f} kg salt", instrument).batch
    imperial = understood(
        f"{gallons * 3.785411784 / 4.54609:.9f} imperial gal water, {pounds} lb salt", instrument
    ).batch
    assert us is not None and metric is not None and imperial is not None
    assert metric.share == pytest.approx(us.share, rel=1e-6)
    assert imperial.share == pytest.approx(us.share, rel=1e-6)
    wrong = understood(f"{gallons} gal water, {pounds} lb salt", instrument, gallons="imperial").batch
    assert wrong is not None
    assert wrong.water_kg == pytest.approx(1.20095 * us.water_kg, rel=1e-5)


@given(st.floats(1, 99))
def test_every_scale_asked_for_in_words_means_the_same(degrees: float) -> None:
    share = brine.share_of_salometer(degrees)
    gravity = brine.specific_gravity(share)
    ways = (
        f"{degrees:.6f} sal",
        f"{100 * share:.8f} %",
        f"SG {gravity:.8f}",
        f"{brine.baume(gravity):.7f} Be",
        f"{brine.lb_per_us_gal_water(share):.8f} lb per US gal of water",
        f"{1000 * brine.kg_per_l_brine(share):.6f} g/L brine",
        f"{16 * brine.salt_to_water(share):.8f} oz salt per lb water",
    )
    for way in ways:
        assert understood(way, Instrument()).share == pytest.approx(share, abs=2e-6), way
