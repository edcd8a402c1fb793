"""What a step does to a skin, told from the shop's own name for it, from its process line and from what its bath was made of.

A step whose words say none of this keeps its own name, and is asked about under it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from hideledger.model.facts import Amount, Took
from hideledger.shopfloor.life import BathLife, HideLife, Stay, StepMark

FLESHED, TURNED, SALT, DRIED, SOAKED = "fleshed", "turned", "salt", "dried", "soaked"
WASHED, PICKLE, NEUTRALISED, TAN, AFTER, SHAVED, OTHER = "washed", "pickle", "neutralised", "tan", "after", "shaved", ""

# In this order: `salt pickle` is a pickle, `dry salt` a salting, and ears are turned where a drum is not.
_NAMED: tuple[tuple[str, re.Pattern[str]], ...] = (
    (TURNED, re.compile(r"\b(?:ears?|lips?|eyes?|eyelids?|nose|nostrils?|paws?|toes|tail|face)\b")),
    (FLESHED, re.compile(r"flesh")),
    (SHAVED, re.compile(r"shav|thinned")),
    (NEUTRALISED, re.compile(r"neutrali[sz]|basif")),
    (WASHED, re.compile(r"wash|soap|degreas|scour|rins")),
    (SOAKED, re.compile(r"soak|rehydrat|relax|soften")),
    (PICKLE, re.compile(r"pickl|\bacid")),
    (SALT, re.compile(r"salt|\bcured?\b|\bcuring")),
    (DRIED, re.compile(r"\bair dr|\bdr(?:y|ied|ying)\b|\bhung to dry")),
    (TAN, re.compile(r"\b(?:re)?tan(?:ned|ning)?\b|\btaw|syntan")),
    (AFTER, re.compile(r"\boil|\bbag|\bsweat|\bstak|\bbroken\b|\bbreak|tumbl|\bmounted\b|\bfinish")),
)
_OF_SUPPLIES: tuple[tuple[str, re.Pattern[str]], ...] = (
    (TAN, re.compile(r"\btan\b|alum|chrom|syntan|glutar|mimosa|quebracho|wattle")),
    (PICKLE, re.compile(r"acid|vinegar")),
    (NEUTRALISED, re.compile(r"soda|bicarb|borax|ammon")),
    (WASHED, re.compile(r"soap|degreas|deterg")),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """A step of a hide as it was done: what it does to a skin, and the stay it held the hide for, where it did."""

    sort: str
    mark: StepMark
    stay: Stay | None

    @property
    def name(self) -> str:
        """As the shop calls it."""
        return self.mark.line.title if self.mark.line is not None else self.mark.name


def steps_of(life: HideLife) -> list[Done]:
    """Every step written of a hide, in time order; skipped ones too. What follows the tan is `after`, whatever its name says less."""
    stays = {id(stay.mark): stay for stay in reversed(life.stays)}
    found: list[Done] = []
    tanned = False
    for mark in life.marks:
        if mark.name in ("in", "out"):
            continue
        stay = stays.get(id(mark))
        sort = sort_of(mark, stay, life)
        if tanned and sort == OTHER:
            sort = AFTER
        elif not tanned and sort == AFTER:
            sort = OTHER
        tanned = tanned or (sort == TAN and not mark.skipped)
        found.append(Done(sort=sort, mark=mark, stay=stay))
    return found


def sort_of(mark: StepMark, stay: Stay | None, life: HideLife) -> str:
    """What a step does, by its name; else by its line, its bath, or the salt written with it. Nothing where none of these tells."""
    line = mark.line
    named = sort_of_name(mark.name)
    turns = line is not None and line.sort == "run"
    if named and not (turns and named == TURNED):
        return named
    if line is not None and line.tanning:
        return TAN
    bath = stay.bath if stay is not None else None
    if bath is not None and (sort := sort_of_bath(bath)):
        return sort
    if any(one.entry is mark.entry and "salt" in one.whole.supply.casefold() for one in life.used):
        return SALT
    return OTHER


def sort_of_name(name: str) -> str:
    """What a step does as far as its name alone tells; nothing where it does not."""
    return next((sort for sort, pattern in _NAMED if pattern.search(name.casefold())), OTHER)


def sort_of_bath(bath: BathLife) -> str:
    """What a bath is, by its recipe's name, else by what went into it."""
    for sort, pattern in _NAMED:
        if sort not in (TURNED, FLESHED, SHAVED, AFTER) and pattern.search(bath.recipe.casefold()):
            return sort
    names = " / ".join(amount.supply.casefold() for amount, _ in poured(bath))
    return next((sort for sort, pattern in _OF_SUPPLIES if pattern.search(names)), OTHER)


def poured(bath: BathLife) -> Iterator[tuple[Amount, tuple[int, int]]]:
    """Everything that went into a bath, with the instants (earliest, latest) at which it did."""
    for amount in bath.amounts:
        yield amount, (bath.made_when.lo, bath.made_when.hi)
    for dose in bath.doses:
        for amount in dose.amounts:
            yield amount, (dose.when.lo, dose.when.hi)


def taken_with(mark: StepMark) -> list[Amount]:
    """What was used in the very line of a step, as written."""
    return [fact.amount for fact in mark.entry.facts if isinstance(fact, Took)]
