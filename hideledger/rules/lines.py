"""The page itself: tags nobody declared, dates that cannot be."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hideledger.model.facts import By, LiftedOut, Remark, Waived
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.telling import of_bath, of_hide, of_line
from hideledger.rules.tubs import into_vessel
from hideledger.rules.words import listed, may_stand_in, when_said, who
from hideledger.shopfloor.floor import Floor, Oddity


def _odd(floor: Floor, *sorts: str) -> Iterator[Oddity]:
    return (oddity for oddity in floor.oddities if oddity.sort in sorts)


def unknown_tag(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Two figures the wrong way round put one skin's acid on another's card: a tag that never came in is a slip."""
    for oddity in _odd(floor, "unknown tag"):
        tag = oddity.tags[0]
        others = f", and on {len(oddity.more)} more" if oddity.more else ""
        known = f"; {oddity.note} is" if oddity.note else ""
        closed = may_stand_in(floor.book, tag)
        yield of_line(
            floor,
            oddity.tags,
            oddity.entry,
            name="unknown tag",
            when="now",
            message=f"{tag} is not in the book{known}; named "
            f"{when_said(horizon.clock, oddity.entry.when, horizon.at)}{others}{closed}",
            do=(
                "mend that page first, and ask again; it says how under what was not understood; then, "
                if closed
                else ""
            )
            + (f"if {oddity.note} is meant, right that line; else " if oddity.note else "right that line, or ")
            + _out_of_a_box(oddity, floor)
            + f"write how it came, with its own date: `{tag} in`, or of a bath: `{tag} mixed{into_vessel(horizon)}`",
            may=bool(closed) or not floor.book.shop.whole,
            more=tuple(f"also {entry.at.short}" for entry in oddity.more[:5]),
            cause=f"tag {tag}",
        )


def _out_of_a_box(oddity: Oddity, floor: Floor) -> str:
    """A skin that is lifted out of a box and never came in: the box was opened."""
    for fact in oddity.entry.facts:
        if isinstance(fact, LiftedOut) and any(life.box for life in floor.hides.get(fact.where, ())):
            return f"open the box in its stead, `{fact.where} opened, {who(oddity.entry.tags)}`, or "
    return ""


# What may be said of a bath that is gone: why a finding about it is answered, and a remark.
_OF_WHAT_WAS = (Waived, Remark, By)


