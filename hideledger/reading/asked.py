"""What a request of amounts and strengths says, before anybody looks whether it can be."""

from __future__ import annotations

import re
from dataclasses import dataclass

from hideledger.model.units import Quantity

# What may be the tag of a bath in a request: `P1`, and not the `pH2` or `SG1.08` of a reading written without a blank.
BATH = re.compile(
    r"(?<![A-Za-z0-9.-])(?!(?:ph|sg|at|to|in|of)[0-9])[A-Za-z]{1,4}-?[0-9]{1,6}[A-Za-z]?(?![A-Za-z0-9]|[.,][0-9])",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A quantity as asked, `per` another where it is a ratio; `stuff` and `of` are the names in a ratio, where they stand.

    `start` and `end` are offsets into the request.
    """

    value: Quantity
    per: Quantity | None = None
    stuff: str = ""
    of: str = ""
    start: int
    end: int

    @property
    def dimension(self) -> str:
        """`ratio`, or the dimension of the quantity."""
        return self.value.dimension if self.per is None else "ratio"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stuff:
    """Something named in a request: how much, of what (and where its name stands), and what stands behind `at` or `from`."""

    measured: Measured
    name: str = ""
    name_start: int = 0
    name_end: int = 0
    held: tuple[Measured, ...] = ()
    start: int
    end: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One request: what there is, and what it is to be brought to."""

    stuffs: tuple[Stuff, ...]
    to: Measured | None = None
