"""`acid` as it is asked at the tub: what it answers, what it will not guess, and what every answer carries.

Figures: citric acid 22.5 g of crystals a litre gives an ideal pH of 2.07 (half of the square of a weak acid's rule of thumb would say 2.05); full doses
from standard atomic weights (`tests/outside/test_acid_weights.py`). No discharge below pH 5.0: 40 CFR 403.5(b)(2). The rest is common practice, no source.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from hideledger.cli import main

Captured = pytest.CaptureFixture[str]

BOOK = """\
shop Alder Fork
  zone America/Chicago
  gallons imperial
  sewer pH at least 6
supply citric acid crystals or citric acid, $2.40 per lb
supply soda ash or soda
supply formic acid or formic, 85 %, 12.0 lb per gal
supply battery acid, 35 %
supply battery acid, 37 %, since 2026-12-01
"""


@pytest.fixture(autouse=True)
def _somewhere_else(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No book at hand but the one that a test names."""
    empty = tmp_path / "empty"
    empty.mkdir()
    monkeypatch.chdir(empty)
    monkeypatch.delenv("HIDELEDGER_BOOK", raising=False)


@pytest.fixture(name="book")
def _book(tmp_path: Path) -> str:
    folder = tmp_path / "book"
    folder.mkdir()
    (folder / "shop.hides").write_text(BOOK, encoding="utf-8", newline="\n")
    return str(folder)


def us(words: tuple[str, ...]) -> list[str]:
    """In a US shop, unless the request or its book says else."""
    return [*words] if {"--gallons", "--book"} & {*words} else ["--gallons", "US", *words]


def said(capsys: Captured, *words: str) -> str:
    assert main(["acid", *us(words)]) == 0
    shown = capsys.readouterr()
    assert shown.err == ""
    return " ".join(shown.out.split())


def record(capsys: Captured, *words: str) -> dict[str, object]:
    assert main(["acid", "--json", *us(words)]) == 0
    found = json.loads(capsys.readouterr().out)
    assert isinstance(found, dict)
    return found


def pure(capsys: Captured, *words: str) -> float:
    """Grams of pure acid in a request that names one."""
    acids = record(capsys, *words)["acids"]
    assert isinstance(acids, list) and len(acids) == 1
    return float(acids[0]["pure_g"])


def refused(capsys: Captured, *words: str) -> str:
    assert main(["acid", *us(words)]) == 2
    shown = capsys.readouterr()
    assert shown.out == ""
    assert "Traceback" not in shown.err
    return shown.err


def test_the_ph_to_expect_says_that_it_is_ideal_and_how_far_off_it_may_be(capsys: Captured) -> None:
    text = said(capsys, "20 gal water, 20 lb salt, 60 oz citric acid crystals")
    assert "give or take 0.3" in text
    assert "ideal pH 2.07" in text
    assert "the meter or strip decides" in text
    assert "lowers what a meter shows" in text
    found = record(capsys, "20", "gal", "water,", "20", "lb", "salt,", "60", "oz", "citric", "acid", "crystals")
    assert found["ph_ideal"] == pytest.approx(2.07, abs=0.01)
    assert found["salt_per_cent"] == pytest.approx(10.7, abs=0.05)  # 1 lb a gallon
    assert isinstance(found["ph"], float) and 1.8 < found["ph"] < 2.07


def test_acid_without_salt_is_told_that_it_swells(capsys: Captured) -> None:
    assert "swells a skin" in said(capsys, "20 gal water, 60 oz citric acid crystals")
    assert "swells a skin" not in said(capsys, "20 gal water, 20 lb salt, 60 oz citric acid crystals")


