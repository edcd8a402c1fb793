"""A skin that was refused: at the door it is no outcome of the shop; out of the tub, what happened to it happened here."""

from __future__ import annotations

from typing import Any

from hideledger.answers.slip.season import slip_season
from tests.unit.slip_book import floor_of, part, row, sheet_of

AT = "2026-10-05 17:50"
BOOK = """\
2026-10-01 09:00 P1 mixed in V1, 20 gal water, 20 lb salt, 60 oz citric acid
2026-10-01 09:10 H1 H2 H3 in, whitetail cape, green, for Oren Vale
2026-10-01 09:11 H1 H2 H3 pull test ok
2026-10-01 09:30 H1 H2 H3 fleshed, pickle in P1
2026-10-02 10:00 H4 in, whitetail cape, green -- belly green
2026-10-02 10:02 H4 slip, belly
2026-10-02 10:05 H4 refused -- smells
2026-10-04 09:00 H1 refused -- the hunter wants it back
2026-10-05 09:05 H3 slip, brisket, 3 in
2026-10-05 09:06 H3 refused -- slipped
"""


def test_a_skin_that_slipped_in_the_tub_and_was_then_refused_has_slipped() -> None:
    sheet = slip_season(floor_of(BOOK, AT))
    assert row(part(sheet, "What was counted"), "1").text == "slipped: H3"
    assert "1 of 2 skins slipped" in sheet.title


def test_one_refused_at_the_door_is_named_and_not_counted() -> None:
    counted = part(slip_season(floor_of(BOOK, AT)), "What was counted")
    assert "refused at the door, not counted: H4" in [one.text for one in counted.rows]


def test_one_refused_out_of_the_tub_was_given_up_and_not_refused_at_the_door() -> None:
    counted = part(slip_season(floor_of(BOOK, AT)), "What was counted")
    assert "given up for another reason, not counted: H1" in [one.text for one in counted.rows]
    assert sheet_of(BOOK, "H1", AT).title.startswith("H1 has no slip written, refused: the hunter wants it back")


def test_one_refused_at_the_door_keeps_its_title() -> None:
    book = BOOK.replace("2026-10-02 10:02 H4 slip, belly\n", "")
    assert sheet_of(book, "H4", AT).title.startswith("H4 was refused at the door: smells")


def test_a_skin_refused_out_of_the_tub_is_a_sister_of_those_that_lay_with_it() -> None:
    sisters = part(sheet_of(BOOK, "H2", AT), "Those it shares something with")
    assert [one.head for one in sisters.rows] == ["H3"]


def test_one_that_lay_in_the_shop_for_days_before_it_was_refused_slipped_here() -> None:
    late = BOOK.replace(
        "2026-10-02 10:02 H4 slip, belly\n2026-10-02 10:05", "2026-10-04 10:02 H4 slip, belly\n2026-10-04 10:05"
    )
    assert row(part(slip_season(floor_of(late, AT)), "What was counted"), "2").text == "slipped: H3 H4"


def test_programs_find_the_refused_under_a_name_of_their_own() -> None:
    record: Any = slip_season(floor_of(BOOK, AT)).record
    assert record["tags"]["refused_at_door"] == ["H4"]
    assert record["counts"]["refused_at_door"] == 1
