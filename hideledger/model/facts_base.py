"""The smallest parts of what an entry can say: a fact, a date inside a detail, a step's own times."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from hideledger.model.moments import Length


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
