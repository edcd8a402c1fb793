"""The weight of skin that somebody asked for comes back as it was asked, to a tenth, in what `mix` says of brine and vessel."""

from __future__ import annotations

from pathlib import Path

import pytest

from hideledger.cli import main

SHOP = """\
shop Fallow Creek Skins
  zone America/Denver
  gallons {gallons}
vessel V1, vat, 40 gal
recipe pickle
  per gal water: 1 lb salt, 3 oz citric acid crystals
"""


@pytest.mark.parametrize("gallons", ["US", "imperial"])
@pytest.mark.parametrize("weight", ["14.5 lb", "15.5 lb", "7.5 lb"])
def test_half_a_pound_of_skin_is_not_lost(
    weight: str, gallons: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "shop.hides").write_text(SHOP.format(gallons=gallons), encoding="utf-8")
    assert main(["mix", "--book", str(tmp_path), "--at", "2026-11-03", f"pickle 20 gal for {weight} green in V1"]) == 0
    text = " ".join(capsys.readouterr().out.split())
    assert f"once the water of {weight} of wet skin has joined it" in text
    assert f"of liquor and {weight} of wet skin" in text
