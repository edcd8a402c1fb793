"""How the sisters of a slipped hide fared, what they share, who is next and what to do with them, from little books.

Common practice, no source: what the sister hides did is the best evidence there is.
"""

from __future__ import annotations

import re

from hideledger.answers.slip.hide import slip_hide
from hideledger.reading import read_text
from hideledger.render.json_text import json_text
from tests.unit.slip_book import SHOP, floor_of, heads, part, row, sheet_of, under

AT = "2026-11-12 17:00"
# Four came in by two owners; three lay in P3, one later, and one in a bath of its own of the same acid.
FIVE = """\
2026-11-02 08:00 H1 H2 H3 in, whitetail cape, green, for Oren Vale, promised 2026-12-15
2026-11-02 08:30 H4 H5 in, whitetail cape, green, for Ida Crane
2026-11-02 09:00 H1 H2 H3 H4 H5 pull test ok
2026-11-02 09:30 H1 H2 H3 H4 H5 fleshed
2026-11-03 08:00 P3 mixed in V1, 20 gal water, 20 lb salt lot S-1, 60 oz citric acid lot C-1
2026-11-03 08:05 P4 mixed in V2, 20 gal water, 20 lb salt lot S-2, 60 oz citric acid lot C-1
2026-11-03 08:15 H1 H2 H4 pickle in P3
2026-11-03 08:20 H5 pickle in P4
2026-11-07 08:00 H1 H2 H4 out of P3
2026-11-08 08:00 H3 pickle in P3
2026-11-10 08:00 P3 pH 1.9 strip
2026-11-10 09:00 H1 slip, left ear, 1 in
2026-11-10 10:00 H2 slip, belly, bad
"""


def shares(text: str) -> str:
    return text.partition("shares ")[2]


def test_each_sister_says_how_it_fared_and_what_it_shares_the_most_shared_first() -> None:
    rows = part(sheet_of(FIVE, "H1", AT), "Its sisters").rows
    assert [one.head for one in rows][:3] == ["H2", "H4", "H3"]
    assert rows[0].text.startswith("slipped: belly, bad, Tue 10 Nov 10:00")
    assert shares(row(part(sheet_of(FIVE, "H1", AT), "Its sisters"), "H4").text) == "P3 and the day in (Mon 2 Nov)"
    assert "P3 at another time" in shares(rows[2].text)


def test_a_lot_that_came_by_another_bath_is_shared_by_itself() -> None:
    sister = row(part(sheet_of(FIVE, "H1", AT), "Its sisters"), "H5")
    assert shares(sister.text) == "citric acid lot C-1 and the day in (Mon 2 Nov)"


def test_things_met_by_the_very_same_hides_are_told_as_one() -> None:
    met = part(sheet_of(FIVE, "H1", AT), "What it met with")
    bath = row(met, "P3")
    assert bath.text == "1 of 2 others slipped too: H2; H3 not known yet"
    assert "the same hides salt lot S-1" in under(bath)


def test_who_is_next_are_those_still_here_with_the_strongest_ties_and_what_to_write() -> None:
    section = part(sheet_of(FIVE, "H1", AT), "Who is next")
    assert heads(section.rows) == ["tonight", "H4", "H3", "H5", "write"], "H4 lay in P3 with both, H3 only after them"
    assert row(section, "tonight").text.startswith("H4 first: pull gently at ears, brisket, belly")
    assert "read P3 (last pH 1.9 strip Tue 10 Nov 08:00" in row(section, "H3").text
    whose = part(sheet_of(FIVE, "H1", AT), "Whose they are")
    assert row(whose, "H3").text == "Oren Vale, promised 2026-12-15"
    assert row(whose, "H4 H5").text == "Ida Crane"


def test_what_is_to_be_written_can_be_read() -> None:
    section = part(sheet_of(FIVE, "H1", AT), "Who is next")
    rows = [*section.rows, *(section.in_plain or ())]
    lines = [line for one in rows for text in (one.text, *under(one)) for line in re.findall("`([^`]+)`", text)]
    assert "H3 thru H5 pull test ok" in lines and "H3 slip, slight" in lines
    for line in lines:
        assert read_text(f"{SHOP}{FIVE}2026-11-12 18:00 {line}\n").unread == (), line


def test_a_good_pull_since_the_last_sign_takes_most_of_the_weight_off() -> None:
    pulled = FIVE + "2026-11-11 08:00 H4 pull test ok\n"
    section = part(sheet_of(pulled, "H1", AT), "Who is next")
    assert section.rows[1].head == "H3"
    assert "its hair held since" in row(section, "H4").text
    assert row(section, "write").text.startswith("`H3 H5 pull test ok`"), "H4 was pulled at already"
    early = FIVE + "2026-11-09 08:00 H4 pull test ok\n"
    text = row(part(sheet_of(early, "H1", AT), "Who is next"), "H4").text
    assert "held since" not in text, "a pull before the sign proves nothing"


def test_a_frozen_one_is_left_frozen() -> None:
    frozen = FIVE.replace(
        "2026-11-08 08:00 H3 pickle in P3", "2026-11-03 08:30 H3 pickle in P3\n2026-11-08 08:00 H3 frozen in freezer"
    )
    section = part(sheet_of(frozen, "H1", AT), "Who is next")
    assert "leave it frozen, and look when it is thawed, before anything else" in row(section, "H3").text
    assert heads(section.rows)[-2:] == ["H3", "write"], "nothing can be done with it tonight"
    assert "H3" not in row(section, "write").text


