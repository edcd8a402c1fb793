"""The walk through the book, line by line in time: what is afoot at the line it has come to."""

from __future__ import annotations

from collections.abc import Set as AbstractSet

from hideledger.model.entry import Entry
from hideledger.model.facts import Amount
from hideledger.model.moments import Clock, When
from hideledger.model.process import Step
from hideledger.model.shop import ShopBook
from hideledger.shopfloor.floor import Floor, Oddity
from hideledger.shopfloor.life import BathLife, HideLife, Member, Pause, Stay, StepMark, Turn

# What turns the raw clock: when, `step`, `rest`, `thaw` or `gone`, the line, and the name of the step or rest.
Course = list[tuple[When, str, Entry, StepMark | str]]


class HideAfoot:
    """A hide stands so at this line.

    `weight_marks` holds, for each weight, how many steps had been written by then.
    """

    __slots__ = (
        "bath",
        "course",
        "failed",
        "last_line",
        "life",
        "member",
        "pause",
        "place",
        "process_name",
        "rested",
        "stay",
        "waits_for",
        "weight_marks",
    )

    def __init__(self, life: HideLife) -> None:
        self.life = life
        self.stay: Stay | None = None
        self.pause: Pause | None = None
        self.bath: BathAfoot | None = None
        self.member: Member | None = None
        self.place = ""
        self.rested = False  # a rest lay in the present stay
        self.failed = False  # a test failed since the last step
        self.waits_for = ""  # put into a bath that is mixed only on a later line
        self.process_name = ""  # as written on it; else its kind's
        self.last_line: Entry | None = None
        self.weight_marks: list[int] = []
        self.course: Course = []


class BathAfoot:
    """A bath or load stands so at this line.

    `turn` runs now; `stopped` ended without an `off` when the hides came out.
    """

    __slots__ = ("inside", "life", "stopped", "turn")

    def __init__(self, life: BathLife) -> None:
        self.life = life
        self.inside: dict[HideAfoot, None] = {}
        self.turn: Turn | None = None
        self.stopped: Turn | None = None


