"""A wrong year or month puts a line out of step with its page: the fewest lines that would have to be misdated are the suspects."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence

from hideledger.model.entry import Entry
from hideledger.model.moments import DAY, HOUR
from hideledger.shopfloor.floor import Oddity

_FAR = 60 * DAY


def _in_step(times: Sequence[int]) -> list[int]:
    """The places of a longest run of times that never goes back."""
    ends: list[int] = []  # the last time of the best run of each length
    last: list[int] = []
    before: list[int] = []
    for i, time in enumerate(times):
        length = bisect_right(ends, time)
        before.append(last[length - 1] if length else -1)
        if length == len(ends):
            ends.append(time)
            last.append(i)
        else:
            ends[length], last[length] = time, i
    row: list[int] = []
    at = last[-1] if last else -1
    while at >= 0:
        row.append(at)
        at = before[at]
    return row[::-1]


def _believed(times: Sequence[int], now: int) -> set[int]:
    """The places that are in step. Of two ways to see it, the one that leaves more lines in the past; else the line above is believed."""
    down = set(_in_step(times))
    if len(down) == len(times):
        return down
    up = {len(times) - 1 - i for i in _in_step([-time for time in reversed(times)])}
    past = sum(times[i] <= now for i in up) - sum(times[i] <= now for i in down)
    return up if past >= 0 else down


def dated_wrong(entries: Sequence[Entry], at: int, today: int | None = None) -> list[Oddity]:
    """Some lines are out of step with those above them.

    After `at` and above one in step that is not, or more than 60 days after the line in step above (dated ahead); more than 60 days before the
    line in step above (dated back). A late entry of some days is neither.

    `today` (an ordinal) where `at` is now: any line of a later day is dated ahead then.
    """
    pages: dict[str, list[Entry]] = {}
    for entry in entries:  # by name: a page with a line that is only being written is another text of the same page
        pages.setdefault(entry.source.name, []).append(entry)
    found: list[Oddity] = []
    for page in pages.values():
        steady = _believed([entry.when.lo for entry in page], at + HOUR)
        last_now = max((i for i in steady if page[i].when.lo <= at), default=-1)
        above: Entry | None = None
        for i, entry in enumerate(page):
            lo = entry.when.lo
            far = 0 if above is None else lo - above.when.lo
            to_come = today is not None and entry.when.day > today
            if i in steady:
                if to_come or (above is not None and lo > at + HOUR and far > _FAR):
                    found.append(Oddity(sort="dated ahead", tags=entry.tags, entry=entry, other=above))
                above = entry
            elif to_come or (lo > at + HOUR and (i < last_now or far > _FAR)):
                beside = above or (page[i + 1] if i + 1 < len(page) else None)
                found.append(Oddity(sort="dated ahead", tags=entry.tags, entry=entry, other=beside))
            elif far < -_FAR and above is not None:
                found.append(Oddity(sort="dated back", tags=entry.tags, entry=entry, other=above))
    return found