@pytest.mark.parametrize(
    "words",
    [
        "20 gal water, 20 lb salt, 60 oz citric acid crystals",
        "20 gal at 2.4 to 2.0 with citric acid crystals",
        "20 gal at 2.4 to 2.0 with 85 % formic acid",
        "20 gal at 1.8 to 5.0 with baking soda",
        "20 gal, 60 oz citric acid crystals at 2.4 to 5.0 with soda ash",
        "neutralise 68 oz citric acid crystals with soda ash",
    ],
)
def test_every_answer_carries_the_order_of_work_and_the_cautions(words: str, capsys: Captured) -> None:
    text = said(capsys, words)
    for part in (
        "Order of work",
        "goggles, gloves",
        "flush",
        "supplier's sheet",
        "not metal",
        "label",
        "below pH 5.0",
        "storm drain",
    ):
        assert part in text
    if "soda" in words:
        assert "foam" in text and "a little at a time" in text
    else:
        assert "never" in text and "onto acid" in text.replace("into acid", "onto acid")


def test_the_acid_that_brings_a_bath_down(capsys: Captured) -> None:
    """By hand: citric acid as if it gave one proton, c = h^2/10^-3.13 + h; from 2.4 to 2.0 is 0.119 mol/L, 66.7 oz of crystals in 20 gal."""
    by_hand = sum(sign * (h * h / 10**-3.13 + h) for sign, h in ((1, 10**-2.0), (-1, 10**-2.4))) * 210.138 * 75.708
    found = record(capsys, "20 gal at 2.4 to 2.0 with citric acid crystals")
    assert found["most_g"] == pytest.approx(by_hand, rel=0.02)  # no salt is written; with salt in it, less
    assert isinstance(found["least_g"], float) and isinstance(found["most_g"], float)
    assert 0.4 * found["most_g"] < found["least_g"] < 0.7 * found["most_g"]
    assert found["about_g"] == pytest.approx((found["least_g"] + found["most_g"]) / 2, abs=0.1)
    assert found["first_g"] == pytest.approx(found["least_g"] / 2, abs=0.1)
    text = said(capsys, "20 gal at 2.4 to 2.0 with citric acid crystals")
    assert "water and this acid alone" in text and "takes more" in text
    assert "give or take" in text.partition(". ")[0] and "10 % salt (the least) and with none (the most)" in text


def test_a_dose_that_is_much_beside_the_make_up_is_said_to_be(capsys: Captured) -> None:
    bath = "20 gal water, 20 lb salt, 60 oz citric acid crystals"
    much = said(capsys, f"{bath} at 2.1 to 1.8 with citric acid crystals")
    assert "2.8 times all the acid it was made with" in much and "read again with another meter or strip" in much
    assert "all the acid it was made with" not in said(capsys, f"{bath} at 2.0 to 1.95 with citric acid crystals")
    assert "all the acid it was made with" not in said(capsys, f"{bath} at 2.1 to 5 with baking soda")


def test_a_doubt_greater_than_the_dose_is_told_by_its_ends(capsys: Captured) -> None:
    text = said(capsys, "20 gal water, 20 lb salt, 60 oz citric acid crystals to 1.8 with citric acid crystals")
    head = text.partition("Dose")[0]
    assert "it may be nothing, or up to 141 oz" in head and "give or take" not in head


def test_far_from_its_make_up_a_third_goes_in_first(capsys: Captured) -> None:
    bath = "20 gal water, 20 lb salt, 60 oz citric acid crystals"
    near = record(capsys, f"{bath} at 2.1 to 1.8 with citric acid crystals")
    far = record(capsys, f"{bath} at 2.6 to 2.2 with citric acid crystals")
    assert isinstance(near["least_g"], float) and isinstance(far["least_g"], float)
    assert near["first_g"] == pytest.approx(near["least_g"] / 2, abs=0.1)
    assert far["first_g"] == pytest.approx(far["least_g"] / 3, abs=0.1)


def test_a_liquid_is_told_by_weight_and_by_volume(capsys: Captured) -> None:
    text = said(capsys, "20 gal at 2.4 to 2.0 with 60 % formic acid")
    assert "by weight of 60 % formic acid" in text and "fl oz" in text and "memory" not in text
    # above 70 % the handbook's table ends
    assert "from memory" in said(capsys, "20 gal at 2.4 to 2.0 with 85 % formic acid")


