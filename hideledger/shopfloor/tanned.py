"""Leather is no raw skin: what was tanned, here or elsewhere, does not spoil like one, and comes back under its old tag or a new one."""

from __future__ import annotations

from collections.abc import Sequence

from hideledger.model.facts import Code, Formerly, InCondition, Killed, OfKind, OfSex, Party, Weighed
from hideledger.model.process import Process, Step
from hideledger.shopfloor.doings import TAN, Done, steps_of
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife

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
    done = [one for one in steps_of(life) if not one.mark.skipped]
    if life.tanned_before or tans_of(life, done):
        return True
    made = leather_from(life.process) if life.process is not None else None
    if life.process is None or made is None or life.ended_as != "out":
        return False
    return any(life.process.place_of(one.mark.line) >= made for one in done)


def note_coming(floor: Floor, life: HideLife) -> None:
    """Puts down whether a skin was leather when it came in, and which life of it this book holds already."""
    whole = life.parent or life.from_box
    if whole:
        life.tanned_before = any(one.tanned_before for one in floor.hides.get(whole, ()) if one.arrived is life.arrived)
        return
    earlier = _tanned_here(floor, life)
    said = _said_tanned(life)
    life.tanned_before = earlier is not None if said is None else said
    if life.tanned_before and earlier is not None:
        life.before = earlier.before or earlier
        life.before.came_back = (*life.before.came_back, life)


def _named(life: HideLife) -> str:
    return next((fact.other for fact in life.arrived.facts if isinstance(fact, Formerly)), "")


def _said_tanned(life: HideLife) -> bool | None:
    """Whether its own lines say that it came as leather, or that it came raw; None where they say neither."""
    if life.condition is not None:
        return life.condition[0].condition == TANNED
    at_door = [done for done in steps_of(life) if done.mark.elsewhere and done.mark.entry is life.arrived]
    return True if any(done.sort == TAN for done in at_door) else None


def _tanned_here(floor: Floor, life: HideLife) -> HideLife | None:
    """The life of the same skin that ended before, as leather: under the tag it says it had, or under its own.

    A line that says it is raw (green, salted, a weight, a kill since) makes another skin of it: a tag may begin anew.
    """
    named = _named(life)
    ended = [
        one
        for one in floor.hides.get(named or life.tag, ())
        if one is not life and one.ended_when is not None and one.ended_when.lo <= life.arrived_when.hi
    ]
    if not ended or not was_tanned(ended[-1]) or (not named and _another(ended[-1], life)):
        return None
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
