"""What `slip` says in its sentences: shares over one denominator, what cannot be told apart named beside it, and plain English."""

from __future__ import annotations

import re

from hideledger.answers.slip.season import slip_season
from hideledger.answers.slip.words import verb
from hideledger.render.card import card
from hideledger.rules.words import at_where
from tests.unit.slip_book import floor_of, part, row, sheet_of

AT = "2026-10-20 17:00"


def book_of_two_hands(*, sal_in_the_good_tub: int) -> str:
    """P1 of one lot in which all slip, P2 of another in which none do; Sal flesh all of the first, and some of the second."""
    first, second = "H1 thru H8", "H11 thru H22"
    by_sal = f"H11 thru H{10 + sal_in_the_good_tub}"
    by_jo = f"H{11 + sal_in_the_good_tub} thru H22"
    return f"""\
2026-10-01 08:00 P1 mixed in V1, 20 gal water, 20 lb salt, 60 oz citric acid lot C-1
2026-10-01 08:01 P2 mixed in V2, 20 gal water, 20 lb salt, 60 oz citric acid lot C-2
2026-10-01 09:00 {first} in, whitetail cape, green, killed 2026-10-01 7:00
2026-10-01 09:01 {second} in, whitetail cape, green, killed 2026-10-01 7:00
2026-10-01 09:10 {first} pull test ok
2026-10-01 09:11 {second} pull test ok
2026-10-01 10:00 {first} fleshed, by Sal
2026-10-01 10:01 {by_sal} fleshed, by Sal
2026-10-01 10:02 {by_jo} fleshed, by Jo
2026-10-01 11:00 {first} pickle in P1
2026-10-01 11:01 {second} pickle in P2
2026-10-02 09:00 P1 P2 pH 1.9 meter
2026-10-03 09:00 {first} slip, belly
2026-10-06 09:00 {second} tan in D1
2026-10-08 09:00 {second} drained
"""


def test_what_cannot_be_told_apart_from_what_leads_is_named_in_the_first_sentence() -> None:
    sheet = slip_season(floor_of(book_of_two_hands(sal_in_the_good_tub=2), AT))
    assert "most telling: lot C-1 (citric acid), not to be told apart from fleshed by Sal" in sheet.title
    assert part(sheet, "What stands out").rows[0].text.endswith("; not to be told apart from fleshed by Sal")


def test_what_cannot_be_told_apart_stands_under_no_heading_that_clears_it() -> None:
    sheet = slip_season(floor_of(book_of_two_hands(sal_in_the_good_tub=2), AT))
    apart = part(sheet, "What cannot be told apart from it yet")
    assert [one.text for one in apart.rows] == ["8 of 10 skins fleshed by Sal slipped, none of 10 others"]
    assert not any(one.heading.startswith("What goes along") for one in sheet.sections)


def test_the_sheet_of_one_hide_names_it_too() -> None:
    first = row(part(sheet_of(book_of_two_hands(sal_in_the_good_tub=2), "H1", AT), "In short"), "look first at")
    assert ("", "in the whole season not to be told apart from fleshed by Sal") in first.under


def test_a_share_counts_those_whose_end_is_known_and_names_the_others() -> None:
    late = "2026-10-19 10:00 H9 in, whitetail cape, green, killed 2026-10-19 7:00\n2026-10-19 10:05 H9 pull test ok\n2026-10-19 11:00 H9 fleshed, by Sal\n2026-10-20 16:00 H9 pickle in P1\n"
    met = part(sheet_of(book_of_two_hands(sal_in_the_good_tub=2) + late, "H1", AT), "What it met with")
    said = met.rows[0].text
    assert said == "7 of 7 others slipped too: H2 thru H8; of the skins that never met it none of 12; H9 not known yet"


def test_months_say_of_whom_some_have_only_held_so_far() -> None:
    page = card(slip_season(floor_of(book_of_two_hands(sal_in_the_good_tub=2), "2026-10-05 17:00")))
    assert re.search(r"8 of 20 slipped[^;]*; the other 12 only held so far", " ".join(page.split()))


def test_defects_are_said_as_one_says_them() -> None:
    assert [verb(one) for one in ("slip", "burn", "tear", "grease", "mould", "shrunk", "thumb slip")] == [
        "slipped",
        "had a burn",
        "had a tear",
        "had grease",
        "had mould",
        "shrank",
        "had thumb slip",
    ]


def test_a_place_keeps_the_word_that_was_written_before_it() -> None:
    assert [at_where(one) for one in ("ears", "on the back", "Along back", "")] == [
        " at ears",
        " on the back",
        " Along back",
        "",
    ]


def test_the_second_of_three_thaws_is_said_so() -> None:
    days = "".join(f"2026-10-0{day} 10:00 H1 thawed\n2026-10-0{day} 15:00 H1 frozen in freezer\n" for day in (2, 3))
    book = f"2026-10-01 09:00 H1 in, whitetail cape, green\n2026-10-01 10:00 H1 frozen in freezer\n{days}2026-10-04 10:00 H1 thawed\n2026-10-04 11:00 H1 slip, belly\n"
    weak = part(sheet_of(book, "H1", "2026-10-05 17:00"), "Weak points")
    assert any("the second of 3 thaws; raw hours" in one.text for one in weak.rows)


def test_of_several_raw_stretches_the_short_row_tells_the_longest() -> None:
    book = """\
2026-10-01 09:00 H1 in, whitetail cape, green
2026-10-01 10:00 H1 frozen in freezer
2026-10-02 08:00 H1 thawed
2026-10-02 13:00 H1 frozen in freezer
2026-10-03 08:00 H1 thawed
2026-10-03 10:00 H1 slip, belly
"""
    from hideledger.answers.slip.hide import slip_hide

    brief = slip_hide(floor_of(book, "2026-10-05 17:00"), "H1", whole=False)
    said = row(part(brief, "What an investigator asks"), "raw in the shop").text
    assert said.endswith("; the longest of 3 stretches 5 h at 66 F from Fri 2 Oct 08:00")


def test_a_reading_is_said_back_as_it_was_written() -> None:
    book = book_of_two_hands(sal_in_the_good_tub=2).replace("pH 1.9 meter", "pH 2.0")
    late = "2026-10-19 10:00 H9 in, whitetail cape, green\n2026-10-20 16:00 H9 pickle in P1\n"
    page = card(sheet_of(book + late, "H1", AT))
    assert "last pH 2.0 " in page
