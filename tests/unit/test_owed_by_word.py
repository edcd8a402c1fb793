"""`owed`: what is asked for a skin that went back as it came, was replaced, cut or boxed; and whatever is in no sum is said."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import cast

import pytest

from hideledger.answers.owed.account import accounts
from hideledger.cli import main
from hideledger.cli.moment import instant_of
from hideledger.model.facts import Money
from hideledger.reading import read_book
from hideledger.shopfloor.layout import lay_out
from tests.unit.bill_book import AT, SHOP, Captured, book, hides, record, said

SAMPLES = Path(__file__).resolve().parents[2] / "sample_ledgers"
RAW = """\
2026-11-02 08:10 H1 in, cape, 6 lb, rush, for Oren Vale, deposit $50
2026-11-02 08:20 H1 salt
2026-11-05 09:00 H1 out to Oren Vale"""


def test_a_skin_fetched_untanned_is_asked_nothing_for_and_waits_for_no_storage(
    tmp_path: Path, capsys: Captured
) -> None:
    where = book(tmp_path, RAW)
    found = record(capsys, "owed", where, "oren", "vale")
    one = hides(found)["H1"]
    assert (one["items"], one["left"], one["to_settle"], one["ready_since"]) == ([], "0.00", "50.00", None)
    assert one["not_finished"] == "handed back untanned"
    told = said(capsys, "owed", where, "oren", "vale")
    assert told.startswith("Oren Vale: nothing here; owes nothing; $50.00 to settle by word")
    assert "nothing charged no line as far as pickle; if it was finished, write it late" in told


def test_a_charge_line_says_what_is_asked_for_a_skin_fetched_untanned(tmp_path: Path, capsys: Captured) -> None:
    """$12 for the fleshing by the list, and $8 as it was written when it was fetched; the $80 agreed was for a finished one."""
    lines = RAW.replace("H1 salt", "H1 fleshed, salt").replace("rush,", "charged $80,")
    where = book(tmp_path, f"{lines}\n2026-11-05 09:01 H1 charged $8 freezer room")
    one = hides(record(capsys, "owed", where, "H1"))["H1"]
    assert (one["left"], one["to_settle"]) == ("0.00", "30.00")
    told = said(capsys, "owed", where, "H1")
    assert "agreed $80.00 for a finished skin: not charged; if it is owed, write `H1 charged $80.00`" in told
    where = book(tmp_path, f"{lines}\n2026-11-05 09:01 H1 charged $80")
    assert hides(record(capsys, "owed", where, "H1"))["H1"]["left"] == "42.00"  # 80 and 12, less 50


def test_what_went_back_untanned_by_its_lines_is_told_of_to_who_forgot_a_line(tmp_path: Path, capsys: Captured) -> None:
    where = book(tmp_path, RAW.replace(", deposit $50", ""))
    told = said(capsys, "owed", where)
    assert (
        "Handed back untanned, and nothing charged Oren Vale H1: no line as far as pickle; if it was finished, "
        "write it late, with its own date: `H1 pickle`" in told
    )
    assert "Handed back untanned" not in said(capsys, "owed", where, at=("--at", "2027-03-01"))
    late = book(tmp_path, RAW.replace("H1 salt", "H1 oiled"))  # further on than the pickle, which was not written
    assert "Handed back untanned" not in said(capsys, "owed", late)


@pytest.mark.parametrize("end", ["refused -- green belly", "lost -- slipped"])
def test_money_taken_for_what_will_not_come_back_finished_is_never_dropped(
    end: str, tmp_path: Path, capsys: Captured
) -> None:
    where = book(tmp_path, RAW.replace("out to Oren Vale", end))
    word = end.split(maxsplit=1)[0]
    told = said(capsys, "owed", where)
    assert f"To settle by word Oren Vale H1, {word} Thu 5 Nov: $50.00 deposit Mon 2 Nov: -$50.00 (" in told
    found = record(capsys, "owed", where)
    assert [(one["tag"], one["money"]) for one in found["to_settle"]] == [("H1", "50.00")]  # type: ignore[attr-defined]
    assert main(["custody", "--year", "2026", "--book", where, *AT]) == 0
    year = " ".join(capsys.readouterr().out.split())
    assert f"To settle by word Oren Vale H1, {word} Thu 5 Nov: $50.00" in year


def test_when_it_is_settled_a_line_says_so(tmp_path: Path, capsys: Captured) -> None:
    lines = RAW.replace("out to Oren Vale", "lost -- slipped")
    told = said(capsys, "owed", book(tmp_path, lines), "H1")
    assert "write `H1 gave back $50.00`, and if it is taken for another, on a line of that hide `paid $50.00`" in told
    for line in (
        "H1 gave back $50.00",
        "gave back $50 to Oren Vale",
        "refunded $50.00 to Oren Vale",
        "H1 paid back $50",
    ):
        told = said(capsys, "owed", book(tmp_path, f"{lines}\n2026-11-06 09:00 {line}"), "H1")
        assert "by word" not in told
        assert "nothing here; owes nothing" in told
        assert "charged $0.00 paid $50.00 given back $50.00 owed now $0.00" in told
    charged = f"{lines}\n2026-11-06 09:00 H1 charged $50.00 -- given back"
    told = said(capsys, "owed", book(tmp_path, charged), "H1")
    assert "by word" not in told
    assert "H1 cape, lost Thu 5 Nov: $50.00 charged and paid" in told


def test_money_given_back_is_no_charge_of_the_year(tmp_path: Path, capsys: Captured) -> None:
    lines = RAW.replace("out to Oren Vale", "lost -- slipped") + "\n2026-11-06 09:00 gave back $50 to Oren Vale"
    where = book(tmp_path, lines)
    assert main(["custody", "--year", "2026", "--book", where, *AT]) == 0
    year = " ".join(capsys.readouterr().out.split())
    assert "Money of the year, as written deposits $50.00 given back to customers $50.00" in year
    assert "charged, as written" not in year
    assert main(["export", "--book", where, *AT]) == 0
    rows = [json.loads(line) for line in capsys.readouterr().out.splitlines() if '"given back"' in line]
    assert [(one["what"], one["amount"], one["by"]) for one in rows if "amount" in one] == [
        ("given back", 50, "Oren Vale")
    ]


def test_money_given_back_beyond_what_was_taken_is_owed_again(tmp_path: Path, capsys: Captured) -> None:
    """$92 for the cape, $60 paid and $10 of it given back: $42 are left."""
    lines = """\
