"""The order of the work: what a later line shows to be missing, and what stands where it cannot."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hideledger.model.entry import Entry
from hideledger.model.facts import Pressed, Reading
from hideledger.model.moments import When
from hideledger.model.process import Step
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.spans import next_step
from hideledger.rules.telling import TAGS, of_bath, of_hide
from hideledger.rules.words import when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife, Pause, Stay, StepMark

_BY_THE_GAUGE = "pressure"


def not_recorded(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A line never written proves nothing; but when the hair falls in March, nobody remembers November."""
    for life in horizon.lives:
        if life.process is None:
            continue
        yield from _steps_missing(floor, life, horizon)
        yield from _tests_missing(life, horizon)
        yield from _baths_missing(life, horizon)


def _steps_missing(floor: Floor, life: HideLife, horizon: Horizon) -> Iterator[Finding]:
    for missing in life.missing:
        before = missing.before
        entry = life.ended if before is None else before.entry
        when = life.ended_when if before is None else before.when
        if entry is None or when is None or missing.line.name in ("in", "out"):
            continue
        later = "out" if before is None else before.name
        start = _mark_before(life, before)
        meant = _tag_that_leapt(floor, life, before) if before is not None else None
        yield of_hide(
            life,
            name="not recorded",
            when="record",
            message=f"{missing.line.title} is not recorded, though {later} is, "
            f"{when_said(horizon.clock, when, horizon.at)}",
            do=f"write it late, with its own date: `{TAGS} {missing.line.name}`, or `{TAGS} skipped "
            f"{missing.line.name} -- why`",
            entry=entry,
            rule=missing.line.place,
            since=when.lo,
            more=() if meant is None else (f"is {meant} meant? it was waiting for {later}",),
            cause=f"line {entry.order} {missing.line.title}",
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


def _tag_that_leapt(floor: Floor, life: HideLife, mark: StepMark) -> str | None:
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


def _baths_missing(life: HideLife, horizon: Horizon) -> Iterator[Finding]:
    for stay in life.stays:
        line = stay.line
        if line is None or stay.mark.fault:
            continue
        entry = stay.mark.entry
        if line.in_bath and stay.bath is None:
            yield of_hide(
                life,
                name="not recorded",
                when="record",
                message=f"the bath of {line.title} is not recorded, {when_said(horizon.clock, stay.start, horizon.at)}",
                do=f"strike that line and write it with the bath: `{TAGS} {line.name} in {stay.where or 'L14'}`",
                entry=entry,
                rule=line.place,
                since=stay.start.lo,
                cause=f"line {entry.order} bath",
            )
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
                    do=f"write it late, with its own date: `{stay.bath.tag} {_example(what)}`",
                    entry=entry,
                    bath=stay.bath,
                    rule=line.place,
                    since=stay.end.lo,
                    cause=f"line {entry.order} {what}",
                    days=(stay.start.day, stay.end.day),
                )


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


def _example(what: str) -> str:
    return {"pressure": "8 psi", "temperature": "64 F", "salt": "40 sal"}.get(what, "pH 2.0 strip")