def test_a_reading_alone_does_not_say_how_much_soda(capsys: Captured) -> None:
    found = record(capsys, "20 gal at 1.8 to 5.0 with baking soda")
    acids = found["acids"]
    assert isinstance(acids, list)
    least = {row["name"]: row["least_g"] for row in acids}
    # a strong acid at 1.8 holds little; a weak one twenty times as much and more
    assert least["citric"] > 20 * least["sulphuric"]
    assert found["first_g"] == pytest.approx(min(least.values()) / 2, abs=0.1)
    assert "ask again with it" in said(capsys, "20 gal at 1.8 to 5.0 with baking soda")


def test_a_make_up_says_how_much_soda(capsys: Captured) -> None:
    """1 L with 10 g citric acid: 8 g of baking soda by the ideal reckoning at 5.27, more with the ions' pull (PHREEQC gives 4.86 there)."""
    found = record(capsys, "100 L water, 1 kg anhydrous citric acid to 5.27 with baking soda")
    assert found["least_g"] == pytest.approx(800, rel=0.005)
    assert isinstance(found["most_g"], float) and found["most_g"] > 850


def test_skins_that_took_acid_make_the_next_dose_of_soda_smaller(capsys: Captured) -> None:
    fresh = record(capsys, "20 gal, 60 oz citric acid crystals to 5.0 with baking soda")
    used = record(capsys, "20 gal, 60 oz citric acid crystals at 2.6 to 5.0 with baking soda")
    assert isinstance(fresh["least_g"], float) and isinstance(used["least_g"], float)
    assert used["least_g"] < fresh["least_g"]


def test_the_base_that_answers_an_acid_in_full(capsys: Captured) -> None:
    """0.7566 g of soda ash a gram of citric crystals."""
    found = record(capsys, "neutralise 68 oz citric acid crystals with soda ash")
    assert found["base_g"] == pytest.approx(68 * 28.349523 * 0.7566, rel=2e-4)
    text = said(capsys, "neutralize 68 oz citric acid crystals with soda ash")
    assert text.startswith("51 oz") and "at most" in text and "upper bound" in text


def test_strength_and_amount_may_stand_in_any_order(capsys: Captured) -> None:
    ways = (
        "85 % formic acid 200 ml in 20 gal",
        "200 ml 85 % formic acid in 20 gal",
        "20 gal water, 200 ml formic acid 85 %",
        "20 gal of water and 200 ml of 85 percent formic",
    )
    assert len({json.dumps(record(capsys, words)["ph_ideal"]) for words in ways}) == 1


def test_an_amount_may_be_for_each_gallon(capsys: Captured) -> None:
    all_told = record(capsys, "20 gal water, 20 lb salt, 60 oz citric acid crystals")
    each = record(capsys, "20 gal water, 1 lb salt per gal, 3 oz per gal citric acid crystals")
    assert each["ph_ideal"] == all_told["ph_ideal"] and each["salt_per_cent"] == all_told["salt_per_cent"]
    assert record(capsys, "20 gal water, 2 lb per 2 gal salt, 3 oz citric acid crystals a gal") == each
    assert "of how much water?" in refused(capsys, "neutralise 3 oz citric acid crystals per gal with soda ash")


def test_it_may_be_said_in_other_words(capsys: Captured) -> None:
    assert record(capsys, "20 gal with 60 oz citric acid crystals") == record(
        capsys, "20 gal, 60 oz citric acid crystals"
    )
    plainly = record(capsys, "20 gal at 2.4 to 2.0 with citric acid crystals")
    for words in (
        "lower 20 gal from 2.4 to 2.0 with citric crystals",
        "20gal @ pH2,4 down to pH 2,0 using Citric Acid Monohydrate",
    ):
        assert record(capsys, words) == plainly


