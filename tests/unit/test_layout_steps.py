"""Steps, stays and rests: what ends a stay, what only holds its clock, and what the process makes of it."""

import pytest

from hideledger.model.facts import (
    HandedOut,
    InCondition,
    LiftedOut,
    Mixed,
    OnProcess,
    Skipped,
    Span,
    Stepped,
    Weighed,
)
from hideledger.model.moments import HOUR, Length
from hideledger.model.process import Process
from tests.unit.little_book import BOTH, SHOP, Page, bath, hours, odd, only, proof, quantity, step


def started(*, bath_too: bool = True) -> Page:
    """A hide that came in and was fleshed, and a pickle."""
    page = Page()
    page.comes("2026-11-02 08:00", "H41")
    page.goes("2026-11-02 09:00", "H41", "fleshed")
    if bath_too:
        page.line("2026-11-02 10:00", "P3", Mixed(vessel="V1"))
        page.line("2026-11-02 10:30", "P4", Mixed(vessel="V2"))
    return page


def test_any_step_ends_the_stay_and_tests_and_weights_do_not() -> None:
    page = started()
    page.goes("2026-11-02 11:00", "H41", "salt")
    page.line("2026-11-03 08:00", "H41", proof("pull test", passed=True), Weighed(weight=quantity("7", "lb")))
    page.line("2026-11-03 08:05", "H41", Skipped(step="ears turned"))
    assert only(page.floor(), "H41").stay is not None
    shaved = page.goes("2026-11-04 11:00", "H41", "shaved")
    life = only(page.floor(), "H41")
    assert life.stay is None
    assert (life.stays[0].end, life.stays[0].end_entry) == (shaved.when, shaved)
    assert hours(life.stays[0].start, shaved.when) == (48, 48)
    assert life.marks[-1].name == "shaved"


def test_several_steps_of_one_line_follow_each_other() -> None:
    page = Page()
    page.comes("2026-11-02 08:00", "H41")
    page.line("2026-11-02 09:00", "H41", Stepped(step="fleshed"), Stepped(step="ears turned"), Stepped(step="salt"))
    life = only(page.floor(), "H41")
    assert [mark.name for mark in life.marks] == ["in", "fleshed", "ears turned", "salt"]
    assert life.stay is not None
    assert life.stay.name == "salt"


def test_out_of_the_bath_ends_the_stay_and_begins_nothing() -> None:
    page = started()
    page.goes("2026-11-02 11:00", "H41", "pickle", "P3")
    out = page.line("2026-11-05 11:00", "H41", LiftedOut(where="V1"))  # the vessel says the bath in it
    floor = page.floor()
    life = only(floor, "H41")
    assert life.stay is None
    assert life.stays[0].end_entry is out
    assert [mark.name for mark in life.marks] == ["in", "fleshed", "pickle"]
    assert bath(floor, "P3").members[0].leave == out.when


def test_out_of_a_bath_it_is_not_in_is_told_and_moves_nothing() -> None:
    page = started()
    page.goes("2026-11-02 11:00", "H41", "pickle", "P3")
    page.line("2026-11-05 11:00", "H41", LiftedOut(where="P4"))
    floor = page.floor()
    assert only(floor, "H41").stay is not None
    assert [oddity.note for oddity in odd(floor, "in two places")] == ["P3"]


def test_the_same_step_in_another_bath_goes_on() -> None:
    page = started()
    first = page.goes("2026-11-02 11:00", "H41", "pickle", "P3")
    page.goes("2026-11-03 11:00", "H41", "pickle", "P4")
    floor = page.floor()
    life = only(floor, "H41")
    one, two = life.stays
    assert (one.goes_on, two.goes_on, two.begun) == (False, True, first.when)
    assert one.line is not None
    assert two.line is one.line
    assert one.line.title == "pickle"
    assert [bath(floor, "P3").now_in, [member.hide.tag for member in bath(floor, "P4").now_in]] == [[], ["H41"]]
    assert not life.missing


