"""The whole shop at one moment: every hide, bath, vessel and place, laid out from the entries up to then."""

from __future__ import annotations

from dataclasses import dataclass, field

from hideledger.model.book import Book
from hideledger.model.entry import Entry
from hideledger.model.moments import When
from hideledger.shopfloor.life import BathLife, HideLife
from hideledger.shopfloor.noted import BathReading


@dataclass(slots=True, kw_only=True, eq=False)
class Oddity:
    """The layout met something that a rule will speak of.

    `sort` is one of `unknown tag`, `twice`, `in two places`, `dated ahead`, `dated back`, `two declarations`, `group of nobody`, `dumped
    with hides in`, `mixed anew`, `box count`, `late thaw`, `before it was mixed`, `done to a skin` of a line about a bath.

    `tags` whom it is about, `entry` the line, `other` the line it collides with, `note` a word more (nearest tag,
    count; `another skin` of a second arrival that differs from the first; of `twice` what stands there twice: `reading`, `dose`, `on`, `off`, `step`). `more` are further lines of the same cause: an unknown tag is one oddity, however often it was written.
    """

    sort: str
    tags: tuple[str, ...]
    entry: Entry
    other: Entry | None = None
    note: str = ""
    more: list[Entry] = field(default_factory=list)


@dataclass(slots=True, kw_only=True, eq=False)
class Floor:
    """The layout at the instant `at` (UTC seconds). Lives of a tag stand oldest first."""

    book: Book
    at: int
    entries: list[Entry]  # those not after `at`, in time order (untimed ones by their latest moment)
    later: int  # how many lines lie after `at`
    hides: dict[str, list[HideLife]] = field(default_factory=dict)
    baths: dict[str, list[BathLife]] = field(default_factory=dict)
    place_readings: dict[str, list[BathReading]] = field(default_factory=dict)  # by place name: room, freezer
    shelf: list[Entry] = field(default_factory=list)  # bought, counted, used
    money: list[Entry] = field(default_factory=list)
    oddities: list[Oddity] = field(default_factory=list)
    moments: dict[tuple[int, str], When] = field(default_factory=dict)  # of lines without a time, by order and tag

    def moment(self, entry: Entry, tag: str) -> When:
        """When a line was, told of a tag: as it was written, else as its neighbours leave it."""
        if entry.when.timed:
            return entry.when
        names = (tag, "" if entry.group is None else entry.group.where, *entry.tags)
        known = (self.moments.get((entry.order, name)) for name in names)
        return next((when for when in known if when is not None), entry.when)

    def all_hides(self) -> list[HideLife]:
        """Every life of every hide, by arrival."""
        lives = [life for several in self.hides.values() for life in several]
        lives.sort(key=lambda life: (life.arrived_when.lo, life.arrived.order))
        return lives

    def here(self) -> list[HideLife]:
        """Hides in the shop now, by arrival; opened boxes and wholes that were cut are not."""
        return [life for life in self.all_hides() if life.here]

    def all_baths(self) -> list[BathLife]:
        """Every life of every bath and load, by make-up."""
        lives = [life for several in self.baths.values() for life in several]
        lives.sort(key=lambda life: (life.made_when.lo, life.made.order))
        return lives

    def standing(self) -> list[BathLife]:
        """Baths and loads not let go."""
        return [life for life in self.all_baths() if life.ended is None]

    def in_vessel(self, tag: str) -> list[BathLife]:
        """What is in a vessel now."""
        return [life for life in self.standing() if life.vessel == tag]
