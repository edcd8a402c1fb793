"""Acid in a brine lifts the hydrometer: what it then reads is neither a misread nor all of it salt. Estimates, not measurements.

Each acid takes a known space in water, worked out from the density of its solution at 20 C (CRC Handbook, "Concentrative properties of
aqueous solutions"); that it takes the same in brine is assumed here (no source), as is that none of it has gone into the skins.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from hideledger.trade.brine_density import density, saturated_share, share_of_density

_WATER_AT_20 = 0.99823  # g/mL, as in the table of the densities of brine


@dataclass(frozen=True, slots=True, kw_only=True)
class Solution:
    """An acid as weighed in: a solution of `percent` pure acid has `g_per_ml` at 20 C; `pure` is the share of acid in what one weighs."""

    percent: float
    g_per_ml: float
    pure: float = 1.0

    @property
    def ml_per_g(self) -> float:
        """The space that a gram of the pure acid takes in water."""
        acid = self.percent / 100
        return (1 / self.g_per_ml - (1 - acid) / _WATER_AT_20) / acid


SOLUTIONS: dict[str, Solution] = {
    "formic acid": Solution(percent=10, g_per_ml=1.0224),
    "acetic acid": Solution(percent=5, g_per_ml=1.0052),
    "citric acid": Solution(percent=10, g_per_ml=1.0402),
    "citric acid, anhydrous": Solution(percent=10, g_per_ml=1.0402),
    "citric acid, crystals": Solution(percent=10, g_per_ml=1.0402, pure=192.123 / 210.138),
    "oxalic acid": Solution(percent=5, g_per_ml=1.0220, pure=90.034 / 126.064),  # sold as crystals
    "oxalic acid, anhydrous": Solution(percent=5, g_per_ml=1.0220),
    "oxalic acid, crystals": Solution(percent=5, g_per_ml=1.0220, pure=90.034 / 126.064),
    "sulphuric acid": Solution(percent=10, g_per_ml=1.0661),
    "phosphoric acid": Solution(percent=10, g_per_ml=1.0531),
}


def density_with_acid(salt_share: float, acids: Mapping[str, float]) -> float:
    """Density in kg/m3 at 60 F of brine of a share (0 to saturation) with acid in it: for each name of SOLUTIONS its weight to one of brine.

    Raises KeyError for another name, ValueError below nothing and past saturation.
    """
    weight, space = 1.0, 1 / density(salt_share)
    for name, to_brine in acids.items():
        if to_brine < 0:
            raise ValueError("a weight of acid is no less than nothing")
        solution = SOLUTIONS[name]
        pure = to_brine * solution.pure
        weight += to_brine
        space += (to_brine - pure) / density(0) + pure * solution.ml_per_g / 1000
    return weight / space


def lift(salt_share: float, acids: Mapping[str, float]) -> float:
    """About how many degrees salometer the acids add to what a hydrometer shows at 60 F.

    Past the end of its scale what the last degree is worth is carried on. Raises as above.
    """
    full = saturated_share()
    shown, most = density_with_acid(salt_share, acids), density(full)
    if shown <= most:
        return 100 * (share_of_density(shown) - salt_share) / full
    return 100 * (full - salt_share) / full + (shown - most) / (most - density(0.99 * full))


def share_under_acid(shown_kg_per_m3: float, acids: Mapping[str, float]) -> float:
    """About the share of salt (0 to 1) in a bath of this density at 60 F with acids in it; 0 where they alone would show as much."""
    low, high = 0.0, saturated_share()
    if shown_kg_per_m3 <= density_with_acid(low, acids):
        return 0.0
    for _ in range(50):
        middle = (low + high) / 2
        if density_with_acid(middle, acids) < shown_kg_per_m3:
            low = middle
        else:
            high = middle
    return (low + high) / 2
