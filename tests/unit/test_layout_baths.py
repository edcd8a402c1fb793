"""Baths and loads: what they are made of, who is in them, what was read, how long each hide was turned."""

import pytest

from hideledger.model.facts import (
    Added,
    Amount,
    Divided,
    Dumped,
    Flaw,
    Mixed,
    Pressed,
    Ran,
    Reading,
    Span,
    Stepped,
    Stirred,
    Took,
    ToppedUp,
    Turning,
    Vented,
    Weighed,
)
from hideledger.model.moments import HOUR, MINUTE, Length
from hideledger.model.shop import Measure, Supply
from tests.unit.little_book import SHOP, Page, bath, odd, only, proof, quantity


def took(value: str, unit: str, supply: str) -> Took:
    """So much of a supply."""
    return Took(amount=Amount(quantity=quantity(value, unit), supply=supply))


def drum(*tags: str) -> Page:
    """A load in the drum and hides in it from 8:20 on."""
    page = Page()
    page.comes("2026-11-08 08:00", " ".join(tags) or "H41")
    page.line("2026-11-09 08:00", "L14", Mixed(vessel="D1"))
    page.goes("2026-11-09 08:20", " ".join(tags) or "H41", "first turn", "L14")
    return page


def minutes(page: Page, tag: str, at: str = "2026-11-12 12:00") -> list[tuple[float, float]]:
    """Least and most minutes turned in each stay."""
    return [(s.turned[0] / MINUTE, s.turned[1] / MINUTE) for s in only(page.floor(at), tag).stays]


def test_the_volume_is_the_liquid_that_was_written() -> None:
    # 1 US gallon is 3.785411784 L and 1 imperial gallon 4.54609 L, exactly (NIST Handbook 44, appendix C; UK Units of
    # Measurement Regulations 1995)
    page = Page()
    page.shop.measures["dipper"] = Measure(name="dipper", quantity=quantity("350", "ml"), place=SHOP)
    page.shop.supplies["salt"] = Supply(name="salt", by="weight", place=SHOP)
    page.line(
        "2026-11-02 08:00",
        "P3",
        Mixed(vessel="V1"),
        took("20", "gal", "water"),
        took("20", "lb", "salt"),
        took("3", "cup", "salt"),
    )
    page.line("2026-11-02 08:00", "P4", Mixed(vessel="V2"), took("20", "imperial gal", "water"))
    page.line("2026-11-03 08:00", "P3", Added(), took("2", "dipper", "oil"), took("8", "oz", "citric acid"))
    floor = page.floor()
    assert bath(floor, "P3").volume_l == pytest.approx(20 * 3.785411784 + 0.7)
    assert bath(floor, "P4").volume_l == pytest.approx(20 * 4.54609)
    page.line("2026-11-04 08:00", "P3", ToppedUp(volume=quantity("22", "gal")), took("2", "lb", "salt"))
    life = bath(page.floor(), "P3")
    assert life.volume_l == pytest.approx(22 * 3.785411784)
    assert [(len(dose.amounts), dose.topped) for dose in life.doses] == [(2, None), (1, quantity("22", "gal"))]


def test_what_moves_a_bath() -> None:
    page = Page()
    page.line("2026-11-02 08:00", "P3", Mixed(vessel="V1"))
    page.line("2026-11-02 09:00", "P3", Stirred())
    page.line("2026-11-02 10:00", "P3", Added(), took("8", "oz", "citric acid"))
    page.line("2026-11-02 11:00", "P3", ToppedUp(volume=quantity("20", "gal")))
    page.line("2026-11-02 12:00", "P3", Reading(what="pH", value=quantity("2", "pH")))
    assert [stir.entry.order for stir in bath(page.floor(), "P3").stirs] == [0, 1, 2, 3]


def test_a_drum_moves_its_load_as_it_starts_and_as_it_stops() -> None:
    page = drum("H41")
    page.line("2026-11-09 08:25", "L14", Turning(on=True), Reading(what="pressure", value=quantity("9", "psi")))
    page.line("2026-11-09 09:05", "D1", Turning(on=False))  # the drum means the load in it
    page.line("2026-11-09 09:06", "L14", Vented(), Pressed(pressure=quantity("9", "psi")))
    load = bath(page.floor(), "L14")
    assert [stir.when for stir in load.stirs] == [page.when(f"2026-11-09 {t}") for t in ("08:00", "08:25", "09:05")]
    assert [reading.fact.what for reading in load.readings] == ["pressure"]
    assert (len(load.vents), len(load.pressed)) == (1, 1)


