"""Skins by name where a tag was given again: each life of it is a skin of its own, and no list may run two of them together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from itertools import groupby

from hideledger.answers.saying import local_stamp, tags_said, utc_stamp, written_stamp
from hideledger.answers.standing import state_of
from hideledger.rules.words import MONTHS, listed, tag_order
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife


def of_the_tag(floor: Floor, life: HideLife) -> tuple[HideLife, ...]:
    """Every skin that bore the tag, this one among them; leather that came back is the skin that it was."""
    lives = tuple(one for one in floor.hides.get(life.tag, ()) if one.before is None or one is life)
    return lives or (life,)


def name_of(floor: Floor, life: HideLife) -> str:
    """Its tag; where another skin bore it too, with the day on which this one came: `H5 (in 5 Nov)`."""
    lives = of_the_tag(floor, life)
    if len(lives) < 2:
        return life.tag
    if sum(one.arrived_when.day == life.arrived_when.day for one in lives) > 1:
        return f"{life.tag} (in {written_stamp(life.arrived_when, floor.book.clock)})"
    day, now = date.fromordinal(life.arrived_when.day), floor.book.clock.local(floor.at)
    year = "" if day.year == now.year else f" {day.year}"
    return f"{life.tag} (in {day.day} {MONTHS[day.month - 1]}{year})"


def names_of(floor: Floor, lives: Iterable[HideLife]) -> tuple[str, ...]:
    """The names of skins in the order of their tags, each skin once."""
    return tuple(name_of(floor, life) for life in by_tag(lives))


def by_tag(lives: Iterable[HideLife]) -> tuple[HideLife, ...]:
    """Skins without doubles, in the order of their tags, then as they came."""
    return tuple(sorted(dict.fromkeys(lives), key=lambda life: (tag_order(life.tag), life.arrived_when.lo)))


def lives_said(floor: Floor, lives: Iterable[HideLife]) -> str:
    """`H6 H10`, `H2 thru H4, H5 (in 5 Nov), H6`: as many names as there are skins."""
    names = names_of(floor, lives)
    if not any(" " in name for name in names):
        return tags_said(names)
    return ", ".join(_parts(names))


def _parts(names: Sequence[str]) -> Iterator[str]:
    for apart, several in groupby(names, key=lambda name: " " in name):
        run = list(several)
        said = tags_said(run)
        yield from run if apart or ("thru" not in said) else [said]


def lives_listed(floor: Floor, lives: Iterable[HideLife]) -> str:
    """The same as in a sentence: `H5 (in 10 Oct), H6 and H10`."""
    return listed(names_of(floor, lives))


def records_of(floor: Floor, lives: Iterable[HideLife]) -> list[dict[str, object]]:
    """Skins for a program, each by its tag and the moment at which it came, in the order given."""
    clock = floor.book.clock
    return [
        {
            "tag": life.tag,
            "in": utc_stamp(life.arrived_when.lo, clock),
            "in_local": local_stamp(life.arrived_when.lo, clock),
        }
        for life in lives
    ]


def became_of(floor: Floor, life: HideLife) -> str:
    """`lost 2026-10-15 09:00`; of one that is here its state."""
    if life.ended_when is None:
        return f"still here: {state_of(life)}"
    return f"{life.ended_as} {written_stamp(life.ended_when, floor.book.clock)}"
