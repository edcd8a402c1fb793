"""One tag on two things: on a skin and a tub, or on two skins."""

from __future__ import annotations

from collections.abc import Iterable

from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.telling import of_line
from hideledger.rules.tubs import free_tag
from hideledger.rules.words import listed, when_said
from hideledger.shopfloor.floor import Floor, Oddity
from hideledger.shopfloor.hides import said_skin


def another_skin(oddity: Oddity) -> bool:
    """Whether an `in` of a tag that is here tells of another skin: another kind, customer, legal tag or weight."""
    return oddity.note == "another skin"


def one_tag_two_things(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A tag stands for one thing in the shop: a skin and a tub of one name cannot be told apart a month later."""
    for oddity in (odd for odd in floor.oddities if odd.sort == "twice"):
        if not another_skin(oddity):
            continue
        tag = oddity.tags[0]
        first = "" if oddity.other is None else said_skin(oddity.other)
        second = said_skin(oddity.entry)
        free = (
            free_tag({*floor.hides, *floor.baths}, tag.rstrip("0123456789") or "H")
            if tag[-1].isdecimal()
            else f"{tag}1"
        )
        yield of_line(
            floor,
            oddity.tags,
            oddity.entry,
            name="one tag for two things",
            when="now",
            message=f"{listed(oddity.tags)} {'is' if len(oddity.tags) == 1 else 'are'} here already{f' ({first})' if first else ''}; give "
            f"{f'the {second}' if second and second.casefold() != first.casefold() else 'the second one'} another tag, "
            f"{when_said(horizon.clock, oddity.entry.when, horizon.at)}",
            do=f"strike this line with `struck` before it, and write it again with a tag of its own, like this: `{free} in"
            f"{f', {second}' if second else ''}`",
            more=() if oddity.other is None else (f"first at {oddity.other.at.short}",),
            cause=f"line {oddity.entry.order}",
        )
    for oddity in (odd for odd in floor.oddities if odd.sort == "two declarations"):
        yield of_line(
            floor,
            oddity.tags,
            oddity.entry,
            name="one tag for two things",
            when="record",
            message=f"{listed(oddity.tags)} is a {oddity.note} already; this line, "
            f"{when_said(horizon.clock, oddity.entry.when, horizon.at)}, makes it something else",
            do="give one of the two another tag, and right its lines",
            more=() if oddity.other is None else (f"first at {oddity.other.at.short}",),
            cause=f"line {oddity.entry.order}",
        )
