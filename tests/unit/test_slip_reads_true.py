"""What a worried taxidermist or a statistician would stumble over in `slip`: all of them slipped, one look, a knife that cut the roots."""

from __future__ import annotations

from pathlib import Path

import pytest

from hideledger.cli import main

SHOP = """shop Fallow Creek Skins
  zone America/Chicago
  hours 8:00 to 18:00, Mon to Sat
  gallons US
vessel V1, vat, 40 gal, holds 12
vessel V2, vat, 40 gal, holds 12
process tub
  in
  fleshed
  pickle        stays at least 3 d, raw clock stops
  tan           stays at least 16 h
  out
"""
LINES = """2026-11-02 08:30 P1 mixed in V1, 20 gal water, 20 lb salt lot S-1
2026-11-02 08:31 P2 mixed in V2, 20 gal water, 20 lb salt lot S-2
2026-11-02 09:00 H1 thru H6 in, for Oren Vale
2026-11-02 10:00 H1 thru H4 fleshed, pickle in P1
2026-11-02 10:05 H5 H6 fleshed, pickle in P2
2026-11-05 17:05 H1 thru H6 tan
{sign}
2026-11-09 12:40 H1 thru H6 out to Oren Vale
"""


def told(tmp_path: Path, capsys: pytest.CaptureFixture[str], sign: str, *ask: str) -> str:
    (tmp_path / "shop.hides").write_text(SHOP, encoding="utf-8")
    (tmp_path / "november.hides").write_text(LINES.format(sign=sign), encoding="utf-8")
    assert main(["slip", *ask[:1], str(tmp_path), *ask[1:], "--at", "2026-11-17 17:00"]) == 0
    return " ".join(capsys.readouterr().out.split())


def test_where_all_of_them_slipped_the_reason_is_that_none_is_left_to_compare_with(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = told(tmp_path, capsys, "2026-11-08 9:00 H1 thru H6 slip, belly")
    assert "6 of 6 skins slipped, all of them: none to compare with" in out
    assert "there is no sound one to compare with, so nothing can be told apart and nothing is cleared" in out
    assert "too few" not in out
    assert "clearest" not in out


def test_one_look_raises_no_p(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = told(tmp_path, capsys, "2026-11-08 9:00 H1 thru H4 slip, belly")
    assert "one thing that skins met was looked at" in out
    assert "each p is raised" not in out
    assert "after 1 look" not in out


def test_two_skins_are_both_and_not_all_two(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "shop.hides").write_text(SHOP, encoding="utf-8")
    lines = LINES.format(sign="2026-11-08 9:00 H1 H2 slip, belly").replace("H1 thru H6", "H1 H2")
    lines = lines.replace("H1 thru H4", "H1 H2").replace("2026-11-02 10:05 H5 H6 fleshed, pickle in P2\n", "")
    (tmp_path / "november.hides").write_text(lines, encoding="utf-8")
    assert main(["slip", str(tmp_path), "--at", "2026-11-17 17:00"]) == 0
    out = capsys.readouterr().out
    assert "both lay in P1" in out and "all 2" not in out


@pytest.mark.parametrize("defect", ["slip", "bald spot"])
def test_a_root_cut_in_the_book_is_told_before_any_bath(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], defect: str
) -> None:
    sign = f"2026-11-08 9:00 H1 {defect}, left flank\n2026-11-08 9:02 H1 root cut, left flank"
    out = told(tmp_path, capsys, sign, "H1", "--defect", defect)
    assert out.index("root cut written of it at left flank") < out.index("look first at")
    assert "look there before any bath: fleshed Mon 2 Nov 10:00" in out


def test_a_hide_without_the_defect_says_which_it_had(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = told(tmp_path, capsys, "2026-11-08 9:00 H1 bald spot, left flank", "H1")
    assert '`hideledger slip H1 --defect "bald spot"` asks about it' in out
