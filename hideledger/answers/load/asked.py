"""The earliest honest promise for one hide more: when it could be done beside all the others, at this shop's own usual lengths."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

from hideledger.answers.load.answer import unread_beside
from hideledger.answers.load.jobs import Plan, plan_of
from hideledger.answers.load.past import Past
from hideledger.answers.saying import counted, local_stamp, now_words, point, today, utc_stamp
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.model.moments import MINUTE, spoken
from hideledger.reading import read_sources
from hideledger.reading.trouble import Unreadable
from hideledger.rules.hours import ShopHours
from hideledger.rules.words import WEEKDAYS, day_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.layout import lay_out
from hideledger.shopfloor.life import HideLife
from hideledger.text.nearest import nearest
from hideledger.text.source import Source
from hideledger.trade.timetable import Work
from hideledger.trade.timetable_alone import Alone
from hideledger.trade.timetable_best import best_layout

_NODES, _PASSES = 4_000, 24
_ASKED = re.compile(
    r"\s*(?:(?P<date>[0-9]{4}-[0-9]{1,2}-[0-9]{1,2})\s+(?:(?P<time>[0-9]{1,2}:[0-9]{2})\s+)?)?"
    r"(?P<tag>[A-Za-z]{1,4}-?[0-9]{1,6}[A-Za-z]?)\s+in\b"
    r"(?:\s+(?P<when>today|tomorrow|on\s+[A-Za-z]+|[0-9]{4}-[0-9]{1,2}-[0-9]{1,2})(?:\s+(?P<at>[0-9]{1,2}:[0-9]{2}))?)?"
    r"\s*(?P<rest>(?:,.*|\s.*)?)",
    re.IGNORECASE,
)
_WORD = re.compile(r"\s+([A-Za-z]+)")
_FULL = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_SHAPE = 'a hide that comes is asked about as in "H60 in tomorrow, whitetail cape, promised 2026-12-20"'
_PAGE = "the question"


def promise_sheet(floor: Floor, text: str) -> tuple[Sheet, bool]:
    """The sheet, and whether the promise that was asked about could not be kept. Raises Unreadable."""
    life, arrival = newcomer(floor, text)
    hours = ShopHours(floor.book.shop.shop, floor.book.clock)
    plan = plan_of(floor, hours, newcomers=[life])
    clock, at = floor.book.clock, floor.at
    wanted = None if life.promised is None else life.promised[0].day.toordinal()
    title = f"A promise for {life.tag}, {now_words(at, clock)}{unread_beside(floor)}"
    place = next((i for i, job in enumerate(plan.jobs) if job.life is life), None)
    if place is None:
        reason = next((reason for reason, tags in plan.left if life.tag in tags), "it would have no step to go through")
        row = Row(head=life.tag, text=f"no promise can be reckoned: {reason}")
        return Sheet(title=title, sections=(Section(heading="Promise", rows=(row,)),)), True
    found = _earliest(plan, place)
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
                text=f"{day_said(clock, found, at)} at the earliest, with no other promise the worse for it",
            )
        )
    if wanted is not None and found is not None:
        rings = found > wanted
        verdict = f"{counted(found - wanted, 'day')} too early" if rings else "can be kept"
        rows.append(Row(head="asked for", text=f"{day_said(clock, wanted, at)}: {verdict}"))
    usual = Past(floor).whole_way(life.process.name) if life.process is not None else None
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
        line = f"{life.tag} promised {date.fromordinal(found).isoformat()}"
        lines = (Row(text=line, plain=(line,)),)
    sections = (
        Section(heading="Promise", rows=tuple(rows)),
        Section(heading="Line to write", rows=lines, whole_lines=True),
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


def newcomer(floor: Floor, text: str) -> tuple[HideLife, int]:
    """The hide that is asked about, read as a line of the book would be, and when it comes. Raises Unreadable."""
    found = _ASKED.fullmatch(text)
    if found is None:
        raise Unreadable("asked", _SHAPE, 0, len(text))
    clock = floor.book.clock
    _no_near_day(found)
    day = _day(found, floor)
    tag = found["tag"]
    known = next((lives for name, lives in floor.hides.items() if name.casefold() == tag.casefold()), [])
    if any(life.here for life in known):
        raise Unreadable("asked", f"{tag} is in the shop already: ask with a tag that is free", *found.span("tag"))
    hours = ShopHours(floor.book.shop.shop, clock)
    written = found["at"] or found["time"]
    if written is None:
        opening = hours.next_opening(max(floor.at, clock.day_start(day)))
        written = f"{clock.local(opening):%H:%M}"
        day = clock.day_of(opening)
    head = f"{date.fromordinal(day).isoformat()} {written} {tag} in"
    rest = found["rest"]
    book = read_sources([*floor.book.sources, Source(name=_PAGE, text=f"{head}{rest}\n")])
    for complaint in book.unread:
        if complaint.place.file == _PAGE:
            start = max(0, complaint.place.column - 1 - len(head)) + found.start("rest")
            raise Unreadable(complaint.code, complaint.message, start, start + complaint.place.width)
    entry = next(entry for entry in book.entries if entry.at.file == _PAGE)
    lives = lay_out(book, max(floor.at, entry.when.hi)).hides.get(entry.tags[0], [])
    if not lives:
        raise Unreadable("asked", _SHAPE, 0, len(text))
    life = lives[-1]
    if life.process is None:
        raise Unreadable(
            "asked",
            f"no process is known for {tag}: name its kind, as in whitetail cape, or its process",
            *found.span("tag"),
        )
    return life, max(floor.at, entry.when.lo)


def _no_near_day(found: re.Match[str]) -> None:
    """A slip in `tomorrow` must not become a hide that comes now. Raises Unreadable."""
    word = _WORD.match(found["rest"])
    if found["when"] or word is None:
        return
    close = nearest(word[1], ("today", "tomorrow"))
    if close:
        start = found.start("rest") + word.start(1)
        raise Unreadable("asked", f"`{word[1]}` is no day; did you mean `{close}`?", start, start + len(word[1]))


def _day(found: re.Match[str], floor: Floor) -> int:
    now = today(floor.book.clock, floor.at)
    said = (found["when"] or found["date"] or "today").casefold()
    if said in ("today", "tomorrow"):
        return now + (said == "tomorrow")
    group = "when" if found["when"] else "date"
    if said.startswith("on "):
        name = said[3:].strip()
        weekday = next((i for i, full in enumerate(_FULL) if full.startswith(name) and len(name) >= 3), None)
        if weekday is None:
            raise Unreadable("asked", f"'{name}' is no day of the week: {', '.join(WEEKDAYS)}", *found.span(group))
        return now + (weekday - date.fromordinal(now).weekday()) % 7
    year, month, day = said.split("-")
    try:
        return date(int(year), int(month), int(day)).toordinal()
    except ValueError:
        raise Unreadable("asked", f"there is no day {said}", *found.span(group)) from None


def _earliest(plan: Plan, place: int) -> int | None:
    """The first day on which the hide can be done while the others fare no worse. Each try is a timetable of its own."""
    work = plan.work
    others = replace(work, skins=work.skins[:place] + work.skins[place + 1 :])
    before = best_layout(others, nodes=_NODES, passes=_PASSES).worth
    if before is None:
        return None

    def fits(day: int) -> bool:
        tried = best_layout(_promised(work, place, day), nodes=_NODES, passes=_PASSES).worth
        return tried is not None and tried[:2] <= before[:2]

    first = work.days[Alone(work).alone_done(place)]
    if fits(first):
        return first
    low, high = first, work.days[-1]
    if not fits(high):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if fits(middle) else (middle, high)
    return high


def _promised(work: Work, place: int, day: int) -> Work:
    skins = list(work.skins)
    skins[place] = replace(skins[place], due=day)
    return replace(work, skins=tuple(skins))
