"""A quick look that most readings pass: near enough to what a bath was made of, they need no reckoning of each skin and dose.

What passes here lies inside what `bath_explained` allows; the other way round nothing is said. A few figures for each bath, no more.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from math import log10

from hideledger.rules.bath_made import filled_when_made
from hideledger.rules.bath_put_in import PutIn, by_recipe, is_salt, put_in
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife
from hideledger.shopfloor.loads import weight_at
from hideledger.trade.bath_balance import first_proton
from hideledger.trade.bath_ph import salt_lowers
from hideledger.trade.brine import KG_PER_LB, salometer
from hideledger.trade.chemicals import ACID, CHEMICALS

# Salt readings so near to what was weighed in need no closer look, degrees salometer.
_NEAR = 3.0
# One graduated to 25 % shows a twentieth more than is there.
_WIDE = 1.05
# Acids that for certain lift a hydrometer by two fifths of what their weight of salt would.
_HEAVY, _LIFTS = frozenset({"citric", "oxalic", "sulphuric", "phosphoric"}), 0.4
# An acid with more protons than one gives a little more of them.
_MORE_PROTONS = 1.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Screen:
    """Least and most degrees salometer, and pH before any doubt of instrument and reckoning; `silent` quantities are never judged.

    `thinned` are, for the skins that went in one after the other, when, and the least degrees from then on.
    """

    salt: tuple[float, float] | None = None
    ph: tuple[float, float] | None = None
    silent: frozenset[str] = frozenset()
    thinned: tuple[tuple[int, float], ...] = ()

    def passes(self, what: str, value: float, off: float, when: int) -> bool:
        """Whether a reading needs no closer look; `off` is what a pH may be off, `when` the latest that it was taken."""
        if what in self.silent:
            return True
        span, margin = (self.salt, 0.0) if what == "salt" else (self.ph, off)
        if span is None or value > span[1] + margin:
            return False
        if what == "salt" and value < span[0]:
            return value >= min((least for entered, least in self.thinned if entered <= when), default=span[0])
        return value >= span[0] - margin


_NOTHING = Screen(silent=frozenset({"salt", "pH"}))


def screen(bath: BathLife, floor: Floor) -> Screen:
    """The quick look for one bath; where nothing says what it was made of, all of it is silent."""
    shop = floor.book.shop
    if not bath.declared or not bath.amounts:
        return _NOTHING
    recipe = shop.recipes.get(bath.recipe.casefold()) if bath.recipe else None
    if recipe is not None and by_recipe(recipe, bath.amounts):
        return _NOTHING
    day = date.fromordinal(bath.made_when.day)
    whole = filled_when_made(bath)
    made = [put_in(amount, shop, day) for amount in (*bath.amounts, *(a for dose in whole for a in dose.amounts))]
    levels = [float(dose.topped.to("L")) for dose in whole if dose.topped is not None]
    water = levels[-1] if levels else sum(part.water for part in made)
    if water <= 0:
        return _NOTHING
    later = [dose for dose in bath.doses if all(dose is not one for one in whole)]
    doses = [put_in(amount, shop, date.fromordinal(dose.when.day)) for dose in later for amount in dose.amounts]
    tops = [dose.topped for dose in later if dose.topped is not None and dose.topped.dimension == "volume"]
    filled = [float(topped.to("L")) for topped in tops]
    salt, more = sum(part.salt for part in made), sum(part.salt for part in doses)
    least = min([water, *filled])
    most = max([water + sum(part.water for part in doses), *filled]) + salt + more
    if least <= 0:
        return Screen()  # topped up to nothing: no quick look
    silent = set()
    measured = any(
        part.unknown and is_salt(part.unknown, shop) for part in (*made, *doses)
    )  # by the cup: nobody knows its weight
    if measured or (not salt and not more):
        silent.add("salt")
    if any(part.unknown for part in made) or not any(part.forms for part in (*made, *doses)):
        silent.add("pH")
    return Screen(
        salt=_salt(salt, more, least, most, _lifting(made)) if salt else None,
        thinned=() if more or filled else _thinned(bath, salt, water),
        ph=_ph(made, doses, least, most) if "pH" not in silent else None,
        silent=frozenset(silent),
    )


def _salt(salt: float, more: float, least: float, most: float, lifting: float) -> tuple[float, float]:
    weak, strong = (salt + lifting) / most, (salt + more) / (salt + more + least)
    return salometer(strong) - _NEAR, salometer(weak) * _WIDE + _NEAR / 2


def _lifting(parts: list[PutIn]) -> float:
    """Kilograms of salt that would lift a hydrometer no more than the acids do (`brine_acid` has how much it is for certain)."""
    return _LIFTS * sum(kilos for part in parts for name, kilos in part.forms[:1] if CHEMICALS[name].protons in _HEAVY)


def _thinned(bath: BathLife, salt: float, water: float) -> tuple[tuple[int, float], ...]:
    """After each skin the strength with all skins' own weight as water in it, and nothing carried out again.

    Water poured in later is left out: it thins nothing that was read before it, and what was read after it has the closer look.
    """
    found: list[tuple[int, float]] = []
    brought = 0.0
    for member in bath.members:
        brought += (weight_at(member.hide, member) or 0.0) * KG_PER_LB
        found.append((member.enter.lo, salometer(salt / (salt + water + brought))))
    return tuple(found)


def _ph(made: list[PutIn], doses: list[PutIn], least: float, most: float) -> tuple[float, float] | None:
    """Between the pH of the acid it was made with in most water, and of all acid that went in, in least; None with bases or none at first."""
    begun, whole = _acids(made), _acids([*made, *doses])
    if not begun or whole is None:
        return None
    salt = sum(part.salt for part in made)
    lowered = 0.9 * salt_lowers(100 * salt / most)  # as salt in it lowers what a meter reads
    fewest = max(first_proton(name, moles / most) for name, moles in begun.items())
    greatest = _MORE_PROTONS * sum(first_proton(name, moles / least) for name, moles in whole.items())
    return -log10(fewest) - lowered, -log10(greatest)


def _acids(parts: list[PutIn]) -> dict[str, float] | None:
    """Moles by the name of the acid; None where something else went in too."""
    found: dict[str, float] = {}
    for part in parts:
        for name, kilos in part.forms[:1]:
            chemical = CHEMICALS[name]
            if chemical.sort != ACID:
                return None
            found[chemical.protons] = found.get(chemical.protons, 0.0) + 1000 * kilos / chemical.molar_mass
    return found