def test_each_hide_has_the_turning_it_was_in_for() -> None:
    page = drum("H41", "H44")
    page.line("2026-11-09 08:25", "L14", Turning(on=True))
    page.line("2026-11-09 09:05", "L14", Turning(on=False))
    page.line("2026-11-09 09:10", "H44", Flaw(defect="slip"))
    page.goes("2026-11-09 09:15", "H44", "drained")
    page.comes("2026-11-09 09:16", "H45")
    page.goes("2026-11-09 09:20", "H41 H45", "second turn", "L14")
    page.line("2026-11-09", "L14", Ran(start=9 * 60 + 20, end=11 * 60 + 5))
    page.goes("2026-11-09 11:10", "all in L14", "drained")
    assert minutes(page, "H41") == [(40, 40), (105, 105), (0, 0)]
    assert minutes(page, "H44") == [(40, 40), (0, 0)]
    assert minutes(page, "H45") == [(105, 105), (0, 0)]
    members = bath(page.floor(), "L14").members
    assert [(m.hide.tag, m.stay.name) for m in members] == [
        ("H41", "first turn"),
        ("H44", "first turn"),
        ("H41", "second turn"),
        ("H45", "second turn"),
    ]
    assert not odd(page.floor(), "in two places")


def test_a_load_that_rests_overnight_ran_only_while_it_turned() -> None:
    # by hand: 45 min and 2 h 30 min of turning in 3 h 35 min in the drum is 3 h 15 min ran, 20 min stood; and a night
    # between
    page = drum("H41")
    page.line("2026-11-09 17:00", "L14", Turning(on=True))
    page.line("2026-11-09 17:45", "L14", Turning(on=False))
    page.line("2026-11-10 07:30", "L14", Turning(on=True))
    page.line("2026-11-10 10:00", "L14", Turning(on=False))
    page.goes("2026-11-10 10:05", "H41", "drained")
    assert minutes(page, "H41")[0] == (195, 195)


def test_on_without_off_ends_when_the_hides_leave_and_may_have_stood() -> None:
    page = drum("H41")
    page.line("2026-11-09 08:25", "L14", Turning(on=True))
    drained = page.goes("2026-11-09 11:25", "H41", "drained")
    (turn,) = bath(page.floor(), "L14").turns
    assert (turn.open_ended, turn.end, turn.end_entry) == (True, drained.when, drained)
    assert minutes(page, "H41")[0] == (0, 180)


def test_off_written_a_little_after_the_hides_came_out_still_ends_the_turn() -> None:
    page = drum("H41")
    page.line("2026-11-09 08:25", "L14", Turning(on=True))
    page.goes("2026-11-09 11:25", "H41", "drained")
    off = page.line("2026-11-09 11:30", "L14", Turning(on=False))
    (turn,) = bath(page.floor(), "L14").turns
    assert (turn.open_ended, turn.end) == (False, off.when)


def test_an_off_after_the_drum_was_loaded_again_is_not_the_first_loads() -> None:
    page = drum("H41")
    page.comes("2026-11-09 08:00", "H44")
    page.line("2026-11-09 08:25", "L14", Turning(on=True))
    drained = page.goes("2026-11-09 11:25", "H41", "drained")
    page.goes("2026-11-09 11:40", "H44", "first turn", "L14")
    off = page.line("2026-11-09 12:20", "L14", Turning(on=False))
    floor = page.floor()
    (turn,) = bath(floor, "L14").turns
    assert (turn.end, turn.open_ended) == (drained.when, True)
    assert [oddity.entry for oddity in odd(floor, "twice")] == [off]


def test_nobody_is_in_a_bath_before_it_was_made() -> None:
    page = Page()
    page.comes("2026-11-02 07:00", "H41")
    mixed = page.line("2026-11-02 08:00", "P3", Mixed(vessel="V1"))
    page.line("2026-11-02 08:10", "H41", Stepped(step="pickle", where="P3", span=Span(length=Length(seconds=1800))))
    (member,) = bath(page.floor(), "P3").members
    assert (member.stay.start, member.enter) == (page.when("2026-11-02 07:40"), mixed.when)


def test_a_drum_that_turns_now() -> None:
    page = drum("H41")
    page.line("2026-11-09 08:25", "L14", Turning(on=True))
    stay = only(page.floor("2026-11-09 09:00"), "H41").stay
    assert stay is not None
    assert (stay.turned, stay.turning_now) == ((35 * MINUTE, 35 * MINUTE), True)


