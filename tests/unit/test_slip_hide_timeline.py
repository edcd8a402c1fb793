"""The lives of a slipped hide and its sisters on one axis, two lines each, at 80 columns."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from hideledger.answers.slip.hide import slip_hide
from hideledger.answers.slip.timeline import pieces_of
from hideledger.render.card import lines_of
from hideledger.render.width import width_of
from tests.unit.slip_book import SHOP, drawn, floor_of, part, sheet_of
from tests.unit.test_cli_screen import on_terminal

AT = "2026-11-12 12:00"
TWO = """\
2026-11-02 00:00 H1 H2 in, whitetail cape, green
2026-11-04 00:00 P3 mixed in V1, 20 gal water, 20 lb salt
2026-11-04 00:00 H1 H2 pickle in P3
2026-11-08 00:00 H2 out of P3
2026-11-10 00:00 H1 slip, left ear, 1 in
"""


def test_each_hide_has_two_lines_where_it_lay_and_below_the_mark_or_what_became_of_it() -> None:
    lines = drawn(sheet_of(TWO, "H1", AT))
    assert len(lines) == 1 + 2 + 2
    assert lines[1].startswith("  H1  in")
    assert "P3." in lines[1]
    assert lines[2].rstrip().endswith("slip left ear, 1 in, 10 Nov ^")
    assert lines[3].startswith("  H2  in")
    assert "no slip, here" in lines[4]


def test_equal_times_stand_in_equal_columns() -> None:
    """Eight days and a twentieth of them on 74 columns: 8.4 days, so a day is 8.8 letters, two days 17, six 52."""
    lines = drawn(sheet_of(TWO, "H1", AT))
    left = len("  H1  ")
    columns = 80 - left
    assert lines[1].index("P3") - left == int(2 * columns / 8.4)
    assert lines[3].index("P3") == lines[1].index("P3")
    assert lines[2].index("^") - left == int(8 * columns / 8.4)
    assert len(lines[3].rstrip()) - left == int(6 * columns / 8.4)


def test_dates_stand_over_their_days() -> None:
    lines = drawn(sheet_of(TWO, "H1", AT))
    assert lines[0].index("4 Nov") == lines[1].index("P3")


@pytest.mark.parametrize("where", ["left ear", "left ear base and round the wound behind the shoulder", ""])
def test_no_line_is_wider_than_the_card(where: str) -> None:
    book = TWO.replace("slip, left ear, 1 in", f"slip, {where}" if where else "slip")
    book += "".join(f"2026-11-0{day} 09:00 H{10 + day} in, whitetail cape, frozen\n" for day in range(2, 8))
    book += "2026-11-09 09:00 H12 H13 H14 H15 H16 H17 pickle in P3\n"
    lines = drawn(sheet_of(book, "H1", AT))
    assert max(map(width_of, lines)) <= 80
    assert any("^" in line for line in lines)


def test_what_began_before_the_axis_and_what_goes_on_behind_it_is_marked() -> None:
    book = "2026-10-01 08:00 H9 in, whitetail cape, frozen\n" + TWO + "2026-11-05 08:00 H9 thawed, pickle in P3\n"
    nine = next(line for line in drawn(sheet_of(book, "H1", "2026-12-20 12:00")) if line.startswith("  H9"))
    assert nine.startswith("  H9  <frozen")
    assert nine.endswith(">")


def test_a_sister_that_never_was_there_at_that_time_has_no_lines() -> None:
    book = (
        "2026-10-01 08:00 H9 in, whitetail cape, green, for Oren Vale\n2026-10-02 08:00 H9 out to Oren Vale\n"
        + TWO.replace("green\n", "green, for Oren Vale\n", 1)
    )
    sheet = sheet_of(book, "H1", AT)
    assert "H9" in [one.head for one in part(sheet, "Its sisters").rows]
    assert not any(line.startswith("  H9") for line in drawn(sheet))


def test_two_stays_in_one_bath_that_follow_each_other_are_one_piece_and_frost_lies_over_a_step() -> None:
    book = """\
