"""A wrong year or month puts a line far from its neighbours on the page: dated ahead, dated back."""

from __future__ import annotations

from collections.abc import Sequence

from hideledger.model.entry import Entry
from hideledger.model.moments import DAY, HOUR
from hideledger.shopfloor.floor import Oddity

_FAR = 60 * DAY


def dated_wrong(entries: Sequence[Entry], at: int) -> list[Oddity]:
    """Lines after `at` that have one below in their file that is not, or lie more than 60 days after the line above;
    lines more than 60 days before the line above where the line below does not go back with them. `entries` in the
    order of the book.
    """
    pages: dict[int, list[Entry]] = {}
    for entry in entries:
        pages.setdefault(id(entry.source), []).append(entry)
    found: list[Oddity] = []
    for page in pages.values():
        last_now = max((i for i, entry in enumerate(page) if entry.when.lo <= at), default=-1)
        above: Entry | None = None
        for i, entry in enumerate(page):
            lo = entry.when.lo
            if above is not None:
                far = lo - above.when.lo
                if lo > at + HOUR and far > _FAR:
                    found.append(Oddity(sort="dated ahead", tags=entry.tags, entry=entry, other=above))
                    continue
                if far < -_FAR and (i + 1 == len(page) or above.when.lo - page[i + 1].when.lo <= _FAR):
                    found.append(Oddity(sort="dated back", tags=entry.tags, entry=entry, other=above))
                    continue
            if lo > at + HOUR and i < last_now:
                found.append(Oddity(sort="dated ahead", tags=entry.tags, entry=entry, other=page[i + 1]))
                continue
            above = entry
    return found
