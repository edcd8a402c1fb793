"""Weights and measures as a shop writes them, exact by definition.

Factors are the exact definitions of the international inch, pound and US gallon (NIST Handbook 44, Appendix C) and of the
imperial gallon (4.54609 L).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

D = Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit:
    """One unit: `factor` turns it into the base of its dimension (kg, L, m, m2, kPa, s); 0 for scales with an offset."""

    name: str
    dimension: str
    factor: Decimal


_LB, _GAL_US, _GAL_IMP = D("0.45359237"), D("3.785411784"), D("4.54609")

# The volumes of which an imperial one is another than a US one.
OF_TWO_SIZES = frozenset({"gal", "qt", "pt", "floz"})
UNITS: dict[str, Unit] = {
    name: Unit(name=name, dimension=dimension, factor=factor)
    for name, dimension, factor in (
        ("lb", "weight", _LB),
        ("oz", "weight", _LB / 16),
        ("kg", "weight", D(1)),
        ("g", "weight", D("0.001")),
        ("gal", "volume", _GAL_US),
        ("qt", "volume", _GAL_US / 4),
        ("pt", "volume", _GAL_US / 8),
        ("cup", "volume", _GAL_US / 16),
        ("floz", "volume", _GAL_US / 128),
        ("tbsp", "volume", _GAL_US / 256),
        ("tsp", "volume", _GAL_US / 768),
        ("imperial gal", "volume", _GAL_IMP),
        ("imperial qt", "volume", _GAL_IMP / 4),
        ("imperial pt", "volume", _GAL_IMP / 8),
        ("imperial floz", "volume", _GAL_IMP / 160),
        ("L", "volume", D(1)),
        ("ml", "volume", D("0.001")),
        ("in", "length", D("0.0254")),
        ("cm", "length", D("0.01")),
        ("mm", "length", D("0.001")),
        ("ft", "length", D("0.3048")),
        ("m", "length", D(1)),
        ("sqft", "area", D("0.09290304")),
        ("sqm", "area", D(1)),
        ("psi", "pressure", D("6.894757293168361")),
        ("bar", "pressure", D(100)),
        ("kPa", "pressure", D(1)),
        ("min", "time", D(60)),
        ("h", "time", D(3600)),
        ("d", "time", D(86400)),
        ("wk", "time", D(604800)),
        ("mo", "calendar", D(1)),
        ("y", "calendar", D(12)),
        ("F", "temperature", D(0)),
        ("C", "temperature", D(0)),
        ("sal", "salt", D(0)),
        ("Be", "salt", D(0)),
        ("SG", "salt", D(0)),
        ("%", "share", D("0.01")),
        ("pH", "pH", D(0)),
    )
}

# As people spell them, in small letters. `m`, `T`, `c`, `#`, `'` are left out on purpose: each could be two things.
SPELLINGS: dict[str, str] = {
    spelling: name
    for name, spellings in {
        "lb": "lb lbs pound pounds",
        "oz": "oz ounce ounces",
        "kg": "kg kgs kilo kilos kilogram kilograms",
        "g": "g gr gram grams gramme grammes",
        "gal": "gal gals gallon gallons",
        "qt": "qt qts quart quarts",
        "pt": "pt pts pint pints",
        "cup": "cup cups",
        "floz": "floz fl.oz fl.oz.",
        "tbsp": "tbsp tbsps tablespoon tablespoons",
        "tsp": "tsp tsps teaspoon teaspoons",
        "L": "l liter liters litre litres",
        "ml": "ml mls milliliter milliliters millilitre millilitres",
        "in": "in inch inches",
        "cm": "cm",
        "mm": "mm",
        "ft": "ft foot feet",
        "sqft": "sqft",
        "sqm": "sqm m2 m²",
        "psi": "psi psig",
        "bar": "bar bars",
        "kPa": "kpa",
        "min": "min mins minute minutes",
        "h": "h hr hrs hour hours",
        "d": "d day days",
        "wk": "wk wks week weeks",
        "mo": "mo mos month months",
        "y": "y yr yrs year years",
        "F": "f °f degf",
        "C": "c °c degc",
        "sal": "sal salometer",
        "Be": "be bé baume baumé",
        "SG": "sg",
        "%": "% percent",
    }.items()
    for spelling in spellings.split()
}

CURRENCIES = {"$": "$", "£": "£", "€": "€", "kr": "kr"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A number with its unit, as written. `unit` is a name of UNITS, a currency sign, or one of the shop's own measures."""

    value: Decimal
    unit: str

    def __str__(self) -> str:
        number = plain_number(self.value)
        if self.unit in CURRENCIES:
            fine = round(self.value, 2) != self.value == round(self.value, 4)  # $0.125 a pound is not $0.12
            return f"{self.unit}{number if fine else format(self.value, '.2f')}"
        return f"{number} {self.unit}" if self.unit != "pH" else f"pH {number}"

    @property
    def dimension(self) -> str:
        """`weight`, `volume` …; `money` for a currency, `measure` for a measure of the shop's own."""
        unit = UNITS.get(self.unit)
        if unit is not None:
            return unit.dimension
        return "money" if self.unit in CURRENCIES else "measure"

    def to(self, unit: str) -> Decimal:
        """The same amount in another unit of its dimension. Raises ValueError across dimensions."""
        if unit == self.unit:
            return self.value
        have, want = UNITS.get(self.unit), UNITS.get(unit)
        if have is None or want is None or have.dimension != want.dimension:
            raise ValueError(f"{self.unit} is no measure of the same kind as {unit}")
        if have.dimension == "temperature":
            return fahrenheit(self.value) if unit == "F" else celsius(self.value)
        if not have.factor or not want.factor:
            raise ValueError(f"{self.unit} has no fixed ratio to {unit}")
        return self.value * have.factor / want.factor


def celsius(degrees_f: Decimal) -> Decimal:
    """Degrees Celsius of a Fahrenheit reading: C = (F - 32) / 1.8."""
    return (degrees_f - 32) / D("1.8")


def fahrenheit(degrees_c: Decimal) -> Decimal:
    """Degrees Fahrenheit of a Celsius reading: F = 1.8 C + 32."""
    return degrees_c * D("1.8") + 32


def plain_number(value: Decimal) -> str:
    """A number without trailing zeros or an exponent: `7.5`, `20`, `0.19`."""
    text = f"{value:f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    if len(text) > 12 and "." in text:
        text = f"{value:.4f}".rstrip("0").rstrip(".")
    return text or "0"
