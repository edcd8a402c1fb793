"""What each hide has taken: materials shared out from its baths, work by the shop's minutes, and its part of what was spent for nothing."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from fractions import Fraction

from hideledger.answers.cost.work import count_work
from hideledger.answers.jobs import UNTANNED, Jobs, jobs_of
from hideledger.answers.money import NOTHING, summed
from hideledger.rules.onhand import Counted, Holding, currency_of, whole_shelf
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife, Member
from hideledger.shopfloor.loads import weight_in
from hideledger.shopfloor.portions import Portions
from hideledger.shopfloor.shelf import ShelfLines
from hideledger.shopfloor.tanned import came_as_leather
from hideledger.trade.costing import shares


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
    """All that one hide took. `skins` is how many it stands for: a box for all in it, a part of a cut skin for its share of one.

    `work` is None where the shop states no wage. `carried` is its part of what was spent on those that were lost, refused or handed back
    untanned. Leather that came in for a repair is no hide more, and neither comes through nor carries. `for_nothing` says which of these it is itself; empty where it came or may still come through.
    """

    life: HideLife
    whole: HideLife  # the skin that it is, or is cut from
    skins: Fraction
    came_through: bool
    leather: bool = False  # when it came in: no hide that is tanned here, whatever is done to it
    for_nothing: str = ""
    shares: list[Share] = field(default_factory=list)
    seconds: int = 0
    untimed: list[str] = field(default_factory=list)  # steps done that the shop gives no minutes for
    work: Fraction | None = None
    carried: Fraction = NOTHING

    @property
    def spent(self) -> Fraction:
        """Materials and work, without what it carries."""
        return self.materials + (self.work or NOTHING)

    @property
    def materials(self) -> Fraction:
        """The sum of all supplies that have a price."""
        return summed(share.cost for share in self.shares)

    @property
    def total(self) -> Fraction:
        """Materials, work, and what it carries of lost ones."""
        return self.spent + self.carried

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
    jobs: Jobs
    portions: Portions
    hides: list[HideCost]
    lines: ShelfLines
    held: dict[str, Holding]
    own_use: Fraction = NOTHING
    gone: Fraction = NOTHING
    found: Fraction = NOTHING  # counted and never written as bought, at the list price
    empty: list[tuple[BathLife, Fraction]] = field(default_factory=list)
    baths: list[tuple[BathLife, Fraction]] = field(default_factory=list)  # with somebody in them
    lost: Fraction = NOTHING
    unpriced: dict[str, dict[str, None]] = field(
        default_factory=dict
    )  # by `shop`, `gone` or a bath's tag: supplies without a price


def costs(floor: Floor) -> Costs:
    """What every hide of the book cost up to the moment of the floor."""
    lines, held = whole_shelf(floor)
    jobs = jobs_of(floor)
    hides = [
        HideCost(
            life=life,
            whole=jobs.whole(life),
            skins=jobs.skins(life),
            came_through=jobs.came_through(life) and not came_as_leather(life),
            leather=came_as_leather(life),
            for_nothing=_for_nothing(life, jobs),
        )
        for life in floor.all_hides()
        if life.declared
    ]
    found = Costs(sign=currency_of(floor), jobs=jobs, portions=Portions(floor), hides=hides, lines=lines, held=held)
    by_life = {id(one.life): one for one in hides}
    by_bath: dict[int, list[tuple[str, Counted]]] = {}
    for one in held.values():
        for line in one.lines:
            _line(one.name, line, found, by_life, by_bath)
    for bath in floor.all_baths():
        _bath(bath, by_bath.get(id(bath), ()), found, by_life)
    count_work(hides, jobs, found.portions, found.sign)
    _hand_on(found, by_life)
    _carry(found)
    return found


def _for_nothing(life: HideLife, jobs: Jobs) -> str:
    """Why nothing came of the work; a skin whose job another took over may still be finished itself, and is fetched by nobody."""
    if life.ended_as in ("lost", "refused"):
        return life.ended_as
    return UNTANNED if life.ended_as == "out" and not jobs.was_worked(life) else ""


def _line(
    name: str, line: Counted, found: Costs, by_life: dict[int, HideCost], by_bath: dict[int, list[tuple[str, Counted]]]
) -> None:
    move = line.move
    if move.sort == "counted":
        if line.found:
            found.found += line.cost
        else:
            found.gone += line.cost
            _no_price(found, "gone", name, line)
    elif move.bath is not None:
        by_bath.setdefault(id(move.bath), []).append((name, line))
    elif move.hide is not None and id(move.hide) in by_life:
        share = Share(bath=None, supply=name, cost=line.cost, priced=not line.unpriced, by="")
        by_life[id(move.hide)].shares.append(share)
    elif move.sort != "bought":
        found.own_use += line.cost
        _no_price(found, "shop", name, line)


def _no_price(found: Costs, where: str, name: str, line: Counted) -> None:
    if line.unpriced:
        found.unpriced.setdefault(where, {})[name] = None


def _bath(
    bath: BathLife,
    took: Iterable[tuple[str, Counted]],
    found: Costs,
    by_life: dict[int, HideCost],
) -> None:
    """The cost of a bath, shared by the weights of those that went into it; by counts where one of them was never weighed."""
    by_supply: dict[str, tuple[Fraction, bool]] = {}
    for name, line in took:
        cost, priced = by_supply.get(name, (NOTHING, True))
        by_supply[name] = (cost + line.cost, priced and not line.unpriced)
    whole = summed(cost for cost, _ in by_supply.values())
    inside = [member for member in sharers(bath) if id(member.hide) in by_life]
    if not inside:
        unpriced = [name for name, (_, priced) in by_supply.items() if not priced]
        if whole or unpriced:
            found.empty.append((bath, whole))
            found.unpriced.setdefault(bath.tag, {}).update(dict.fromkeys(unpriced))
        return
    found.baths.append((bath, whole))
    by, weights = share_weights(inside, found)
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


def share_weights(inside: list[Member], found: Costs) -> tuple[str, list[Fraction]]:
    """`weight` and the pounds of each, as it went in; `counts` and what the kind of each counts for where one was not weighed."""
    pounds = [weight_in(found.jobs.floor, member.hide, member) for member in inside]
    known = [Fraction(pound) for pound in pounds if pound is not None and pound > 0]
    if len(known) == len(inside):
        return "weight", known
    return "counts", [_count_of(member.hide, found) for member in inside]


def _count_of(life: HideLife, found: Costs) -> Fraction:
    """What a hide counts for by its kind; 1 where that is not known. A box counts for its skins, the parts of a skin for it together."""
    kind = found.jobs.floor.book.shop.kinds.get(found.jobs.whole(life).kind.casefold())
    return (Fraction(1) if kind is None else Fraction(kind.counts)) * found.portions.of(life)


def _hand_on(found: Costs, by_life: dict[int, HideCost]) -> None:
    """What a skin took before it was cut goes on in its parts, by their weights where all have one; of a box in its skins, evenly."""
    for one in found.hides:
        if one.life.ended_as not in ("cut", "opened"):
            continue
        heirs = [by_life[id(life)] for life in found.jobs.heirs(one.life) if id(life) in by_life]
        if not heirs:
            continue
        sizes = [found.portions.among_parts(heir.life) for heir in heirs]
        for heir, size in zip(heirs, sizes, strict=True):
            part = size / summed(sizes)
            heir.shares += [
                Share(bath=s.bath, supply=s.supply, cost=s.cost * part, priced=s.priced, by=s.by) for s in one.shares
            ]
            heir.seconds += round(one.seconds * part)
            if one.work is not None:
                heir.work = (heir.work or NOTHING) + one.work * part
        one.shares, one.seconds, one.work = [], 0, None if one.work is None else NOTHING


def _carry(found: Costs) -> None:
    """What was spent for nothing is carried by those that came through, by what their kinds count for."""
    through = [one for one in found.hides if one.came_through]
    found.lost = summed(one.spent for one in found.hides if one.for_nothing and not one.leather)
    if not through or not found.lost:
        return
    for one, part in zip(through, shares(found.lost, [found.jobs.counts_for(o.life) for o in through]), strict=True):
        one.carried = part
