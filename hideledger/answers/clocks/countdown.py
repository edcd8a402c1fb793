"""One clock that runs in the shop: whom it is about, when it ends, and how far it is at a moment.

A clock runs to a longest time (it gets due, then overdue), to a shortest one (then the hide is ready), or to when a bath wants a hand.
All moments are UTC seconds.
"""

from __future__ import annotations

from dataclasses import dataclass

from hideledger.answers.saying import tags_said
from hideledger.model.moments import MINUTE
from hideledger.text.place import Place

# How long before its end a clock is due: a tenth of it, within these; of a short one never more than a third. Common practice, no source.
_LEAST_LEAD, _MOST_LEAD = 5 * MINUTE, 30 * MINUTE
RUNNING, DUE, UP, OVER = range(4)
NEVER = 2**62  # the latest end of a clock that may be over and need not be


@dataclass(frozen=True, slots=True, kw_only=True)
class Countdown:
    """One clock and all the hides it is the same for.

    `sort` is `limit`, `wish` (what a bath wants done) or `ready` (a shortest time). `keys` are the tag and what tells
    its clock from others, from one look to the next, one a hide; one for all where it is the bath's own
    (`of_bath`). It ends between `earliest` and `latest`; `act_by` is the closing before it when nobody is there then. `stands`: it does not move
    now, and had `left_s` to go. `over_s` are the seconds past it at `looked`, the moment of the look. `limit_s` is its whole length.
    """

    sort: str
    keys: tuple[tuple[str, str], ...]
    tags: tuple[str, ...]
    where: str
    what: str
    text: str
    earliest: int
    latest: int
    act_by: int
    limit_s: int
    looked: int
    do: str = ""
    of_bath: bool = False
    stands: bool = False
    left_s: int = 0
    over_s: int = 0
    may: bool = False
    place: Place | None = None
    rule: Place | None = None
    more: tuple[str, ...] = ()

    @property
    def whom(self) -> str:
        """The hides it is about; the bath alone where it is the bath's own."""
        return self.where if self.of_bath else tags_said(self.tags)

    @property
    def due_from(self) -> int:
        """When it begins to be due: some minutes before its end, or half an hour before a closing that comes first."""
        if self.act_by < self.earliest:
            return self.act_by - _MOST_LEAD
        lead = min(max(self.limit_s // 10, _LEAST_LEAD), _MOST_LEAD, self.limit_s // 3)
        return self.earliest - lead // MINUTE * MINUTE

    def stage(self, now: int) -> int:
        """How far it is at a moment: running, due, up (its minute has come, or may have), over."""
        if self.sort == "ready":
            return UP if not self.stands and now >= self.latest else RUNNING
        if self.stands:
            return OVER if self.over_s >= MINUTE else RUNNING
        if now >= self.latest + MINUTE or (self.over_s >= MINUTE and not self.may):
            return OVER
        if now >= self.earliest:
            return UP
        return DUE if now >= self.due_from else RUNNING

    def is_over(self, now: int) -> bool:
        """Whether it is past its end, or may be: a limit met to the minute is kept."""
        return self.sort != "ready" and (self.over_s > 0 if self.stands else now > self.earliest or self.over_s > 0)

    def over_by(self, now: int) -> int:
        """Seconds past its end, for certain or, where that is not known, at the most."""
        if self.over_s:
            return self.over_s if self.stands else self.over_s + now - self.looked
        return max(0, now - (self.latest if now >= self.latest else self.earliest))

    def left(self, now: int) -> int:
        """Seconds still to go."""
        if self.stands:
            return self.left_s
        return (self.latest if self.sort == "ready" else self.earliest) - now