def test_a_gallon_that_nobody_sized_is_asked(capsys: Captured) -> None:
    assert main(["acid", "20 gal water, 60 oz citric acid crystals"]) == 2
    shown = capsys.readouterr()
    assert shown.out == ""
    assert "`20 gal`: US or imperial?" in shown.err
    assert main(["acid", "20 US gal water, 60 oz citric acid crystals"]) == 0
    assert "20 US gal of water" in capsys.readouterr().out
    imperial = record(capsys, "20 imperial gal water, 60 oz citric acid crystals")
    assert imperial["litres"] == pytest.approx(90.9218, abs=0.01)
    assert record(capsys, "--gallons", "imperial", "20 gal water, 60 oz citric acid crystals") == imperial


def test_a_metric_request_gets_a_metric_answer(capsys: Captured) -> None:
    text = said(capsys, "75 L at 2.4 to 2.0 with citric acid crystals")
    assert " oz" not in text.split("Order of work")[0] and "kg" in text


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ("20 gal water, 60 oz citric acid", "crystals (monohydrate) or anhydrous?"),
        ("20 gal water, 60 oz oxalic acid", "crystals (dihydrate, the usual) or anhydrous?"),
        ("20 gal water, 200 ml formic acid", "of what strength?"),
        ("20 gal water, 3 floz battery acid", "of what strength?"),
        ("20 gal at 2.4 to 2.0 with vinegar", "of what strength?"),
        ("20 gal at 1.8 to 5 with soda", "which soda?"),
        ("20 gal at 1.8 to 5 with washing soda", "crystals or ash?"),
        ("20 gal at 1.8 to 5 with sodium carbonate", "crystals or ash?"),
        ("6 oz 85 % formic acid in 20 gal", "ounces by weight or fluid ounces, 1.25-fold apart here?"),
        ("20 gal water, 3 oz 96 % sulphuric acid", "ounces by weight or fluid ounces, 1.91-fold apart here?"),
        ("20 gal water, 200 ml 85 % by volume formic acid", "a strength by weight is needed"),
        ("20 gal water, 200 ml by weight 85 % formic acid", "ml is no measure of weight"),
        ("20 gal water, -4 oz citric acid crystals", "it must be more than nothing"),
        ("0 gal water, 4 oz citric acid crystals", "it must be more than nothing"),
        ("20 gal water, 60 lb citric acid crystals", "is it a slip?"),
        ("20 gal water, 100 lb salt, 60 oz citric acid crystals", "more salt than that water takes up"),
        ("20 gal water, 120 % formic acid 2 floz", "between 0 and 100 %"),
        ("2000000 gal water, 60 lb citric acid crystals", "no bath of a shop"),
        ("20 gal water, 3 cups citric acid crystals", "weigh it"),
        ("20 gal water, 5 lb alum", "alum is not reckoned"),
        ("20 gal water, 2 lb tannery powder", "on its sheet"),
        ("20 gal water, 3 oz citric acid crystals per lb", "per so much water"),
        ("20 gal water, 2 lb citic acid crystals", "did you mean `citric acid crystals`?"),
        ("20 gal at 2.4 to 0.5 with citric acid crystals", "does not bring this bath to pH 0.5"),
        ("20 gal at 2.4 to 9 with baking soda", "does not bring this bath to pH 9"),
        ("20 gal at 2.4 to 2.0 with baking soda", "raises the pH"),
        ("20 gal at 2.4 to 3.0 with citric acid crystals", "lowers the pH"),
        ("20 gal at 2.4 to 2.4 with citric acid crystals", "nothing to add"),
        ("20 gal at 2.4 to 22 with soda ash", "a pH lies between 0 and 14"),
        ("20 gal at 2.4", "to which pH?"),
        ("20 gal at 2.4 to 2.0", "with what?"),
        ("20 gal to 2.0 with soda ash", "what does the bath read"),
        ("at 2.4 to 2.0 with citric acid crystals", "how much bath?"),
        ("20 gal at 2 to 5 with lye", "no dose of lye"),
        ("20 gal at 2 to 5 with salt", "brings no bath to another pH"),
        ("20 gal at 2 to 5 with 3 oz borax", "its amount is what is reckoned"),
        ("60 oz citric acid crystals", "in how much water?"),
        ("20 gal water, 20 lb salt", "no acid and no base in it"),
        ("neutralise 2 lb citric acid crystals", "with what?"),
        ("neutralise 20 gal at 1.8 with soda ash", "how much acid is in it?"),
        ("neutralise 2 lb citric acid crystals with citric acid crystals", "with a base"),
        ("20 gal, 60 oz 20 oz citric acid crystals", "a comma between"),
        ("20 gl water", "did you mean `gal`?"),
        ("1,500 g citric acid crystals in 20 gal", "1500, or 1.500?"),
        ("", "what is asked?"),
    ],
)
def test_what_is_not_said_is_not_guessed(words: str, sentence: str, capsys: Captured) -> None:
    assert sentence in refused(capsys, words)


