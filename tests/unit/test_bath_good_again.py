"""A bath that read out of its range with skins in it: how the record says that it ended."""

from pathlib import Path

import pytest

from hideledger.cli import main

Captured = pytest.CaptureFixture[str]

SHOP = """\
shop Fallow Creek Skins
  zone America/Chicago
  hours 8:00 to 18:00, Mon to Sat
  gallons US
  degrees F
vessel V1, vat, 40 gal, holds 12
supply citric acid
supply soda ash
process tub
  in
  pickle        stays, pH 0.8 to 2.2, raw clock stops
  out
"""

PAGE = """\
2026-11-02 08:00 P3 mixed in V1, 20 gal water
2026-11-02 08:12 H1 in, 14 lb, green, process tub
2026-11-02 08:15 H1 pickle in P3
2026-11-02 17:00 P3 pH 2.8 meter
"""
OUT = "2026-11-03 09:00 H1 out of P3\n"


def checked(capsys: Captured, folder: Path, page: str) -> str:
    """The record that `check` tells, every run of blanks as one."""
    (folder / "shop.hides").write_text(SHOP, encoding="utf-8")
    (folder / "november.hides").write_text(page, encoding="utf-8")
    main(["check", "--all", "--plain", "--book", str(folder), "--at", "2026-11-09 12:00"])
    return " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize(
    "end",
    [
        "2026-11-04 09:00 P3 dumped 20 gal, pH 6.9, sewer\n",
        "2026-11-04 09:00 P3 dumped 20 gal, pH 2.0, sewer\n",
        "2026-11-04 09:00 P3 mixed in V1, 20 gal water\n2026-11-04 09:10 P3 pH 2.0 meter\n",
        "2026-11-04 09:00 P3 mixed in V1, 20 gal water, pH 2.0 meter\n",
        "2026-11-03 10:00 P3 add 2 lb soda ash\n2026-11-03 11:30 P3 pH 6.9 meter\n2026-11-04 09:00 P3 dumped 20 gal, sewer\n",
    ],
    ids=[
        "let go neutral",
        "let go as sour as ever",
        "mixed anew",
        "mixed anew and read on one line",
        "made ready first",
    ],
)
def test_a_bath_that_was_let_go_is_not_good_again(tmp_path: Path, capsys: Captured, end: str) -> None:
    said = checked(capsys, tmp_path, PAGE + OUT + end)
    assert "reading out of range" in said
    assert "good again" not in said
    assert "over 2.2; never read good before it was let go, Wed 4 Nov 09:00" in said


def test_a_bath_let_go_with_the_skin_in_it_is_not_wrong_by_what_was_read_for_the_drain(
    tmp_path: Path, capsys: Captured
) -> None:
    page = PAGE.replace("pH 2.8", "pH 2.0") + "2026-11-04 09:00 P3 dumped 20 gal, pH 6.9, sewer\n"
    assert "reading out of range" not in checked(capsys, tmp_path, page)


def test_the_next_bath_in_the_tub_makes_the_old_one_no_better(tmp_path: Path, capsys: Captured) -> None:
    page = PAGE + OUT + "2026-11-04 09:00 P4 mixed in V1, 20 gal water\n2026-11-04 09:10 P4 pH 2.0 meter\n"
    said = checked(capsys, tmp_path, page)
    assert "reading out of range" in said
    assert "good again" not in said


def test_a_bath_that_an_add_put_right_late_is_good_again(tmp_path: Path, capsys: Captured) -> None:
    late = "2026-11-05 09:00 P3 add 8 oz citric acid\n2026-11-05 10:30 P3 pH 2.0 meter\n2026-11-06 09:00 H1 out of P3\n"
    assert "over 2.2; good again Thu 5 Nov 10:30" in checked(capsys, tmp_path, PAGE + late)


def test_a_bath_that_an_add_put_right_at_once_is_not_told(tmp_path: Path, capsys: Captured) -> None:
    soon = "2026-11-02 17:10 P3 add 8 oz citric acid\n2026-11-03 08:30 P3 pH 2.0 meter\n"
    assert "out of range" not in checked(capsys, tmp_path, PAGE + soon + OUT)


def test_an_add_that_nobody_read_after_puts_nothing_right(tmp_path: Path, capsys: Captured) -> None:
    end = "2026-11-02 17:10 P3 add 8 oz citric acid\n" + OUT + "2026-11-03 10:00 P3 dumped 20 gal, pH 6.9, sewer\n"
    assert "never read good before it was let go, Tue 3 Nov 10:00" in checked(capsys, tmp_path, PAGE + end)


def test_a_bath_that_reads_wrong_with_nobody_in_it_is_not_good_again(tmp_path: Path, capsys: Captured) -> None:
    end = OUT + "2026-11-03 10:00 P3 pH 2.9 meter\n2026-11-04 10:00 P3 pH 2.1 meter\n"
    assert "over 2.2; good again Wed 4 Nov 10:00" in checked(capsys, tmp_path, PAGE + end)


def test_a_bath_that_is_wrong_while_empty_is_told_on_the_floor_and_wakes_nobody(
    tmp_path: Path, capsys: Captured
) -> None:
    (tmp_path / "shop.hides").write_text(SHOP + "recipe pickle\n  per gal water: 3 oz citric acid\n", encoding="utf-8")
    page = "2026-11-02 08:00 P3 mixed in V1, recipe pickle, 20 gal water\n2026-11-02 17:00 P3 pH 2.8 meter\n"
    (tmp_path / "november.hides").write_text(page, encoding="utf-8")
    moment = ["--at", "2026-11-02 17:30"]
    assert main(["check", str(tmp_path), *moment]) == 0
    checked_words = " ".join(capsys.readouterr().out.split())
    assert "all quiet" in checked_words
    assert "No hurry due: P3 pH 2.8 meter Mon 2 Nov 17:00, over 2.2" in checked_words
    main(["floor", str(tmp_path), *moment])
    assert "before the next skins due: P3 pH 2.8 meter" in " ".join(capsys.readouterr().out.split())
