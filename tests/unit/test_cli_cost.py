"""`cost`: materials shared out, work by the shop's minutes, lost hides carried by the others, and what sending out would have cost."""

from __future__ import annotations

import json
import re
import shlex
from fractions import Fraction
from pathlib import Path

import pytest

from hideledger.answers.cost.hides import costs
from hideledger.cli import main
from hideledger.cli.moment import instant_of
from hideledger.model.book import Book
from hideledger.reading import read_book, read_text
from hideledger.rules.onhand import Holding, list_price
from hideledger.shopfloor.layout import lay_out

Captured = pytest.CaptureFixture[str]
SAMPLES = Path(__file__).resolve().parents[2] / "sample_ledgers"

SHOP = """\
shop Fallow Creek Skins
  zone America/Chicago
  gallons US
vessel V1, vat, 40 gal
vessel D1, drum, 19 gal
supply salt
supply oil, $8.00 per qt
supply soda ash
kind cape, process both
kind elk cape, counts 3, process both
sent out, $58 per hide, $31 freight
sent out elk cape, $6 per lb, $31 freight
process both
  in
  fleshed   takes 20 min
  salt      optional
  pickle    stays at least 4 d, optional
  oiled     optional
  out

"""
WAGE = SHOP.replace("  gallons US\n", "  gallons US\n  labour $24 per h\n")
# 10 lb of salt for $2.00 in P1, shared by H1 of 6 lb and H2 of 4 lb; a pound of it on each of them.
LINES = """\
2026-11-02 08:00 bought 100 lb salt, $20.00
2026-11-02 08:10 H1 in, cape, 6 lb, for Oren Vale, tag 40718
2026-11-02 08:11 H2 in, cape, 4 lb, for Ida Crane
2026-11-02 08:20 H1 H2 fleshed
2026-11-02 08:30 H1 H2 salt, 2 lb salt
2026-11-02 09:00 P1 mixed in V1, 20 gal water, 10 lb salt
2026-11-03 09:00 H1 H2 pickle in P1"""
OUT = "\n2026-11-06 09:00 H1 out to Oren Vale\n2026-11-06 09:05 H2 out to Ida Crane"
AT = ("--at", "2026-11-06 12:00")


def book(folder: Path, lines: str, shop: str = SHOP) -> str:
    """A book of one page; its folder."""
    (folder / "book.hides").write_text(f"{shop}{lines}\n", encoding="utf-8")
    return str(folder)


def said(capsys: Captured, *words: str) -> str:
    """The sheet, its folded lines made one."""
    assert main(["cost", *words]) == 0
    return " ".join(capsys.readouterr().out.split())


def record(capsys: Captured, *words: str) -> dict[str, dict[str, object]]:
    """The hides of the sheet for a program, by tag."""
    assert main(["cost", "--json", *words]) == 0
    return {one["tag"]: one for one in json.loads(capsys.readouterr().out)["hides"]}


def test_a_bath_is_shared_by_the_weights_that_went_into_it(tmp_path: Path, capsys: Captured) -> None:
    """Of $2.00 of salt 6 lb of 10 carry $1.20 and 4 lb $0.80; the pound on each is $0.20."""
    hides = record(capsys, "--book", book(tmp_path, LINES + OUT), *AT)
    assert {tag: one["materials"] for tag, one in hides.items()} == {"H1": "1.40", "H2": "1.00"}
    told = said(capsys, "H1", "--book", str(tmp_path), *AT)
    assert "salt $1.20, its share of P1 by weight (the whole bath $2.00 so far, it still stands)" in told
    assert "salt $0.20, used on it" in told


def test_by_counts_where_one_was_never_weighed_and_it_is_said(tmp_path: Path, capsys: Captured) -> None:
    """An elk that counts 3 and a cape: three quarters and one quarter of $2.00."""
    lines = LINES.replace("H1 in, cape, 6 lb", "H1 in, elk cape").replace("H1 H2 salt, 2 lb salt", "H1 H2 salt")
    hides = record(capsys, "--book", book(tmp_path, lines + OUT), *AT)
    assert {tag: one["materials"] for tag, one in hides.items()} == {"H1": "1.50", "H2": "0.50"}
    assert hides["H1"]["shared_by_counts"] == ["P1"]
    assert "P1 was shared by counts, since a skin in it was never weighed" in said(capsys, "--book", str(tmp_path), *AT)