2026-11-02 08:10 H1 in, cape, for Oren Vale
2026-11-02 08:20 H1 pickle
2026-11-12 09:00 H1 paid $60 from Oren Vale
2026-11-12 09:10 H1 gave back $10"""
    found = hides(record(capsys, "owed", book(tmp_path, lines), "H1", at=("--at", "2026-11-12 12:00")))["H1"]
    assert found["left"] == "42.00"
    told = said(capsys, "owed", book(tmp_path, lines), "H1", at=("--at", "2026-11-12 12:00"))
    assert "paid by Oren Vale Thu 12 Nov: -$60.00" in told
    assert "given back Thu 12 Nov: $10.00" in told


def test_a_deposit_on_several_of_which_none_comes_back_is_settled_too(tmp_path: Path, capsys: Captured) -> None:
    lines = """\
2026-11-02 08:10 H1 H2 in, cape, for Oren Vale
2026-11-02 08:11 H1 H2 deposit $100
2026-11-03 08:11 H1 refused -- smells"""
    both = f"{lines}\n2026-11-03 08:12 H2 refused -- smells"
    told = said(capsys, "owed", book(tmp_path, both), "oren", "vale")
    assert told.startswith("Oren Vale: nothing here; owes nothing; $100.00 to settle by word")
    assert "deposit on H1 H2 Mon 2 Nov: -$100.00" in told


def test_a_replacement_has_the_deposit_the_price_and_the_wishes_of_the_first(tmp_path: Path, capsys: Captured) -> None:
    """$85 agreed and $15 rush, less the deposit of $50; and nothing is left to settle on the first."""
    lines = """\
2026-11-02 08:11 H2 in, cape, rush, for Oren Vale, deposit $50, charged $85
2026-11-03 08:11 H2 lost -- slipped
2026-11-16 08:12 H12 in, cape
2026-11-16 08:13 H12 replaces H2"""
    found = record(capsys, "owed", book(tmp_path, lines), "oren", "vale")
    assert found["to_settle"] == "0.00"
    assert hides(found)["H12"]["left"] == "50.00"
    assert hides(found)["H2"]["not_finished"] == "replaced by H12"
    told = said(capsys, "owed", str(tmp_path), "oren", "vale")
    assert "deposit on H2 Mon 2 Nov: -$50.00" in told
    again = f"{lines}\n2026-11-18 08:00 H12 lost -- slipped too"
    assert "H12 lost Wed 18 Nov: $50.00" in said(capsys, "owed", book(tmp_path, again), "oren", "vale")


def test_the_list_price_of_a_replacement_is_that_of_the_day_the_job_came(tmp_path: Path, capsys: Captured) -> None:
    shop = SHOP.replace("charge skin", "charge cape, $99, since 2026-11-10\ncharge skin")
    lines = """\
