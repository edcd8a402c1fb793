"""What one written detail says: the facts of the bench, each standing by itself.

An entry is a time, those it is about, and a row of facts. A fact holds no time, no tag of its own line and no place, so that the
same words written again are the same object.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from hideledger.model.moments import Length
from hideledger.model.units import Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """Anything an entry can say."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stamp:
    """A date inside a detail (`killed 2026-10-29 16:00`): calendar day, and minutes past midnight where written."""

    day: date
    minute: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A step's own times: how long it took (`neutralised 20 min`) or from and to, in minutes past midnight of the day."""

    length: Length | None = None
    start: int | None = None
    end: int | None = None


# --- a hide comes and goes -------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrived(Fact):
    """The hide is in the shop from here on. On a box: `count` skins of `kind`."""

    count: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class HandedOut(Fact):
    """Handed back, picked up or sent: the job is over."""

    to: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Lost(Fact):
    """Given up."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused(Fact):
    """Not taken in at the door."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Divided(Fact):
    """One skin cut into parts, each with its own way to go; one legal tag."""

    parts: tuple[tuple[str, str], ...]  # (new tag, what it is: "cape", "back skin")


@dataclass(frozen=True, slots=True, kw_only=True)
class StandsIn(Fact):
    """A spare cape takes over the job and the promise of another, never its custody."""

    other: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened(Fact):
    """A box from another shop is opened: the skins in it and their own tags."""

    tags: tuple[str, ...]
    their_tags: tuple[str, ...] = ()


# --- attributes of a hide; the last one written counts ------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class OfKind(Fact):
    """What skin it is, by the shop's own kinds."""

    kind: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OfSex(Fact):
    """Buck, doe, bull, cow, boar, sow, male, female, ram, ewe, ...: as written."""

    sex: str


@dataclass(frozen=True, slots=True, kw_only=True)
class InCondition(Fact):
    """How it came to the door: `green`, `frozen`, `wet salted`, `dry salted`, `dried`."""

    condition: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Killed(Fact):
    """When and where the animal was taken, as told."""

    stamp: Stamp | None = None
    where: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hung(Fact):
    """Temperature at which the carcass or skin hung before the door."""

    temperature: Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Party(Fact):
    """A person to do with the hide: role `for` (gets the bill), `from` (brought it), `hunter` or `owner`."""

    role: str
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Code(Fact):
    """A code that goes with the hide: sort `tag` (legal tag), `licence`, `seal`, `their tag`."""

    sort: str
    code: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Promised(Fact):
    """The day by which it is to be ready."""

    day: date


@dataclass(frozen=True, slots=True, kw_only=True)
class OnProcess(Fact):
    """The process it follows from here on."""

    process: str


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepApart(Fact):
    """Not to lie beside others while raw."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sized(Fact):
    """A size: `what` is `nose to eye`, `neck`, `length` …"""

    what: str
    size: Quantity


# --- work on a hide -----------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Stepped(Fact):
    """The hide goes on to a step of its process (or rests, or is thawed: `step` is then `frozen`, another rest, or `thawed`).

    `where` is the tag of a bath, load or vessel or the name of a place; `back` marks a return on purpose; `short` that the word
    stood in a row behind another step, as in `fleshed, ears turned`.
    """

    step: str
    where: str = ""
    back: bool = False
    span: Span | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftedOut(Fact):
    """Taken out of a bath, vessel or place; no step begins."""

    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Skipped(Fact):
    """A step left out on purpose."""

    step: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed(Fact):
    """A weight; `basis` is green, salted, drained or shaved, or empty for as the last step has it; `together` for several hides."""

    weight: Quantity
    basis: str = ""
    together: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Tested(Fact):
    """A test made on a hide or on a load: `pull test`, `cut test` …; `where` on the skin, `on` the one hide of a load."""

    test: str
    passed: bool
    where: str = ""
    on: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Flaw(Fact):
    """A defect seen: slip, burn, raw streak, grease, tear …, where on the skin, by size or degree (slight, bad, total)."""

    defect: str
    where: str = ""
    size: Quantity | None = None
    degree: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shrinks(Fact):
    """Temperature at which a strip of it shrinks in water."""

    temperature: Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Waived(Fact):
    """A finding answered, for that stay; the reason is the entry's remark."""

    finding: str


# --- baths, loads, vessels, places ----------------------------------------------------------------------------------------


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

    `how` is `strip`, `meter`, `cut` or empty; paper is a strip.
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


# --- shelf, money, remarks ----------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought(Fact):
    """A purchase; price and expiry stand as facts beside it."""

    amount: Amount


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted(Fact):
    """What the shelf really holds."""

    amount: Amount


@dataclass(frozen=True, slots=True, kw_only=True)
class Used(Fact):
    """Taken from the shelf for something that no bath tells."""

    amount: Amount


@dataclass(frozen=True, slots=True, kw_only=True)
class Price(Fact):
    """What was paid for what stands before it."""

    money: Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Expires(Fact):
    """Last good day of a lot."""

    day: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Money(Fact):
    """Sort `deposit`, `paid`, `charge` or `value` (stated value of a skin); `by` the payer."""

    sort: str
    money: Quantity
    by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class By(Fact):
    """Who did or wrote it."""

    who: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark(Fact):
    """Anything else, as written: remarks, and words on an arrival, test or defect line that name nothing known."""

    text: str
