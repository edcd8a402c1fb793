"""Salt in water: a hydrometer reads degrees salometer, a recipe speaks of pounds a gallon, the skin feels the share by weight.

Shares are by weight of the whole brine, 0 to 1. Amounts a gallon are as weighed in air on a shop's scale, with the printed tables' 8.328 lb
of water to a US gallon at 60 F (8.337 lb in vacuum: 0.11 % apart). Specific gravity is that of 60 F against water at 60 F.
"""

from __future__ import annotations

from hideledger.trade.brine_density import SATURATED, SIXTY_F, density, saturated_share, share_of_density

# Pounds of water in a US gallon at 60 F, weighed in air: the figure the printed salometer tables use.
LB_WATER_PER_US_GAL = 8.328
L_PER_US_GAL, L_PER_IMPERIAL_GAL, KG_PER_LB = 3.785411784, 4.54609, 0.45359237
# The same water, in kg a litre.
KG_WATER_PER_L = LB_WATER_PER_US_GAL * KG_PER_LB / L_PER_US_GAL
# Share of water in a green skin (green hide 100 lb holds about 62 lb of water, agricultural e-course on hides).
WATER_IN_GREEN_SKIN = 0.62
# Baumé for liquids heavier than water, the American scale at 60 F (Roberts and Etherington, Bookbinding and the Conservation of Books,
# "Baume"). Older European hydrometers have 144 or 144.3.
BAUME_MODULUS = 145.0


def salometer(salt_share: float, *, hundred: float = SATURATED) -> float:
    """Degrees salometer (100 at saturation, 60 F) of a share by weight; over 100 the salt does not all dissolve.

    `hundred` is the share that the instrument calls 100: some are graduated to 25 % ("The Salometer and How to Use It").
    """
    return 100 * salt_share / hundred


def share_of_salometer(degrees: float, *, hundred: float = SATURATED) -> float:
    """Share by weight (0 to 1) of degrees salometer at the instrument's own temperature."""
    return degrees / 100 * hundred


def specific_gravity(salt_share: float, celsius: float = SIXTY_F) -> float:
    """Density of brine against that of water, both at `celsius` (0 to 40). Raises ValueError as `density` does."""
    return density(salt_share, celsius) / density(0, celsius)


def share_of_specific_gravity(gravity: float, celsius: float = SIXTY_F) -> float:
    """Share by weight (0 to 1) of a specific gravity, both at `celsius`. Raises ValueError for what no brine of salt alone has."""
    return share_of_density(gravity * density(0, celsius), celsius)


def baume(gravity: float) -> float:
    """Degrees Baumé, modulus 145, of a specific gravity of 1 or more: 145 - 145 / SG."""
    return BAUME_MODULUS - BAUME_MODULUS / gravity


def gravity_of_baume(degrees: float) -> float:
    """Specific gravity of degrees Baumé below 145, modulus 145: 145 / (145 - Be)."""
    return BAUME_MODULUS / (BAUME_MODULUS - degrees)


def salt_to_water(salt_share: float) -> float:
    """Weight of salt to a weight of water, of a share below 1."""
    return salt_share / (1 - salt_share)


def share_of_salt_to_water(ratio: float) -> float:
    """Share by weight of so much salt to one weight of water."""
    return ratio / (1 + ratio)


def lb_per_us_gal_water(salt_share: float) -> float:
    """Pounds of salt to a US gallon of water taken. Per imperial gallon it is a fifth more: the two are not to be mixed up."""
    return LB_WATER_PER_US_GAL * salt_to_water(salt_share)


def lb_per_us_gal_brine(salt_share: float) -> float:
    """Pounds of salt in a US gallon of brine at 60 F. Raises ValueError past saturation."""
    return LB_WATER_PER_US_GAL * specific_gravity(salt_share) * salt_share


def kg_per_l_water(salt_share: float) -> float:
    """Kilograms of salt to a litre of water taken."""
    return KG_WATER_PER_L * salt_to_water(salt_share)


def kg_per_l_brine(salt_share: float) -> float:
    """Kilograms of salt in a litre of brine at 60 F. Raises ValueError past saturation."""
    return KG_WATER_PER_L * specific_gravity(salt_share) * salt_share


def share_of_kg_per_l_brine(kg_per_l: float) -> float:
    """Share by weight (0 to 1) of so much salt in a litre of brine at 60 F.

    Raises ValueError below nothing and past saturation.
    """
    low, high = 0.0, saturated_share()
    if not -1e-12 <= kg_per_l <= kg_per_l_brine(high) + 1e-9:
        raise ValueError("no brine holds so much salt" if kg_per_l > 0 else "a weight of salt is no less than nothing")
    for _ in range(60):
        middle = (low + high) / 2
        if kg_per_l_brine(middle) < kg_per_l:
            low = middle
        else:
            high = middle
    return (low + high) / 2
