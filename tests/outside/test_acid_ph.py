"""The pH of baths against two other reckonings and against published standards.

- Ideal pH of 22 baths: worked out beforehand with pHcalc 0.2.0 and with a charge balance in SciPy, which agreed to 0.0001; here SciPy solves each
  once more, as a whole set of mass balances and mass action laws for every species at once (no charge fractions).
- The same with activities: PHREEQC 3 (phreeqpython 1.6.2), phreeqc.dat with the organic acids added, Davies.
- pH standards at 25 C: Staples & Bates, J. Res. NBS 73A (1969) 37-41.
- pH in 0 to 10 % salt: PHREEQC with its pitzer.dat; the formate terms came from memory.
- pKa: CRC Handbook as printed in Principles of General Chemistry, Appendix C; lactic from aqion's table; phosphoric pKa3 from memory.
"""

from __future__ import annotations

import math

import pytest

from hideledger.trade.acid_dose import dose
from hideledger.trade.acids import full_dose
from hideledger.trade.bath_ph import DAVIES, IDEAL, KEPT, LEAVES, made_of, ph, reading_span
from hideledger.trade.chemicals import CHEMICALS, PROTONS

# (grams a litre of bath, CO2, ideal pH, pH with activity)
CASES: list[tuple[dict[str, float], str, float, float]] = [
    ({"formic acid": 4.6025}, LEAVES, 2.384, 2.384),
    ({"formic acid": 5.0}, LEAVES, 2.366, 2.365),
    ({"acetic acid": 10}, LEAVES, 2.770, 2.769),
    ({"lactic acid": 10}, LEAVES, 2.415, 2.414),
    ({"citric acid, anhydrous": 10}, LEAVES, 2.231, 2.230),
    ({"citric acid, crystals": 10}, LEAVES, 2.252, 2.251),
    ({"oxalic acid, anhydrous": 15}, LEAVES, 1.138, 1.153),
    ({"oxalic acid, crystals": 15}, LEAVES, 1.233, 1.252),
    ({"sulphuric acid": 2}, LEAVES, 1.583, 1.604),
    ({"phosphoric acid": 5}, LEAVES, 1.806, 1.815),
    ({"formic acid": 4.6025, "sodium formate": 3.40035}, LEAVES, 3.454, 3.366),
    ({"formic acid": 4.6025, "sodium formate": 6.8007}, LEAVES, 3.752, 3.636),
    ({"formic acid": 4.6025, "baking soda": 4.2003}, LEAVES, 3.753, 3.665),
    ({"formic acid": 4.6025, "baking soda": 4.2003}, KEPT, 3.751, 3.663),
    ({"citric acid, anhydrous": 10, "baking soda": 4}, LEAVES, 3.793, 3.637),
    ({"citric acid, anhydrous": 10, "baking soda": 8}, LEAVES, 5.274, 4.859),
    ({"oxalic acid, crystals": 15, "baking soda": 10}, LEAVES, 2.851, 2.657),
    ({"sulphuric acid": 2, "formic acid": 2}, LEAVES, 1.579, 1.600),
    ({"sulphuric acid": 2, "baking soda": 1.7}, LEAVES, 1.987, 1.954),
    ({"baking soda": 10}, KEPT, 8.340, 7.993),
    ({"soda ash": 10}, KEPT, 11.642, 11.255),
    ({"borax": 3.81363}, LEAVES, 9.239, 9.177),
]


def moles(grams: dict[str, float]) -> list[tuple[str, float]]:
    return [(name, weight / CHEMICALS[name].molar_mass) for name, weight in grams.items()]


def reckoned(grams: dict[str, float], air: str, model: str = IDEAL) -> float:
    return ph(made_of(((CHEMICALS[name], amount) for name, amount in moles(grams)), air=air), model=model)


