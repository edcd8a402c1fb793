"""Which hide it is, whose, where it is now, and where hair came loose."""

from __future__ import annotations

from collections.abc import Iterator

from hideledger.answers.saying import written_stamp
from hideledger.answers.sheet import Row
from hideledger.answers.slip.at_step import step_before
from hideledger.answers.slip.lives import became_of, of_the_tag
from hideledger.answers.slip.question import places_of
from hideledger.answers.slip.sign import Case, by_whom, seen_words
from hideledger.answers.standing import state_of
from hideledger.model.facts import Flaw
from hideledger.rules.words import who
from hideledger.shopfloor.noted import Defect


def head(case: Case) -> Iterator[Row]:
    """Each row with the lines of the book it comes from."""
    life = case.life
    parts = [life.kind or "kind not written", f"for {life.payer}" if life.payer else "for nobody by name"]
    if life.process is not None:
        parts.append(f"process {life.process.name}")
    if life.parent:
        parts.append(f"{life.what or 'a part'} cut from {life.parent}")
    if life.from_box:
        parts.append(f"out of box {life.from_box}")
    if life.box:
        parts.append(f"box of {life.count}")
    came = f"in {written_stamp(life.arrived_when, case.clock)}" if life.declared else "its arrival is not in the book"
    parts.append(came)
    under = () if not life.declared else (("from", life.arrived.at.short),)
    yield Row(head=life.tag, text=", ".join(parts), under=under)
    if life.ended_when is not None:
        to = f" to {life.handed_to}" if life.handed_to else ""
        parts = _parts(case)
        if parts:
            to = (
                f" into {who(parts)}, each with a sheet of its own"
                if life.ended_as == "cut"
                else f": {who(parts)}, each with a sheet of its own"
            )
        remark = f" -- {life.ended.remark}" if life.ended is not None and life.ended.remark else ""
        yield Row(head="now", text=f"{life.ended_as} {written_stamp(life.ended_when, case.clock)}{to}{remark}")
    else:
        yield Row(head="now", text=state_of(life))
    for back in life.came_back:
        under_tag = f" as {back.tag}" if back.tag != life.tag else ""
        yield Row(
            head="came back",
            text=f"in {written_stamp(back.arrived_when, case.clock)}{under_tag}, the same skin by what is written; {state_of(back) if back.here else back.ended_as}",
            under=(("from", back.arrived.at.short),),
        )
    yield from _before_it_came_back(case)
    yield from _tag_given_again(case)
    yield from _after_it_was_gone(case)
    if case.sign is not None:
        yield _seen("first sign", case, case.sign)
        last = step_before(case)
        if last is not None:
            yield Row(head="step before", text=last[0], under=(("from", places_of([last[1].mark.entry])),))
        for one in case.later:
            yield _seen("seen again", case, one)
    for one in case.at_door:
        words = seen_words(one)
        yield Row(
            head="at the door",
            text=f"{case.defect}{f' {words}' if words else ''} was there when it came: that is no outcome of the shop",
            under=(("from", places_of([one.entry])),),
        )


def _before_it_came_back(case: Case) -> Iterator[Row]:
    """The same tag earlier: one skin that came back, or another; only whoever wrote it knows."""
    for one in of_the_tag(case.floor, case.life):
        if one is case.life or one.arrived_when.lo > case.life.arrived_when.lo:
            continue
        left = f", {one.ended_as} {written_stamp(one.ended_when, case.clock)}" if one.ended_when is not None else ""
        yield Row(
            head="before",
            text=f"the tag was here before, in {written_stamp(one.arrived_when, case.clock)}{left}; if it is the same skin come back, what it met then counts too: `hideledger history {one.tag}`",
            under=(("from", one.arrived.at.short),),
        )


def _tag_given_again(case: Case) -> Iterator[Row]:
    """A later skin under the same tag: nothing on this sheet is about it."""
    for one in of_the_tag(case.floor, case.life):
        if one is case.life or one.arrived_when.lo <= case.life.arrived_when.lo:
            continue
        yield Row(
            head="later",
            text=f"another skin bears the tag since, in {written_stamp(one.arrived_when, case.clock)}, {became_of(case.floor, one)}; nothing here is about it: `hideledger history {one.tag}`",
            under=(("from", one.arrived.at.short),),
        )


def _after_it_was_gone(case: Case) -> Iterator[Row]:
    """A failure written of a skin that was gone by then: nothing that the shop saw, unless it came back."""
    told = [
        entry
        for entry in case.life.after_end
        if any(isinstance(fact, Flaw) and fact.defect == case.defect for fact in entry.facts)
    ]
    if told:
        when = case.said(case.floor.moment(told[0], case.life.tag))
        yield Row(
            head=f"{case.life.ended_as}, then",
            text=f"{case.defect} was written of it {when}, when it was gone: did it come back (then write `{case.life.tag} in` first), or is the tag another's?",
            under=(("from", places_of(told)),),
        )


def _parts(case: Case) -> list[str]:
    """The tags under which a skin that was cut, or a box that was opened, goes on."""
    tag = case.life.tag
    if case.life.ended_as not in ("cut", "opened"):
        return []
    return [one.tag for one in case.floor.all_hides() if tag in (one.parent, one.from_box) and one is not case.life]


def _seen(label: str, case: Case, one: Defect) -> Row:
    words = seen_words(one) or "where and how large is not recorded"
    remark = f" -- {one.entry.remark}" if one.entry.remark else ""
    return Row(
        head=label,
        text=f"{words}, {case.said(one.when)}{by_whom(one.entry)}{remark}",
        under=(("from", places_of([one.entry])),),
    )
