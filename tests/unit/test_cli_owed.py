"""`owed`: the bill of a customer, the line to read out on the telephone, and the list of what waits to be fetched."""

from __future__ import annotations

import json
import re
import shlex
from pathlib import Path

import pytest

from hideledger.cli import main

Captured = pytest.CaptureFixture[str]

SHOP = """\
shop Fallow Creek Skins
  zone America/Chicago
  hours 8:00 to 18:00, Mon to Sat
  gallons US
customer Oren Vale, phone 555-0142
vessel V1, vat, 40 gal
kind whitetail cape or cape, process tub
kind elk cape, process tub
kind black bear, process tub
kind coyote, process tub
charge cape, $92, $15 rush, $10 ears turned
charge cape, $99, since 2027-01-01
charge elk cape, $9 per lb
charge black bear, $18 per sqft
charge storage, $2 per d, free for 7 d
charge horns boiled, $25
process tub
  in
  ears turned  optional
  pickle       stays at least 3 d
  out

"""
READY = """\
2026-11-02 08:10 H41 in, whitetail cape, 7 1/2 lb, green, for Oren Vale, deposit $50
2026-11-02 09:00 H41 pickle"""
AT = ("--at", "2026-11-09 12:00")


def book(folder: Path, lines: str, shop: str = SHOP) -> str:
    """A book of one page; its folder."""
    (folder / "book.hides").write_text(f"{shop}{lines}\n", encoding="utf-8")
    return str(folder)


def said(capsys: Captured, *words: str) -> str:
    """The sheet, its folded lines made one."""
    assert main(["owed", *words]) == 0
    return " ".join(capsys.readouterr().out.split())


def bill(capsys: Captured, *words: str) -> dict[str, dict[str, object]]:
    """The hides of one customer's bill for a program, by tag."""
    assert main(["owed", "--json", *words]) == 0
    return {hide["tag"]: hide for hide in json.loads(capsys.readouterr().out)["hides"]}


def left(folder: Path, capsys: Captured, lines: str, tag: str = "H41", at: str = "2026-11-09 12:00") -> object:
    """What is still to be paid for one hide of Oren Vale."""
    return bill(capsys, "Oren", "Vale", "--book", book(folder, lines), "--at", at)[tag]["left"]


def test_the_first_line_can_be_read_out_to_who_calls(tmp_path: Path, capsys: Captured) -> None:
    lines = READY + "\n2026-11-09 08:00 H44 in, cape, for Oren Vale, promised 2026-11-20\n2026-11-09 08:30 H44 pickle"
    assert main(["owed", "oren", "vale", "--book", book(tmp_path, lines), *AT]) == 0
    first = capsys.readouterr().out.split("\n")[0]
    assert first == (
        "Oren Vale: H41 ready since Thu 5 Nov; H44 pickle, promised Fri 20 Nov, not before Thu 12 Nov; "
        "owes $42.00 for what is ready or fetched, $134.00 when all is done"
    )


def test_no_day_on_which_the_shop_is_shut_is_named_to_who_calls(tmp_path: Path, capsys: Captured) -> None:
    """The three days of pickle end on Thursday 12 November; shut then and on Friday, it is Saturday."""
    lines = READY + "\n2026-11-09 08:00 H44 in, cape, for Oren Vale, promised 2026-11-20\n2026-11-09 08:30 H44 pickle"
    shop = SHOP.replace("Mon to Sat", "Mon to Sat\n  closed 2026-11-12 to 2026-11-13", 1)
    assert main(["owed", "oren", "vale", "--book", book(tmp_path, lines, shop), *AT]) == 0
    assert "promised Fri 20 Nov, not before Sat 14 Nov;" in capsys.readouterr().out.split("\n")[0]


