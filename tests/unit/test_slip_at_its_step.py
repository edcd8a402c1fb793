"""Failures other than slip: looked for at the step where they happen, with its hand, and counted among those that came to it.

What leads to which failure follows published handbooks of the trade as far as they name it; where they do not it is common
practice, no source. The skins and hours are made up.
"""

from __future__ import annotations

from typing import Any

import pytest

from hideledger.answers.sheet import Sheet
from hideledger.answers.slip.season import slip_season
from hideledger.answers.slip.tonight import found_nothing, the_look
from tests.unit.slip_book import SHOP, floor_of, headings, part, row, sheet_of

AT = "2026-10-20 17:00"
DRIES = SHOP.replace("  bagged ", "  dried         optional\n  bagged ")
WAY = """\
2026-10-01 08:00 P1 mixed in V1, 20 gal water, 20 lb salt, 60 oz citric acid lot C-1
2026-10-01 09:00 H1 H2 H3 in, {kind}, green, for Oren Vale
2026-10-01 09:10 H1 H2 H3 pull test ok
2026-10-01 10:00 H1 H2 H3 fleshed, by Jo
2026-10-01 11:00 H1 H2 H3 pickle in P1
2026-10-02 09:00 P1 pH {ph} meter
2026-10-03 09:00 P1 pH {ph} meter
2026-10-05 09:00 H1 H2 shaved, by Sal
2026-10-05 10:00 H1 H2 neutralised
2026-10-05 10:20 H1 H2 tan in D1
2026-10-07 09:00 H1 H2 drained
2026-10-07 15:00 H1 {dried}
"""
KINDS = "kind black bear, process both\n"


def told(
    last: str, defect: str, *, dried: str = "dried", kind: str = "whitetail cape", ph: str = "1.9", tag: str = "H1"
) -> Sheet:
    import tests.unit.slip_book as shop

    book = WAY.format(kind=kind, dried=dried, ph=ph) + last
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(shop, "SHOP", KINDS + DRIES)
        return sheet_of(book, tag, AT, defect)


def look(sheet: Sheet) -> str:
    return row(part(sheet, "In short"), "look first at").text


def test_a_burn_half_an_hour_after_the_drying_is_looked_for_in_the_drying_and_its_hand() -> None:
    sheet = told("2026-10-07 15:30 H1 burn, ears, bad -- heater too close\n", "burn", dried="dried, by Ida")
    assert look(sheet).startswith("dried, Wed 7 Oct 15:00, 30 min before the first sign: by Ida; heat, or acid")


def test_a_tear_ten_minutes_after_the_knife_is_looked_for_in_the_shaving_and_by_whom() -> None:
    sheet = told("2026-10-05 09:10 H2 tear, flank, 3 in\n", "tear", tag="H2")
    assert look(sheet).startswith("shaved, Mon 5 Oct 09:00, 10 min before the first sign: by Sal; ")


def test_a_grease_burn_asks_for_the_fat_and_the_heat() -> None:
    said = look(told("2026-10-08 15:00 H1 grease burn, flank\n", "grease burn", kind="black bear"))
    assert said.startswith("dried, Wed 7 Oct 15:00, 24 h before the first sign: by whom is not written; heat on fat")
    assert "black bear is a fat kind; no degreasing is written before it" in said


def test_a_bald_spot_asks_first_for_what_else_stands_on_its_line() -> None:
    sheet = told("2026-10-08 15:00 H1 grease burn along back, bald\n", "bald spot")
    assert look(sheet).startswith("grease burn, Thu 8 Oct 15:00: written on the same line, along back")
    assert headings(sheet)[1] == "Bald is not"


def test_the_last_step_before_the_sign_and_its_hand_stand_on_every_sheet() -> None:
    slipped = told("2026-10-05 09:30 H2 slip, belly\n", "slip", tag="H2")
    assert row(part(slipped, "The hide"), "step before").text == "shaved Mon 5 Oct 09:00, by Sal, with 1 other"
    burnt = told("2026-10-05 09:30 H2 burn, belly\n", "burn", tag="H2")
    assert row(part(burnt, "In short"), "step before").text == "shaved Mon 5 Oct 09:00, by Sal, with 1 other"


def test_a_pickle_too_weak_in_acid_has_burnt_nothing() -> None:
    sheet = told("2026-10-04 09:00 P1 pH 1.9 meter\n2026-10-07 15:30 H1 burn, ears\n", "burn", dried="bagged", ph="2.8")
    assert "reading out of range" not in look(sheet)
    assert not any(one.text.startswith("reading out of range") for one in part(sheet, "Weak points").rows)
    assert any(one.text.startswith("reading out of range") for one in part(sheet, "Weak before it too").rows)


