"""Acid never meets bleach, a sulphide or a cyanide: nothing is reckoned, nothing is named in its place.

The warning is on every label of household bleach and in every handbook of the trade (chlorine, hydrogen sulphide, hydrogen cyanide); common
knowledge, here from memory.
"""

from pathlib import Path

import pytest

from hideledger.cli import main
from hideledger.rules.never import never_with_acid

Captured = pytest.CaptureFixture[str]
SHOP = """\
shop Fallow Creek Skins
  zone America/Chicago
  gallons US
  degrees F
vessel V1, vat, 40 gal, holds 12
supply salt
supply citric acid crystals
supply sulphuric acid, keep 1 gal, 93 %
supply wonder white or sodium hypochlorite
recipe sour wash
  per gal water: 1 lb salt, 3 oz citric acid crystals, 1 floz bleach
recipe other name
  per gal water: 1 floz sulfuric acid, 1 floz wonder white
recipe scrub
  per gal water: 1 floz bleach
recipe old pickle
  per gal water: 1 lb salt, 1 floz sulfuric acid
"""


@pytest.fixture
def book(tmp_path: Path) -> str:
    (tmp_path / "shop.hides").write_text(SHOP, encoding="utf-8")
    (tmp_path / "november.hides").write_text(
        "2026-11-03 08:00 P1 mixed in V1, 20 gal water, 3 floz sulfuric acid\n", encoding="utf-8"
    )
    return str(tmp_path)


