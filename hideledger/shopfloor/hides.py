"""What is written on a hide: the last line on each matter counts, except that nothing sets a clock back."""

from __future__ import annotations

from collections.abc import Set as AbstractSet
from fractions import Fraction

from hideledger.model.entry import Entry
from hideledger.model.facts import (
    Arrived,
    Code,
    Divided,
    Flaw,
    HandedOut,
    Hung,
    InCondition,
    KeepApart,
    Killed,
    LiftedOut,
    Lost,
    OfKind,
    OfSex,
    OnProcess,
    Opened,
    Party,
    Promised,
    Reading,
    Refused,
    Remark,
    Shrinks,
    Sized,
    Skipped,
    StandsIn,
    Stepped,
    Tested,
    Took,
    Waived,
    Weighed,
)
from hideledger.model.moments import When
from hideledger.shopfloor.afoot import HideAfoot, Walk
from hideledger.shopfloor.life import HideLife, StepMark
from hideledger.shopfloor.lives import born, cut, end_life, hand_out, open_box, stand_in, take_out
from hideledger.shopfloor.noted import Answer, Defect, Spent, Taken, Test, Weight
from hideledger.shopfloor.steps import begin_rest, lift_out, skip, take_step, told_times

# What cannot happen to a hide that is gone. Money, codes and names may still be written.
_WORK: frozenset[type] = frozenset(
    (
        Divided,
        Flaw,
        HandedOut,
        LiftedOut,
        Lost,
        Opened,
        Reading,
        Refused,
        Shrinks,
        Skipped,
        Stepped,
        Tested,
        Took,
        Weighed,
    )
)


def hide_line(walk: Walk, tag: str, entry: Entry, when: When, sorts: AbstractSet[type], sharing: int) -> None:
    """One line about one hide. `sorts` are the types of its facts, `sharing` how many hides the line names."""
    hide = walk.hides.get(tag)
    comes = Arrived in sorts
    if hide is not None and hide.life.ended is None:
        last = hide.last_line
        if (
            last is not None
            and last.when == entry.when
            and entry.when.timed
            and last.facts == entry.facts
            and last.facts
        ):
            walk.oddity("twice", (tag,), entry, last)
        elif comes:
            hide.life.twice_in.append(entry)
            note = "another skin" if _another_skin(hide.life, entry) else ""
            walk.oddity("twice", (tag,), entry, hide.life.arrived, note)
        else:
            _facts(walk, hide, entry, when, sharing)
        hide.last_line = entry
        hide.life.lines.append(entry)
        return
    if comes or (hide is None and Refused in sorts):
        early = walk.pending.pop(tag, []) if hide is None else []
        hide = born(walk, tag, entry, when)
        _replay(walk, hide, early)
        _facts(walk, hide, entry, when, sharing)
        hide.last_line = entry
        hide.life.lines.append(entry)
    elif hide is None and tag in walk.unsure:
        hide = born(walk, tag, entry, when, declared=False)
        hide.life.places.append((when, ""))
        _facts(walk, hide, entry, when, sharing)
        hide.last_line = entry
        hide.life.lines.append(entry)
    elif hide is None:
        walk.pending.setdefault(tag, []).append((entry, when))
    else:
        if sorts & _WORK:
            hide.life.after_end.append(entry)
        else:
            hide.life.lines.append(entry)
            _facts(walk, hide, entry, when, sharing)


def said_skin(entry: Entry) -> str:
    """What an arrival line says came: its kind, else the words that stand where a kind stands; empty: nothing."""
    kind = next((fact.kind for fact in entry.facts if isinstance(fact, OfKind)), "")
    if kind:
        return kind
    arrived = next((i for i, fact in enumerate(entry.facts) if isinstance(fact, Arrived)), None)
    behind = entry.facts[arrived + 1 : arrived + 2] if arrived is not None else ()
    return behind[0].text if behind and isinstance(behind[0], Remark) else ""


def _another_skin(life: HideLife, entry: Entry) -> bool:
    """Whether an arrival under the tag of a hide that is here says something else of it: kind, sex, people, legal tag or
    weight.
    """
    first, second = said_skin(life.arrived), said_skin(entry)
    if first and second and first.casefold() != second.casefold():
        return True
    for fact in entry.facts:
        match fact:
            case OfKind():
                differs = bool(life.kind) and fact.kind.casefold() != life.kind.casefold()
            case OfSex():
                differs = bool(life.sex) and fact.sex.casefold() != life.sex.casefold()
            case Party():
                known = life.parties.get(fact.role)
                differs = known is not None and fact.name.casefold() != known[0].name.casefold()
            case Code(sort="tag"):
                tag = life.codes.get("tag")
                differs = tag is not None and fact.code.casefold() != tag[0].code.casefold()
            case Weighed():
                came = [weight.weight for weight in life.weights if weight.entry is life.arrived]
                differs = bool(came) and all(fact.weight.to("lb") != weight.to("lb") for weight in came)
            case _:
                differs = False
        if differs:
            return True
    return False


