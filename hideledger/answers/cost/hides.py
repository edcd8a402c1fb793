"""What each hide has taken: materials shared out from its baths, work by the shop's minutes, and its part of the hides that were lost."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from fractions import Fraction

from hideledger.answers.standing import is_finished
from hideledger.rules.onhand import Counted, Holding, currency_of, whole_shelf
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife, Member
from hideledger.shopfloor.loads import weight_at
from hideledger.shopfloor.shelf import ShelfLines
from hideledger.trade.costing import shares

_NOTHING = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Share:
    """One supply's part in a hide: from a bath (or from its own lines where `bath` is None), shared `by` weight, counts or nothing."""

    bath: BathLife | None
    supply: str
    cost: Fraction
    priced: bool
    by: str


@dataclass(slots=True, kw_only=True, eq=False)
class HideCost:
    """All that one hide took. `work` is None where the shop states no wage; `carried` its part of the hides that were lost."""

    life: HideLife
    came_through: bool
    shares: list[Share] = field(default_factory=list)
    seconds: int = 0
    untimed: list[str] = field(default_factory=list)  # steps done that the shop gives no minutes for
    work: Fraction | None = None
    carried: Fraction = _NOTHING

    @property
    def materials(self) -> Fraction:
        """The sum of all supplies that have a price."""
        return sum((share.cost for share in self.shares), _NOTHING)

    @property
    def total(self) -> Fraction:
        """Materials, work, and what it carries of lost ones."""
        return self.materials + (self.work or _NOTHING) + self.carried

    @property
    def unpriced(self) -> tuple[str, ...]:
        """The supplies in it that have no known price."""
        return tuple(dict.fromkeys(share.supply for share in self.shares if not share.priced))

    @property
    def by_counts(self) -> tuple[str, ...]:
        """The baths whose cost was shared by counts, since somebody in them was never weighed."""
        return tuple(dict.fromkeys(s.bath.tag for s in self.shares if s.bath is not None and s.by == "counts"))


@dataclass(slots=True, kw_only=True, eq=False)
class Costs:
    """All hides, and what is in none of them: used by the shop itself, in baths nobody was in, gone at a count."""

    sign: str
    hides: list[HideCost]
    lines: ShelfLines
    held: dict[str, Holding]
    own_use: Fraction = _NOTHING
    gone: Fraction = _NOTHING
    found: Fraction = _NOTHING  # counted and never written as bought, at the list price
    empty: list[tuple[BathLife, Fraction]] = field(default_factory=list)
    baths: list[tuple[BathLife, Fraction]] = field(default_factory=list)  # with somebody in them
    lost: Fraction = _NOTHING

    def of(self, life: HideLife) -> HideCost:
        """The cost of one hide."""
        return next(one for one in self.hides if one.life is life)


def costs(floor: Floor) -> Costs:
    """What every hide of the book cost up to the moment of the floor."""
    lines, held = whole_shelf(floor)
    clock, at = floor.book.clock, floor.at
    hides = [
        HideCost(life=life, came_through=life.ended_as == "out" or (life.here and is_finished(life, clock, at)))
        for life in floor.all_hides()
        if life.declared
    ]
    found = Costs(sign=currency_of(floor), hides=hides, lines=lines, held=held)
    by_life = {id(one.life): one for one in hides}
    by_bath: dict[int, list[tuple[str, Counted]]] = {}
    for one in held.values():
        for line in one.lines:
            _line(one.name, line, found, by_life, by_bath)
    for bath in floor.all_baths():
        _bath(bath, by_bath.get(id(bath), ()), found, by_life, floor)
    _work(found, floor)
    _hand_on(found)
    _carry(found, floor)
    return found


def _line(
    name: str, line: Counted, found: Costs, by_life: dict[int, HideCost], by_bath: dict[int, list[tuple[str, Counted]]]
) -> None:
    move = line.move
    if move.sort == "counted":
        if line.found:
            found.found += line.cost
        else:
            found.gone += line.cost
    elif move.bath is not None:
        by_bath.setdefault(id(move.bath), []).append((name, line))
    elif move.hide is not None and id(move.hide) in by_life:
        share = Share(bath=None, supply=name, cost=line.cost, priced=not line.unpriced, by="")
        by_life[id(move.hide)].shares.append(share)
    elif move.sort != "bought":
        found.own_use += line.cost


