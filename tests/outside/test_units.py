"""Units against the exact definitions and against Pint.

Exact definitions: the inch is 25.4 mm, the pound 0.45359237 kg, the US gallon 231 cubic inches (NIST Handbook 44, Appendix C; location from
memory), the imperial gallon 4.54609 L. Pint 0.25 with decimal numbers is the independent reckoner.
"""

from __future__ import annotations

from decimal import Decimal

import pint
import pytest

from hideledger.model.units import SPELLINGS, UNITS, Quantity, celsius, fahrenheit

D = Decimal
PINT: pint.UnitRegistry[Decimal] = pint.UnitRegistry(non_int_type=Decimal)

EXACT = [
    ("gal", "L", "3.785411784"),
    ("qt", "ml", "946.352946"),
    ("pt", "ml", "473.176473"),
    ("cup", "ml", "236.5882365"),
    ("floz", "ml", "29.5735295625"),
    ("tbsp", "ml", "14.78676478125"),
    ("tsp", "ml", "4.92892159375"),
    ("lb", "g", "453.59237"),
    ("oz", "g", "28.349523125"),
    ("imperial gal", "L", "4.54609"),
    ("in", "mm", "25.4"),
]

IN_PINT = {
    "lb": "pound", "oz": "ounce", "kg": "kilogram", "g": "gram", "gal": "gallon", "qt": "quart", "pt": "pint", "cup": "cup",
    "floz": "fluid_ounce", "tbsp": "tablespoon", "tsp": "teaspoon", "imperial gal": "imperial_gallon", "imperial qt": "imperial_quart",
    "imperial pt": "imperial_pint", "imperial floz": "imperial_fluid_ounce", "L": "liter", "ml": "milliliter", "in": "inch",
    "cm": "centimeter", "mm": "millimeter", "ft": "foot", "m": "meter", "sqft": "foot**2", "sqm": "meter**2", "psi": "psi", "bar": "bar",
    "kPa": "kilopascal", "min": "minute", "h": "hour", "d": "day", "wk": "week",
}  # fmt: skip


@pytest.mark.parametrize(("unit", "other", "value"), EXACT)
def test_exact_definition(unit: str, other: str, value: str) -> None:
    assert Quantity(value=D(1), unit=unit).to(other) == D(value)


def test_every_unit_with_a_fixed_ratio_stands_in_the_comparison() -> None:
    assert {unit.name for unit in UNITS.values() if unit.factor and unit.dimension not in ("calendar", "share")} == set(
        IN_PINT
    )


@pytest.mark.parametrize(
    ("unit", "other"),
    [(a, b) for a in IN_PINT for b in IN_PINT if a < b and UNITS[a].dimension == UNITS[b].dimension],
)
def test_ratio_is_pints(unit: str, other: str) -> None:
    reckoned = PINT.Quantity(D(1), IN_PINT[unit]).to(IN_PINT[other]).magnitude
    assert float(Quantity(value=D(1), unit=unit).to(other)) == pytest.approx(float(reckoned), rel=1e-12)


@pytest.mark.parametrize("degrees", [-40, 0, 32, 38, 60, 98, 212])
def test_temperature_is_pints(degrees: int) -> None:
    reckoned = PINT.Quantity(D(degrees), "degF").to("degC").magnitude
    assert float(celsius(D(degrees))) == pytest.approx(float(reckoned), abs=1e-9)
    assert float(fahrenheit(celsius(D(degrees)))) == pytest.approx(degrees, abs=1e-9)


def test_imperial_and_us_gallon_are_a_fifth_apart() -> None:
    """1.882 lb in an imperial gallon is 1.567 lb in a US one (fish-safety note "Preparing a Saltbrine", 60 degrees salometer)."""
    ratio = Quantity(value=D(1), unit="imperial gal").to("gal")
    assert float(D("1.882") / ratio) == pytest.approx(1.567, abs=0.001)


def test_no_spelling_stands_for_two_units_or_for_none() -> None:
    assert set(SPELLINGS.values()) <= set(UNITS)
    for unsaid in ("m", "t", "c.", "#", "'", "ounce weight"):
        assert SPELLINGS.get(unsaid) is None


def test_across_dimensions_there_is_no_ratio() -> None:
    for unit, other in (("lb", "gal"), ("oz", "floz"), ("F", "lb"), ("sal", "%"), ("min", "mo")):
        with pytest.raises(ValueError, match=r"measure|ratio"):
            Quantity(value=D(1), unit=unit).to(other)
