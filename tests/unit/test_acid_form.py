"""An acid that is sold in two forms is asked for by its bare name: the form is the one that the shop's supply line or the bath's own lines say, and the
answer names the line; where neither says it, or they say two, it is asked.

Crystals of citric acid weigh 210.138 g a mole, without their water 192.123; oxalic acid 126.064 and 90.034 (standard atomic weights).
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from hideledger.cli import main

Captured = pytest.CaptureFixture[str]
AT = ("--at", "2026-11-03 09:00")


class Shop:
    """A shop with these supply lines, whose P1 was made with `acid`, and what followed."""

    def __init__(self, folder: Path, capsys: Captured) -> None:
        self.folder, self.capsys = folder, capsys

    def made(self, *supplies: str, acid: str, later: str = "") -> None:
        lines = "".join(f"supply {supply}\n" for supply in ("salt", *supplies))
        shop = f"shop Fallow Creek Skins\n  zone America/Denver\n  gallons US\n{lines}"
        (self.folder / "shop.hides").write_text(shop, encoding="utf-8", newline="\n")
        mixed = f"2026-11-02 08:30 P1 mixed, 20 gal water, 20 lb salt, 60 oz {acid}\n"
        read = "2026-11-02 09:30 P1 pH 2.2 meter\n"
        (self.folder / "november.hides").write_text(mixed + later + read, encoding="utf-8", newline="\n")

    def dose(self, words: str) -> tuple[dict[str, object], str]:
        assert main(["acid", "--json", *AT, words]) == 0
        found = json.loads(self.capsys.readouterr().out)
        assert main(["acid", *AT, words]) == 0
        return found, " ".join(self.capsys.readouterr().out.split())

    def asks(self, words: str) -> str:
        assert main(["acid", *AT, words]) == 2
        return self.capsys.readouterr().err


@pytest.fixture(name="shop")
def _shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured) -> Shop:
    monkeypatch.setenv("HIDELEDGER_BOOK", str(tmp_path))
    return Shop(tmp_path, capsys)


@pytest.mark.parametrize(
    ("form", "whole", "bare"),
    [
        ("citric acid crystals", "citric acid, crystals", "citric acid"),
        ("citric acid crystals", "citric acid, crystals", "citric"),
        ("anhydrous citric acid", "citric acid, anhydrous", "citric acid"),
        ("oxalic acid crystals", "oxalic acid, crystals", "oxalic acid"),
        ("anhydrous oxalic acid", "oxalic acid, anhydrous", "oxalic"),
    ],
)
def test_the_bath_says_in_which_form_it_was_made(form: str, whole: str, bare: str, shop: Shop) -> None:
    shop.made(acid=form)
    bare_asked, text = shop.dose(f"P1 to 2.0 with {bare}")
    in_full, in_full_text = shop.dose(f"P1 to 2.0 with {form}")
    assert bare_asked == in_full and bare_asked["with"] == whole
    said = f"`{bare}` is {whole} by what P1 was made with"
    assert said in text and "november.hides:1)" in text and said not in in_full_text


@pytest.mark.parametrize(
    "supply", ["anhydrous citric acid", "anhydrous citric acid or citric acid", "sour powder or anhydrous citric acid"]
)
def test_the_supply_line_says_it(supply: str, shop: Shop) -> None:
    name = supply.split(" or ", maxsplit=1)[0]
    shop.made(supply, acid=name)
    asked = "sour powder" if name == "sour powder" else "citric acid"
    found, text = shop.dose(f"P1 to 2.0 with {asked}")
    assert found["with"] == "citric acid, anhydrous"
    assert (
        f"`{asked}` is citric acid, anhydrous by the shop's line `supply {name}`" in text or "november.hides:1)" in text
    )
    found, text = shop.dose(f"20 gal at 2.4 to 2.0 with {asked}")
    assert found["with"] == "citric acid, anhydrous"
    assert f"by the shop's line `supply {name}`" in text and "shop.hides:5)" in text


def test_what_the_request_says_of_the_bath_is_taken_too(shop: Shop) -> None:
    shop.made(acid="vinegar")
    found, text = shop.dose("20 gal, 60 oz anhydrous citric acid at 2.1 to 2.0 with citric acid")
    assert found["with"] == "citric acid, anhydrous"
    assert "`citric acid` is citric acid, anhydrous by your `60 oz anhydrous citric acid`" in text


def test_a_form_that_nobody_wrote_is_asked_for(shop: Shop) -> None:
    shop.made("citric acid", acid="citric acid")
    assert "crystals (monohydrate) or anhydrous?" in shop.asks("P1 to 2.0 with citric acid")
    assert "crystals (monohydrate) or anhydrous?" in shop.asks("20 gal at 2.4 to 2.0 with citric acid")


def test_two_forms_are_both_named_with_their_lines(shop: Shop) -> None:
    more = "2026-11-02 08:40 P1 add 8 oz anhydrous citric acid\n"
    shop.made(acid="citric acid crystals", later=more)
    heard = shop.asks("P1 to 2.0 with citric acid")
    assert "crystals by what P1 was made with" in heard and "november.hides:1)" in heard
    assert "anhydrous by what P1 was made with" in heard and "november.hides:2)" in heard
    assert "write `citric acid crystals` or `anhydrous citric acid`" in heard
    assert shop.dose("P1 to 2.0 with anhydrous citric acid")[0]["with"] == "citric acid, anhydrous"


def test_a_shelf_that_holds_the_other_form_than_the_bath_is_asked_about(shop: Shop) -> None:
    shop.made("anhydrous citric acid", acid="citric acid crystals")
    heard = shop.asks("P1 to 2.0 with citric acid")
    assert "anhydrous by the shop's line `supply anhydrous citric acid`" in heard and "shop.hides:5)" in heard
    assert "crystals by what P1 was made with" in heard


def test_the_strength_of_the_supply_holds_for_a_form_that_only_the_bath_says(shop: Shop) -> None:
    """A powder of half strength takes twice the weight."""
    shop.made("citric acid, 50 %", acid="citric acid", later="2026-11-02 08:40 P1 add 8 oz citric crystals\n")
    half, _ = shop.dose("P1 to 2.0 with citric acid")
    whole, _ = shop.dose("P1 to 2.0 with citric crystals")
    assert isinstance(half["about_g"], float) and isinstance(whole["about_g"], float)
    assert half["about_g"] == pytest.approx(2 * whole["about_g"], rel=1e-3)