def test_the_same_step_in_the_same_bath_once_more_is_told_where_the_process_has_no_place_for_it() -> None:
    plain = Process(
        name="both", steps=(step("in"), step("pickle", "stay"), step("drained", "stay"), step("out")), place=SHOP
    )
    page = Page(plain)
    page.line("2026-11-02 07:00", "P3", Mixed(vessel="V1"))
    page.comes("2026-11-02 08:00", "H41")
    first = page.goes("2026-11-02 11:00", "H41", "pickle", "P3")
    again = page.goes("2026-11-03 11:00", "H41", "pickle", "P3")
    floor = page.floor()
    (oddity,) = odd(floor, "twice")
    assert (oddity.entry, oddity.other) == (again, first)
    life = only(floor, "H41")
    assert [mark.fault for mark in life.marks] == ["", "", ""]
    assert life.stays[-1].begun == first.when


def test_once_more_after_shaving_is_the_later_place_of_the_step() -> None:
    page = started()
    page.goes("2026-11-02 11:00", "H41", "pickle", "P3")
    page.goes("2026-11-06 11:00", "H41", "shaved")
    page.goes("2026-11-06 12:00", "H41", "pickle", "P3")
    life = only(page.floor(), "H41")
    assert [stay.line.title for stay in life.stays if stay.line] == ["pickle", "pickle again"]
    assert not any(mark.fault for mark in life.marks)


def test_a_rest_holds_the_clock_and_the_same_step_goes_on() -> None:
    page = started()
    first = page.goes("2026-11-02 11:00", "H41", "salt")
    page.goes("2026-11-02 20:00", "H41", "frozen", "freezer")
    page.goes("2026-11-10 08:00", "H41", "thawed")
    page.goes("2026-11-10 08:30", "H41", "salt")
    life = only(page.floor(), "H41")
    assert [stay.goes_on for stay in life.stays] == [False, True]
    assert life.stays[1].begun == first.when
    assert [(pause.name, pause.place) for pause in life.pauses] == [("frozen", "freezer")]
    assert life.pauses[0].after is not None
    assert life.pauses[0].after.name == "salt"


def test_after_a_rest_the_same_step_is_not_its_later_place() -> None:
    twice = Process(
        name="both",
        steps=(step("in"), step("salt", "stay"), step("salt", "stay", again=True, optional=True), step("out")),
        place=SHOP,
    )
    page = Page(twice)
    page.comes("2026-11-02 08:00", "H41")
    page.goes("2026-11-02 11:00", "H41", "salt")
    page.goes("2026-11-02 20:00", "H41", "frozen")
    page.goes("2026-11-10 08:00", "H41", "thawed")
    page.goes("2026-11-10 08:30", "H41", "salt")
    stay = only(page.floor(), "H41").stay
    assert stay is not None
    assert (stay.goes_on, stay.line) == (True, twice.steps[1])
    page.goes("2026-11-12 08:30", "H41", "salt")  # no rest between: salted again
    stay = only(page.floor(), "H41").stay
    assert stay is not None
    assert (stay.goes_on, stay.line) == (False, twice.steps[2])


def test_frozen_and_thawed_twice() -> None:
    page = started(bath_too=False)
    for day in ("03", "05"):
        page.goes(f"2026-11-{day} 08:00", "H41", "frozen", "freezer")
        page.goes(f"2026-11-{day} 20:00", "H41", "thawed")
    life = only(page.floor(), "H41")
    assert [hours(pause.start, pause.end or pause.start) for pause in life.pauses] == [(12, 12), (12, 12)]
    assert life.resting is None


def test_a_frozen_hide_leaves_its_bath() -> None:
    page = started()
    page.goes("2026-11-02 11:00", "H41", "pickle", "P3")
    frozen = page.goes("2026-11-04 11:00", "H41", "frozen", "freezer")
    floor = page.floor()
    assert bath(floor, "P3").members[0].leave == frozen.when
    assert only(floor, "H41").stay is not None