def test_those_that_are_out_are_not_next_but_stay_sisters() -> None:
    out = FIVE + "2026-11-11 08:00 H4 out to Ida Crane\n"
    sheet = sheet_of(out, "H1", AT)
    assert "H4" in heads(part(sheet, "Its sisters").rows)
    assert all("H4" not in one.head for one in part(sheet, "Who is next").rows)


def test_a_hide_without_slip_says_so_and_with_whom_it_shares_what() -> None:
    sheet = sheet_of(FIVE, "H4", AT)
    assert sheet.title == "H4 has no slip written (at 2026-11-12 17:00)"
    head = part(sheet, "In short")
    assert row(head, "shared").text == "it shares P3 and the day in (Mon 2 Nov) with H1, which slipped; 2 in all"
    assert "`H4 pull test ok`" in row(head, "tonight").text
    assert heads(part(sheet, "Those it shares").rows) == ["H1", "H2"]
    assert not any(section.heading.startswith("Weak points") for section in sheet.sections)


def test_where_nothing_slipped_nothing_is_made_of_it() -> None:
    quiet = "\n".join(line for line in FIVE.split("\n") if " slip" not in line)
    sheet = sheet_of(quiet, "H1", AT)
    assert row(part(sheet, "In short"), "shared").text == "none of those it shares anything with slipped"
    assert not any(section.heading.startswith(("Who is next", "Side by side")) for section in sheet.sections)


def test_parts_of_a_cut_hide_are_sisters_and_the_whole_points_to_them() -> None:
    cut = FIVE + "2026-11-10 11:00 H4 cut into H4a cape, H4b back skin\n2026-11-11 08:00 H4a slip, neck, 1 in\n"
    sheet = sheet_of(cut, "H4a", AT)
    sisters = {one.head: one.text for one in part(sheet, "Its sisters").rows}
    assert "cut from H4" in sisters["H4b"]
    assert "H4" not in sisters, "the whole goes on under its parts"
    whole = sheet_of(cut, "H4", AT)
    assert "cut 2026-11-10 11:00 into H4a H4b" in row(part(whole, "The hide"), "now").text


def test_skins_of_one_box_are_sisters_and_the_box_points_to_them() -> None:
    box = """\
2026-11-02 08:05 B1 in, 3 whitetail capes, frozen, for Oren Vale
2026-11-02 09:00 B1 opened, H11 thru H13
2026-11-03 10:00 H11 H12 pickle
2026-11-05 09:00 H11 slip, belly, 3 in
"""
    sheet = sheet_of(box, "H11", AT)
    assert "box B1" in shares(row(part(sheet, "Its sisters"), "H12").text)
    opened = sheet_of(box, "B1", AT)
    assert "opened 2026-11-02 09:00: H11 thru H13" in row(part(opened, "The hide"), "now").text
    assert row(part(opened, "In short"), "shared").text.startswith("it shares")


def test_freezer_neighbours_count_only_where_they_lay_there_at_one_time() -> None:
    lines = """\
2026-11-02 08:00 H1 in, whitetail cape, green, for Oren Vale
2026-11-03 08:00 H2 in, whitetail cape, green, for Ida Crane
2026-11-04 08:00 H3 in, whitetail cape, green
2026-11-04 09:00 H1 H2 frozen in freezer
2026-11-06 09:00 H1 thawed
2026-11-07 09:00 H3 frozen in freezer
2026-11-08 09:00 H1 slip, left ear, 1 in
"""
    sisters = {one.head: shares(one.text) for one in part(sheet_of(lines, "H1", AT), "Its sisters").rows}
    assert sisters == {"H2": "freezer"}


def test_what_it_met_after_the_sign_is_no_weak_point() -> None:
    later = FIVE + "2026-11-11 08:00 P5 mixed in V2, 20 gal water, 20 lb salt\n2026-11-11 09:00 H1 H2 pickle in P5\n"
    sheet = sheet_of(later, "H1", AT)
    assert "P5" not in heads(part(sheet, "What it met with").rows)
    assert all("P5" not in one.text for one in part(sheet, "Weak points").rows)


def test_more_than_twelve_sisters_are_counted_and_those_alike_stand_in_one_row() -> None:
    tags = " ".join(f"H{number}" for number in range(1, 21))
    many = f"""\
2026-11-02 08:00 {tags} in, whitetail cape, green
2026-11-03 08:00 P3 mixed in V1, 20 gal water, 20 lb salt
2026-11-03 08:15 {tags} pickle in P3
2026-11-10 09:00 H1 slip, left ear, 1 in
"""
    sheet = sheet_of(many, "H1", AT)
    rows = part(sheet, "Its sisters").rows
    assert [one.head for one in rows] == ["H2 thru H13", "and 7 more"]
    assert rows[-1].text == "H14 thru H20"
    assert len(part(sheet, "Side by side").rows) == 1 + 1 + 12


def test_the_same_book_gives_the_same_bytes_and_a_record_for_programs() -> None:
    first, again = slip_hide(floor_of(FIVE, AT), "H1"), slip_hide(floor_of(FIVE, AT), "H1")
    assert json_text(first) == json_text(again)
    record = first.record
    assert record is not None
    assert record["first_sign"] == {
        "when": "2026-11-10T15:00:00Z",
        "when_local": "2026-11-10 09:00",
        "timed": True,
        "where": "left ear",
        "size": "1 in",
        "degree": None,
        "file": "page.hides",
        "line": SHOP.count("\n") + 12,
    }
    assert [one["tag"] for one in record["sisters"]] == ["H2", "H4", "H3", "H5"]  # type: ignore[attr-defined]