def test_on_while_it_turns_and_off_while_it_stands_change_nothing() -> None:
    page = drum("H41")
    page.line("2026-11-09 08:25", "L14", Turning(on=True))
    on = page.line("2026-11-09 08:30", "L14", Turning(on=True))
    page.line("2026-11-09 09:05", "L14", Turning(on=False))
    off = page.line("2026-11-09 09:10", "L14", Turning(on=False))
    assert [oddity.entry for oddity in odd(page.floor(), "twice")] == [on, off]
    assert minutes(page, "H41") == [(40, 40)]


def test_a_bath_mate_that_leaves_a_turning_drum_is_told() -> None:
    page = drum("H41", "H44")
    on = page.line("2026-11-09 08:25", "L14", Turning(on=True))
    left = page.goes("2026-11-09 08:45", "H44", "drained")
    page.line("2026-11-09 09:05", "L14", Turning(on=False))
    (oddity,) = odd(page.floor(), "in two places")
    assert (oddity.tags, oddity.entry, oddity.other) == (("H44",), left, on)
    assert minutes(page, "H44")[0] == (20, 20)
    assert minutes(page, "H41")[0] == (40, 40)


def test_a_turn_written_with_its_length_ran_for_that_long() -> None:
    page = drum("H41")
    page.line(
        "2026-11-09 11:00", "H41", Stepped(step="second turn", where="L14", span=Span(length=Length(seconds=2 * HOUR)))
    )
    assert minutes(page, "H41") == [(0, 0), (120, 120)]


def test_running_time_of_a_stay_without_a_time_is_a_range() -> None:
    page = Page()
    page.comes("2026-11-08 08:00", "H41")
    page.line("2026-11-09 08:00", "L14", Mixed(vessel="D1"))
    page.goes("2026-11-09", "H41", "first turn", "L14")
    page.line("2026-11-10 08:00", "L14", Ran(start=8 * 60, end=9 * 60))
    page.line("2026-11-09", "L14", Ran(start=9 * 60, end=10 * 60))
    page.goes("2026-11-10 12:00", "H41", "drained")
    assert minutes(page, "H41")[0] == (60, 120)


def test_pounds_through_count_each_hide_once_by_its_last_weight_when_it_went_in() -> None:
    page = Page()
    page.line("2026-11-02 07:00", "P3", Mixed(vessel="V1"))
    page.comes("2026-11-02 08:00", "H41", Weighed(weight=quantity("7.5", "lb")))
    page.comes("2026-11-02 08:00", "H42", Weighed(weight=quantity("3", "kg")))
    page.comes("2026-11-02 08:00", "H43")
    page.goes("2026-11-02 09:00", "H41 H42 H43", "pickle", "P3")
    page.line("2026-11-06 09:00", "H41", Stepped(step="shaved"), Weighed(weight=quantity("4.9", "lb")))
    page.goes("2026-11-06 10:00", "H41", "pickle", "P3")
    life = bath(page.floor(), "P3")
    # 1 lb is 0.45359237 kg exactly (international yard and pound agreement, 1959)
    assert life.pounds_through == pytest.approx(7.5 + 3 / 0.45359237)
    assert life.unweighed == 1


def test_a_weight_of_several_together_is_shared_and_kept_on_the_load() -> None:
    page = Page()
    page.comes("2026-11-08 08:00", "H41 H44 H45")
    page.line("2026-11-09 08:00", "L14", Mixed(vessel="D1"))
    page.line(
        "2026-11-09 08:20",
        "H41 H44 H45",
        Stepped(step="first turn", where="L14"),
        Weighed(weight=quantity("14.5", "lb"), basis="drained", together=True),
    )
    floor = page.floor()
    load = bath(floor, "L14")
    assert [(w.weight, w.shared_by, w.basis) for w in load.load_weights] == [(quantity("14.5", "lb"), 3, "drained")]
    assert load.pounds_through == pytest.approx(14.5)
    assert load.unweighed == 0
    assert only(floor, "H44").weights[0].shared_by == 3


def test_a_test_of_the_load_speaks_for_every_hide_in_it() -> None:
    page = drum("H41", "H44")
    page.line("2026-11-09 09:00", "L14", proof("cut test", passed=True, where="neck", on="H44"))
    floor = page.floor()
    assert [test.own for test in only(floor, "H41").tests] == [False]
    assert [test.own for test in only(floor, "H44").tests] == [True]
    assert len(bath(floor, "L14").tests) == 1


