"""Leather is no raw skin: what was tanned, here or elsewhere, has no raw clock when it comes in (common practice, no source)."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from hideledger.cli import main

SHOP = """shop Fallow Creek Skins
  zone America/Chicago
  hours 8:00 to 18:00, Mon to Sat
  gallons US
  room 66 F
vessel V1, vat, 40 gal, holds 12
kind whitetail cape, process tub
process tub
  in            needs pull test
  fleshed       within 12 h of in
  pickle        stays at least 3 d, raw clock stops
  tan           stays 16 h to 24 h
  out
  raw at most 12 h at 66 F
process repair
  in
  soaked        raw clock runs
  sewn
  out
  raw at most 12 h at 66 F
"""
TANNED_HERE = """2026-11-02 08:30 P1 mixed in V1, 20 gal water
2026-11-02 09:10 H1 in, whitetail cape, buck, green, killed 2026-11-02 6:30, for Oren Vale, tag 40718
2026-11-02 09:15 H1 pull test ok
2026-11-02 10:00 H1 fleshed, pickle in P1
2026-11-05 16:40 H1 tan
2026-11-06 12:40 H1 out to Oren Vale
"""


def told(tmp_path: Path, capsys: pytest.CaptureFixture[str], lines: str, ask: Sequence[str] = ("check",)) -> str:
    (tmp_path / "shop.hides").write_text(SHOP, encoding="utf-8")
    (tmp_path / "november.hides").write_text(lines, encoding="utf-8")
    main([*ask, str(tmp_path), "--at", "2026-11-17 17:00", "--plain"])
    return capsys.readouterr().out


@pytest.mark.parametrize(
    "coming",
    [
        "in, whitetail cape, for Oren Vale",
        "in",
        "in, back for repair",
        "in, whitetail cape, tag 40718, process repair",
        "in, slip left ear",  # returned for what came loose after finishing
    ],
)
def test_a_skin_tanned_here_is_not_raw_when_its_tag_comes_in_again(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], coming: str
) -> None:
    out = told(tmp_path, capsys, f"{TANNED_HERE}2026-11-16 09:40 H1 {coming}\n")
    assert "raw too long" not in out
    assert "fleshed" not in out


@pytest.mark.parametrize(
    "coming",
    [
        "in, whitetail cape, tanned, for Ida Crane",
        "in, whitetail cape, tanned elsewhere, for Ida Crane",
        "in, whitetail cape, leather, for Ida Crane",
        "in, whitetail cape, back for repair, for Ida Crane",
        "in, whitetail cape, for new backing, for Ida Crane",
        "in, whitetail cape, new backing, for Ida Crane",
        "in, whitetail cape, for retanning, for Ida Crane",
        "in, whitetail cape, was H1",
        "in, leather, process repair",
    ],
)
def test_a_new_tag_that_says_it_is_leather_is_not_raw(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], coming: str
) -> None:
    out = told(tmp_path, capsys, f"{TANNED_HERE}2026-11-16 09:40 H2 {coming}\n")
    assert "raw too long" not in out
    assert "fleshed" not in out
    assert "no kind, condition" not in out


@pytest.mark.parametrize(
    "coming",
    [
        "in, whitetail cape, green, for Oren Vale",
        "in, whitetail cape, doe, for Oren Vale",
        "in, whitetail cape, 7 lb, for Oren Vale",
        "in, whitetail cape, killed 2026-11-15 7:00, for Oren Vale",
        "in, whitetail cape, for Ida Crane",
        "in, whitetail cape, for Oren Vale, tag 40999",
    ],
)
def test_another_skin_under_a_tag_used_before_is_raw(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], coming: str
) -> None:
    assert "raw too long" in told(tmp_path, capsys, f"{TANNED_HERE}2026-11-16 09:40 H1 {coming}\n")


def test_a_skin_that_went_back_untanned_is_raw_when_it_comes_again(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = (
        "2026-11-02 09:10 H1 in, whitetail cape, for Oren Vale\n"
        "2026-11-02 10:00 H1 fleshed\n"
        "2026-11-02 11:00 H1 out to Oren Vale\n"
        "2026-11-16 09:40 H1 in, whitetail cape, for Oren Vale\n"
        "2026-11-16 09:50 H2 in, whitetail cape, was H1\n"
    )
    out = told(tmp_path, capsys, lines)
    rang = [line for line in out.splitlines() if "raw too long" in line]
    assert all(any(tag in line for line in rang) for tag in ("H1", "H2")), out


def test_a_soak_of_leather_starts_no_raw_clock(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lines = "2026-11-16 09:40 H2 in, leather, process repair\n2026-11-16 09:50 H2 soaked\n"
    assert "raw too long" not in told(tmp_path, capsys, lines)
    raw = "2026-11-16 09:40 H2 in, dried, process repair\n2026-11-16 09:50 H2 soaked\n"
    assert "raw too long" in told(tmp_path, capsys, raw)


def test_leather_that_goes_out_again_is_not_asked_for_the_steps_that_make_leather(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = "2026-11-16 09:40 H2 in, whitetail cape, tanned, pull test ok, for Ida Crane\n2026-11-16 15:00 H2 out to Ida Crane\n"
    assert "not recorded" not in told(tmp_path, capsys, lines)


def test_for_repair_is_nobodys_name(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = told(tmp_path, capsys, "2026-11-16 09:40 H2 in, whitetail cape, for repair\n", ("floor",))
    assert "for whom" in out


@pytest.mark.parametrize("coming", ["H1 in, back for repair, slip left ear", "H5 in, tanned, was H1, slip left ear"])
def test_a_skin_that_comes_back_slipped_is_asked_about_where_it_was_tanned(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], coming: str
) -> None:
    lines = f"{TANNED_HERE}2026-11-16 09:40 {coming}\n"
    tag = coming.split(maxsplit=1)[0]
    out = told(tmp_path, capsys, lines, ("slip", tag))
    assert out.startswith("H1 slipped: left ear, Mon 16 Nov 09:40")
    assert "pickle" in out and "in P1" in out
    assert "when it was killed is not written" not in out


def test_a_skin_that_comes_back_slipped_counts_once_and_as_slipped(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = f"{TANNED_HERE}2026-11-16 09:40 H1 in, back for repair, slip left ear\n"
    out = told(tmp_path, capsys, lines, ("slip",))
    assert "1 of 1 skin slipped" in out
    assert "1\tslipped: H1" in out or "1  slipped: H1" in out
    sound = f"{TANNED_HERE}2026-11-16 09:40 H1 in, back for repair\n"
    assert "none of 1 skin slipped" in told(tmp_path, capsys, sound, ("slip",))


def test_the_time_to_the_sign_runs_on_while_a_skin_is_with_its_owner(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = (
        TANNED_HERE.replace("H1 fleshed", "H1 H3 fleshed").replace("H1 tan", "H1 H3 tan")
        + "2026-11-02 09:12 H3 in, whitetail cape, green, for Ida Crane\n"
        + "2026-11-16 10:00 H1 in, back for repair, slip left ear\n2026-11-16 10:05 H3 slip, neck\n"
    )
    assert "met Mon 2 Nov 10:00, 14 d before the first sign" in told(tmp_path, capsys, lines, ("slip", "H1"))


def test_leather_at_the_door_is_not_asked_for_the_pull_of_a_raw_skin(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = f"{TANNED_HERE}2026-11-16 09:40 H1 in, back for repair\n2026-11-16 10:00 H1 tan\n"
    assert "pull test is not recorded" not in told(tmp_path, capsys, lines)
    raw = lines.replace("back for repair", "whitetail cape, green, killed 2026-11-16 6:30")
    assert "pull test is not recorded" in told(tmp_path, capsys, raw)
