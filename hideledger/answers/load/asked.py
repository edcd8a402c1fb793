"""The earliest honest promise for one hide more: when it could be done beside all the others, at this shop's own usual lengths."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from hideledger.answers.load.answer import unread_beside
from hideledger.answers.load.jobs import Plan, loosened
from hideledger.answers.load.newcomer import newcomer
from hideledger.answers.load.planning import planned
from hideledger.answers.saying import counted, local_stamp, now_words, point, utc_stamp
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.model.moments import MINUTE, spoken
from hideledger.rules.hours import ShopHours
from hideledger.rules.words import day_said
from hideledger.shopfloor.floor import Floor
from hideledger.trade.timetable import Work
from hideledger.trade.timetable_alone import NEVER, Alone
from hideledger.trade.timetable_best import best_layout

_WEEKS = 6  # a promise may lie far ahead
_NODES = 4_000
_HIDES_LAID_OUT = 6_000  # passes times hides, for one day that is tried


def promise_sheet(floor: Floor, text: str) -> tuple[Sheet, bool]:
    """The sheet, and whether the promise that was asked about could not be kept. Raises Unreadable."""
    asked = newcomer(floor, text)
    life, arrival = asked.life, asked.comes
    hours = ShopHours(floor.book.shop.shop, floor.book.clock)
    plan, _ = planned(floor, hours, newcomers=[life], weeks=_WEEKS)
    clock, at = floor.book.clock, floor.at
    wanted = None if life.promised is None else life.promised[0].day.toordinal()
    title = f"A promise for {life.tag}, {now_words(at, clock)}{unread_beside(floor)}"
    place = next((i for i, job in enumerate(plan.jobs) if job.life is life), None)
    if place is None:
        reason = next((reason for reason, tags in plan.left if life.tag in tags), "it would have no step to go through")
        row = Row(head=life.tag, text=f"no promise can be reckoned: {reason}")
        return Sheet(title=title, sections=(Section(heading="Promise", rows=(row,)),)), True
    found, sure = _earliest(plan, place)
    loose = found is None and plan.work.skins[place].spells[0].most is not None
    if loose:
        found, sure = _earliest(_loosened(plan, place), place)
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
        rows.append(Row(head="asked for", text=f"{day_said(clock, wanted, at)}: {verdict}"))
    if loose or life.tag in plan.loose:
        rows.append(
            Row(
                head="mind",
                text="it cannot go on in time from where it lies at first: it has to be salted or cold until it does",
            )
        )
    usual = plan.past.whole_way(life.process.name) if life.process is not None else None
    if usual is not None:
        slow = clock.day_of(arrival + usual.slow)
        rows.append(
            Row(
                head="so far",
                text=f"of {usual.of} hides by this process half were done within {spoken(usual.middle)} of the door, nine in ten within {spoken(usual.slow)}: that would be {day_said(clock, slow, at)}",
            )
        )
    lines: tuple[Row, ...] = ()
    if found is not None:
        line = f"{asked.said}, promised {date.fromordinal(found).isoformat()}"
        lines = (Row(text=line, plain=(line,)),)
    sections = (
        Section(heading="Promise", rows=tuple(rows)),
        Section(heading="Line to write when it is there", rows=lines, whole_lines=True),
        Section(heading="Taken for granted", rows=tuple(Row(text=one) for one in plan.said)),
    )
    record: dict[str, object] = {
        "schema": 1,
        "at": utc_stamp(at, clock),
        "at_local": local_stamp(at, clock),
        "tag": life.tag,
        "comes": utc_stamp(arrival, clock),
        "alone_done": utc_stamp(alone, clock),
        "earliest": None if found is None else date.fromordinal(found).isoformat(),
        "asked_for": None if wanted is None else date.fromordinal(wanted).isoformat(),
        "can_be_kept": None if wanted is None else not rings,
        "assumed": list(plan.said),
    }
    return Sheet(title=title, sections=tuple(s for s in sections if s.rows), record=record), rings


def _earliest(plan: Plan, place: int) -> tuple[int | None, bool]:
    """The first day on which the hide can be done while the others fare no worse, and whether it is known that no earlier one would do.

    Each day that is tried is a timetable of its own; what does for one day does for all later ones.
    """
    work = plan.work
    others = best_layout(replace(work, skins=work.skins[:place] + work.skins[place + 1 :]))
    if others.worth is None:
        return None, False
    goal = (others.worth[0], others.worth[1], NEVER)
    like = None if others.manner is None else replace(others.manner, order=_with_one_more(others.manner.order, place))
    passes = max(24, _HIDES_LAID_OUT // len(work.skins))
    excluded = work.days[0] - 1  # up to here no day does, for certain

    def fits(day: int) -> bool:
        nonlocal excluded
        tried = _promised(work, place, day)
        for start in (like, None):  # as it was laid out without the hide, and anew
            found = best_layout(tried, nodes=0 if start else _NODES, passes=passes, goal=goal, like=start)
            if found.worth is not None and found.worth <= goal:
                return True
            if found.floor > goal or found.proved:
                excluded = max(excluded, day)
                return False
        return False

    first = work.days[Alone(work).alone_done(place)]
    excluded = max(excluded, first - 1)
    low, high = first - 1, work.days[-1]
    if not fits(high):
        return None, False
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if fits(middle) else (middle, high)
    return high, excluded >= high - 1


def _loosened(plan: Plan, place: int) -> Plan:
    jobs = tuple(loosened(job) if at == place else job for at, job in enumerate(plan.jobs))
    return replace(plan, jobs=jobs, work=replace(plan.work, skins=tuple(job.skin for job in jobs)))


def _with_one_more(order: tuple[int, ...], place: int) -> tuple[int, ...]:
    """The order of the others, and the new hide behind them."""
    return (*(one + (one >= place) for one in order), place)


def _promised(work: Work, place: int, day: int) -> Work:
    skins = list(work.skins)
    skins[place] = replace(skins[place], due=day)
    return replace(work, skins=tuple(skins))
