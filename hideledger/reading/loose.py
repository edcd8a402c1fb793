"""Half-facts: what one piece of a line says that only the whole line can finish. None leaves this room."""

from __future__ import annotations

from dataclasses import dataclass

from hideledger.model.facts import Fact
from hideledger.model.units import Quantity
from hideledger.reading.values import WrittenDate


@dataclass(frozen=True, slots=True, kw_only=True)
class Loose(Fact):
    """To be settled with its line; `start` and `end` are offsets in the piece."""

    start: int = 0
    end: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Where(Loose):
    """Where on the skin, or where a bath went."""

    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Degree(Loose):
    """How bad a defect is."""

    degree: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Size(Loose):
    """How large a defect is."""

    size: Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Across(Loose):
    """`neck 3 in` on a line with a defect is the hide's own measure, or how large the defect is there."""

    what: str
    size: Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class OnHide(Loose):
    """The one hide of a load that a test was made on."""

    tag: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CountOf(Loose):
    """How many skins a box holds."""

    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class InVessel(Loose):
    """The vessel a bath is mixed in."""

    vessel: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ByRecipe(Loose):
    """The recipe a bath is mixed by."""

    recipe: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Let(Loose):
    """How much of a bath was let go."""

    volume: Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class BareOut(Loose):
    """`out`, with nothing yet that says where to."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BareWeight(Loose):
    """A weight that does not say `each` or `together`: refused on several hides."""

    weight: Quantity
    basis: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Skins(Loose):
    """The skins taken out of an opened box, or their own shop's tags."""

    tags: tuple[str, ...]
    theirs: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Part(Loose):
    """A part that a skin was cut into."""

    tag: str
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class KilledOn(Loose):
    """A kill date whose year may have to come from the line's own date."""

    written: WrittenDate
    minute: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class KilledAt(Loose):
    """Where it was killed."""

    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DatedTo(Loose):
    """`promised` or `expires` with a date whose year may have to come from the line's own date."""

    word: str
    written: WrittenDate