def test_a_bill_lists_price_deposit_and_what_is_left(tmp_path: Path, capsys: Captured) -> None:
    told = said(capsys, "Oren", "Vale", "--book", book(tmp_path, READY), *AT)
    assert "phone 555-0142" in told
    assert "cape: $92.00 deposit Mon 2 Nov: -$50.00 (" in told
    assert "left $42.00" in told
    assert "charged $92.00 paid $50.00" in told


@pytest.mark.parametrize("words", [["oren", "vale"], ["Vale"], ["h41"], ["R-101"], ["40718"]])
def test_a_customer_is_found_by_name_tag_or_another_shops_tag(
    words: list[str], tmp_path: Path, capsys: Captured
) -> None:
    where = book(tmp_path, READY + "\n2026-11-02 10:00 H41 their tag R-101, tag 40718")
    assert said(capsys, *words, "--book", where, *AT).startswith("Oren Vale: H41 ready")


def test_who_is_not_there_is_answered_with_who_is_near(tmp_path: Path, capsys: Captured) -> None:
    where = book(tmp_path, READY + "\n2026-11-02 10:00 H50 in, cape")
    for words, answer in (
        (["Orin", "Vale"], "Orin Vale is not in the book; Oren Vale is"),
        (["Orin"], "Orin is not in the book; Oren Vale is"),
        (["H50"], "H50: for nobody named; write `H50 for NAME`"),
    ):
        assert main(["owed", *words, "--book", where, *AT]) == 1
        assert answer in capsys.readouterr().err


def test_extras_are_charged_by_a_word_a_step_or_a_line_of_their_own(tmp_path: Path, capsys: Captured) -> None:
    """$92 and $15 rush, $10 for the ears, $25 for the horns, less $50."""
    assert left(tmp_path, capsys, READY.replace("green,", "green, rush,")) == "57.00"
    ears = READY.replace("2026-11-02 09:00", "2026-11-02 08:50 H41 ears turned\n2026-11-02 09:00")
    assert left(tmp_path, capsys, ears) == "52.00"
    assert left(tmp_path, capsys, f"{READY}\n2026-11-02 09:00 H41 charged $20 horns boiled") == "62.00"
    assert left(tmp_path, capsys, READY.replace("green,", "green, horns boiled,")) == "67.00"


def test_an_agreed_price_stands_in_for_the_list(tmp_path: Path, capsys: Captured) -> None:
    assert left(tmp_path, capsys, f"{READY}\n2026-11-03 09:00 H41 charged $80") == "30.00"


def test_the_price_is_that_of_the_day_it_came_in(tmp_path: Path, capsys: Captured) -> None:
    later = READY.replace("2026-11-02", "2027-01-04")
    assert left(tmp_path, capsys, later, at="2027-01-09 12:00") == "49.00"


def test_by_the_pound_and_by_the_square_foot(tmp_path: Path, capsys: Captured) -> None:
    """15 lb at $9 are $135; 6 ft by 4 ft are 24 square feet, at $18 $432."""
    lines = """\
2026-11-09 08:00 H43 in, elk cape, 15 lb, green, for Oren Vale
2026-11-09 08:01 H44 in, black bear, for Oren Vale
2026-11-09 08:02 H44 length 6 ft, width 48 in
2026-11-09 08:03 H45 in, black bear, for Oren Vale
2026-11-09 08:04 H46 in, coyote, for Oren Vale"""
    hides = bill(capsys, "Oren", "Vale", "--book", book(tmp_path, lines), *AT)
    assert (hides["H43"]["left"], hides["H44"]["left"]) == ("135.00", "432.00")
    told = said(capsys, "Oren", "Vale", "--book", str(tmp_path), *AT)
    assert "elk cape, 15 lb green at $9.00 per lb: $135.00" in told
    assert "black bear at $18.00 per sqft: no length and width is written: not reckoned" in told
    assert "no price for coyote: not reckoned" in told
    assert "the sum when all is done is not known yet, H45 H46 not reckoned; without them owes $567.00" in told


