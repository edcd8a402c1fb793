"""Skins that have held so far count beside those that slipped, and the sum of it all is one line."""

from __future__ import annotations

from pathlib import Path

from hideledger.answers.slip.outcomes import HELD, NOT_YET, SLIPPED
from hideledger.answers.slip.season import slip_season
from hideledger.answers.slip.words import more_in_hundred
from hideledger.trade.attack import Table
from tests.unit.four_skins import FOUR, ends, floor_of

# H1 to H4 in P1 from 3 November 10:00; H1 slips on the 5th at 10:00, two days in.
IN_P1 = FOUR.partition("2026-11-06 08:00 L1")[0]
SLIPS = "2026-11-05 10:00 H1 slip, left ear, 1 in\n"


def test_a_skin_past_the_stage_at_which_those_beside_it_slipped_has_held_so_far(tmp_path: Path) -> None:
    page = SLIPS + "2026-11-07 10:00 room 66 F\n"
    assert ends(floor_of(tmp_path, IN_P1, page)) == {"H1": SLIPPED, "H2": HELD, "H3": HELD, "H4": HELD}


def test_one_that_came_later_is_not_so_far_yet(tmp_path: Path) -> None:
    """H9 went into P1 a day before the end, H1 slipped after two days in it."""
    page = SLIPS + "2026-11-05 12:00 H9 in, whitetail cape, green, for Ida Crane\n"
    page += "2026-11-06 10:00 H9 fleshed, pickle in P1\n2026-11-07 10:00 room 66 F\n"
    assert ends(floor_of(tmp_path, IN_P1, page))["H9"] == NOT_YET


def test_hair_that_gave_way_in_a_pull_has_not_held(tmp_path: Path) -> None:
    page = SLIPS + "2026-11-06 09:00 H2 pull test fails\n2026-11-07 10:00 room 66 F\n"
    assert ends(floor_of(tmp_path, IN_P1, page))["H2"] == NOT_YET


def test_where_nothing_slipped_nothing_is_called_held(tmp_path: Path) -> None:
    assert set(ends(floor_of(tmp_path, IN_P1, "2026-11-07 10:00 room 66 F\n")).values()) == {NOT_YET}


def test_those_that_held_so_far_are_counted_beside_and_the_sum_is_one_line(tmp_path: Path) -> None:
    page = SLIPS + "2026-11-06 12:00 H9 in, whitetail cape, green, for Ida Crane\n2026-11-07 10:00 room 66 F\n"
    sheet = slip_season(floor_of(tmp_path, IN_P1, page))
    assert (
        "1 of 4 skins slipped, 3 of the others only held so far, 1 not known yet, too few to tell by (looked at Sat 2026-11-07 10:00)"
        in sheet.title
    )
    assert "\n" not in sheet.title
    counted = {
        row.head: row.text
        for section in sheet.sections
        if section.heading == "What was counted"
        for row in section.rows
    }
    assert counted["3"].endswith("counted as sound; that can still change: H2 thru H4")


def test_a_difference_is_said_of_a_hundred_where_both_sides_are_ten_or_more() -> None:
    """Oswego church supper, vanilla ice cream: 43 of 54 ill and 3 of 21; 79.63 % less 14.29 % (CDC case study 401-303)."""
    assert more_in_hundred(Table(hit=43, spared=11, other_hit=3, other_spared=18)) == ", 65 more of every hundred"
    assert more_in_hundred(Table(hit=3, spared=18, other_hit=43, other_spared=11)) == ", 65 fewer of every hundred"
    assert more_in_hundred(Table(hit=2, spared=7, other_hit=3, other_spared=18)) == "", "nine are too few"
    assert more_in_hundred(Table(hit=5, spared=5, other_hit=5, other_spared=5)) == ""
