"""The evening and morning look: what to do before leaving, then every tub, every skin, and the counter's business.

The parts stand in the order in which one asks for them at the door.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from hideledger.answers.check.answer import UNREAD_HEADING, finding_row, unread_section
from hideledger.answers.check.summary import last_line
from hideledger.answers.floor.baths import bath_sections
from hideledger.answers.floor.desk import ask, pick_up, promised, times_not_written
from hideledger.answers.floor.hides import by_state, held_back, ready, while_away
from hideledger.answers.floor.manned import manned_words, night_before
from hideledger.answers.head import record_of
from hideledger.answers.saying import counted, now_words, point, today, unread_said, when_words
from hideledger.answers.sheet import Row, Section, Sheet, sections_record
from hideledger.answers.whose import signed_by
from hideledger.rules.finding import Finding
from hideledger.rules.hours import ShopHours
from hideledger.rules.words import WEEKDAYS
from hideledger.shopfloor.floor import Floor

_MOST_UNREAD = 5

_NOON = 12


def floor_look(floor: Floor, findings: Sequence[Finding], *, held: Sequence[Finding] = ()) -> Sheet:
    """The whole look; on the first one of a day what was found while nobody was there comes last."""
    book, clock = floor.book, floor.book.clock
    shop = book.shop.shop
    hours = ShopHours(shop, clock)
    tubs, loads = bath_sections(floor)
    sections = [
        _manned(floor, hours),
        unread_section(book, held, most=_MOST_UNREAD),
        _to_do(floor, findings),
        tubs,
        loads,
        by_state(floor),
        ready(floor, findings),
        held_back(floor),
        ask(floor),
        times_not_written(floor, findings),
        promised(floor, findings),
        pick_up(floor),
    ]
    night = night_before(shop, hours, clock, floor.at)
    if night is not None:
        sections.append(while_away(floor, findings, *night))
    filled = tuple(section for section in sections if section.rows)
    return Sheet(
        title=f"{shop.name or 'The shop'}, {now_words(floor.at, clock)}",
        sections=filled,
        record=_record(floor, filled),
    )


def _record(floor: Floor, sections: Sequence[Section]) -> dict[str, object]:
    """For a program: the moment, and each part with its rows; a label of the lines beneath a row may be empty."""
    return record_of(floor, {"shop": floor.book.shop.shop.name, "sections": sections_record(sections)})


def _manned(floor: Floor, hours: ShopHours) -> Section:
    book, clock, at = floor.book, floor.book.clock, floor.at
    rows = [Row(text=manned_words(book.shop.shop, hours, clock, at))]
    last = last_line(floor)
    if last is None:
        rows.append(Row(text="No line is written yet."))
    else:
        person = signed_by(last)
        by = f"by {person}" if person else "not signed"
        rows.append(Row(text=f"Last line {when_words(last.when, clock, at)}, {by} ({last.at.short})."))
    if book.unread:
        rows.append(Row(text=f"{unread_said(book)} not understood, see {UNREAD_HEADING} below."))
    else:
        rows.append(Row(text="Every line was understood."))
    if floor.later:
        rows.append(Row(text=f"{counted(floor.later, 'line')} dated later, left out here."))
    return Section(heading="Manned", rows=tuple(rows))


def _to_do(floor: Floor, findings: Sequence[Finding]) -> Section:
    """What rings: what is for now, then by the clock, then for tonight, each with what to do; and what empty tubs want."""
    ringing = [finding for finding in findings if finding.rings and finding.when in ("now", "tonight")]
    now = [finding for finding in ringing if finding.when == "now"]
    later = [finding for finding in ringing if finding.when == "tonight"]
    by_clock = sorted((f for f in later if _falls(f, floor) is not None), key=lambda f: f.since or 0)
    tonight = [finding for finding in later if _falls(finding, floor) is None]
    rows = [finding_row(finding, floor.book, head="now") for finding in now]
    rows += [finding_row(finding, floor.book, head=f"by {_soon(finding, floor)}") for finding in by_clock]
    rows += [finding_row(finding, floor.book, head="tonight") for finding in tonight]
    # No bell goes for an empty tub, but whoever puts skins in looks here first.
    quiet = [finding for finding in findings if finding.name == "due" and not finding.rings and not finding.ended]
    empty = [finding for finding in quiet if not any(tag in floor.hides for tag in finding.tags)]
    rows += [finding_row(finding, floor.book, head="before the next skins") for finding in empty]
    if not rows:
        rows = [Row(text="nothing")]
    # The same list by two names: whoever looks in the morning is not about to go.
    morning = floor.book.clock.local(floor.at).hour < _NOON
    return Section(heading="Before anything else" if morning else "Before you go", rows=tuple(rows))


def _soon(finding: Finding, floor: Floor) -> str:
    """`20:15` today, `Fri 18:00` within the week, else with the day of the month."""
    clock, instant = floor.book.clock, finding.since or 0
    day = clock.day_of(instant)
    if today(clock, floor.at) < day < today(clock, floor.at) + 7:
        return f"{WEEKDAYS[date.fromordinal(day).weekday()]} {clock.local(instant):%H:%M}"
    return point(instant, clock, floor.at)


def _falls(finding: Finding, floor: Floor) -> int | None:
    """The instant at which a limit that is still to come falls."""
    return finding.since if finding.since is not None and finding.since > floor.at else None
