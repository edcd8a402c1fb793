"""A weight said back: which weight was understood, what the hide weighed before, and whether the one can follow the other."""

from __future__ import annotations

from hideledger.answers.saying import when_words
from hideledger.model.entry import Entry
from hideledger.model.facts import Weighed
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.shopfloor.noted import Weight

# A skin of the same sort does not become half or twice its weight; a slip of a finger makes 6 of 60 (common practice, no source).
_FAR = 2


def weights_said(life: HideLife, entry: Entry, floor: Floor) -> list[str]:
    """`6.2 lb drained (before: 7 lb green Mon 2 Nov 09:05)`, `6 lb green each`."""
    several = len(entry.tags) > 1 or entry.group is not None
    said = []
    for weight in _written(life, entry):
        words = weight_words(weight) + (" together" if weight.shared_by > 1 else " each" if several else "")
        before = _before(life, weight)
        if before is not None and not several:
            words += f" (before: {_then(before, floor)})"
        said.append(words)
    return said


def weights_asked(life: HideLife, entry: Entry, floor: Floor) -> list[str]:
    """A question for each weight that is twice or half of the last one of its sort."""
    asked = []
    for weight in _written(life, entry):
        before = _before(life, weight, same=True)
        if before is None or weight.shared_by > 1:
            continue
        now, then = weight.weight.to("lb"), before.weight.to("lb")
        if then > 0 and now > 0 and not (then < now * _FAR and now < then * _FAR):
            asked.append(
                f"{life.tag}: {weight_words(weight)}, and {_then(before, floor)}: is that so? If not, strike the line and write it again"
            )
    return asked


def weight_words(weight: Weight) -> str:
    """`7.5 lb green`."""
    return f"{weight.weight} {weight.basis}".rstrip()


def _then(before: Weight, floor: Floor) -> str:
    when = when_words(before.when, floor.book.clock, floor.at)
    return f"{weight_words(before)} {'at ' if ':' in when[:3] else ''}{when}"


def _written(life: HideLife, entry: Entry) -> list[Weight]:
    if not any(isinstance(fact, Weighed) for fact in entry.facts):
        return []
    return [weight for weight in life.weights if weight.entry is entry]


def _before(life: HideLife, weight: Weight, *, same: bool = False) -> Weight | None:
    """The last weight of its own before this one, where `same` of the same sort."""
    found = [
        other
        for other in life.weights
        if other.entry is not weight.entry
        and other.shared_by == 1
        and other.when.lo <= weight.when.lo
        and (not same or other.basis == weight.basis)
    ]
    return max(found, key=lambda other: other.when.lo, default=None)
