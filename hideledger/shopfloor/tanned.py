"""Leather is no raw skin: what was tanned, here or elsewhere, does not spoil like one, and comes back under its old tag or a new one."""

from __future__ import annotations

from collections.abc import Sequence

from hideledger.model.facts import Code, Formerly, InCondition, Killed, OfKind, OfSex, Party, Weighed
from hideledger.model.process import Process, Step
from hideledger.shopfloor.again import earlier_lives, take_over
from hideledger.shopfloor.doings import TAN, Done, steps_of
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife, StepMark

# Where a process begins and where it ends: no work is done there.
ENDS = ("in", "out")

TANNED = "tanned"  # the condition in which leather comes to the door
# Where no step of the process says `tanning begun`, a step of this name is the one: the pickle before it is no tan.
MAKES_LEATHER = "tan"


def leather_from(process: Process) -> int | None:
    """One step makes leather of a skin: the one that says `tanning begun`, or is called tan; this is its place.

    Else the last bath that may not be left out. None where the process has neither.
    """
    begun = tan_of(process)
    if begun is not None:
        return begun
    return max((n for n, step in enumerate(process.steps) if not step.optional and is_bath(step)), default=None)


def tan_of(process: Process) -> int | None:
    """The place of the step at which tanning begins, where the process says it or shows it by a name."""
    steps = list(enumerate(process.steps))
    begun = next((number for number, step in steps if step.tanning), None)
    return begun if begun is not None else next((n for n, step in steps if step.called(MAKES_LEATHER)), None)


def is_bath(step: Step) -> bool:
    """Whether a step is done in liquor, by what its line says."""
    return step.in_bath or step.ph is not None or step.salt is not None or step.sort == "run" or step.called("pickle")


def tans_of(life: HideLife, done: Sequence[Done]) -> list[Done]:
    """The steps that tanned it; where none of them is written, the first that its process has only behind the tan."""
    tans = [one for one in done if one.sort == TAN]
    if tans or life.process is None:
        return tans
    process = life.process
    begins = next((n for n, step in enumerate(process.steps) if step.tanning or step.called(MAKES_LEATHER)), None)
    return [] if begins is None else [one for one in done if process.place_of(one.mark.line) >= begins][:1]


def was_tanned(life: HideLife) -> bool:
    """Whether a skin was leather when this life of it ended: its tan is written, or it went out after the last bath of its process."""
    if life.tanned_before or _tans_here(life):
        return True
    made = leather_from(life.process) if life.process is not None else None
    return made is not None and life.ended_as == "out" and _went_to(life, made)


def was_worked(life: HideLife) -> bool:
    """Whether it went as far as the work that makes leather of a skin, or further: salted and fetched again it is no tanned one.

    Where its process makes no leather, as far as the last step that may not be left out. Of a hide whose process is not known nobody can
    tell, and it counts as worked.
    """
    if life.tanned_before or life.process is None or not life.process.steps:
        return True
    return _went_to(life, place_of_work(life.process)) or bool(_tans_here(life))


def came_as_leather(life: HideLife) -> bool:
    """Whether it came in as leather and is no hide that this shop tanned: one of its own again, or another's that no tan here began on."""
    if life.before is not None:
        return True
    return life.tanned_before and not any(one.sort == TAN and not one.mark.elsewhere for one in _done(life))


def tan_began(life: HideLife) -> StepMark | None:
    """The line with which the tan began: the step that says so, where its process has one; else the first that tans by its name, line or bath."""
    if life.process is not None and any(step.tanning for step in life.process.steps):
        marks = (mark for mark in life.marks if mark.line is not None and mark.line.tanning and not mark.skipped)
    else:
        marks = (one.mark for one in _done(life) if one.sort == TAN)
    return next(marks, None)


def place_of_work(process: Process) -> int:
    """The place of the step that makes leather; in a process without one that of the last step that holds, or is needed; else the first."""
    made = leather_from(process)
    if made is not None:
        return made
    rows = [number for number, step in enumerate(process.steps) if step.name not in ENDS]
    needed = [number for number in rows if not process.steps[number].optional]
    holds = [number for number in needed if process.steps[number].sort != "moment"]
    return (holds or needed)[-1] if needed else rows[0] if rows else 0


