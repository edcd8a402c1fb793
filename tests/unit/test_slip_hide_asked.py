"""One hide that slipped: its head, its weak points and the investigator's list, from little books.

What is asked, and in which order, is common practice, no source; the lengths of time are reckoned by hand beside each check.
"""

from __future__ import annotations

import pytest

from hideledger.answers.slip.hide import NoSuchHide, slip_hide
from hideledger.shopfloor.doings import (
    AFTER,
    DRIED,
    FLESHED,
    NEUTRALISED,
    OTHER,
    PICKLE,
    SALT,
    SOAKED,
    TAN,
    TURNED,
    WASHED,
    sort_of_name,
    steps_of,
)
from tests.unit.slip_book import asked, floor_of, heads, part, row, sheet_of

ONE = """\
2026-10-30 18:20 H41 in, whitetail cape, green, killed 2026-10-29 16:00 at Tarrow county, hung 60 F, for Oren Vale
2026-10-30 18:25 H41 pull test ok
2026-10-30 19:10 H41 fleshed, ears turned, by JK
2026-10-30 19:40 H41 salt, 8 lb salt lot S-113
2026-11-02 08:00 P3 mixed in V1, 20 gal water, 20 lb salt lot S-114, 60 oz citric acid lot C-31
2026-11-02 08:10 P3 pH 1.8 meter, 64 F, 40 sal
2026-11-02 08:15 H41 pickle in P3
2026-11-02 17:30 P3 stirred
2026-11-05 07:45 P3 pH 2.6 strip, 62 F
2026-11-05 07:50 P3 add 8 oz citric acid lot C-31
2026-11-06 10:00 H41 slip, belly, 3 in -- hair in the tub
"""
AT = "2026-11-07 17:00"


def test_the_head_says_where_and_when_the_hair_came_loose_and_how_long_it_was_raw_by_then() -> None:
    sheet = sheet_of(ONE, "H41", AT)
    assert sheet.title == "H41 slipped: belly, 3 in, Fri 6 Nov 10:00 (at 2026-11-07 17:00)"
    head = part(sheet, "The hide")
    assert row(head, "first sign").text == "belly, 3 in, Fri 6 Nov 10:00 -- hair in the tub"
    # 18:20 to 19:40 in the shop; Thu 16:00 to Fri 18:20 before the door
    assert row(part(sheet, "In short"), "raw clock then").text == "1 h 20 min in the shop, 26 h 20 min before the door"


def test_the_earliest_weak_point_is_named_first_and_what_came_after_the_sign_stands_apart() -> None:
    late = ONE + "2026-11-06 11:00 H41 neutralised 50 min\n"
    sheet = sheet_of(late, "H41", AT)
    assert row(part(sheet, "In short"), "look first at").text.startswith("before the door, Thu 29 Oct 16:00, 7 d")
    weak = part(sheet, "Weak points")
    assert [one.text.partition(":")[0] for one in weak.rows] == [
        "before the door",
        "reading missed",
        "reading out of range",
    ]
    since = part(sheet, "Broken since")
    assert "stayed too long" in " ".join(one.text for one in since.rows)


def test_a_rule_that_was_waived_is_still_a_weak_point_with_its_reason() -> None:
    sheet = sheet_of(ONE + "2026-11-05 09:00 P3 waived reading missed -- nobody here\n", "H41", AT)
    told = next(one for one in part(sheet, "Weak points").rows if one.text.startswith("reading missed"))
    assert told.text.endswith("; waived: nobody here")


def test_hours_before_the_door_are_weighed_by_the_warmth_it_hung_in_and_kept_apart_from_the_shops() -> None:
    """Square-root model of Ratkowsky with Tmin -10 C: 60 F is 15.56 C, 66 F is 18.89 C; (25.56 / 28.89)^2 = 0.7826 of 26 h 20 min."""
    told = asked(sheet_of(ONE, "H41", AT), "kill to door")
    assert "26 h 20 min before the door, hung at 60 F" in told
    assert "at 66 F that counts as 20 h 36 min, apart from the shop's hours" in told


