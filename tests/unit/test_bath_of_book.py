"""`brine P1` and `acid P1`: a bath of the book in place of an amount, with what the book says of it beside the answer.

The reckoning itself is tested against tables and published models in `tests/outside`; here it is that the book's own figures are those taken.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from hideledger.cli import main

Captured = pytest.CaptureFixture[str]

SHOP = """\
shop Fallow Creek Skins
  zone America/Chicago
  gallons US
  degrees F
kind whitetail cape, process tub
vessel V1, vat, 40 gal
supply citric acid crystals or citric acid
supply formic acid, 85 %
recipe pickle
  per gal water: 1 lb salt, 3 oz citric acid
process tub
  in
  pickle   stays, raw clock stops
  out
"""
LINES = """\
2026-11-01 08:00 P1 mixed in V1, recipe pickle, 20 gal water, 20 lb salt, 60 oz citric acid
2026-11-01 09:00 P1 pH 1.9 meter, 64 F, 41 sal
2026-11-01 10:00 P2 mixed, 20 gal water, 20 lb salt, 60 oz citric acid, 14 lb alum tan
2026-11-01 10:00 P3 mixed, 10 gal water, 10 lb salt, 8 floz formic acid
2026-11-01 10:00 P4 mixed
2026-11-01 11:00 P5 mixed, 10 gal water, 10 lb salt
2026-11-01 12:00 P5 dumped
2026-11-01 12:00 P6 mixed, 10 gal water, 10 qt salt
2026-11-02 07:00 H1 H2 in, whitetail cape, green
2026-11-02 07:01 H1 9 lb
"""
LATER = """\
2026-11-02 08:00 H1 H2 pickle in P1
2026-11-03 08:00 P1 pH 2.4 strip, 64 F, 38 sal
"""


@pytest.fixture(name="book", autouse=True)
def _book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("HIDELEDGER_BOOK", raising=False)
    (tmp_path / "shop.hides").write_text(SHOP, encoding="utf-8", newline="\n")
    (tmp_path / "november.hides").write_text(LINES + LATER, encoding="utf-8", newline="\n")
    return tmp_path


def record(capsys: Captured, command: str, words: str, *, at: str = "2026-11-03 09:00") -> dict[str, object]:
    assert main([command, "--json", "--at", at, *words.split(" ")]) == 0
    found = json.loads(capsys.readouterr().out)
    assert isinstance(found, dict)
    return found


def said(capsys: Captured, command: str, words: str, *, at: str = "2026-11-03 09:00") -> str:
    assert main([command, "--at", at, words]) == 0
    return " ".join(capsys.readouterr().out.split())


def refused(capsys: Captured, command: str, words: str) -> str:
    assert main([command, "--at", "2026-11-03 09:00", words]) == 2
    shown = capsys.readouterr()
    assert shown.out == "" and "Traceback" not in shown.err
    return shown.err


def salt_to_add(found: dict[str, object]) -> float:
    add = found["add"]
    assert isinstance(add, dict)
    return float(add["salt_kg"])


def test_the_salt_of_a_bath_goes_by_its_last_reading_its_acid_and_its_water_with_the_skins(capsys: Captured) -> None:
    """9 lb of green skin, 62 % of it water, bring 0.67 US gal: 20.8 gal of brine are 21.4."""
    found = record(capsys, "brine", "P1 to 46 sal")
    same = record(capsys, "brine", "60 oz citric acid crystals, 21.4 US gal at 38 sal at 64 F to 46 sal")
    assert salt_to_add(found) == pytest.approx(salt_to_add(same), rel=0.01) and salt_to_add(same) > 2
    assert found["bath"] == "P1"
    text = said(capsys, "brine", "P1 to 46 sal")
    assert text.startswith("P1: ") and "salt to reach 46 sal By the book P1 stands for `60 oz citric acid" in text
    assert "read 38 sal 08:00 (" in text and "november.hides:12)" in text and "mixed Sun 1 Nov 08:00" in text


def test_the_tag_of_the_vessel_means_the_bath_in_it(capsys: Captured) -> None:
    assert record(capsys, "brine", "V1 to 46 sal") == {
        **record(capsys, "brine", "P1 to 46 sal"),
        "asked": record(capsys, "brine", "V1 to 46 sal")["asked"],
    }


def test_a_reading_written_behind_the_tag_goes_before_that_of_the_book(capsys: Captured) -> None:
    by_book, own = record(capsys, "brine", "P1 to 46 sal"), record(capsys, "brine", "P1 from 36 to 46 sal")
    assert salt_to_add(own) > salt_to_add(by_book)
    assert "read 38 sal" not in said(capsys, "brine", "P1 at 36 sal to 46 sal")
    assert record(capsys, "acid", "P1 at 2.6 to 2.0 with citric acid")["from_ph"] == 2.6
    assert record(capsys, "acid", "P1, pH 2.6 to 2.0, citric acid")["from_ph"] == 2.6


@pytest.mark.parametrize("more", [", 10 lb skins to 46 sal", " and 10 lb skins to 46 sal", " to 46 sal, 10 lb skins"])
def test_what_else_goes_in_leaves_the_reading_of_the_book_as_it_is(more: str, capsys: Captured) -> None:
    text = said(capsys, "brine", f"P1{more}")
    assert "read 38 sal" in text and "at 38 sal at 64 F" in text


def test_the_acid_of_a_bath_goes_by_what_was_put_in_and_what_it_read_last(capsys: Captured) -> None:
    found = record(capsys, "acid", "P1 to pH 2.0 with citric acid")
    assert (found["from_ph"], found["to_ph"], found["make_up_known"]) == (2.4, 2.0, True)
    by_hand = "20.7 gal water, 20 lb salt, 60 oz citric acid crystals, 9 lb drained skins"
    same = record(capsys, "acid", f"{by_hand} at 2.4 to 2.0 with citric acid")
    assert isinstance(found["least_g"], float) and isinstance(same["least_g"], float)
    assert found["least_g"] == pytest.approx(same["least_g"], rel=0.01)
    assert record(capsys, "acid", "how much citric acid for P1 to 2.0")["least_g"] == found["least_g"]


def test_the_bath_alone_says_what_is_to_be_expected_with_the_skins_that_lie_in_it(capsys: Captured) -> None:
    text = said(capsys, "acid", "P1")
    assert "9 lb drained skins" in text and "once they have taken their acid" in text
    assert "no weight is written for H2 in it" in text
    assert "read pH 2.4 strip 08:00" in text


def test_a_reading_from_before_the_skins_went_in_is_not_taken(capsys: Captured) -> None:
    at = "2026-11-02 12:00"
    text = said(capsys, "brine", "P1 to 46 sal", at=at)
    assert "read 41 sal" in text and "before the last of what went in: not taken, so read it again" in text
    assert "by what was put in, 20 lb salt in 20." in text
    # it stands, and there may be skins in it: no dry salt, and no order of making up
    assert "no dry salt on skins in acid" in text and "the water first" not in text
    assert main(["acid", "--at", at, "P1 to 2.0 with citric acid"]) == 2
    assert "with skins in it a make-up alone does not say" in capsys.readouterr().err


def test_a_liquid_acid_is_taken_as_the_pure_thing(capsys: Captured) -> None:
    """8 fl oz of 85 % formic acid are 236.6 ml, 282.7 g at 1.195 g/ml (from memory), 240 g pure."""
    found = record(capsys, "acid", "P3")
    (acid,) = [part for part in found["parts"] if part["name"] == "formic acid"]  # type: ignore[attr-defined]
    assert acid["pure_g"] == pytest.approx(240.3, rel=0.01)


@pytest.mark.parametrize(
    ("command", "words", "sentence"),
    [
        ("brine", "P9 to 46 sal", "no bath P9 stands now by this book; did you mean P1?"),
        ("brine", "20 gal water to 40 sal in V1", "`in V1`: no vessel is looked at here; leave it away"),
        ("brine", "H1 to 46 sal", "H1 is a hide; a bath is asked for by its own tag"),
        ("brine", "P5 to 46 sal", "P5 was let go ("),
        ("brine", "P4 to 46 sal", "what P4 was made of is not written ("),
        (
            "brine",
            "P6 to 46 sal",
            "salt went into P6 by a measure, and how heavy that is depends on its grain; read it",
        ),
        ("acid", "P4 to 2.0 with citric acid", "what P4 was made of is not written ("),
        ("acid", "P2 to 2.0 with citric acid", "P2 holds alum tan too, which cannot be reckoned with here"),
    ],
)
def test_a_bath_that_cannot_be_asked_for_says_why(command: str, words: str, sentence: str, capsys: Captured) -> None:
    assert sentence in refused(capsys, command, words)


def test_without_a_book_it_asks_for_one(book: Path, capsys: Captured) -> None:
    for page in book.iterdir():
        page.unlink()
    assert "P1 of which book? none lies in this folder" in refused(capsys, "brine", "P1 to 46 sal")
    assert "hideledger acid --book FOLDER P1" in refused(capsys, "acid", "P1")


@pytest.mark.parametrize("words", ["1.08 SG", "SG1.08", "40 sal at 72F"])
def test_a_reading_written_without_a_blank_is_no_bath(words: str, capsys: Captured) -> None:
    assert "By the book" not in said(capsys, "brine", words)


def test_what_goes_in_besides_leaves_the_acid_in_the_reading(capsys: Captured) -> None:
    """The acid of the book was in it when it was read; some of the 38 degrees are its own, whatever salt or skins go in now."""
    for more in (" and 3 lb salt", ", 10 lb skins to 46 sal"):
        assert " sal is the acid's" in said(capsys, "brine", f"P1{more}")
    plain = "60 oz citric acid crystals, 20 gal at 38 sal"
    assert " sal is the acid's" in said(capsys, "brine", f"{plain}, 30 lb skins to 46 sal")
    # acid that goes in behind it was not in it
    assert "of the reading" not in said(capsys, "brine", "20 gal at 38 sal, 3 lb salt, 60 oz citric acid crystals")


def test_skins_that_were_in_it_took_acid_so_both_ends_are_told(capsys: Captured) -> None:
    """What skins carried off no line says: with all of the acid in it less of the reading is salt, with none all of it."""
    text = said(capsys, "brine", "P1 to 46 sal")
    bare = said(capsys, "brine", "21.4 US gal at 38 sal at 64 F to 46 sal")
    told = text.partition("had they taken all of it: ")[2].partition(" lb ")[0]
    assert float(told) == pytest.approx(float(bare.partition(" lb ")[0]), abs=0.05)
    assert float(told) < salt_to_add(record(capsys, "brine", "P1 to 46 sal")) / 0.45359237
    assert "had they taken" not in said(capsys, "brine", "P3 to 46 sal")


def test_the_form_of_an_acid_that_nobody_wrote_is_said(book: Path, capsys: Captured) -> None:
    page = SHOP.replace("supply citric acid crystals or citric acid", "supply citric acid")
    (book / "shop.hides").write_text(page, encoding="utf-8", newline="\n")
    told = "citric acid: crystals or anhydrous is not written; anhydrous, the usual, was taken"
    assert told in said(capsys, "brine", "P1") and told in said(capsys, "acid", "P1")
    line = "`supply citric acid or citric acid anhydrous` says it"
    assert line in said(capsys, "acid", "P1")
    (book / "shop.hides").write_text(page.replace("supply citric acid", line.split("`")[1]), encoding="utf-8")
    assert told not in said(capsys, "acid", "P1")


def test_skins_that_left_took_acid_with_them(book: Path, capsys: Captured) -> None:
    left = "2026-11-03 08:30 H2 out of P1\n"
    (book / "november.hides").write_text(LINES + LATER + left, encoding="utf-8", newline="\n")
    assert "skins that are out of it again took some of the acid with them" in said(capsys, "acid", "P1")


def test_the_one_form_of_an_acid_that_the_shop_has_is_the_one_meant(book: Path, capsys: Captured) -> None:
    page = SHOP.replace("supply citric acid crystals or citric acid", "supply citric crystals")
    (book / "shop.hides").write_text(page, encoding="utf-8", newline="\n")
    assert record(capsys, "acid", "20 gal at 2.4 to 2.0 with citric acid")["with"] == "citric acid, crystals"
    assert record(capsys, "acid", "20 gal at 2.4 to 2.0 with citric")["with"] == "citric acid, crystals"
    (book / "shop.hides").write_text(page + "supply anhydrous citric acid\n", encoding="utf-8", newline="\n")
    heard = refused(capsys, "acid", "20 gal at 2.4 to 2.0 with citric acid")
    assert "crystals by the shop's line `supply citric crystals`" in heard and "which of them goes in?" in heard


def test_an_empty_vessel_is_told_to_be_empty(book: Path, capsys: Captured) -> None:
    gone = "2026-11-03 08:30 H1 H2 out of P1\n2026-11-03 08:40 P1 dumped\n"
    (book / "november.hides").write_text(LINES + LATER + gone, encoding="utf-8", newline="\n")
    assert "nothing stands in V1 now by this book" in refused(capsys, "brine", "V1 to 46 sal")


def test_no_acid_is_reckoned_into_a_bath_of_bleach_and_nothing_for_one_that_gives_off_gas(
    book: Path, capsys: Captured
) -> None:
    bleach = "2026-11-03 08:00 P7 mixed, 5 gal water, 5 lb salt, 1 cup bleach\n"
    (book / "november.hides").write_text(LINES + LATER + bleach, encoding="utf-8", newline="\n")
    heard = refused(capsys, "acid", "P7 to 2.0 with citric acid")
    assert "`bleach` and acid give a gas that kills: never together" in heard and "as in" not in heard
    assert "5 lb salt" in said(capsys, "brine", "P7")
    met = bleach + "2026-11-03 08:30 P7 add 8 oz citric acid\n"
    (book / "november.hides").write_text(LINES + LATER + met, encoding="utf-8", newline="\n")
    for command, words in (("brine", "P7 to 46 sal"), ("acid", "P7"), ("acid", "P7 to 5 with baking soda")):
        assert "everybody out into fresh air" in refused(capsys, command, words)


def test_words_in_front_of_the_tag_that_say_nothing_are_shown_the_right_wording(capsys: Captured) -> None:
    heard = refused(capsys, "brine", "how salty is P1")
    assert "`how salty is`: ask with the tag alone, `P1`, or with what it is to become, `P1 to 46 sal`" in heard
    assert record(capsys, "brine", "raise P1 to 46 sal")["add"] == record(capsys, "brine", "P1 to 46 sal")["add"]
    assert "3 lb salt, 60 oz citric acid" in said(capsys, "brine", "3 lb salt, P1")


def test_the_moment_is_asked_for_as_the_shop_writes_its_dates(book: Path, capsys: Captured) -> None:
    (book / "shop.hides").write_text(
        SHOP.replace("  degrees F\n", "  degrees F\n  dates month first\n"), encoding="utf-8"
    )
    assert main(["brine", "P5", "--at", "11/1/2026 11:30"]) == 0
    assert "P5 stands for" in capsys.readouterr().out
