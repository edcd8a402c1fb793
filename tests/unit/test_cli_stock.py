"""`stock`: what lies on the shelf, how long it lasts, what it is worth, and where a lot went."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from hideledger.cli import main
from hideledger.cli.moment import instant_of
from hideledger.reading import read_text
from hideledger.rules.onhand import on_hand
from hideledger.shopfloor.layout import lay_out

Captured = pytest.CaptureFixture[str]

SHOP = """\
shop Fallow Creek Skins
  zone America/Chicago
  hours 8:00 to 18:00, Mon to Sat
  gallons US
vessel V1, vat, 40 gal
measure dipper, 350 ml
supply salt, $0.20 per lb, keep 60 lb, comes in 3 d
supply citric acid or citric, 7.6 lb per gal
supply oil, $8.00 per qt
supply soda ash
kind cape
recipe pickle
  per gal water: 1 lb salt
process both
  in
  salt    optional
  pickle  optional
  out

"""


def book(folder: Path, lines: str, shop: str = SHOP) -> str:
    """A book of one page; its folder."""
    (folder / "book.hides").write_text(f"{shop}{lines}\n", encoding="utf-8")
    return str(folder)


def said(capsys: Captured, *words: str, code: int = 0) -> str:
    """The sheet, its folded lines made one."""
    assert main(["stock", *words]) == code
    return " ".join(capsys.readouterr().out.split())


def record(capsys: Captured, *words: str) -> dict[str, dict[str, object]]:
    """The supplies of the sheet for a program, by name."""
    assert main(["stock", "--json", *words]) == 0
    found = json.loads(capsys.readouterr().out)
    return {one["supply"]: one for one in found["supplies"]}


WEEK = """\
2026-11-02 08:00 bought 200 lb salt lot S-113, $38.00
2026-11-02 08:01 bought 25 lb citric acid lot C-31, $58.75, expires 2026-11-20
2026-11-02 08:10 H1 H2 in, cape
2026-11-02 08:31 H1 H2 salt, 8 lb salt lot S-113
2026-11-02 09:00 P3 mixed in V1, 20 gal water, 20 lb salt lot S-113, 60 oz citric lot C-31
2026-11-03 09:00 H1 H2 pickle in P3
2026-11-04 09:00 P3 add 1 gal citric acid lot C-31
2026-11-09 10:30 used 30 lb salt -- to the smokehouse
2026-11-10 10:30 counted 130 lb salt"""
AT = ("--at", "2026-11-10 12:00")


def test_what_is_bought_used_put_into_baths_and_counted(tmp_path: Path, capsys: Captured) -> None:
    """By hand: 200 - 8 - 20 - 30 is 142 lb, of which 130 were counted; 25 lb - 60 oz - one gallon of 7.6 lb is 13.65 lb."""
    told = said(capsys, "--book", book(tmp_path, WEEK), *AT)
    assert "salt 130 lb, keep 60 lb, worth $24.70" in told
    assert "counted Tue 10 Nov: 12 lb gone that no line tells of" in told
    assert "citric acid 13.65 lb, worth $32.08" in told
    assert "citric acid lot C-31 Fri 20 Nov, in 10 days: 13.65 lb left" in told


def test_the_pace_says_over_which_days_it_was_taken(tmp_path: Path, capsys: Captured) -> None:
    """58 lb in nine days are 6.44 lb a day; 130 lb last twenty of those."""
    told = said(capsys, "--book", book(tmp_path, WEEK), *AT)
    assert "lasts 20 days at 6.44 lb a day over the 9 days since Mon 2 Nov" in told
    early = said(capsys, "--book", str(tmp_path), "--at", "2026-11-05 12:00")
    assert "not said: under a week is written of it" in early


def test_a_lot_names_its_baths_and_the_skins_in_them(tmp_path: Path, capsys: Captured) -> None:
    told = said(capsys, "lot", "s-113", "--book", book(tmp_path, WEEK), *AT)
    assert told.startswith("Salt lot S-113,")
    assert "P3 20 lb, mixed 2026-11-02 09:00; skins H1 H2" in told
    assert "H1 4 lb H2 4 lb" in told
    assert said(capsys, "salt", "lot", "S-113", "--book", str(tmp_path), *AT) == told


def test_a_supply_is_found_by_its_other_name(tmp_path: Path, capsys: Captured) -> None:
    told = said(capsys, "citric", "--book", book(tmp_path, WEEK), *AT)
    assert "into P3 7.6 lb, left 13.65 lb: P3 add 1 gal citric acid lot C-31 (" in told


def test_what_is_in_no_book_is_answered_with_what_is_near(tmp_path: Path, capsys: Captured) -> None:
    assert main(["stock", "S-131", "--book", book(tmp_path, WEEK), *AT]) == 1
    heard = capsys.readouterr()
    assert heard.out == ""
    assert "S-131 is no supply and no lot of the book; S-113 is" in heard.err
    assert main(["stock", "soda", "ash", "--book", str(tmp_path), *AT]) == 1
    assert "nothing is written of soda ash yet" in capsys.readouterr().err


def test_nothing_is_ever_less_than_nothing_without_a_word(tmp_path: Path, capsys: Captured) -> None:
    lines = "2026-11-02 08:00 bought 5 lb salt lot S-1, $1.00\n2026-11-03 08:00 used 8 lb salt lot S-1"
    told = said(capsys, "--book", book(tmp_path, lines), "--at", "2026-11-03 12:00")
    assert "salt 0 lb, keep 60 lb" in told
    assert "3 lb more of lot S-1 was taken than had come in" in told
    again = f"{lines}\n2026-11-04 08:00 counted 70 lb salt"
    told = said(capsys, "--book", book(tmp_path, again), "--at", "2026-11-04 12:00")
    assert "was taken than had come in" not in told  # a count settles it
    assert "70 lb more than was written" in told


def test_a_lot_that_came_without_its_number_is_taken_from_what_has_none(tmp_path: Path, capsys: Captured) -> None:
    lines = "2026-11-02 08:00 bought 80 lb salt\n2026-11-03 08:00 used 8 lb salt lot S-1"
    told = said(capsys, "--book", book(tmp_path, lines), "--at", "2026-11-03 12:00")
    assert "salt 72 lb" in told
    assert "more" not in told


def test_a_measure_that_cannot_be_weighed_is_told_and_not_dropped(tmp_path: Path, capsys: Captured) -> None:
    lines = "2026-11-02 08:00 bought 80 lb salt\n2026-11-03 08:00 used 1 gal salt\n2026-11-03 08:05 counted 4 salt"
    told = said(capsys, "--book", book(tmp_path, lines), "--at", "2026-11-03 12:00")
    assert (
        "Not reckoned 1 gal salt a volume, and salt is kept by weight; a line such as `7.6 lb per gal` would say"
        in told
    )
    assert "4 each salt no weight and no volume is written" in told
    assert "salt 80 lb" in told


def test_a_dipper_is_what_the_shop_says(tmp_path: Path, capsys: Captured) -> None:
    """350 ml are 0.3698 US quarts (NIST Handbook 44: a quart is 0.946352946 L), so that two quarts less two dippers are 1.26."""
    lines = "2026-11-02 08:00 bought 2 qt oil, $16.00\n2026-11-03 08:00 L1 mixed, 9 qt water, 2 dippers oil"
    oil = record(capsys, "--book", book(tmp_path, lines), "--at", "2026-11-03 12:00")["oil"]
    assert (oil["on_hand"], oil["unit"], oil["worth"]) == ("1.26", "qt", "10.08")


def test_what_came_on_a_day_without_a_time_was_there_for_that_day(tmp_path: Path, capsys: Captured) -> None:
    lines = "2026-11-02 08:00 used 8 lb salt\n2026-11-02 bought 80 lb salt"
    assert record(capsys, "--book", book(tmp_path, lines), "--at", "2026-11-02 12:00")["salt"]["on_hand"] == "72"


def test_a_price_behind_two_things_belongs_to_neither(tmp_path: Path, capsys: Captured) -> None:
    lines = "2026-11-02 08:00 bought 50 lb citric acid, 3 lb soda ash, $20.00"
    told = said(capsys, "--book", book(tmp_path, lines), "--at", "2026-11-02 12:00")
    assert "citric acid 50 lb, no price known" in told
    assert told.count("one price stands behind several things bought, and counts for none of them") == 2
    lines = "2026-11-02 08:00 bought 50 lb citric acid, $100.00, 3 lb soda ash, $20.00"
    told = said(capsys, "--book", book(tmp_path, lines), "--at", "2026-11-02 12:00")
    assert "citric acid 50 lb, worth $100.00" in told
    assert "soda ash 3 lb, worth $20.00" in told


def test_a_bath_by_its_recipe_alone_took_nothing_and_is_named(tmp_path: Path, capsys: Captured) -> None:
    lines = "2026-11-02 08:00 bought 80 lb salt\n2026-11-02 08:00 P3 mixed in V1, recipe pickle, 20 gal water"
    told = said(capsys, "--book", book(tmp_path, lines), "--at", "2026-11-02 12:00")
    assert "P3: mixed by a recipe and no amounts written, so that nothing was taken from the shelf" in told


def test_a_line_written_twice_takes_once(tmp_path: Path, capsys: Captured) -> None:
    lines = "2026-11-02 08:00 bought 80 lb salt\n2026-11-02 09:00 P3 mixed in V1, 20 gal water, 20 lb salt"
    twice = lines + "\n2026-11-02 09:00 P3 mixed in V1, 20 gal water, 20 lb salt"
    for page in (lines, twice):
        assert record(capsys, "--book", book(tmp_path, page), "--at", "2026-11-02 12:00")["salt"]["on_hand"] == "60"


def test_a_machine_is_no_supply(tmp_path: Path, capsys: Captured) -> None:
    told = said(capsys, "--book", book(tmp_path, "2026-11-02 08:00 bought 1 drum, $980.00"), "--at", "2026-11-02 12:00")
    assert "Bought by the piece, and not used up 1 drum $980.00, Mon 2 Nov" in told


def test_the_figures_of_the_textbook_come_out_of_a_book(tmp_path: Path, capsys: Captured) -> None:
    """OpenStax, Principles of Accounting, volume 1: first in first out leaves 8,955, the moving average 8,902.06."""
    for lots, worth in ((True, "8955.00"), (False, "8902.06")):
        lot = [f" lot J-{number}" if lots else "" for number in (1, 2, 3)]
        lines = f"""\
