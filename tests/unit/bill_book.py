"""A shop with prices, and how its bills and costs are asked for: for the tests of `owed` and `cost`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from hideledger.cli import main

Captured = pytest.CaptureFixture[str]

SHOP = """\
shop Fallow Creek Skins
  zone America/Chicago
  hours 8:00 to 18:00, Mon to Sat
  gallons US
vessel V1, vat, 40 gal
kind cape, process tub
kind skin, counts 2, process tub
kind back skin, process tub
kind coyote, process tub
supply salt, $0.20 per lb
supply oil
charge cape, $92, $15 rush, $10 ears turned
charge skin, $130
charge back skin, $60
charge fleshed, $12
charge storage, $2 per d, free for 7 d
sent out, $58 per hide, $31 freight
process tub
  in
  fleshed      optional
  ears turned  optional
  salt         stays at least 12 h, optional
  pickle       stays at least 3 d, pH 0.8 to 2.2
  oiled        optional
  out

"""
AT = ("--at", "2026-11-20 12:00")


def book(folder: Path, lines: str, shop: str = SHOP) -> str:
    """A book of one page; its folder."""
    (folder / "book.hides").write_text(f"{shop}{lines}\n", encoding="utf-8")
    return str(folder)


def said(capsys: Captured, command: str, where: str, *words: str, at: tuple[str, str] = AT) -> str:
    """The sheet, its folded lines made one."""
    assert main([command, *words, "--book", where, *at]) == 0
    return " ".join(capsys.readouterr().out.split())


def record(capsys: Captured, command: str, where: str, *words: str, at: tuple[str, str] = AT) -> dict[str, object]:
    """The answer for a program."""
    assert main([command, "--json", *words, "--book", where, *at]) == 0
    found = json.loads(capsys.readouterr().out)
    assert isinstance(found, dict)
    return found


def hides(found: dict[str, object]) -> dict[str, dict[str, object]]:
    """The hides of such an answer by their tags."""
    rows = found["hides"]
    assert isinstance(rows, list)
    return {row["tag"]: row for row in rows}
