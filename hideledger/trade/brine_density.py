"""Density of salt in water by strength and warmth, from the printed tables; nothing is read outside them.

Density: International Critical Tables as printed in D. W. Kaufmann, Sodium Chloride, ACS Monograph 145 (Reinhold, 1960), 0 to 26 % by
weight and 0 to 40 C. Solubility: the Salt Institute's table, 32 to 150 F. Between the lines of a table a curve is laid through the four
nearest values of density (it departs from an independent equation of state by less than 0.05 %), a straight line through two of solubility.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from functools import lru_cache

SIXTY_F = (60 - 32) / 1.8
# Share of salt by weight in brine saturated at 60 F: what a salometer calls 100 degrees (Salt Institute).
SATURATED = 0.26395
COLDEST, WARMEST = 0.0, 40.0

_CELSIUS = (0.0, 10.0, 20.0, 25.0, 30.0, 40.0)
_PERCENT = (0.0, 1.0, 2.0, 4.0, 6.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0, 22.0, 24.0, 26.0)
_G_PER_ML = (
    (0.99987, 0.99973, 0.99823, 0.99707, 0.99567, 0.99224),
    (1.00747, 1.00707, 1.00534, 1.00409, 1.00261, 0.99908),
    (1.01509, 1.01442, 1.01246, 1.01112, 1.00957, 1.00593),
    (1.03038, 1.02920, 1.02680, 1.02530, 1.02361, 1.01977),
    (1.04575, 1.04408, 1.04127, 1.03963, 1.03781, 1.03378),
    (1.06121, 1.05907, 1.05589, 1.05412, 1.05219, 1.04798),
    (1.07677, 1.07419, 1.07068, 1.06879, 1.06676, 1.06238),
    (1.09244, 1.08946, 1.08566, 1.08365, 1.08153, 1.07699),
    (1.10824, 1.10491, 1.10085, 1.09872, 1.09651, 1.09182),
    (1.12419, 1.12056, 1.11621, 1.11401, 1.11171, 1.10688),
    (1.14031, 1.13643, 1.13190, 1.12954, 1.12715, 1.12218),
    (1.15663, 1.15254, 1.14779, 1.14533, 1.14285, 1.13774),
    (1.17318, 1.16891, 1.16395, 1.16140, 1.15883, 1.15358),
    (1.18999, 1.18557, 1.18040, 1.17776, 1.17511, 1.16971),
    (1.20709, 1.20254, 1.19717, 1.19443, 1.19170, 1.18614),
)
# Degrees F, per cent by weight of the saturated brine.
_SOLUBLE = (
    (32.0, 26.29),
    (40.0, 26.33),
    (50.0, 26.36),
    (60.0, 26.395),
    (70.0, 26.45),
    (80.0, 26.52),
    (100.0, 26.68),
    (125.0, 26.92),
    (150.0, 27.21),
)


def saturated_share(celsius: float = SIXTY_F) -> float:
    """Share of salt by weight (0 to 1) that brine holds at most at a temperature of 0 to 65.5 C; warmth adds little.

    Raises ValueError outside the table (Salt Institute, 32 to 150 F).
    """
    fahrenheit = celsius * 1.8 + 32
    if not _SOLUBLE[0][0] - 1e-9 <= fahrenheit <= _SOLUBLE[-1][0] + 1e-9:
        raise ValueError("the solubility of salt is tabled from 32 to 150 F")
    at = min(max(bisect_right(_SOLUBLE, (fahrenheit, 100.0)), 1), len(_SOLUBLE) - 1)
    (low, below), (high, above) = _SOLUBLE[at - 1], _SOLUBLE[at]
    return (below + (above - below) * (fahrenheit - low) / (high - low)) / 100


def density(salt_share: float, celsius: float = SIXTY_F) -> float:
    """Density in kg/m3 (in vacuum) of brine with this share of salt by weight, at a temperature of 0 to 40 C.

    Raises ValueError for a share below 0 or past saturation, and for a temperature outside the table.
    """
    if not COLDEST <= celsius <= WARMEST:
        raise ValueError("the density of brine is tabled from 0 to 40 C (32 to 104 F)")
    if not 0 <= salt_share <= saturated_share(celsius) + 1e-9:
        raise ValueError("no brine holds so much salt" if salt_share > 0 else "a share of salt is no less than nothing")
    return _curve(_PERCENT, _column(celsius), 100 * salt_share)


def share_of_density(kg_per_m3: float, celsius: float = SIXTY_F) -> float:
    """Share of salt by weight (0 to 1) of brine with this density in kg/m3 at a temperature of 0 to 40 C.

    Raises ValueError for a density below that of water or past that of saturated brine, and for a temperature outside the table.
    """
    low, high = 0.0, saturated_share(celsius)
    least, most = density(low, celsius), density(high, celsius)
    if not least - 1e-6 <= kg_per_m3 <= most + 1e-6:
        raise ValueError("lighter than water" if kg_per_m3 < least else "heavier than saturated brine")
    for _ in range(60):
        middle = (low + high) / 2
        if density(middle, celsius) < kg_per_m3:
            low = middle
        else:
            high = middle
    return (low + high) / 2


@lru_cache(maxsize=64)
def _column(celsius: float) -> tuple[float, ...]:
    """The densities of all rows of the table at one temperature, in kg/m3."""
    return tuple(1000 * _curve(_CELSIUS, row, celsius) for row in _G_PER_ML)


def _curve(places: Sequence[float], values: Sequence[float], at: float) -> float:
    """The value at a place on the curve of third degree through the four nearest lines of a table (Lagrange)."""
    first = min(max(bisect_right(places, at) - 2, 0), len(places) - 4)
    near = range(first, first + 4)
    total = 0.0
    for i in near:
        weight = 1.0
        for j in near:
            if i != j:
                weight *= (at - places[j]) / (places[i] - places[j])
        total += weight * values[i]
    return total