def test_storage_counts_after_the_free_days_until_it_is_fetched(tmp_path: Path, capsys: Captured) -> None:
    """Ready on the 5th, free for 7 days: on the 15th 3 days are charged, and no more once it is fetched on the 14th."""
    assert left(tmp_path, capsys, READY, at="2026-11-12 12:00") == "42.00"
    assert left(tmp_path, capsys, READY, at="2026-11-15 12:00") == "48.00"
    fetched = f"{READY}\n2026-11-14 09:00 H41 out to Oren Vale"
    assert left(tmp_path, capsys, fetched, at="2026-12-15 12:00") == "46.00"


@pytest.mark.parametrize(
    ("price", "owing"),
    [
        ("$2 per day, free for 7 days", "48.00"),
        ("$5 per week", "47.00"),
        ("$9 per mo", "42.00"),
        ("$1 per 2 d", "47.00"),
    ],
)
def test_storage_by_the_day_the_week_and_the_month(price: str, owing: str, tmp_path: Path, capsys: Captured) -> None:
    """Ten days lie between the 5th and the 15th: one whole week, no month, five times two days."""
    shop = SHOP.replace("$2 per d, free for 7 d", price)
    where = book(tmp_path, READY, shop)
    assert bill(capsys, "Oren", "Vale", "--book", where, "--at", "2026-11-15 12:00")["H41"]["left"] == owing


def test_a_price_by_the_pound_in_other_words(tmp_path: Path, capsys: Captured) -> None:
    """15 lb at $9 for two pounds are $67.50."""
    lines = "2026-11-09 08:00 H43 in, elk cape, 15 lb, green, for Oren Vale"
    for price, owing in (("$9 per pound", "135.00"), ("$9 per 2 lb", "67.50")):
        where = book(tmp_path, lines, SHOP.replace("$9 per lb", price))
        assert bill(capsys, "Oren", "Vale", "--book", where, *AT)["H43"]["left"] == owing


def test_what_was_paid_for_several_together_counts_for_the_customer(tmp_path: Path, capsys: Captured) -> None:
    lines = (
        READY
        + "\n2026-11-02 08:11 H42 in, cape, for Oren Vale\n2026-11-02 09:00 H42 pickle\n2026-11-05 09:00 H41 H42 paid $100 by Pell Vale"
    )
    told = said(capsys, "Oren", "Vale", "--book", book(tmp_path, lines), *AT)
    assert told.startswith("Oren Vale: H41 H42 ready since Thu 5 Nov; owes $34.00")
    assert "H41 H42 paid by Pell Vale Thu 5 Nov: -$100.00" in told


def test_a_payment_without_a_hide_goes_to_who_paid(tmp_path: Path, capsys: Captured) -> None:
    lines = READY + "\n2026-11-05 09:00 paid $42.00 by oren vale"
    assert said(capsys, "Oren", "Vale", "--book", book(tmp_path, lines), *AT).startswith(
        "Oren Vale: H41 ready since Thu 5 Nov; owes nothing"
    )


def test_a_payment_that_fits_nobody_is_told(tmp_path: Path, capsys: Captured) -> None:
    lines = (
        READY
        + """
2026-11-02 08:11 H42 in, cape, for Ida Crane
2026-11-05 09:00 H41 H42 paid $100
2026-11-05 09:01 paid $7
2026-11-05 09:02 H41 paid £9"""
    )
    told = said(capsys, "--book", book(tmp_path, lines), *AT)
    assert "paid Thu 5 Nov: -$100.00" in told
    assert "paid for hides of several customers, and not said by whom" in told
    assert "paid by nobody named, for no hide that is for somebody" in told
    assert "£9.00 is other money than the shop's $" in told