def test_the_list_keeps_its_order_for_a_search_and_for_programs() -> None:
    order = [
        "place on it",
        "kill to door",
        "at the door",
        "raw in the shop",
        "freezing",
        "fleshed, turned",
        "salt",
        "dried",
        "soaked",
        "washed",
        "pickle",
        "neutralised",
        "tan",
        "after the tan",
        "sisters",
    ]
    sheet = sheet_of(ONE, "H41", AT)
    assert heads(part(sheet, "What an investigator asks").in_plain or ()) == order
    assert sheet.record is not None
    assert [one["asked"] for one in sheet.record["asked"]] == order  # type: ignore[attr-defined]


def test_adjoining_questions_that_the_book_answers_alike_stand_in_one_row_and_each_is_named() -> None:
    """This shop's way has a soak, and no drying or washing."""
    way = "2026-11-02 08:00 H41 in, whitetail cape, green\n2026-11-02 12:00 H41 salt\n2026-11-03 08:00 H41 soak\n"
    rows = part(
        sheet_of(way + "2026-11-05 08:00 H41 slip, left ear, 1 in\n", "H41", AT), "What an investigator asks"
    ).rows
    assert [(one.head, one.text) for one in rows if one.head in ("not so far", "no such step")] == [
        ("not so far", "pickle, neutralised, tan: it had not come so far, by what is written")
    ]
    bare = "2026-11-02 08:00 H41 in\n2026-11-05 08:00 H41 slip, left ear, 1 in\n"
    sheet = sheet_of(bare, "H41", AT)
    merged = [one.text for one in part(sheet, "What an investigator asks").rows if one.head == "not recorded"]
    named = [[one.partition(" (")[0] for one in text.split("; ")] for text in merged]
    assert named == [["fleshed, turned", "salt"], ["pickle", "neutralised", "tan"]], (
        "a soak that is not recorded stands alone"
    )
    assert len(part(sheet, "What an investigator asks").in_plain or ()) == 15


def _pickle_in_short(lines: str) -> str:
    sheet = slip_hide(floor_of(lines, AT), "H41", whole=False)
    return row(part(sheet, "What an investigator asks"), "pickle").text


def test_the_line_in_short_counts_no_reading_after_the_first_sign() -> None:
    later = "2026-11-06 12:00 P3 pH 3.9 meter\n2026-11-07 08:00 P3 pH 4.4 meter\n"
    told = _pickle_in_short(ONE + later)
    assert told == _pickle_in_short(ONE)
    # the one of Thu 07:45; from Mon 08:15 to it it is 71 h 30 min, in days 2 d 23 h
    assert told.endswith("up to the first sign read 1 time, pH 2.6, 2 d 23 h without a reading at most")


def test_the_line_in_short_of_a_hide_that_came_out_before_the_sign_counts_every_reading() -> None:
    out = "2026-11-05 09:00 H41 out of P3\n2026-11-05 12:00 P3 pH 3.9 meter\n"
    assert _pickle_in_short(ONE + out).endswith("read 1 time, pH 2.6, 2 d 23 h without a reading at most")


@pytest.mark.parametrize(
    ("where", "hint"),
    [
        ("left ear base", "not turned"),
        ("belly", "gut"),
        ("along the back", "fold"),
        ("bullet wound", "blood"),
        ("left flank", "fat"),
        ("neck, left side", "neck"),
        ("armpit", "armpit"),
    ],
)
def test_a_place_on_the_skin_suggests_where_to_look(where: str, hint: str) -> None:
    book = ONE.replace("slip, belly, 3 in -- hair in the tub", f"slip, {where}, 2 in")
    assert hint in asked(sheet_of(book, "H41", AT), "place on it")


