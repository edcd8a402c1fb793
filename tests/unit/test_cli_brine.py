"""`brine` in the words in which one asks at the tub: every scale, what to weigh in, and what is refused where."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from hideledger.cli import main

Captured = pytest.CaptureFixture[str]


@pytest.fixture(autouse=True)
def no_book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder: no book is needed."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("HIDELEDGER_BOOK", raising=False)
    return tmp_path


def said(capsys: Captured, *words: str) -> str:
    """The sheet, its folded lines made one."""
    assert main(["brine", *words]) == 0
    return " ".join(capsys.readouterr().out.split())


def refused(capsys: Captured, *words: str) -> str:
    """What is said on standard error; nothing may stand on standard output."""
    assert main(["brine", *words]) == 2
    heard = capsys.readouterr()
    assert heard.out == ""
    return heard.err


def record(capsys: Captured, *words: str) -> dict[str, dict[str, float]]:
    assert main(["brine", "--json", *words]) == 0
    found: dict[str, dict[str, float]] = json.loads(capsys.readouterr().out)
    return found


def test_a_reading_on_every_scale(capsys: Captured) -> None:
    """40 degrees: 10.558 %, 0.983 lb a US gallon (common US salometer table at 60 F), SG 1.0775, 10.4 Be."""
    assert main(["brine", "40", "sal"]) == 0
    out = capsys.readouterr().out
    assert out.startswith("40 sal: 10.56 % salt by weight\n")
    assert "\n  salometer          40 sal, 100 is saturated at 60 F\n" in out
    assert "\n  specific gravity   1.0775, 60/60 F\n" in out
    assert "\n  Baumé              10.4 Be, heavier than water, modulus 145\n" in out
    assert "0.98 lb a US gal" in out
    assert "1.18 lb an imperial gal" in out  # a fifth more
    assert max(len(line) for line in out.split("\n")) <= 80


@pytest.mark.parametrize(
    "words",
    [
        "40.6 sal",
        "10.72 %",
        "10.6 Be",
        "SG 1.0788",
        "1.0788 SG",
        "1 lb per US gal",
        "1 lb salt per US gal of water",
        "120 g/L",
        "115 g per L brine",
        "10,72 %",
    ],
)
def test_all_of_these_are_a_pound_to_the_gallon(words: str, capsys: Captured) -> None:
    found = record(capsys, words)["strength"]
    assert found["sal"] == pytest.approx(40.6, abs=0.2)
    assert found["lb_per_us_gal_water"] == pytest.approx(1, abs=0.006)


def test_what_was_taken_for_granted_is_said(capsys: Captured) -> None:
    assert "a hydrometer made for 60 F" in said(capsys, "40 sal")
    assert "is to the water taken, not to the finished brine" in said(capsys, "120 g per L")
    assert "is the brine as it stands in the tub" in said(capsys, "--gallons", "US", "20 gal from 36 sal to 46 sal")
    assert "acid lifts it too" in said(capsys, "40 sal")


def test_a_reading_of_warm_brine_is_corrected(capsys: Captured) -> None:
    """At 80 F 40 true degrees read 2.0 low with a glass hydrometer (densities of the International Critical Tables)."""
    assert "true 40 sal" in said(capsys, "38.0 sal at 80 F")
    assert record(capsys, "38 sal", "at", "80 F")["strength"]["sal"] == pytest.approx(40, abs=0.05)
    assert record(capsys, "38 sal, 80 F")["strength"]["sal"] == pytest.approx(40, abs=0.05)


def test_the_instrument_is_for_sixty_f_unless_said(capsys: Captured) -> None:
    twenty = record(capsys, "--instrument", "20C", "40 sal at 20 C")["strength"]["sal"]
    assert twenty == pytest.approx(40, abs=1e-3)
    quarter = record(capsys, "--instrument", "60 F, 100 at 25 %", "40 sal")["strength"]["percent"]
    assert quarter == pytest.approx(10, abs=1e-4)


def test_a_reading_within_the_instruments_doubt_is_taken_and_that_is_said(capsys: Captured) -> None:
    """Fresh water of 40 F shows half a degree on a hydrometer made for 60 F, and saturated brine of 72 F shows 99."""
    cold = said(capsys, "0 sal at 40 F")
    assert cold.startswith("0 sal at 40 F: 0 sal")
    assert "taken for water without salt" in cold
    warm = said(capsys, "100 sal at 72 F")
    assert "taken for saturated, 26.5 %" in warm
    assert "as it cools to 60 F some falls out, and 26.40 % stays" in warm
    assert record(capsys, "20 L at 26.6 % at 100 F, 1 L water")["strength"]["sal"] < 100
    assert "past saturation" in refused(capsys, "SG 1.25 at 72 F")


def test_a_salometer_made_for_the_meat_cellar(capsys: Captured) -> None:
    """Some are graduated for 38 F ("The Salometer and How to Use It"); there the water holds 26.3 % at most (Salt Institute)."""
    assert record(capsys, "--instrument", "38 F", "100 sal")["strength"]["percent"] == pytest.approx(26.32, abs=0.01)


def test_twenty_gallons_and_twenty_pounds(capsys: Captured) -> None:
    """Reckoned by hand (common practice, no source): 10.7 %, 40.6 degrees; with 30 lb of wet skin 36.9 and 22.2 gal of water."""
    out = said(capsys, "--gallons", "US", "20 gal water, 20 lb salt, 30 lb wet capes")
    assert out.startswith("20 gal water, 20 lb salt, 30 lb wet capes: 40.6 sal, 10.72 % salt by weight")
    assert "with the skins in 36.9 sal" in out
    assert "22.2 US gal" in out


def test_the_acid_of_a_recipe_is_counted_in_the_reading(capsys: Captured) -> None:
    """60 oz of citric acid in 20 gallons: about 4 degrees (common practice, no source), so 44 or 45 shown for 40.6 of salt."""
    out = said(capsys, "--gallons", "US", "20 gal water, 20 lb salt, 60 oz citric acid")
    assert "about 44 sal: 41 of salt, about 4 of the citric acid" in out
    found = record(capsys, "--gallons", "US", "20 gal at 46 sal, 60 oz citric acid")
    assert found["strength"]["sal"] == pytest.approx(42, abs=0.5)
    assert found["makes"]["read_for_acid_sal"] == pytest.approx(4, abs=0.5)


def test_salt_to_weigh_in(capsys: Captured) -> None:
    """40 to 70 degrees: 0.904 lb for each gallon of the water in the bath (the rule of the Seafood Academy's page)."""
    found = record(capsys, "--gallons", "US", "20 gal water from 40 sal to 70 sal")
    assert found["add"]["salt_kg"] / 0.45359237 == pytest.approx(20 * 0.904, abs=0.04)
    out = said(capsys, "--gallons", "US", "20", "gal", "from", "36", "sal", "to", "46", "sal")
    assert out.startswith("5.35 lb (5 lb 6 oz, 2.43 kg) salt to reach 46 sal")
    assert "In this order 1 dissolve the salt in liquor drawn off from the bath" in out


def test_water_to_pour_in(capsys: Captured) -> None:
    """90 to 40 degrees: 1.25 kg of water for each kg of brine, exactly (salt is conserved)."""
    found = record(capsys, "100 kg brine at 90 sal to 40 sal")
    assert found["add"]["water_l"] == pytest.approx(125 / 0.99792, rel=1e-4)
    assert found["makes"]["salt_kg"] == pytest.approx(23.7555, rel=1e-4)
    assert "read the pH" in said(capsys, "100 kg brine at 90 sal to 40 sal")


def test_a_new_bath_for_a_strength(capsys: Captured) -> None:
    """0.983 lb a US gallon for 40 degrees (common US salometer table)."""
    found = record(capsys, "--gallons", "US", "20 gal water to 40 sal")
    assert found["add"]["salt_kg"] / 0.45359237 == pytest.approx(19.66, abs=0.04)
    assert "1 the water first" in said(capsys, "20 US gal water to 40 sal")


def test_nothing_to_add_is_said(capsys: Captured) -> None:
    assert said(capsys, "80 L at 40 sal to 40 sal").startswith("nothing to add to reach 40 sal: it stands at 40 sal")
    assert said(capsys, "80 L at 40 sal to 0 sal").startswith("no amount of water that a tub holds brings 40 sal down")


def test_more_salt_than_the_water_takes_is_said(capsys: Captured) -> None:
    """30 lb to 10 gallons is 100.3 degrees (brining, Bookbinding and the Conservation of Books)."""
    out = said(capsys, "10 US gal water, 30 lb salt")
    assert "past saturation" in out
    assert "stays on the bottom: 26.40 % is all that water holds at 60 F" in out


def test_two_brines_are_mixed_by_weight(capsys: Captured) -> None:
    """1 part saturated and 9 of water by volume: 11.8 degrees and not 10."""
    assert record(capsys, "1 L at 100 sal, 9 L water")["strength"]["sal"] == pytest.approx(11.8, abs=0.05)


def test_the_same_words_on_either_gallon(capsys: Captured) -> None:
    us = record(capsys, "--gallons", "US", "20 gal water to 40 sal")["add"]["salt_kg"]
    imperial = record(capsys, "--gallons", "imperial", "20 gal water to 40 sal")["add"]["salt_kg"]
    assert imperial / us == pytest.approx(1.20095, rel=1e-5)
    assert "an imperial gallon is a fifth more" in said(capsys, "--gallons", "imperial", "20 gal water to 40 sal")


def test_the_shop_says_which_gallon(no_book: Path, capsys: Captured) -> None:
    (no_book / "shop.hides").write_text("shop Trial\n  gallons imperial\n", encoding="utf-8")
    assert "imperial gal" in said(capsys, "20 gal water to 40 sal")
    assert "US gal" in said(capsys, "--gallons", "US", "20 gal water to 40 sal")
    book = no_book / "elsewhere"
    book.mkdir()
    (book / "shop.hides").write_text("shop Trial\n  degrees C\n", encoding="utf-8")
    assert said(capsys, "--book", str(book), "80 L water to 40 sal").startswith("9.4")
    assert "true 40" in said(capsys, "--book", str(book), "38 sal at 26.7°")


def test_a_book_that_is_not_there_is_said_only_when_named(
    no_book: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert main(["brine", "--book", str(no_book / "none"), "40 sal"]) == 2
    assert "there is no such file or folder" in capsys.readouterr().err
    monkeypatch.setenv("HIDELEDGER_BOOK", str(no_book / "none"))
    assert said(capsys, "40 sal").startswith("40 sal: 10.56 %")


@pytest.mark.parametrize(
    ("words", "sentence", "column", "width"),
    [
        ("40 saal", "`saal` is no unit known here; did you mean `sal`?", 3, 4),
        ("40", "`40` of what? a unit stands behind its number", 0, 2),
        ("46 sal at 72", "`72` of what? a unit stands behind its number", 10, 2),
        ("46 sal at 72°", "`72°`: F or C?", 10, 3),
        ("46 sal at 120 F", "known here from 32 to 104 F", 10, 5),
        ("46 sal at 20 gal", "US or imperial?", 10, 6),
        ("46 sal at 20 lb", "a temperature belongs here", 10, 5),
        ("-5 sal", "a strength is no less than nothing", 0, 6),
        ("110 sal", "is past saturation: water of 60 F holds 26.4 % salt", 0, 7),
        ("30 %", "is past saturation", 0, 4),
        ("3.2 lb per US gal", "is past saturation", 0, 17),
        ("SG 1080", "did you mean SG 1.080?", 0, 7),
        ("SG 0.98", "is lighter than water", 0, 7),
        ("pH 2.0", "pH says nothing of salt", 0, 6),
        ("1 lb per gal", "`gal`: US or imperial? they are a fifth apart", 9, 3),
        ("20 gal water, 20 lb salt", "`20 gal`: US or imperial?", 0, 6),
        ("20 L watr, 2 kg salt", "`watr`: did you mean `water`?", 5, 4),
        ("20 L water, 2 kg lactic acid", "how much it lifts a hydrometer is not known here", 17, 11),
        ("20 L water, 2 L salt", "salt is weighed", 12, 8),
        ("20 L water, -2 kg salt", "an amount is no less than nothing", 12, 10),
        ("20 L water, 0 kg salt", "an amount of nothing", 12, 9),
        ("90000 L water, 2 kg salt", "no tub of a shop holds so much", 0, 13),
        ("20 L water, 2 kg", "`2 kg` of what?", 12, 4),
        ("2 kg salt", "no water in it", 0, 9),
        ("20 L water", "to what strength, or with how much salt?", 0, 10),
        ("20 L bath", "how strong is it?", 0, 9),
        ("40 sal to 46 sal", "how much of it?", 0, 16),
        ("40 sal, 20 L", "the amount stands first", 8, 4),
        ("1,500 sal", "1,500: 1500, or 1.500?", 0, 5),
        ("hot", "`hot`: how much, or how strong? as in `20 gal water, 20 lb salt`, or `40 sal`", 0, 3),
        ("20 L at 36 sal to 20 kg", "is no strength", 18, 5),
        ("1 gal per lb", "US or imperial?", 0, 5),
        ("1 L per kg", "a strength is a weight of salt per amount of water", 0, 10),
    ],
)
def test_what_cannot_be_followed_is_shown_with_its_place(
    words: str, sentence: str, column: int, width: int, capsys: Captured
) -> None:
    heard = refused(capsys, words)
    first, shown, mark = heard.rstrip("\n").split("\n")
    assert first.startswith("hideledger: ")
    assert sentence in first
    assert shown == f"  {words}"
    assert mark == " " * (2 + column) + "^" * width


def test_a_wrong_instrument_is_shown_too(capsys: Captured) -> None:
    assert "  20 gallons\n" in refused(capsys, "--instrument", "20 gallons", "40 sal")
    assert "a salometer's 100 is a share of salt" in refused(capsys, "--instrument", "60 F, 100 at 2 %", "40 sal")


def test_nothing_asked_is_answered_with_an_example(capsys: Captured) -> None:
    assert "as in: hideledger brine 40 sal" in refused(capsys)
    assert "too long" in refused(capsys, "40 sal " * 200)


def test_one_record_a_line(capsys: Captured) -> None:
    assert main(["brine", "--plain", "46 sal at 72 F"]) == 0
    lines = capsys.readouterr().out.split("\n")
    assert lines[0] == "46 sal at 72 F: 47.2 sal, 12.47 % salt by weight"
    assert "salometer\t47.2 sal\t100 is saturated at 60 F" in lines
