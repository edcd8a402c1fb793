"""A little book made of facts, without a reader: for the rooms behind the reading one."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from hideledger.model.book import Book
from hideledger.model.entry import Entry, Group
from hideledger.model.facts import Arrived, Fact, Stepped, Tested
from hideledger.model.moments import HOUR, Clock, Length, When
from hideledger.model.process import Limits, Process, RawLimit, Rest, Step
from hideledger.model.shop import ShopBook, ShopLines, Vessel
from hideledger.model.units import Quantity
from hideledger.shopfloor.floor import Floor, Oddity
from hideledger.shopfloor.layout import lay_out
from hideledger.shopfloor.life import BathLife, HideLife
from hideledger.text.place import Place
from hideledger.text.source import Source

SHOP = Place(file="shop.hides", line=1)


def quantity(value: str, unit: str) -> Quantity:
    """`7.5`, `lb`."""
    return Quantity(value=Decimal(value), unit=unit)


def step(name: str, sort: str = "moment", **more: object) -> Step:
    """A line of a process; `hours` is the least time of a stay."""
    hours = more.pop("hours", None)
    limits = Limits(least=Length(seconds=int(str(hours)) * HOUR), place=SHOP) if hours is not None else None
    return Step(name=name, sort=sort, limits=limits, place=SHOP, **more)  # type: ignore[arg-type]


# The shop of these tests: open pickle, then the drum. Invented; its figures are nobody's advice.
BOTH = Process(
    name="both",
    steps=(
        step("in", needs=("pull test",)),
        step("fleshed"),
        step("ears turned", optional=True),
        step("salt", "stay", hours=24, optional=True, raw="stops"),
        step("pickle", "stay", hours=72, raw="stops"),
        step("shaved", optional=True, weighs="shaved"),
        step("pickle", "stay", hours=12, again=True, optional=True),
        step("neutralised", "stay", optional=True),
        step("first turn", "run", in_bath=True),
        step("second turn", "run", in_bath=True),
        step("drained", "stay", weighs="drained"),
        step("oiled"),
        step("out"),
    ),
    rests=(Rest(name="frozen", after=("in", "fleshed"), place=SHOP),),
    raw_limit=RawLimit(length=Length(seconds=12 * HOUR), at=quantity("66", "F"), place=SHOP),
    place=SHOP,
)
VESSELS = {
    "D1": Vessel(tag="D1", sort="drum", place=SHOP),
    "V1": Vessel(tag="V1", sort="vat", place=SHOP),
    "V2": Vessel(tag="V2", sort="vat", place=SHOP),
}


def proof(test: str, passed: bool, *, where: str = "", on: str = "") -> Fact:
    """A test made on a hide or a load. (By its own name a test page would be taken for a test.)"""
    return Tested(test=test, passed=passed, where=where, on=on)


class Page:
    """One file of a book under the pen."""

    def __init__(self, *processes: Process, zone: str | None = "America/Chicago", room: Quantity | None = None) -> None:
        self.clock = Clock(zone)
        several: dict[str, tuple[Process, ...]] = {}
        for process in processes or (BOTH,):
            several[process.name] = (*several.get(process.name, ()), process)
        self.shop = ShopBook(
            shop=ShopLines(zone=zone, room=room, gallons="US"), vessels=dict(VESSELS), processes=several
        )
        self.source = Source(name="page.hides", text="")
        self.entries: list[Entry] = []

    def when(self, stamp: str) -> When:
        """`2026-11-03 08:15`, or a day alone."""
        day = date.fromisoformat(stamp[:10]).toordinal()
        if len(stamp) == 10:
            return self.clock.some_time(day)
        return self.clock.at(day, int(stamp[11:13]) * 60 + int(stamp[14:16]))

    def line(self, stamp: str, who: str, *facts: Fact, source: Source | None = None) -> Entry:
        """One entry: tags with blanks between, `all in P3 but H45`, or `@room` for a place."""
        group, place, tags = None, "", tuple(who.split())
        if who.startswith("all in "):
            _, _, where, *but = tags
            group, tags = Group(where=where, but=tuple(but[1:])), ()
        elif who.startswith("@"):
            place, tags = who[1:], ()
        text = f"{stamp} {who}\n"
        source = source or self.source
        start = len(source.text)
        source.text += text
        entry = Entry(
            source=source,
            start=start,
            end=len(source.text) - 1,
            order=len(self.entries),
            when=self.when(stamp),
            tags=tags,
            facts=facts,
            group=group,
            place=place,
        )
        self.entries.append(entry)
        return entry

    def comes(self, stamp: str, who: str, *facts: Fact) -> Entry:
        """The hides come in."""
        return self.line(stamp, who, Arrived(), *facts)

    def goes(self, stamp: str, who: str, name: str, where: str = "") -> Entry:
        """The hides go on to a step."""
        return self.line(stamp, who, Stepped(step=name, where=where))

    def book(self) -> Book:
        """The book so far."""
        return Book(sources=(self.source,), shop=self.shop, clock=self.clock, entries=tuple(self.entries), unread=())

    def floor(self, at: str = "2027-06-30 12:00") -> Floor:
        """The shop laid out at a moment."""
        return lay_out(self.book(), self.when(at).hi)


def only(floor: Floor, tag: str) -> HideLife:
    """The one life of a hide."""
    (life,) = floor.hides[tag]
    return life


def bath(floor: Floor, tag: str) -> BathLife:
    """The one life of a bath."""
    (life,) = floor.baths[tag]
    return life


def odd(floor: Floor, sort: str) -> list[Oddity]:
    """What the layout met of one sort."""
    return [oddity for oddity in floor.oddities if oddity.sort == sort]


def hours(first: When, last: When) -> tuple[float, float]:
    """Least and most hours from one moment to another."""
    return (max(0, last.lo - first.hi) / HOUR, (last.hi - first.lo) / HOUR)