@pytest.mark.parametrize(
    ("request_", "named"),
    [
        ("20 gal water, 60 oz citric acid crystals, 1 cup bleach", "bleach"),
        ("20 gal water, 60 oz citric acid, 1 cup bleach", "bleach"),
        ("20 gal at 2.4 to 5.0 with bleech", "bleech"),
        ("neutralise 60 oz citric acid crystals with calcium hypochlorite", "hypochlorite"),
        ("a splash of pool chlorine", "chlorine"),
        ("20 gal water, 2 oz sodium sulphide", "sulphide"),
        ("20 gal water, 2 oz pool shock", "pool shock"),
        ("20 gal water, 2 oz Cal-Hypo", "Cal-Hypo"),
        ("20 gal water, 2 oz sodium sulfide", "sulfide"),
        ("20 gal water, 2 oz potassium cyanide", "cyanide"),
        ("20 gal water, 60 oz citric acid crystals, 1 floz wonder white", "wonder white"),
    ],
)
def test_acid_reckons_nothing_with_it_and_proposes_nothing(
    request_: str, named: str, book: str, capsys: Captured
) -> None:
    assert main(["acid", "--gallons", "US", "--book", book, request_]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert f"`{named}` and acid give a gas that kills: never together" in err
    assert "did you mean" not in err and "wood" not in err


@pytest.mark.parametrize(
    "harmless",
    [
        "20 lb table salt, sodium chloride",
        "sodium sulphite",
        "alum, aluminium sulphate",
        "sulphuric acid",
        "wood bleach",
        "peroxide bleach",
    ],
)
def test_what_only_sounds_like_it_is_left_alone(harmless: str) -> None:
    assert never_with_acid(harmless) == ""


def test_an_unknown_bleach_is_never_taken_for_an_acid(capsys: Captured) -> None:
    assert main(["acid", "--gallons", "US", "20 gal water, 2 lb peroxide bleach"]) == 2
    assert "did you mean" not in capsys.readouterr().err


@pytest.mark.parametrize(("recipe", "named"), [("sour wash", "bleach"), ("other name", "wonder white")])
def test_mix_refuses_a_recipe_that_brings_them_together(recipe: str, named: str, book: str, capsys: Captured) -> None:
    assert main(["mix", "--book", book, recipe, "10 gal"]) == 2
    out, err = capsys.readouterr()
    assert out == "" and f"`{named}` and acid give a gas that kills: never together" in err
    assert "shop.hides:" in err


def test_mix_warns_with_a_recipe_of_bleach_alone(book: str, capsys: Captured) -> None:
    assert main(["mix", "--book", book, "scrub", "5 gal"]) == 0
    assert "bleach and acid give a gas that kills: never the same vessel, sink or drain" in capsys.readouterr().out


def test_a_line_that_brings_them_together_is_warned_of_as_it_is_written(book: str, capsys: Captured) -> None:
    asked = ["write", "--book", book, "--at", "2026-11-03 09:00"]
    assert main([*asked, "P1 add 1 cup bleach"]) == 1
    out = " ".join(capsys.readouterr().out.split())
    assert (
        "gas that kills: P1 bleach and sulphuric acid in one bath, Tue 3 Nov 09:00: together they give a gas that kills"
        in out
    )
    assert "everybody out into fresh air, stay out, and ring the emergency number" in out
    assert "suppliers' sheets" in out and "read it" not in out and "stir" not in out.replace("stirs", "")
    assert main(["check", book, "--at", "2026-11-03 09:05"]) == 1
    first = capsys.readouterr().out.split("\n")
    assert first[0].startswith("1 bath with a gas that kills")
    assert first[3].strip() == "gas that kills: P1"


def test_it_stands_before_all_else_that_is_for_now(book: str, capsys: Captured) -> None:
    page = Path(book) / "shop.hides"
    page.write_text(page.read_text(encoding="utf-8") + "supply aged salt, keep 5 lb\n", encoding="utf-8")
    with (Path(book) / "november.hides").open("a", encoding="utf-8") as month:
        month.write("2026-11-03 08:05 counted 0 lb aged salt\n2026-11-03 08:10 P9 stirred\n")
        month.write("2026-11-03 08:40 P1 add 8 oz sodium sulfide\n")
    assert main(["check", book, "--at", "2026-11-03 09:05"]) == 1
    shown = capsys.readouterr().out.split("\n")
    names = [line.strip().partition(":")[0] for line in shown if line.startswith("  ") and line[2:3] != " "]
    assert names[0] == "gas that kills" and "stock short" in names and "unknown tag" in names


@pytest.mark.parametrize(
    ("one", "other", "warned"),
    [
        ("1 cup bleach", "3 oz citric acid crystals", True),
        ("1 oz potassium cyanide", "1 pt vinegar", True),
        ("1 lb sodium sulphide", "1 pt muriatic acid", True),
        ("1 oz calcium hypochlorite", "1 lb oxalic crystals", True),
        ("1 lb pool shock", "1 pt vinegar", True),
        ("1 lb cal-hypo", "3 oz citric acid crystals", True),
        ("1 cup bleach", "2 lb alum", True),
        ("1 cup bleach", "14 lb alum tan", True),
        ("1 cup bleach", "1 cup ammonia", True),
        ("1 cup bleach", "1 cup toilet bowl cleaner", True),
        ("1 cup bleach", "1 cup drain cleaner", True),
        ("1 cup drain opener", "3 oz citric acid crystals", True),
        ("1 cup bleach", "1 pt rust remover", True),
        ("1 lb lime sulfur", "1 pt muriatic acid", True),
        ("1 cup ammonia", "3 oz citric acid crystals", False),
        ("2 lb alum", "3 oz citric acid crystals", False),
        ("1 pt rust remover", "3 oz citric acid crystals", False),
        ("1 lb sodium sulphide", "1 cup ammonia", False),
        ("1 cup bleach", "1 lb salt", False),
        ("1 cup bleach", "1 lb soda ash", False),
        ("1 lb peroxide bleach", "1 pt vinegar", False),
        ("1 lb sodium chloride", "1 pt vinegar", False),
    ],
)
def test_check_looks_at_names_in_either_order(one: str, other: str, warned: bool, book: str, capsys: Captured) -> None:
    for first, second in ((one, other), (other, one)):
        lines = f"2026-11-03 08:00 P2 mixed, 5 gal water, {first}\n2026-11-03 08:30 P2 add {second}\n"
        (Path(book) / "november.hides").write_text(lines, encoding="utf-8")
        main(["check", book, "--at", "2026-11-03 09:00"])
        assert ("gas that kills: P2" in capsys.readouterr().out) == warned


def answered(capsys: Captured, *argv: str) -> str:
    assert main([*argv]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    return " ".join(out.split())


@pytest.mark.parametrize("spelt", ["sulphuric", "sulfuric"])
def test_both_spellings_of_sulphuric_acid_are_read_and_one_is_shown(spelt: str, book: str, capsys: Captured) -> None:
    acid = ["acid", "--gallons", "US"]
    assert "of pure sulphuric acid" in answered(capsys, *acid, "--book", book, f"20 gal water, 3 floz {spelt} acid")
    assert "of 93 % sulphuric acid" in answered(capsys, *acid, f"20 gal at 2.4 to 2.0 with 93 % {spelt} acid")
    # in brine, the request comes back as it was written: 40.6 sal whichever way it is spelt
    assert "40.6 sal" in answered(capsys, "brine", "--gallons", "US", f"20 gal water, 20 lb salt, 1 lb {spelt} acid")


def test_the_other_spelling_finds_the_supply_of_the_shop(book: str, capsys: Captured) -> None:
    assert main(["check", book, "--at", "2026-11-03 09:00"]) == 0
    assert "unknown supply" not in capsys.readouterr().out
    assert main(["mix", "--book", book, "old pickle", "10 gal"]) == 0
    out, _ = capsys.readouterr()
    assert "10 floz" in out and "of what strength" not in out


@pytest.mark.parametrize(
    ("name", "may_be"),
    [
        ("drain cleaner", "lye, lye with bleach in it, or sulphuric acid"),
        ("toilet cleaner", "hydrochloric acid, or bleach"),
    ],
)
def test_what_may_be_acid_or_bleach_is_refused_by_acid_with_both(name: str, may_be: str, capsys: Captured) -> None:
    assert main(["acid", "--gallons", "US", f"20 gal water, 1 cup {name}"]) == 2
    out, err = capsys.readouterr()
    assert out == "" and f"`{name}` is {may_be} by its label, and with acid it may give a gas that kills" in err


@pytest.mark.parametrize(
    ("one", "other", "said"),
    [
        ("1 floz bleach", "2 oz alum", "`bleach` and `alum` give a gas that kills"),
        ("1 floz bleach", "1 floz ammonia", "`bleach` and `ammonia` give a gas that kills"),
        ("1 oz pool shock", "3 oz citric acid crystals", "`pool shock` and acid give a gas that kills"),
        ("1 floz drain cleaner", "1 floz bleach", "a gas that kills"),
    ],
)
def test_mix_refuses_household_names_and_alum_beside_bleach(
    one: str, other: str, said: str, book: str, capsys: Captured
) -> None:
    with (Path(book) / "shop.hides").open("a", encoding="utf-8") as page:
        page.write(f"recipe wash\n  per gal water: {one}, {other}\n")
    assert main(["mix", "--book", book, "wash", "10 gal"]) == 2
    out, err = capsys.readouterr()
    assert out == "" and said in err and "shop.hides:" in err


def test_a_recipe_with_alum_says_what_it_must_not_meet(book: str, capsys: Captured) -> None:
    with (Path(book) / "shop.hides").open("a", encoding="utf-8") as page:
        page.write("recipe tawing\n  per gal water: 1 lb salt, 1 lb alum\n")
    text = answered(capsys, "mix", "--book", book, "tawing", "10 gal")
    assert "alum is a salt of acid: with bleach, pool shock or a sulphide it gives a gas that kills" in text
