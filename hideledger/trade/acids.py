"""How much base answers how much acid, by weight. The full dose is an upper bound: the skins have taken some of the acid."""

from __future__ import annotations

from hideledger.trade.chemicals import ACID, BASE, CHEMICALS, Chemical

ACIDS: dict[str, Chemical] = {name: chemical for name, chemical in CHEMICALS.items() if chemical.sort == ACID}
BASES: dict[str, Chemical] = {name: chemical for name, chemical in CHEMICALS.items() if chemical.sort == BASE}


def full_dose(*, acid: str, base: str, weight: float) -> float:
    """Weight of base that answers `weight` of pure acid in full, in the same unit. Raises KeyError for a name not in the tables."""
    acids, bases = ACIDS[acid], BASES[base]
    return weight * acids.equivalents / acids.molar_mass * bases.molar_mass / bases.equivalents
