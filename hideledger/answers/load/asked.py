"""The earliest honest promise for one hide more: when it could be done beside all the others, at this shop's own usual lengths."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from hideledger.answers.head import moment_said, record_of
from hideledger.answers.load.jobs import loosened, plan_of, without
from hideledger.answers.load.newcomer import newcomer
from hideledger.answers.load.planning import settled
from hideledger.answers.saying import counted, point, utc_stamp
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.model.moments import MINUTE, spoken
from hideledger.rules.hours import ShopHours
from hideledger.rules.words import day_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.trade.timetable import Skin, Work
from hideledger.trade.timetable_alone import NEVER, Alone
from hideledger.trade.timetable_best import Best, best_layout

_WEEKS = 6  # a promise may lie far ahead
_NODES = 4_000
_HIDES_LAID_OUT = 6_000  # passes times hides, for one day that is tried


def promise_sheet(floor: Floor, text: str) -> tuple[Sheet, bool]:
    """The sheet, and whether the promise that was asked about could not be kept. Raises Unreadable."""
    asked = newcomer(floor, text)
    life, arrival = asked.life, asked.comes
    hours = ShopHours(floor.book.shop.shop, floor.book.clock)
    plan = plan_of(floor, hours, newcomers=[life], weeks=_WEEKS)
    clock, at = floor.book.clock, floor.at
    wanted = None if life.promised is None else life.promised[0].day.toordinal()
    title = f"A promise for {life.tag}, {moment_said(floor)}"
    said = (*_kind_said(floor, life), *plan.said)
    record = record_of(
        floor,
        {
            "tag": life.tag,
            "comes": utc_stamp(arrival, clock),
            "alone_done": None,
            "earliest": None,
            "sure": False,
            "asked_for": None if wanted is None else date.fromordinal(wanted).isoformat(),
            "can_be_kept": None,
            "line": "",
            "reason": "",
            "assumed": list(said),
        },
    )
    place = next((i for i, job in enumerate(plan.jobs) if job.life is life), None)
    if place is None:
        reason = next((reason for reason, tags in plan.left if life.tag in tags), "it would have no step to go through")
        row = Row(head=life.tag, text=f"no promise can be reckoned: {reason}")
        only = Section(heading="Promise", rows=(row,))
        return Sheet(title=title, sections=(only,), record={**record, "reason": reason}), True
    new = plan.jobs[place]
    others, best = settled(without(plan, place))
    found, sure = _earliest(others.work, best, new.skin)
    loose = found is None and new.skin.spells[0].most is not None
    if loose:
        found, sure = _earliest(others.work, best, loosened(new).skin)
    alone = plan.work.moments[Alone(plan.work).alone_done(place)] * MINUTE
    rows = [
        Row(head="comes", text=point(arrival, clock, at)),
        Row(head="alone", text=f"done {point(alone, clock, at)} with the shop to itself, at the usual lengths here"),
    ]
    rings = found is None
    if found is None:
        rows.append(Row(head="promise", text="no day was found that does not make another promise later"))
    else:
        rows.append(
            Row(
                head="promise",
                text=f"{day_said(clock, found, at)}{' at the earliest' if sure else ', the earliest that was found'}, with no other promise the worse for it",
            )
        )
    if wanted is not None and found is not None:
        rings = found > wanted
        verdict = f"{counted(found - wanted, 'day')} too early" if rings else "can be kept"
        shut = "" if hours.open_day(wanted) else ", when the shop is shut"
        rows.append(Row(head="asked for", text=f"{day_said(clock, wanted, at)}{shut}: {verdict}"))
    if loose or life.tag in plan.loose:
        rows.append(
            Row(
                head="mind",
                text="it cannot go on in time from where it lies at first: it has to be salted or cold until it does",
            )
        )
    usual = plan.past.whole_way(life.process.name) if life.process is not None else None
    if usual is not None:
        slow = clock.day_of(hours.next_opening(arrival + usual.slow))
        rows.append(
            Row(
                head="usual here",
                text=f"of the {usual.of} hides that went this way before, half were done {spoken(usual.middle)} after they came in, and nine in ten {spoken(usual.slow)} after; as slow as those, this one is done {day_said(clock, slow, at)}",
            )
        )
    line = "" if found is None else f"{asked.said}, promised {date.fromordinal(found).isoformat()}"
    lines = (Row(text=line, plain=(line,)),) if line else ()
    sections = (
        Section(heading="Promise", rows=tuple(rows)),
        Section(heading="Line to write when it is there", rows=lines, whole_lines=True),
        Section(heading="Taken for granted", rows=tuple(Row(text=one) for one in said)),
    )
    record |= {
        "alone_done": utc_stamp(alone, clock),
        "earliest": None if found is None else date.fromordinal(found).isoformat(),
        "sure": sure,
        "can_be_kept": None if wanted is None or found is None else found <= wanted,
        "line": line,
    }
    return Sheet(title=title, sections=tuple(s for s in sections if s.rows), record=record), rings


def _kind_said(floor: Floor, life: HideLife) -> list[str]:
    """What is taken for granted of a kind that was not said, or that no hide here was of before."""
    if not life.kind:
        return [f"no kind is said for {life.tag}: it is taken to count 1, with the limits that hold for every kind"]
    if any(one.kind.casefold() == life.kind.casefold() for one in floor.all_hides() if one is not life):
        return []
    return [f"no {life.kind} was in this shop before: what its process leaves open is taken from the other hides in it"]


def _earliest(work: Work, best: Best, skin: Skin) -> tuple[int | None, bool]:
    """The first day on which one hide more can be done while the others fare no worse, and whether it is known that no earlier one would do.

    Each day that is tried is a timetable of its own; what does for one day does for all later ones.
    """
    if best.worth is None:
        return None, False
    goal = (best.worth[0], best.worth[1], NEVER)
    like = None if best.manner is None else replace(best.manner, order=(*best.manner.order, len(work.skins)))
    passes = max(24, _HIDES_LAID_OUT // (1 + len(work.skins)))

    def promised(day: int | None) -> Work:
        return replace(work, skins=(*work.skins, replace(skin, due=day)))

    first = work.days[Alone(promised(None)).alone_done(len(work.skins))]
    excluded = first - 1  # up to here no day does, for certain

    def fits(day: int) -> bool:
        nonlocal excluded
        for start in (like, None):  # as it was laid out without the hide, and anew
            found = best_layout(promised(day), nodes=0 if start else _NODES, passes=passes, goal=goal, like=start)
            if found.worth is not None and found.worth <= goal:
                return True
            if found.floor > goal or found.proved:
                excluded = max(excluded, day)
                return False
        return False

    low, high = first - 1, work.days[-1]
    if not fits(high):
        return None, False
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if fits(middle) else (middle, high)
    return high, excluded >= high - 1
