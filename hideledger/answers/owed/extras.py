"""The words of a hide's lines by which the list charges more: `rush`, or a step that has a price."""

from __future__ import annotations

import re

from hideledger.answers.jobs import Jobs
from hideledger.model.entry import Entry
from hideledger.model.facts import Money, Remark, Skipped, Waived
from hideledger.model.facts_shelf import PAID_IN
from hideledger.shopfloor.life import HideLife

_DIVIDED = re.compile("[,;]")
_FOR = re.compile("^for (?:an? )?")


def extras(life: HideLife, jobs: Jobs, *, bears: bool, steps_alone: bool) -> frozenset[str]:
    """What was done to a hide and what its lines say, in small letters.

    A skin that took over the job of another has what was asked for on the other's lines, and not what was done to the other. Of a part that
    does not bear what is charged once for the skin, only what names the part itself.
    """
    said = {
        mark.name.casefold()
        for mark in life.marks
        if not mark.skipped and not mark.elsewhere and (bears or life.tag in mark.entry.tags)
    }
    if steps_alone:
        return frozenset(said)
    for one in jobs.chain(life):
        said |= _words_of(one, bears=bears)
    return frozenset(said)


def _words_of(life: HideLife, *, bears: bool) -> set[str]:
    """Remarks that stand for themselves; the word behind a charge says what it is for, and `deposit $50, rush` asks for the rush."""
    said = set()
    for entry in life.lines:
        if not (bears or life.tag in entry.tags):
            continue
        for number, fact in enumerate(entry.facts):
            if isinstance(fact, Remark) and not (number and _is_money_but_a_payment(entry.facts[number - 1])):
                said |= _asked(_plain(fact.text))
        if not _has_a_reason(entry):
            said |= {_plain(part) for part in (entry.remark, *_DIVIDED.split(entry.remark)) if part}
    return said


def _asked(said: str) -> set[str]:
    """`for repair`, as a line has it of leather that comes back, asks for what the list calls `repair` or `back for repair`."""
    return {said, _FOR.sub("", said), f"back {said}"} if _FOR.match(said) else {said}


def _plain(text: str) -> str:
    return " ".join(text.casefold().split())


def _has_a_reason(entry: Entry) -> bool:
    """Whether the remark of a line says why something was left out or let be, or what a sum is for, and asks for nothing."""
    return any(isinstance(fact, Skipped | Waived) or _is_money_but_a_payment(fact) for fact in entry.facts)


def _is_money_but_a_payment(fact: object) -> bool:
    return isinstance(fact, Money) and fact.sort not in PAID_IN
