"""The whole line says what its pieces could not: where a defect is, whose weight it is, in which year it was killed."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Sequence
from datetime import date
from typing import Any

from hideledger.model.facts import (
    Arrived,
    Divided,
    Dumped,
    Expires,
    Fact,
    Flaw,
    Killed,
    Mixed,
    Opened,
    Promised,
    Remark,
    Sized,
    Stamp,
    Tested,
    Weighed,
)
from hideledger.reading.loose import (
    Across,
    BareOut,
    BareWeight,
    ByRecipe,
    CountOf,
    DatedTo,
    Degree,
    InVessel,
    KilledAt,
    KilledOn,
    Let,
    Loose,
    OnHide,
    Part,
    Size,
    Skins,
    Where,
)
from hideledger.reading.trouble import Unreadable

Said = tuple[Fact, int]  # a fact and the offset in the line of the piece that said it


def settle(said: Sequence[Said], *, several: bool, day: date) -> tuple[Fact, ...]:
    """The facts of a line, none of them loose. Raises Unreadable at an offset in the line."""
    facts: list[Fact] = []
    theirs: Skins | None = None
    for fact, offset in said:
        if not isinstance(fact, Loose):
            facts.append(fact)
            continue
        try:
            if isinstance(fact, Skins) and fact.theirs:
                theirs = fact
            else:
                _fold(facts, fact, several=several, day=day)
        except Unreadable as trouble:
            raise trouble.moved(offset) from None
        if theirs is fact:
            _theirs(facts, theirs, offset)
    if not facts:
        offset = said[0][1] if said else 0
        raise Unreadable("nothing", "this says nothing yet", offset)
    return tuple(facts)


def _last(facts: list[Fact], *sorts: type[Fact]) -> int | None:
    for index in range(len(facts) - 1, -1, -1):
        if isinstance(facts[index], sorts):
            return index
    return None


def _fold(facts: list[Fact], fact: Loose, *, several: bool, day: date) -> None:
    match fact:
        case BareOut():
            raise Unreadable(
                "bare out", "out: handed back (`out to WHOM`), or lifted out (`out of P3`)?", fact.start, fact.end
            )
        case BareWeight():
            if several:
                message = f"{fact.weight} on several hides: each (`{fact.weight} each`), or together (`together {fact.weight}`)?"
                raise Unreadable("each or together", message, fact.start, fact.end)
            facts.append(Weighed(weight=fact.weight, basis=fact.basis))
        case KilledOn():
            stamp = Stamp(day=fact.written.last_before(day), minute=fact.minute)
            index = _last(facts, Killed)
            where = facts[index].where if index is not None and isinstance(facts[index], Killed) else ""  # type: ignore[attr-defined]
            if index is not None:
                del facts[index]
            facts.append(Killed(stamp=stamp, where=where))
        case KilledAt():
            index = _last(facts, Killed)
            if index is None:
                facts.append(Killed(where=fact.where))
            else:
                facts[index] = dataclasses.replace(facts[index], where=fact.where)  # type: ignore[call-arg]
        case DatedTo():
            found = fact.written.first_after(day)
            facts.append(Promised(day=found) if fact.word == "promised" else Expires(day=found))
        case Across():
            facts.append(_measure(facts, fact))
        case Part():
            index = _last(facts, Divided)
            if index is None:
                facts.append(Divided(parts=((fact.tag, fact.what),)))
            else:
                divided = facts[index]
                assert isinstance(divided, Divided)
                facts[index] = Divided(parts=(*divided.parts, (fact.tag, fact.what)))
        case _:
            _into(facts, fact)


def _measure(facts: list[Fact], across: Across) -> Sized:
    """The hide's own measure, unless it stands behind a defect: then it may as well say where that is, and is refused."""
    before = next((fact for fact in reversed(facts) if not isinstance(fact, Remark)), None)
    if not isinstance(before, Flaw):
        return Sized(what=across.what, size=across.size)
    defect, measure = before.defect, f"{across.what} {across.size}"
    there = f"{defect} there (`{defect} {measure}`)"
    if across.what in ("length", "width"):
        there = f"how far the {defect} goes (`{defect}, {across.size}`)"
    message = f"{measure}: {there}, or the hide's own measure (in front of the {defect}, or on a line of its own)?"
    raise Unreadable("defect or measure", message, across.start, across.end)


def _into(facts: list[Fact], fact: Loose) -> None:
    """Folds a half-fact into the fact it goes with."""
    for sorts, change in _GOES_WITH.get(type(fact), ()):
        index = _last(facts, *sorts)
        if index is not None:
            facts[index] = change(facts[index], fact)
            return
    if isinstance(fact, Where):
        facts.append(Remark(text=fact.text))
        return
    raise Unreadable("alone", "this goes with nothing on its line", fact.start, max(fact.end, fact.start + 1))


def _theirs(facts: list[Fact], theirs: Skins, offset: int) -> None:
    index = _last(facts, Opened)
    assert index is not None
    opened = facts[index]
    assert isinstance(opened, Opened)
    if len(theirs.tags) != len(opened.tags):
        tags = "1 tag" if len(theirs.tags) == 1 else f"{len(theirs.tags)} tags"
        message = f"{tags} of theirs for {len(opened.tags)} skins: one for each, in the same order"
        raise Unreadable("their tags", message, theirs.start + offset, theirs.end + offset)
    facts[index] = dataclasses.replace(opened, their_tags=theirs.tags)


def _joined(before: str, more: str) -> str:
    return f"{before}, {more}" if before else more


_Change = Callable[[Any, Any], Fact]
_GOES_WITH: dict[type[Loose], tuple[tuple[tuple[type[Fact], ...], _Change], ...]] = {
    Where: (
        ((Flaw,), lambda flaw, where: dataclasses.replace(flaw, where=_joined(flaw.where, where.text))),
        ((Tested,), lambda test, where: dataclasses.replace(test, where=_joined(test.where, where.text))),
        ((Dumped,), lambda dumped, where: dataclasses.replace(dumped, where=_joined(dumped.where, where.text))),
    ),
    Degree: (((Flaw,), lambda flaw, degree: dataclasses.replace(flaw, degree=degree.degree)),),
    Size: (((Flaw,), lambda flaw, size: dataclasses.replace(flaw, size=size.size)),),
    OnHide: (((Tested,), lambda test, on: dataclasses.replace(test, on=on.tag)),),
    CountOf: (((Arrived,), lambda arrived, count: dataclasses.replace(arrived, count=count.count)),),
    InVessel: (((Mixed,), lambda mixed, vessel: dataclasses.replace(mixed, vessel=vessel.vessel)),),
    ByRecipe: (((Mixed,), lambda mixed, recipe: dataclasses.replace(mixed, recipe=recipe.recipe)),),
    Let: (((Dumped,), lambda dumped, let: dataclasses.replace(dumped, volume=let.volume)),),
    Skins: (((Opened,), lambda opened, skins: dataclasses.replace(opened, tags=(*opened.tags, *skins.tags))),),
}
