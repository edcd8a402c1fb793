"""Making brine up, stronger or weaker: salt and water are each conserved, volumes are not (a tenth by volume is not a tenth by weight).

Weights in any one unit, as weighed in air; shares by weight, 0 to 1. The rules are those of the Seafood Academy's brining page (the water
stays when salt goes in, the salt stays when water goes in).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from hideledger.trade.brine import (
    KG_WATER_PER_L,
    WATER_IN_GREEN_SKIN,
    salt_to_water,
    specific_gravity,
)
from hideledger.trade.brine_density import saturated_share


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """What a bath is made of, in kilograms: its water, and its salt, dissolved or not."""

    water_kg: float
    salt_kg: float

    def __post_init__(self) -> None:
        if self.water_kg < 0 or self.salt_kg < 0:
            raise ValueError("a weight is no less than nothing")

    @property
    def share(self) -> float:
        """Share of salt in all of it (0 to 1), whether or not it dissolves."""
        whole = self.water_kg + self.salt_kg
        return self.salt_kg / whole if whole else 0.0

    @property
    def undissolved_kg(self) -> float:
        """Salt that stays on the bottom at 60 F."""
        return max(0.0, self.salt_kg - self.water_kg * salt_to_water(saturated_share()))

    @property
    def dissolved_share(self) -> float:
        """Share of salt in the liquor over it (0 to 1): never past saturation at 60 F."""
        return min(self.share, saturated_share())

    @property
    def litres(self) -> float:
        """Litres of the liquor at 60 F, what lies undissolved apart."""
        liquor = self.water_kg + self.salt_kg - self.undissolved_kg
        return liquor / (KG_WATER_PER_L * specific_gravity(self.dissolved_share))


def of_water(litres: float) -> Batch:
    """So many litres of water at 60 F. Raises ValueError below nothing."""
    return Batch(water_kg=litres * KG_WATER_PER_L, salt_kg=0)


def of_brine(litres: float, salt_share: float) -> Batch:
    """So many litres of brine of a strength, at 60 F. Raises ValueError below nothing and past saturation."""
    return of_weight(litres * KG_WATER_PER_L * specific_gravity(salt_share), salt_share)


def of_weight(kg: float, salt_share: float) -> Batch:
    """So many kilograms of brine of a strength. Raises ValueError below nothing."""
    return Batch(water_kg=kg * (1 - salt_share), salt_kg=kg * salt_share)


def of_skins(kg: float, water: float = WATER_IN_GREEN_SKIN) -> Batch:
    """The water that green skins of this weight give to a bath, once salt stands as high in it as around it.

    `water` is its share of the skin. The model: all of it joins the bath. That takes a day or more, so it is the most they thin the bath.
    """
    return Batch(water_kg=kg * water, salt_kg=0)


def together(batches: Iterable[Batch]) -> Batch:
    """All of these in one tub."""
    each = tuple(batches)
    return Batch(water_kg=sum(one.water_kg for one in each), salt_kg=sum(one.salt_kg for one in each))


def salt_to_reach(batch: Batch, salt_share: float) -> float:
    """Kilograms of salt that bring a batch to a share; below nothing where it is stronger already, and water is wanted."""
    return batch.water_kg * salt_to_water(salt_share) - batch.salt_kg


def water_to_reach(batch: Batch, salt_share: float) -> float:
    """Kilograms of water that bring a batch to a share above 0; below nothing where it is weaker already, and salt is wanted."""
    if salt_share <= 0:
        raise ValueError("no amount of water makes brine into water")
    return batch.salt_kg / salt_to_water(salt_share) - batch.water_kg