2026-07-01 08:00 bought 150 lb salt{lot[0]}, $3150.00
2026-07-05 08:00 used 120 lb salt
2026-07-10 08:00 bought 225 lb salt{lot[1]}, $6075.00
2026-07-15 08:00 used 180 lb salt
2026-07-25 08:00 bought 210 lb salt{lot[2]}, $6930.00"""
        salt = record(capsys, "--book", book(tmp_path, lines), "--at", "2026-07-26 12:00")["salt"]
        assert (salt["on_hand"], salt["worth"]) == ("285", worth)


def test_an_empty_book_says_how_to_begin(tmp_path: Path, capsys: Captured) -> None:
    told = said(capsys, "--book", book(tmp_path, ""), "--at", "2026-11-02 12:00")
    assert "nothing is written of the shelf; what comes in is `bought 50 lb salt, $9.50`" in told


def test_every_line_of_plain_stands_by_itself(tmp_path: Path, capsys: Captured) -> None:
    assert main(["stock", "--plain", "--book", book(tmp_path, WEEK), *AT]) == 0
    out = capsys.readouterr().out
    assert "salt\t130 lb, keep 60 lb, worth $24.70\t20 days at 6.44 lb a day over the 9 days since Mon 2 Nov\n" in out


def test_on_hand_tells_others_what_lies_there() -> None:
    read = read_text(f"{SHOP}{WEEK}\n")
    floor = lay_out(read, instant_of("2026-11-10 12:00", read.clock))
    assert {name: str(amount) for name, amount in on_hand(floor).items()} == {
        "salt": "130 lb",
        "citric acid": "13.65 lb",
    }


def test_a_supply_of_which_no_line_can_be_reckoned_hides_nothing(tmp_path: Path, capsys: Captured) -> None:
    told = said(
        capsys,
        "--book",
        book(tmp_path, "2026-11-02 08:00 bought 2 gal salt, $20.00\n2026-11-02 08:01 bought 3 lb citric acid"),
        *AT,
    )
    assert "2 gal salt a volume, and salt is kept by weight" in told
    assert "citric acid 3 lb" in told


PAST = "2026-11-02 08:00 bought 5 lb citric acid lot C-1, $12.00, expires 2026-11-09"


def test_a_lot_past_its_date_is_thrown_out_by_a_line_that_says_where_it_went(tmp_path: Path, capsys: Captured) -> None:
    advice = "if it is thrown out write `used 5 lb citric acid lot C-1 -- thrown out`"
    assert advice in said(capsys, "--book", book(tmp_path, PAST), *AT)
    done = f"{PAST}\n2026-11-10 10:00 used 5 lb citric acid lot C-1 -- thrown out"
    assert "lot past its date" not in said(capsys, "--book", book(tmp_path, done), *AT)
    assert "used 5 lb: used 5 lb citric acid lot C-1 -- thrown out (" in said(
        capsys, "C-1", "--book", str(tmp_path), *AT
    )


def test_the_rest_of_a_rounded_amount_is_nothing(tmp_path: Path, capsys: Captured) -> None:
    """A third of a pound is shown as 0.333 lb; when that much of it is written as thrown out, nothing is left and nothing was taken too much."""
    for line, told in (("used 1.667 lb", "3.333 lb"), ("used 1.666667 lb", "3.333 lb")):
        lines = f"{PAST}\n2026-11-09 09:00 {line} citric acid lot C-1"
        assert f"citric acid {told}" in said(capsys, "--book", book(tmp_path, lines), *AT)
        gone = f"{lines}\n2026-11-10 10:00 used {told} citric acid lot C-1 -- thrown out"
        after = said(capsys, "--book", book(tmp_path, gone), *AT)
        assert "lot past its date" not in after
        assert "had come in" not in after
        assert "lots C-1" not in after


def test_purchases_of_one_day_are_used_up_in_the_order_of_the_page(capsys: Captured, tmp_path: Path) -> None:
    """First in, first out: the first has an hour and the second has none; 10 lb are gone of the first, at $0.20."""
    lines = (
        "2026-11-02 09:00 bought 100 lb salt lot S-1, $20\n2026-11-02 bought 100 lb salt lot S-2, $30\n"
        "2026-11-05 counted 190 lb salt"
    )
    told = said(capsys, book(tmp_path, lines), "--at", "2026-11-06 12:00")
    assert "lots S-1 90 lb, S-2 100 lb" in told
    assert "worth $48.00" in told
