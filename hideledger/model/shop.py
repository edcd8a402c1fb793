"""How this shop works: its hours, vessels, kinds, supplies and recipes, each with the line it was written on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import TypeVar

from hideledger.model.moments import Length
from hideledger.model.process import Process
from hideledger.model.units import Quantity
from hideledger.text.place import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Hours:
    """When somebody is there to move a hide: minutes past midnight, on weekdays (Monday is 0)."""

    start: int
    end: int
    weekdays: frozenset[int]
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Closed:
    """First and last day on which nobody is there."""

    first: date
    last: date
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Keeping:
    """How long records are kept: `length` after `event` (`out`, `the year` …)."""

    length: Length
    after: str
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopLines:
    """The `shop` block. A thing that has no line is not judged."""

    name: str = ""
    zone: str | None = None
    hours: tuple[Hours, ...] = ()
    closed: tuple[Closed, ...] = ()
    dates: str = ""  # "month first", "day first" or ""
    gallons: str = ""  # "US", "imperial" or ""
    degrees: str = ""  # "F", "C" or ""
    room: Quantity | None = None
    sewer_ph: Decimal | None = None  # the least that the sewer takes
    sewer_most: Decimal | None = None  # and the most
    sewer_place: Place | None = None
    kept: tuple[Keeping, ...] = ()
    weighed_to: Quantity | None = None  # the finest its scale shows
    measured_to: Quantity | None = None  # the finest its spoon or jug can do
    labour: tuple[Quantity, Length] | None = None  # a wage, and for how long
    quiet_after: Length | None = None
    quiet_place: Place | None = None
    place: Place | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Customer:
    """Somebody who brings hides or pays; `lines` are further words (`phone`, `address`, `licence`) with what follows."""

    name: str
    lines: tuple[tuple[str, str], ...] = ()
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Vessel:
    """A drum, vat, tub or barrel has limits of its own.

    `volume` is the liquid it takes; `holds` how many skins by counts; `most_pressure` its limit; `stands` how long a drum may stand loaded and still.
    """

    tag: str
    sort: str = ""
    volume: Quantity | None = None
    holds: Decimal | None = None
    holds_weight: Quantity | None = None
    most_pressure: Quantity | None = None
    stands: Length | None = None
    since: date | None = None
    earlier: tuple[Vessel, ...] = ()  # what held before `since`, oldest first
    place: Place

    @property
    def is_drum(self) -> bool:
        """Whether it turns."""
        return self.sort.casefold() == "drum"


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A named place hides rest in: freezer, fridge, rack; its temperature limits where the shop gives them."""

    name: str
    most: Quantity | None = None
    least: Quantity | None = None
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """A kind of skin, what it counts for in a vessel, and the process it follows unless said."""

    name: str
    others: tuple[str, ...] = ()
    counts: Decimal = Decimal(1)
    process: str = ""
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """A measure of the shop's own: `dipper`, 350 ml."""

    name: str
    quantity: Quantity
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """Something bought and used up. `by` is the dimension the shop keeps it in (`weight`, `volume` or empty when unsaid)."""

    name: str
    others: tuple[str, ...] = ()
    price: Quantity | None = None
    price_per: Quantity | None = None
    keep: Quantity | None = None
    comes_in: Length | None = None
    density: tuple[Quantity, Quantity] | None = None  # so much weight, per so much volume
    strength: Decimal | None = None  # per cent
    by: str = ""
    weighed_to: Quantity | None = (
        None  # the finest that it is weighed or measured to; its unit is the one it is taken in
    )
    since: date | None = None
    earlier: tuple[Supply, ...] = ()  # what held before `since`, oldest first
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class RecipeBasis:
    """One basis of a recipe and the amounts on it: `base` is e.g. `gal water`, `hide`, `gal liquor`, `lb of drained`."""

    base: str
    per: Quantity | None
    amounts: tuple[tuple[Quantity, str], ...]
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """What a bath is made of, how long it lasts, how much skin may go through it."""

    name: str
    bases: tuple[RecipeBasis, ...] = ()
    lasts: Length | None = None
    lasts_weight: Quantity | None = None  # in all, or
    lasts_weight_per: Quantity | None = None  # so much skin per this volume
    since: date | None = None
    earlier: tuple[Recipe, ...] = ()  # what held before `since`, oldest first
    place: Place
    lasts_place: Place | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Charge:
    """A price to a customer, or the price of sending out (`sort` `charge` or `sent out`)."""

    sort: str
    what: str
    money: tuple[tuple[Quantity, str], ...]
    free_for: Length | None = None  # how long a finished hide may wait before storage is charged
    since: date | None = None
    place: Place


Dated = TypeVar("Dated", Vessel, Supply, Recipe)


def as_of(thing: Dated, day: date) -> Dated:
    """The version of a vessel, supply or recipe that held on a day; before the first `since`, the first."""
    if thing.since is None or thing.since <= day or not thing.earlier:
        return thing
    for version in reversed(thing.earlier):
        if version.since is None or version.since <= day:
            return version
    return thing.earlier[0]


def held_on(versions: Sequence[Process], day: date) -> Process | None:
    """The version of a process, of its versions from the oldest on, that held on a day; None before the first `since`."""
    return next((one for one in reversed(versions) if one.since is None or one.since <= day), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopBook:
    """All definitions of the book. Names are keyed in small letters; tags in canonical form."""

    shop: ShopLines = field(default_factory=ShopLines)
    customers: tuple[Customer, ...] = ()
    vessels: dict[str, Vessel] = field(default_factory=dict)
    spots: dict[str, Spot] = field(default_factory=dict)
    kinds: dict[str, Kind] = field(default_factory=dict)
    measures: dict[str, Measure] = field(default_factory=dict)
    supplies: dict[str, Supply] = field(default_factory=dict)
    recipes: dict[str, Recipe] = field(default_factory=dict)
    charges: tuple[Charge, ...] = ()
    processes: dict[str, tuple[Process, ...]] = field(default_factory=dict)  # versions by `since`, oldest first
    defects: dict[str, tuple[str, ...]] = field(default_factory=dict)  # the shop's own, each with its other names
    tests: dict[str, tuple[str, ...]] = field(default_factory=dict)
    whole: bool = True  # False when some definition line could not be read: then no word is called wrong for certain

    def recipe_named(self, name: str) -> Recipe | None:
        """The recipe of a bath by its name, however it is written; None for none, and for one that the shop does not know."""
        return self.recipes.get(name.casefold()) if name else None

    def kinds_by_name(self) -> dict[str, Kind]:
        """Every name that a kind answers to, in small letters."""
        return {name.casefold(): kind for kind in self.kinds.values() for name in (kind.name, *kind.others)}
