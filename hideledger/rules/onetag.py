"""One tag on two things: on a skin and a tub, or on two skins."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hideledger.model.facts import Fact, Flaw, HandedOut, LiftedOut, Lost, Mixed, Skipped, Stepped
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.telling import of_line
from hideledger.rules.tubs import free_tag
from hideledger.rules.words import listed, when_said
from hideledger.shopfloor.floor import Floor, Oddity
from hideledger.shopfloor.hides import said_skin


def another_skin(oddity: Oddity) -> bool:
    """Whether an `in` of a tag that is here tells of another skin: another kind, customer, legal tag or weight."""
    return oddity.note == "another skin"


def one_tag_two_things(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A tag stands for one thing in the shop: a skin and a tub of one name cannot be told apart a month later."""
    for oddity in (odd for odd in floor.oddities if odd.sort == "twice"):
        if not another_skin(oddity):
            continue
        tag = oddity.tags[0]
        first = "" if oddity.other is None else said_skin(oddity.other)
        second = said_skin(oddity.entry)
        free = (
            free_tag({*floor.hides, *floor.baths}, tag.rstrip("0123456789") or "H")
            if tag[-1].isdecimal()
            else f"{tag}1"
        )
        yield of_line(
            floor,
            oddity.tags,
            oddity.entry,
            name="one tag for two things",
            when="now",
            message=f"{listed(oddity.tags)} {'is' if len(oddity.tags) == 1 else 'are'} here already{f' ({first})' if first else ''}; give "
            f"{f'the {second}' if second and second.casefold() != first.casefold() else 'the second one'} another tag, "
            f"{when_said(horizon.clock, oddity.entry.when, horizon.at)}",
            do=f"strike this line with `struck` before it, and write it again with a tag of its own, like this: `{free} in"
            f"{f', {second}' if second else ''}`",
            more=() if oddity.other is None else (f"first at {oddity.other.at.short}",),
            cause=f"line {oddity.entry.order}",
        )
    for oddity in (odd for odd in floor.oddities if odd.sort == "two declarations"):
        yield of_line(
            floor,
            oddity.tags,
            oddity.entry,
            name="one tag for two things",
            when="record",
            message=f"{listed(oddity.tags)} is a {oddity.note} already; this line, "
            f"{when_said(horizon.clock, oddity.entry.when, horizon.at)}, makes it something else",
            do="give one of the two another tag, and right its lines",
            more=() if oddity.other is None else (f"first at {oddity.other.at.short}",),
            cause=f"line {oddity.entry.order}",
        )
    yield from _done_to_a_skin(floor, horizon)


def _done_to_a_skin(floor: Floor, horizon: Horizon) -> Iterator[Finding]:
    """`P3 pickle`: whose step it is stands nowhere, and it would be counted for nobody without a word."""
    for oddity in (odd for odd in floor.oddities if odd.sort == "done to a skin"):
        tag, entry = oddity.tags[0], oddity.entry
        said = listed(list(dict.fromkeys(word for fact in entry.facts if (word := _said_of_a_skin(fact)))))
        steps = [fact.step for fact in entry.facts if isinstance(fact, Stepped) and fact.step]
        recipe = next((step for step in steps if step.casefold() in floor.book.shop.recipes), "")
        word = steps[0] if steps else said
        if recipe and any(isinstance(fact, Mixed) for fact in entry.facts):
            do = f"if that is its recipe, strike this line with `struck` before it, and write `{tag} mixed, recipe {recipe}` in its stead; if it is done to skins, name them"
        elif said == "out":
            do = f"a bath that is let go is `{tag} dumped`: strike this line with `struck` before it, and write that"
        else:
            do = f"name the skins on a line of their own, `all in {tag} {word}` or by their tags, and strike this one with `struck` before it"
        yield of_line(
            floor,
            oddity.tags,
            entry,
            name="one tag for two things",
            when="now",
            message=f"{tag} is a bath, and `{said}` is said of a skin; it counts for none, {when_said(horizon.clock, entry.when, horizon.at)}",
            do=do,
            cause=f"line {entry.order}",
        )


def _said_of_a_skin(fact: Fact) -> str:
    """The word of a line that belongs to a skin; nothing for what may be said of a bath."""
    match fact:
        case Stepped(step=step, back=back):
            return step or ("back" if back else "")
        case Skipped(step=step):
            return f"skipped {step}"
        case Flaw(defect=defect):
            return defect
        case LiftedOut(where=where):
            return f"out of {where}"
        case HandedOut():
            return "out"
        case Lost():
            return "lost"
        case _:
            return ""