def test_a_slip_is_shown_with_a_mark_under_it(capsys: Captured) -> None:
    assert refused(capsys, "20 gl water").endswith("  20 gl water\n     ^^\n")


def test_the_book_says_form_strength_weight_and_gallons(book: str, capsys: Captured) -> None:
    found = record(capsys, "--book", book, "20 gal water, 20 lb salt, 60 oz citric acid")
    assert found["litres"] == pytest.approx(20 * 4.54609, abs=0.01)
    parts = found["parts"]
    assert isinstance(parts, list)
    assert [part["name"] for part in parts] == ["salt", "citric acid, crystals"]
    assert record(capsys, "--book", book, "neutralise 1 lb citric acid with soda")["base"] == "soda ash"
    # an imperial quart at 12.0 lb a gallon, 85 %: 3 lb, 2.55 lb of it acid
    assert pure(capsys, "--book", book, "neutralise 1 qt formic with soda") == pytest.approx(2.55 * 453.59237, abs=0.1)


def test_the_strength_is_the_one_that_held_that_day(book: str, capsys: Captured) -> None:
    grams = [
        pure(capsys, "--book", book, "--at", day, "neutralise 1 lb battery acid with soda")
        for day in ("2026-11-30", "2026-12-01")
    ]
    assert grams == [pytest.approx(0.35 * 453.59237, abs=0.1), pytest.approx(0.37 * 453.59237, abs=0.1)]


def test_the_sewer_line_of_the_shop_is_the_stricter_one(book: str, capsys: Captured) -> None:
    assert "nothing below pH 6 down the sewer" in said(capsys, "--book", book, "neutralise 1 lb citric acid with soda")


def test_a_book_at_hand_is_used_and_a_broken_one_is_no_hindrance(
    book: str, tmp_path: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HIDELEDGER_BOOK", book)
    assert main(["acid", "--json", "20 gal water, 60 oz citric acid"]) == 0
    assert json.loads(capsys.readouterr().out)["litres"] == pytest.approx(90.92, abs=0.01)
    monkeypatch.setenv("HIDELEDGER_BOOK", str(tmp_path / "nowhere"))
    assert "20 US gal of water" in said(capsys, "20 gal water, 60 oz citric acid crystals")
    assert main(["acid", "--book", str(tmp_path / "nowhere"), "20 gal water, 60 oz citric acid crystals"]) == 2


def test_plain_gives_one_fact_a_line(capsys: Captured) -> None:
    assert main(["acid", "--plain", "--gallons", "US", "20 gal at 2.4 to 2.0 with citric acid crystals"]) == 0
    lines = capsys.readouterr().out.split("\n")
    (dose,) = [line.split("\t") for line in lines if line.startswith("in all\t")]
    assert len(dose) == 3 and all(field.endswith(" g") for field in dose[1:])
    assert any(line.startswith("care\t") for line in lines) and any(line.startswith("step\t1\t") for line in lines)