2026-11-02 08:11 H2 in, cape, for Oren Vale
2026-11-03 08:11 H2 lost -- slipped
2026-11-16 08:12 H12 in, cape
2026-11-16 08:13 H12 replaces H2"""
    assert hides(record(capsys, "owed", book(tmp_path, lines, shop), "H12"))["H12"]["left"] == "92.00"


def test_a_box_handed_back_whole_is_priced_by_the_skin(tmp_path: Path, capsys: Captured) -> None:
    """Three at $92; four that went back as they came are asked nothing for."""
    lines = """\
2026-11-02 08:15 B7 in, 4 capes, frozen, for Harrow Tannery
2026-11-02 08:16 B8 in, 3 capes, for Harrow Tannery
2026-11-02 09:16 B8 pickle
2026-11-06 09:16 B7 B8 out to Harrow Tannery"""
    found = hides(record(capsys, "owed", book(tmp_path, lines), "harrow", "tannery"))
    assert (found["B8"]["left"], found["B7"]["left"]) == ("276.00", "0.00")
    assert "cape, 3 skins at $92.00: $276.00" in said(capsys, "owed", str(tmp_path), "harrow")


def test_a_part_with_a_price_of_its_own_is_charged_by_it_and_the_others_share_one(
    tmp_path: Path, capsys: Captured
) -> None:
    """A skin in cape and back skin: $92 and $60, each by its line. In neck and saddle: the $130 of the skin, once, and its fleshing once."""
    lines = """\
2026-11-02 10:00 H5 H6 H7 in, skin, for June Akers
2026-11-02 10:10 H5 H6 H7 fleshed
2026-11-02 10:20 H5 cut into H5a cape, H5b back skin
2026-11-02 10:23 H6 cut into H6a neck, H6b saddle
2026-11-02 10:24 H7 cut into H7a neck, H7b back skin
2026-11-02 10:30 H5a H5b H6a H6b H7a H7b pickle
2026-11-06 10:30 H5a H5b H6a H6b H7a H7b out to June Akers"""
    found = hides(record(capsys, "owed", book(tmp_path, lines), "june", "akers"))
    assert {tag: one["left"] for tag, one in found.items()} == {
        "H5a": "104.00",
        "H5b": "60.00",
        "H6a": "142.00",
        "H6b": "0.00",
        "H7a": None,
        "H7b": "60.00",
    }
    told = said(capsys, "owed", str(tmp_path), "june", "akers")
    assert "no price for neck of H7, and H7b has one of its own: not reckoned" in told


def test_a_deposit_on_a_skin_pays_its_parts_when_it_is_cut(tmp_path: Path, capsys: Captured) -> None:
    """$92 and $60, less $67 and $35 paid on the parts and $50 on the skin: nothing is left of either; of a deposit of $60 $10 are to the good."""
    lines = """\
2026-11-02 10:00 H5 in, skin, for June Akers, deposit $50
2026-11-02 10:20 H5 cut into H5a cape, H5b back skin
2026-11-02 10:30 H5a H5b pickle
2026-11-06 10:30 H5a H5b out to June Akers
2026-11-06 10:31 H5a paid $67
2026-11-06 10:32 H5b paid $35"""
    told = said(capsys, "owed", book(tmp_path, lines), "june", "akers")
    assert told.startswith("June Akers: nothing here; owes nothing Fetched and paid H5a")
    found = record(capsys, "owed", str(tmp_path), "june", "akers")
    assert [one["left"] for one in hides(found).values()] == ["0.00", "0.00"]
    assert [(one["money"], one["on"]) for one in hides(found)["H5b"]["paid"]] == [("35.00", None), ("25.00", "H5")]  # type: ignore[attr-defined]
    more = said(capsys, "owed", book(tmp_path, lines.replace("$50", "$60")), "june", "akers")
    assert more.startswith("June Akers: nothing here; has $10.00 to the good")


def test_a_price_agreed_for_a_skin_holds_for_all_its_parts(tmp_path: Path, capsys: Captured) -> None:
    lines = """\