def test_slip_all_over_points_to_the_bath() -> None:
    book = ONE.replace("slip, belly, 3 in -- hair in the tub", "slip, total")
    assert "look at the bath" in asked(sheet_of(book, "H41", AT), "place on it")


def test_every_reading_stands_with_the_gaps_between_and_what_was_added_in_its_place_in_time() -> None:
    lines = asked(sheet_of(ONE, "H41", AT), "pickle").split("\n")
    found = [line for line in lines if line.startswith(("no reading", "Thu", "read before"))]
    assert found == [
        "read before it went in: pH 1.8 meter, 64 F, 40 sal Mon 2 Nov 08:10",
        # Mon 08:15 to Thu 07:45: three days less half an hour
        "no reading for 2 d 23 h from Mon 2 Nov 08:15 up to the next reading",
        "Thu 5 Nov 07:45  pH 2.6 strip, 62 F",
        "Thu 5 Nov 07:50  added 8 oz citric acid lot C-31",
    ]


def test_each_answer_says_what_its_own_line_leaves_open() -> None:
    book = ONE.replace(
        "2026-11-06 10:00 H41 slip", "2026-11-06 09:00 H41 neutralised 50 min, pH 6.1\n2026-11-08 10:00 H41 slip"
    )
    sheet = sheet_of(book, "H41", "2026-11-09 12:00")
    neutral = asked(sheet, "neutralised").split("\n")
    assert neutral[1] == "neutralised Fri 6 Nov 08:10, 50 min"
    assert "pH 6.1 Fri 6 Nov 09:00" in neutral
    assert "with what, and how much of it: not recorded" in neutral
    # Thu 08:50 to Fri 08:10, under a day: no gap; the bath went unread before its first reading only
    assert sum(line.startswith("no reading") for line in asked(sheet, "pickle").split("\n")) == 1
    still = (
        "2026-11-02 08:00 H41 in\n2026-11-02 09:00 P3 mixed in V1, 20 gal water\n2026-11-02 10:00 H41 pickle in P3\n"
    )
    told = asked(sheet_of(still + "2026-11-05 10:00 H41 slip, total\n", "H41", AT), "pickle")
    assert "no reading for 3 d from Mon 2 Nov 10:00 up to the first sign" in told
    assert "not moved while it was in" in told
    out = still + "2026-11-05 09:00 H41 neutralised 20 min\n2026-11-06 10:00 H41 slip, total\n"
    assert "no reading for 2 d 22 h from Mon 2 Nov 10:00 until it came out" in asked(sheet_of(out, "H41", AT), "pickle")


def test_the_night_the_clocks_change_counts_its_hour_twice() -> None:
    """Practice figure: from 30 October 19:40 to 2 November 8:15 in 2026 it is 61 h 35 min in Chicago, not 60 h 35 min."""
    assert "for 2 d 13 h" in asked(sheet_of(ONE, "H41", AT), "salt")
    short = ONE.replace("2026-10-30 19:40 H41 salt", "2026-10-31 23:30 H41 salt")
    assert "for 33 h 45 min" in asked(sheet_of(short, "H41", AT), "salt")  # 32 h 45 min by the wall


def test_lines_without_a_time_give_ranges_and_a_sign_without_one_still_says_its_day() -> None:
    book = """\
2026-11-02 H41 in, whitetail cape, green, killed 2026-11-01
2026-11-02 H41 fleshed
2026-11-03 08:00 H41 salt, 8 lb salt
2026-11-05 H41 slip
"""
    sheet = sheet_of(book, "H41", AT)
    assert sheet.title.startswith("H41 slipped, some time on Thu 5 Nov")
    assert asked(sheet, "raw in the shop").startswith("8 h to 32 h; 12 h at 66 F")
    assert asked(sheet, "place on it").startswith("not recorded")
    assert "maybe" in " ".join(one.text for one in part(sheet, "Weak points").rows)


