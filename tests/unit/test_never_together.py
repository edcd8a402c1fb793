"""Acid never meets bleach, a sulphide or a cyanide: nothing is reckoned, nothing is named in its place.

The warning is on every label of household bleach and in every handbook of the trade (chlorine, hydrogen sulphide, hydrogen cyanide); common
knowledge, here from memory.
"""

from pathlib import Path

import pytest

from hideledger.rules.never import never_with_acid
from hideledger.cli import main

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
