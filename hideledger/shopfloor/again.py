"""A skin that comes in again is the one that it was: what was written of it then holds until its new lines say otherwise."""

from __future__ import annotations

from collections.abc import Iterator

from hideledger.shopfloor.life import HideLife
from hideledger.shopfloor.noted import Weight

# Who brought it this time is written this time, or not at all.
_STAYS_WITH_IT = ("for", "owner", "hunter")


def take_over(life: HideLife, was: HideLife, *, leather: bool) -> None:
    """Kind, sex, codes and people of the skin that it was, where its own lines are silent; of leather also its kill.

    The kill of a raw one is left where it is: nobody knows how it was kept in between, and its raw clock would run on. Where the new lines
    name somebody else it has changed hands, and whose it was is not whose it is.
    """
    life.was = was
    life.kind = life.kind or was.kind
    life.sex = life.sex or was.sex
    for sort, known in was.codes.items():
        life.codes.setdefault(sort, known)
    if leather and life.killed is None:
        life.killed, life.hung = was.killed, life.hung or was.hung
    named = {_plain(life.parties[role][0].name) for role in ("for", "owner") if role in life.parties}
    theirs = {_plain(was.parties[role][0].name) for role in ("for", "owner") if role in was.parties}
    for role in _STAYS_WITH_IT if named <= theirs or not theirs else ("hunter",):
        if role in was.parties:
            life.parties.setdefault(role, was.parties[role])


def earlier_lives(life: HideLife) -> Iterator[HideLife]:
    """The same skin as it was here before, the last time first."""
    seen = {id(life)}
    while life.was is not None and id(life.was) not in seen:
        life = life.was
        seen.add(id(life))
        yield life


def last_weight_before(life: HideLife) -> Weight | None:
    """What it weighed last when it was here before; None where nobody wrote it."""
    return next((one.weights[-1] for one in earlier_lives(life) if one.weights), None)


def _plain(name: str) -> str:
    return " ".join(name.casefold().split())
