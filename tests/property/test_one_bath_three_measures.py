"""One bath asked for in US gallons, in imperial gallons and in litres takes the same grams: of `mix`, of `brine` and of `acid`.

The amounts are turned from one measure into the other by Pint, a general-purpose library of units, so that a gallon mistaken for the other (a
fifth) cannot hide on both sides. Exact by definition: 3.785411784 L and 4.54609 L (NIST Handbook 44, Appendix C).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

import pint
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from hideledger.answers.acid.answer import Shopside, acid
from hideledger.answers.brine.answer import brine_sheet
from hideledger.answers.brine.strength import Instrument
from hideledger.answers.brine.words import Units
from hideledger.answers.mix.asked import wanted
from hideledger.answers.mix.scale import scaled
from hideledger.reading import read_text
from hideledger.reading.asking_acid import acid_asked
from hideledger.reading.asking_mix import mix_asked
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.layout import lay_out

UNITS: pint.UnitRegistry[Any] = pint.UnitRegistry()
DAY = date(2026, 11, 20)
litres = st.floats(2, 600)
SHOPS = {"US": "  gallons US\n", "imperial": "  gallons imperial\n", "": "  degrees C\n"}
MEASURES = (("L", "liter"), ("US gal", "gallon"), ("imperial gal", "imperial_gallon"))
PAGE = """\
supply citric acid crystals
supply formic acid, 60 %
recipe wet pickle
  per L water: 119.8 g salt, 22.5 g citric acid crystals, 4 ml formic acid
recipe full pickle
  per L liquor: 100 g salt, 20 g citric acid crystals
