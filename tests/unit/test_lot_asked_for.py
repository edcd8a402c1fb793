"""Who asks for a lot where hides are meant hears that it is one, and who tells of it."""

from pathlib import Path

import pytest

from hideledger.cli import main

Captured = pytest.CaptureFixture[str]

BOOK = """\
shop Fallow Creek Skins
  zone America/Chicago
  gallons US
vessel V1, vat, 40 gal
kind whitetail cape or cape
supply citric acid or citric, $2.10 per lb
process both
  in
  fleshed
  pickle  stays at least 3 d
  out

2026-11-02 08:00 bought 10 lb citric acid lot C-11, $21.00
2026-11-02 08:10 P3 mixed in V1, 20 gal water, 60 oz citric acid lot C-11
2026-11-02 09:00 H20 in, cape, 7 lb, green, for Oren Vale
2026-11-02 10:00 H20 fleshed
"""
TOLD = "C-11 is a lot of citric acid and no hide; hideledger stock C-11 tells of it"


@pytest.fixture
def book(tmp_path: Path) -> str:
    page = tmp_path / "book.hides"
    page.write_text(BOOK, encoding="utf-8")
    return str(page)


@pytest.mark.parametrize(
    "asked",
    [
        ("slip", "C-11"),
        ("slip", "c-11"),
        ("history", "C-11"),
        ("history", "lot", "C-11"),
        ("history", "H20", "C-11"),
        ("cost", "C-11"),
        ("owed", "C-11"),
        ("owed", "H20", "C-11"),
    ],
)
def test_a_lot_is_told_from_a_hide(asked: tuple[str, ...], book: str, capsys: Captured) -> None:
    assert main([*asked, "--book", book, "--at", "2026-11-02 12:00"]) == 1
    assert TOLD in capsys.readouterr().err


def test_what_is_told_to_be_asked_can_be_asked(book: str, capsys: Captured) -> None:
    assert main(["stock", "C-11", "--book", book, "--at", "2026-11-02 12:00"]) == 0
    assert "lot C-11" in capsys.readouterr().out


def test_a_code_that_is_no_lot_is_not_in_the_book(book: str, capsys: Captured) -> None:
    assert main(["slip", "C-12", "--book", book, "--at", "2026-11-02 12:00"]) == 1
    assert "C-12 is not in the book" in capsys.readouterr().err
