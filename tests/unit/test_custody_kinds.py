"""`custody`: a kind is found by every name it answers to."""

from __future__ import annotations

from pathlib import Path

import pytest

from hideledger.cli import main
from tests.unit.bill_book import AT, Captured, book

SHOP = """\
shop Fallow Creek Skins
  zone America/Chicago
kind whitetail deer or cape or whitetail

"""


@pytest.mark.parametrize("words", [["cape"], ["capes"], ["Whitetail"], ["whitetail", "deer"], ["whitetail", "deers"]])
def test_a_register_is_found_by_any_name_of_a_kind(words: list[str], tmp_path: Path, capsys: Captured) -> None:
    where = book(tmp_path, "2026-11-02 08:10 H1 in, cape, for Oren Vale\n2026-11-02 08:11 H2 in, for Ida Crane", SHOP)
    assert main(["custody", *words, "--book", where, *AT]) == 0
    told = capsys.readouterr().out
    assert "H1" in told
    assert "H2" not in told