def test_a_test_of_the_load_after_it_is_drained_speaks_for_those_last_in() -> None:
    page = drum("H41", "H44")
    page.goes("2026-11-09 09:00", "H41", "drained")
    page.goes("2026-11-09 11:00", "H44", "drained")
    page.line("2026-11-09 11:05", "L14", proof("cut test", passed=False))
    page.goes("2026-11-09 11:10", "H44", "second turn", "L14")
    floor = page.floor()
    assert not only(floor, "H41").tests
    assert len(only(floor, "H44").tests) == 1
    assert only(floor, "H44").marks[-1].on_purpose


def test_dumped_with_hides_in_lifts_them_out() -> None:
    page = drum("H41", "H44")
    dumped = page.line("2026-11-09 12:00", "L14", Dumped(), Reading(what="pH", value=quantity("6.4", "pH")))
    floor = page.floor()
    (oddity,) = odd(floor, "dumped with hides in")
    assert (oddity.tags, oddity.entry) == (("H41", "H44", "L14"), dumped)
    assert only(floor, "H41").stays[0].end == dumped.when
    load = bath(floor, "L14")
    assert (load.ended, load.ended_as, load.now_in) == (dumped, "dumped", [])
    assert not floor.in_vessel("D1")


def test_mixed_anew_ends_the_old_bath_and_the_hides_go_on() -> None:
    page = Page()
    first = page.line("2026-11-02 07:00", "P3", Mixed(vessel="V1"))
    page.comes("2026-11-02 08:00", "H41")
    put_in = page.goes("2026-11-02 09:00", "H41", "pickle", "P3")
    anew = page.line("2026-11-05 09:00", "P3", Mixed(vessel="V1"))
    floor = page.floor()
    old, new = floor.baths["P3"]
    (oddity,) = odd(floor, "mixed anew")
    assert (oddity.tags, oddity.entry, oddity.other) == (("P3", "H41"), anew, first)
    assert (old.ended_as, old.now_in) == ("mixed anew", [])
    assert [member.hide.tag for member in new.now_in] == ["H41"]
    one, two = only(floor, "H41").stays
    assert (one.bath, two.bath, two.goes_on, two.begun) == (old, new, True, put_in.when)


def test_a_tag_may_be_mixed_again_once_dumped() -> None:
    page = Page()
    page.line("2026-11-02 07:00", "P3", Mixed(vessel="V1"))
    page.line("2026-11-03 07:00", "P3", Dumped())
    stray = page.line("2026-11-04 07:00", "P3", Reading(what="pH", value=quantity("2", "pH")))
    page.line("2026-11-05 07:00", "P3", Mixed(vessel="V1"))
    floor = page.floor()
    old, new = floor.baths["P3"]
    assert (old.after_end, old.readings, new.readings) == ([stray], [], [])
    assert [life.tag for life in floor.in_vessel("V1")] == ["P3"]
    assert not odd(floor, "mixed anew")


def test_a_hide_put_in_a_little_before_the_bath_was_mixed_waits_for_it() -> None:
    page = Page()
    page.comes("2026-11-02 07:00", "H41")
    page.goes("2026-11-02 08:00", "H41", "pickle", "P3")
    mixed = page.line("2026-11-02 08:10", "P3", Mixed(vessel="V1"))
    floor = page.floor()
    (member,) = bath(floor, "P3").members
    assert (member.enter, member.stay.bath) == (mixed.when, bath(floor, "P3"))


def test_readings_just_before_it_was_mixed_are_its_own_and_older_ones_are_told() -> None:
    page = Page()
    stray = page.line("2026-11-01 07:55", "P3", Reading(what="pH", value=quantity("2", "pH")))
    page.line("2026-11-02 07:55", "P3", Reading(what="pH", value=quantity("1.8", "pH")))
    page.line("2026-11-02 08:00", "P3", Mixed(vessel="V1"))
    floor = page.floor()
    assert [reading.fact.value for reading in bath(floor, "P3").readings] == [quantity("1.8", "pH")]
    assert [oddity.entry for oddity in odd(floor, "before it was mixed")] == [stray]


def test_the_same_dose_within_the_hour_may_be_double_acid() -> None:
    page = Page()
    page.line("2026-11-02 08:00", "P3", Mixed(vessel="V1"))
    page.line("2026-11-02 09:00", "P3", Added(), took("8", "oz", "citric acid"))
    again = page.line("2026-11-02 09:40", "P3", Added(), took("8", "oz", "citric acid"))
    page.line("2026-11-02 10:50", "P3", Added(), took("8", "oz", "citric acid"))
    floor = page.floor()
    assert [oddity.entry for oddity in odd(floor, "twice")] == [again]
    assert len(bath(floor, "P3").doses) == 3