def after_it_was_out(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """What has been handed back cannot be worked on: either it never left, or the line belongs to another tag."""
    clock, at = horizon.clock, horizon.at
    for life in horizon.lives:
        for entry in life.after_end:
            if life.ended is None or life.ended_when is None:
                continue
            yield of_hide(
                life,
                name="after it was out",
                when="now",
                message=f"a line of {when_said(clock, entry.when, at)}, and it was {_how(life.ended_as)} "
                f"{when_said(clock, life.ended_when, at)}",
                do="right the tag or the time, or strike the line that took it out; if it came again, write that "
                "first: "
                f"`{life.tag} in`",
                entry=entry,
                since=entry.when.lo,
                more=(f"{_how(life.ended_as)} at {life.ended.at.short}",),
                ended=False,
                cause=f"{life.tag} {life.ended.order}",
                days=(entry.when.day, entry.when.day),
            )
    for bath in horizon.baths:
        for entry in bath.after_end:
            if (
                bath.ended is None
                or bath.ended_when is None
                or all(isinstance(fact, _OF_WHAT_WAS) for fact in entry.facts)
            ):
                continue
            yield of_bath(
                bath,
                (),
                name="after it was out",
                when="now",
                message=f"a line of {when_said(clock, entry.when, at)}, and it was let go "
                f"{when_said(clock, bath.ended_when, at)}",
                do=f"right the tag or the time; if it was mixed again, write that first: `{bath.tag} mixed"
                f"{f' in {bath.vessel}' if bath.vessel else into_vessel(horizon)}`",
                entry=entry,
                since=entry.when.lo,
                more=(f"let go at {bath.ended.at.short}",),
                cause=f"{bath.tag} {bath.ended.order}",
                days=(entry.when.day, entry.when.day),
            )


def _how(ended_as: str) -> str:
    return {"out": "out", "lost": "lost", "refused": "refused", "cut": "cut into parts", "opened": "opened"}.get(
        ended_as, ended_as
    )


def dated_ahead(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Nobody writes tomorrow's work today: a line ahead of its time has a slip in its date, and hides what it tells."""
    for oddity in _odd(floor, "dated ahead"):
        yield of_line(
            floor,
            oddity.tags,
            oddity.entry,
            name="dated ahead",
            when="now",
            message=f"dated {when_said(horizon.clock, oddity.entry.when, horizon.at)}, ahead of its time; it does not "
            "count until then",
            do="right its date: strike the line with `struck` before it, and write it again",
            more=() if oddity.other is None else (f"beside {oddity.other.at.short}",),
            cause=f"line {oddity.entry.order}",
        )


def dated_back(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """In January one goes on writing the old year: such a line lands in the middle of another skin's story."""
    for oddity in _odd(floor, "dated back"):
        if oddity.entry.remark:  # written late on purpose, and the line says so
            continue
        yield of_line(
            floor,
            oddity.tags,
            oddity.entry,
            name="dated back",
            when="now",
            message=f"dated {when_said(horizon.clock, oddity.entry.when, horizon.at)}, months before the line above it",
            do="right its date: strike the line with `struck` before it, and write it again; a line written late says "
            "so in a remark behind a dash",
            more=() if oddity.other is None else (f"above it {oddity.other.at.short}",),
            cause=f"line {oddity.entry.order}",
        )


def nobody_in_it(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """`All in P3` is whoever lies in it then; when the book has nobody there, a line that put them in is missing."""
    for oddity in _odd(floor, "group of nobody"):
        yield of_line(
            floor,
            oddity.tags,
            oddity.entry,
            name="nobody in it",
            when="record",
            message=f"all in {listed(oddity.tags)} is nobody, "
            f"{when_said(horizon.clock, oddity.entry.when, horizon.at)}: no line put one in by then",
            do="write the line that is missing, with its own date, or name the hides",
            cause=f"line {oddity.entry.order}",
        )


def before_it_was_mixed(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A bath that is read before it is mixed is another bath, or its making was never written."""
    for oddity in _odd(floor, "before it was mixed"):
        made = (
            ""
            if oddity.other is None
            else f", and it was mixed {when_said(horizon.clock, oddity.other.when, horizon.at)}"
        )
        yield of_line(
            floor,
            oddity.tags,
            oddity.entry,
            name="before it was mixed",
            when="record",
            message=f"a line of {when_said(horizon.clock, oddity.entry.when, horizon.at)}{made}",
            do="right the tag or the date; if the bath is older, write how it was made, with its own date: "
            f"`{oddity.tags[0]} mixed{into_vessel(horizon)}`",
            more=() if oddity.other is None else (f"mixed at {oddity.other.at.short}",),
            cause=f"tag {oddity.tags[0]}",
        )


def count_differs(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A box is counted at the door and when it is opened; between the two somebody else's skins may be missing."""
    for oddity in _odd(floor, "box count"):
        yield of_line(
            floor,
            oddity.tags,
            oddity.entry,
            name="count differs",
            when="record",
            message=f"opened {when_said(horizon.clock, oddity.entry.when, horizon.at)} with {oddity.note} skins in it",
            ended=not any(life.from_box in oddity.tags and life.here for life in horizon.lives),
            do="count again, tell the shop it came from, and say what was found in a remark behind a dash",
            more=() if oddity.other is None else (f"came in at {oddity.other.at.short}",),
            cause=f"line {oddity.entry.order}",
        )
