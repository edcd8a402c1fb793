"""Salt in water: a hydrometer reads degrees salometer, a recipe speaks of pounds a gallon, the skin feels the share by weight."""

from __future__ import annotations

# Share of salt by weight in brine saturated at 60 F: what a salometer calls 100 degrees (Salt Institute solubility table).
SATURATED = 0.26395
# Pounds of water in a US gallon at 60 F, weighed in air: the figure the printed salometer tables use.
LB_WATER_PER_US_GAL = 8.328
# Share of water in a green skin (green hide 100 lb holds about 62 lb of water, agricultural e-course on hides).
WATER_IN_GREEN_SKIN = 0.62


def share(*, salt_lb: float, water_gal: float) -> float:
    """Share of salt by weight (0 to 1) of `salt_lb` dissolved in `water_gal` US gallons of water.

    Raises ValueError for a negative amount or no water at all.
    """
    if salt_lb < 0 or water_gal <= 0:
        raise ValueError("a brine has water, and no less than no salt")
    return salt_lb / (salt_lb + water_gal * LB_WATER_PER_US_GAL)


def salometer(salt_share: float) -> float:
    """Degrees salometer (100 at saturation, 60 F) of a share by weight; over 100 the salt does not all dissolve."""
    return 100 * salt_share / SATURATED


def with_skins(*, water_gal: float, skin_lb: float) -> float:
    """US gallons of water once green skins have given theirs to the bath: a floor for salt must say before or after."""
    if skin_lb < 0:
        raise ValueError("a weight of skin is no less than nothing")
    return water_gal + skin_lb * WATER_IN_GREEN_SKIN / LB_WATER_PER_US_GAL
