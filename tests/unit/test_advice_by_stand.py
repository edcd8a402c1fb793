"""What is asked of a skin that lay with one that slipped goes by where it stands: cold and acid are for raw skins, never for leather.

Common practice, no source: acid and cold slow what loosens hair in a raw skin; in leather nothing is left to slow, and acid takes its tan out.
"""

from __future__ import annotations

import pytest

from hideledger.answers.slip.hide import slip_hide
from hideledger.reading import read_text
from hideledger.rules.finding import Finding
from hideledger.rules.judge import judge
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.layout import lay_out
from tests.unit.test_rules_judging import moment

SHOP = """shop Bramble Lane Skins
  zone America/Chicago
  gallons US
customer Wen Alder
vessel V1, vat, 40 gal
vessel V2, vat, 40 gal
place freezer
kind whitetail cape or cape
recipe alum bath
  per gal water: 9.6 oz alum tan, 8 oz salt
supply alum tan
supply salt
process cape
  in
  fleshed
  salt         stays at least 1 d, optional, raw clock stops
  pickle       stays at least 1 d, raw clock stops
  neutralised  stays at most 1 h
  tan          stays at least 16 h, in a bath, tanning begun
  drained      stays at most 1 d
  oiled
  out
  may rest frozen at most 9 mo, after in or fleshed or pickle, raw clock stops
2026-11-01 08:00 P1 mixed in V1, 20 gal water
2026-11-01 08:00 T1 mixed in V2, recipe alum bath, 10 gal water, 6 lb alum tan, 5 lb salt
2026-11-01 09:00 H1 H2 in, whitetail cape, green, killed 2026-11-01 06:00, process cape, for Wen Alder
2026-11-01 09:30 H1 H2 fleshed
2026-11-01 10:00 H1 H2 pickle in P1
"""
SLIPPED = "2026-11-03 09:00 H2 slip, belly, bad\n"
WAY = ("2026-11-04 09:00 H1 neutralised\n", "2026-11-04 09:30 H1 tan in T1\n", "2026-11-05 10:00 H1 drained\n")
OILED = "2026-11-05 12:00 H1 oiled\n"
BOX = """2026-11-02 09:00 B1 in, 2 whitetail capes, green, process cape, for Wen Alder
2026-11-02 09:10 B1 opened, H11 H12
"""
BOX_SLIPPED = "2026-11-02 12:00 H12 slip, belly, bad\n"


def floor_of(lines: str, at: str) -> Floor:
    book = read_text(SHOP + lines)
    assert not book.unread
    return lay_out(book, moment(book, at))


def told(lines: str, at: str, tag: str = "H1") -> Finding:
    """What is said of one that lay with H2 in a pickle, or came with H12 in a box."""
    (found,) = [one for one in judge(floor_of(lines, at)) if one.name == "slip nearby" and tag in one.tags]
    assert "pull gently at ears" in found.do
    return found


@pytest.mark.parametrize(
    ("steps", "at", "when", "first"),
    [
        (0, "2026-11-03 12:00", "now", "get them cold or into fresh acid now, then pull"),
        (1, "2026-11-04 09:15", "now", "get them cold now, no acid any more, and pull"),
        (2, "2026-11-04 12:00", "now", "when it comes out of the tan, pull"),
        (3, "2026-11-05 11:00", "now", "pull"),
        (3, "2026-11-07 11:00", "record", "look at it before it goes: pull"),
    ],
)
def test_the_advice_goes_by_where_the_skin_stands(steps: int, at: str, when: str, first: str) -> None:
    found = told(SLIPPED + "".join(WAY[:steps]), at)
    assert (found.when, found.do.split(" gently")[0]) == (when, first)


@pytest.mark.parametrize("at", ["2026-11-05 13:00", "2026-11-24 17:00", "2027-03-01 09:00"])
def test_an_oiled_one_is_looked_at_before_it_goes_on_every_later_day(at: str) -> None:
    found = told(SLIPPED + "".join(WAY) + OILED, at)
    assert found.when == "record"
    assert found.do.startswith("look at it before it goes: pull gently")
    assert "cold" not in found.do
    assert "acid" not in found.do


def test_leather_is_told_by_a_later_step_where_nobody_wrote_the_tan() -> None:
    found = told(SLIPPED + OILED, "2026-11-06 09:00")
    assert (found.when, found.do.split(":")[0]) == ("record", "look at it before it goes")


def test_a_green_one_may_go_into_its_salt_as_well() -> None:
    found = told(BOX + BOX_SLIPPED, "2026-11-02 13:00", "H11")
    assert found.when == "now"
    assert found.do.startswith("get them cold now, or on to your salt or your pickle, and pull gently")


def test_a_salted_one_stays_in_its_salt() -> None:
    salted = "2026-11-02 10:00 H11 H12 fleshed\n2026-11-02 11:00 H11 H12 salt\n"
    found = told(BOX + salted + BOX_SLIPPED, "2026-11-02 13:00", "H11")
    assert found.do.startswith("leave them salted or dry as they are, and get them cold now")
    assert "acid" not in found.do


def test_a_frozen_one_is_left_frozen() -> None:
    found = told(SLIPPED + "2026-11-03 10:00 H1 frozen in freezer\n", "2026-11-03 12:00")
    assert found.do.startswith("leave it frozen")


def test_the_sheet_of_slip_asks_for_no_cold_of_leather_either() -> None:
    sheet = slip_hide(floor_of(SLIPPED + "".join(WAY) + OILED, "2026-11-24 17:00"), "H1")
    (row,) = [
        row for part in sheet.sections for row in part.rows if row.head == "tonight" and part.heading == "In short"
    ]
    assert row.text.startswith("before it goes pull gently at ears")
    assert "cold" not in row.text
