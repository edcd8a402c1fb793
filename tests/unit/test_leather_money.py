"""Leather that comes back is one skin that was here twice: it is tanned once, charged once, and keeps whose it is (common practice, no source)."""

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
customer Oren Vale, phone 555-0142
kind cape, process tub
kind elk cape, counts 3, process tub
supply salt, $0.20 per lb
supply oil, $16.00 per gal
charge cape, $100, $15 rush
charge elk cape, $9 per lb
charge repair, $25
sent out, $80 per hide
process tub
  in
  fleshed      takes 30 min
  pickle       stays at least 3 d
  tan          stays 16 h to 24 h, tanning begun
  oiled        takes 10 min
  out

2026-11-02 08:00 bought 1 drum, $400.00
2026-11-02 08:30 P1 mixed, 20 gal water, 20 lb salt
2026-11-02 09:10 H1 in, cape, buck, 7 lb, green, killed 2026-11-01, for Oren Vale, tag 40718, -- rush
2026-11-02 09:11 H2 in, elk cape, 14 lb, green, for Oren Vale
2026-11-02 10:00 H1 H2 fleshed, pickle in P1
2026-11-05 16:40 H1 H2 tan
2026-11-06 12:00 H1 H2 oiled
2026-11-09 12:00 H1 H2 out to Oren Vale
"""
BACK_UNDER_A_NEW_TAG = "2026-11-12 12:00 H9 in, was H1, back for repair\n2026-11-13 12:00 H9 oiled, 1 gal oil\n"
BACK_UNDER_ITS_OWN = "2026-11-12 12:00 H1 in, back for repair\n2026-11-13 12:00 H1 oiled, 1 gal oil\n"
FROM_ELSEWHERE = "2026-11-12 12:00 H9 in, cape, tanned, for Ida Crane\n"
AT = ("--at", "2026-11-17 12:00")
Captured = pytest.CaptureFixture[str]


def said(capsys: Captured, folder: Path, lines: str, *ask: str) -> str:
    (folder / "book.hides").write_text(SHOP + lines, encoding="utf-8")
    assert main([*ask, "--book", str(folder), *AT]) == 0
    return " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize("back", [BACK_UNDER_A_NEW_TAG, BACK_UNDER_ITS_OWN, FROM_ELSEWHERE])
def test_leather_that_comes_in_is_no_hide_more_in_cost(tmp_path: Path, capsys: Captured, back: str) -> None:
    """40 min at $24 an hour and half of $4.00 of salt are $18.00; $80.00 less that are $62.00, and $400.00 are paid at 7 (6.45 rounded up)."""
    out = said(capsys, tmp_path, back, "cost")
    assert "a hide here $18.00, over 2 hides that came through" in out
    assert "saved so far $124.00" in out
    assert "paid at 7 hides; 2 hides came through, $276.00 still to be saved" in out


@pytest.mark.parametrize("by", ["kind", "customer", "month"])
def test_what_was_spent_on_leather_is_told_apart(tmp_path: Path, capsys: Captured, by: str) -> None:
    out = said(capsys, tmp_path, BACK_UNDER_A_NEW_TAG, "cost", "--by", by)
    assert "leather H9 came in tanned: $20.00 spent on it, in no figure of a hide" in out


def test_a_skin_that_came_back_is_named_as_the_one_that_it_was(tmp_path: Path, capsys: Captured) -> None:
    out = said(capsys, tmp_path, BACK_UNDER_A_NEW_TAG, "cost", "--by", "hide")
    assert "H9 $20.00, cape, was H1, tanned here before, ready" in out


def test_tanning_is_not_charged_twice_and_what_was_asked_for_is(tmp_path: Path, capsys: Captured) -> None:
    lines = f"{BACK_UNDER_A_NEW_TAG}2026-11-13 12:01 H9 charged $12 seam\n"
    out = said(capsys, tmp_path, lines, "owed", "H9")
    assert "tanned here before as H1, and not charged again: $0.00 seam: $12.00 repair: $25.00 left $37.00" in out
    assert "rush: $15.00 left $115.00" in out  # the first time, and not again


def test_a_price_agreed_for_the_repair_is_its_price(tmp_path: Path, capsys: Captured) -> None:
    lines = "2026-11-12 12:00 H2 in\n2026-11-13 12:01 H2 charged $40\n2026-11-14 10:00 H2 out to Oren Vale\n"
    out = said(capsys, tmp_path, lines, "owed", "Oren Vale")
    assert "as agreed: $40.00 left $40.00" in out
    assert "untanned" not in out
    assert out.count("elk cape, 14 lb green at $9.00 per lb: $126.00") == 1


def test_leather_of_another_shop_is_not_charged_for_tanning(tmp_path: Path, capsys: Captured) -> None:
    out = said(capsys, tmp_path, FROM_ELSEWHERE, "owed", "Ida Crane")
    assert "leather when it came in, and what is done to it has no price; write it, `H9 charged $25 repair`" in out
    assert "cape: $100.00" not in out
    out = said(capsys, tmp_path, FROM_ELSEWHERE.replace(", tanned", ", tanned, repair"), "owed", "Ida Crane")
    assert "no tanning is charged: $0.00 repair: $25.00 left $25.00" in out


def test_leather_of_another_shop_that_is_tanned_here_is_a_hide_and_charged(tmp_path: Path, capsys: Captured) -> None:
    lines = f"{FROM_ELSEWHERE}2026-11-13 12:00 H9 tan\n2026-11-14 12:00 H9 oiled\n"
    assert "over 3 hides that came through" in said(capsys, tmp_path, lines, "cost")
    assert "cape: $100.00" in said(capsys, tmp_path, lines, "owed", "Ida Crane")


def test_a_repair_that_went_back_is_no_skin_handed_back_untanned(tmp_path: Path, capsys: Captured) -> None:
    lines = "2026-11-12 12:00 H9 in, was H1\n2026-11-14 10:00 H9 out to Oren Vale\n"
    for ask in (("cost",), ("owed",), ("owed", "Oren Vale")):
        assert "untanned" not in said(capsys, tmp_path, lines, *ask)


def test_the_register_has_one_skin_that_came_in_twice(tmp_path: Path, capsys: Captured) -> None:
    out = said(capsys, tmp_path, BACK_UNDER_A_NEW_TAG, "custody", "--json")
    records = {one["tag"]: one for one in json.loads(out)["skins"]}
    first, again = records["H1"], records["H9"]
    for column in ("kind", "sex", "owner", "legal_tag", "killed", "tanning_began"):
        assert again[column] == first[column] != ""
    assert (again["was"], first["was"]) == ("H1", "")
    out = said(capsys, tmp_path, BACK_UNDER_A_NEW_TAG, "custody")
    assert "again came in 2026-11-12 as H9" in out
    assert "before here as H1 from 2026-11-02 to 2026-11-09" in out


def test_a_record_is_kept_until_the_skin_has_gone_for_the_last_time(tmp_path: Path, capsys: Captured) -> None:
    shop = "shop Fallow Creek Skins\n  records kept 5 y after out\n"
    (tmp_path / "shop.hides").write_text("", encoding="utf-8")
    kept = said(capsys, tmp_path, BACK_UNDER_A_NEW_TAG, "custody", "--json")
    assert json.loads(kept)["skins"][0]["keep_through"] == ""
    book = (tmp_path / "book.hides").read_text(encoding="utf-8").replace("shop Fallow Creek Skins\n", shop)
    gone = "2026-11-14 10:00 H9 out to Oren Vale\n"
    for more, through in (("", ""), (gone, "2031-11-14")):
        (tmp_path / "book.hides").write_text(book + more, encoding="utf-8")
        assert main(["custody", "--json", "--book", str(tmp_path), *AT]) == 0
        records = {one["tag"]: one for one in json.loads(capsys.readouterr().out)["skins"]}
        assert records["H1"]["keep_through"] == through
        assert records["H2"]["keep_through"] == "2031-11-09"


def test_leather_that_changed_hands_is_its_new_owners(tmp_path: Path, capsys: Captured) -> None:
    out = said(capsys, tmp_path, "2026-11-12 12:00 H9 in, was H1, for Pell Vale\n", "custody", "--json")
    again = next(one for one in json.loads(out)["skins"] if one["tag"] == "H9")
    assert (again["owner"], again["job_for"], again["kind"]) == ("Pell Vale", "Pell Vale", "cape")
    said(capsys, tmp_path, "2026-11-12 12:00 H9 in, was H1, for Pell Vale\n", "check")


def test_the_year_says_which_of_those_that_came_in_had_been_here_before(tmp_path: Path, capsys: Captured) -> None:
    out = said(capsys, tmp_path, BACK_UNDER_A_NEW_TAG, "custody", "--year", "2026")
    assert "came in 3: H1 H2 H9 of these again 1: H9, here before" in out
    assert "0 here + 3 in = 3; 2 out + 0 lost + 0 refused + 1 here at the end = 3" in out


def test_a_raw_skin_fetched_again_came_through_nowhere(tmp_path: Path, capsys: Captured) -> None:
    """Neither in `cost`, nor in `owed`, nor in `slip`: one notion of what is tanned."""
    lines = "2026-11-10 09:00 H3 in, cape, green, for Ida Crane\n2026-11-10 10:00 H3 fleshed\n2026-11-11 10:00 H3 out to Ida Crane\n"
    assert "handed back untanned H3" in said(capsys, tmp_path, lines, "cost")
    assert "Handed back untanned" in said(capsys, tmp_path, lines, "owed")
    assert "none of 2 skins slipped" in said(capsys, tmp_path, lines, "slip")


def test_the_parts_of_leather_that_came_back_are_leather_too(tmp_path: Path, capsys: Captured) -> None:
    lines = f"{BACK_UNDER_A_NEW_TAG}2026-11-14 10:00 H9 cut into H9a cape, H9b back\n"
    assert "over 2 hides that came through" in said(capsys, tmp_path, lines, "cost")
    assert "none of 2 skins slipped" in said(capsys, tmp_path, lines, "slip")
    out = said(capsys, tmp_path, lines, "owed", "H9a")
    assert "cape: $100.00 rush: $15.00 left $115.00" in out
    assert out.count("$100.00") == 1


SENT = """2026-11-10 09:00 H30 in, cape, 7 lb, green, for Oren Vale, deposit $40, rush
2026-11-10 10:00 H30 sent to Harrow Tannery
"""


def test_a_skin_sent_away_to_be_tanned_is_one_job_with_its_price_and_its_deposit(
    tmp_path: Path, capsys: Captured
) -> None:
    """$100 and $15 less $40; and no hide that was tanned here."""
    lines = f"{SENT}2026-11-16 09:00 H30 in, tanned\n"
    out = said(capsys, tmp_path, lines, "owed", "Oren Vale")
    assert "cape: $100.00 rush: $15.00 deposit Tue 10 Nov: -$40.00" in out and "left $75.00" in out
    assert "back since, sent to Harrow Tannery Tue 10 Nov" in out
    assert "settle" not in out
    assert "over 2 hides that came through" in said(capsys, tmp_path, lines, "cost")


def test_a_skin_that_its_customer_had_tanned_elsewhere_is_another_job(tmp_path: Path, capsys: Captured) -> None:
    lines = f"{SENT}2026-11-16 09:00 H30 in, tanned\n".replace("sent to Harrow Tannery", "out to Oren Vale")
    assert "$40.00 to settle by word" in said(capsys, tmp_path, lines, "owed", "Oren Vale")


def test_the_cape_of_an_elk_cape_is_elk(tmp_path: Path, capsys: Captured) -> None:
    lines = "2026-11-10 09:00 H30 in, elk cape, 20 lb, green, for Ida Crane\n2026-11-10 10:00 H30 cut into H30a cape, H30b back\n"
    out = said(capsys, tmp_path, lines, "custody", "--json")
    assert {one["kind"] for one in json.loads(out)["skins"] if one["tag"].startswith("H30")} == {"elk cape"}


def test_the_export_points_to_the_skin_that_it_was(tmp_path: Path, capsys: Captured) -> None:
    (tmp_path / "book.hides").write_text(SHOP + BACK_UNDER_A_NEW_TAG, encoding="utf-8")
    assert main(["export", str(tmp_path), *AT]) == 0
    rows = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    hides = {row["tag"]: row for row in rows if row["record"] == "hides"}
    assert hides["H9"]["was"] == hides["H1"]["id"]
    assert hides["H1"]["was"] is None
    assert (hides["H9"]["kind"], hides["H9"]["job_for"], hides["H9"]["legal_tag"]) == ("cape", "Oren Vale", "40718")
