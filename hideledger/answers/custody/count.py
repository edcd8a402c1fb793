"""How many skins were in the shop, came and went between two days, so that the sums agree: at the start, in, out, at the end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from hideledger.shopfloor.custody import Custody
from hideledger.shopfloor.life import HideLife


@dataclass(slots=True, kw_only=True)
class Flow:
    """Skins from the first to the last day of a stretch of days. A box counts for as many skins as are said to be in it.

    `by_cutting` is what there is more of because skins were cut, `by_opening` more or fewer because a box did not hold what it said.
    """

    at_start: int = 0
    came: int = 0
    by_cutting: int = 0
    by_opening: int = 0
    out: int = 0
    lost: int = 0
    refused: int = 0
    at_end: int = 0
    start_tags: list[str] = field(default_factory=list)
    came_tags: list[str] = field(default_factory=list)
    again_tags: list[str] = field(default_factory=list)  # of these, skins that were here before
    cut_tags: list[str] = field(default_factory=list)
    opened_tags: list[str] = field(default_factory=list)  # of boxes that did not hold what they said
    end_tags: list[str] = field(default_factory=list)
    boxes: dict[str, int] = field(default_factory=dict)  # those that count for several, wherever they are counted
    gone_tags: dict[str, list[str]] = field(default_factory=lambda: {"out": [], "lost": [], "refused": []})

    @property
    def there(self) -> int:
        """What was there and came."""
        return self.at_start + self.came + self.by_cutting + self.by_opening

    @property
    def went(self) -> int:
        """What went and is there."""
        return self.out + self.lost + self.refused + self.at_end

    @property
    def balanced(self) -> bool:
        """Whether what was there and came is what went and is there."""
        return self.there == self.went


def flow(records: Sequence[Custody], first: int, last: int) -> Flow:
    """The flow from the morning of day `first` to the evening of day `last` (ordinals of the shop's calendar)."""
    found = Flow()
    ends: dict[int, int | None] = {}
    for one in records:  # what came out of another stands behind it
        life = one.life
        of_whole = None if one.whole is None else ends[id(one.whole)]
        begun = one.begun.day if of_whole is None else of_whole
        ended = None if life.ended_when is None else life.ended_when.day
        if ended is not None:
            ended = max(ended, begun)  # an end that is dated before its beginning counts on the day of that
        ends[id(one)] = ended
        if begun < first and (ended is None or ended >= first):
            found.at_start += life.count
            found.start_tags.append(life.tag)
            _note_box(found, life)
        if begun <= last and (ended is None or ended > last):
            found.at_end += life.count
            found.end_tags.append(life.tag)
        if first <= begun <= last and one.whole is None:
            found.came += life.count
            found.came_tags.append(life.tag)
            if one.was is not None:
                found.again_tags.append(life.tag)
            _note_box(found, life)
        if ended is None or not first <= ended <= last:
            continue
        if life.ended_as in found.gone_tags:
            found.gone_tags[life.ended_as].append(life.tag)
        if life.ended_as == "out":
            found.out += life.count
        elif life.ended_as == "lost":
            found.lost += life.count
        elif life.ended_as == "refused":
            found.refused += life.count
        elif life.ended_as == "cut":
            found.by_cutting += sum(part.life.count for part in one.parts) - life.count
            found.cut_tags.append(life.tag)
        else:
            differs = sum(part.life.count for part in one.parts) - life.count
            found.by_opening += differs
            if differs:
                found.opened_tags.append(life.tag)
    return found


def _note_box(found: Flow, life: HideLife) -> None:
    if life.box and life.count != 1:
        found.boxes[life.tag] = found.boxes.get(life.tag, 0) + life.count
