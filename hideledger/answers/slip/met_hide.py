"""What a skin brought with it, and who had it in hand: facts that its own lines tell."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from functools import partial

from hideledger.answers.slip.outcomes import Fate
from hideledger.answers.slip.tally import Tally, Thing
from hideledger.answers.whose import signed_by
from hideledger.model.entry import Entry
from hideledger.rules.words import WEEKDAYS
from hideledger.shopfloor.raw import weighted_seconds

# Below 40 F germs grow slowly: the upper end of safe cold holding (USDA Food Safety and Inspection Service, "Danger Zone").
_COLD_F = Decimal(40)


def brought_in(tally: Tally) -> None:
    """Kind, process, payer, condition, box and day: known from the arrival, and nobody's where it could not be read."""
    for index, fate in enumerate(tally.fates):
        life, told = fate.life, partial(_told, tally, index)
        if life.kind:
            told(("kind", f"kind {life.kind}", f"of kind {life.kind}"), life.arrived)
        if life.process is not None:
            name = life.process.name
            told(("process", f"process {name}", f"on process {name}"), life.process_entry or life.arrived)
        if life.payer:
            told(("owner", f"for {life.payer}", f"for {life.payer}"), life.parties["for"][1])
        if life.condition is not None:
            condition = life.condition[0].condition
            told(("condition", f"came in {condition}", f"that came in {condition}"), life.condition[1])
        if life.from_box:
            told(("box", f"box {life.from_box}", f"out of box {life.from_box}"), life.arrived)
        if life.declared:
            day = date.fromordinal(life.arrived_when.day)
            said = f"came in {WEEKDAYS[day.weekday()]} {day.isoformat()}"
            told(("day", said, f"that {said}"), life.arrived)
    _unsaid(tally)


def _told(tally: Tally, index: int, thing: Thing, line: Entry) -> None:
    tally.meets(thing, index, True, line=line)


def _unsaid(tally: Tally) -> None:
    """Where a skin's own line does not say it, nobody can tell which of the things of that sort it was."""
    lacking = {
        "kind": [index for index, fate in enumerate(tally.fates) if not fate.life.kind],
        "process": [index for index, fate in enumerate(tally.fates) if fate.life.process is None],
        "owner": [index for index, fate in enumerate(tally.fates) if not fate.life.payer],
        "condition": [index for index, fate in enumerate(tally.fates) if fate.life.condition is None],
        "day": [index for index, fate in enumerate(tally.fates) if not fate.life.declared],
    }
    for sort, those in lacking.items():
        for thing in tally.of_sort(sort):
            for index in those:
                tally.meets(thing, index, None)


def raw_hours(tally: Tally) -> None:
    """Hours raw over the shop's own limit, in the shop and before the door; lying or hanging warm."""
    for index, fate in enumerate(tally.fates):
        process = fate.life.process
        limit = None if process is None else process.raw_limit
        if limit is not None:
            said = f"raw for more than {limit.length}" + (f" at {limit.at}" if limit.at is not None else "")
            over = _over_in_shop(fate, limit.length.about_seconds)
            tally.meets(("raw", f"{said} in the shop", f"that lay {said} in the shop"), index, over)
            before = _over_before_door(fate, limit.length.about_seconds, weighed=limit.at is not None)
            thing = ("before the door", f"{said} before the door", f"that were {said} before the door")
            tally.meets(thing, index, before)
            if limit.at is not None:
                warm = f"lay raw warmer than {limit.at}"
                tally.meets(("raw", warm, f"that {warm}"), index, _warm(fate, float(limit.at.to("C"))))
        hung = fate.life.hung
        tally.meets(
            ("before the door", "hung warmer than 40 F", "that hung warmer than 40 F before the door"),
            index,
            None if hung is None else hung[0].temperature.to("F") > _COLD_F,
        )
    for sort in ("raw", "before the door"):
        tally.unsaid(sort)  # a limit of another process judges nobody


def _over_in_shop(fate: Fate, allowed: int) -> bool | None:
    """Whether its raw clock was over the limit when the first sign was seen."""
    raw = fate.life.raw
    if raw is None or fate.life.arrival_unread:
        return None
    least, most = raw.shop if raw.weighted is None else raw.weighted
    if fate.sign is not None and any(end > fate.sign.when.lo for _, end, _ in raw.spans):
        cut = [(lo, min(hi, fate.sign.when.lo), warm) for lo, hi, warm in raw.spans if lo < fate.sign.when.lo]
        reference = raw.reference_c
        run = sum(hi - lo for lo, hi, _ in cut)
        most = round(weighted_seconds(cut, reference)) if raw.weighted is not None and reference is not None else run
        least = most if raw.shop[0] == raw.shop[1] else 0
    if most <= allowed:
        return False
    return True if least > allowed and raw.weighted is not None else None


def _over_before_door(fate: Fate, allowed: int, *, weighed: bool) -> bool | None:
    raw = fate.life.raw
    if raw is None or raw.door is None:
        return None
    known = raw.door if raw.door_weighted is None else raw.door_weighted
    if raw.door_weighted is None and weighed and raw.door[1] > 0:
        return None  # hours at a warmth that nobody wrote
    if known[1] <= allowed:
        return False
    return True if known[0] > allowed else None


def _warm(fate: Fate, celsius: float) -> bool | None:
    """Whether it lay in the shop, raw, warmer than the limit's own warmth. Half a degree is the thermometer's."""
    raw = fate.life.raw
    if raw is None or fate.life.arrival_unread:
        return None
    lain = [warm for lo, _, warm in raw.spans if fate.before_sign(lo)]
    if any(warm is not None and warm > celsius + 0.5 for warm in lain):
        return True
    return None if any(warm is None for warm in lain) else False


def hands(tally: Tally) -> None:
    """Who did a step, where a step is signed: with no `by` on the line nobody can tell."""
    signed: dict[str, set[str]] = {}
    for fate in tally.fates:
        for mark in fate.life.marks:
            who = signed_by(mark.entry)
            if who and not mark.elsewhere:
                signed.setdefault(mark.name, set()).add(who)
    for index, fate in enumerate(tally.fates):
        for mark in fate.life.marks:
            if mark.name not in signed or mark.skipped or mark.elsewhere or not fate.before_sign(mark.when.lo):
                continue
            who = signed_by(mark.entry)
            for name in sorted(signed[mark.name]):
                met = True if name == who else (None if not who else False)
                said = f"{mark.name} by {name}"
                tally.meets(("hand", said, said), index, met, at=mark.name, line=mark.entry)
