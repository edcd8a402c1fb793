"""Money that a shop did not expect: refunds beyond what was paid, unknown names, other money, nothing at all, the shop's own skins.

All sums are reckoned by hand beside the lines (common practice, no source).
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from hideledger.cli import main
from tests.unit.bill_book import Captured, book

AT = ("--at", "2026-11-17 12:00")
SHOP = """\
shop Fallow Creek Skins
  zone America/Chicago
  hours 8:00 to 18:00, Mon to Sat
  gallons US
kind cape, process tub
kind elk cape, process tub
supply salt, $0.125 per lb
charge cape, $100, $15 rush
charge elk cape, €80
process tub
  in
  pickle       stays at least 3 d
  tan          stays 16 h to 24 h, tanning begun
  oiled
  out

"""
DONE = """\
2026-11-02 10:00 H1 pickle
2026-11-05 16:40 H1 tan
2026-11-06 12:00 H1 oiled
"""
HERE = f"2026-11-02 09:01 H1 in, cape, for Oren Vale\n{DONE}"


def said(capsys: Captured, folder: Path, lines: str, command: str, *words: str) -> str:
    assert main([command, *words, "--book", book(folder, lines, SHOP), *AT]) == 0
    return " ".join(capsys.readouterr().out.split())


def test_a_deposit_beyond_the_bill_is_to_the_good(tmp_path: Path, capsys: Captured) -> None:
    assert "Oren Vale has $50.00 to the good" in said(capsys, tmp_path, f"{HERE}2026-11-03 H1 deposit $150\n", "owed")


def test_a_charge_of_nothing_leaves_nothing_owed(tmp_path: Path, capsys: Captured) -> None:
    out = said(capsys, tmp_path, f"{HERE}2026-11-03 H1 charged $0, deposit $0\n", "owed", "Oren Vale")
    assert "owes nothing" in out and "deposit Tue 3 Nov: $0.00" in out and "-$0.00" not in out


def test_more_given_back_than_paid_is_said(tmp_path: Path, capsys: Captured) -> None:
    """$100 - $20 + $50 = $130, of which $30 nobody had ever paid."""
    lines = f"{HERE}2026-11-07 10:02 H1 paid $20\n2026-11-07 10:03 H1 gave back $50\n"
    for command, words in (("owed", ()), ("owed", ("Oren Vale",)), ("custody", ("--year", "2026"))):
        assert "$30.00 more was given back than paid" in said(capsys, tmp_path, lines, command, *words)
    assert "owes $130.00" in said(capsys, tmp_path, lines, "owed")


@pytest.mark.parametrize(
    ("line", "text"),
    [
        ("paid $40 by Nan Quill", "Nan Quill has $40.00 to the good; no hide of the book is for Nan Quill"),
        ("gave back $15 to Zed Moor", "$15.00 more was given back than paid; no hide of the book is for Zed Moor"),
    ],
)
def test_money_of_somebody_without_a_hide_is_named_and_in_no_sum_for_hides(
    tmp_path: Path, capsys: Captured, line: str, text: str
) -> None:
    out = said(capsys, tmp_path, f"{HERE}2026-11-07 10:00 {line}\n", "owed")
    assert text in out
    assert "$100.00 owed for what is ready or fetched" in out
    year = said(capsys, tmp_path, f"{HERE}2026-11-07 10:00 {line}\n", "custody", "--year", "2026")
    assert "no hide of the book is for" in year and "in all $100.00 for what is ready or fetched" in year


def test_other_money_is_told_by_what_came_and_what_went(tmp_path: Path, capsys: Captured) -> None:
    lines = f"{HERE}2026-11-07 H1 paid €20, deposit €50\n2026-11-08 H1 gave back €20\n"
    out = said(capsys, tmp_path, lines, "owed")
    assert "owes $100.00; €70.00 paid and €20.00 given back in other money, in no sum" in out


def test_a_price_in_other_money_is_not_reckoned(tmp_path: Path, capsys: Captured) -> None:
    out = said(capsys, tmp_path, HERE.replace("cape,", "elk cape,"), "owed", "Oren Vale")
    assert "elk cape €80.00, other money than the shop's $: not reckoned" in out


def test_the_lines_of_a_bill_add_up_to_the_cent(tmp_path: Path, capsys: Captured) -> None:
    """Twice $0.005 are two cents asked for, not one; $100.02 less $33.34."""
    lines = f"{HERE}2026-11-07 H1 charged $0.005 seam\n2026-11-07 H1 charged $0.005 tag\n2026-11-08 H1 paid $33.335\n"
    out = said(capsys, tmp_path, lines, "owed", "Oren Vale")
    assert "seam: $0.01 tag: $0.01 paid Sun 8 Nov: -$33.34" in out
    assert "left $66.68" in out and "charged $100.02" in out
    year = said(capsys, tmp_path, lines, "custody", "--year", "2026")
    assert "paid by customers $33.34" in year and "charged, as written on hides $0.02" in year


def test_a_price_of_parts_of_a_cent_is_shown_whole(tmp_path: Path, capsys: Captured) -> None:
    out = said(capsys, tmp_path, f"{HERE}2026-11-07 H1 charged $0.125 seam\n2026-11-08 H1 paid €0.125\n", "owed", "H1")
    assert "€0.125, in no sum" in out


def test_the_shops_own_skin_is_owed_by_nobody_and_waits_for_nobody(tmp_path: Path, capsys: Captured) -> None:
    lines = HERE.replace("Oren Vale", "fallow creek skins")
    out = said(capsys, tmp_path, lines, "owed")
    assert out.endswith("$0.00 owed for what is ready or fetched")
    assert "To fetch" not in out
    assert "no skins" in said(capsys, tmp_path, lines, "custody", "--held")
    main(["floor", "--book", book(tmp_path, lines, SHOP), *AT])
    assert "to fetch" not in capsys.readouterr().out


def test_a_name_in_a_hurry_is_one_owner(tmp_path: Path, capsys: Captured) -> None:
    lines = f"{HERE}2026-11-07 10:00 H2 in, cape, for oren  vale\n"
    assert "Oren Vale: 2 skins" in said(capsys, tmp_path, lines, "custody", "--held")


def test_owed_and_the_year_and_the_export_agree(tmp_path: Path, capsys: Captured) -> None:
    lines = f"""{HERE}2026-11-02 09:02 H2 in, cape, for Ida Crane, deposit $50
