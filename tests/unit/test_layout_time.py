"""Where lines lie in time: those without a time between their neighbours, those after the moment not at all."""

import pytest

from hideledger.model.facts import InCondition, LiftedOut, Mixed, Reading, Remark, Turning, Weighed
from hideledger.model.moments import HOUR
from hideledger.shopfloor.floor import Floor
from hideledger.text.source import Source
from tests.unit.little_book import Page, bath, hours, odd, only, quantity


def span(page: Page, floor: Floor, tag: str, name: str) -> tuple[str, str]:
    """From and to of a mark, as the wall clock says it."""
    mark = next(mark for mark in only(floor, tag).marks if mark.name == name)
    first, last = page.clock.local(mark.when.lo), page.clock.local(mark.when.hi)
    return first.strftime("%H:%M"), last.strftime("%H:%M")


def test_a_line_without_a_time_lies_between_its_neighbours() -> None:
    page = Page()
    page.comes("2026-11-03 08:00", "H41")
    page.goes("2026-11-03", "H41", "fleshed")
    page.goes("2026-11-03 11:00", "H41", "salt")
    page.goes("2026-11-03", "H41", "pickle")
    floor = page.floor()
    assert span(page, floor, "H41", "fleshed") == ("08:00", "11:00")
    assert span(page, floor, "H41", "pickle") == ("11:00", "23:59")
    assert [mark.name for mark in only(floor, "H41").marks] == ["in", "fleshed", "salt", "pickle"]


def test_another_hides_lines_narrow_nothing() -> None:
    page = Page()
    page.comes("2026-11-02 08:00", "H41 H42")
    page.goes("2026-11-03 09:00", "H42", "fleshed")
    page.goes("2026-11-03", "H41", "fleshed")
    page.goes("2026-11-03 10:00", "H42", "salt")
    assert span(page, page.floor(), "H41", "fleshed") == ("00:00", "23:59")


def test_a_forgotten_line_written_late_takes_its_time() -> None:
    page = Page()
    page.comes("2026-11-03 18:30", "H41")
    page.goes("2026-11-03", "H41", "salt")
    page.line("2026-11-03 12:00", "H41", Weighed(weight=quantity("7", "lb")))
    floor = page.floor()
    assert span(page, floor, "H41", "salt") == ("18:30", "23:59")


def test_a_line_that_puts_a_hide_into_a_bath_lies_between_the_baths_lines() -> None:
    page = Page()
    page.comes("2026-11-02 08:00", "H41")
    page.line("2026-11-03 08:00", "P3", Mixed(vessel="V1"))
    page.goes("2026-11-03", "H41", "pickle", "P3")
    page.line("2026-11-03 17:00", "P3", Reading(what="pH", value=quantity("2", "pH")))
    assert span(page, page.floor(), "H41", "pickle") == ("08:00", "17:00")


def test_the_hides_own_lines_come_before_the_baths() -> None:
    page = Page()
    page.comes("2026-11-02 08:00", "H41")
    page.line("2026-11-03 09:00", "P3", Mixed(vessel="V1"))
    page.goes("2026-11-03", "H41", "pickle", "P3")  # below 9:00 for the bath, above 8:30 for the hide
    page.line("2026-11-03 08:30", "H41", Weighed(weight=quantity("7", "lb")))
    assert span(page, page.floor(), "H41", "pickle") == ("00:00", "08:30")


def test_lines_in_two_files_have_no_order_between_them() -> None:
    page = Page()
    other = Source(name="other.hides", text="")
    page.comes("2026-11-03 08:00", "H41")
    page.goes("2026-11-03 12:00", "H41", "salt")
    page.line("2026-11-03", "H41", Weighed(weight=quantity("7", "lb")), source=other)
    weight = only(page.floor(), "H41").weights[0]
    assert hours(weight.when, weight.when)[1] == pytest.approx(16, abs=0.001)  # only not before it came in


def test_lines_of_several_hides_are_narrowed_for_each() -> None:
    page = Page()
    page.comes("2026-11-02 08:00", "H41 H42")
    page.goes("2026-11-03 08:00", "H41", "fleshed")
    page.goes("2026-11-03 10:00", "H42", "fleshed")
    page.goes("2026-11-03", "H41 H42", "salt")
    page.goes("2026-11-03 09:00", "H41", "pickle")  # H41 was salted between 8 and 9, H42 after 10
    floor = page.floor()
    assert span(page, floor, "H41", "salt") == ("08:00", "09:00")
    assert span(page, floor, "H42", "salt") == ("10:00", "23:59")
    assert [mark.name for mark in only(floor, "H41").marks] == ["in", "fleshed", "salt", "pickle"]


