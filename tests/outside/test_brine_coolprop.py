"""The density of brine against CoolProp 8, its incompressible brine `MNA` (from M. Conde, good to 23 % by weight).

`MNA2` there is half a per cent off the printed tables and is not used.
"""

from __future__ import annotations

import pytest

pytest.importorskip("CoolProp")

from CoolProp import CoolProp  # type: ignore[import-untyped, import-not-found, unused-ignore]

from hideledger.trade.brine_density import density, share_of_density


def of_coolprop(percent: float, celsius: float) -> float:
    return float(CoolProp.PropsSI("D", "T", celsius + 273.15, "P", 101_325, f"INCOMP::MNA[{percent / 100}]"))


@pytest.mark.parametrize("percent", range(1, 24))
def test_density_is_coolprops(percent: int) -> None:
    for celsius in range(1, 40):
        assert density(percent / 100, celsius) == pytest.approx(of_coolprop(percent, celsius), rel=5e-4)


@pytest.mark.parametrize("percent", range(2, 23, 4))
@pytest.mark.parametrize("celsius", [5, 15.556, 22.2, 30])
def test_the_share_of_coolprops_density(percent: int, celsius: float) -> None:
    # 0.05 % of density is a twelfth of a per cent of salt
    assert 100 * share_of_density(of_coolprop(percent, celsius), celsius) == pytest.approx(percent, abs=0.085)
