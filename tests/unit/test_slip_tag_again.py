"""A tag that was given again: each skin that bore it has its own findings, its own name in every list, and its own place for programs."""

from __future__ import annotations

from typing import Any

from hideledger.answers.history.answer import history
from hideledger.answers.sheet import Sheet
from hideledger.answers.slip.season import slip_season
from hideledger.rules.judge import judge
from tests.unit.slip_book import floor_of, part, row, sheet_of

# H5 slips in a tub that reads too high, and is lost; another H5 comes later and lies in another tub.
FIRST = """\
2026-10-10 09:00 P1 mixed in V1, 20 gal water, 20 lb salt, 60 oz citric acid
2026-10-10 09:10 H5 H6 in, whitetail cape, green, killed 2026-10-10 6:00, for Oren Vale
2026-10-10 09:15 H5 H6 pull test ok
2026-10-10 09:30 H5 H6 fleshed, pickle in P1
2026-10-12 08:00 P1 pH 2.8 meter
2026-10-13 09:00 H5 slip, ears, 2 in
2026-10-13 09:10 P1 pH 2.0 meter
2026-10-15 09:00 H5 lost -- slipped all over
"""
SECOND = """\
2026-11-05 09:00 P2 mixed in V2, 20 gal water, 20 lb salt, 60 oz citric acid
2026-11-05 09:10 H5 in, whitetail cape, green, killed 2026-11-05 6:00, for Ida Crane
2026-11-05 09:15 H5 pull test ok
2026-11-05 09:30 H5 fleshed, pickle in P2
2026-11-06 08:00 P2 pH 2.0 meter
"""
SLIPS_TOO = "2026-11-07 09:00 H5 slip, belly, 1 in\n"
AT = "2026-11-07 17:00"


def all_of(sheet: Sheet) -> str:
    return "\n".join(
        " ".join([line.head, line.text, *(" ".join(both) for both in line.under)])
        for section in sheet.sections
        for line in section.rows
    )


def test_a_new_skin_under_an_old_tag_has_none_of_the_dead_ones_findings() -> None:
    sheet = sheet_of(FIRST + SECOND + SLIPS_TOO, "H5", AT)
    assert sheet.title.startswith("H5 (in 5 Nov) slipped: belly, 1 in")
    assert "reading out of range" not in all_of(sheet)


def test_whichever_page_is_read_first_the_findings_stay_with_their_skin() -> None:
    """Pages are read by name, so the later skin's lines may come before the earlier one's."""
    sheet = sheet_of(SECOND + SLIPS_TOO + FIRST, "H5", AT)
    assert "reading out of range" not in all_of(sheet)


def test_the_dead_one_keeps_its_own_findings() -> None:
    sheet = sheet_of(FIRST + SECOND, "H5", AT)
    assert sheet.title.startswith("H5 (in 10 Oct) slipped: ears, 2 in")
    assert "reading out of range" in row(part(sheet, "In short"), "look first at").text


def test_the_sheet_of_the_earlier_one_says_that_a_later_one_bears_the_tag() -> None:
    said = row(part(sheet_of(FIRST + SECOND, "H5", AT), "The hide"), "later").text
    assert "another skin bears the tag since, in 2026-11-05 09:10, still here: pickle" in said


def test_the_sheet_of_the_later_one_says_that_the_tag_was_here_before() -> None:
    said = row(part(sheet_of(FIRST + SECOND + SLIPS_TOO, "H5", AT), "The hide"), "before").text
    assert "the tag was here before, in 2026-10-10 09:10, lost 2026-10-15 09:00" in said


def test_a_list_names_as_many_skins_as_it_counts() -> None:
    sheet = slip_season(floor_of(FIRST + SECOND + SLIPS_TOO, AT))
    assert row(part(sheet, "What was counted"), "2").text == "slipped: H5 (in 10 Oct), H5 (in 5 Nov)"


def test_a_sister_under_the_same_tag_is_named_with_the_day_it_came() -> None:
    sheet = sheet_of(FIRST + SECOND.replace("P2", "P3") + SLIPS_TOO + "2026-11-07 09:30 H6 slip, neck\n", "H6", AT)
    sisters = part(sheet, "Its sisters")
    assert [one.head for one in sisters.rows] == ["H5 (in 10 Oct)"]


def test_programs_tell_the_two_apart() -> None:
    record: Any = slip_season(floor_of(FIRST + SECOND + SLIPS_TOO, AT)).record
    assert record["tags"]["slipped"] == ["H5", "H5"]
    assert [one["in_local"] for one in record["skins"]["slipped"]] == ["2026-10-10 09:10", "2026-11-05 09:10"]
    hide: Any = sheet_of(FIRST + SECOND + SLIPS_TOO, "H5", AT).record
    assert hide["in_local"] == "2026-11-05 09:10"
    assert [(one["in_local"], one["state"]) for one in hide["other_skins_of_the_tag"]] == [("2026-10-10 09:10", "lost")]


def test_two_skins_that_came_on_one_day_are_told_apart_by_the_hour() -> None:
    again = "2026-10-10 15:00 H6 in, whitetail cape, green\n"
    book = FIRST.replace("2026-10-12", "2026-10-10 10:00 H6 lost -- torn by a dog\n" + again + "2026-10-12", 1)
    sheet = slip_season(floor_of(book, AT))
    assert "H6 (in 2026-10-10 15:00)" in all_of(sheet)


def test_the_history_keeps_the_findings_of_a_bath_with_the_skin_that_lay_in_it() -> None:
    floor = floor_of(SECOND + FIRST, AT)
    sheet = history(floor, judge(floor), ["H5"])
    first, second = (
        next(one for one in sheet.sections if whose in one.heading) for whose in ("Oren Vale", "Ida Crane")
    )
    assert any("finding: reading out of range" in line.text for line in first.rows)
    assert not any("finding: reading out of range" in line.text for line in second.rows)