def test_a_timed_line_about_all_in_a_bath_narrows_its_members() -> None:
    page = Page()
    page.comes("2026-11-01 08:00", "H41")
    page.line("2026-11-02 08:00", "L14", Mixed(vessel="D1"))
    page.goes("2026-11-02 09:00", "H41", "first turn", "L14")
    page.goes("2026-11-03 11:10", "all in L14", "drained")
    page.line("2026-11-03", "H41", Weighed(weight=quantity("5", "lb")))
    life = only(page.floor(), "H41")
    assert page.clock.local(life.weights[0].when.lo).strftime("%H:%M") == "11:10"
    assert life.weights[0].basis == "drained"


def test_all_in_a_bath_without_a_time_comes_after_they_went_in() -> None:
    page = Page()
    page.comes("2026-11-02 08:00", "H41 H42")
    page.line("2026-11-02 08:00", "L14", Mixed(vessel="D1"))
    page.goes("2026-11-02 08:20", "H41 H42", "first turn", "L14")
    page.goes("2026-11-02", "all in L14", "drained")
    floor = page.floor()
    assert floor.oddities == []
    assert span(page, floor, "H42", "drained") == ("08:20", "23:59")


def test_all_in_a_bath_without_a_time_lies_between_the_baths_own_lines() -> None:
    page = Page()
    page.comes("2026-11-02 08:00", "H41")
    page.line("2026-11-02 08:00", "L14", Mixed(vessel="D1"))
    page.goes("2026-11-02 08:20", "H41", "first turn", "L14")
    page.line("2026-11-02 09:05", "L14", Turning(on=False))
    page.goes("2026-11-02", "all in L14", "drained")
    assert span(page, page.floor(), "H41", "drained") == ("09:05", "23:59")


def test_what_is_written_happened_before_now() -> None:
    page = Page()
    page.comes("2026-11-03 08:00", "H41")
    page.goes("2026-11-03", "H41", "fleshed")
    page.goes("2026-11-03 15:00", "H41", "salt")
    page.goes("2026-11-04", "H41", "pickle")
    floor = page.floor("2026-11-03 14:00")
    assert span(page, floor, "H41", "fleshed") == ("08:00", "14:00")
    assert floor.later == 2
    assert [entry.order for entry in floor.entries] == [0, 1]


def test_a_line_without_a_time_below_a_later_one_has_not_come_yet() -> None:
    page = Page()
    page.comes("2026-11-03 08:00", "H41 H42")
    page.goes("2026-11-03 15:00", "H41", "salt")
    page.goes("2026-11-03", "H41", "pickle")
    page.goes("2026-11-03", "H42", "fleshed")
    floor = page.floor("2026-11-03 14:00")
    assert floor.later == 2
    assert [mark.name for mark in only(floor, "H41").marks] == ["in"]
    assert [mark.name for mark in only(floor, "H42").marks] == ["in", "fleshed"]


def test_lines_at_the_very_moment_count() -> None:
    page = Page()
    page.comes("2026-11-03 08:00", "H41")
    assert page.floor("2026-11-03 08:00").later == 0
    assert page.floor("2026-11-03 07:59").later == 1
    assert not page.floor("2026-11-03 07:59").hides


def test_one_minute_keeps_the_order_of_the_file() -> None:
    page = Page()
    page.comes("2026-11-03 08:00", "H41")
    page.goes("2026-11-03 08:00", "H41", "fleshed")
    page.goes("2026-11-03 08:00", "H41", "salt")
    assert [mark.name for mark in only(page.floor(), "H41").marks] == ["in", "fleshed", "salt"]


def test_the_night_the_clocks_go_back_is_an_hour_longer() -> None:
    # US clocks went back on 1 November 2026 (first Sunday in November: 15 U.S.C. 260a); practice by hand: 61 h 35 min.
    page = Page()
    page.comes("2026-10-30 19:30", "H41")
    page.goes("2026-10-30 19:40", "H41", "salt")
    page.goes("2026-11-02 08:15", "H41", "pickle")
    (salt, _) = only(page.floor(), "H41").stays
    assert salt.end is not None
    assert salt.end.lo - salt.start.lo == 61 * HOUR + 35 * 60