"""


def in_each(whole: float) -> Iterator[str]:
    """So many litres, in each of the three measures."""
    for written, unit in MEASURES:
        yield f"{(whole * UNITS.liter).to(unit).magnitude:.9f} {written}"


def floor_of(shop: str) -> Floor:
    book = read_text(f"shop Alder Fork\n  zone America/Chicago\n{SHOPS[shop]}{PAGE}")
    assert not book.unread, book.unread
    return lay_out(book, book.clock.day_end(DAY.toordinal()))


FLOORS = {shop: floor_of(shop) for shop in SHOPS}


def grams_of_mix(shop: str, request: str) -> dict[str, tuple[float, float, float]]:
    """Of each supply but the water: what was reckoned, what is measured out and half a step of it, all in kg or L."""
    floor = FLOORS[shop]
    found = scaled(wanted(mix_asked(request, gallons=floor.book.shop.shop.gallons), floor, DAY), DAY)
    each = {}
    for one in found.taken:
        if one.stuff.name != "water":
            exact, taken = (float(one.stuff.plain(amount).value) for amount in (one.amount.exact, one.quantity))
            each[one.stuff.name] = (exact, taken, exact / float(one.amount.exact.value) * float(one.amount.step) / 2)
    return each


@settings(deadline=None, max_examples=40)
@given(litres, st.sampled_from(["wet pickle", "full pickle"]))
def test_mix_reckons_the_same_and_measures_out_the_same_within_its_steps(whole: float, recipe: str) -> None:
    per_litre = {
        "wet pickle": {"salt": 0.1198, "citric acid crystals": 0.0225, "formic acid": 0.004},
        "full pickle": {"salt": 0.1, "citric acid crystals": 0.02},
    }[recipe]
    for shop in SHOPS:
        for amount in in_each(whole):
            found = grams_of_mix(shop, f"{recipe} {amount}")
            assert set(found) == set(per_litre)
            for name, (exact, taken, half) in found.items():
                assert exact == pytest.approx(per_litre[name] * whole, rel=1e-6), (shop, amount, name)
                assert abs(taken - exact) <= half * (1 + 1e-6) + 1e-6, (shop, amount, name)


def brine_kg(request: str) -> float:
    """The salt to add, or the salt that is in it."""
    found = brine_sheet(request, Instrument(), Units(gallons="US")).record
    assert found is not None
    add, makes = found.get("add"), found["makes"]
    assert isinstance(makes, dict)
    return float(add["salt_kg"] if isinstance(add, dict) else makes["salt_kg"])


@settings(deadline=None, max_examples=40)
@given(litres)
def test_brine_weighs_in_the_same(whole: float) -> None:
    """119.8 g to a litre of water is a pound to a US gallon, 1.2009 lb to an imperial one."""
    for request in ("{} from 36 to 46 sal", "{} water to 40 sal", "{} of 40 sal brine"):
        first, *others = [brine_kg(request.format(amount)) for amount in in_each(whole)]
        assert first > 0
        assert others == [pytest.approx(first, rel=1e-5, abs=2e-5)] * 2, request


@pytest.mark.parametrize("request_", ["1 lb per US gal", "1.200949926 lb per imperial gal", "119.8264273 g per L"])
def test_brine_of_one_strength_to_any_measure_is_one_brine(request_: str) -> None:
    found = brine_sheet(request_, Instrument(), Units()).record
    assert found is not None
    strength = found["strength"]
    assert isinstance(strength, dict)
    # 0.983 lb a gallon is 40 degrees and 1.123 are 45 in the common US table at 60 F (8.328 lb of water)
    assert strength["sal"] == pytest.approx(40 + 5 * (1 - 0.983) / (1.123 - 0.983), abs=0.1)
    assert strength["lb_per_us_gal_water"] == pytest.approx(1, rel=1e-4)


def acid_record(request: str) -> Mapping[str, object]:
    found = acid(acid_asked(request, gallons="US"), Shopside()).record
    assert found is not None
    return found


def pure(request: str) -> dict[str, float]:
    """Grams of each pure thing in it."""
    parts = acid_record(request)["parts"]
    assert isinstance(parts, list)
    return {part["name"]: part["pure_g"] for part in parts}


@settings(deadline=None, max_examples=6)
@given(litres)
def test_acid_doses_the_same(whole: float) -> None:
    for request in (
        "{} at 2.4 to 2.0 with citric acid crystals",
        "{}, 600 g citric acid crystals at 2.4 to 5.0 with soda ash",
    ):
        first, *others = [acid_record(request.format(amount)) for amount in in_each(max(whole, 40))]
        for other in others:
            for figure in ("least_g", "most_g", "first_g"):
                assert other[figure] == pytest.approx(first[figure], rel=1e-4, abs=0.2), request


def tenths(grams: dict[str, float]) -> dict[str, int]:
    return {name: round(10 * value) for name, value in grams.items()}


@settings(deadline=None, max_examples=25)
@example(2.86).via("the two sides of a tenth of a gram")
@given(litres)
def test_acid_takes_so_much_to_the_gallon_for_that_very_gallon(whole: float) -> None:
    """22.467 g a litre are 3 oz to a US gallon and 3.603 oz to an imperial one; of 60 % formic acid 4 ml a litre."""
    grams, millilitres = 22.5 * UNITS.gram, 4 * UNITS.milliliter
    first: dict[str, float] = {}
    for amount, (written, unit) in zip(in_each(whole), MEASURES, strict=True):
        one = (1 * UNITS(unit)).to("liter").magnitude
        ounces, poured = (grams * one).to("ounce").magnitude, millilitres.magnitude * one
        found = pure(
            f"{amount} water, {ounces:.9f} oz citric acid crystals per {written}, {poured:.9f} ml 60 % formic acid per {written}"
        )
        assert found["citric acid, crystals"] == pytest.approx(22.5 * whole, rel=1e-4, abs=0.1)
        first = first or found
        # in the tenths of a gram that they are told in: 64.3 and 64.4 are one tenth apart, and as decimals a hair more
        assert tenths(found) == {name: pytest.approx(value, rel=1e-4, abs=1) for name, value in tenths(first).items()}
