"""What an entry can say of a hide: how it comes, goes, is worked and is found to be."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from hideledger.model.facts_base import Fact, Span, Stamp
from hideledger.model.units import Quantity


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
class Formerly(Fact):
    """The skin was here before under another tag: `in, whitetail cape, was H41`."""

    other: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened(Fact):
    """A box from another shop is opened: the skins in it and their own tags."""

    tags: tuple[str, ...]
    their_tags: tuple[str, ...] = ()


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
    """How it came to the door: `green`, `frozen`, `wet salted`, `dry salted`, `dried`, `tanned`."""

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
    """A hide was measured somewhere: `what` is `nose to eye`, `neck`, `length` and the like."""

    what: str
    size: Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Stepped(Fact):
    """The hide goes on to a step of its process (or rests, or is thawed: `step` is then `frozen`, another rest, or `thawed`).

    `where` is the tag of a bath, load or vessel or the name of a place; `back` marks a return on purpose.
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