def test_a_line_that_puts_hides_in_is_a_line_of_the_bath() -> None:
    page = drum("H41")
    drained = page.goes("2026-11-09 11:00", "all in L14", "drained")
    load = bath(page.floor(), "L14")
    assert [entry.order for entry in load.lines] == [1, 2, drained.order]


def test_places_are_read_too() -> None:
    page = Page()
    page.line("2026-11-02 08:00", "@room", Reading(what="temperature", value=quantity("66", "F")))
    page.line("2026-11-02", "@freezer", Reading(what="temperature", value=quantity("-4", "F")))
    floor = page.floor()
    assert [len(floor.place_readings[place]) for place in ("room", "freezer")] == [1, 1]


def test_a_test_of_the_load_counts_for_the_hide_it_was_made_on_even_when_that_is_out() -> None:
    page = drum("H41", "H44")
    page.goes("2026-11-09 09:00", "H41", "drained")
    page.line("2026-11-09 09:05", "L14", proof("cut test", passed=True, on="H41"))
    floor = page.floor()
    assert [test.own for test in only(floor, "H41").tests] == [True]
    assert [test.own for test in only(floor, "H44").tests] == [False]


@pytest.mark.parametrize("who", ["all in L14 but H44", "H41 H45", "all in D1 but H44"])
def test_a_turn_that_names_no_bath_goes_on_in_the_load(who: str) -> None:
    """A drum is not emptied between two turns (common practice, no source)."""
    page = Page()
    page.comes("2026-11-02 08:00", "H41 H44 H45")
    page.line("2026-11-09 08:00", "L14", Mixed(vessel="D1"))
    page.goes("2026-11-09 08:20", "H41 H44 H45", "first turn", "L14")
    page.line("2026-11-09 08:30", "L14", Turning(on=True))
    page.goes("2026-11-09 09:20", who, "second turn")
    page.line("2026-11-09 10:00", "L14", Turning(on=False))
    floor = page.floor("2026-11-09 18:00")
    assert {member.hide.tag for member in bath(floor, "L14").now_in} == {"H41", "H44", "H45"}
    second = only(floor, "H41").stay
    assert second is not None
    assert (second.name, second.where, second.turned) == ("second turn", "L14", (40 * MINUTE, 40 * MINUTE))
    assert floor.oddities == []


def test_a_load_of_one_goes_on_turning_when_its_hide_goes_on() -> None:
    page = Page()
    page.comes("2026-11-02 08:00", "H41")
    page.line("2026-11-09 08:00", "L14", Mixed(vessel="D1"))
    page.goes("2026-11-09 08:20", "H41", "first turn", "L14")
    page.line("2026-11-09 08:30", "L14", Turning(on=True))
    page.goes("2026-11-09 09:20", "H41", "second turn")
    page.line("2026-11-09 10:00", "L14", Turning(on=False))
    floor = page.floor("2026-11-09 18:00")
    (turn,) = bath(floor, "L14").turns
    assert not turn.open_ended
    assert [stay.turned[0] for stay in only(floor, "H41").stays] == [50 * MINUTE, 40 * MINUTE]
    assert floor.oddities == []


def test_a_turn_without_its_drum_does_not_go_on_in_the_pickle() -> None:
    page = Page()
    page.comes("2026-11-02 08:00", "H41")
    page.line("2026-11-02 09:00", "P3", Mixed(vessel="V1"))
    page.goes("2026-11-02 10:00", "H41", "pickle", "P3")
    page.goes("2026-11-09 09:20", "H41", "first turn")
    page.goes("2026-11-09 10:20", "H41", "drained")
    floor = page.floor("2026-11-09 18:00")
    assert bath(floor, "P3").now_in == []
    assert [stay.bath is None for stay in only(floor, "H41").stays] == [False, True, True]


@pytest.mark.parametrize(("weighed", "through", "unweighed"), [(True, 12.0, 0), (False, 0.0, 2)])
def test_parts_weighed_only_as_a_whole_count_for_its_weight_once(weighed: bool, through: float, unweighed: int) -> None:
    page = Page()
    page.comes("2026-11-02 08:00", "H4", *([Weighed(weight=quantity("12", "lb"))] if weighed else []))
    page.line("2026-11-02 09:00", "H4", Divided(parts=(("H4A", "cape"), ("H4B", "back skin"))))
    page.line("2026-11-02 10:00", "P3", Mixed(vessel="V1"))
    page.goes("2026-11-02 10:30", "H4A", "pickle", "P3")
    page.goes("2026-11-02 11:00", "H4B", "pickle", "P3")
    found = bath(page.floor("2026-11-02 18:00"), "P3")
    assert (found.pounds_through, found.unweighed) == (through, unweighed)
