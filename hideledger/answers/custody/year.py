"""The sheet of a year: skins that came and went, what is held of other people's, baths let go, money, and the shelf on the last day."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from hideledger.answers.custody.baths import CAUTION as DRAIN_CAUTION
from hideledger.answers.custody.baths import baths_record, baths_section, let_go
from hideledger.answers.custody.count import Flow, flow
from hideledger.answers.custody.held import held_record, held_sections
from hideledger.answers.custody.record import Recorded, recorded
from hideledger.answers.custody.register import CAUTION, head_record, title, unread_first
from hideledger.answers.custody.year_money import (
    money_section,
    settle_section,
    shelf_section,
    sums_of,
    unpaid_record,
    unpaid_section,
    worth_of,
)
from hideledger.answers.money import money_record
from hideledger.answers.owed.account import accounts
from hideledger.answers.owed.words import settling_record
from hideledger.answers.saying import now_words, tags_said
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.answers.whose import NOBODY
from hideledger.model.book import Book
from hideledger.rules.onhand import holdings
from hideledger.rules.words import in_order
from hideledger.shopfloor.custody import custody_of
from hideledger.shopfloor.layout import lay_out


class NotBegun(ValueError):
    """The year has not begun at the moment asked for; the text says so."""


def year_sheet(book: Book, year: int, at: int) -> Sheet:
    """The sheet as it stood at the end of the year, or at `at` where the year is not over. Raises NotBegun."""
    clock = book.clock
    first, last = date(year, 1, 1).toordinal(), date(year, 12, 31).toordinal()
    if at <= clock.day_start(first):
        raise NotBegun(f"the year {year} has not begun at {now_words(at, clock)}")
    floor = lay_out(book, min(at, clock.day_end(last)))
    made = recorded(floor, custody_of(floor))
    found = flow([one.custody for one in made], first, last)
    baths = let_go(floor, first, last)
    every = accounts(floor)
    shelf = {name: held for name, held in holdings(floor).items() if held.written}
    sections = [
        _skins(found, year),
        _gone(made, first, last),
        *held_sections(floor, made, heading="Other people's skins, "),
        baths_section(baths, floor),
        money_section(floor, first, last),
        unpaid_section(every, floor),
        settle_section(every, floor),
        shelf_section(shelf, floor),
        _mind(),
    ]
    return Sheet(
        title=title(f"The year {year}{' so far' if at < clock.day_end(last) else ''}", floor),
        sections=unread_first(floor, sections),
        record={
            **head_record(floor),
            "year": year,
            "skins": _flow_record(found),
            **held_record(floor, made),
            "baths_let_go": baths_record(baths),
            "money": {what: [str(one) for one in sums] for what, sums in sums_of(floor, first, last).items()},
            "unpaid": unpaid_record(every),
            "to_settle": settling_record(list(every.people.values()), every.nobody),
            "shelf_worth": money_record(worth_of(shelf)),
            "shelf_not_reckoned": [one.name for one in shelf.values() if one.shelf.unpriced],
            "currency": every.sign,
        },
    )


def _skins(found: Flow, year: int) -> Section:
    rows = [
        Row(head=f"here on 1 Jan {year}", text=_with_tags(found.at_start, found.start_tags)),
        Row(head="came in", text=_with_tags(found.came, found.came_tags)),
    ]
    if found.again_tags:
        rows.append(
            Row(head="of these again", text=f"{_with_tags(len(found.again_tags), found.again_tags)}, here before")
        )
    if found.by_cutting:
        what = "more by cutting" if found.by_cutting > 0 else "cut, and no new tag"
        rows.append(Row(head=what, text=_with_tags(abs(found.by_cutting), found.cut_tags)))
    if found.by_opening:
        what = "more in boxes than said" if found.by_opening > 0 else "fewer in boxes than said"
        rows.append(Row(head=what, text=_with_tags(abs(found.by_opening), found.opened_tags)))
    rows += [
        Row(head=how, text=_with_tags(number, found.gone_tags[how]))
        for how, number in (("out", found.out), ("lost", found.lost), ("refused", found.refused))
    ]
    rows.append(Row(head="here at the end", text=_with_tags(found.at_end, found.end_tags)))
    if found.boxes:
        boxes = ", ".join(f"{tag} for {count}" for tag, count in found.boxes.items())
        rows.append(Row(head="a box counts", text=f"for the skins in it: {boxes}"))
    rows.append(Row(head="together", text=_adds_up(found)))
    return Section(heading="Skins", rows=tuple(rows))


def _adds_up(found: Flow) -> str:
    """`1 here + 10 in + 1 by cutting - 1 in boxes = 11; 1 out + 2 lost + 1 refused + 7 here at the end = 11`."""
    came = f"{found.at_start} here + {found.came} in"
    for number, how in ((found.by_cutting, "by cutting"), (found.by_opening, "in boxes")):
        if number:
            came += f" {'+' if number > 0 else '-'} {abs(number)} {how}"
    went = f"{found.out} out + {found.lost} lost + {found.refused} refused + {found.at_end} here at the end"
    fault = "" if found.balanced else ": the two differ, by a fault of this program; count by the register"
    return f"{came} = {found.there}; {went} = {found.went}{fault}"


def _with_tags(number: int, tags: Sequence[str]) -> str:
    return f"{number}: {tags_said(in_order(tags))}" if tags else "none"


def _flow_record(found: Flow) -> dict[str, object]:
    return {
        "at_start": found.at_start,
        "in": found.came,
        "in_again": len(found.again_tags),
        "by_cutting": found.by_cutting,
        "by_opening": found.by_opening,
        "out": found.out,
        "lost": found.lost,
        "refused": found.refused,
        "at_end": found.at_end,
        "adds_up": found.balanced,
    }


def _gone(made: Sequence[Recorded], first: int, last: int) -> Section:
    """Every skin lost or refused, with the reason."""
    rows = []
    for one in made:
        ended = one.custody.life.ended_when
        if one.how not in ("lost", "refused") or ended is None or not first <= ended.day <= last:
            continue
        whose = one.owner.name if one.owner is not None else NOBODY
        place = one.custody.life.ended.at.short if one.custody.life.ended is not None else ""
        text = f"{one.how} {one.out}, {one.custody.life.kind or 'kind not written'}, {whose}: {one.why or 'no reason written'}"
        rows.append(
            Row(head=one.tag, text=f"{text} ({place})", plain=(one.tag, one.how, one.out, whose, one.why, place))
        )
    return Section(heading="Lost and refused", rows=tuple(rows))


def _mind() -> Section:
    return Section(
        heading="Mind", rows=tuple(Row(text=text, plain=("mind", text)) for text in (CAUTION, DRAIN_CAUTION))
    )
