"""What every table of the export needs: the numbers of events, hides and baths, and how a moment is written."""

from __future__ import annotations

from dataclasses import dataclass

from hideledger.answers.saying import utc_stamp, written_stamp
from hideledger.model.entry import Entry
from hideledger.model.moments import When
from hideledger.model.units import Quantity
from hideledger.shopfloor.custody import Custody, custody_of
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.groups import meant_by_groups
from hideledger.shopfloor.life import BathLife, HideLife


@dataclass(slots=True, kw_only=True, eq=False)
class Ground:
    """The floor with its numbers: events by their order in the book, lives of hides and baths by what they are."""

    floor: Floor
    entries: tuple[Entry, ...]
    events: dict[int, int]
    hides: dict[int, int]
    baths: dict[int, int]
    custody: dict[int, Custody]
    groups: dict[int, tuple[str, ...]]

    def when(self, when: When | None) -> tuple[str | None, str | None, str | None]:
        """Earliest, latest, and as written; nothing of what has not been."""
        if when is None:
            return None, None, None
        clock = self.floor.book.clock
        return utc_stamp(when.lo, clock), utc_stamp(when.hi, clock), written_stamp(when, clock)

    def event(self, entry: Entry) -> int | None:
        """The number of the line."""
        return self.events.get(entry.order)

    def hide(self, life: HideLife) -> int:
        """The number of a life of a hide."""
        return self.hides[id(life)]

    def bath(self, bath: BathLife | None) -> int | None:
        """The number of a life of a bath."""
        return None if bath is None else self.baths.get(id(bath))

    def before_tag(self, life: HideLife, entry: Entry) -> bool:
        """Whether a line is told of what this hide came out of, too."""
        return _before_tag(self.custody[id(life)], entry)

    def base(self, quantity: Quantity) -> tuple[float | None, float | None]:
        """Kilograms of a weight, litres of a volume, the shop's own measures too."""
        own = self.floor.book.shop.measures.get(quantity.unit.casefold())
        if own is not None:
            quantity = Quantity(value=quantity.value * own.quantity.value, unit=own.quantity.unit)
        if quantity.dimension == "weight":
            return figure(quantity.to("kg")), None
        return (None, figure(quantity.to("L"))) if quantity.dimension == "volume" else (None, None)


def ground_of(floor: Floor) -> Ground:
    """Numbers from 1: events and lives in order of time."""
    entries = tuple(floor.entries)
    custody = {id(one.life): one for one in custody_of(floor)}
    return Ground(
        floor=floor,
        entries=entries,
        events={entry.order: number for number, entry in enumerate(entries, start=1)},
        hides={id(life): number for number, life in enumerate(floor.all_hides(), start=1)},
        baths={id(bath): number for number, bath in enumerate(floor.all_baths(), start=1)},
        custody=custody,
        groups=meant_by_groups(floor),
    )


def _before_tag(one: Custody, entry: Entry) -> bool:
    whole = one.whole
    if whole is None or entry is whole.life.ended:
        return False
    return any(line is entry for line in whole.life.lines)


def figure(value: object) -> float:
    """A computed figure to twelve significant places: what a conversion adds behind them is noise."""
    return float(f"{float(str(value)):.12g}")


def hours(seconds: float) -> float:
    """Hours of seconds, to a second."""
    return round(seconds / 3600, 4)
