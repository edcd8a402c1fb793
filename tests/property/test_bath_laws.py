"""Laws of what a tub holds: nothing is lost or made, whatever is poured, topped up, drained off or hung in; and a quick look never hides a slip."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from hideledger.reading import read_text
from hideledger.rules.bath_made import strong_at, what_it_holds
from hideledger.rules.bath_screen import screen
from hideledger.rules.readings import doubt
from hideledger.rules.unexplained import misfit_of, value_of
from hideledger.shopfloor.layout import lay_out
from hideledger.shopfloor.noted import BathReading
from hideledger.trade.bath_balance import Contents

amounts = st.floats(min_value=0.01, max_value=500)
shares = st.floats(min_value=0, max_value=0.9)
ACIDS = ("formic acid", "citric acid, anhydrous", "sulphuric acid")

doings = st.one_of(
    st.tuples(st.just("water"), amounts),
    st.tuples(st.just("salt"), amounts),
    st.tuples(st.sampled_from(ACIDS), amounts),
    st.tuples(st.just("skins"), amounts),
    st.tuples(st.just("drained"), shares),
    st.tuples(st.just("dried"), shares),
    st.tuples(st.just("filled"), amounts),
)


@given(st.lists(doings, max_size=25))
def test_what_went_in_is_in_it_or_went_out(row: list[tuple[str, float]]) -> None:
    bath = Contents().with_more(water=50, salt=2)
    held = {"water": 50.0, "salt": 2.0}
    for what, much in row:
        before = bath
        match what:
            case "water" | "salt":
                bath = bath.with_more(water=much * (what == "water"), salt=much * (what == "salt"))
                held[what] += much
            case "skins":
                bath = bath.with_skins(much)
                held["water"] += 0.62 * much
            case "drained":
                bath = bath.without(much * (bath.water + bath.salt))
                held = {name: kilos * (1 - much) for name, kilos in held.items()}
                assert bath.share == pytest.approx(before.share, abs=1e-9)  # what is left is as strong as it was
            case "dried":
                bath = bath.dried_up(much)
                held["water"] *= 1 - much
            case "filled":
                bath = bath.filled_to(much)
                held["water"] = bath.water  # salt and acid stay, whatever water comes or goes
            case acid:
                bath = bath.with_more(others={acid: much})
                held[acid] = held.get(acid, 0.0) + much
        assert bath.water == pytest.approx(held["water"], rel=1e-9)
        assert bath.salt == pytest.approx(held["salt"], rel=1e-9)
        for name, kilos in bath.others:
            assert kilos == pytest.approx(held[name], rel=1e-9)


@given(st.floats(10, 500), st.floats(0, 100), st.floats(0.1, 50))
def test_salt_strengthens_water_and_skins_thin(water: float, salt: float, more: float) -> None:
    bath = Contents().with_more(water=water, salt=salt)
    assert bath.with_more(salt=more).degrees >= bath.degrees
    assert bath.with_more(water=more).degrees <= bath.degrees
    assert bath.with_skins(more).degrees <= bath.degrees
    assert bath.dried_up(0.2).degrees >= bath.degrees


@given(st.floats(10, 500), st.floats(0, 60), st.floats(5, 400))
def test_filled_to_a_volume_it_stands_at_it(water: float, salt: float, litres: float) -> None:
    bath = Contents().with_more(water=water, salt=salt).filled_to(litres)
    if bath.salt < 0.3 * bath.water:  # else the salt itself takes the room
        assert bath.litres == pytest.approx(litres, rel=1e-3)


@settings(max_examples=60)
@given(st.floats(0.05, 3), st.floats(0, 30), st.floats(0, 30))
def test_more_acid_is_never_less_sour_nor_bound_acid_more(acid: float, salt: float, skins: float) -> None:
    bath = Contents().with_more(water=75, salt=salt, others={"citric acid, anhydrous": acid})
    more = bath.with_more(others={"citric acid, anhydrous": 0.5})
    assert more.ph_span()[0] <= bath.ph_span()[0] + 1e-9
    assert bath.with_skins(skins).ph_span()[1] >= bath.ph_span()[1] - 1e-9
    assert bath.sour_guess() >= bath.ph_span()[0] - 1e-9


SHOP = """shop Tarrow Ridge Skins
  gallons US
  degrees F
vessel V1, vat, 40 gal
supply salt
supply citric acid
supply soda ash
process tub
  in
  pickle  stays, raw clock stops
  out
"""

SALTS = [str(figure) for figure in range(0, 100, 2)]
PHS = [f"{figure / 10:.1f}" for figure in range(0, 71, 2)]

lines = st.lists(
    st.one_of(
        st.builds("P1 add {} lb salt".format, st.integers(1, 20)),
        st.builds("P1 add {} oz citric acid".format, st.integers(1, 40)),
        st.builds("P1 add {} gal water".format, st.integers(1, 10)),
        st.builds("P1 topped up to {} gal".format, st.integers(10, 30)),
        st.builds("P1 add {} oz soda ash".format, st.integers(1, 20)),
        st.builds("P1 {} sal".format, st.integers(1, 99)),
        st.builds("P1 {} sal, {} F".format, st.integers(20, 60), st.integers(50, 80)),
        st.builds("P1 pH {} meter".format, st.decimals(0, 7, places=1)),
        st.builds("P1 pH {} strip".format, st.decimals(1, 4, places=1)),
        st.builds("H{} pickle in P1".format, st.integers(1, 3)),
        st.builds("H{} out of P1".format, st.integers(1, 3)),
    ),
    max_size=14,
)


@settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow])
@example(
    5,
    3,
    0,
    ["P1 add 1 oz citric acid", "P1 add 1 oz citric acid", "H1 pickle in P1", "P1 1 sal", "P1 add 4 gal water"],
).via("water that came after the reading")
@given(st.integers(5, 40), st.integers(1, 50), st.integers(0, 120), lines)
def test_the_quick_look_lets_no_slip_pass_and_the_ends_keep_their_order(
    gallons: int, salt: int, citric: int, row: list[str]
) -> None:
    acid = f", {citric} oz citric acid" if citric else ""
    page = [f"2026-11-02 06:00 P1 mixed in V1, {gallons} gal water, {salt} lb salt{acid}"]
    page += [f"2026-11-02 06:0{number} H{number} in, {5 * number} lb, green" for number in (1, 2, 3)]
    page += [f"2026-11-{2 + number // 3:02d} {8 + 4 * (number % 3):02d}:00 {line}" for number, line in enumerate(row)]
    book = read_text(SHOP + "\n".join(page) + "\n")
    assert not book.unread
    floor = lay_out(book, max(entry.when.hi for entry in book.entries))
    (bath,) = floor.baths["P1"]
    states, quick = what_it_holds(bath, floor), screen(bath, floor)
    for state in states:
        weak = min(one.degrees for one in state.weak)
        strong = max(one.degrees for one in strong_at(state, state.when.lo))
        assert weak <= state.likely.degrees + 1e-6 <= strong + 2e-6
    for reading in bath.readings:
        if reading.fact.what not in ("salt", "pH"):
            continue
        for written in SALTS if reading.fact.what == "salt" else PHS:
            fact = replace(reading.fact, value=replace(reading.fact.value, value=Decimal(written)))
            shown = BathReading(entry=reading.entry, when=reading.when, fact=fact)
            value = value_of(shown)
            assert value is not None
            if quick.passes(fact.what, value, doubt(fact) + 0.3, reading.when.hi):
                assert misfit_of(states, bath, shown) is None, (reading.entry.text, written)
