"""What an entry can say of the shelf, of money, and whatever else was written."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from hideledger.model.facts_base import Fact
from hideledger.model.facts_bath import Amount
from hideledger.model.units import Quantity


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


# Sorts of money between the shop and its customers: what came in, and what went back.
PAID_IN, GIVEN_BACK = ("paid", "deposit"), "given back"


@dataclass(frozen=True, slots=True, kw_only=True)
class Money(Fact):
    """Sort `deposit`, `paid`, `given back`, `charge` or `value` (stated value of a skin); `by` the customer who paid, or was given it back."""

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