def test_work_counts_only_where_the_shop_states_it(tmp_path: Path, capsys: Captured) -> None:
    """20 minutes at $24 an hour are $8.00."""
    assert record(capsys, "--book", book(tmp_path, LINES + OUT), *AT)["H1"]["work"] is None
    assert "work: the shop file states how long steps take, and no wage; `labour $24 per h` under shop" in said(
        capsys, "--book", str(tmp_path), *AT
    )
    hides = record(capsys, "--book", book(tmp_path, LINES + OUT, WAGE), *AT)
    assert (hides["H1"]["work"], hides["H1"]["total"]) == ("8.00", "9.40")
    told = said(capsys, "H1", "--book", str(tmp_path), *AT)
    assert "work $8.00, 20 min" in told
    assert "work at salt and pickle, which have no `takes` in the process; and work on a bath" in told


def test_a_lost_hide_is_carried_by_those_that_came_through(tmp_path: Path, capsys: Captured) -> None:
    lines = f"{LINES}\n2026-11-06 09:00 H1 out to Oren Vale\n2026-11-06 09:05 H2 lost -- slipped"
    hides = record(capsys, "--book", book(tmp_path, lines), *AT)
    assert (hides["H1"]["materials"], hides["H1"]["lost_hides"], hides["H1"]["total"]) == ("1.40", "1.00", "2.40")
    assert hides["H2"]["lost_hides"] == "0.00"
    told = said(capsys, "--book", str(tmp_path), *AT)
    assert "cape 1 hide at $2.40 each, $2.40 materials $1.40, its part of the lost ones $1.00 lost H2: $1.00" in told


def test_lost_hides_wait_until_something_came_through(tmp_path: Path, capsys: Captured) -> None:
    told = said(capsys, "--book", book(tmp_path, f"{LINES}\n2026-11-06 09:05 H2 lost -- slipped"), *AT)
    assert "none came through so far" in told
    assert "$1.00 for lost hides: nothing came through yet that could carry it" in told


def test_what_has_no_price_is_named_and_not_taken_as_nothing(tmp_path: Path, capsys: Captured) -> None:
    lines = LINES + "\n2026-11-04 09:00 P1 add 3 oz soda ash" + OUT
    told = said(capsys, "--book", book(tmp_path, lines), *AT)
    assert "2 hides at $1.20 each, $2.40 at the least, since soda ash has no price" in told
    assert "soda ash: no price is known; write it where it is bought" in told
    assert record(capsys, "--book", str(tmp_path), *AT)["H1"]["without_price"] == ["soda ash"]


def test_the_list_price_stands_in_where_nothing_was_paid(tmp_path: Path, capsys: Captured) -> None:
    lines = LINES + "\n2026-11-04 09:00 L1 mixed in D1, 9 qt water, 1 qt oil\n2026-11-04 09:05 H1 oiled in L1" + OUT
    hides = record(capsys, "--book", book(tmp_path, lines), *AT)
    assert hides["H1"]["materials"] == "9.40"  # $8.00 of oil besides


def test_sending_out_and_when_the_machine_is_paid(tmp_path: Path, capsys: Captured) -> None:
    """Two hides at $1.20 against $89.00 each: $87.80 saved a hide, $175.60 so far; $980.00 is paid at the 12th (11.16)."""
    lines = "2026-11-01 08:00 bought 1 drum, $980.00\n" + LINES + OUT
    told = said(capsys, "--book", book(tmp_path, lines), *AT)
    assert "a hide here $1.20, over 2 hides that came through" in told
    assert "sent out $89.00 a hide, each sent by itself" in told
    assert "saved a hide $87.80 saved so far $175.60" in told
    assert "paid at 12 hides; 2 hides came through, $804.40 still to be saved" in told
    assert "of sending out: insurance, packing, the months of waiting, and hides lost there" in told
    cheap = lines.replace("$980.00", "$100.00")
    assert "paid at 2 hides; it is: 2 hides came through" in said(capsys, "--book", book(tmp_path, cheap), *AT)
    one = said(capsys, "H1", "--book", str(tmp_path), *AT)
    assert "saved so far $87.60" in one
    assert "paid at" not in one  # one hide says nothing of the machine


def test_a_kind_has_its_own_price_for_sending_out(tmp_path: Path, capsys: Captured) -> None:
    """$6 a pound of 6 lb and $31 freight: $67."""
    lines = (LINES + OUT).replace("H1 in, cape", "H1 in, elk cape")
    hides = record(capsys, "--book", book(tmp_path, lines), *AT)
    assert {tag: one["sent_out"] for tag, one in hides.items()} == {"H1": "67.00", "H2": "89.00"}


