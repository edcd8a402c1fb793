"""How a rule speaks: a finding about one hide or one bath, with its places filled in."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Required, TypedDict, Unpack

from hideledger.model.entry import Entry
from hideledger.model.facts import Dumped
from hideledger.model.moments import Clock, When
from hideledger.rules.finding import Finding
from hideledger.rules.words import in_order, stamp
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife, Stay
from hideledger.text.place import Place

# In `do`, where the tags of all hides behind a finding are filled in once those of one cause are told together.
TAGS = "{tags}"


class Said(TypedDict, total=False):
    """What a rule says, beside whom it is about: the fields of a `Finding`, by their names."""

    name: Required[str]
    when: Required[str]
    message: Required[str]
    do: Required[str]
    entry: Required[Entry | None]
    rule: Place | None
    may: bool
    since: int | None
    over_s: int | None
    limit_s: int | None
    more: tuple[str, ...]
    held: str
    rings: bool
    hurts: bool
    cause: str
    begun: int | None
    days: tuple[int, int] | None


def of_hide(
    life: HideLife, *, bath: BathLife | None = None, ended: bool | None = None, **said: Unpack[Said]
) -> Finding:
    """A finding about one hide, in `bath` where it lies in one. It is `ended` when the hide is no longer here."""
    tags = (life.tag,) if bath is None else (life.tag, bath.tag)
    return Finding(tags=tags, place=_place(said), ended=not life.here if ended is None else ended, **said)


def of_bath(bath: BathLife, hides: Iterable[HideLife], **said: Unpack[Said]) -> Finding:
    """A finding about a bath, with its hides. It is `ended` when the bath is let go and none of them is here."""
    lives = list(hides)
    tags = (*in_order(life.tag for life in lives), bath.tag)
    ended = bath.ended is not None and not any(life.here for life in lives)
    return Finding(tags=tags, place=_place(said), ended=ended, **said)


def _place(said: Said) -> Place | None:
    return None if said["entry"] is None else said["entry"].at


def of_line(
    floor: Floor,
    tags: tuple[str, ...],
    entry: Entry,
    *,
    name: str,
    when: str,
    message: str,
    do: str,
    may: bool = False,
    more: tuple[str, ...] = (),
    held: str = "",
    cause: str = "",
    ended: bool | None = None,
) -> Finding:
    """A finding about a line as it stands on the page, whoever it is about."""
    lives = [life for tag in tags for life in floor.hides.get(tag, ())]
    baths = [bath for tag in tags for bath in floor.baths.get(tag, ())]
    gone = all(life.ended is not None for life in lives) and all(bath.ended is not None for bath in baths)
    gone = gone and bool(lives or baths)
    return Finding(
        name=name,
        when=when,
        message=message,
        do=do,
        tags=tags,
        entry=entry,
        place=entry.at,
        may=may,
        since=entry.when.lo,
        more=more,
        held=held,
        cause=cause,
        ended=gone if ended is None else ended,
        days=(entry.when.day, entry.when.day),
    )


def bath_cause(bath: BathLife) -> str:
    """What makes all findings of one bath one cause: the line it was made up on."""
    return f"bath {bath.made.order}"


def stay_cause(stay: Stay) -> str:
    """What makes the findings of one stay one cause: its bath, else the line that began it."""
    return f"line {stay.mark.entry.order}" if stay.bath is None else bath_cause(stay.bath)


def pull_or_why(life: HideLife, name: str, act: str) -> str:
    """What to do to a skin that was harmed: look at it and pull. One that is no longer here cannot be pulled at, and a line that says so would be wrong."""
    if life.here:
        return f"{act}, and write: `{TAGS} pull test ok`"
    return f"it is no longer here to be pulled at; say why: `{TAGS} waived {name} -- why`"


def gone(life: HideLife) -> str:
    """Keeps those still here and those no longer here apart in one cause, since other things can be done for them."""
    return "" if life.here else " gone"


def put_in(entry: Entry) -> str:
    """The second place of a finding about a stay."""
    return f"put in at {entry.at.short}"


def twice_told(clock: Clock, at: int, *moments: When | None) -> tuple[str, ...]:
    """A sentence for each moment that came twice in the night the clocks went back: the finding hangs on the choice."""
    return tuple(
        f"{stamp(clock, moment.lo, at)} came twice that night; the first is taken"
        for moment in moments
        if moment is not None and moment.twice
    )


def dumped_line(bath: BathLife) -> str:
    """How its letting go is written: `P3 dumped 20 gal, sewer`, with the volume it was made up to; the pH is to be measured."""
    liquid = next((amount.quantity for amount in bath.amounts if amount.quantity.dimension == "volume"), None)
    told = (
        next((fact for fact in bath.ended.facts if isinstance(fact, Dumped)), None) if bath.ended is not None else None
    )
    if told is not None and told.volume is not None:
        liquid = told.volume  # what was let go, as it was written
    return f"{bath.tag} dumped{'' if liquid is None else f' {liquid}'}, sewer"


def mixed_line(floor: Floor, bath: BathLife) -> str:
    """How a new one of its sort is written, under the next free tag: `P4 mixed in V1, recipe pickle, 20 gal water`."""
    letters = bath.tag.rstrip("0123456789abcdefghijklmnopqrstuvwxyz")
    numbers = [
        int(tag[len(letters) :]) for tag in floor.baths if tag.startswith(letters) and tag[len(letters) :].isdecimal()
    ]
    liquid = next((amount for amount in bath.amounts if amount.quantity.dimension == "volume"), None)
    made = f"{letters}{max(numbers, default=0) + 1} mixed"
    if bath.vessel:
        made += f" in {bath.vessel}"
    if bath.recipe:
        made += f", recipe {bath.recipe}"
    return made if liquid is None else f"{made}, {liquid.quantity} {liquid.supply}"