def _bath(
    bath: BathLife,
    took: Iterable[tuple[str, Counted]],
    found: Costs,
    by_life: dict[int, HideCost],
    floor: Floor,
) -> None:
    """The cost of a bath, shared by the weights of those that went into it; by counts where one of them was never weighed."""
    by_supply: dict[str, tuple[Fraction, bool]] = {}
    for name, line in took:
        cost, priced = by_supply.get(name, (_NOTHING, True))
        by_supply[name] = (cost + line.cost, priced and not line.unpriced)
    whole = sum((cost for cost, _ in by_supply.values()), _NOTHING)
    inside = [member for member in sharers(bath) if id(member.hide) in by_life]
    if not inside:
        if whole:
            found.empty.append((bath, whole))
        return
    found.baths.append((bath, whole))
    by, weights = share_weights(inside, floor)
    for name, (cost, priced) in by_supply.items():
        for member, part in zip(inside, shares(cost, weights), strict=True):
            share = Share(bath=bath, supply=name, cost=part, priced=priced, by=by)
            by_life[id(member.hide)].shares.append(share)


def sharers(bath: BathLife) -> list[Member]:
    """Each hide that went in, once, with its first time in; not the part of a whole that was in it already."""
    found: dict[int, Member] = {}
    tags: set[str] = set()
    for member in bath.members:
        tags.add(member.hide.tag)
        if member.hide.parent not in tags:
            found.setdefault(id(member.hide), member)
    return list(found.values())


def share_weights(inside: list[Member], floor: Floor) -> tuple[str, list[Fraction]]:
    """`weight` and the pounds of each, as it went in; `counts` and what the kind of each counts for where one was not weighed."""
    pounds = [weight_at(member.hide, member) for member in inside]
    known = [Fraction(pound) for pound in pounds if pound is not None and pound > 0]
    if len(known) == len(inside):
        return "weight", known
    return "counts", [count_of(member.hide, floor) for member in inside]


def count_of(life: HideLife, floor: Floor) -> Fraction:
    """What a hide counts for by its kind; 1 where that is not known. A box counts for its skins."""
    kind = floor.book.shop.kinds.get(life.kind.casefold())
    return (Fraction(1) if kind is None else Fraction(kind.counts)) * max(1, life.count)


def _work(found: Costs, floor: Floor) -> None:
    """Work is told by the shop's own minutes for a step; a step of another shop, or left out, is none of ours."""
    wage = floor.book.shop.shop.labour
    states = any(
        step.takes is not None
        for versions in floor.book.shop.processes.values()
        for process in versions
        for step in process.steps
    )
    if wage is None or not states:
        return
    money, per = wage
    if money.unit != found.sign or not per.seconds:
        return
    before = {(one.life.tag, id(one.life.arrived)): one.life for one in found.hides}
    for one in found.hides:
        whole = before.get((one.life.parent or one.life.from_box, id(one.life.arrived)))
        shared = set() if whole is None else {(id(mark.entry), mark.name) for mark in whole.marks}
        for mark in one.life.marks:
            if (id(mark.entry), mark.name) in shared:
                continue  # done on the whole skin, and handed on with what that cost
            if mark.skipped or mark.elsewhere or mark.moved or mark.name in ("in", "out"):
                continue
            takes = None if mark.line is None else mark.line.takes
            if takes is None:
                one.untimed.append(mark.name)
            else:
                one.seconds += takes.seconds
        one.work = Fraction(money.value) * one.seconds / per.seconds


def _hand_on(found: Costs) -> None:
    """What a skin took before it was cut goes on in its parts, and of a box in its skins, in even shares."""
    for one in found.hides:
        if one.life.ended_as not in ("cut", "opened"):
            continue
        tag, came = one.life.tag, one.life.arrived
        heirs = [o for o in found.hides if tag in (o.life.parent, o.life.from_box) and o.life.arrived is came]
        if not heirs:
            continue
        for heir in heirs:
            heir.shares += [
                Share(bath=s.bath, supply=s.supply, cost=s.cost / len(heirs), priced=s.priced, by=s.by)
                for s in one.shares
            ]
            if one.work is not None:
                heir.work = (heir.work or _NOTHING) + one.work / len(heirs)
        one.shares, one.work = [], None if one.work is None else _NOTHING


def _carry(found: Costs, floor: Floor) -> None:
    """What was spent on lost hides is carried by those that came through, by what their kinds count for."""
    gone = [one for one in found.hides if one.life.ended_as in ("lost", "refused")]
    through = [one for one in found.hides if one.came_through]
    found.lost = sum((one.materials + (one.work or _NOTHING) for one in gone), _NOTHING)
    if not through or not found.lost:
        return
    for one, part in zip(through, shares(found.lost, [count_of(o.life, floor) for o in through]), strict=True):
        one.carried = part
