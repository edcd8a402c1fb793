"""How much acid brings a bath down, how much base brings it up: mol for a litre of bath, 25 C, by any way of reckoning (`bath_ph`).

A bath that stood with skins in it reads higher than its make-up says, since the skins took acid and gave salts. That is met by a
charge nobody wrote down: `as_read` puts in so much base (or strong acid) that the bath has the pH which was read. `Shows` is what a reading
of a liquor is taken to be: one way of reckoning, or what a meter is expected to show in salt.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TypeAlias

from hideledger.trade import bath_ph
from hideledger.trade.bath_ph import Liquor
from hideledger.trade.chemicals import Chemical
from hideledger.trade.skin_uptake import thinned

Shows: TypeAlias = Callable[[Liquor], float]

# Nobody puts more than this into a bath, mol of acid or base equivalents a litre: a pound of citric crystals a gallon is 1.7.
MOST_EQUIVALENTS = 2.0


class OutOfReach(ValueError):
    """No sensible amount does it; `at_most` is the pH that the most of it gives."""

    def __init__(self, at_most: float) -> None:
        super().__init__(f"out of reach: the most of it gives pH {at_most:.1f}")
        self.at_most = at_most


def by_model(model: str) -> Shows:
    """What one way of reckoning (`bath_ph`) makes of a liquor."""
    return lambda liquor: bath_ph.ph(liquor, model=model)


def dose(liquor: Liquor, *, wanted: float, chemical: Chemical, shows: Shows = bath_ph.ph, swells: float = 0.0) -> float:
    """Moles of an acid or base to a litre that bring a bath to a pH; nothing where it is there already or past it.

    `swells` is the litres that a mole of it adds to the bath. Raises OutOfReach, ValueError for a chemical that is neither.
    """
    if not chemical.equivalents:
        raise ValueError(f"{chemical.name} is neither acid nor base")
    sign = 1.0 if chemical.sort == "acid" else -1.0
    most = MOST_EQUIVALENTS / chemical.equivalents

    def reached(moles: float) -> float:
        return shows(thinned(liquor.plus(chemical, moles), 1 + swells * moles))

    if sign * (reached(0.0) - wanted) <= 0:
        return 0.0
    if sign * (reached(most) - wanted) > 0:
        raise OutOfReach(reached(most))
    return bath_ph.root(lambda moles: sign * (reached(moles) - wanted), 0.0, most)


def plain_bath(*, read: float, acid: Chemical, salt: float = 0.0, shows: Shows = bath_ph.ph) -> Liquor:
    """Water and that acid alone, of the pH that was read, `salt` mol a litre: what is assumed where nobody says what a bath was made of.

    Raises OutOfReach.
    """
    water = Liquor(salt=salt)
    return water.plus(acid, dose(water, wanted=read, chemical=acid, shows=shows))


def as_read(liquor: Liquor, *, read: float, shows: Shows = bath_ph.ph) -> Liquor:
    """The bath with so much charge nobody wrote down that it has the pH which was read.

    Raises ValueError where 3 mol a litre of it would not do.
    """

    def shifted(by: float) -> Liquor:
        return replace(liquor, cations=liquor.cations + by)

    return shifted(bath_ph.root(lambda by: read - shows(shifted(by)), -3.0, 3.0))
