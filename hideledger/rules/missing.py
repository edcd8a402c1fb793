"""What a later line shows to be missing: a step, a test, a bath, a reading."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hideledger.model.entry import Entry
from hideledger.model.facts import Pressed, Reading
from hideledger.model.moments import When
from hideledger.model.process import Step
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.righting import example_for
from hideledger.rules.spans import next_step
from hideledger.rules.telling import TAGS, of_hide
from hideledger.rules.tubs import asks_for_bath, lines_for, step_line
from hideledger.rules.words import listed, when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife, Missing, Stay, StepMark

_BY_THE_GAUGE = "pressure"


def not_recorded(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A line never written proves nothing; but when the hair falls in March, nobody remembers November."""
    for life in horizon.lives:
        if life.process is None:
            continue
        yield from _steps_missing(floor, life, horizon)
        yield from _tests_missing(life, horizon)
        yield from _baths_missing(life, horizon, floor.book.shop.shop.degrees)


def _steps_missing(floor: Floor, life: HideLife, horizon: Horizon) -> Iterator[Finding]:
    """All that is missing before one line is one forgotten evening, and told as one."""
    together: dict[int, list[Missing]] = {}
    for missing in life.missing:
        if missing.line.name not in ("in", "out"):
            together.setdefault(id(missing.before), []).append(missing)
    for several in together.values():
        before = several[0].before
        entry = life.ended if before is None else before.entry
        when = life.ended_when if before is None else before.when
        if entry is None or when is None:
            continue
        if before is not None and before.elsewhere:
            continue  # so was whatever comes before it
        later = "out" if before is None else before.name
        start = _mark_before(life, before)
        meant = tag_that_leapt(floor, life, before) if before is not None else None
        titles = [missing.line.title for missing in several]
        said = f"{listed(titles)} {'is' if len(titles) == 1 else 'are'} not recorded, though {later} is"
        lines: dict[str, None] = {}
        for missing in several:
            *making, line = lines_for(missing.line, horizon, when.hi)
            lines.update(dict.fromkeys([*(f"`{made}`" for made in making), f"`{TAGS} {line}`"]))
        write = ", ".join(lines)
        skipped = ", ".join(f"skipped {missing.line.name}" for missing in several)
        yield of_hide(
            life,
            name="not recorded",
            when="record",
            message=f"{said}, {when_said(horizon.clock, when, horizon.at)}",
            do=f"write it late, with its own date: {write}, or `{TAGS} {skipped} -- why`"
            if len(several) == 1
            else f"write them late, each with its own date: {write}; what was left out on purpose: `{TAGS} {skipped} -- why`",
            entry=entry,
            rule=several[0].line.place,
            since=when.lo,
            more=() if meant is None else (f"is {meant} meant? it was waiting for {later}",),
            cause=f"line {entry.order} {' '.join(titles)}",
            days=(start.day, when.day),
        )


def _mark_before(life: HideLife, before: StepMark | None) -> When:
    """The moment of the line before a mark: the missing one was somewhere between."""
    last = life.arrived_when
    for mark in life.marks:
        if mark is before:
            break
        last = mark.when
    return last


def tag_that_leapt(floor: Floor, life: HideLife, mark: StepMark) -> str | None:
    """H14 for H41: another hide with two figures the other way round, that waits for just this step."""
    tag = life.tag
    for i in range(len(tag) - 1):
        if tag[i].isdecimal() and tag[i + 1].isdecimal() and tag[i] != tag[i + 1]:
            other = tag[:i] + tag[i + 1] + tag[i] + tag[i + 2 :]
            for one in floor.hides.get(other, ()):
                following = next_step(one)
                if one.here and one.declared and following is not None and following.name == mark.name:
                    return other
    return None


def _tests_missing(life: HideLife, horizon: Horizon) -> Iterator[Finding]:
    done = [mark for mark in life.marks if not mark.skipped]
    for i, mark in enumerate(done):
        line = mark.line
        if line is None or not line.needs or mark.fault or mark.elsewhere or any(m.line is line for m in done[:i]):
            continue
        by = mark
        if line.name == "in":
            later = next((m for m in done[i + 1 :] if not m.elsewhere), None)
            if later is None:
                continue
            by = later
        yield from _needs_told(life, line, by.when, by.entry, by.name, horizon)