def test_what_was_not_written_is_said_to_be_so_and_what_its_way_has_not_is_said_too() -> None:
    book = "2026-11-02 08:00 H41 in\n2026-11-05 08:00 H41 slip, left ear, 1 in\n"
    sheet = sheet_of(book, "H41", AT)
    record = sheet.record
    assert record is not None
    answers = {one["asked"]: one["answer"] for one in record["asked"]}  # type: ignore[attr-defined]
    for head in ("kill to door", "salt", "pickle", "tan", "fleshed, turned"):
        assert "not recorded" in answers[head], head
    silent = [one["asked"] for one in record["asked"] if not one["recorded"]]  # type: ignore[attr-defined]
    assert f"{len(silent)} of 15 not recorded" in part(sheet, "What an investigator asks").heading


def test_salt_that_was_left_out_on_purpose_is_no_gap() -> None:
    book = ONE.replace("salt, 8 lb salt lot S-113", "skipped salt -- straight from the knife")
    assert asked(sheet_of(book, "H41", AT), "salt").startswith("left out on purpose: straight from the knife")


def test_raw_hours_add_up_across_two_frosts_and_the_second_thaw_is_a_weak_point() -> None:
    book = """\
2026-11-02 08:00 H41 in, whitetail cape, green, killed 2026-11-02 07:00
2026-11-02 09:00 H41 frozen in freezer
2026-11-04 09:00 H41 thawed
2026-11-04 11:00 H41 fleshed
2026-11-04 12:00 H41 frozen in freezer
2026-11-06 08:00 H41 thawed
2026-11-06 09:30 H41 salt, 8 lb salt
2026-11-07 08:00 H41 slip, left ear, 1 in
"""
    sheet = sheet_of(book, "H41", AT)
    # 1 h, 3 h and 1 1/2 h at room warmth
    assert asked(sheet, "raw in the shop").startswith("5 h 30 min")
    frost = asked(sheet, "freezing")
    assert frost.startswith("2 freezings, 2 thaws")
    assert frost.count("raw, not salted before") == 2
    assert "thawed again" in " ".join(one.text for one in part(sheet, "Weak points").rows)


def test_wet_salt_before_the_freezer_is_told_and_frost_after_the_tan_is_no_harm() -> None:
    wet = """\
2026-11-02 08:00 H41 in, whitetail cape, green
2026-11-02 09:00 H41 fleshed, salt, 8 lb salt
2026-11-03 10:00 H41 frozen in freezer
2026-11-04 09:00 H41 thawed
2026-11-05 08:00 H41 slip, left ear, 1 in
"""
    assert "wet salt keeps a skin from freezing through" in asked(sheet_of(wet, "H41", AT), "freezing")
    tanned = """\
2026-11-01 08:00 H41 in, whitetail cape, green
2026-11-02 09:00 H41 tan
2026-11-04 09:00 H41 drained
2026-11-04 10:00 H41 frozen in freezer
2026-11-05 08:00 H41 slip, left ear, 1 in
"""
    assert "after the tan, where frost harms nothing" in asked(sheet_of(tanned, "H41", AT), "freezing")


@pytest.mark.parametrize(
    ("name", "sort"),
    [
        ("fleshed", FLESHED),
        ("lips split", TURNED),
        ("re-salted", SALT),
        ("dry salt", SALT),
        ("salt pickle", PICKLE),
        ("hung to dry", DRIED),
        ("relaxed", SOAKED),
        ("degreased", WASHED),
        ("neutralized", NEUTRALISED),
        ("retan", TAN),
        ("bagged", AFTER),
        ("bench rest", OTHER),
        ("first turn", OTHER),
    ],
)
def test_the_shops_own_name_tells_what_a_step_does(name: str, sort: str) -> None:
    assert sort_of_name(name) == sort