def test_a_pickle_too_strong_in_acid_is_where_to_look_for_a_burn() -> None:
    sheet = told("2026-10-04 09:00 P1 pH 1.9 meter\n2026-10-07 15:30 H1 burn, ears\n", "burn", dried="bagged", ph="0.4")
    assert look(sheet).startswith("reading out of range")


def test_next_are_only_those_that_have_the_step_before_them() -> None:
    """H2 stands at the step before, H3 still lies in the pickle, and nobody asks a wet skin to shed water."""
    sheet = told("2026-10-08 15:00 H1 grease burn, flank\n", "grease burn")
    who = part(sheet, "Who is next: still to come to `dried`")
    (only,) = who.rows
    assert only.head == "1 skin"
    assert only.text.startswith("H3: before they come to `dried`: see that the fat is off first")
    assert "sheds water" not in only.text


def test_where_nobody_has_the_step_before_him_that_is_said() -> None:
    sheet = told("2026-10-06 09:00 H3 out to Oren Vale\n2026-10-08 15:00 H1 grease burn, flank\n", "grease burn")
    assert row(part(sheet, "In short"), "next").text == "nobody who is here is still to come to `dried`"


def season(last: str, defect: str) -> Sheet:
    import tests.unit.slip_book as shop

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(shop, "SHOP", KINDS + DRIES)
        return slip_season(floor_of(WAY.format(kind="whitetail cape", dried="dried", ph="1.9") + last, AT), defect)


def test_a_season_counts_those_that_came_to_the_step() -> None:
    sheet = season("2026-10-07 15:01 H2 dried\n2026-10-07 15:30 H1 burn, ears\n", "burn")
    assert "1 of 2 skins that came to `dried` had a burn, 1 not known yet" in sheet.title
    counted = [one.text for one in part(sheet, "What was counted").rows]
    assert "not come to `dried` yet, not counted: H3" in counted


def test_a_burn_that_came_before_any_drying_belongs_to_no_step() -> None:
    sheet = season("2026-10-05 09:30 H2 burn, belly\n", "burn")
    assert "that came to" not in sheet.title


def test_programs_are_told_to_which_step_it_belongs() -> None:
    record: Any = season("2026-10-07 15:01 H2 dried\n2026-10-07 15:30 H1 burn, ears\n", "burn").record
    assert record["step"] == "dried"
    assert record["tags"]["not_yet"] == ["H3"]


def test_nothing_is_advised_that_chance_alone_explains() -> None:
    skins = "".join(
        f"2026-10-01 1{lot}:00 P{lot + 1} mixed in V{lot}, 20 gal water, 20 lb salt, 60 oz citric acid lot D-{lot}\n"
        f"2026-10-01 1{lot}:10 H{lot}1 H{lot}2 H{lot}3 in, whitetail cape, green, for Oren Vale\n"
        f"2026-10-01 1{lot}:20 H{lot}1 H{lot}2 H{lot}3 pickle in P{lot + 1}\n"
        f"2026-10-08 0{lot}:10 H{lot}1 H{lot}2 H{lot}3 tan in D1\n2026-10-10 0{lot}:10 H{lot}1 H{lot}2 H{lot}3 drained\n"
        for lot in (1, 2)
    )
    sheet = slip_season(floor_of(skins + "2026-10-10 12:00 H11 grease, flank\n", AT), "grease")
    near = part(sheet, "Nothing stands out")
    assert not any(label in ("next", "or") for one in near.rows for label, _ in one.under)


def test_a_neutralising_that_nobody_wrote_is_asked_about_of_a_burn() -> None:
    sheet = told(
        "2026-10-03 10:00 H3 shaved\n2026-10-03 11:00 H3 tan in D1\n2026-10-04 12:00 H3 burn, ears\n", "burn", tag="H3"
    )
    assert any(one.text.startswith("not recorded: neutralised") for one in part(sheet, "Weak points").rows)


def test_one_is_told_to_look_for_it_in_english() -> None:
    assert [the_look(one).partition(":")[0] for one in ("burn", "mould", "shrunk")] == [
        "look for a burn",
        "look for mould",
        "see whether it shrank",
    ]
    assert found_nothing("shrunk") == "remark looked at, not shrunk"