2026-11-02 08:00 H1 in, whitetail cape, green
2026-11-02 10:00 P3 mixed in V1, 20 gal water
2026-11-02 12:00 H1 pickle in P3
2026-11-04 12:00 H1 shaved
2026-11-04 12:30 H1 back in P3
2026-11-06 12:00 H1 frozen in freezer
2026-11-08 12:00 H1 thawed
"""
    floor = floor_of(book, AT)
    names = [piece.name for piece in pieces_of(floor.hides["H1"][0], floor.at)]
    assert names[:3] == ["in", "P3", "frozen"]


def test_the_night_the_clocks_go_back_keeps_its_25_hours() -> None:
    """1 November 2026, America/Chicago: midnight to midnight is 25 hours (IANA time zone database)."""
    book = TWO.replace("2026-11-02 00:00 H1 H2", "2026-11-01 00:00 H1 H2").replace(
        "2026-11-04 00:00", "2026-11-02 00:00"
    )
    floor = floor_of(book, AT)
    first = pieces_of(floor.hides["H1"][0], floor.at)[0]
    assert (first.name, first.end - first.start) == ("in", 25 * 3600)


def test_lines_without_a_time_are_drawn_at_the_earliest_that_they_can_be() -> None:
    book = "2026-11-02 H1 in, whitetail cape, green\n2026-11-04 H1 salt\n2026-11-06 H1 slip, left ear\n"
    lines = drawn(sheet_of(book + "2026-11-02 H2 in, whitetail cape, green\n", "H1", AT))
    assert lines[1].startswith("  H1  in")
    assert "salt" in lines[1]
    assert "^" in lines[2]


def test_a_step_written_with_its_length_over_the_one_before_it_is_cut_where_that_begins() -> None:
    """Into the pickle at 12:00, and ten minutes later `neutralised 20 min`: one of the lines is wrong, and none is drawn over the other."""
    book = """\
2026-11-02 08:00 H1 in, whitetail cape, green
2026-11-02 10:00 P3 mixed in V1, 20 gal water
2026-11-02 12:00 H1 pickle in P3
2026-11-02 12:10 H1 neutralised 20 min
"""
    floor = floor_of(book, AT)
    pieces = pieces_of(floor.hides["H1"][0], floor.at)
    assert {"in", "P3"} <= {piece.name for piece in pieces}
    assert all(one.end <= other.start for one, other in pairwise(pieces))


@pytest.mark.parametrize("width", [40, 60, 72])
def test_on_a_narrow_screen_the_axis_is_narrower(width: int) -> None:
    book = TWO + "2026-11-09 09:00 H1 H2 out of P3\n2026-11-11 09:00 H2 slip, right ear and down the neck, 3 in\n"
    sheet = slip_hide(floor_of(book, AT), "H1", width=width)
    lines = [line for line, _ in lines_of(sheet, width=width)]
    first = next(number for number, line in enumerate(lines) if line.startswith("Side by side"))
    shown = lines[first : lines.index("", first)]
    assert max(map(width_of, shown)) <= width
    lives = shown[next(number for number, line in enumerate(shown) if line.startswith("  H1")) :]
    assert sum("^" in line for line in lives) == 2


def test_on_a_terminal_of_60_columns_no_line_of_the_lives_is_longer(tmp_path: Path) -> None:
    (tmp_path / "a.hides").write_text(SHOP + TWO, encoding="utf-8")
    code, seen = on_terminal("slip", "H1", str(tmp_path / "a.hides"), "--at", AT, columns=60)
    assert code == 0
    told = seen.replace("\x1b[1m", "").replace("\x1b[0m", "").replace("\r", "").split("\n")
    first = next(number for number, one in enumerate(told) if one.startswith("Side by side"))
    assert max(width_of(one) for one in told[first : told.index("", first)]) <= 60


def test_the_dates_stand_below_their_days_also_where_a_longer_name_is_not_shown() -> None:
    """A tag given again makes a long name; a skin that was gone long before has no row, and takes no room."""
    gone = "2026-08-01 08:00 H7 in, whitetail cape, green\n2026-08-02 08:00 H7 slip, belly\n2026-08-03 08:00 H7 lost\n"
    again = "2026-11-03 08:00 H7 in, whitetail cape, green, for Ida Crane\n"
    book = gone.replace("green", "green, for Oren Vale") + TWO.replace("green", "green, for Oren Vale") + again
    lines = drawn(sheet_of(book, "H1", AT))
    assert lines[2].index("4 Nov") == lines[1].index("P3")