def test_a_lost_hide_is_charged_nothing_and_its_deposit_is_settled_by_word(tmp_path: Path, capsys: Captured) -> None:
    where = book(tmp_path, f"{READY}\n2026-11-08 09:00 H41 lost -- slipped")
    told = said(capsys, "Oren", "Vale", "--book", where, *AT)
    assert told.startswith("Oren Vale: nothing here; owes nothing; $50.00 to settle by word")
    assert "To settle by word H41 lost Sun 8 Nov: $50.00 deposit Mon 2 Nov: -$50.00" in told
    assert "H41 cape, lost Sun 8 Nov: nothing charged" in told.replace("whitetail ", "")


def test_what_was_done_to_a_whole_is_charged_once_when_it_is_cut(tmp_path: Path, capsys: Captured) -> None:
    """One skin at $92, one rush at $15, less the deposit on the whole."""
    lines = READY.replace("green,", "green, rush,") + "\n2026-11-06 09:00 H41 cut into H41a cape, H41b cape"
    told = said(capsys, "Oren", "Vale", "--book", book(tmp_path, lines), *AT)
    assert "owes $57.00" in told
    assert told.count("rush: $15.00") == 1
    assert "H41b cape, ready since Thu 5 Nov one skin with H41a, and in its price: $0.00" in told.replace(
        "whitetail ", ""
    )


def test_all_customers_with_what_waits_and_what_is_unpaid(tmp_path: Path, capsys: Captured) -> None:
    lines = (
        READY
        + "\n2026-11-02 08:11 H42 in, cape, for Ida Crane\n2026-11-02 09:00 H42 pickle\n2026-11-06 09:00 H42 out to Ida Crane"
    )
    told = said(capsys, "--book", book(tmp_path, lines), *AT)
    assert told.startswith("Fallow Creek Skins, Mon 2026-11-09 12:00: $134.00 owed for what is ready or fetched")
    assert "To fetch Oren Vale H41, waiting 4 days, $42.00 unpaid" in told
    assert "Ida Crane owes $92.00 fetched H42, $92.00, the first Fri 6 Nov" in told


def test_names_nearly_alike_are_told_on_the_bill(tmp_path: Path, capsys: Captured) -> None:
    lines = READY + "\n2026-11-02 08:11 H42 in, cape, for Oren Vail"
    told = said(capsys, "Oren", "Vale", "--book", book(tmp_path, lines), *AT)
    assert "Oren Vail has a bill of its own; one customer, or two?" in told


def test_the_same_name_in_other_capitals_has_one_bill(tmp_path: Path, capsys: Captured) -> None:
    lines = READY + "\n2026-11-02 08:11 H42 in, cape, for OREN  vale"
    assert set(bill(capsys, "Oren", "Vale", "--book", book(tmp_path, lines), *AT)) == {"H41", "H42"}


def test_plain_begins_with_the_line_to_read_out(tmp_path: Path, capsys: Captured) -> None:
    assert main(["owed", "Vale", "--plain", "--book", book(tmp_path, READY), *AT]) == 0
    assert capsys.readouterr().out.split("\n")[0] == "Oren Vale: H41 ready since Thu 5 Nov; owes $42.00"


def test_the_evening_look_says_who_waits_and_what_is_unpaid(tmp_path: Path, capsys: Captured) -> None:
    where = book(tmp_path, READY.replace("green,", "green, rush,"))
    assert main(["floor", where, *AT]) in (0, 1)
    told = " ".join(capsys.readouterr().out.split())
    assert "Oren Vale to fetch: H41, waiting 4 days" in told
    assert "Oren Vale unpaid: H41, $57.00 of $107.00, finished" in told


def test_the_readme_shows_what_is_printed(capsys: Captured, monkeypatch: pytest.MonkeyPatch) -> None:
    """A part of the answer, to the letter."""
    root = Path(__file__).resolve().parents[2]
    monkeypatch.chdir(root)
    readme = (root / "README.md").read_text(encoding="utf-8")
    (shown,) = re.findall(r"^```text owed\n\$ hideledger (.*?)\n(.*?)^```", readme, re.DOTALL | re.MULTILINE)
    assert main(shlex.split(shown[0])) == 0
    assert shown[1] in capsys.readouterr().out
