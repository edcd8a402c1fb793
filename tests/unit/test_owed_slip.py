"""What lay with a skin that slipped is not called ready to whoever calls, before somebody looked at it."""

from __future__ import annotations

from pathlib import Path

import pytest

from hideledger.cli import main
from tests.unit.test_cli_owed import AT, SHOP

Captured = pytest.CaptureFixture[str]

TWO = """\
2026-11-02 08:10 H41 in, cape, for Oren Vale
2026-11-02 08:12 H42 in, cape, for Ida Crane
2026-11-02 08:30 P1 mixed in V1, 20 gal water
2026-11-02 09:00 H41 H42 pickle in P1
2026-11-06 09:00 H42 slip, left ear, 1 in
"""


def said(capsys: Captured, folder: Path, lines: str, *words: str) -> str:
    (folder / "book.hides").write_text(SHOP + lines, encoding="utf-8")
    main(["owed", *words, "--book", str(folder), *AT])
    return " ".join(capsys.readouterr().out.split())


def test_the_line_for_the_telephone_promises_nothing_while_slip_nearby_rings(tmp_path: Path, capsys: Captured) -> None:
    told = said(capsys, tmp_path, TWO, "Oren", "Vale")
    assert told.startswith("Oren Vale: H41 being looked at, not to be promised yet; owes")
    assert "ready since" not in told


def test_nor_is_the_skin_that_slipped_itself_called_ready(tmp_path: Path, capsys: Captured) -> None:
    assert said(capsys, tmp_path, TWO, "Ida", "Crane").startswith(
        "Ida Crane: H42 being looked at, not to be promised yet"
    )
    held = TWO + "2026-11-06 10:00 H42 pull test ok, by JK\n"
    assert said(capsys, tmp_path, held, "Ida", "Crane").startswith("Ida Crane: H42 ready since")


def test_a_good_pull_since_makes_it_ready_again(tmp_path: Path, capsys: Captured) -> None:
    told = said(capsys, tmp_path, TWO + "2026-11-06 10:00 H41 pull test ok\n", "Oren", "Vale")
    assert told.startswith("Oren Vale: H41 ready since")


def test_the_list_of_what_waits_says_which_of_it_is_being_looked_at(tmp_path: Path, capsys: Captured) -> None:
    assert "H41 being looked at, not to be promised yet" in said(capsys, tmp_path, TWO)


def test_the_evening_look_sends_nobody_to_fetch_it(tmp_path: Path, capsys: Captured) -> None:
    (tmp_path / "book.hides").write_text(SHOP + TWO, encoding="utf-8")
    main(["floor", str(tmp_path), *AT])
    told = " ".join(capsys.readouterr().out.split())
    assert "Oren Vale H41 being looked at, not to be promised yet" in told
    assert "to fetch" not in told


SPOILT = """\
2026-11-02 08:10 H41 in, cape, for Oren Vale
2026-11-02 08:12 H42 in, cape, hole at flank, for Oren Vale
2026-11-02 08:30 P1 mixed in V1, 20 gal water
2026-11-02 09:00 H41 H42 pickle in P1
2026-11-06 08:00 H41 H42 out of P1
2026-11-06 09:00 H41 tear, flank, 3 in -- the knife caught
2026-11-06 09:05 H41 bald spot, neck
"""


def test_who_calls_about_a_spoilt_skin_is_told_so_and_what_it_had_at_the_door_he_knows(
    tmp_path: Path, capsys: Captured
) -> None:
    told = said(capsys, tmp_path, SPOILT, "Oren", "Vale")
    line, _, hides = told.partition(" owes ")
    assert "H41 ready since Thu 5 Nov, tear and bald spot written: call first" in line
    assert "H42 ready since Thu 5 Nov;" in line
    assert "ready since Thu 5 Nov, tear and bald spot written: call first" in hides


def test_nor_does_a_list_of_what_is_to_be_fetched_hide_it(tmp_path: Path, capsys: Captured) -> None:
    assert "H41 tear and bald spot written: call first" in said(capsys, tmp_path, SPOILT)
    main(["floor", "--book", str(tmp_path), *AT])
    told = " ".join(capsys.readouterr().out.split())
    assert "Oren Vale to fetch: H41 H42, waiting 4 days, H41 tear and bald spot written: call first" in told


def test_a_slip_of_a_skin_still_at_work_is_in_the_line_for_the_telephone(tmp_path: Path, capsys: Captured) -> None:
    work = TWO.replace("2026-11-06", "2026-11-03")
    assert "H42 being looked at, not to be promised yet, slip written: call first; owes" in said(
        capsys, tmp_path, work, "Ida", "Crane"
    )
