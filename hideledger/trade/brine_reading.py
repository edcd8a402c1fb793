"""What a floating hydrometer shows is true at the temperature it was made for; in warmer brine it sinks and reads too low.

Worked out from the densities of brine (International Critical Tables, see `brine_density`) and the swelling of the glass. The printed rule
of thumb, a degree salometer for every 10 F ("Preparing a Saltbrine"), agrees within 0.8 degrees from 40 to 80 F and corrects 1.0 to
1.4 degrees too little at 100 F in strong brine.
"""

from __future__ import annotations

from hideledger.trade.brine_density import SATURATED, SIXTY_F, density, share_of_density

# How much the volume of a glass hydrometer grows for each degree C (common soda glass, from memory; a tenth of the correction or less).
GLASS = 25e-6


def true_share(
    reading: float, celsius: float, *, calibrated: float = SIXTY_F, hundred: float = SATURATED, glass: float = GLASS
) -> float:
    """Share of salt by weight (0 to 1) in brine of `celsius` in which a salometer made for `calibrated` shows `reading` degrees.

    Both temperatures 0 to 40 C. `hundred` is the share the instrument calls 100, `glass` its swelling by volume for each degree.
    Raises ValueError for what no brine of salt alone shows.
    """
    return share_of_shown(density(reading / 100 * hundred, calibrated), celsius, calibrated=calibrated, glass=glass)


def share_of_shown(kg_per_m3: float, celsius: float, *, calibrated: float = SIXTY_F, glass: float = GLASS) -> float:
    """The same for a hydrometer of any scale that shows this density in kg/m3."""
    return share_of_density(kg_per_m3 * (1 - glass * (celsius - calibrated)), celsius)


def shown_density(true_kg_per_m3: float, celsius: float, *, calibrated: float = SIXTY_F, glass: float = GLASS) -> float:
    """The density in kg/m3 that a hydrometer made for `calibrated` shows in a liquid of this density at `celsius`."""
    return true_kg_per_m3 / (1 - glass * (celsius - calibrated))


def shown_degrees(
    salt_share: float, celsius: float, *, calibrated: float = SIXTY_F, hundred: float = SATURATED, glass: float = GLASS
) -> float:
    """Degrees that a salometer made for `calibrated` shows in brine of this share at `celsius`. Raises ValueError outside its scale."""
    shown = shown_density(density(salt_share, celsius), celsius, calibrated=calibrated, glass=glass)
    return 100 * share_of_density(shown, calibrated) / hundred


def by_rule_of_thumb(reading: float, fahrenheit: float) -> float:
    """Degrees salometer by the printed rule: one more for every 10 F above 60 F, one less for every 10 F below."""
    return reading + (fahrenheit - 60) / 10
