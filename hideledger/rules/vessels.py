"""One place at a time: a skin is in one tub, a vessel holds one bath."""

from __future__ import annotations

from collections.abc import Iterable

from hideledger.model.entry import Entry
from hideledger.model.facts import Ran, Turning
from hideledger.model.moments import When
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.telling import TAGS, bath_cause, dumped_line, of_bath, of_hide
from hideledger.rules.words import when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife, Member


def in_two_places(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A skin is in one tub at a time, and nobody lifts one out of a drum while it turns."""
    clock, at = horizon.clock, horizon.at
    by_tag = floor.hides
    for oddity in floor.oddities:
        if oddity.sort != "in two places":
            continue
        for tag in oddity.tags:
            life = _life_of(by_tag.get(tag, ()), oddity.entry)
            if life is None:
                continue
            other = oddity.other
            turning = other is not None and any(isinstance(fact, Turning | Ran) for fact in other.facts)
            said = "came out of a load while it turned" if turning else "in two places at one time"
            yield of_hide(
                life,
                name="in two places",
                when="record",
                message=f"{said}, {when_said(clock, oddity.entry.when, at)}",
                do="strike the line that is wrong, or right its time: `struck` before it leaves it in the book",
                entry=oddity.entry,
                since=oddity.entry.when.lo,
                more=() if other is None else (f"{'turning written at' if turning else 'also'} {other.at.short}",),
                cause=f"two places {oddity.entry.order} {-1 if other is None else other.order}",
            )


def _life_of(lives: Iterable[HideLife], entry: Entry) -> HideLife | None:
    """The life of a tag that an entry falls in: the last one begun by then."""
    found = None
    for life in lives:
        if found is None or life.arrived_when.lo <= entry.when.hi:
            found = life
    return found


def two_baths_in_one_vessel(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A vessel holds one bath: mixing a new one over the old says that the old was let go, and no line says how."""
    clock, at = horizon.clock, horizon.at
    for oddity in floor.oddities:
        if oddity.sort == "mixed anew":
            for tag in oddity.tags:
                old = next((b for b in floor.baths.get(tag, ()) if b.ended is oddity.entry), None)
                if old is not None:
                    inside = [m.hide for m in old.members if m.leave is None or m.stay.end_entry is oddity.entry]
                    yield _two_told(old, tag, inside, oddity.entry, oddity.entry.when, horizon)
    last_in: dict[str, list[BathLife]] = {}
    for bath in horizon.baths:
        vessel = floor.book.shop.vessels.get(bath.vessel)
        if not bath.vessel or (vessel is not None and vessel.is_drum):
            continue
        before = last_in.setdefault(bath.vessel, [])
        standing = []
        for old in before:
            if old.ended_when is not None and old.ended_when.lo <= bath.made_when.hi:
                continue
            if old.tag == bath.tag:
                standing.append(old)
                continue
            inside = [
                m.hide
                for m in old.members
                if m.enter.lo <= bath.made_when.lo and (m.leave is None or m.leave.lo > bath.made_when.hi)
            ]
            late = [m for m in old.members if m.enter.lo > bath.made_when.hi]
            if late and not inside:
                yield _put_into_the_old(old, bath, late, horizon)
            elif inside:
                standing.append(old)
                yield _two_told(old, bath.vessel, inside, bath.made, bath.made_when, horizon, new=bath)
            elif old.ended is None:  # asked once: the next bath in that vessel does not ask again
                yield of_bath(
                    old,
                    (),
                    name="two baths in one vessel",
                    when="record",
                    message=f"{_mixed(bath)} {when_said(clock, bath.made_when, at)}, and "
                    f"{old.tag} was never let go: dumped? at what pH?",
                    do=f"write it late, with its own date, and the pH that you measured behind it: `{dumped_line(old)}`",
                    entry=bath.made,
                    may=True,
                    since=bath.made_when.lo,
                    more=(f"{old.tag} mixed at {old.made.at.short}",),
                    cause=bath_cause(old),
                )
        last_in[bath.vessel] = [*standing, bath]


def _put_into_the_old(old: BathLife, new: BathLife, late: list[Member], horizon: Horizon) -> Finding:
    """Skins put into the old bath after the new was mixed: one of the lines names the wrong bath, for certain."""
    clock, at = horizon.clock, horizon.at
    first = min(late, key=lambda member: (member.enter.lo, member.stay.mark.entry.order))
    still = [member.hide for member in late if member.leave is None]
    hides = list({id(member.hide): member.hide for member in late}.values())
    return of_bath(
        old,
        still or hides,
        name="two baths in one vessel",
        when="now" if still else "record",
        message=f"{_mixed(new)} {when_said(clock, new.made_when, at)}, and after that skins were put "
        f"into {old.tag}, {when_said(clock, first.enter, at)}: one vessel holds one bath",
        do=f"if they lie in {new.tag}, strike that line and write it again: `{TAGS} {first.stay.name} in {new.tag}`; then, "
        f"with its own date, and the pH that you measured behind it: `{dumped_line(old)}`",
        entry=first.stay.mark.entry,
        since=first.enter.lo,
        more=(f"{old.tag} mixed at {old.made.at.short}", f"{new.tag} mixed at {new.made.at.short}"),
        cause=f"{bath_cause(old)} late",
    )


def _two_told(
    old: BathLife,
    vessel: str,
    inside: list[HideLife],
    entry: Entry,
    when: When,
    horizon: Horizon,
    new: BathLife | None = None,
) -> Finding:
    said = _mixed(new) if new is not None else f"{vessel} was mixed anew"
    # While skins are in the old one by the book, nobody knows what they lie in.
    still = new is not None and old.ended is None and any(m.hide in inside for m in old.now_in)
    return of_bath(
        old,
        inside,
        name="two baths in one vessel",
        when="now" if still else "record",
        message=f"{said} {when_said(horizon.clock, when, horizon.at)}, with skins still in {old.tag}",
        do=f"write when they came out, with its own date: `{TAGS} out of {old.tag}`, and, with the pH "
        f"that you measured behind it, `{dumped_line(old)}`",
        entry=entry,
        since=when.lo,
        more=(f"{old.tag} mixed at {old.made.at.short}",),
        cause=f"{bath_cause(old)} {entry.order}",
    )


def _mixed(bath: BathLife) -> str:
    """`P3 was mixed in V1`; a bath that goes by its tub's tag was just mixed."""
    return f"{bath.tag} was mixed" + (f" in {bath.vessel}" if bath.vessel != bath.tag else "")
