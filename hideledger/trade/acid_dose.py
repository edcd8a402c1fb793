"""How much acid brings a bath down, how much base brings it up: mol for a litre of bath, 25 C, by either way of reckoning (`bath_ph`).

A bath that stood with skins in it reads higher than its make-up says, since the skins took acid and gave salts. That is met by a
charge nobody wrote down: `as_read` puts in so much base (or strong acid) that the bath has the pH which was read.
"""

from __future__ import annotations

from dataclasses import replace

from hideledger.trade import bath_ph
from hideledger.trade.bath_ph import IDEAL, Liquor
from hideledger.trade.chemicals import Chemical

# Nobody puts more than this into a bath, mol of acid or base equivalents a litre: a pound of citric crystals a gallon is 1.7.
MOST_EQUIVALENTS = 2.0


class OutOfReach(ValueError):
    """No sensible amount does it; `at_most` is the pH that the most of it gives."""

    def __init__(self, at_most: float) -> None:
        super().__init__(f"out of reach: the most of it gives pH {at_most:.1f}")
        self.at_most = at_most


def dose(liquor: Liquor, *, wanted: float, chemical: Chemical, model: str = IDEAL) -> float:
    """Moles a litre of an acid or base that bring a bath to a pH; nothing where it is there already or past it.

    Raises OutOfReach, ValueError for a chemical that is neither.
    """
    if not chemical.equivalents:
        raise ValueError(f"{chemical.name} is neither acid nor base")
    sign = 1.0 if chemical.sort == "acid" else -1.0
    most = MOST_EQUIVALENTS / chemical.equivalents

    def left(moles: float) -> float:
        return sign * (bath_ph.ph(liquor.plus(chemical, moles), model=model) - wanted)

    if left(0.0) <= 0:
        return 0.0
    if left(most) > 0:
        raise OutOfReach(bath_ph.ph(liquor.plus(chemical, most), model=model))
    return bath_ph.root(left, 0.0, most)


def plain_bath(*, read: float, acid: Chemical, salt: float = 0.0, model: str = IDEAL) -> Liquor:
    """Water and that acid alone, of the pH that was read, `salt` mol a litre: what is assumed where nobody says what a bath was made of.

    Raises OutOfReach.
    """
    water = Liquor(salt=salt)
    return water.plus(acid, dose(water, wanted=read, chemical=acid, model=model))


def as_read(liquor: Liquor, *, read: float, model: str = IDEAL) -> Liquor:
    """The bath with so much charge nobody wrote down that it has the pH which was read.

    Raises ValueError where 3 mol a litre of it would not do.
    """

    def shifted(by: float) -> Liquor:
        return replace(liquor, cations=liquor.cations + by)

    return shifted(bath_ph.root(lambda by: read - bath_ph.ph(shifted(by), model=model), -3.0, 3.0))