def test_a_short_step_written_afterwards() -> None:
    page = started()
    page.goes("2026-11-02 11:00", "H41", "pickle", "P3")
    page.line("2026-11-05 10:00", "H41", Stepped(step="neutralised", span=Span(length=Length(seconds=1200))))
    life = only(page.floor(), "H41")
    pickle, short = life.stays
    assert (short.start, short.end) == (page.when("2026-11-05 09:40"), page.when("2026-11-05 10:00"))
    assert pickle.end == short.start
    assert life.stay is None


def test_short_steps_in_one_line_end_where_the_next_begins() -> None:
    page = started()
    page.line(
        "2026-11-05 10:00",
        "H41",
        Stepped(step="neutralised", span=Span(length=Length(seconds=1200))),
        Stepped(step="oiled", span=Span(length=Length(seconds=600))),
        Stepped(step="drained"),
    )
    one, two, three = only(page.floor(), "H41").stays
    assert (one.start, one.end) == (page.when("2026-11-05 09:30"), page.when("2026-11-05 09:50"))
    assert (two.start, two.end) == (page.when("2026-11-05 09:50"), page.when("2026-11-05 10:00"))
    assert (three.start, three.end) == (page.when("2026-11-05 10:00"), None)


@pytest.mark.parametrize("stamp", ["2026-11-05 18:00", "2026-11-05"])
def test_from_and_to_are_the_times_of_the_step(stamp: str) -> None:
    page = started()
    page.line(stamp, "H41", Stepped(step="neutralised", span=Span(start=9 * 60 + 20, end=9 * 60 + 45)))
    (stay,) = only(page.floor(), "H41").stays
    assert (stay.start, stay.end) == (page.when("2026-11-05 09:20"), page.when("2026-11-05 09:45"))


def test_a_step_that_the_process_does_not_have_is_a_moment_unless_it_names_a_bath() -> None:
    page = started()
    page.goes("2026-11-03 08:00", "H41", "soaked")
    assert only(page.floor(), "H41").stay is None
    page.goes("2026-11-03 09:00", "H41", "soaked", "P4")
    life = only(page.floor(), "H41")
    assert life.stay is not None
    assert (life.stay.line, life.stay.mark.fault) == (None, "not of this process")


def test_a_stay_of_another_process_is_a_moment_here() -> None:
    cape = Process(name="cape", steps=(step("in"), step("salt", "stay"), step("out")), place=SHOP)
    short = Process(name="short", steps=(step("in"), step("salt"), step("out")), place=SHOP)
    page = Page(cape, short)
    page.comes("2026-11-02 08:00", "H41", OnProcess(process="cape"))
    page.comes("2026-11-02 08:00", "H42", OnProcess(process="short"))
    page.goes("2026-11-02 09:00", "H41 H42", "salt")
    floor = page.floor()
    assert only(floor, "H41").stay is not None
    assert only(floor, "H42").stay is None


def test_the_same_foreign_step_twice_in_a_bath_is_one_fault() -> None:
    page = started()
    page.goes("2026-11-03 09:00", "H41", "soaked", "P4")
    page.goes("2026-11-04 09:00", "H41", "soaked", "P4")
    floor = page.floor()
    assert [mark.fault for mark in only(floor, "H41").marks[-2:]] == ["not of this process", ""]
    assert len(odd(floor, "twice")) == 1


def test_without_a_process_a_step_that_is_a_stay_elsewhere_is_one() -> None:
    page = Page(BOTH, Process(name="other", steps=(step("in"), step("salt")), place=SHOP))
    page.comes("2026-11-02 08:00", "H41")
    page.goes("2026-11-02 09:00", "H41", "salt")
    life = only(page.floor(), "H41")
    assert life.process is None
    assert life.stay is not None