def test_a_step_whose_name_says_nothing_is_known_by_its_bath_and_else_keeps_its_own_name() -> None:
    book = """\
2026-11-02 07:00 P1 mixed in V1, 20 gal water, 20 lb salt, 60 oz citric acid
2026-11-02 08:00 H41 in, whitetail cape, green
2026-11-02 09:00 H41 bench rest
2026-11-02 10:00 H41 bench rest in P1
2026-11-05 08:00 H41 slip, left ear, 1 in
"""
    floor = floor_of(book, AT)
    assert [done.sort for done in steps_of(floor.hides["H41"][0])] == [OTHER, PICKLE]
    sheet = slip_hide(floor, "H41")
    assert asked(sheet, "pickle").startswith("in P1")
    assert "bench rest Mon 2 Nov 09:00, 1 h" in asked(sheet, "other steps")


def test_what_was_at_the_door_is_no_outcome_of_the_shop() -> None:
    book = "2026-11-02 08:00 H41 in, whitetail cape, green, slip left ear\n2026-11-02 09:00 H41 salt\n"
    sheet = sheet_of(book, "H41", AT)
    assert sheet.title.startswith("H41 has no slip written")
    assert "no outcome of the shop" in row(part(sheet, "The hide"), "at the door").text


def test_a_line_about_it_that_could_not_be_read_stands_on_its_sheet() -> None:
    from hideledger.reading import read_text
    from hideledger.shopfloor.layout import lay_out
    from tests.unit.slip_book import SHOP

    book = read_text(SHOP + ONE + "2026-11-06 12:00 H41 washd in soap\n2026-11-06 12:00 H99 washd\n")
    sheet = slip_hide(lay_out(book, book.entries[-1].when.hi), "H41")
    lines = part(sheet, "Not understood")
    assert len(lines.rows) == 1
    assert "washd" in lines.rows[0].text
    assert sheet.title.endswith("2 lines not understood)")


def test_another_failure_is_looked_at_in_the_same_way() -> None:
    book = ONE.replace("slip, belly, 3 in -- hair in the tub", "raw streak, neck")
    sheet = sheet_of(book, "H41", AT, "raw streak")
    assert sheet.title.startswith("H41 had a raw streak: neck")
    usual = part(sheet, "What raw streak usually comes from")
    assert "too short in the pickle" in " ".join(one.text for one in usual.rows)
    assert not any(section.heading.startswith("Bald") for section in sheet.sections)


def test_bald_is_asked_about_unless_the_book_excludes_it() -> None:
    rows = {one.head: one.text for one in part(sheet_of(ONE, "H41", AT), "Bald is not always slip").rows}
    assert "fleshed Fri 30 Oct 19:10, by JK" in rows["root cut"]
    assert "grease burn" in rows["not asked"]
    assert "spring shed" in rows["not asked"]
    spring = ONE.replace("killed 2026-10-29 16:00", "killed 2026-04-29 16:00")
    assert "shed" in heads(part(sheet_of(spring, "H41", AT), "Bald is not always slip").rows)


@pytest.mark.parametrize(
    ("tag", "said"),
    [
        ("H14", "H14 is not in the book; H41 is"),
        ("h42", "h42 is not in the book; H41 is"),
        ("P3", "P3 is no hide"),
        ("V1", "V1 is no hide"),
    ],
)
def test_an_unknown_tag_is_told_with_the_nearest(tag: str, said: str) -> None:
    with pytest.raises(NoSuchHide, match=said):
        sheet_of(ONE, tag, AT)


def test_a_legal_tag_finds_its_hide() -> None:
    book = ONE.replace("for Oren Vale", "for Oren Vale, tag 40718")
    assert sheet_of(book, "40718", AT).title.startswith("H41 slipped")


def test_a_tag_that_began_anew_tells_of_the_skin_that_slipped() -> None:
    book = ONE + "2026-11-06 11:00 H41 lost -- bald\n2026-11-06 12:00 H41 in, whitetail cape, green, for Ida Crane\n"
    sheet = sheet_of(book, "H41", AT)
    assert sheet.title.startswith("H41 (in 30 Oct) slipped")
    assert "Oren Vale" in row(part(sheet, "The hide"), "H41").text
