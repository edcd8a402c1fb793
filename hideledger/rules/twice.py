"""What stands on the page twice: a line, a reading, a dose, a start of the drum, a step."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hideledger.model.entry import Entry
from hideledger.model.facts import Bought, Counted, Money, Ran, Reading, Stepped, Used
from hideledger.model.moments import HOUR
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.onetag import another_skin
from hideledger.rules.readings import reading_said
from hideledger.rules.telling import TAGS, of_hide, of_line
from hideledger.rules.words import clock_said, when_said
from hideledger.shopfloor.floor import Floor, Oddity


def twice_the_same(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """The same acid twice within the hour is one dose written twice, or a double dose: only who did it knows."""
    for oddity in floor.oddities:
        if oddity.sort != "twice" or another_skin(oddity) or long_after(oddity):
            continue
        said, do = _told(oddity, horizon)
        yield of_line(
            floor,
            oddity.tags,
            oddity.entry,
            name="twice the same",
            when="record",
            message=said,
            do=do,
            more=() if oddity.other is None else (f"also {oddity.other.at.short}",),
            cause=f"line {oddity.entry.order}",
        )
    yield from _on_the_shelf(floor)


def _on_the_shelf(floor: Floor) -> Iterator[Finding]:
    """What was bought, used or paid is counted twice where its line stands twice; such a line names no tag."""
    said: dict[int, list[Entry]] = {}
    for entry in floor.entries:
        if entry.tags or entry.group is not None or not entry.when.timed:
            continue
        if not any(isinstance(fact, Bought | Counted | Used | Money) for fact in entry.facts):
            continue
        at_once = said.setdefault(entry.when.lo, [])
        first = next((other for other in at_once if other.facts == entry.facts), None)
        at_once.append(entry)
        if first is not None:
            yield of_line(
                floor,
                (),
                entry,
                name="twice the same",
                when="record",
                message=f"`{entry.text.strip()}` is written twice, and both count",
                do="strike one of the two with `struck` before it; if there were two, right the time of one",
                more=(f"also {first.at.short}",),
                cause=f"line {entry.order}",
            )


def _told(oddity: Oddity, horizon: Horizon) -> tuple[str, str]:
    """What stands there twice, and what to do about it."""
    entry, tag = oddity.entry, oddity.tags[0]
    when = when_said(horizon.clock, entry.when, horizon.at)
    strike = "strike one of the two with `struck` before it"
    match oddity.note:
        case "dose":
            return (
                f"the same dose within the hour, {when}",
                f"{strike}, or if it went in twice, read the bath and say so: `{tag} waived twice the same -- why`",
            )
        case "reading":
            first, second = _readings(oddity.other, entry)
            if first == second:
                return f"one reading at one minute, written twice: {second}, {when}", strike
            return (
                f"two readings at one minute, {first} and {second}, {when}",
                "strike the wrong one with `struck` before it; if both were read, right the time of one",
            )
        case "on":
            return (
                f"turned on while it turned, {when}",
                f"strike it with `struck` before it, or write what is missing: `{tag} off`",
            )
        case "off":
            ran = None if oddity.other is None else next((f for f in oddity.other.facts if isinstance(f, Ran)), None)
            if ran is not None:
                return (
                    f"turned off {when}, and another line says that it ran {clock_said(ran.start)} to {clock_said(ran.end)}: that one is taken",
                    f"strike the line that is wrong with `struck` before it; if it turned once more, write when it began: `{tag} on`",
                )
            return (
                f"turned off while it stood, {when}",
                f"strike it with `struck` before it, or write what is missing: `{tag} on`",
            )
        case "step":
            step = _step(entry)
            return f"{step} written again while it lies there, {when}", strike
        case _:
            return f"written twice, {when}", strike


def _readings(one: Entry | None, other: Entry) -> tuple[str, str]:
    """The two readings of one thing, the differing ones first."""
    before = [fact for fact in one.facts if isinstance(fact, Reading)] if one is not None else []
    pairs = [
        (reading_said(first), reading_said(second))
        for second in other.facts
        if isinstance(second, Reading)
        for first in before
        if (first.what, first.how) == (second.what, second.how)
    ]
    return next((pair for pair in pairs if pair[0] != pair[1]), pairs[0] if pairs else ("", ""))


def _step(entry: Entry) -> str:
    fact = next((fact for fact in entry.facts if isinstance(fact, Stepped)), None)
    if fact is None:
        return "the step"
    return f"{fact.step} in {fact.where}" if fact.where else fact.step


def long_after(oddity: Oddity) -> bool:
    """Whether a step is written again so long after the first line that the skin may have been out between."""
    other = oddity.other
    return oddity.note == "step" and other is not None and oddity.entry.when.lo - other.when.hi >= HOUR


def in_it_still(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A skin that goes into the tub it lies in was out of it between, and no line says from when to when."""
    for oddity in floor.oddities:
        if oddity.sort != "twice" or another_skin(oddity) or not long_after(oddity) or oddity.other is None:
            continue
        step = _step(oddity.entry)
        fact = next((fact for fact in oddity.entry.facts if isinstance(fact, Stepped)), None)
        where = "" if fact is None else fact.where
        out = f"`{TAGS} out of {where}`" if where else f"its step between, like this: `{TAGS} {step}`"
        for tag in oddity.tags:
            life = next((one for one in reversed(floor.hides.get(tag, [])) if oddity.entry in one.lines), None)
            if life is None:
                continue
            yield of_hide(
                life,
                name="not recorded",
                when="record",
                message=f"{step} again, {when_said(horizon.clock, oddity.entry.when, horizon.at)}, and that it came out since "
                f"{when_said(horizon.clock, oddity.other.when, horizon.at)} is not recorded; the time is taken as one stay",
                do=f"if it was out, write when, late, with its own date: {out}; if it lay there all the while, strike this line with `struck` before it",
                entry=oddity.entry,
                since=oddity.entry.when.lo,
                more=(f"put in at {oddity.other.at.short}",),
                cause=f"line {oddity.entry.order} again",
                days=(oddity.other.when.day, oddity.entry.when.day),
            )