def by_species(grams: dict[str, float], air: str) -> float:
    """The pH by another way: every species is an unknown, solved for together with SciPy."""
    optimize = pytest.importorskip("scipy.optimize")
    totals: dict[str, float] = {}
    sodium = 0.0
    for name, amount in moles(grams):
        chemical = CHEMICALS[name]
        sodium += amount * chemical.cations
        if chemical.protons == "carbonic" and air == LEAVES:
            continue  # the gas is gone: the rest is a strong base
        totals[chemical.protons] = totals.get(chemical.protons, 0.0) + amount * chemical.groups
    families = [(PROTONS[name].pkas, total) for name, total in totals.items()]

    def equations(logs: list[float]) -> list[float]:
        hydrogen, hydroxide, *rest = logs
        left = [hydrogen + hydroxide + 14.0]
        charge = 10**hydrogen + sodium - 10**hydroxide
        for pkas, total in families:
            mine, rest = rest[: len(pkas) + 1], rest[len(pkas) + 1 :]
            left += [after + hydrogen - before + pka for before, after, pka in zip(mine, mine[1:], pkas, strict=False)]
            left.append(math.log10(sum(10**log for log in mine) / total))
            charge -= sum(number * 10**log for number, log in enumerate(mine))
        scale = sodium + sum(total for _, total in families)
        return [*left, charge / scale]

    best, found = math.inf, math.nan
    for guess in (1.5, 3.0, 5.0, 8.0, 11.0):
        start = [-guess, guess - 14]
        for pkas, total in families:
            shares = [0.0]
            for pka in pkas:
                shares.append(shares[-1] + guess - pka)
            whole = math.log10(sum(10**share for share in shares))
            start += [math.log10(total) + share - whole for share in shares]
        solved = optimize.least_squares(equations, start, bounds=(-60, 2), xtol=1e-15, ftol=1e-15, gtol=1e-15)
        worst = max(abs(each) for each in equations(list(solved.x)))
        if worst < best:
            best, found = worst, -float(solved.x[0])
    assert best < 1e-7
    return found


@pytest.mark.parametrize(("grams", "air", "ideal", "active"), CASES)
def test_ideal_ph_as_two_other_programs_have_it(grams: dict[str, float], air: str, ideal: float, active: float) -> None:
    del active
    assert reckoned(grams, air) == pytest.approx(ideal, abs=0.005)


@pytest.mark.parametrize(("grams", "air"), [case[:2] for case in CASES])
def test_ideal_ph_as_all_species_solved_at_once(grams: dict[str, float], air: str) -> None:
    # where the gas leaves, the other way has none of it left at all; the difference is what air keeps in water
    assert reckoned(grams, air) == pytest.approx(by_species(grams, air), abs=0.0005)


@pytest.mark.parametrize(("grams", "air", "ideal", "active"), CASES)
def test_ph_with_activity_as_phreeqc_has_it(grams: dict[str, float], air: str, ideal: float, active: float) -> None:
    """Carbonate within 0.15: PHREEQC pairs sodium with it, and this does not."""
    del ideal
    alkaline = air == KEPT and "formic acid" not in grams
    assert reckoned(grams, air, DAVIES) == pytest.approx(active, abs=0.15 if alkaline else 0.05)


@pytest.mark.parametrize(
    ("acid", "grams", "soda", "reached"),
    [
        ("citric acid, anhydrous", 10, 4, 3.793),
        ("citric acid, anhydrous", 10, 8, 5.274),
        ("oxalic acid, crystals", 15, 10, 2.851),
        ("sulphuric acid", 2, 1.7, 1.987),
    ],
)
def test_the_soda_that_brings_an_acid_to_a_ph(acid: str, grams: float, soda: float, reached: float) -> None:
    """The same pairs read backwards: so many grams of baking soda a litre for the pH they give."""
    bath = made_of([(CHEMICALS[acid], grams / CHEMICALS[acid].molar_mass)])
    found = dose(bath, wanted=reached, chemical=CHEMICALS["baking soda"])
    assert found * CHEMICALS["baking soda"].molar_mass == pytest.approx(soda, rel=2e-3)


