"""What lies on the shelf of one supply, and what it cost: in by purchase, out by use, put right by a count.

A shelf is a row of heaps, oldest first: one for each lot, and one for all that was bought without a lot. Within a heap every pound costs
the same (moving average); a use that names no lot takes from the oldest heap first (first in, first out). All figures are exact
fractions in one unit; money is rounded only where it is printed. Both ways of reckoning are those of any book on accounting, such as
OpenStax, Principles of Accounting, volume 1, on inventory.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

NOTHING = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Portion:
    """So much out of one heap: what it cost, and how much of it has no known price."""

    lot: str
    amount: Fraction
    cost: Fraction
    unpriced: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Taking:
    """What a use took, heap by heap; `missing` was used and by the book never lay there."""

    portions: tuple[Portion, ...]
    missing: Fraction = NOTHING

    @property
    def cost(self) -> Fraction:
        """What the priced part of it cost."""
        return sum((portion.cost for portion in self.portions), NOTHING)

    @property
    def unpriced(self) -> Fraction:
        """How much came off the shelf without a known price."""
        return sum((portion.unpriced for portion in self.portions), NOTHING)

    @property
    def amount(self) -> Fraction:
        """How much came off the shelf."""
        return sum((portion.amount for portion in self.portions), NOTHING)


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """What a count put right: what was gone (`lost`), or lay there unwritten (`found`)."""

    lost: Taking
    found: Fraction = NOTHING


@dataclass(slots=True, kw_only=True)
class Heap:
    """What is left of one lot, or of all that has none: amount, cost of its priced part, amount without a price."""

    lot: str
    amount: Fraction = NOTHING
    cost: Fraction = NOTHING
    unpriced: Fraction = NOTHING

    def part(self, wanted: Fraction) -> Portion:
        """Takes so much out, or all there is: an even share of cost and of what has no price."""
        taken = min(wanted, self.amount)
        share = taken / self.amount if self.amount else NOTHING
        portion = Portion(lot=self.lot, amount=taken, cost=self.cost * share, unpriced=self.unpriced * share)
        self.amount -= taken
        self.cost -= portion.cost
        self.unpriced -= portion.unpriced
        return portion


class Shelf:
    """The shelf of one supply; never less than nothing lies on it. A heap that is used up is gone from it."""

    __slots__ = ("_heaps", "amount")

    def __init__(self) -> None:
        self._heaps: dict[str, Heap] = {}
        self.amount = NOTHING  # of all heaps

    @property
    def heaps(self) -> tuple[Heap, ...]:
        """What lies there, the oldest heap first."""
        return tuple(self._heaps.values())

    @property
    def cost(self) -> Fraction:
        """What the priced part of it cost."""
        return sum((heap.cost for heap in self._heaps.values()), NOTHING)

    @property
    def unpriced(self) -> Fraction:
        """How much of it has no known price."""
        return sum((heap.unpriced for heap in self._heaps.values()), NOTHING)

    def put(self, amount: Fraction, cost: Fraction | None, lot: str = "") -> None:
        """So much comes onto the shelf; `cost` None where no price is known. Capitals make no second lot."""
        heap = self._heaps.setdefault(lot.casefold(), Heap(lot=lot))
        heap.amount += amount
        self.amount += amount
        if cost is None:
            heap.unpriced += amount
        else:
            heap.cost += cost

    def take(self, amount: Fraction, lot: str = "") -> Taking:
        """So much is used: of a lot that is named first its own heap, then what has no lot; else the oldest first."""
        return self._out_of((lot.casefold(), "") if lot else tuple(self._heaps), amount)

    def count(self, amount: Fraction, lot: str = "", price_each: Fraction | None = None) -> Settled:
        """What really lies there, of one lot or in all. What lay there unwritten is put at `price_each`, where one is known."""
        own = self._heaps.get(lot.casefold())
        gone = (self.amount if not lot else NOTHING if own is None else own.amount) - amount
        if gone >= 0:
            return Settled(lost=self._out_of((lot.casefold(),) if lot else tuple(self._heaps), gone))
        self.put(-gone, None if price_each is None else -gone * price_each, lot)
        return Settled(lost=Taking(portions=()), found=-gone)

    def _out_of(self, names: Iterable[str], amount: Fraction) -> Taking:
        portions: list[Portion] = []
        left = amount
        for name in names:
            if left <= 0:
                break
            heap = self._heaps.get(name)
            if heap is None:
                continue
            portions.append(heap.part(left))
            left -= portions[-1].amount
            self.amount -= portions[-1].amount
            if not heap.amount:
                del self._heaps[name]
        return Taking(portions=tuple(portions), missing=max(left, NOTHING))