def test_back_in_a_bath_takes_the_step_it_was_there_for() -> None:
    page = started()
    page.goes("2026-11-02 11:00", "H41", "pickle", "P3")
    page.goes("2026-11-06 11:00", "H41", "shaved")
    page.line("2026-11-06 12:00", "H41", Stepped(step="", where="P3", back=True))
    life = only(page.floor(), "H41")
    assert life.stay is not None
    assert (life.stay.name, life.stay.mark.on_purpose, life.stay.mark.fault) == ("pickle", True, "")


def test_back_in_another_bath_takes_the_last_step_in_any_bath() -> None:
    page = started()
    page.goes("2026-11-02 11:00", "H41", "pickle", "P3")
    page.goes("2026-11-06 11:00", "H41", "shaved")
    page.line("2026-11-06 12:00", "H41", Stepped(step="", where="P4", back=True))
    life = only(page.floor(), "H41")
    assert life.stay is not None
    assert (life.stay.name, life.stay.where) == ("pickle", "P4")


def test_back_in_a_bath_it_never_saw_says_so() -> None:
    page = started()
    page.line("2026-11-06 12:00", "H41", Stepped(step="", where="P3", back=True))
    life = only(page.floor(), "H41")
    assert life.marks[-1].fault == "not of this process"
    assert life.stay is not None
    assert life.stay.bath is not None


def test_after_a_failed_test_a_return_is_no_fault() -> None:
    page = started()
    page.goes("2026-11-02 11:00", "H41", "pickle", "P3")
    page.line("2026-11-09 08:00", "L14", Mixed(vessel="D1"))
    page.goes("2026-11-09 09:00", "H41", "first turn", "L14")
    page.goes("2026-11-09 10:00", "H41", "second turn", "L14")
    page.goes("2026-11-09 13:00", "H41", "drained")
    page.line("2026-11-09 13:05", "H41", proof("cut test", passed=False))
    page.goes("2026-11-09 13:10", "H41", "second turn", "L14")
    life = only(page.floor(), "H41")
    assert (life.marks[-1].on_purpose, life.marks[-1].fault) == (True, "")
    assert not any(mark.fault for mark in life.marks)


def test_a_missing_and_a_swapped_step() -> None:
    page = Page()
    page.comes("2026-11-02 08:00", "H41 H42")
    page.goes("2026-11-02 09:00", "H41", "pickle")
    pickled = page.goes("2026-11-02 09:00", "H42", "pickle")
    page.goes("2026-11-05 09:00", "H42", "first turn")
    page.goes("2026-11-05 10:00", "H42", "fleshed")
    page.goes("2026-11-05 11:00", "H42", "second turn")
    floor = page.floor()
    (missing,) = only(floor, "H41").missing
    assert (missing.line.name, missing.before is not None and missing.before.name) == ("fleshed", "pickle")
    swapped = only(floor, "H42").swapped
    assert [(mark.name, mark.fault, line.name) for mark, line in swapped] == [("fleshed", "out of order", "fleshed")]
    assert not only(floor, "H42").missing
    assert pickled.order < 4


def test_out_makes_every_step_that_is_not_optional_due() -> None:
    page = started()
    page.goes("2026-11-02 11:00", "H41", "pickle", "P3")
    page.line("2026-11-09 08:00", "H41", HandedOut(to="Oren Vale"))
    life = only(page.floor(), "H41")
    assert [missing.line.name for missing in life.missing] == ["first turn", "second turn", "drained", "oiled"]
    assert all(missing.before is life.marks[-1] for missing in life.missing)
    assert life.marks[-1].line is BOTH.steps[-1]


def test_a_process_without_in_and_out_takes_them_as_no_fault() -> None:
    page = Page(Process(name="both", steps=(step("salt", "stay"),), place=SHOP))
    page.comes("2026-11-02 08:00", "H41")
    page.goes("2026-11-02 09:00", "H41", "salt")
    page.line("2026-11-09 08:00", "H41", HandedOut(to="Oren Vale"))
    assert not any(mark.fault for mark in only(page.floor(), "H41").marks)