def test_a_bath_is_no_longer_sour_long_before_the_full_dose() -> None:
    """Citric 10 g/L: 8 g/L of baking soda is 61 % of the full 13.1, and already at an ideal pH of 5.27."""
    full = full_dose(acid="citric acid, anhydrous", base="baking soda", weight=10)
    assert 8 / full == pytest.approx(0.61, abs=0.005)


def test_the_citrate_standard_is_met_with_activity_and_missed_without() -> None:
    """Potassium dihydrogen citrate 0.05 mol/kg: 3.776 certified; an ideal reckoning says 3.948."""
    citrate = made_of(
        [(CHEMICALS["sodium citrate, crystals"], 0.05 / 3), (CHEMICALS["citric acid, anhydrous"], 0.05 * 2 / 3)]
    )
    assert ph(citrate, model=DAVIES) == pytest.approx(3.776, abs=0.03)
    assert ph(citrate) == pytest.approx(3.948, abs=0.005)


def test_the_borax_standard_is_met_with_activity() -> None:
    """Borax 0.01 mol/kg: 9.180."""
    borax = made_of([(CHEMICALS["borax"], 0.01)])
    assert ph(borax, model=DAVIES) == pytest.approx(9.180, abs=0.03)


# % salt by weight -> what PHREEQC's pitzer.dat gives.
SALTED: list[tuple[dict[str, float], dict[int, float]]] = [
    ({"sulphuric acid": 2}, {0: 1.611, 2: 1.573, 5: 1.489, 8: 1.395, 10: 1.326}),
    ({"hydrochloric acid": 0.36458}, {0: 2.042, 2: 2.094, 5: 2.035, 8: 1.950, 10: 1.884}),
    ({"formic acid": 4.6025}, {0: 2.385, 2: 2.351, 5: 2.301, 8: 2.248, 10: 2.211}),
    ({"formic acid": 4.6025, "sodium formate": 3.40035}, {0: 3.368, 2: 3.285, 5: 3.247, 8: 3.227, 10: 3.219}),
]


@pytest.mark.parametrize(
    ("grams", "per_cent", "expected"),
    [(grams, per_cent, value) for grams, row in SALTED for per_cent, value in row.items()],
)
def test_the_span_told_for_a_salted_bath_holds_the_reading(
    grams: dict[str, float], per_cent: int, expected: float
) -> None:
    salted = {**grams, "salt": 1000 * per_cent / (100 - per_cent)}
    liquor = made_of((CHEMICALS[name], amount) for name, amount in moles(salted))
    low, high = reading_span(liquor, per_cent)
    assert low - 0.005 <= expected <= high + 0.005
    assert high - low < 0.6  # wide enough to be honest, narrow enough to say something


def test_the_constants_in_use_stay_as_they_are() -> None:
    """3.81 for oxalic pKa2 and 5.60 for citric pKa3 are printed in some tables, and are outliers."""
    assert {name: protons.pkas for name, protons in PROTONS.items()} == {
        "formic": (3.75,),
        "acetic": (4.756,),
        "citric": (3.13, 4.76, 6.40),
        "oxalic": (1.25, 4.27),
        "lactic": (3.86,),
        "sulphuric": (-3.0, 1.99),
        "hydrochloric": (-3.0,),
        "phosphoric": (2.16, 7.21, 12.32),
        "carbonic": (6.35, 10.33),
        "boric": (9.24,),
    }


def test_by_hand() -> None:
    """0.1 mol/L of formic acid: x^2 / (0.1 - x) = 10^-3.75 gives x = 4.129e-3; as much formate as acid gives the pKa."""
    assert 10 ** -reckoned({"formic acid": 4.6025}, LEAVES) == pytest.approx(4.129e-3, rel=1e-3)
    assert reckoned({"formic acid": 4.6025, "sodium formate": 6.8007}, LEAVES) == pytest.approx(3.75, abs=0.003)
