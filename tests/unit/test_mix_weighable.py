"""`mix` says and writes only amounts that somebody can weigh or pour: in the shop's own unit, to its step, to four figures at most.

Steps, units and the shelf are common practice, no source; the densities come from the tables named in `hideledger/trade/strengths.py`.
"""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from hideledger.cli import main

Captured = pytest.CaptureFixture[str]

SHOP = """\
shop Fallow Creek Skins
  zone America/Chicago
  gallons US
{shop}supply salt, $0.19 per lb{salt}
supply citric acid crystals or citric, {price}{acid}
supply formic acid, {strength}{formic}
recipe pickle
  per gal water: 1 lb salt, 3 oz citric
recipe metric
  per L water: 120 g salt, 22 g citric
recipe sharp
  per gal water: 1 lb salt, 1/2 floz formic acid
recipe strong
  per gal water: 1 lb salt, 0.02 lb formic acid
"""
LINES = "2026-11-01 08:00 bought 180 lb salt\n2026-11-01 08:00 bought 7 kg citric acid crystals\n"


def mixed(
    tmp_path: Path,
    capsys: Captured,
    request: str,
    *,
    shop: str = "",
    salt: str = "",
    acid: str = "",
    price: str = "$2.40 per lb",
    strength: str = "85 %",
    formic: str = "",
) -> dict[str, object]:
    """The answer for a program, with the sheet as it is printed under `text`."""
    page = SHOP.format(shop=shop, salt=salt, acid=acid, price=price, strength=strength, formic=formic)
    (tmp_path / "shop.hides").write_text(page, encoding="utf-8", newline="\n")
    (tmp_path / "november.hides").write_text(LINES, encoding="utf-8", newline="\n")
    asked = ["mix", "--book", str(tmp_path), "--at", "2026-11-03", request]
    assert main([*asked, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert isinstance(found, dict)
    assert main(asked) == 0
    return {**found, "text": " ".join(capsys.readouterr().out.split())}


@pytest.mark.parametrize(
    ("said", "request_", "written"),
    [
        # a scale of quarter ounces shows no 1.2656 lb, and no 198.4467 g
        ({"shop": "  weighed to 1/4 oz\n"}, "pickle 1.26 gal", "20 1/4 oz salt, 3 3/4 oz citric"),
        ({"shop": "  weighed to 1/4 oz\n"}, "metric 1.65 L", "7 oz salt, 1 1/4 oz citric"),
        ({"shop": "  weighed to 1 oz\n"}, "pickle 12.3 gal", "12 5/16 lb salt, 37 oz citric"),
        ({"shop": "  weighed to 5 g\n"}, "pickle 1.26 gal", "570 g salt, 105 g citric"),
        ({"shop": "  weighed to 5 g\n"}, "pickle 12.3 gal", "5.58 kg salt, 1045 g citric"),
        ({"shop": "  weighed to 1 g\n"}, "metric 99 L", "11.88 kg salt, 2.178 kg citric"),
        # the supply's own line goes before the shop's
        ({"shop": "  weighed to 5 g\n", "salt": ", weighed to 1/4 lb"}, "pickle 75 L", "19 3/4 lb salt, 1685 g citric"),
        ({"acid": ", weighed to 1/3 oz"}, "pickle 1 1/2 gal", "1 1/2 lb salt, 4 2/3 oz citric"),
        # nobody has said how fine
        ({}, "pickle 12.3 gal", "12.3 lb salt, 37 oz citric"),
        ({}, "pickle 3 imperial gal", "3.6 lb salt, 10.8 oz citric"),
        ({}, "pickle 0.3 gal", "4.8 oz salt, 0.9 oz citric"),
        ({}, "metric 75.708 L", "9.1 kg salt, 1670 g citric"),
        ({}, "pickle 1234 gal", "1230 lb salt, 231 lb citric"),
    ],
)
def test_what_is_written_can_be_weighed(
    said: dict[str, str], request_: str, written: str, tmp_path: Path, capsys: Captured
) -> None:
    found = mixed(tmp_path, capsys, request_, **said)
    assert str(found["write"]).endswith(f" water, {written}")
    # and the figures of the sheet too, but for the `times` of the basis
    text = re.sub(r"times [0-9.]+", "", str(found["text"]))
    assert not re.findall(r"[0-9]*[.][0-9]{4,}|[0-9]{5,}[.][0-9]+", text)


def test_a_liquid_acid_never_comes_to_ounces_that_could_be_either(tmp_path: Path, capsys: Captured) -> None:
    for shop in ("", "  weighed to 1/4 oz\n"):
        found = mixed(tmp_path, capsys, "strong 20.3 gal", shop=shop)
        assert re.search(r"0[.]4[01]?[0-9]* lb formic acid$", str(found["write"])), found["write"]


def test_water_asked_for_in_another_gallon_is_poured_by_three_figures(tmp_path: Path, capsys: Captured) -> None:
    assert str(mixed(tmp_path, capsys, "pickle 3 imperial gal")["write"]).startswith("P1 mixed, recipe pickle, 3.6 gal")


def test_the_strength_that_is_told_is_that_of_the_rounded_amounts(tmp_path: Path, capsys: Captured) -> None:
    """On a scale of whole pounds 12.4 lb of salt in 12.4 gal are 12: 9.68 parts to 100 of water (8.328 lb a gallon), 10.4 %."""
    found = mixed(tmp_path, capsys, "pickle 12.4 gal", salt=", weighed to 1 lb")
    assert found["salt_percent"] == pytest.approx(100 * 12 / (12 + 12.4 * 8.328), abs=0.02)
    assert found["salt_percent"] != pytest.approx(100 / (1 + 8.328), abs=0.1)


@pytest.mark.parametrize(
    ("request_", "price", "salt", "acid"),
    [
        (
            "pickle 20 gal",
            "$2.40 per lb",
            "180 lb by the book, 160 lb after this",
            "247 oz by the book, 187 oz after this",
        ),
        (
            "metric 75 L",
            "$2.40 per lb",
            "180 lb by the book, 160 lb after this",
            "15.4 lb by the book, 11.8 lb after this",
        ),
        ("metric 75 L", "$5 per kg", "180 lb by the book, 160 lb after this", "7 kg by the book, 5.35 kg after this"),
        ("pickle 200 gal", "$2.40 per lb", "180 lb by the book: 20 lb short", "15.4 lb by the book: 22.1 lb short"),
    ],
)
def test_the_shelf_is_told_in_a_unit_that_somebody_thinks_in(
    request_: str, price: str, salt: str, acid: str, tmp_path: Path, capsys: Captured
) -> None:
    text = str(mixed(tmp_path, capsys, request_, price=price)["text"])
    assert f"shelf {salt}" in text
    assert f"shelf {acid}" in text


def test_which_step_was_taken_is_said_for_each(tmp_path: Path, capsys: Captured) -> None:
    text = str(mixed(tmp_path, capsys, "pickle 75 L")["text"])
    assert "how fine salt and citric are measured is not written; salt was rounded to 0.1 lb, citric to 1/2 oz" in text
    assert "(`supply salt, weighed to 0.1 lb`)" in text
    fine = mixed(tmp_path, capsys, "pickle 75 L", shop="  weighed to 1 oz\n")
    assert "is not written" not in str(fine["text"])


@pytest.mark.parametrize(
    ("strength", "formic", "from_memory"),
    [("85 %", "", True), ("60 %", "", False), ("85 %", ", 10 lb per gal", False)],
)
def test_a_density_from_memory_is_said_beside_the_answer(
    strength: str, formic: str, from_memory: bool, tmp_path: Path, capsys: Captured
) -> None:
    """The handbook's table ends at 70 % formic acid; what the shop wrote itself is no figure from memory."""
    text = str(mixed(tmp_path, capsys, "sharp 20 gal", strength=strength, formic=formic)["text"])
    told = "`10 floz formic acid` was turned into weight with 1.195 kg a litre, a figure from memory; its sheet has the right one"
    assert (told in text) == from_memory
    assert "memory" not in str(mixed(tmp_path, capsys, "strong 20 gal", strength=strength)["text"])
