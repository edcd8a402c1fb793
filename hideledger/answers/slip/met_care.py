"""How a skin was kept: salted or not, frozen and thawed, in a bath past its life, and every rule of the shop that was broken."""

from __future__ import annotations

from hideledger.answers.history.at_work import READ_WRONG, at_work_from, is_about
from hideledger.answers.slip.outcomes import Fate, wholes
from hideledger.answers.slip.tally import Tally
from hideledger.answers.slip.worn import lay_in_a_worn_one
from hideledger.model.moments import When
from hideledger.rules.all_rules import ALL_RULES
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import look
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife, Pause

# Findings that tell how a skin or its bath was treated. The others are about the page, the promise, or what is due now.
_TREATMENT = frozenset(
    {
        "raw too long",
        "drum standing loaded",
        "stayed too long",
        "wet salted into the freezer",
        "pressure over the vessel's limit",
        "vessel over full",
        "out of order",
        "not recorded",
        "came out early",
        "started late",
        "reading out of range",
        "out of range now",
        "reading missed",
        "stir missed",
        "two baths in one vessel",
        "bath worn out",
        "twice the same",
    }
)


def kept(floor: Floor, tally: Tally) -> None:
    """Salt, frost, and the life of the baths."""
    for index, fate in enumerate(tally.fates):
        tally.meets(("salt", "never salted", "that were never salted"), index, _unsalted(floor, fate))
        thaws = _thaws(fate)
        thing = ("frost", "thawed more than once", "that were thawed more than once")
        tally.meets(thing, index, thaws)
        thing = ("frost", "frozen raw without salt", "that were frozen raw without salt")
        tally.meets(thing, index, _frozen_raw(floor, fate))
        thing = ("worn bath", "in a bath past its life", "that lay in a bath past its life")
        tally.meets(thing, index, _worn(floor, fate))


def _unsalted(floor: Floor, fate: Fate) -> bool | None:
    """Whether no salt came on the skin before its first sign, in the shop or before the door."""
    condition = _condition(fate.life)
    if "salt" in condition:
        return False
    if _salted_before(floor, fate.life, None if fate.sign is None else fate.sign.when):
        return False
    return None if fate.life.arrival_unread or not _past_salting(fate) else True


def _past_salting(fate: Fate) -> bool:
    """Whether it had gone on behind the salt of its process: one that slipped before that was not left without."""
    process = fate.life.process
    if fate.sign is None or process is None:
        return True
    salting = [step for step in process.steps if "salt" in step.name.casefold()]
    if not salting:
        return True
    behind = process.steps[process.steps.index(salting[0]) + 1 :]
    return any(
        (mark.skipped and "salt" in mark.name.casefold()) or (not mark.skipped and mark.line in behind)
        for mark in fate.life.marks
        if fate.before_sign(mark.when.lo)
    )


def _salted_before(floor: Floor, life: HideLife, limit: When | None) -> bool:
    """Whether a step of salt or salt itself stands on a line before that."""

    def early(when: When) -> bool:
        return limit is None or when.lo < limit.hi

    return any("salt" in mark.name.casefold() and not mark.skipped and early(mark.when) for mark in life.marks) or any(
        "salt" in spent.whole.supply.casefold() and early(floor.moment(spent.entry, one.tag))
        for one in (life, *wholes(floor, life))
        for spent in one.used
    )


def _condition(life: HideLife) -> str:
    return life.condition[0].condition if life.condition is not None else ""


def _frosts(fate: Fate) -> list[Pause]:
    return [pause for pause in fate.life.pauses if pause.name == "frozen" and fate.before_sign(pause.start.lo)]


def _thaws(fate: Fate) -> bool:
    return sum(1 for pause in _frosts(fate) if pause.end is not None and fate.before_sign(pause.end.lo)) > 1


def _frozen_raw(floor: Floor, fate: Fate) -> bool | None:
    """Whether it was frozen in the shop before salt or acid came to it; nobody knows of what came in frozen."""
    first = next(iter(_frosts(fate)), None)
    if _condition(fate.life) == "frozen" or (first is not None and first.from_door):
        return None
    if first is None or "salt" in _condition(fate.life):
        return False
    cured = any(
        mark.line is not None and mark.line.raw == "stops" and not mark.skipped and mark.when.lo < first.start.hi
        for mark in fate.life.marks
    )
    return not cured and not _salted_before(floor, fate.life, first.start)


def _worn(floor: Floor, fate: Fate) -> bool | None:
    """Whether it lay in a bath past its life, by days or by pounds of skin, as the shop's own line says."""
    told: bool | None = False
    for stay in fate.life.stays:
        if stay.bath is None or not fate.before_sign(stay.start.hi):
            continue
        lo, hi = (floor.at, floor.at) if stay.end is None else (stay.end.lo, stay.end.hi)
        if fate.sign is not None:
            lo, hi = min(lo, fate.sign.when.lo), min(hi, fate.sign.when.lo)
        lay = lay_in_a_worn_one(floor, stay.bath, lo, hi)
        if lay:
            return True
        told = None if lay is None else told
    return told


def rules_broken(floor: Floor, tally: Tally) -> None:
    """Every rule that was broken on a skin before its first sign, waived or not: a reason heals no skin.

    A bath's fault counts for each skin from when it lay in the bath while the fault lasted.
    """
    horizon = look(floor)
    by_tag: dict[str, list[Finding]] = {}
    for rule in ALL_RULES:
        if rule.name not in _TREATMENT:
            continue
        for finding in rule.judge(floor, horizon):
            for tag in finding.tags:
                by_tag.setdefault(tag, []).append(finding)
    for index, fate in enumerate(tally.fates):
        for life in (fate.life, *wholes(floor, fate.life)):
            for finding in by_tag.get(life.tag, ()):
                if not is_about(finding, life, floor):
                    continue
                own = at_work_from(finding, life)  # since the limit fell; the stay itself may have begun long before
                if own is None or not _in_life(life, own.instant) or not fate.before_sign(own.instant):
                    continue
                if finding.name == "out of range now" and own.bath is None:
                    continue  # a room or a freezer
                # one fault, whether it has been righted since or not
                name = f"finding {'reading out of range' if finding.name in READ_WRONG else finding.name}"
                thing = ("finding", name, f"with the {name}")
                met = None if finding.may else True
                tally.meets(thing, index, met, at=_step_at(life, own.instant), line=finding.entry)
                if own.bath is not None and finding.name in READ_WRONG:
                    tally.says(thing, f"{own.bath.tag}: {finding.message}")
    for index, fate in enumerate(tally.fates):
        if fate.life.process is None:  # without its lines nothing is judged
            tally.may_have(index, tally.of_sort("finding"))


def _in_life(life: HideLife, instant: int) -> bool:
    return life.arrived_when.lo <= instant and (life.ended_when is None or instant <= life.ended_when.hi)


def _step_at(life: HideLife, instant: int) -> str:
    """The step that a skin had come to at an instant; empty before the first."""
    come = [mark for mark in life.marks if not mark.skipped and not mark.elsewhere and mark.when.lo <= instant]
    return come[-1].name if come else ""
