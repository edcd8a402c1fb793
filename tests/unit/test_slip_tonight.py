"""Whom the sheet sends to be looked at tonight: a pull at the door proves nothing of what was met later, an owner alone puts nobody first.

The times and readings are made up; common practice, no source.
"""

from __future__ import annotations

from hideledger.answers.history.answer import history
from hideledger.rules.judge import judge
from tests.unit.slip_book import part, row, sheet_of
from tests.unit.weak_pickle import BOOK, NOW, floor_of


def test_a_pull_at_the_door_before_the_shared_thing_was_met_is_no_pull_since() -> None:
    who = part(sheet_of(BOOK, "H6", NOW), "Who is next")
    assert row(who, "tonight").text.startswith("H11 thru H14")
    assert not any("hair held since" in one.text for one in who.rows)


def test_the_sheet_of_a_skin_and_that_of_the_one_that_slipped_send_to_the_same_look() -> None:
    own = row(part(sheet_of(BOOK, "H14", NOW), "In short"), "tonight").text
    other = row(part(sheet_of(BOOK, "H6", NOW), "Who is next"), "tonight").text
    assert own.startswith("pull gently") and "nobody of these" not in other


def test_a_pull_after_the_sign_and_after_the_shared_thing_was_met_has_held() -> None:
    who = part(sheet_of(BOOK + "2026-11-06 09:00 H11 pull test ok\n", "H6", NOW), "Who is next")
    assert "its hair held since" in row(who, "H11").text
    assert row(who, "tonight").text.startswith("H12 thru H14")


def test_an_owner_alone_puts_nobody_first() -> None:
    """H12 and H3 are both Ida Crane's; what all of them lay in is the same."""
    page = BOOK.replace(
        "2026-10-14 09:00 H1 thru H5 out",
        "2026-10-13 09:10 H3 raw streak, neck, slight\n2026-10-14 09:00 H1 thru H5 out",
    )
    assert page != BOOK
    who = part(sheet_of(page, "H3", NOW, "raw streak"), "Who is next")
    tonight = row(who, "tonight").text
    assert tonight.startswith("H11 thru H14: cut at the thickest place"), tonight


def test_the_history_of_a_customer_names_who_was_asked_for() -> None:
    floor = floor_of(BOOK, NOW)
    title = history(floor, judge(floor), ["Oren", "Vale"]).title
    assert title.startswith("History of Oren Vale: H1, H6, H10 and H11, ")
    assert history(floor, judge(floor), ["H1", "P2"]).title.startswith("History of H1 and P2, ")
    assert history(floor, judge(floor), ["h1"]).title.startswith("History of H1, ")


def test_how_far_a_reading_may_stand_off_is_said_in_plain_words() -> None:
    floor = floor_of(BOOK.replace("P2 pH 2.9 strip", "P2 pH 2.9 strip, 38 sal"), NOW)
    lines = [line.text for section in history(floor, judge(floor), ["P2"]).sections for line in section.rows]
    (said,) = [text for text in lines if "38 sal read" in text]
    assert "with every doubt of gallon marks, skins and instrument added up" in said


TWO_TUBS = """\
2026-10-01 08:00 P1 mixed in V1, 20 gal water, 20 lb salt lot S-1, 60 oz citric acid lot C-1
2026-10-01 08:01 P2 mixed in V2, 20 gal water, 20 lb salt lot S-1, 60 oz citric acid lot C-2
2026-10-01 09:00 H1 thru H4 in, whitetail cape, green, killed 2026-10-01 7:00, for Oren Vale
2026-10-01 09:10 H1 thru H4 pull test ok
2026-10-01 10:00 H1 thru H4 fleshed
2026-10-01 11:00 H1 H2 H3 pickle in P1
2026-10-01 11:01 H4 pickle in P2
2026-10-02 09:00 P1 P2 pH 1.9 meter
2026-10-05 09:00 H2 H4 tan in D1
2026-10-07 09:00 H2 H4 drained
2026-10-09 09:00 H1 slip, belly
"""


def test_a_wet_skin_that_can_still_be_saved_stands_before_one_that_is_past_its_baths() -> None:
    who = part(sheet_of(TWO_TUBS, "H1", "2026-10-20 17:00"), "Who is next")
    assert [one.head for one in who.rows][:3] == ["tonight", "H3", "H2"]
    assert row(who, "tonight").text.startswith("H3 first: pull gently")


def test_one_that_is_past_its_baths_is_not_pulled_at_for_the_salt_or_the_owner() -> None:
    sheet = sheet_of(TWO_TUBS, "H1", "2026-10-20 17:00")
    assert not any("H4" in one.head for one in part(sheet, "Who is next").rows)
    own = row(part(sheet_of(TWO_TUBS, "H4", "2026-10-20 17:00"), "In short"), "tonight").text
    assert own.startswith("nothing: it is past its baths, and shares no more than salt lot S-1, owner Oren Vale and")


def test_where_all_that_are_next_are_past_their_baths_the_look_is_for_the_day_they_go() -> None:
    book = TWO_TUBS.replace("H2 H4 tan", "H2 H3 H4 tan").replace("H2 H4 drained", "H2 H3 H4 drained")
    who = part(sheet_of(book, "H1", "2026-10-20 17:00"), "Who is next")
    assert who.rows[0].head == "before it goes"
