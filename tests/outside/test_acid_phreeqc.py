"""The pH of made-up baths against PHREEQC itself (U.S. Geological Survey; by phreeqpython).

PHREEQC is a general program for water chemistry. Its phreeqc.dat knows none of these organic acids, so they are told to it with the constants that are
in use here: what is compared is how charges, masses and activities are brought together, not the constants. Both take these ions after Davies; the
database takes hydrogen and sodium after Truesdell and Jones, which is what the 0.05 allows for.
"""

from __future__ import annotations

from typing import Any

import pytest

from hideledger.trade.bath_ph import DAVIES, Liquor, ph
from hideledger.trade.chemicals import CHEMICALS, PROTONS

# what PHREEQC is to call each of them
ELEMENTS = {"formic": "Frm", "acetic": "Ace", "citric": "Cit", "oxalic": "Oxa", "lactic": "Lac"}

# mol a litre: acids, sodium from a strong base, salt
BATHS = [
    ({"citric": 0.05}, 0.0, 0.0),
    ({"citric": 0.05}, 0.05, 0.0),
    ({"citric": 0.05}, 0.10, 0.0),
    ({"citric": 0.03}, 0.08, 0.0),
    ({"citric": 0.05}, 0.03, 0.3),
    ({"formic": 0.1}, 0.0, 0.0),
    ({"formic": 0.2}, 0.1, 0.0),
    ({"formic": 0.1}, 0.02, 0.35),
    ({"acetic": 0.3}, 0.05, 0.1),
    ({"lactic": 0.15}, 0.1, 0.0),
    ({"oxalic": 0.08}, 0.0, 0.0),
    ({"oxalic": 0.08}, 0.1, 0.0),
    ({"oxalic": 0.05}, 0.08, 0.2),
    ({"citric": 0.04, "formic": 0.05}, 0.06, 0.1),
    ({"oxalic": 0.03, "lactic": 0.05, "acetic": 0.05}, 0.05, 0.0),
]


@pytest.fixture(name="phreeqc", scope="module")
def _phreeqc() -> Any:
    phreeqpython = pytest.importorskip("phreeqpython")
    program = phreeqpython.PhreeqPython(database="phreeqc.dat")
    masters, species = ["SOLUTION_MASTER_SPECIES"], ["SOLUTION_SPECIES"]
    for name, element in ELEMENTS.items():
        pkas = PROTONS[name].pkas
        bare = f"{element}-{len(pkas)}" if len(pkas) > 1 else f"{element}-"
        masters.append(f"{element} {bare} 0 100 100")
        species += [f"{bare} = {bare}", "log_k 0"]
        together = 0.0
        for number, pka in enumerate(reversed(pkas), 1):
            together += pka
            charge = len(pkas) - number
            held = f"H{number if number > 1 else ''}{element}" + (f"-{charge if charge > 1 else ''}" if charge else "")
            species += [f"{number if number > 1 else ''}H+ + {bare} = {held}", f"log_k {together:.4f}"]
    program.ip.run_string("\n".join([*masters, *species, "END"]))
    return program


@pytest.mark.parametrize(("acids", "sodium", "salt"), BATHS)
def test_ph_as_phreeqc_has_it(phreeqc: Any, acids: dict[str, float], sodium: float, salt: float) -> None:
    told: dict[str, object] = {"units": "mol/kgw", "temp": 25, "pH": "4 charge"}
    told |= {ELEMENTS[name]: moles for name, moles in acids.items()}
    if sodium + salt:
        told["Na"] = sodium + salt
    if salt:
        told["Cl"] = salt
    solution = phreeqc.add_solution(told)
    found = float(solution.pH)
    solution.forget()
    liquor = Liquor().plus(CHEMICALS["lye"], sodium).plus(CHEMICALS["salt"], salt)
    names = {"citric": "citric acid, anhydrous", "oxalic": "oxalic acid, anhydrous"}
    for name, moles in acids.items():
        liquor = liquor.plus(CHEMICALS[names.get(name, f"{name} acid")], moles)
    assert ph(liquor, model=DAVIES) == pytest.approx(found, abs=0.05)
