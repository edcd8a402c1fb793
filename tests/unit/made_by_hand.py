"""A small shop laid out by hand, for tests of what is said about it and how it looks."""

from collections.abc import Sequence
from datetime import date

from hideledger.model.book import Book
from hideledger.model.entry import Entry
from hideledger.model.facts import Fact
from hideledger.model.moments import Clock
from hideledger.model.shop import Hours, ShopBook, ShopLines
from hideledger.rules.finding import Finding
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.text.place import Complaint, Place
from hideledger.text.source import Source

DAY = date(2026, 11, 2).toordinal()  # a Monday
LIMIT = Place(file="shop.hides", line=44, column=3)


def instant(clock: Clock, hour: int, minute: int = 0, *, days: int = 0) -> int:
    """UTC seconds of a time on that Monday, or `days` later."""
    return clock.at(DAY + days, hour * 60 + minute).lo


class Shop:
    """One page of lines, each with its time; `floor` lays them out as far as these tests need it."""

    def __init__(self, *lines: str, zone: str | None = "America/Chicago") -> None:
        self.clock = Clock(zone)
        self.source = Source(name="book.hides", text="".join(f"{line}\n" for line in lines))
        self.entries: list[Entry] = []
        self.lives: dict[str, list[HideLife]] = {}
        self.unread: list[Complaint] = []

    def entry(
        self, line: int, hour: int | None, minute: int = 0, *, tags: tuple[str, ...] = (), facts: tuple[Fact, ...] = ()
    ) -> Entry:
        """Line `line` of the page as an entry of that Monday; `hour` None for a line without a time."""
        start = self.source.starts[line - 1]
        when = self.clock.some_time(DAY) if hour is None else self.clock.at(DAY, hour * 60 + minute)
        text = self.source.line(line)
        entry = Entry(
            source=self.source,
            start=start,
            end=start + len(text),
            order=len(self.entries),
            when=when,
            tags=tags,
            facts=facts,
        )
        self.entries.append(entry)
        return entry

    def hide(self, tag: str, entry: Entry, *, count: int = 1, declared: bool = True) -> HideLife:
        """A hide that came in with that entry."""
        life = HideLife(
            tag=tag, arrived=entry, arrived_when=entry.when, count=count, declared=declared, kind="whitetail cape"
        )
        life.lines.append(entry)
        self.lives[tag] = [life]
        return life

    def complaint(self, line: int, column: int, message: str) -> None:
        """A line that could not be read."""
        place = Place(file="book.hides", line=line, column=column)
        self.unread.append(Complaint(place=place, code="any", message=message, text=self.source.line(line)))

    def floor(self, hour: int = 18, minute: int = 2) -> Floor:
        """The shop as it stands at that time."""
        hours = Hours(start=7 * 60, end=18 * 60, weekdays=frozenset(range(6)), place=LIMIT)
        shop = ShopBook(shop=ShopLines(name="Alder Fork", zone=self.clock.zone_name, hours=(hours,), gallons="US"))
        book = Book(
            sources=(self.source,),
            shop=shop,
            clock=self.clock,
            entries=tuple(self.entries),
            unread=tuple(self.unread),
        )
        at = instant(self.clock, hour, minute)
        entries = [entry for entry in self.entries if entry.when.lo <= at]
        return Floor(book=book, at=at, entries=entries, later=len(self.entries) - len(entries), hides=self.lives)


def found(
    name: str,
    when: str = "now",
    *,
    tags: Sequence[str] = ("H1",),
    entry: Entry | None = None,
    since: int | None = None,
    over_s: int | None = None,
    may: bool = False,
    rings: bool = True,
    ended: bool = False,
    message: str = "Neutralised 52 min, at most 30 min.",
    more: tuple[str, ...] = (),
) -> Finding:
    """A finding as a rule would make it."""
    return Finding(
        name=name,
        when=when,
        message=message,
        do="rinse, then write: H1 rinsed",
        tags=tuple(tags),
        entry=entry,
        rule=LIMIT,
        may=may,
        since=since,
        over_s=over_s,
        more=more,
        rings=rings,
        ended=ended,
    )
