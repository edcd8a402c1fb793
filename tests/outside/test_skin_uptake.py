"""The acid that skins take from a pickle, solved a second time by SciPy's brentq on a charge balance of its own.

Model: 0.9 mmol of acid to a gram of collagen (Bowes and Kenten, Biochem. J. 43 (1948) 358, from memory), collagen 29 % of a fresh hide
(leathermag, "What's in it for you? - Collagen", 2009), all of it of pKa 3.8; ideal activities. pKa of the acids: CRC Handbook.
"""

from __future__ import annotations

import pytest

pytest.importorskip("scipy")

from scipy.optimize import brentq  # type: ignore[import-untyped, import-not-found, unused-ignore]

from hideledger.trade.bath_ph import made_of, ph
from hideledger.trade.chemicals import CHEMICALS
from hideledger.trade.skin_uptake import with_skin

ACIDS = {
    "formic acid": (5 / 46.025, (3.75,)),
    "citric acid, anhydrous": (10 / 192.123, (3.13, 4.76, 6.40)),
    "oxalic acid, crystals": (15 / 126.064, (1.25, 4.27)),
}


def solved(moles: float, pkas: tuple[float, ...], kg_per_litre: float) -> float:
    binds = 0.29 * 0.9 * kg_per_litre

    def charge(at: float) -> float:
        shares = [1.0]
        for pka in pkas:
            shares.append(shares[-1] * 10 ** (at - pka))
        negative = moles * sum(number * share for number, share in enumerate(shares)) / sum(shares)
        return 10**-at + binds / (1 + 10 ** (at - 3.8)) - 10 ** (at - 14) - negative

    found: float = brentq(charge, 0, 12, xtol=1e-12)
    return found


@pytest.mark.parametrize("name", ACIDS)
@pytest.mark.parametrize("litres_a_kg", [2, 4, 8])
def test_the_ph_with_skins_in_is_that_of_another_solver(name: str, litres_a_kg: int) -> None:
    moles, pkas = ACIDS[name]
    wet = with_skin(made_of([(CHEMICALS[name], moles)]), 1 / litres_a_kg)
    assert ph(wet) == pytest.approx(solved(moles, pkas, 1 / litres_a_kg), abs=1e-6)
