"""A dose goes from what the bath reads: asked backwards, `acid` gives what its own forward answer was asked with.

The chemistry of it is held to other programs in `tests/outside/test_acid_ph.py` and `test_acid_phreeqc.py`; here it is the two answers that must be
one. That a reading which is off stays off by as much at the goal is an assumption, and the answer says so.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hideledger.answers.acid.dosing import NO_MAKE_UP, OFF, TAKEN, Dose, dose_of
from hideledger.answers.acid.parts import bath_of, bottle_of
from hideledger.answers.acid.sour import sour
from hideledger.reading.asking_acid import acid_asked
from hideledger.reading.asking_part import Part
from hideledger.trade.bath_ph import LEAVES

SALT = "100 L water, 12 kg salt"
ACIDS = (
    "citric acid crystals",
    "anhydrous citric acid",
    "oxalic acid crystals",
    "85 % formic acid",
    "80 % lactic acid",
)


def parts(words: str) -> tuple[Part, ...]:
    return acid_asked(words, gallons="US").parts


def shown(words: str) -> float:
    """The pH that the headline of the forward answer has, before it is rounded."""
    bath = bath_of(parts(words), None, None)
    return sour([bath.liquor(LEAVES)], bath.salt_per_cent).ph


def dosed(words: str, acid: str, *, read: float | None, wanted: float) -> Dose:
    bottle = bottle_of(parts(acid)[0], None, None)
    return dose_of(bath_of(parts(words), None, None), bottle, read=read, wanted=wanted)


def strength(acid: str) -> float:
    return bottle_of(parts(acid)[0], None, None).strength


@settings(max_examples=40, deadline=None)
@given(
    st.sampled_from(ACIDS),
    st.integers(800, 3000),
    st.integers(200, 4000),
    st.sampled_from([-0.3, -0.1, 0.0, 0.1, 0.2, 0.4]),
    st.sampled_from([SALT, "100 L water"]),
)
def test_the_dose_to_what_a_bath_with_more_in_it_would_read_is_that_much_more(
    acid: str, grams: int, more: int, off: float, water: str
) -> None:
    now, then = (shown(f"{water}, {weight} g {acid}") + off for weight in (grams, grams + more))
    found = dosed(f"{water}, {grams} g {acid}", acid, read=now, wanted=then)
    assert found.by == OFF
    assert found.about / strength(acid) == pytest.approx(more, rel=1e-4)
    assert found.least <= found.about <= found.most


@settings(max_examples=15, deadline=None)
@given(st.integers(800, 3000), st.integers(200, 4000))
def test_without_a_reading_the_make_up_is_taken_at_its_word(grams: int, more: int) -> None:
    acid = ACIDS[0]
    wanted = shown(f"{SALT}, {grams + more} g {acid}")
    found = dosed(f"{SALT}, {grams} g {acid}", acid, read=None, wanted=wanted)
    assert found.about == pytest.approx(more, rel=1e-4)


def test_a_bath_that_skins_lie_in_has_less_acid_than_it_was_made_with_and_takes_less() -> None:
    """Citric acid by hand: h + Na = c K / (K + h), K = 10**-3.13, h of a reading 0.15 lower in 10 % salt; 103 oz, against 168 by the curve moved."""
    bath = "20 US gal water, 20 lb salt, 60 oz citric acid crystals"
    off = dosed(bath, ACIDS[0], read=2.1, wanted=1.8)
    skins = dosed(f"{bath}, 9 lb drained skins", ACIDS[0], read=2.1, wanted=1.8)
    assert (off.by, skins.by) == (OFF, TAKEN)
    pka, litres = 10**-3.13, 75.708
    made = 60 * 28.3495 / 210.138 / litres
    held = {read: 10 ** -(read + 0.15) for read in (2.1, 1.8)}
    base = made * pka / (pka + held[2.1]) - held[2.1]
    needed = (held[1.8] + base) * (pka + held[1.8]) / pka - made
    assert skins.about == pytest.approx(needed * 210.138 * litres, rel=0.03)
    assert skins.about < 0.7 * off.about
    # each has the other's figure within its doubt
    assert off.least <= skins.about <= off.most and skins.least <= off.about <= skins.most


def test_a_reading_too_far_off_for_any_meter_is_acid_that_is_gone() -> None:
    bath = "20 US gal water, 20 lb salt, 60 oz citric acid crystals"
    assert dosed(bath, ACIDS[0], read=2.9, wanted=2.4).by == TAKEN


def test_a_bath_of_unknown_make_up_takes_less_where_it_holds_salt() -> None:
    """By hand: c = h h / K + h without salt; in 10 % salt a meter shows about 0.15 lower, so h is that much less."""
    found = dosed("20 US gal", ACIDS[0], read=2.1, wanted=1.8)

    def by_hand(lower: float) -> float:
        held = [10 ** -(read + lower) for read in (1.8, 2.1)]
        new, old = (h * h / 10**-3.13 + h for h in held)
        return (new - old) * 210.138 * 75.708

    assert found.by == NO_MAKE_UP
    assert found.most == pytest.approx(by_hand(0), rel=0.02)
    assert found.least == pytest.approx(by_hand(0.15), rel=0.06)
