"""A skin that was cut is one skin in `cost`: its parts take one share together, by weight where all were weighed (common practice, no source)."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from hideledger.cli import main

SHOP = """\
shop Fallow Creek Skins
  zone America/Chicago
  hours 8:00 to 18:00, Mon to Sat
  gallons US
  labour $24 per h
kind cape, process tub
supply salt, $0.20 per lb
supply alum, $2.00 per lb
supply oil, $16.00 per gal
process tub
  in
  fleshed      takes 30 min
  pickle       stays at least 3 d
  tan          stays 16 h to 24 h, tanning begun
  oiled        takes 10 min
  out

2026-11-02 08:30 P1 mixed, 20 gal water, 20 lb salt
2026-11-02 08:31 A1 mixed, 20 gal water, 10 lb alum
2026-11-02 09:10 H1 H2 in, cape, green, for Oren Vale
2026-11-02 10:00 H1 H2 fleshed, pickle in P1
"""
CUT = "2026-11-03 10:00 H2 cut into H2a cape, H2b back\n"
REST = "2026-11-05 16:40 H1 H2a H2b tan in A1\n2026-11-06 12:00 H1 H2a H2b oiled, 1 gal oil\n"
WEIGHED = "2026-11-03 11:00 H2a 3 lb\n2026-11-03 11:01 H2b 1 lb\n"
AT = ("--at", "2026-11-17 12:00")
Captured = pytest.CaptureFixture[str]


def said(capsys: Captured, folder: Path, lines: str, *ask: str) -> str:
    (folder / "book.hides").write_text(SHOP + lines, encoding="utf-8")
    assert main([*ask, "--book", str(folder), *AT]) == 0
    return " ".join(capsys.readouterr().out.split())


def materials(capsys: Captured, folder: Path, lines: str) -> dict[str, str]:
    found = json.loads(said(capsys, folder, lines, "cost", "--json"))
    return {one["tag"]: one["materials"] for one in found["hides"]}


def test_the_parts_of_a_skin_take_one_share_of_what_a_line_used(tmp_path: Path, capsys: Captured) -> None:
    """Salt $4, alum $20 and oil $16 in halves: $20 for each skin, and $10 for each part of the second."""
    assert materials(capsys, tmp_path, CUT + REST) == {"H1": "20.00", "H2a": "10.00", "H2b": "10.00"}


def test_parts_that_were_weighed_share_by_weight(tmp_path: Path, capsys: Captured) -> None:
    """3 lb and 1 lb: three quarters and one of the $20."""
    assert materials(capsys, tmp_path, CUT + WEIGHED + REST) == {"H1": "20.00", "H2a": "15.00", "H2b": "5.00"}


def test_a_skin_that_is_cut_costs_what_a_whole_one_does(tmp_path: Path, capsys: Captured) -> None:
    """Work too: the minutes of a step are for one hide, and its parts want them together."""
    for lines in (CUT + REST, CUT + WEIGHED + REST):
        found = json.loads(said(capsys, tmp_path, lines, "cost", "--json"))
        whole, *parts = (float(one["total"]) for one in found["hides"])
        assert sum(parts) == pytest.approx(whole) == 36.0


def test_a_part_of_a_part_is_still_of_one_skin(tmp_path: Path, capsys: Captured) -> None:
    lines = f"{CUT}2026-11-03 12:00 H2a cut into H2c face, H2d cape\n{REST.replace('H2a', 'H2c H2d')}"
    assert materials(capsys, tmp_path, lines) == {"H1": "20.00", "H2b": "10.00", "H2c": "5.00", "H2d": "5.00"}


def test_a_load_counts_skins_and_not_the_parts_too(tmp_path: Path, capsys: Captured) -> None:
    out = said(capsys, tmp_path, CUT + REST, "cost", "--by", "load")
    assert "P1 $4.00 for 2 skins, $2.00 a skin" in out
    assert "A1 $20.00 for 2 skins, $10.00 a skin" in out


def test_a_load_with_one_part_of_a_skin_says_so(tmp_path: Path, capsys: Captured) -> None:
    out = said(capsys, tmp_path, f"{CUT}2026-11-05 16:40 H1 H2a tan in A1\n", "cost", "--by", "load")
    assert "A1 $20.00 for 1 1/2 skins, $13.33 a skin" in out


def test_what_went_on_a_tag_that_is_no_hide_is_in_no_hide_and_off_the_shelf(tmp_path: Path, capsys: Captured) -> None:
    lines = "2026-11-02 08:00 bought 100 lb salt, $20.00\n2026-11-07 12:00 H1 H99 oiled, 3 lb salt\n"
    assert materials(capsys, tmp_path, lines)["H1"] == "2.30"
    assert "shop $0.30 used for what no bath and no hide tells" in said(capsys, tmp_path, lines, "cost")
    assert "salt 77 lb" in said(capsys, tmp_path, lines, "stock")


def test_a_box_on_a_line_takes_a_share_for_each_skin_in_it(tmp_path: Path, capsys: Captured) -> None:
    lines = "2026-11-02 11:00 B7 in, 3 capes, green, for Harrow Tannery\n2026-11-02 12:00 H1 B7 fleshed, 8 lb salt\n"
    assert materials(capsys, tmp_path, lines)["B7"] == "1.20"


def test_the_export_has_the_same_shares(tmp_path: Path, capsys: Captured) -> None:
    rows = [json.loads(line) for line in _export(capsys, tmp_path, CUT + WEIGHED + REST).splitlines()]
    oil = [row for row in rows if row["record"] == "amounts" and row["supply"] == "oil"]
    assert [row["amount"] for row in oil] == [0.5, 0.375, 0.125]


def _export(capsys: Captured, folder: Path, lines: str) -> str:
    (folder / "book.hides").write_text(SHOP + lines, encoding="utf-8")
    assert main(["export", str(folder), *AT]) == 0
    return capsys.readouterr().out
