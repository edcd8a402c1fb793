"""Whom a line meant that says `all in P3`: the hides that were in it then, as the layout has them."""

from __future__ import annotations

from collections.abc import Sequence

from hideledger.model.entry import Entry
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife


def meant_by_groups(floor: Floor) -> dict[int, tuple[str, ...]]:
    """By the order of each such line the tags of the hides that it counts for, in the order of their arrival.

    A part of a cut skin, or a skin out of a box, was meant only under the tag it bore then.
    """
    meant: dict[int, dict[str, None]] = {}
    for life in floor.all_hides():
        for entry in (*_own(life, floor), *life.after_end):
            if entry.group is not None:
                meant.setdefault(entry.order, {})[life.tag] = None
    return {order: tuple(tags) for order, tags in meant.items()}


def _own(life: HideLife, floor: Floor) -> Sequence[Entry]:
    """The lines of a hide from the one on that gave it its tag; those above it are the whole's, or the box's."""
    givers = {id(whole.ended) for tag in (life.parent, life.from_box) if tag for whole in floor.hides.get(tag, ())}
    first = next((number for number, entry in enumerate(life.lines) if id(entry) in givers), 0)
    return life.lines[first:]
