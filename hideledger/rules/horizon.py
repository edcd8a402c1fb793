"""How far a look reaches: up to now, and on to when somebody can act again."""

from __future__ import annotations

from dataclasses import dataclass

from hideledger.model.moments import DAY, Clock, spoken
from hideledger.rules.hours import ShopHours
from hideledger.rules.spans import arrival_unread
from hideledger.rules.words import stamp
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife


@dataclass(frozen=True, slots=True, kw_only=True)
class Horizon:
    """The evening look reaches a day ahead, and on to the next opening when nobody is there then.

    `at` and `end` are UTC seconds; `since` is where what is still fresh begins: a day back, and on back to the
    closing before it when nobody was there; `asked` whether `end` was asked for. The lists are those of the floor, made once: `lives` every hide and box by
    arrival, `here` those in the shop, `baths` every bath by make-up, `standing` those not let go; `unread` those here whose arrival could not be read; `drums`
    the tags of vessels that turn, `tubs` those that do not, `step_names` all steps of all processes in small letters.
    """

    at: int
    end: int
    since: int
    asked: bool
    clock: Clock
    hours: ShopHours
    lives: tuple[HideLife, ...]
    here: tuple[HideLife, ...]
    baths: tuple[BathLife, ...]
    standing: tuple[BathLife, ...]
    unread: tuple[HideLife, ...]
    drums: frozenset[str]
    tubs: tuple[str, ...]
    step_names: frozenset[str]

    @property
    def today(self) -> int:
        """The shop's calendar day."""
        return self.clock.day_of(self.at)

    def time_is_up(self, limit: int) -> str:
        """When a limit falls, and by when to act where nobody is there then."""
        told, by = f"time is up {stamp(self.clock, limit, self.at)}", self.hours.act_by(limit)
        if self.at < by < limit:
            return f"{told}, when nobody is there; act before closing, {stamp(self.clock, by, self.at)}"
        return f"{told}, before the shop opens again" if by < limit else told

    def over(self, limit: int, *, may: bool) -> str:
        """How long a limit is past: `17 min over`, `it may be 17 min over`."""
        return f"{'it may be ' if may else ''}{spoken(self.at - limit)} over"

    def fresh(self, instant: int) -> bool:
        """Whether something happened since the last look could have been taken."""
        return instant >= self.since


def look(floor: Floor, ahead: int | None = None) -> Horizon:
    """The horizon of a floor; `ahead` seconds instead of a day and the next opening."""
    clock = floor.book.clock
    hours = ShopHours(floor.book.shop.shop, clock)
    end = hours.next_opening(floor.at + DAY) if ahead is None else floor.at + ahead
    back = floor.at - DAY
    lives = tuple(life for life in floor.all_hides() if life.declared)
    baths = tuple(bath for bath in floor.all_baths() if bath.declared)
    return Horizon(
        at=floor.at,
        end=end,
        since=hours.act_by(back),
        asked=ahead is not None,
        clock=clock,
        hours=hours,
        lives=lives,
        here=tuple(life for life in lives if life.here),
        baths=baths,
        standing=tuple(bath for bath in baths if bath.ended is None),
        unread=tuple(life for life in floor.all_hides() if life.here and arrival_unread(life)),
        drums=frozenset(tag for tag, vessel in floor.book.shop.vessels.items() if vessel.is_drum),
        tubs=tuple(tag for tag, vessel in floor.book.shop.vessels.items() if not vessel.is_drum),
        step_names=frozenset(
            name.casefold()
            for versions in floor.book.shop.processes.values()
            for version in versions
            for step in version.steps
            for name in (step.name, step.title)
        ),
    )