def _done(life: HideLife) -> list[Done]:
    return [one for one in steps_of(life) if not one.mark.skipped]


def _tans_here(life: HideLife) -> list[Done]:
    return tans_of(life, _done(life))


def _went_to(life: HideLife, place: int) -> bool:
    """Whether a line of it stands at a place of its process or behind it; one written out of order stands where its name stands last."""
    steps = life.process.steps if life.process is not None else ()
    return any(_place_of(mark, steps) >= place for mark in reversed(life.marks) if not mark.skipped)


def _place_of(mark: StepMark, steps: Sequence[Step]) -> int:
    if mark.name in ENDS:
        return -1
    named = -1
    for number, step in enumerate(steps):
        if step is mark.line:
            return number
        if step.called(mark.name):
            named = number
    return named


def note_coming(floor: Floor, life: HideLife) -> None:
    """Puts down whether a skin was leather when it came in, and which life of it this book holds already.

    It takes over what was written of it then; a part of it does too.
    """
    whole = life.parent or life.from_box
    if whole:
        above = next((one for one in floor.hides.get(whole, ()) if one.arrived is life.arrived), None)
        if above is not None:
            life.tanned_before = above.tanned_before
            _go_on_with(life, above.was, above.before)
        return
    earlier = _here_before(floor, life)
    leather = earlier is not None and was_tanned(earlier)
    said = _said_tanned(life)
    life.tanned_before = leather if said is None else said
    if earlier is not None:
        _go_on_with(life, earlier, (earlier.before or earlier) if life.tanned_before and leather else None)


def _go_on_with(life: HideLife, was: HideLife | None, before: HideLife | None) -> None:
    if was is None or was is life or any(one is life for one in earlier_lives(was)):
        return
    take_over(life, was, leather=life.tanned_before)
    if before is not None and before is not life:
        life.before = before
        before.came_back = (*before.came_back, life)


def _named(life: HideLife) -> str:
    return next((fact.other for fact in life.arrived.facts if isinstance(fact, Formerly)), "")


def _said_tanned(life: HideLife) -> bool | None:
    """Whether its own lines say that it came as leather, or that it came raw; None where they say neither."""
    if life.condition is not None:
        return life.condition[0].condition == TANNED
    at_door = [done for done in steps_of(life) if done.mark.elsewhere and done.mark.entry is life.arrived]
    return True if any(done.sort == TAN for done in at_door) else None


def _here_before(floor: Floor, life: HideLife) -> HideLife | None:
    """The life of the same skin that ended before: under the tag it says it had; or, where it was leather then, under its own.

    A line that says it is raw (green, salted, a weight, a kill since) makes another skin of it: a tag may begin anew.
    """
    named = _named(life)
    ended = [
        one
        for one in floor.hides.get(named or life.tag, ())
        if one is not life and one.ended_when is not None and one.ended_when.lo <= life.arrived_when.hi
    ]
    if not ended or (not named and _another(ended[-1], life)):
        return None
    if not named and not was_tanned(ended[-1]) and not (_said_tanned(life) and ended[-1].ended_as == "out"):
        return None  # a tag begins anew; but what went raw to another shop may come back from there as leather
    return ended[-1]


def _another(old: HideLife, life: HideLife) -> bool:
    """Whether what is said of a skin that came in under a tag used before makes another, raw skin of it."""
    if any(isinstance(fact, Weighed) for fact in life.arrived.facts):
        return True  # a raw skin is mostly weighed at the door, leather seldom
    return any(
        _differs(old, fact)
        for entry in life.lines
        for fact in entry.facts
        if len(entry.tags) < 2 or entry is life.arrived
    )


def _differs(old: HideLife, fact: object) -> bool:
    match fact:
        case OfKind():
            return bool(old.kind) and fact.kind.casefold() != old.kind.casefold()
        case OfSex():
            return bool(old.sex) and fact.sex.casefold() != old.sex.casefold()
        case Party(role="for"):
            return bool(old.payer) and fact.name.casefold() != old.payer.casefold()
        case Code(sort="tag"):
            known = old.codes.get("tag")
            return known is not None and fact.code.casefold() != known[0].code.casefold()
        case Killed():
            known_kill = old.killed
            return known_kill is None or fact != known_kill[0]
        case InCondition():
            return fact.condition != TANNED
        case _:
            return False
