"""The pH of a bath follows from what was put in: positive and negative charges in the water are equal at one pH only.

Concentrations in mol per litre of bath, 25 C, Kw = 1.0e-14. IDEAL takes every ion as if it were alone. DAVIES corrects for the ions'
company (Davies 1962, A = 0.509): good to an ionic strength of 0.5 mol/L, where it is held, so that in a salted bath it carries only part of
the way. What a meter shows in 5 to 12 % salt lies lower than both by up to 0.3; see `reading_span`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from hideledger.trade.chemicals import PROTONS, Chemical, Protons

IDEAL, DAVIES = "ideal", "davies"
KEPT, LEAVES = "kept", "leaves"

LOWEST, HIGHEST = -2.0, 16.0
_KW = 1.0e-14
_DAVIES_A = 0.509
DAVIES_LIMIT = 0.5
_NEAR = 1e-13
# Carbon dioxide that stays in water under ordinary air, mol/L at 25 C: 0.0339 mol/L under a whole atmosphere of it (Henry's law constant as in
# CRC Handbook and Stumm & Morgan, 10**-1.47, from memory), of which the air has 420 parts in a million.
CO2_LEFT = 0.0339 * 420e-6
# How much lower than reckoned a meter may read, for each per cent of salt, and at most: the spread of Pitzer reckonings of sulphuric,
# hydrochloric and formic acid in 2 to 10 % salt (PHREEQC with its pitzer.dat).
_SALT_LOWERS, _SALT_LOWERS_MOST = 0.03, 0.3


def salt_lowers(salt_per_cent: float) -> float:
    """So much lower, in pH, than reckoned a meter may read where so many per cent of a bath are salt; never more than 0.3."""
    return min(_SALT_LOWERS * salt_per_cent, _SALT_LOWERS_MOST)


@dataclass(frozen=True, slots=True, kw_only=True)
class Liquor:
    """A litre of bath has acids, bases and salt dissolved in it, in moles.

    `groups` are sorts that give protons, `cations` what never leaves (less such anions), `salt` plain salt.

    `air` says what becomes of carbonic acid: KEPT stays in the water (a closed jar, the first minute); LEAVES goes into the air as gas until
    the water holds no more than the air gives back (a stirred bath).
    """

    groups: tuple[tuple[Protons, float], ...] = ()
    cations: float = 0.0
    salt: float = 0.0
    air: str = LEAVES

    def plus(self, chemical: Chemical, moles: float) -> Liquor:
        """With so many more moles a litre of a chemical; a negative amount takes out. The order of adding is no matter."""
        if not chemical.protons and not chemical.cations:
            return replace(self, salt=self.salt + moles)
        groups = dict(self.groups)
        if chemical.protons:
            protons = PROTONS[chemical.protons]
            groups[protons] = groups.get(protons, 0.0) + moles * chemical.groups
        held = tuple(sorted(groups.items(), key=lambda pair: pair[0].name))
        return replace(self, groups=held, cations=self.cations + moles * chemical.cations)


def made_of(parts: Iterable[tuple[Chemical, float]], *, air: str = LEAVES) -> Liquor:
    """A bath of chemicals, each with its moles in a litre of bath. Raises ValueError for a negative amount."""
    liquor = Liquor(air=air)
    for chemical, moles in parts:
        if moles < 0:
            raise ValueError(f"{chemical.name}: no bath holds less than nothing of it")
        liquor = liquor.plus(chemical, moles)
    return liquor


def ph(liquor: Liquor, *, model: str = IDEAL) -> float:
    """The pH of a bath, to 1e-10, between -2 and 16.

    Raises ValueError where no pH in that range balances the charges.
    """
    if model == IDEAL:
        return _balanced(liquor, 0.0)
    # The stronger the ions' company, the more of them there are: what is guessed and what follows from the guess meet once.
    if ionic_strength(liquor, _balanced(liquor, DAVIES_LIMIT), DAVIES_LIMIT) >= DAVIES_LIMIT:
        return _balanced(liquor, DAVIES_LIMIT)
    strength = root(lambda guess: ionic_strength(liquor, _balanced(liquor, guess), guess) - guess, 0.0, DAVIES_LIMIT)
    return _balanced(liquor, strength)


def imbalance(liquor: Liquor, at: float, strength: float = 0.0) -> float:
    """Positive less negative charge at a pH, mol/L: nothing at the bath's own pH, falling all the way as pH rises.

    `strength` is the ionic strength that the Davies correction is taken at; 0 is ideal.
    """
    one = _activity(1, strength)
    hydrogen = math.pow(10.0, -at)
    positive = hydrogen / one + liquor.cations
    negative = _KW / hydrogen / one
    for protons, moles in liquor.groups:
        negative += sum(charge * part for charge, part in enumerate(_parts(protons, moles, at, strength, liquor.air)))
    return positive - negative


def ionic_strength(liquor: Liquor, at: float, strength: float = 0.0) -> float:
    """Half the sum of all ions, each by the square of its charge, mol/L, at a pH."""
    one = _activity(1, strength)
    hydrogen = math.pow(10.0, -at)
    total = hydrogen / one + _KW / hydrogen / one + abs(liquor.cations) + 2 * liquor.salt
    for protons, moles in liquor.groups:
        total += sum(
            charge * charge * part for charge, part in enumerate(_parts(protons, moles, at, strength, liquor.air))
        )
    return total / 2


def reading_span(liquor: Liquor, salt_per_cent: float) -> tuple[float, float]:
    """Between which pH a meter may be expected to read: from both ways of reckoning, and lower in salt; a strip errs by 0.3 more."""
    reckoned = ph(liquor), ph(liquor, model=DAVIES)
    return min(reckoned) - salt_lowers(salt_per_cent), max(reckoned)


def middle(liquor: Liquor, salt_per_cent: float) -> float:
    """What a meter is most likely to read: the middle of `reading_span`."""
    low, high = reading_span(liquor, salt_per_cent)
    return (low + high) / 2


def root(falling: Callable[[float], float], low: float, high: float) -> float:
    """Where a falling function is nothing, by Ridders' method (1979), which halves at the least and suits what grows like a power of ten.

    Raises ValueError where it is not between `low` and `high`.
    """
    at_low, at_high = falling(low), falling(high)
    if at_low < 0 or at_high > 0:
        raise ValueError("not between these")
    if not at_low or not at_high:
        return low if not at_low else high
    found = math.nan
    for _ in range(200):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        at_middle = falling(middle)
        guess = middle + (middle - low) * at_middle / math.sqrt(at_middle * at_middle - at_low * at_high)
        if abs(guess - found) <= _NEAR * max(1.0, abs(guess)):
            return guess
        found = guess
        for at, there in sorted(((middle, at_middle), (guess, falling(guess)))):
            if there > 0:
                low, at_low = at, there
            elif there < 0:
                high, at_high = at, there
                break
            else:
                return at
    return (low + high) / 2


def _balanced(liquor: Liquor, strength: float) -> float:
    return root(lambda at: imbalance(liquor, at, strength), LOWEST, HIGHEST)


def _parts(protons: Protons, moles: float, at: float, strength: float, air: str) -> list[float]:
    """Moles with no, one, two … protons given away."""
    shares = [1.0]
    for charge, pka in enumerate(protons.pkas, 1):
        company = _activity(charge - 1, strength) / _activity(charge, strength)
        shares.append(shares[-1] * math.pow(10.0, at - pka) * company)
    whole = moles / sum(shares)
    if protons.name == "carbonic" and air == LEAVES:
        whole = min(whole, CO2_LEFT)  # gas goes, none comes in
    return [whole * share for share in shares]


def _activity(charge: int, strength: float) -> float:
    """How much of an ion of that charge counts (Davies 1962)."""
    if not strength or not charge:
        return 1.0
    held = min(strength, DAVIES_LIMIT)
    side = math.sqrt(held)
    return math.pow(10.0, -_DAVIES_A * charge * charge * (side / (1 + side) - 0.3 * held))
