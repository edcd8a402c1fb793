"""Stays that are over: too short, too long. None is told of a stay whose order is already wrong."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hideledger.model.moments import MINUTE, Length, When, spoken
from hideledger.model.process import Limits, Step
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.raw import last_pull
from hideledger.rules.spans import (
    EXACT,
    elapsed,
    left_out,
    limit_falls,
    place_in_process,
    slack,
    spells,
    turned,
    whole_days,
)
from hideledger.rules.telling import TAGS, of_hide, put_in, stay_cause, twice_told
from hideledger.rules.tubs import step_line
from hideledger.rules.words import when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife, Stay, StepMark


def order_is_wrong(life: HideLife, mark: StepMark) -> bool:
    """Whether the order of a step is already complained of, so that its times prove nothing."""
    return bool(mark.fault) or mark.line is None or any(swapped is mark for swapped, _ in life.swapped)


def _end_is_unsure(life: HideLife, stay: Stay) -> bool:
    """Whether a step is missing where the stay ends: it would have ended sooner, and nobody knows when."""
    return any(missing.before is not None and missing.before.entry is stay.end_entry for missing in life.missing)


def _ended(life: HideLife) -> Iterator[tuple[list[Stay], Step, Limits, When]]:
    """The finished stays that can be judged: the stay, its line, its limits, its end."""
    for spell in spells(life):
        stay, mark = spell[-1], spell[0].mark
        if stay.end is None or mark.line is None:
            continue
        limits = mark.line.limits_for(life.kind)
        if limits is None or order_is_wrong(life, mark) or mark.elsewhere:
            continue
        if mark.line.sort == "run" and (turned(spell)[1] == 0 or any(_turning_is_unsure(one) for one in spell)):
            continue  # what is missing is asked for once, and nothing that hangs on it
        yield spell, mark.line, limits, stay.end


def _turning_is_unsure(stay: Stay) -> bool:
    """Whether a turn in that stay has no `off`, or went on when the hide came out: nobody knows how long it turned."""
    if stay.bath is None or stay.end is None:
        return False
    for turn in stay.bath.turns:
        if turn.start.lo > stay.end.hi or (turn.end is not None and turn.end.hi < stay.start.lo):
            continue
        if turn.open_ended or (turn.start.hi < stay.end.lo and (turn.end is None or stay.end.hi < turn.end.lo)):
            return True
    return False


def _rests_out(life: HideLife, first: Stay, line: Step, end: When, at: int) -> str:
    return "" if line.sort == "run" else left_out(life, first.start, end, at)


def _spent(life: HideLife, spell: list[Stay], line: Step, end: When, at: int) -> tuple[int, int]:
    return turned(spell) if line.sort == "run" else elapsed(life, spell[0].start, end, at)


def came_out_early(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A skin hurried through keeps a raw line in its thickest place, and dries like parchment; the cut tells."""
    clock, at = horizon.clock, horizon.at
    for life in horizon.lives:
        seen: set[int] = set()
        before: list[tuple[Stay, Step, Limits, tuple[int, int]]] = []
        for spell, line, limits, end in _ended(life):
            first, last = spell[0], spell[-1]
            spent = _spent(life, spell, line, end, at)
            if _goes_back(life, last):
                before.append((first, line, limits, spent))
                continue
            if before:  # out for a look and in again: the times are taken together, and the longest least time holds
                first = before[0][0]
                spent = (spent[0] + sum(b[3][0] for b in before), spent[1] + sum(b[3][1] for b in before))
                before.append((first, line, limits, spent))
                _, line, limits, _ = max(before, key=lambda b: _least_of(b[2]))  # noqa: PLW2901
                before = []
            if limits.least is None:
                continue
            wanted = limits.least.about_seconds
            enough = wanted - (wanted // 10)
            if spent[0] >= enough:
                seen.add(place_in_process(life, line))
                continue
            days = whole_days(limits.least)
            if (
                days is not None
                and line.sort != "run"
                and end.day - first.start.day - _rested_days(life, first.start, end, at) >= days
            ):
                seen.add(place_in_process(life, line))
                continue
            # Done again after it had its time: a second look, no shortage. Lost or cut: there was nothing to wait for.
            if place_in_process(life, line) in seen or (
                life.ended_as in ("lost", "cut") and last.end_entry is life.ended
            ):
                continue
            if _answered(life, first, last, end):
                continue
            certain = spent[1] < enough
            short = wanted - (spent[1] if certain else spent[0])
            how = f"{'turned' if line.sort == 'run' else 'lasted'} {_about(spent)} to"
            if spent[1] < MINUTE:
                how = "began and ended at one minute,"
            yield of_hide(
                life,
                name="came out early",
                when="record",
                message=(
                    f"{line.title} {how} {when_said(clock, end, at)}, {limits.least} at least"
                    f"{_rests_out(life, first, line, end, at)}: "
                    + (f"{spoken(short)} short" if certain else f"it may be {spoken(short)} short")
                ),
                do=f"if the cut was clean, write it with its date: `{TAGS} cut test ok`; else it can go back: "
                f"`{TAGS} {_back_into(last, line, horizon)}`",
                entry=last.end_entry or last.mark.entry,
                bath=last.bath,
                rule=limits.place,
                may=not certain,
                since=end.hi,
                limit_s=wanted,
                more=(put_in(first.mark.entry), *twice_told(clock, at, first.start, end)),
                cause=f"{stay_cause(last)} {(last.end_entry or last.mark.entry).order}",
                begun=first.start.lo,
                days=(first.start.day, end.day),
            )


def _back_into(stay: Stay, line: Step, horizon: Horizon) -> str:
    """Back into its own bath while that stands, else into one that does."""
    if stay.bath is not None and stay.bath.ended is None:
        return f"{line.name} in {stay.bath.tag}"
    return step_line(line, horizon)


def _least_of(limits: Limits) -> int:
    return limits.least.about_seconds if limits.least is not None else 0


def _goes_back(life: HideLife, stay: Stay) -> bool:
    """Whether the next step written is the same one again."""
    found = False
    for mark in life.marks:
        if found and not mark.skipped:
            return mark.name == stay.name
        found = found or mark is stay.mark
    return False


def _rested_days(life: HideLife, start: When, end: When, at: int) -> int:
    if not life.pauses:
        return 0
    return -(-(end.hi - start.lo - elapsed(life, start, end, at)[1]) // 86400)


def _answered(life: HideLife, first: Stay, last: Stay, end: When) -> bool:
    """A clean cut in that stay, or a remark on the line that ended it, says why it came out when it did."""
    if last.end_entry is not None and last.end_entry.remark:
        return True
    return any(
        "cut" in test.fact.test and test.fact.passed and test.when.hi >= first.start.lo and test.when.lo <= end.hi
        for test in life.tests
    )


def _about(spent: tuple[int, int]) -> str:
    if spent[0] == spent[1]:
        return spoken(spent[0])
    if spent[0] < MINUTE:
        return f"{spoken(spent[1])} at most"
    return f"between {spoken(spent[0])} and {spoken(spent[1])}"


def stayed_too_long(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Alkali and soap loosen hair within the hour, and it falls two stages later: it is watched until tanned."""
    clock, at = horizon.clock, horizon.at
    for life in horizon.lives:
        if life.ended_as == "cut":
            continue  # its parts have taken over all that it went through
        for spell, line, limits, end in _ended(life):
            most = limits.most
            if most is None or _end_is_unsure(life, spell[-1]):
                continue
            first, last = spell[0], spell[-1]
            if line.sort == "run":
                spent = turned(spell)
                over_lo, over_hi = spent[0] - most.about_seconds, spent[1] - most.about_seconds
            else:
                over_lo, over_hi = over_in(life, first.start, end, most, horizon)
            allowed = slack(most)
            if over_hi <= allowed:
                continue
            certain = over_lo > allowed
            over = over_lo if certain else over_hi
            spent = _spent(life, spell, line, end, at)
            pulled = last_pull(life, end.lo)
            held = pulled is not None and pulled.fact.passed
            watched = (
                most.about_seconds <= EXACT and line.sort == "stay" and life.here and _still_to_tan(life, last.mark)
            )
            yield of_hide(
                life,
                name="stayed too long",
                when="now" if watched else "record",
                message=(
                    f"{line.title} {'turned' if line.sort == 'run' else 'lasted'} {_about(spent)} to "
                    f"{when_said(clock, end, at)}, "
                    f"{most} at most{_rests_out(life, first, line, end, at)}: "
                    + (f"{spoken(over)} over" if certain else f"it may be {spoken(over)} over")
                ),
                do=(
                    f"pull {'again, ' if pulled is not None else ''}gently at ears, brisket and belly until it is tanned, and write: `{TAGS} pull test ok`, or "
                    f"`{TAGS} slip, slight`"
                    if watched
                    else f"if a line is missing or misdated, right it; else say why: `{TAGS} waived stayed too long "
                    "-- why`"
                ),
                entry=last.end_entry or last.mark.entry,
                bath=last.bath,
                rule=limits.place,
                may=not certain,
                since=end.lo - over_lo if certain else end.hi - over_hi,
                over_s=over,
                limit_s=most.about_seconds,
                rings=not (watched and held),  # looked at, and the hair held: told on, and wakes nobody
                more=(put_in(first.mark.entry), *twice_told(clock, at, first.start, end)),
                cause=f"{stay_cause(last)} {(last.end_entry or last.mark.entry).order}",
                begun=first.start.lo,
                days=(first.start.day, end.day),
            )


def over_in(life: HideLife, start: When, end: When, length: Length, horizon: Horizon) -> tuple[int, int]:
    """Seconds (least, most; may be negative) by which a stretch is longer than a length, rests left out."""
    if length.months:
        earliest, latest = limit_falls(life, start, length, horizon.clock, horizon.at)
        return end.lo - latest, end.hi - earliest
    spent = elapsed(life, start, end, horizon.at)
    return spent[0] - length.seconds, spent[1] - length.seconds


def _still_to_tan(life: HideLife, mark: StepMark) -> bool:
    """Whether the process has a step at which tanning has begun (`tan`, unless it says which), still to come."""
    if life.process is None:
        return False
    steps = life.process.steps
    tanning = [i for i, step in enumerate(steps) if step.tanning] or [i for i, s in enumerate(steps) if s.name == "tan"]
    if not tanning or place_in_process(life, mark.line) >= tanning[0]:
        return False
    return not any(place_in_process(life, later.line) >= tanning[0] for later in life.marks if not later.skipped)