def out_of_order(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """What goes before decides what comes after: acid before salt swells, oil before tan goes nowhere."""
    clock, at = horizon.clock, horizon.at
    whole = floor.book.shop.whole
    for life in horizon.lives:
        swapped = {id(mark): line for mark, line in life.swapped}
        for i, mark in enumerate(life.marks):
            if mark.on_purpose or mark.back or mark.skipped or not (mark.fault or id(mark) in swapped):
                continue
            elsewhere = swapped.get(id(mark))
            unknown = mark.fault == "not of this process"
            if unknown:
                name = life.process.name if life.process is not None else ""
                said = f"{mark.name} is not a step of {name}"
            elif i and elsewhere is not None:
                said = f"{mark.name} is written after {life.marks[i - 1].name}; {_belongs(life, elsewhere)}"
            else:
                said = f"{mark.name} is written where it does not come" + (
                    f", after {life.marks[i - 1].name}" if i else ""
                )
            meant = _tag_that_leapt(floor, life, mark)
            yield of_hide(
                life,
                name="out of order",
                when="record",
                message=f"{said}, {when_said(clock, mark.when, at)}",
                do=f"right the line or its time, or if it was meant so, say why: `{TAGS} waived out of order -- why`",
                entry=mark.entry,
                rule=life.process.place
                if unknown and life.process is not None
                else (None if elsewhere is None else elsewhere.place),
                may=unknown and not whole,
                since=mark.when.lo,
                more=() if meant is None else (f"is {meant} meant? it was waiting for {mark.name}",),
                cause=f"line {mark.entry.order} {mark.name}",
            )
        yield from _rests_out_of_order(life, horizon)
    for oddity in floor.oddities:
        if oddity.sort == "dumped with hides in":
            yield from _dumped_with_hides(floor, oddity.tags, oddity.entry)


def _belongs(life: HideLife, line: Step) -> str:
    steps = life.process.steps if life.process is not None else ()
    at = next((i for i, step in enumerate(steps) if step == line), 0)
    return f"its place is after {steps[at - 1].title}" if at else "it comes first"


def _rests_out_of_order(life: HideLife, horizon: Horizon) -> Iterator[Finding]:
    if life.process is None:
        return
    for pause in life.pauses:
        if pause.from_door or _wet_salted(life, pause):
            continue
        rest = life.process.rest(pause.name)
        last = pause.after.name if pause.after is not None else "in"
        if rest is not None and (not rest.after or last in rest.after):
            continue
        where = f"after {last}" if rest is not None else f"in {life.process.name}"
        yield of_hide(
            life,
            name="out of order",
            when="record",
            message=f"{pause.name} {when_said(horizon.clock, pause.start, horizon.at)}: the process allows no such "
            f"rest {where}",
            do=f"add it to the process if it is meant to be so, or say why: `{TAGS} waived out of order -- why`",
            entry=pause.entry,
            rule=life.process.place if rest is None else rest.place,
            since=pause.start.lo,
            cause=f"line {pause.entry.order} {pause.name}",
        )


def _dumped_with_hides(floor: Floor, tags: tuple[str, ...], entry: Entry) -> Iterator[Finding]:
    for tag in tags:
        for bath in floor.baths.get(tag, ()):
            if bath.ended is not entry:
                continue
            inside = [m.hide for m in bath.members if m.stay.end_entry is entry]
            yield of_bath(
                bath,
                inside,
                name="out of order",
                when="record",
                message="let go with skins in it; they count as lifted out at that moment",
                do=f"write where they went, with that time: `{TAGS} out of {bath.tag}`, or their next step",
                entry=entry,
                since=None if bath.ended_when is None else bath.ended_when.lo,
                cause=f"line {entry.order} dumped",
            )


def wet_salted_into_the_freezer(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Salt keeps a wet skin from freezing through, so it lies there and rots; salted and dry it does no harm."""
    for life in horizon.lives:
        for pause in life.pauses:
            if not _wet_salted(life, pause):
                continue
            still = life.here and pause.end is None
            yield of_hide(
                life,
                name="wet salted into the freezer",
                when="now" if still else "record",
                message=f"{pause.name} {when_said(horizon.clock, pause.start, horizon.at)} while wet with salt",
                do=f"thaw it in the cold, drain it, and go on with the salt or the pickle: `{TAGS} thawed`",
                entry=pause.entry,
                since=pause.start.lo,
                cause=f"line {pause.entry.order}",
                days=(pause.start.day, pause.start.day),
            )


def _wet_salted(life: HideLife, pause: Pause) -> bool:
    """Whether a hide was salted, and not dried since, when it was frozen: by its last step, or as it came in."""
    if pause.from_door or pause.name != "frozen":
        return False
    if pause.after is None or pause.after.name == "in":
        return life.condition is not None and life.condition[0].condition == "wet salted"
    return _salting(life, pause.after)


def _salting(life: HideLife, mark: StepMark) -> bool:
    if mark.name.startswith("salt") or (mark.line is not None and mark.line.weighs == "salted"):
        return True
    return any(entry is mark.entry and amount.supply.casefold() == "salt" for entry, amount in life.used)
