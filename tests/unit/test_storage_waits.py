"""Storage is charged for days on which the customer lets a finished hide lie, never for days on which it waits for the shop (common practice, no source)."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.bill_book import Captured, book, said

TWO = """\
2026-11-01 08:10 H41 in, cape, for Oren Vale
2026-11-01 08:12 H42 in, cape, for Ida Crane
2026-11-01 08:30 P1 mixed in V1, 20 gal water
2026-11-01 09:00 H41 H42 pickle in P1
"""
# Ready on 4 November: 3 d in pickle are over, and nothing but `out` is left. 7 d are free, so that the 11th is the first day charged.


def owed(capsys: Captured, folder: Path, lines: str) -> str:
    return said(capsys, "owed", book(folder, TWO + lines), "H41")


def test_storage_begins_behind_the_free_days_of_a_hide_that_is_ready(tmp_path: Path, capsys: Captured) -> None:
    assert "storage, 9 days since Wed 11 Nov at $2.00 per d: $18.00" in owed(capsys, tmp_path, "")


def test_days_on_which_it_is_being_looked_at_are_not_charged(tmp_path: Path, capsys: Captured) -> None:
    """Its neighbour slipped on the 13th, and its own hair held on the 17th: four of the nine days are the shop's."""
    lines = "2026-11-13 09:00 H42 slip, neck\n2026-11-17 10:00 H41 pull test ok\n"
    out = owed(capsys, tmp_path, lines)
    assert "storage, 5 days since Wed 11 Nov at $2.00 per d, 4 days of waiting for the shop left out: $10.00" in out


def test_nothing_is_charged_from_the_slip_on_while_nobody_has_looked(tmp_path: Path, capsys: Captured) -> None:
    assert "storage, 2 days since Wed 11 Nov" in owed(capsys, tmp_path, "2026-11-13 09:00 H42 slip, neck\n")
    assert "storage" not in owed(capsys, tmp_path, "2026-11-05 09:00 H42 slip, neck\n")


def test_the_free_days_are_not_used_up_while_it_is_looked_at(tmp_path: Path, capsys: Captured) -> None:
    """Looked at from the 5th to the 9th, four days: the first that is charged is the 15th."""
    lines = "2026-11-05 09:00 H42 slip, neck\n2026-11-09 10:00 H41 pull test ok\n"
    assert "storage, 5 days since Sun 15 Nov at $2.00 per d: $10.00" in owed(capsys, tmp_path, lines)


def test_a_hide_that_slipped_itself_waits_for_the_shop_until_its_hair_holds(tmp_path: Path, capsys: Captured) -> None:
    assert "storage" not in owed(capsys, tmp_path, "2026-11-06 09:00 H41 slip, neck\n")
    held = "2026-11-06 09:00 H41 slip, neck\n2026-11-16 10:00 H41 pull test ok, by JK\n"
    assert "storage" not in owed(capsys, tmp_path, held)  # 2 d and 4 d of the free week


def test_a_waiver_with_its_reason_lets_it_be_fetched(tmp_path: Path, capsys: Captured) -> None:
    lines = "2026-11-13 09:00 H42 slip, neck\n2026-11-14 10:00 H41 waived slip nearby -- pulled by the owner himself\n"
    assert "storage, 8 days since Wed 11 Nov" in owed(capsys, tmp_path, lines)


@pytest.mark.parametrize("out", ["2026-11-17 10:00 H41 out to Oren Vale\n"])
def test_what_was_fetched_since_is_charged_to_the_day_it_went(tmp_path: Path, capsys: Captured, out: str) -> None:
    lines = f"2026-11-13 09:00 H42 slip, neck\n2026-11-15 10:00 H41 pull test ok\n{out}"
    assert "storage, 4 days since Wed 11 Nov at $2.00 per d, 2 days of waiting for the shop left out: $8.00" in owed(
        capsys, tmp_path, lines
    )
