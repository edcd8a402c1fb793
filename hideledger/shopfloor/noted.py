"""What was noted of a hide or a bath, each fact with the entry that told it and the moment as narrowed by its neighbours."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from hideledger.model.entry import Entry
from hideledger.model.facts import Amount, Flaw, Reading, Shrinks, Sized, Tested, Waived
from hideledger.model.moments import When
from hideledger.model.units import Quantity


@dataclass(slots=True, kw_only=True, eq=False)
class Noted:
    """A fact of a hide with the entry that told it and the moment as narrowed by its neighbours."""

    entry: Entry
    when: When


@dataclass(slots=True, kw_only=True, eq=False)
class Weight(Noted):
    """A weight has its basis settled: green, salted, drained or shaved.

    `shared_by` hides were weighed together (1: alone).
    """

    weight: Quantity
    basis: str
    shared_by: int = 1


@dataclass(slots=True, kw_only=True, eq=False)
class Test(Noted):
    """A test made on this hide, or on its load with another hide as the sample."""

    fact: Tested
    own: bool = True


@dataclass(slots=True, kw_only=True, eq=False)
class Defect(Noted):
    """A defect seen; `at_door` when it was noted on arrival."""

    fact: Flaw
    at_door: bool = False


@dataclass(slots=True, kw_only=True, eq=False)
class Taken(Noted):
    """A reading or a shrinkage of this hide's own (pH of the cut)."""

    fact: Reading | Shrinks | Sized


@dataclass(slots=True, kw_only=True, eq=False)
class Answer(Noted):
    """A finding waived on this hide, from this line on for faults begun before it."""

    fact: Waived


@dataclass(slots=True, kw_only=True, eq=False)
class BathReading(Noted):
    """One reading of a bath or a place."""

    fact: Reading


@dataclass(slots=True, kw_only=True, eq=False)
class Dose(Noted):
    """Something added to a bath after it was made (`add`, `topped up to`); `topped` the volume it was filled up to."""

    amounts: tuple[Amount, ...]
    topped: Quantity | None = None


@dataclass(slots=True, kw_only=True, eq=False)
class Spent:
    """A supply that a line used on a hide: the `whole` amount as it was written, and this hide's `part` of it."""

    entry: Entry
    whole: Amount
    part: Fraction = Fraction(1)

    @property
    def amount(self) -> Amount:
        """This hide's part, so that all on the line together used what was written."""
        if self.part == 1:
            return self.whole
        quantity = self.whole.quantity
        value = quantity.value * self.part.numerator / self.part.denominator
        return Amount(
            quantity=Quantity(value=value, unit=quantity.unit),
            supply=self.whole.supply,
            lot=self.whole.lot,
            known=self.whole.known,
        )