2026-11-18 10:00 H5 in, skin, for June Akers, charged $150
2026-11-18 10:20 H5 cut into H5a cape, H5b back skin"""
    found = hides(record(capsys, "owed", book(tmp_path, lines), "june", "akers"))
    assert {tag: one["left"] for tag, one in found.items()} == {"H5a": "150.00", "H5b": "0.00"}


def test_a_sum_that_is_not_known_is_no_nothing(tmp_path: Path, capsys: Captured) -> None:
    lines = """\
2026-11-02 11:00 H7 in, coyote, for Nora Stitt
2026-11-02 11:01 H7 pickle
2026-11-06 11:01 H7 out to Nora Stitt"""
    where = book(tmp_path, lines)
    told = said(capsys, "owed", where, "nora", "stitt")
    assert told.startswith("Nora Stitt: nothing here; what is owed is not known yet, H7 not reckoned")
    assert "no price for coyote: not reckoned left not reckoned" in told
    found = record(capsys, "owed", where, "nora", "stitt")
    assert (found["owed_now"], found["owed_in_the_end"], found["not_reckoned"]) == (None, None, ["H7"])
    assert hides(found)["H7"]["left"] is None
    everybody = said(capsys, "owed", where)
    assert "$0.00 owed for what is ready or fetched, and H7 not reckoned" in everybody
    assert record(capsys, "owed", where)["owed_now"] is None


def test_other_money_is_said_on_the_bill_and_never_added(tmp_path: Path, capsys: Captured) -> None:
    lines = """\
2026-11-18 11:00 H7 in, cape, for Nora Stitt, deposit £20
2026-11-18 11:01 H8 in, cape, for Nora Stitt, charged £80"""
    where = book(tmp_path, lines)
    told = said(capsys, "owed", where, "nora", "stitt")
    assert "£20.00 paid in other money, in no sum" in told.split("Hides")[0]
    assert "Paid in other money, and in no sum H7 deposit Wed 18 Nov: £20.00, in no sum" in told
    assert "as agreed £80.00, other money than the shop's $: not reckoned" in told
    found = record(capsys, "owed", where, "nora", "stitt")
    assert found["reckoned_in_the_end"] == "92.00"
    assert [one["currency"] for one in found["paid_in_other_money"]] == ["£"]  # type: ignore[attr-defined]


def test_several_tags_give_a_bill_for_each_customer_in_the_order_of_asking(tmp_path: Path, capsys: Captured) -> None:
    lines = """\
2026-11-18 11:00 H7 in, cape, for Nora Stitt, their tag R-7
2026-11-18 11:01 H8 H9 in, cape, for Ida Crane
2026-11-18 11:02 H10 in, cape"""
    where = book(tmp_path, lines)
    told = said(capsys, "owed", where, "h9", "R-7", "H8")
    assert told.startswith("Ida Crane and Nora Stitt, Fri 2026-11-20 12:00 Ida Crane Ida Crane: H8 H9 came in")
    assert told.index("Together, Ida Crane") < told.index("Nora Stitt: H7 came in") < told.index("Together, Nora Stitt")
    found = record(capsys, "owed", where, "H9", "H7", "H10")
    customers = found["customers"]
    assert isinstance(customers, list)
    assert [one["customer"] for one in customers] == ["Ida Crane", "Nora Stitt"]
    assert found["for_nobody_named"] == ["H10"]
    assert "For nobody named H10 for nobody named; write `H10 for NAME`" in said(capsys, "owed", where, "H9", "H10")
    assert main(["owed", "H7", "H99", "--book", where, *AT]) == 1
    assert "H99 is not in the book; H9 is; ask for tags, or for one name" in capsys.readouterr().err


def test_a_later_life_of_a_tag_pays_for_itself_alone(tmp_path: Path, capsys: Captured) -> None:
    lines = """\
