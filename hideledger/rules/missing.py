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
from hideledger.rules.tubs import free_tag, lines_for, step_line, stood_at
from hideledger.rules.unwritten import without_its_bath
from hideledger.rules.words import listed, when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife, Missing, Stay, StepMark

_BY_THE_GAUGE = "pressure"


def not_recorded(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A line never written proves nothing; but when the hair falls in March, nobody remembers November."""
    for life in horizon.lives:
        if life.process is None or (life.box and all(mark.name in ("in", "out") for mark in life.marks)):
            continue  # a box that went back as it came was never in work
        yield from _steps_missing(floor, life, horizon)
        yield from _tests_missing(life, horizon)
        yield from _baths_missing(floor, life, horizon)


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
        if life.tanned_before and mark.name == "in":
            continue  # what is tried of a raw skin at the door proves nothing of leather
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
        last = [one for one in life.tests if one.fact.test == test][-1:]
        if made and (made[-1].fact.passed or last[0].fact.passed):
            continue  # one that failed is answered by making it again, however late
        if made and life.here and "pull" in test:
            continue  # that the hair came rings by itself, until somebody answers it
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
            do=f"write it late, with its own date: `{TAGS} {test} ok`, or say why: `{TAGS} waived not recorded -- why`"
            if not made
            else _again(life, test),
            entry=entry,
            rule=line.place,
            since=by.lo,
            cause=f"line {entry.order} {test}",
            days=(life.arrived_when.day, by.day),
        )


def _again(life: HideLife, test: str) -> str:
    """What to do about a test that failed, and that no good one followed: the hide is looked at again, and what is seen is written."""
    why = f"say why it went on: `{TAGS} waived not recorded -- why`"
    if not life.here:
        return why
    return f"make the {test} again, and write what you see: `{TAGS} {test} ok`, or `{TAGS} {test} fails`; or {why}"


def _baths_missing(floor: Floor, life: HideLife, horizon: Horizon) -> Iterator[Finding]:
    degrees = floor.book.shop.shop.degrees
    asked_now = without_its_bath(life)
    for stay in life.stays:
        line = stay.line
        if line is None or stay.mark.fault:
            continue
        entry = stay.mark.entry
        if line.in_bath and stay.bath is None and stay is not asked_now:
            yield of_hide(
                life,
                name="not recorded",
                when="record",
                message=f"the bath of {line.title} is not recorded, {when_said(horizon.clock, stay.start, horizon.at)}",
                do=_with_bath(floor, stay, line, horizon),
                entry=entry,
                rule=line.place,
                since=stay.start.lo,
                cause=f"line {entry.order} bath",
            )
        turning = line.sort == "run" and stay.bath is not None and stay.end is not None
        if turning and not stay.turned[1] and not any(other.goes_on for other in life.stays if other.line is line):
            assert stay.end is not None
            assert stay.bath is not None
            yield of_hide(
                life,
                name="not recorded",
                when="record",
                message=f"no turning of {line.title} is recorded, to {when_said(horizon.clock, stay.end, horizon.at)}",
                do=f"write it late, each with its own date and time: `{stay.bath.tag} on`, and `{stay.bath.tag} off`",
                entry=entry,
                bath=stay.bath,
                rule=line.place,
                since=stay.end.lo,
                cause=f"line {entry.order} turning",
                days=(stay.start.day, stay.end.day),
            )
            continue
        if line.notes and stay.bath is not None and stay.end is not None and not _goes_on(life, stay):
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


def _with_bath(floor: Floor, stay: Stay, line: Step, horizon: Horizon) -> str:
    """How a bath that is not recorded is written: never by the very line that stands there."""
    sort, letters = ("load", "L") if line.sort == "run" else ("bath", "P")
    strike = f"strike that line and write it with the {sort}"
    if not stay.where:
        written = step_line(line, horizon, stay.start.hi)
        return f"{strike}: `{TAGS} {written if written != line.name else f'{line.name} in {letters}1'}`"
    made, vessel = stay.where, ""
    if stay.where in floor.book.shop.vessels:
        stood = [bath for bath in horizon.baths if bath.vessel == stay.where and stood_at(bath, stay.start.hi)]
        if stood:
            return f"{strike}: `{TAGS} {line.name} in {stood[-1].tag}`"
        made, vessel = free_tag(set(floor.baths) | set(floor.hides), letters), f" in {stay.where}"
    return f"write how that {sort} was made, with its own date, before that line: `{made} mixed{vessel}`"


def _goes_on(life: HideLife, stay: Stay) -> bool:
    """Whether the next stay is only the same one, written once more in the same bath: it is judged when that ends."""
    after = life.stays[life.stays.index(stay) + 1 :][:1]
    return bool(after) and after[0].goes_on and after[0].bath is stay.bath


def _noted(stay: Stay, what: str) -> bool:
    assert stay.bath is not None
    assert stay.end is not None
    start, end = (stay.begun or stay.start).lo if stay.goes_on else stay.start.lo, stay.end.hi
    if any(r.fact.what == what and r.when.hi >= start and r.when.lo <= end for r in stay.bath.readings):
        return True
    if any(isinstance(fact, Reading) and fact.what == what for fact in stay.mark.entry.facts):
        return True
    if what != _BY_THE_GAUGE:
        return False
    if any(isinstance(fact, Pressed) for fact in stay.mark.entry.facts):
        return True
    return any(noted.when.hi >= start and noted.when.lo <= end for noted, _ in stay.bath.pressed)