2026-11-07 10:01 paid $250 by Oren Vale
2026-11-07 10:02 H2 gave back $20
2026-11-07 10:03 H1 charged $12.50 seam
"""
    owed = json.loads(said(capsys, tmp_path, lines, "owed", "--json"))
    year = json.loads(said(capsys, tmp_path, lines, "custody", "--year", "2026", "--json"))
    assert {one["customer"]: (one["owed_now"], one["owed_in_the_end"]) for one in owed["customers"]} == {
        "Oren Vale": ("-137.50", "-137.50"),
        "Ida Crane": ("0.00", "70.00"),
    }
    assert {one["customer"]: one["in_the_end"] for one in year["unpaid"]} == {
        "Oren Vale": "-137.50",
        "Ida Crane": "70.00",
    }
    assert year["money"] == {"paid": ["$250.00"], "deposit": ["$50.00"], "given back": ["$20.00"], "charge": ["$12.50"]}
    assert main(["export", book(tmp_path, lines, SHOP), *AT]) == 0
    rows = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    sums: dict[str, float] = {}
    for row in rows:
        if row["record"] == "money":
            sums[row["what"]] = sums.get(row["what"], 0) + row["amount"]
    assert sums == {"paid": 250, "deposit": 50, "given back": 20, "charge": 12.5}
