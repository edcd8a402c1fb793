"""An entry: when, about whom, what."""

from __future__ import annotations

from dataclasses import dataclass

from hideledger.model.facts import Fact
from hideledger.model.moments import When
from hideledger.text.place import Place
from hideledger.text.source import Source


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """`all in P3 but H45`: whoever is in it then."""

    where: str
    but: tuple[str, ...] = ()


class Entry:
    """One thing that was written down.

    `tags` are hides, baths, loads, boxes or vessels in canonical form (`H41`, `MB-07`, `H41a`); `place` is set instead when the line is about
    a place (`room`, `freezer`); all three empty: shop-wide. `order` is the running number over the whole book: file after
    file, line after line. `remark` is what stands behind a dash or in brackets. The text itself is `source.text[start:end]`.
    """

    __slots__ = ("end", "facts", "group", "order", "place", "remark", "source", "start", "tags", "when")

    def __init__(
        self,
        *,
        source: Source,
        start: int,
        end: int,
        order: int,
        when: When,
        tags: tuple[str, ...],
        facts: tuple[Fact, ...],
        remark: str = "",
        group: Group | None = None,
        place: str = "",
    ) -> None:
        self.source = source
        self.start = start
        self.end = end
        self.order = order
        self.when = when
        self.tags = tags
        self.facts = facts
        self.remark = remark
        self.group = group
        self.place = place

    @property
    def at(self) -> Place:
        """Where it stands."""
        return self.source.place(self.start, self.end)

    @property
    def text(self) -> str:
        """The entry as written."""
        return self.source.text[self.start : self.end]

    def __repr__(self) -> str:
        return f"Entry({self.text!r})"