def _replay(walk: Walk, hide: HideAfoot, early: list[tuple[Entry, When]]) -> None:
    """Lines that stand before the hide's own `in` are lines of that life all the same."""
    for entry, when in early:
        _facts(walk, hide, entry, when, max(1, len(entry.tags)))
        hide.life.lines.append(entry)


def _facts(walk: Walk, hide: HideAfoot, entry: Entry, when: When, sharing: int) -> None:
    life = hide.life
    door = entry is life.arrived and life.declared
    facts = entry.facts
    together: Weight | None = None
    for i, fact in enumerate(facts):
        match fact:
            case Stepped():
                times = None if fact.span is None and len(facts) == 1 else told_times(facts, when, walk.clock)
                began, over = (when, None) if times is None else times[i]
                take_step(walk, hide, entry, began, fact, over=over, door=door)
            case Weighed():
                share = sharing if fact.together else 1
                weight = Weight(entry=entry, when=when, weight=fact.weight, basis=fact.basis, shared_by=share)
                life.weights.append(weight)
                hide.weight_marks.append(len(life.marks))
                together = weight if fact.together else together
            case Tested():
                life.tests.append(Test(entry=entry, when=when, fact=fact))
                hide.failed = hide.failed or not fact.passed
            case Took():
                life.used.append(Spent(entry=entry, whole=fact.amount, part=Fraction(1, max(1, sharing))))
            case LiftedOut():
                take_out(walk, hide, fact.where, entry, when)
                lift_out(walk, hide, entry, when, fact)
            case Flaw():
                life.defects.append(Defect(entry=entry, when=when, fact=fact, at_door=door))
            case Reading() | Shrinks() | Sized():
                life.taken.append(Taken(entry=entry, when=when, fact=fact))
            case Skipped():
                skip(hide, entry, when, fact)
            case Waived():
                life.waived.append(Answer(entry=entry, when=when, fact=fact))
            case Arrived():
                life.count, life.box = fact.count or 1, fact.count is not None
                life.marks.append(StepMark(entry=entry, when=when, name="in"))
                life.places.append((when, ""))
            case HandedOut():
                hand_out(walk, hide, entry, when, fact)
            case Lost():
                end_life(walk, hide, entry, when, "lost")
            case Refused():
                end_life(walk, hide, entry, when, "refused")
            case Divided():
                for part in cut(walk, hide, entry, when, fact):
                    part.life.lines.append(entry)
                    _replay(walk, part, walk.pending.pop(part.life.tag, []))
            case Opened():
                for skin in open_box(walk, hide, entry, when, fact):
                    skin.life.lines.append(entry)
                    _replay(walk, skin, walk.pending.pop(skin.life.tag, []))
            case StandsIn():
                stand_in(walk, hide, fact)
            case InCondition():
                _condition(walk, hide, entry, when, fact)
            case _:
                _matter(hide, entry, fact)
    if together is not None and hide.bath is not None:
        loads = hide.bath.life.load_weights
        if not loads or loads[-1].entry is not entry:
            loads.append(together)


def _matter(hide: HideAfoot, entry: Entry, fact: object) -> None:
    """Matters that hold until written anew."""
    life = hide.life
    match fact:
        case OfKind():
            life.kind = fact.kind
        case OfSex():
            life.sex = fact.sex
        case Killed():
            life.killed = (fact, entry)
        case Hung():
            life.hung = (fact, entry)
        case Party():
            life.parties[fact.role] = (fact, entry)
        case Code():
            life.codes[fact.sort] = (fact, entry)
        case Promised():
            life.promised = (fact, entry)
        case OnProcess():
            hide.process_name, life.process_entry = fact.process, entry
        case KeepApart():
            life.apart = (fact, entry)
        case _:  # remarks, initials, money: read from the lines themselves
            pass


def _condition(walk: Walk, hide: HideAfoot, entry: Entry, when: When, fact: InCondition) -> None:
    """A hide that came frozen rests from the door on, even where that was written only later."""
    life = hide.life
    life.condition = (fact, entry)
    frozen = fact.condition == "frozen"
    if frozen and not life.pauses and hide.stay is None and all(mark.name == "in" for mark in life.marks):
        begin_rest(walk, hide, life.arrived, life.arrived_when, "frozen", "", from_door=True)
    elif not frozen and hide.pause is not None and hide.pause.from_door:
        life.pauses.remove(hide.pause)
        hide.course = [turn for turn in hide.course if turn[1] != "rest"]
        hide.pause, hide.rested = None, False
        walk.stand(hide, "", when)
