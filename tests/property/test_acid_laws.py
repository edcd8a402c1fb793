"""What holds for every bath whatever is in it: charges balance, more acid is more sour, doses lead where they were to lead."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hideledger.reading.asking_acid import acid_asked
from hideledger.trade.acid_dose import OutOfReach, as_read, by_model, dose, plain_bath
from hideledger.trade.bath_ph import DAVIES, IDEAL, KEPT, LEAVES, Liquor, imbalance, made_of, ph
from hideledger.trade.chemicals import ACID, BASE, CHEMICALS, Chemical

ACIDS = [chemical for chemical in CHEMICALS.values() if chemical.sort == ACID]
BASES = [chemical for chemical in CHEMICALS.values() if chemical.sort == BASE]
MODELS = st.sampled_from([IDEAL, DAVIES])
AIRS = st.sampled_from([KEPT, LEAVES])
AMOUNTS = st.floats(0, 0.6, allow_subnormal=False)
PARTS = st.lists(st.tuples(st.sampled_from(list(CHEMICALS.values())), AMOUNTS), min_size=1, max_size=5)


@given(PARTS, AIRS)
def test_positive_and_negative_charges_are_equal(parts: list[tuple[Chemical, float]], air: str) -> None:
    liquor = made_of(parts, air=air)
    found = ph(liquor)
    # to 1e-9 mol a litre, or, where a step of the last figure of the pH moves more than that, to both sides of nothing
    assert abs(imbalance(liquor, found)) < 1e-9 or imbalance(liquor, found - 1e-10) > 0 > imbalance(
        liquor, found + 1e-10
    )


@given(PARTS, AIRS, st.floats(-2, 15.9), st.floats(0.001, 4))
def test_the_balance_falls_as_ph_rises(parts: list[tuple[Chemical, float]], air: str, low: float, more: float) -> None:
    liquor = made_of(parts, air=air)
    assert imbalance(liquor, low) > imbalance(liquor, min(16.0, low + more))


@settings(max_examples=40)
@given(PARTS, st.sampled_from(ACIDS), st.floats(0.001, 0.3))
def test_more_acid_never_makes_it_less_sour(parts: list[tuple[Chemical, float]], acid: Chemical, more: float) -> None:
    """Moles a litre of bath, so that nothing is thinned: each acid only adds to what gives protons."""
    liquor = made_of(parts)
    assert ph(liquor.plus(acid, more)) <= ph(liquor) + 1e-9


@settings(max_examples=40)
@given(st.sampled_from(ACIDS), st.floats(0.01, 0.5), st.sampled_from(BASES), st.floats(0.001, 0.3), AIRS)
def test_base_never_makes_an_acid_bath_more_sour(
    acid: Chemical, amount: float, base: Chemical, more: float, air: str
) -> None:
    """An acid bath: baking soda in a bath of ash or lye takes it down, since it holds carbonic acid."""
    liquor = made_of([(acid, amount)], air=air)
    assert ph(liquor.plus(base, more)) >= ph(liquor) - 1e-9


@settings(max_examples=30)
@given(PARTS, MODELS)
def test_the_order_of_adding_is_no_matter(parts: list[tuple[Chemical, float]], model: str) -> None:
    found = {round(ph(made_of(order), model=model), 8) for order in itertools.islice(itertools.permutations(parts), 6)}
    assert max(found) - min(found) <= 1.1e-8


@settings(max_examples=40, deadline=None)
@given(st.sampled_from(ACIDS), st.floats(0.01, 0.3), st.sampled_from(BASES), st.floats(0.02, 0.4), MODELS)
def test_a_dose_of_base_read_back(acid: Chemical, amount: float, base: Chemical, part: float, model: str) -> None:
    """The base that brings an acid bath to the pH it has with so much base is that much base."""
    bath = made_of([(acid, amount)])
    moles = part * amount * acid.equivalents / base.equivalents
    reached = ph(bath.plus(base, moles), model=model)
    assert dose(bath, wanted=reached, chemical=base, shows=by_model(model)) == pytest.approx(moles, rel=1e-4, abs=1e-8)


@settings(max_examples=40, deadline=None)
@given(st.sampled_from(ACIDS), st.floats(1.2, 4), st.floats(0.05, 1), MODELS)
def test_a_dose_of_acid_leads_where_it_was_to_lead(acid: Chemical, read: float, down: float, model: str) -> None:
    try:
        bath = plain_bath(read=read, acid=acid, shows=by_model(model))
        moles = dose(bath, wanted=read - down, chemical=acid, shows=by_model(model))
    except OutOfReach as short:
        assert short.at_most > read - down  # and it says the truth about how far it gets
        return
    assert ph(bath, model=model) == pytest.approx(read, abs=1e-4)
    assert ph(bath.plus(acid, moles), model=model) == pytest.approx(read - down, abs=1e-4)


@settings(max_examples=30, deadline=None)
@given(st.floats(0.02, 0.3), st.floats(0.1, 1.5), MODELS)
def test_a_bath_taken_as_read_reads_so(amount: float, higher: float, model: str) -> None:
    bath = made_of([(CHEMICALS["citric acid, crystals"], amount)])
    read = ph(bath, model=model) + higher
    assert ph(as_read(bath, read=read, shows=by_model(model)), model=model) == pytest.approx(read, abs=1e-6)


@given(st.sampled_from(ACIDS), st.floats(0, 0.5))
def test_a_chemical_taken_out_again_leaves_the_water_as_it_was(acid: Chemical, amount: float) -> None:
    assert ph(Liquor().plus(acid, amount).plus(acid, -amount)) == pytest.approx(7.0, abs=1e-6)


def test_less_than_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="less than nothing"):
        made_of([(CHEMICALS["formic acid"], -0.1)])


@given(st.integers(1, 400))
def test_units_agree(pounds: int) -> None:
    """So many pounds are so many sixteen ounces, and kilograms by the exact pound."""
    in_lb, in_oz, in_g = (
        acid_asked(f"{amount} soda ash", gallons="US").parts[0].amount
        for amount in (f"{pounds} lb", f"{16 * pounds} oz", f"{pounds * 45359237 / 100000:.5f} g")
    )
    assert in_lb is not None and in_oz is not None and in_g is not None
    assert in_lb.to("g") == in_oz.to("g")
    assert float(in_g.to("lb")) == pytest.approx(pounds, rel=1e-9)
