"""What one finding means, for whoever meets it the first time."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Meaning:
    """A finding explained: what was seen, why it harms the hide, where that is from, what to write in the book.

    `source` names a published source, or says that it is common practice without one.
    """

    seen: str
    harm: str
    source: str
    write: str