class Walk:
    """One walk through the book. `hides` and `baths` hold the last life of each tag, `sorts` what each tag is."""

    __slots__ = (
        "baths",
        "clock",
        "floor",
        "gone_baths",
        "hides",
        "holding",
        "in_bath",
        "in_place",
        "in_vessel",
        "pending",
        "rests",
        "shop",
        "sorts",
        "told_ahead",
        "unsure",
        "waiting",
        "walked",
    )

    def __init__(self, floor: Floor, sorts: dict[str, str], unsure: AbstractSet[str] = frozenset()) -> None:
        self.floor = floor
        self.shop: ShopBook = floor.book.shop
        self.clock: Clock = floor.book.clock
        self.sorts = sorts
        self.unsure = unsure  # tags whose own line could not be read
        self.hides: dict[str, HideAfoot] = {}
        self.walked: list[HideAfoot] = []  # every life, in the order of arrival
        self.baths: dict[str, BathAfoot] = {}
        self.gone_baths: dict[str, BathLife] = {}
        self.in_vessel: dict[str, list[BathAfoot]] = {}
        self.in_place: dict[str, dict[HideAfoot, None]] = {}
        self.waiting: dict[str, dict[HideAfoot, None]] = {}
        # Stays that a line above their bath told with their from and to: by the tag of the bath, or its vessel.
        self.told_ahead: dict[str, list[tuple[HideAfoot, Stay, When]]] = {}
        self.pending: dict[str, list[tuple[Entry, When]]] = {}  # lines on a tag that has had no life yet
        versions = [version for several in self.shop.processes.values() for version in several]
        self.rests = {"frozen"} | {rest.name for version in versions for rest in version.rests}
        # Which process a hide is on may be written later; until then a step that is a stay anywhere may be one here.
        self.holding = {
            name
            for version in versions
            for step in version.steps
            if step.sort != "moment"
            for name in (step.name, *step.others)
        }
        self.in_bath = steps_in_bath(self.shop)

    def oddity(
        self, sort: str, tags: tuple[str, ...], entry: Entry, other: Entry | None = None, note: str = ""
    ) -> None:
        """Something a rule will speak of. A line about several hides is one oddity with all of them."""
        last = self.floor.oddities[-1] if self.floor.oddities else None
        if last is not None and (last.sort, last.note) == (sort, note) and last.entry is entry and last.other is other:
            last.tags += tuple(tag for tag in tags if tag not in last.tags)
            return
        self.floor.oddities.append(Oddity(sort=sort, tags=tags, entry=entry, other=other, note=note))

    def bath(self, where: str) -> BathAfoot | None:
        """The bath of that tag now, or the one that was last mixed in the vessel of that tag."""
        several = self.in_vessel.get(where)
        return several[-1] if several else self.baths.get(where)

    def bath_at(self, where: str, entry: Entry, when: When) -> BathAfoot | None:
        """The same at a line that names it: a bath whose make-up could not be read begins with the first line about it."""
        found = self.bath(where)
        sort = self.sorts.get(where)
        if found is None and where in self.unsure and sort in ("bath", "vessel") and where not in self.gone_baths:
            vessel = where if sort == "vessel" else ""
            found = self.stands(BathLife(tag=where, made=entry, made_when=when, vessel=vessel, declared=False))
        return found

    def stands(self, life: BathLife) -> BathAfoot:
        """A bath stands from this line on, in its vessel where one is written."""
        new = self.baths[life.tag] = BathAfoot(life)
        self.floor.baths.setdefault(life.tag, []).append(life)
        if life.vessel:
            self.in_vessel.setdefault(life.vessel, []).append(new)
        return new

    def hides_in(self, where: str) -> list[HideAfoot]:
        """Whoever is in a bath, vessel or place now, in the order in which they went in."""
        bath = self.bath(where)
        if bath is not None:
            return [hide for one in self.in_vessel.get(where) or (bath,) for hide in one.inside]
        return list(self.waiting.get(where) or self.in_place.get(where.casefold()) or ())

    def stand(self, hide: HideAfoot, place: str, when: When) -> None:
        """The hide stands in a place from now on: a bath's tag, a place's name, or nothing where none is written."""
        if hide.place == place:
            return
        if hide.place:
            self.in_place.get(hide.place.casefold(), {}).pop(hide, None)
        hide.place = place
        hide.life.places.append((when, place))
        if place:
            self.in_place.setdefault(place.casefold(), {})[hide] = None

    def litres(self, amounts: tuple[Amount, ...]) -> float:
        """The liquid among these amounts in litres; a dry supply measured by the cup is none."""
        total = 0.0
        for amount in amounts:
            quantity = amount.quantity
            if quantity.dimension == "measure":
                measure = self.shop.measures.get(quantity.unit.casefold())
                if measure is None:
                    continue
                times, quantity = quantity.value, measure.quantity
            else:
                times = None
            if quantity.dimension != "volume":
                continue
            supply = self.shop.supplies.get(amount.supply.casefold())
            if supply is not None and supply.by == "weight" and amount.supply != "water":
                continue
            litres = float(quantity.to("L"))
            total += litres if times is None else litres * float(times)
        return total


def steps_in_bath(shop: ShopBook) -> dict[str, tuple[Step, ...]]:
    """The steps that some process does in a bath or a drum, by each of their names."""
    found: dict[str, tuple[Step, ...]] = {}
    for version in (version for several in shop.processes.values() for version in several):
        for step in version.steps:
            if step.sort == "run" or step.in_bath:
                for name in (step.name, *step.others):
                    found[name] = (*found.get(name, ()), step)
    return found


def not_before(when: When, start: When) -> When:
    """An end lies not before its start, however vague both are."""
    if when.lo >= start.lo:
        return when
    return start if when.hi < start.lo else when.within(start.lo, when.hi)


def not_before_last(walk: Walk, tag: str, when: When) -> When:
    """A hide goes, or a bath is let go, not before the last that is told of it."""
    known = [when.lo]
    hide = walk.hides.get(tag)
    if hide is not None:
        known += [mark.when.lo for mark in hide.life.marks[-1:]]
        known += [pause.start.lo for pause in hide.life.pauses[-1:]]
    bath = walk.bath(tag)
    if bath is not None:
        life = bath.life
        known += [life.made_when.lo, *(reading.when.lo for reading in life.readings[-1:])]
        known += [member.enter.lo if member.leave is None else member.leave.lo for member in life.members]
    return when.within(max(known), when.hi)
