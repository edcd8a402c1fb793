"""What an entry can say of a bath, a load or a drum."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from hideledger.model.facts_base import Fact
from hideledger.model.units import Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Amount:
    """So much of a supply, from a lot where written. `supply` is as the shop names it; unknown ones stand as written."""

    quantity: Quantity
    supply: str
    lot: str = ""
    known: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Mixed(Fact):
    """A bath is made up."""

    vessel: str = ""
    recipe: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Took(Fact):
    """What went into a bath (behind `mixed`, `add`, `topped up`), or onto a hide (`8 lb salt lot S-113`)."""

    amount: Amount


@dataclass(frozen=True, slots=True, kw_only=True)
class Added(Fact):
    """The bath is dosed; the amounts are the `Took` facts behind it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToppedUp(Fact):
    """Filled up to a volume, with water unless said."""

    volume: Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Stirred(Fact):
    """The bath was moved."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dumped(Fact):
    """The bath is let go: how much, where to."""

    volume: Quantity | None = None
    where: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading(Fact):
    """A reading of a bath, a hide's cut or a place: `what` is `pH`, `temperature`, `salt` or `pressure`.

    `how` is `strip`, `meter`, `cut` or empty; paper is a strip. `extract` is the water that a piece of leather was shaken in, `diluted` that
    water diluted tenfold.
    """

    what: str
    value: Quantity
    how: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Turning(Fact):
    """A drum starts (`on`) or stops turning."""

    on: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Ran(Fact):
    """A drum turned from one time to another that day: minutes past midnight; an end before its start is the next day's."""

    start: int
    end: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Vented(Fact):
    """Pressure let off."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pressed(Fact):
    """Pressure put on."""

    pressure: Quantity | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class MeterSet(Fact):
    """The meter was set at buffers of these pH values."""

    at: tuple[Decimal, ...] = ()
