"""How moments and tags are said, and when somebody is there."""

from __future__ import annotations

from datetime import date

import pytest

from hideledger.answers.saying import tags_said
from hideledger.model.moments import Clock, When
from hideledger.model.shop import Closed, Hours, ShopLines
from hideledger.reading import read_text
from hideledger.rules.hours import ShopHours
from hideledger.rules.words import day_said, entry_stamp, in_order, listed, stamp, when_said, who
from hideledger.text.place import Place

CLOCK = Clock("America/Chicago")
HERE = Place(file="shop.hides", line=1)
MONDAY = date(2026, 11, 2).toordinal()  # cal 11 2026: the 2nd is a Monday


def at(day: int, hour: int, minute: int = 0) -> int:
    return CLOCK.instant(day, hour * 60 + minute)[0]


def hours(*lines: tuple[int, int, tuple[int, ...]], closed: tuple[tuple[date, date], ...] = ()) -> ShopHours:
    shop = ShopLines(
        hours=tuple(Hours(start=a * 60, end=b * 60, weekdays=frozenset(days), place=HERE) for a, b, days in lines),
        closed=tuple(Closed(first=a, last=b, place=HERE) for a, b in closed),
    )
    return ShopHours(shop, CLOCK)


def test_a_moment_is_said_on_the_walls_clock() -> None:
    now = at(MONDAY, 12)
    assert stamp(CLOCK, at(MONDAY + 1, 19, 40), now) == "Tue 3 Nov 19:40"
    assert day_said(CLOCK, MONDAY + 1, now) == "Tue 3 Nov"
    assert stamp(CLOCK, at(MONDAY - 365, 7), now) == "Sun 2 Nov 2025 07:00"
    assert entry_stamp(CLOCK, at(MONDAY + 1, 19, 40)) == "2026-11-03 19:40"


def test_a_moment_without_a_time_is_said_as_its_day() -> None:
    now = at(MONDAY, 12)
    assert when_said(CLOCK, CLOCK.some_time(MONDAY), now) == "some time on Mon 2 Nov"
    assert when_said(CLOCK, When(now, now, MONDAY, True), now) == "Mon 2 Nov 12:00"


@pytest.mark.parametrize(
    ("tags", "line"),
    [
        (("H41",), "H41"),
        (("H10", "H9", "H9"), "H9 H10"),
        (("H44", "H45", "H46", "H47", "H41"), "H41 H44 thru H47"),
        (("H1", "H2", "H4"), "H1 H2 H4"),
        (("MB-07", "MB-08", "MB-09"), "MB-07 thru MB-09"),
        (("H9", "H10", "H11"), "H9 thru H11"),  # the next number, however many figures it has
        (("H41a", "H41b", "H42"), "H41a H41b H42"),
    ],
)
def test_tags_are_written_as_a_line_names_them(tags: tuple[str, ...], line: str) -> None:
    assert who(tags) == line


@pytest.mark.parametrize(
    "tags",
    [
        tuple(f"H{number}" for number in range(7, 1010)),  # more than one run may name
        ("H9", "H10", "H11"),
        ("H08", "H09", "H10"),
        ("MB-7", "MB-8", "MB-9", "P1"),
        ("H1", "H2", "K3"),
    ],
)
def test_a_line_that_names_them_is_read_as_naming_them_and_a_sentence_says_the_same_runs(tags: tuple[str, ...]) -> None:
    book = read_text(f"2026-11-03 08:15 {who(tags)} slip\n")
    assert not book.unread
    assert book.entries[0].tags == read_text(f"2026-11-03 08:15 {' '.join(tags)} slip\n").entries[0].tags
    assert tags_said(tags).replace(", ", " ") == who(tags)


def test_tags_and_names_in_a_row() -> None:
    assert in_order(["H10", "H9", "P3", "H9"]) == ("H9", "H10", "P3")
    assert [listed(["H1", "H2", "H3"][:n]) for n in range(4)] == ["", "H1", "H1 and H2", "H1, H2 and H3"]


def test_without_hours_somebody_is_always_there() -> None:
    always = hours()
    night = at(MONDAY, 3)
    assert always.is_open(night)
    assert always.next_opening(night) == night
    assert always.act_by(night) == night
    assert always.next_open_day(MONDAY) == MONDAY + 1
    assert always.closing(MONDAY) == CLOCK.day_end(MONDAY)


def test_over_night_and_over_sunday() -> None:
    six_days = hours((7, 18, (0, 1, 2, 3, 4, 5)))
    saturday, sunday, next_monday = MONDAY + 5, MONDAY + 6, MONDAY + 7
    assert six_days.is_open(at(MONDAY, 7))
    assert six_days.is_open(at(MONDAY, 18))
    assert not six_days.is_open(at(MONDAY, 18, 1))
    assert six_days.next_opening(at(saturday, 18, 1)) == at(next_monday, 7)
    assert six_days.act_by(at(sunday, 3)) == at(saturday, 18)
    assert six_days.act_by(at(saturday, 12)) == at(saturday, 12)
    assert six_days.next_open_day(saturday) == next_monday
    assert not six_days.open_day(sunday)
    assert six_days.open_days_between(MONDAY, next_monday) == 5


def test_closed_days_and_a_short_saturday() -> None:
    shop = hours((7, 18, (0, 1, 2, 3, 4)), (8, 12, (5,)), closed=((date(2026, 11, 3), date(2026, 11, 6)),))
    assert shop.next_opening(at(MONDAY, 20)) == at(MONDAY + 5, 8)
    assert shop.closing(MONDAY + 5) == at(MONDAY + 5, 12)
    assert shop.last_closing(at(MONDAY + 4, 12)) == at(MONDAY, 18)


def test_hours_past_midnight_belong_to_the_day_they_begin_on() -> None:
    late = hours((18, 2, (0,)))
    assert late.is_open(at(MONDAY + 1, 1))
    assert not late.is_open(at(MONDAY + 1, 3))
    assert late.closing(MONDAY) == at(MONDAY + 1, 2)


def test_a_shop_that_opens_no_more_waits_for_nothing() -> None:
    never = hours((7, 18, ()))
    assert never.next_opening(at(MONDAY, 12)) == at(MONDAY, 12)
    assert never.last_closing(at(MONDAY, 12)) is None
    assert never.act_by(at(MONDAY, 12)) == at(MONDAY, 12)
