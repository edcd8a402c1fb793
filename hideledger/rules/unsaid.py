"""What the book and the shop file leave unsaid: a process, a zone, a supply, a time, a reason."""

from __future__ import annotations

from collections.abc import Iterable

from hideledger.model.entry import Entry
from hideledger.model.facts import (
    Added,
    By,
    Counted,
    LiftedOut,
    Reading,
    Skipped,
    Stepped,
    Took,
    ToppedUp,
    Turning,
    Used,
)
from hideledger.model.moments import HOUR
from hideledger.rules.answering import reason_of
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.spans import arrival_unread
from hideledger.rules.telling import TAGS, of_hide, of_line
from hideledger.rules.words import day_said, in_order, listed, when_said
from hideledger.shopfloor.floor import Floor
from hideledger.text.nearest import nearest

# A stretch of the day as it is written (`morning`, `overnight`) says enough; a whole day says nothing.
_NO_TIME = 20 * HOUR


def no_process(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """What way a skin goes decides what is late and what is missing: without a way nothing about it can be judged."""
    names = sorted({version.name for several in floor.book.shop.processes.values() for version in several})
    for life in horizon.lives:
        if life.process is not None or arrival_unread(life) or life.ended_as in ("refused", "lost"):
            continue
        kind = (
            f"{'an' if life.kind[:1].casefold() in 'aeiou' else 'a'} {life.kind}"
            if life.kind
            else "its kind is not written"
        )
        yield of_hide(
            life,
            name="no process",
            when="record",
            message=f"no process: {kind}, and neither the line nor the kind says which way it goes",
            do=f"write which one: `{TAGS} process {names[0] if names else 'drum'}`, or give its kind a process in the "
            "shop file",
            entry=life.process_entry or life.arrived,
            may=not floor.book.shop.whole,
            since=life.arrived_when.lo,
            cause=f"kind {life.kind}",
        )


def no_zone(floor: Floor, _horizon: Horizon) -> Iterable[Finding]:
    """On two nights of the year an overnight bath is an hour longer or shorter than the clock on the wall says."""
    shop = floor.book.shop.shop
    if shop.zone is not None or not floor.entries:
        return
    yield Finding(
        name="no zone",
        when="record",
        message="the shop file names no time zone, so no change of the clocks is known",
        do="write your own into the shop block, like this: `zone America/Chicago`",
        tags=(),
        place=shop.place,
        rule=shop.place,
    )


def unknown_supply(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Soda is three powders of unlike strength, and oil is many: what the shop has not named is not known."""
    names = sorted(floor.book.shop.supplies)
    told: set[str] = set()
    for entry in floor.entries:
        for fact in entry.facts:
            if not isinstance(fact, Took | Counted | Used) or fact.amount.known:
                continue
            supply = fact.amount.supply
            if supply.casefold() in told:
                continue
            told.add(supply.casefold())
            near = nearest(supply, names)
            yield Finding(
                name="unknown supply",
                when="record",
                message=f"{supply} is not a supply of the shop"
                + (f"; did you mean {near}?" if near else "")
                + f", {when_said(horizon.clock, entry.when, horizon.at)}",
                do=(f"right the line if {near} is meant; else " if near else "")
                + f"write it into the shop file at the margin: `supply {supply}`",
                tags=(),
                entry=entry,
                place=entry.at,
                may=not floor.book.shop.whole,
                since=entry.when.lo,
                cause=f"supply {supply.casefold()}",
            )


def no_time_written(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """An hour's limit cannot be kept with a date alone: what is written without a time lies somewhere in that day."""
    found: dict[tuple[int, str], list[Entry]] = {}
    for entry in floor.entries:
        when = entry.when
        if when.timed or when.hi - when.lo < _NO_TIME:
            continue
        if any(_needs_time(fact) for fact in entry.facts):
            who = next((fact.who for fact in entry.facts if isinstance(fact, By)), "")
            found.setdefault((when.day, who), []).append(entry)
    for (day, who), entries in found.items():
        tags = in_order(tag for entry in entries for tag in entry.tags)
        by = f" by {who}" if who else ""
        lines = "a line" if len(entries) == 1 else f"{len(entries)} lines"
        finding = of_line(
            floor,
            tags,
            entries[0],
            name="no time written",
            when="record",
            message=f"{lines}{by} of {day_said(horizon.clock, day, horizon.at)} without a time",
            held=f"{lines}{by}",
            do="if the time is remembered, strike the line and write it with its time; morning or "
            "evening is better than none",
            more=tuple(f"also {entry.at.short}" for entry in entries[1:5]),
            cause=f"day {day} {who}",
        )
        yield finding


def _needs_time(fact: object) -> bool:
    match fact:
        case Stepped(span=None) | LiftedOut() | Turning() | Reading() | Added() | ToppedUp():
            return True
        case _:
            return False


def no_reason_given(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """What was left out on purpose is a route and no mistake, as long as somebody wrote why."""
    for life in horizon.lives:
        for mark in life.marks:
            if not mark.skipped or reason_of(mark.entry):
                continue
            names = [fact.step for fact in mark.entry.facts if isinstance(fact, Skipped)]
            yield of_hide(
                life,
                name="no reason given",
                when="record",
                message=f"{listed(names) or mark.name} skipped {when_said(horizon.clock, mark.when, horizon.at)}, and "
                "no reason is written",
                do=f"strike the line and write it with the reason: `{TAGS} skipped {mark.name} -- why`",
                entry=mark.entry,
                since=mark.when.lo,
                ended=True,  # asked for once, in the long list only
                cause=f"line {mark.entry.order}",
            )