def test_what_costs_more_here_is_never_paid(tmp_path: Path, capsys: Captured) -> None:
    lines = "2026-11-01 08:00 bought 1 drum, $980.00\n" + LINES.replace("$20.00", "$2000000.00") + OUT
    told = said(capsys, "--book", book(tmp_path, lines), *AT)
    assert "never, at that: a hide costs here as much as sent out, or more" in told


@pytest.mark.parametrize(
    ("by", "rows"),
    [
        ("customer", "By customer Ida Crane 1 hide at $1.00 each"),
        ("month", "By the month in which they came in Nov 2026 2 hides at $1.20 each"),
        ("load", "By bath and load P1 in V1: $2.00 for 2 skins, $1.00 a skin, shared by weight; it still stands"),
        ("hide", "Hide by hide H1 $1.40, cape, out"),
    ],
)
def test_in_whatever_way_they_go_together(by: str, rows: str, tmp_path: Path, capsys: Captured) -> None:
    assert rows in said(capsys, "--by", by, "--book", book(tmp_path, LINES + OUT), *AT)


def test_by_a_name_a_legal_tag_or_a_bath(tmp_path: Path, capsys: Captured) -> None:
    where = book(tmp_path, LINES + OUT)
    for words in (["Oren", "Vale"], ["40718"], ["h1"]):
        assert set(record(capsys, *words, "--book", where, *AT)) == {"H1"}
    assert set(record(capsys, "P1", "--book", where, *AT)) == {"H1", "H2"}
    assert main(["cost", "Orin", "Vale", "--book", where, *AT]) == 1
    assert "Orin Vale is not in the book; Oren Vale is" in capsys.readouterr().err


def test_what_a_skin_took_before_it_was_cut_goes_on_in_its_parts(tmp_path: Path, capsys: Captured) -> None:
    lines = (
        LINES + "\n2026-11-05 09:00 H1 cut into H1a cape, H1b back skin\n2026-11-06 09:00 H1a H1b H2 out to Oren Vale"
    )
    hides = record(capsys, "--book", book(tmp_path, lines), *AT)
    assert {tag: one["materials"] for tag, one in hides.items()} == {"H1a": "0.70", "H1b": "0.70", "H2": "1.00"}


def listed(held: Holding, day: int, read: Book, sign: str) -> Fraction:
    """The shop's list price of a kg or L."""
    price = list_price(held.supply, held.dimension, day, read.shop, sign)
    assert price is not None
    return price


@pytest.mark.parametrize("name", ["harbour-road", "tarrow-ridge", "rough", "first-week"])
def test_costs_add_up_to_purchases_less_stock(name: str) -> None:
    """Bought, found at a count, or taken though it never lay there (both at the list price): all of it is in a hide, a bath, the shop, or on the shelf."""
    read = read_book([str(SAMPLES / name)])
    found = costs(lay_out(read, instant_of("2027-04-30 12:00", read.clock)))
    came = Fraction(0)
    spent = found.own_use + found.gone + sum((money for _, money in found.empty), Fraction(0))
    spent += sum((one.materials for one in found.hides), Fraction(0))
    for held in found.held.values():
        spent += held.shelf.cost
        for line in held.lines:
            if line.move.sort == "bought" or line.found:
                came += line.cost
            if line.missing and line.listed:
                came += line.missing * listed(held, line.move.when.day, read, found.sign)
    assert spent == came
    assert name in ("first-week", "rough") or came > 100


def test_money_is_exact_until_it_is_printed() -> None:
    """A third of a cent three times is a cent."""
    lines = """\
2026-11-02 08:00 bought 1 lb salt, $0.01
2026-11-02 08:10 H1 H2 H3 in, cape
2026-11-02 08:30 H1 H2 H3 salt, 1 lb salt"""
    read = read_text(f"{SHOP}{lines}\n")
    found = costs(lay_out(read, instant_of("2026-11-03 12:00", read.clock)))
    assert sum((one.materials for one in found.hides), Fraction(0)) == Fraction(1, 100)


def test_the_readme_shows_what_is_printed(capsys: Captured, monkeypatch: pytest.MonkeyPatch) -> None:
    """A part of the answer, to the letter."""
    root = Path(__file__).resolve().parents[2]
    monkeypatch.chdir(root)
    readme = (root / "README.md").read_text(encoding="utf-8")
    (shown,) = re.findall(r"^```text cost\n\$ hideledger (.*?)\n(.*?)^```", readme, re.DOTALL | re.MULTILINE)
    assert main(shlex.split(shown[0])) == 0
    assert shown[1] in capsys.readouterr().out
