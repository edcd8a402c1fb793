"""The raw clock against the published square-root model, and against what starts and stops it."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hideledger.model.facts import Hung, InCondition, Killed, LiftedOut, Mixed, Reading, Stamp, Stepped
from hideledger.model.moments import DAY, HOUR, Length
from hideledger.model.process import Process, Rest
from hideledger.shopfloor.life import RawClock
from hideledger.shopfloor.raw import Span, rate, weighted_seconds
from tests.unit.little_book import BOTH, SHOP, Page, only, quantity, step

ROOM = quantity("66", "F")


def raw(page: Page, at: str, tag: str = "H41") -> RawClock:
    """The raw clock of a hide at a moment."""
    clock = only(page.floor(at), tag).raw
    assert clock is not None
    return clock


def temperature(value: str, unit: str = "F") -> Reading:
    """A thermometer read."""
    return Reading(what="temperature", value=quantity(value, unit))


@pytest.mark.parametrize(
    ("celsius", "times"),
    # Relative rate with Tmin -10 C: the classic fresh-fish curve (Ratkowsky and Olley; FAO Fisheries Technical Paper
    # 348,
    # from memory; the same Tmin as worked on sssp.dtuaqua.dk, relative rates of spoilage).
    [
        (-10, 0),
        (-2, 0.64),
        (0, 1),
        (2, 1.44),
        (4, 1.96),
        (5, 2.25),
        (7, 2.89),
        (10, 4),
        (15, 6.25),
        (20, 9),
        (35, 20.25),
    ],
)
def test_rates_of_the_square_root_model(celsius: float, times: float) -> None:
    assert rate(celsius) == pytest.approx(times, rel=1e-9)


def test_published_shelf_life_carried_from_five_degrees_to_nought() -> None:
    # sssp.dtuaqua.dk, RRS generic, help page (Dalgaard 2002): 21 d at 5 C, square root, Tmin -10, is 47.2 d at 0 C
    assert weighted_seconds([(0, 21 * DAY, 5.0)], 0.0) / DAY == pytest.approx(47.2, abs=0.06)


def test_three_temperatures_add_up() -> None:
    # 2 h at 30 C, 6 h at 15 C, 18 h at 4 C: 32.00 + 37.50 + 35.28 h at 0 C, 53.46 h at 4 C (worked by hand from the
    # formula)
    spans = [(0, 2 * HOUR, 30.0), (2 * HOUR, 8 * HOUR, 15.0), (8 * HOUR, 26 * HOUR, 4.0)]
    assert weighted_seconds(spans, 0.0) / HOUR == pytest.approx(104.78, abs=1e-6)
    assert weighted_seconds(spans, 4.0) / HOUR == pytest.approx(53.459, abs=1e-3)


def test_a_linear_cooling_comes_near_its_closed_form() -> None:
    # 38 to 4 C over 6 h: 6 (48^3 - 14^3) / (3 * 34 * 100) = 63.44 h at 0 C; minute by minute within 0.1 %
    spans: list[Span] = [(i * 60, i * 60 + 60, 38 - 34 * (i + 0.5) / 360) for i in range(360)]
    assert weighted_seconds(spans, 0.0) / HOUR == pytest.approx(63.44, rel=1e-3)


pieces = st.lists(st.tuples(st.integers(0, 10_000), st.floats(-30, 45)), min_size=1, max_size=8)


@given(pieces)
def test_the_order_and_the_cutting_of_the_time_do_not_matter(rows: list[tuple[int, float]]) -> None:
    whole = weighted_seconds([(0, seconds, celsius) for seconds, celsius in rows], 0.0)
    turned = weighted_seconds([(0, seconds, celsius) for seconds, celsius in reversed(rows)], 0.0)
    cut = [span for seconds, celsius in rows for span in ((0, seconds // 3, celsius), (seconds // 3, seconds, celsius))]
    assert turned == pytest.approx(whole, rel=1e-9)
    assert weighted_seconds(cut, 0.0) == pytest.approx(whole, rel=1e-9)


@given(st.floats(-30, 45), st.floats(-30, 45))
def test_warmer_is_never_slower(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert rate(low) <= rate(high)


def test_raw_from_the_door_until_the_salt_at_the_shops_room_temperature() -> None:
    page = Page(room=ROOM)
    page.comes("2026-11-02 08:00", "H41", Killed(stamp=Stamp(day=date(2026, 11, 1), minute=16 * 60)))
    page.goes("2026-11-02 09:00", "H41", "fleshed")
    salt = page.goes("2026-11-02 10:30", "H41", "salt")
    clock = raw(page, "2026-11-05 12:00")
    assert clock.door == (16 * HOUR, 16 * HOUR)
    assert (clock.shop, clock.weighted) == ((9000, 9000), (9000, 9000))
    assert (clock.running, clock.stopped_by, clock.since, clock.sure) == (False, salt, salt.when.lo, True)
    assert raw(page, "2026-11-02 10:00").running


def test_an_unknown_kill_is_not_sure() -> None:
    page = Page(room=ROOM)
    page.comes("2026-11-02 08:00", "H41")
    clock = raw(page, "2026-11-02 12:00")
    assert (clock.door, clock.sure, clock.shop) == (None, False, (4 * HOUR, 4 * HOUR))


def test_a_kill_told_by_the_day_lies_before_the_door() -> None:
    page = Page(room=ROOM)
    page.comes("2026-11-02 08:00", "H41", Killed(stamp=Stamp(day=date(2026, 11, 2))))
    assert raw(page, "2026-11-02 12:00").door == (0, 8 * HOUR)
    killed = only(page.floor(), "H41").kill_when
    assert killed is not None
    assert killed.hi == page.when("2026-11-02 08:00").lo


def test_a_kill_in_the_year_one_is_no_kill() -> None:
    page = Page(room=ROOM)
    page.comes("2026-11-02 08:00", "H41", Killed(stamp=Stamp(day=date(1, 1, 1))))
    assert raw(page, "2026-11-02 12:00").door is None


def test_the_temperature_of_the_place_then_of_the_room_then_of_the_shop() -> None:
    page = Page(room=ROOM)
    page.comes("2026-11-02 08:00", "H41")
    page.line("2026-11-02 09:00", "@room", temperature("10", "C"))
    page.line("2026-11-02 09:30", "@fridge", temperature("4", "C"))
    page.goes("2026-11-02 10:00", "H41", "fleshed", "fridge")
    clock = raw(page, "2026-11-02 11:00")
    celsius = (66 - 32) / 1.8
    assert [(end - start, degrees) for start, end, degrees in clock.spans] == [
        (HOUR, pytest.approx(celsius)),
        (HOUR, 10.0),
        (HOUR, 4.0),
    ]
    hour_at_66 = (celsius + 10) ** 2 / 100
    assert clock.weighted is not None
    assert clock.weighted[1] == pytest.approx(HOUR * (1 + (4 + 1.96) / hour_at_66), abs=1)
    assert clock.reference_c == pytest.approx(celsius)


def test_a_bath_before_the_clock_stops_is_a_place_with_its_own_temperature() -> None:
    page = Page(Process(name="both", steps=(step("in"), step("soaked", "stay")), raw_limit=None, place=SHOP), room=ROOM)
    page.line("2026-11-02 07:00", "S1", Mixed(vessel="V1"), temperature("5", "C"))
    page.comes("2026-11-02 08:00", "H41")
    page.goes("2026-11-02 08:00", "H41", "soaked", "S1")
    page.line("2026-11-02 10:00", "H41", LiftedOut(where="S1"))
    assert [(end - start, degrees) for start, end, degrees in raw(page, "2026-11-02 11:00").spans] == [
        (2 * HOUR, 5.0),
        (HOUR, pytest.approx(18.889, abs=1e-3)),
    ]


def test_no_temperature_anywhere() -> None:
    page = Page()
    page.comes("2026-11-02 08:00", "H41", Killed(stamp=Stamp(day=date(2026, 11, 2), minute=7 * 60)))
    clock = raw(page, "2026-11-02 11:00")
    assert (clock.weighted, clock.shop, clock.sure) == (None, (3 * HOUR, 3 * HOUR), False)


def test_thawing_starts_it_where_it_stood() -> None:
    page = Page(room=ROOM)
    page.comes("2026-11-02 08:00", "H41")
    page.goes("2026-11-02 10:00", "H41", "frozen", "freezer")
    page.goes("2026-11-20 10:00", "H41", "thawed")
    page.goes("2026-11-20 13:00", "H41", "frozen", "freezer")
    page.goes("2026-11-22 10:00", "H41", "thawed")
    assert raw(page, "2026-11-22 11:00").shop == (6 * HOUR, 6 * HOUR)
    assert raw(page, "2026-11-22 11:00").running
    assert not raw(page, "2026-11-21 11:00").running


def test_a_salted_skin_thaws_as_salted() -> None:
    page = Page(room=ROOM)
    page.comes("2026-11-02 08:00", "H41")
    page.goes("2026-11-02 10:00", "H41", "salt")
    page.goes("2026-11-03 10:00", "H41", "frozen", "freezer")
    page.goes("2026-11-20 10:00", "H41", "thawed")
    assert raw(page, "2026-11-22 11:00").shop == (2 * HOUR, 2 * HOUR)


def test_frozen_at_the_door_stands_until_it_thaws() -> None:
    page = Page(room=ROOM)
    page.comes("2026-11-02 08:00", "H41", InCondition(condition="frozen"), Killed(stamp=Stamp(day=date(2026, 11, 1))))
    clock = raw(page, "2026-11-05 08:00")
    assert (clock.shop, clock.running, clock.sure) == ((0, 0), False, False)
    assert clock.door == (0, 33 * HOUR)  # the clocks went back on that day
    page.goes("2026-11-05 08:00", "H41", "thawed")
    assert raw(page, "2026-11-05 09:00").shop == (HOUR, HOUR)


def test_a_step_after_frost_without_a_thaw_leaves_a_range() -> None:
    page = Page(room=ROOM)
    page.comes("2026-11-02 08:00", "H41", InCondition(condition="frozen"))
    page.goes("2026-11-03 08:00", "H41", "fleshed")
    page.goes("2026-11-03 10:00", "H41", "salt")
    clock = raw(page, "2026-11-05 08:00")
    assert clock.shop == (2 * HOUR, 26 * HOUR)
    assert clock.weighted == (2 * HOUR, 26 * HOUR)


@pytest.mark.parametrize("condition", ["wet salted", "dry salted", "dried"])
def test_what_came_cured_is_not_raw_until_a_step_says_so(condition: str) -> None:
    soak = Process(
        name="both",
        steps=(step("in"), step("soaked", "stay", raw="runs"), step("pickle", "stay", raw="stops")),
        place=SHOP,
    )
    page = Page(soak, room=ROOM)
    page.comes("2026-11-02 08:00", "H41", InCondition(condition=condition))
    assert raw(page, "2026-11-03 08:00").shop == (0, 0)
    page.goes("2026-11-03 08:00", "H41", "soaked")
    page.goes("2026-11-03 14:00", "H41", "pickle")
    assert raw(page, "2026-11-09 08:00").shop == (6 * HOUR, 6 * HOUR)


def test_hours_before_the_door_are_weighted_where_the_hang_was_told() -> None:
    page = Page(room=ROOM)
    page.comes(
        "2026-11-02 08:00",
        "H41",
        Killed(stamp=Stamp(day=date(2026, 11, 1), minute=8 * 60)),
        Hung(temperature=quantity("4", "C")),
    )
    clock = raw(page, "2026-11-02 09:00")
    assert clock.door_weighted is not None
    celsius = (66 - 32) / 1.8
    assert clock.door_weighted[0] == pytest.approx(24 * HOUR * 1.96 / ((celsius + 10) ** 2 / 100), abs=1)
    assert clock.weighted == (HOUR, HOUR)


def test_salted_elsewhere_on_the_arrival_line_stops_it() -> None:
    page = Page(room=ROOM)
    page.comes("2026-11-02 08:00", "H41", Stepped(step="fleshed"), Stepped(step="salt"))
    assert raw(page, "2026-11-03 08:00").shop == (0, 0)


def test_colder_than_ten_below_adds_nothing() -> None:
    page = Page(room=quantity("-12", "C"))
    page.comes("2026-11-02 08:00", "H41")
    clock = raw(page, "2026-11-03 08:00")
    assert clock.shop == (24 * HOUR, 24 * HOUR)
    assert clock.weighted == (0, 0)


def freezing_shop(hours: int) -> Page:
    """A process whose rest takes so many hours to freeze a skin through; the freezer is read as no colder than 32 F."""
    rest = Rest(name="frozen", freezes_in=Length(seconds=hours * HOUR), place=SHOP)
    page = Page(replace(BOTH, rests=(rest,)), room=ROOM)
    page.line("2026-11-01 08:00", "@freezer", temperature("32"))
    return page


@pytest.mark.parametrize(
    ("thawed", "most"),
    [("2026-11-05 10:00", 12), ("2026-11-02 15:00", 5)],  # no longer than it lay there
)
def test_what_was_put_into_the_freezer_may_be_raw_until_it_is_frozen_through(thawed: str, most: int) -> None:
    page = freezing_shop(12)
    page.comes("2026-11-02 08:00", "H41")
    page.goes("2026-11-02 10:00", "H41", "frozen", "freezer")
    page.goes(thawed, "H41", "thawed")
    clock = raw(page, thawed)
    assert clock.shop == (2 * HOUR, (2 + most) * HOUR)
    # 66 F is 18.89 C: r = (28.89 / 10)^2 = 8.346 against 1 at 0 C (the model of Ratkowsky and Olley, Tmin -10 C)
    assert clock.weighted is not None
    assert clock.weighted[0] == 2 * HOUR
    assert clock.weighted[1] == pytest.approx(2 * HOUR + most * HOUR / 8.346, rel=1e-3)


def test_what_came_in_frozen_freezes_no_more() -> None:
    page = freezing_shop(12)
    page.comes("2026-11-02 08:00", "H41", InCondition(condition="frozen"))
    page.goes("2026-11-02 08:30", "H41", "frozen", "freezer")
    assert raw(page, "2026-11-05 08:00").shop == (0, 0)


def test_a_skin_that_freezes_now_has_lain_raw_no_longer_than_until_now() -> None:
    page = freezing_shop(12)
    page.comes("2026-11-02 08:00", "H41")
    page.goes("2026-11-02 10:00", "H41", "frozen", "freezer")
    assert raw(page, "2026-11-02 13:00").shop == (2 * HOUR, 5 * HOUR)


def test_where_the_step_that_stops_it_has_no_line_it_stopped_between_its_neighbours() -> None:
    page = Page(room=ROOM)
    page.comes("2026-11-02 08:00", "H41")
    page.goes("2026-11-02 09:00", "H41", "fleshed")
    shaved = page.goes("2026-11-05 09:00", "H41", "shaved")
    page.goes("2026-11-05 10:00", "H41", "neutralised")
    clock = raw(page, "2026-11-06 12:00")
    assert clock.shop == (HOUR, 3 * DAY + HOUR)
    assert (clock.running, clock.stopped_by) == (False, shaved)