def test_the_night_the_clocks_go_forward_is_an_hour_shorter() -> None:
    page = Page()
    page.comes("2026-03-07 19:00", "H41")
    page.goes("2026-03-07 20:00", "H41", "salt")
    page.goes("2026-03-08 08:00", "H41", "pickle")
    (salt, _) = only(page.floor(), "H41").stays
    assert salt.end is not None
    assert salt.end.lo - salt.start.lo == 11 * HOUR


def test_without_a_zone_no_clock_changes() -> None:
    page = Page(zone=None)
    page.comes("2026-10-30 19:30", "H41")
    page.goes("2026-10-30 19:40", "H41", "salt")
    page.goes("2026-11-02 08:15", "H41", "pickle")
    (salt, _) = only(page.floor(), "H41").stays
    assert salt.end is not None
    assert salt.end.lo - salt.start.lo == 60 * HOUR + 35 * 60


def test_a_wrong_year_is_dated_ahead_or_back() -> None:
    page = Page()
    page.comes("2026-11-03 08:00", "H41")
    ahead = page.line("2027-11-03 09:00", "H41", Remark(text="a year off"))
    page.line("2026-11-03 10:00", "H41", Remark(text="good"))
    back = page.line("2025-11-03 11:00", "H41", Remark(text="a year off"))
    page.line("2026-11-03 12:00", "H41", Remark(text="good"))
    floor = page.floor("2026-11-04 08:00")
    assert [oddity.entry for oddity in odd(floor, "dated ahead")] == [ahead]
    assert [oddity.entry for oddity in odd(floor, "dated back")] == [back]


def test_a_wrong_day_is_dated_ahead_once_a_line_below_it_is_not() -> None:
    page = Page()
    slip = page.comes("2026-11-13 08:00", "H41")
    page.line("2026-11-03 09:00", "@room", Reading(what="temperature", value=quantity("66", "F")))
    assert [oddity.entry for oddity in odd(page.floor("2026-11-04 08:00"), "dated ahead")] == [slip]
    assert not odd(page.floor("2026-11-14 08:00"), "dated ahead")


def test_a_late_entry_makes_no_slip_of_the_lines_above_it() -> None:
    page = Page()
    for day in range(1, 20):
        page.line(f"2026-11-{day:02d} 08:00", "@room", Reading(what="temperature", value=quantity("66", "F")))
    page.line("2026-11-03 12:00", "@room", Reading(what="temperature", value=quantity("68", "F")))
    assert not page.floor("2026-11-05 12:00").oddities


def test_a_season_read_in_the_past_is_not_dated_ahead() -> None:
    page = Page()
    for day in range(1, 28):
        page.line(f"2026-11-{day:02d} 08:00", "@room", Reading(what="temperature", value=quantity("66", "F")))
    floor = page.floor("2026-11-05 12:00")
    assert floor.later == 22
    assert not floor.oddities


def test_a_rest_without_a_thaw_ends_somewhere_between() -> None:
    page = Page()
    page.comes("2026-11-03 08:00", "H41", InCondition(condition="frozen"))
    page.goes("2026-11-05 10:00", "H41", "fleshed")
    life = only(page.floor(), "H41")
    (pause,) = life.pauses
    assert pause.end is not None
    assert pause.end_entry is None
    assert hours(pause.start, pause.end) == (0, 50)


def test_out_of_the_freezer_says_thawed() -> None:
    page = Page()
    page.comes("2026-11-03 08:00", "H41", InCondition(condition="frozen"))
    page.goes("2026-11-03 08:05", "H41", "frozen", "freezer")
    thaw = page.line("2026-11-05 10:00", "H41", LiftedOut(where="freezer"))
    life = only(page.floor(), "H41")
    (pause,) = life.pauses
    assert (pause.from_door, pause.place, pause.end_entry) == (True, "freezer", thaw)
    assert pause.end is not None
    assert hours(pause.start, pause.end) == (50, 50)


def test_nothing_written_is_an_empty_shop() -> None:
    floor = Page().floor()
    assert not floor.hides
    assert not floor.oddities
    assert floor.later == 0


def test_a_bath_is_narrowed_by_its_own_lines() -> None:
    page = Page()
    page.line("2026-11-03 08:00", "P3", Mixed(vessel="V1"))
    page.line("2026-11-03", "P3", Reading(what="pH", value=quantity("2", "pH")))
    page.line("2026-11-03 12:00", "P3", Reading(what="pH", value=quantity("2.1", "pH")))
    first = bath(page.floor(), "P3").readings[0].when
    assert hours(first, first)[1] == 4
