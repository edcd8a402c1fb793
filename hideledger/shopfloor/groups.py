"""Whom a line meant that says `all in P3`: the hides that were in it then, as the layout has them."""

from __future__ import annotations

from hideledger.shopfloor.floor import Floor


def meant_by_groups(floor: Floor) -> dict[int, tuple[str, ...]]:
    """By the order of each such line the tags of the hides that it counts for, in the order of their arrival."""
    meant: dict[int, dict[str, None]] = {}
    for life in floor.all_hides():
        for entry in (*life.lines, *life.after_end):
            if entry.group is not None:
                meant.setdefault(entry.order, {})[life.tag] = None
    return {order: tuple(tags) for order, tags in meant.items()}