@pytest.mark.parametrize("day", ["2026-11-02 08:30", "2026-11-04 08:00", "2026-11-09 08:00"])
def test_skipped_counts_as_done_whenever_it_is_written(day: str) -> None:
    page = Page()
    page.comes("2026-11-02 08:00", "H41")
    page.line(day, "H41", Skipped(step="fleshed"))
    page.goes("2026-11-02 09:00", "H41", "salt")
    page.goes("2026-11-05 09:00", "H41", "pickle")
    life = only(page.floor(), "H41")
    assert not life.missing
    assert not any(mark.fault for mark in life.marks)
    (skip,) = (mark for mark in life.marks if mark.skipped)
    assert skip.line is BOTH.steps[1]


def test_done_elsewhere_is_written_on_the_arrival_line() -> None:
    page = Page()
    page.comes(
        "2026-11-02 08:00", "H41", InCondition(condition="wet salted"), Stepped(step="fleshed"), Stepped(step="salt")
    )
    page.goes("2026-11-03 09:00", "H41", "pickle")
    life = only(page.floor(), "H41")
    assert [(mark.name, mark.elsewhere) for mark in life.marks] == [
        ("in", False),
        ("fleshed", True),
        ("salt", True),
        ("pickle", False),
    ]
    assert [stay.name for stay in life.stays] == ["pickle"]
    assert not life.missing


def test_a_hide_that_came_frozen_rests_from_the_door() -> None:
    page = Page()
    came = page.comes("2026-11-02 08:00", "H41", InCondition(condition="frozen"))
    life = only(page.floor(), "H41")
    assert life.resting is not None
    assert (life.resting.from_door, life.resting.start, life.resting.after is life.marks[0]) == (True, came.when, True)


def test_work_done_elsewhere_thaws_nothing() -> None:
    page = Page()
    page.comes("2026-11-02 08:00", "H41", InCondition(condition="frozen"), Stepped(step="fleshed"))
    floor = page.floor()
    assert only(floor, "H41").resting is not None
    assert not floor.oddities


def test_frozen_said_on_a_later_line_rests_from_the_door_too() -> None:
    page = Page()
    came = page.comes("2026-11-02 08:00", "H41")
    page.line("2026-11-02 12:00", "H41", InCondition(condition="frozen"))
    life = only(page.floor(), "H41")
    assert life.resting is not None
    assert life.resting.start == came.when
    page.line("2026-11-02 13:00", "H41", InCondition(condition="green"))
    assert not only(page.floor(), "H41").pauses


def test_weights_are_named_by_the_last_step_that_weighs() -> None:
    page = started()
    page.line("2026-11-02 09:30", "H41", Weighed(weight=quantity("7.5", "lb")))
    page.line("2026-11-06", "H41", Stepped(step="shaved"), Weighed(weight=quantity("4.9", "lb")))
    page.line("2026-11-07", "H41", Weighed(weight=quantity("5", "lb"), basis="drained"))
    page.comes("2026-11-07 10:00", "H42", Weighed(weight=quantity("6", "lb")), InCondition(condition="wet salted"))
    floor = page.floor()
    assert [weight.basis for weight in only(floor, "H41").weights] == ["green", "shaved", "drained"]
    assert [weight.basis for weight in only(floor, "H42").weights] == ["salted"]


def test_one_minute_in_two_baths() -> None:
    page = started()
    one = page.goes("2026-11-02 11:00", "H41", "pickle", "P3")
    two = page.goes("2026-11-02 11:00", "H41", "salt", "P4")
    (oddity,) = odd(page.floor(), "in two places")
    assert (oddity.tags, oddity.entry, oddity.other) == (("H41",), two, one)


def test_stays_are_real_hours() -> None:
    page = started()
    page.goes("2026-11-02", "H41", "salt")
    page.goes("2026-11-03 09:00", "H41", "pickle", "P3")
    salt = only(page.floor(), "H41").stays[0]
    assert salt.end is not None
    # some time between fleshing at 9:00 and midnight
    assert (salt.end.lo - salt.start.hi, salt.end.lo - salt.start.lo) == (9 * HOUR + 1, 24 * HOUR)
