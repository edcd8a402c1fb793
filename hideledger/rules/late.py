"""Steps that were begun too late after the one they must follow."""

from __future__ import annotations

from collections.abc import Iterable

from hideledger.model.moments import spoken
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.spans import counts_from, left_out
from hideledger.rules.telling import TAGS, of_hide, twice_told
from hideledger.rules.times import order_is_wrong, over_in
from hideledger.rules.words import when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife


def started_late(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """What lies about between two steps goes on changing: a shaved skin dries, a drained one sours, a raw one rots."""
    clock, at = horizon.clock, horizon.at
    for life in horizon.lives:
        for i, mark in enumerate(life.marks):
            line = mark.line
            if line is None or not line.within or mark.skipped or mark.elsewhere or mark.moved:
                continue
            if order_is_wrong(life, mark) or _again(life, i):
                continue
            for within in line.within:
                found = counts_from(life, within, i)
                if found is None:
                    continue
                start, marks, first = found
                if (first is not None and (first.elsewhere or order_is_wrong(life, first))) or _raw_is_judged(
                    life, marks
                ):
                    continue
                over_lo, over_hi = over_in(life, start, mark.when, within.length, horizon)
                if over_hi <= 0:
                    continue
                certain = over_lo > 0
                over = over_lo if certain else over_hi
                begun = life.arrived if first is None else first.entry
                yield of_hide(
                    life,
                    name="started late",
                    when="record",
                    message=(
                        f"{line.title} {when_said(clock, mark.when, at)}, {within.of} {when_said(clock, start, at)}; "
                        f"within {within.length}{left_out(life, start, mark.when, at)}: "
                        + (f"{spoken(over)} late" if certain else f"it may be {spoken(over)} late")
                    ),
                    do=f"if it was done sooner, right the line; else say why: `{TAGS} waived started late -- why`",
                    entry=mark.entry,
                    rule=within.place,
                    may=not certain,
                    since=mark.when.lo - over_lo if certain else mark.when.hi - over_hi,
                    over_s=over,
                    limit_s=within.length.about_seconds,
                    more=(f"{within.of} at {begun.at.short}", *twice_told(clock, at, start, mark.when)),
                    cause=f"line {mark.entry.order}",
                    begun=start.lo,
                    days=(start.day, mark.when.day),
                )


def _again(life: HideLife, at: int) -> bool:
    """Whether the same line of the process was written before: what comes back is not late."""
    line = life.marks[at].line
    return (
        life.marks[at].back
        or life.marks[at].on_purpose
        or any(m.line is line and not m.skipped for m in life.marks[:at])
    )


def _raw_is_judged(life: HideLife, marks: int) -> bool:
    """Whether the raw clock, which has a limit of its own here, ran on through that time: it says it better."""
    if life.process is None or life.process.raw_limit is None:
        return False
    if life.tanned_before:
        return False
    if life.condition is not None and life.condition[0].condition in ("wet salted", "dry salted", "dried"):
        return False
    return not any(m.line is not None and m.line.raw == "stops" and not m.skipped for m in life.marks[:marks])
