"""What stands where it cannot: steps out of their order, rests where none is allowed, salt and frost together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hideledger.model.entry import Entry
from hideledger.model.process import Step
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.missing import tag_that_leapt
from hideledger.rules.raw import pulled_since
from hideledger.rules.telling import TAGS, gone, of_bath, of_hide, pull_or_why
from hideledger.rules.words import when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife, Pause, Stay, StepMark


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
            meant = tag_that_leapt(floor, life, mark)
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
            yield from _dumped_with_hides(floor, oddity.tags, oddity.entry, horizon)


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


def _dumped_with_hides(floor: Floor, tags: tuple[str, ...], entry: Entry, horizon: Horizon) -> Iterator[Finding]:
    """A bath let go with skins in it rings while no line says where one of them has lain since: it may lie in nothing."""
    for tag in tags:
        for bath in floor.baths.get(tag, ()):
            if bath.ended is not entry:
                continue
            lifted = [m for m in bath.members if m.stay.end_entry is entry]
            lying = [m.hide for m in lifted if m.hide.here and _nowhere_since(m.hide, m.stay)]
            # Where the step that took them out is missing, that is the one forgotten line.
            gone_on = [m.hide for m in lifted if m.hide not in lying and not _step_missing_after(m.hide, m.stay)]
            since = None if bath.ended_when is None else bath.ended_when.lo
            when = "" if bath.ended_when is None else f" {when_said(horizon.clock, bath.ended_when, horizon.at)}"
            if lying:
                yield of_bath(
                    bath,
                    lying,
                    name="out of order",
                    when="now",
                    message=f"let go{when} with skins in it, and no line says where they have been since: wet, and in no bath",
                    do=f"look where they lie and get them into what they need, and write their next step; if they were out before, write it with a time before it was let go: `{TAGS} out of {bath.tag}`",
                    entry=entry,
                    since=since,
                    cause=f"line {entry.order} dumped",
                )
            if gone_on or not lifted:
                yield of_bath(
                    bath,
                    gone_on,
                    name="out of order",
                    when="record",
                    message=f"let go{when} with skins in it; they count as lifted out at that moment",
                    do=f"write where they went, with a time before it was let go: `{TAGS} out of {bath.tag}`, or their next step",
                    entry=entry,
                    since=since,
                    cause=f"line {entry.order} dumped",
                )


def _nowhere_since(life: HideLife, stay: Stay) -> bool:
    """Whether nothing was written of a hide's way since a stay that it was in: no step, no rest."""
    return life.stays[-1] is stay and life.resting is None and life.marks[-1] is stay.mark


def _step_missing_after(life: HideLife, stay: Stay) -> bool:
    later = False
    for mark in life.marks:
        if later and not mark.skipped:
            return any(missing.before is mark for missing in life.missing)
        later = later or mark is stay.mark
    return False


def wet_salted_into_the_freezer(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Salt keeps a wet skin from freezing through, so it lies there and rots; salted and dry it does no harm."""
    for life in horizon.lives:
        for pause in life.pauses:
            if not _wet_salted(life, pause):
                continue
            still = life.here and pause.end is None
            if pause.end is not None and pulled_since(life, pause.end.lo):
                continue
            yield of_hide(
                life,
                name="wet salted into the freezer",
                when="now" if still else "record",
                message=f"{pause.name} {when_said(horizon.clock, pause.start, horizon.at)} while wet with salt",
                do=f"thaw it in the cold, drain it, and go on with the salt or the pickle: `{TAGS} thawed`"
                if still
                else pull_or_why(life, "wet salted into the freezer", "pull gently at it before it goes on"),
                entry=pause.entry,
                since=pause.start.lo,
                cause=f"line {pause.entry.order}{gone(life)}",
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
    return any(one.entry is mark.entry and one.whole.supply.casefold() == "salt" for one in life.used)