2026-10-02 11:00 H7 in, cape, for Nora Stitt
2026-10-02 11:01 H7 pickle
2026-10-09 11:01 H7 out to Nora Stitt
2026-11-02 11:00 H7 in, cape, for Ida Crane
2026-11-02 11:05 H7 charged $80"""
    where = book(tmp_path, lines)
    assert hides(record(capsys, "owed", where, "nora", "stitt"))["H7"]["left"] == "92.00"
    assert hides(record(capsys, "owed", where, "ida", "crane"))["H7"]["left"] == "80.00"


def test_a_price_named_on_a_later_line_is_answered_with_how_to_write_it(tmp_path: Path, capsys: Captured) -> None:
    lines = "2026-11-18 11:00 H7 in, cape, for Nora Stitt\n2026-11-19 09:00 H7 rush"
    assert main(["owed", "H7", "--book", book(tmp_path, lines), *AT]) == 3
    capsys.readouterr()
    assert main(["check", str(tmp_path), *AT]) == 3
    told = " ".join(capsys.readouterr().out.split())
    assert (
        "`rush` is a price of the shop and no step; on a line after the arrival it is `charged $15.00 rush`, or a remark: `-- rush`"
        in told
    )
    for line in ("charged $15 rush", "-- rush"):
        later = lines.replace("H7 rush", f"H7 {line}")
        assert hides(record(capsys, "owed", book(tmp_path, later), "H7"))["H7"]["left"] == "107.00"


@pytest.mark.parametrize("name", ["first-week", "harbour-road", "rough", "tarrow-ridge"])
def test_every_payment_of_a_book_is_on_a_bill_in_an_account_or_told_apart(name: str) -> None:
    read = read_book([str(SAMPLES / name)])
    floor = lay_out(read, instant_of("2027-04-30 12:00", read.clock))
    every = accounts(floor)
    written = [fact for entry in floor.money for fact in entry.facts if isinstance(fact, Money)]
    paid = sum((Fraction(fact.money.value) for fact in written if fact.sort in ("paid", "deposit")), Fraction(0))
    found = sum((loose.payment.money for loose in every.loose), Fraction(0))
    for one in every.people.values():
        found += one.pooled + sum((bill.paid for bill in one.bills), Fraction(0))
        settled = sum((bill.charged - bill.paid + bill.to_settle for bill in one.bills), Fraction(0))
        assert settled - one.pooled == one.in_the_end
    found += sum((bill.paid for bill in every.nobody), Fraction(0))
    assert found == paid


def test_the_evening_look_names_what_is_not_reckoned(tmp_path: Path, capsys: Captured) -> None:
    lines = "2026-11-02 11:00 H7 in, coyote, for Nora Stitt\n2026-11-02 11:01 H7 pickle"
    assert main(["floor", book(tmp_path, lines), *AT]) in (0, 1)
    assert "Nora Stitt no sum known yet: H7, not reckoned" in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize(
    "line",
    [
        "H1 -- rush",
        "H1 tag 5002 -- rush",
        "H1 tag 5002 -- Rush, for the show",
        "H1 paid $5 -- rush",
        "H1 oiled (rush)",
    ],
)
def test_an_extra_of_the_list_is_charged_wherever_it_is_remarked_on_a_line_of_the_hide(
    line: str, tmp_path: Path, capsys: Captured
) -> None:
    """The line that is proposed for an extra, `-- rush`, holds behind whatever else the line says."""
    lines = f"2026-11-02 08:10 H1 in, cape, for Oren Vale\n2026-11-02 08:20 H1 pickle\n2026-11-12 09:00 {line}"
    found = hides(record(capsys, "owed", book(tmp_path, lines), "H1"))["H1"]
    assert {"what": "rush", "money": "15.00"} in cast("list[object]", found["items"])


@pytest.mark.parametrize("line", ["H1 skipped ears turned -- rush", "H1 charged $80 -- rush", "H1 -- no rush at all"])
def test_a_reason_is_no_extra(line: str, tmp_path: Path, capsys: Captured) -> None:
    lines = f"2026-11-02 08:10 H1 in, cape, for Oren Vale\n2026-11-02 08:20 H1 pickle\n2026-11-12 09:00 {line}"
    found = hides(record(capsys, "owed", book(tmp_path, lines), "H1"))["H1"]
    assert "rush" not in [cast("dict[str, object]", item)["what"] for item in cast("list[object]", found["items"])]


def test_a_box_fetched_as_it_came_is_asked_for_no_steps(tmp_path: Path, capsys: Captured) -> None:
    lines = """\
2026-11-02 08:20 B2 in, box of 3 capes, for Ida Crane
2026-11-05 09:00 B2 out to Ida Crane"""
    where = book(tmp_path, lines)
    assert "Ida Crane B2: a box that was not opened" in said(capsys, "owed", where)
    assert "if it was finished" not in said(capsys, "owed", where, "ida", "crane")
    assert main(["check", "--all", "--book", where, *AT]) == 0
    assert "not recorded" not in capsys.readouterr().out
