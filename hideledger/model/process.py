"""A process: the shop's own order of steps and the limits it sets itself. Nothing about order is built in."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from hideledger.model.moments import Length
from hideledger.model.units import Quantity
from hideledger.text.place import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """Least and most of a reading; either may be open. Temperature in the written unit, pH and salometer plain numbers."""

    least: Quantity | None = None
    most: Quantity | None = None
    basis: str = ""  # for salt: "at mixing" or "with skins in"
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Every:
    """How often: `days` for each day the shop is open, else a length of time."""

    days: bool = False
    length: Length | None = None
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Within:
    """The step's line comes no later than `length` after the last line of `of` (`in` for the arrival)."""

    length: Length
    of: str
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Least and most time of a stay or a run."""

    least: Length | None = None
    most: Length | None = None
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One line of a process.

    `sort` is `moment`, `stay` (wall time counts) or `run` (only time the load turned with the hide in it counts). `again` marks the
    same name at a later place. `limits_by_kind` overrides `limits` for a kind. `raw` is `stops`, `runs` or empty. `tanning` marks the
    step at which tanning has begun.
    """

    name: str
    others: tuple[str, ...] = ()
    again: bool = False
    sort: str = "moment"
    limits: Limits | None = None
    limits_by_kind: tuple[tuple[str, Limits], ...] = ()
    within: tuple[Within, ...] = ()
    optional: bool = False
    raw: str = ""
    ph: Range | None = None
    temperature: Range | None = None
    salt: Range | None = None
    read_every: Every | None = None
    stirred_every: Every | None = None
    needs: tuple[str, ...] = ()
    in_bath: bool = False
    notes: tuple[str, ...] = ()
    weighs: str = ""
    takes: Length | None = None  # work on one hide
    tanning: bool = False
    place: Place

    @property
    def title(self) -> str:
        """The name as a report says it."""
        return f"{self.name} again" if self.again else self.name

    def called(self, name: str) -> bool:
        """Whether the shop calls the step so, by its first name or another."""
        return name == self.name or name in self.others

    def limits_for(self, kind: str) -> Limits | None:
        """The limits that hold for a hide of this kind."""
        for name, limits in self.limits_by_kind:
            if name == kind:
                return limits
        return self.limits


@dataclass(frozen=True, slots=True, kw_only=True)
class Rest:
    """A rest the process allows: `frozen at most 9 mo, after in or fleshed`.

    `freezes_in` is how long a skin may stay raw in the rest before it is frozen through: the raw clock counts between
    nothing and that length, at the warmth read in the place of the rest. `thaws_at` is written down and judges nothing:
    from `thawed` on the clock runs by the warmth of the place where the hide then lies.
    """

    name: str
    most: Length | None = None
    after: tuple[str, ...] = ()
    raw: str = "stops"
    freezes_in: Length | None = None
    thaws_at: Quantity | None = None
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class RawLimit:
    """The longest a skin may be raw: hours at a temperature (the clock is weighted by what is known of the place)."""

    length: Length
    at: Quantity | None = None
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Process:
    """A whole route. `since` None: from the beginning. The first step is `in`, the last `out`, where the shop wrote them.

    `tannage` is what it tans with, a class of the table of shrinkage temperatures; empty where the shop does not say.
    """

    name: str
    since: date | None = None
    steps: tuple[Step, ...] = ()
    rests: tuple[Rest, ...] = ()
    raw_limit: RawLimit | None = None
    tannage: str = ""
    place: Place

    def rest(self, name: str) -> Rest | None:
        """The rest of that name, if the process allows it."""
        return next((rest for rest in self.rests if rest.name == name), None)

    def place_of(self, step: Step | None) -> int:
        """Where a step stands, from 0: that very line, else one that says the same; -1 where there is none."""
        place = next((number for number, line in enumerate(self.steps) if line is step), -1)
        return place if place >= 0 else next((number for number, line in enumerate(self.steps) if line == step), -1)