def _needs_told(life: HideLife, line: Step, by: When, entry: Entry, step: str, horizon: Horizon) -> Iterator[Finding]:
    for test in line.needs:
        made = [one for one in life.tests if one.fact.test == test and (one.when.lo <= by.hi or one.entry is entry)]
        if made and made[-1].fact.passed:
            continue
        said = (
            f"{test} is not recorded before {step}"
            if not made
            else f"{test} failed and no good one is recorded before {step}"
        )
        yield of_hide(
            life,
            name="not recorded",
            when="record",
            message=f"{said}, {when_said(horizon.clock, by, horizon.at)}",
            do=f"write it late, with its own date: `{TAGS} {test} ok`, or say why: `{TAGS} waived not recorded -- why`",
            entry=entry,
            rule=line.place,
            since=by.lo,
            cause=f"line {entry.order} {test}",
            days=(life.arrived_when.day, by.day),
        )


def _baths_missing(life: HideLife, horizon: Horizon, degrees: str) -> Iterator[Finding]:
    for stay in life.stays:
        line = stay.line
        if line is None or stay.mark.fault:
            continue
        entry = stay.mark.entry
        if line.in_bath and stay.bath is None and not (asks_for_bath(line) and stay is life.stay):
            yield of_hide(
                life,
                name="not recorded",
                when="record",
                message=f"the bath of {line.title} is not recorded, {when_said(horizon.clock, stay.start, horizon.at)}",
                do=f"strike that line and write it with the bath: `{TAGS} {_with_bath(stay, line, horizon)}`",
                entry=entry,
                rule=line.place,
                since=stay.start.lo,
                cause=f"line {entry.order} bath",
            )
        turning = line.sort == "run" and stay.bath is not None and stay.end is not None
        if turning and not stay.turned[1] and not any(other.goes_on for other in life.stays if other.line is line):
            assert stay.end is not None
            yield of_hide(
                life,
                name="not recorded",
                when="record",
                message=f"no turning of {line.title} is recorded, to {when_said(horizon.clock, stay.end, horizon.at)}",
                do=f"write it late, each with its own date and time: `{stay.where} on`, and `{stay.where} off`",
                entry=entry,
                bath=stay.bath,
                rule=line.place,
                since=stay.end.lo,
                cause=f"line {entry.order} turning",
                days=(stay.start.day, stay.end.day),
            )
            continue
        if line.notes and stay.bath is not None and stay.end is not None:
            for what in line.notes:
                if _noted(stay, what):
                    continue
                yield of_hide(
                    life,
                    name="not recorded",
                    when="record",
                    message=f"the {what} of {line.title} is not recorded, to "
                    f"{when_said(horizon.clock, stay.end, horizon.at)}",
                    do=f"write it late, with its own date: `{stay.bath.tag} {example_for(line, stay.bath, degrees, what)}`",
                    entry=entry,
                    bath=stay.bath,
                    rule=line.place,
                    since=stay.end.lo,
                    cause=f"line {entry.order} {what}",
                    days=(stay.start.day, stay.end.day),
                )


def _with_bath(stay: Stay, line: Step, horizon: Horizon) -> str:
    if stay.where:
        return f"{line.name} in {stay.where}"
    written = step_line(line, horizon, stay.start.hi)
    return written if written != line.name else f"{line.name} in {'L1' if line.sort == 'run' else 'P1'}"


def _noted(stay: Stay, what: str) -> bool:
    assert stay.bath is not None
    assert stay.end is not None
    start, end = stay.start.lo, stay.end.hi
    if any(r.fact.what == what and r.when.hi >= start and r.when.lo <= end for r in stay.bath.readings):
        return True
    if any(isinstance(fact, Reading) and fact.what == what for fact in stay.mark.entry.facts):
        return True
    if what != _BY_THE_GAUGE:
        return False
    if any(isinstance(fact, Pressed) for fact in stay.mark.entry.facts):
        return True
    return any(noted.when.hi >= start and noted.when.lo <= end for noted, _ in stay.bath.pressed)
