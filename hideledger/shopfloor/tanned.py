"""Leather is no raw skin: what was tanned, here or elsewhere, does not spoil like one, and comes back under its old tag or a new one."""

from __future__ import annotations

from collections.abc import Sequence

from hideledger.model.facts import Code, Formerly, InCondition, Killed, OfKind, OfSex, Party, Weighed
from hideledger.model.process import Process, Step
from hideledger.shopfloor.doings import TAN, Done, steps_of
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife

TANNED = "tanned"  # the condition in which leather comes to the door
_MAKES_LEATHER = "tan"


def leather_from(process: Process) -> int | None:
    """The place of the step that makes leather of a skin: the one that says `tanning begun`, or is called tan; else the last bath
    that may not be left out. None where the process has neither.
    """
    steps = list(enumerate(process.steps))
    begun = next((number for number, step in steps if step.tanning), None)
    if begun is None:
        begun = next((number for number, step in steps if step.called(_MAKES_LEATHER)), None)
    return begun if begun is not None else max((n for n, s in steps if not s.optional and is_bath(s)), default=None)


def is_bath(step: Step) -> bool:
    """Whether a step is done in liquor, by what its line says."""
    return step.in_bath or step.ph is not None or step.salt is not None or step.sort == "run" or step.called("pickle")


def tans_of(life: HideLife, done: Sequence[Done]) -> list[Done]:
    """The steps that tanned it; where none of them is written, the first that its process has only behind the tan."""
    tans = [one for one in done if one.sort == TAN]
    steps = life.process.steps if life.process is not None else ()
    begins = next((number for number, step in enumerate(steps) if step.tanning or step.called(TAN)), None)
    if tans or begins is None:
        return tans
    return [one for one in done if _place(steps, one.mark.line) >= begins][:1]


def was_tanned(life: HideLife) -> bool:
    """Whether a skin was leather when this life of it ended: its tan is written, or it went out after the last bath of its process."""
    done = [one for one in steps_of(life) if not one.mark.skipped]
    if life.tanned_before or tans_of(life, done):
        return True
    made = leather_from(life.process) if life.process is not None else None
    if life.process is None or made is None or life.ended_as != "out":
        return False
    return any(_place(life.process.steps, one.mark.line) >= made for one in done)


def note_coming(floor: Floor, life: HideLife) -> None:
    """Puts down whether a skin was leather when it came in, and which life of it this book holds already."""
    life.tanned_before = came_tanned(floor, life)
    earlier = _earlier(floor, life) if life.tanned_before and not (life.parent or life.from_box) else None
    if earlier is None or not was_tanned(earlier) or (not _named(life) and _another(earlier, life)):
        return
    life.before = earlier.before or earlier
    life.before.came_back = (*life.before.came_back, life)


def _named(life: HideLife) -> str:
    return next((fact.other for fact in life.arrived.facts if isinstance(fact, Formerly)), "")


def _earlier(floor: Floor, life: HideLife) -> HideLife | None:
    """The last life that had ended under its tag, or under the one it says it had."""
    lives = floor.hides.get(_named(life) or life.tag, ())
    ended = [one for one in lives if one is not life and one.ended_when is not None]
    return next((one for one in reversed(ended) if _over_by(one, life)), None)


def _over_by(one: HideLife, life: HideLife) -> bool:
    return one.ended_when is not None and one.ended_when.lo <= life.arrived_when.hi


def came_tanned(floor: Floor, life: HideLife) -> bool:
    """Whether it was leather when it came in: its lines say so, or this book tanned it before, under this tag or the one it `was`.

    A line that says it is raw (green, salted, a weight, a kill since) settles it the other way: a tag may begin anew on another skin.
    """
    whole = life.parent or life.from_box
    if whole:
        return any(one.tanned_before for one in floor.hides.get(whole, ()) if one.arrived is life.arrived)
    if life.condition is not None:
        return life.condition[0].condition == TANNED
    if any(mark.elsewhere and done.sort == TAN for done in steps_of(life) if (mark := done.mark).entry is life.arrived):
        return True
    earlier = _earlier(floor, life)
    if earlier is None or not was_tanned(earlier):
        return False
    return bool(_named(life)) or not _another(earlier, life)


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


def _place(steps: Sequence[Step], line: Step | None) -> int:
    return next(
        (number for number, step in enumerate(steps) if line is not None and (step is line or step == line)), -1
    )
