"""Skins take acid out of a pickle: its pH climbs for a day or more, by how much skin there is to a litre. A model, not a measurement.

The protein of a skin binds about 0.9 mmol of acid to a gram (Bowes and Kenten, Biochem. J. 43 (1948) 358, from memory), and a fresh hide is about
29 % collagen (leathermag, "What's in it for you? - Collagen", 2009): 0.261 mol to a kilogram of wet skin. How far it is filled at a pH
follows here from one pKa of 3.8 for all of it, with ideal activities.
"""

from __future__ import annotations

from dataclasses import replace

from hideledger.trade.bath_ph import Liquor
from hideledger.trade.chemicals import Protons

BINDS_MOL_PER_KG = 0.29 * 0.9
_SKIN = Protons(name="skin", pkas=(3.8,))


def thinned(liquor: Liquor, by: float) -> Liquor:
    """The same with `by` times as much water to it: 1.1 for a tenth more. Raises ValueError for less than it had."""
    if by < 1:
        raise ValueError("water is added, not taken out")
    return replace(
        liquor,
        groups=tuple((protons, moles / by) for protons, moles in liquor.groups),
        cations=liquor.cations / by,
        salt=liquor.salt / by,
    )


def with_skin(liquor: Liquor, kg_per_litre: float) -> Liquor:
    """A litre of the bath once so much wet skin in it has taken what acid it takes. Raises ValueError below nothing."""
    if kg_per_litre < 0:
        raise ValueError("a weight of skin is no less than nothing")
    binds = BINDS_MOL_PER_KG * kg_per_litre
    # What can bind a proton stands in the water like the salt of a weak acid.
    return replace(liquor, groups=(*liquor.groups, (_SKIN, binds)), cations=liquor.cations + binds)
