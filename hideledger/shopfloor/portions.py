"""A skin that was cut is one skin: what several take together is shared by skins, and the parts of one share what it has."""

from __future__ import annotations

from fractions import Fraction

from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife


class Portions:
    """Which part of a skin each tag is: by the weights of the parts where all of them were weighed, else even parts."""

    __slots__ = ("_by_arrival", "_known", "_parts")

    def __init__(self, floor: Floor) -> None:
        self._by_arrival: dict[tuple[str, int], HideLife] = {}
        self._parts: dict[tuple[str, int], list[HideLife]] = {}
        self._known: dict[int, Fraction] = {}
        for life in floor.all_hides():
            self._by_arrival[life.tag, id(life.arrived)] = life
            if life.parent:
                self._parts.setdefault((life.parent, id(life.arrived)), []).append(life)

    def of(self, life: HideLife) -> Fraction:
        """`1` of a skin, so many of a box, of a part what it is of the whole skin."""
        if not life.parent:
            return Fraction(max(1, life.count))
        known = self._known.get(id(life))
        if known is None:
            above = self._by_arrival.get((life.parent, id(life.arrived)))
            whole = Fraction(1) if above is None or above is life else self.of(above)
            known = self._known[id(life)] = whole * self.among_parts(life)
        return known

    def among_parts(self, life: HideLife) -> Fraction:
        """Which part of the skin that it was cut from, of all the parts of that cut; of what is no part, all of it."""
        row = self._parts.get((life.parent, id(life.arrived)), []) if life.parent else []
        if len(row) < 2 or not any(one is life for one in row):
            return Fraction(1)
        weights = [_weight(one) for one in row]
        whole = sum(weights, Fraction(0))
        if not all(weights):
            return Fraction(1, len(row))
        return _weight(life) / whole


def share_out(floor: Floor) -> None:
    """What a line used on several hides together, shared by skins: the parts of one on that line share what one skin takes.

    Where all on it are whole skins the even shares of the walk stand.
    """
    portions: Portions | None = None
    together: dict[int, list[HideLife]] = {}
    for life in floor.all_hides():
        for entry in {id(spent.entry): spent for spent in life.used if spent.part < 1}:
            together.setdefault(entry, []).append(life)
    for entry, lives in together.items():
        if not any(life.parent or life.count > 1 for life in lives):
            continue
        portions = portions or Portions(floor)
        sizes = [portions.of(life) for life in lives]
        row = next(spent for spent in lives[0].used if id(spent.entry) == entry)
        whole = sum(sizes, Fraction(0)) + max(
            0, row.part.denominator - len(lives)
        )  # a tag that no hide bears is one skin
        for life, size in zip(lives, sizes, strict=True):
            for spent in life.used:
                if id(spent.entry) == entry:
                    spent.part = size / whole


def _weight(life: HideLife) -> Fraction:
    """What a part weighed first by itself; nothing where it never was."""
    if not life.weights:
        return Fraction(0)
    first = life.weights[0]
    return Fraction(first.weight.to("lb")) / first.shared_by
