"""The lines that `load` offers are put into the book by `write`, one after another, as a person would: none is refused, no bath is wanting."""

from __future__ import annotations

import io
import json
import random
from pathlib import Path

import pytest

from hideledger.cli import main
from hideledger.reading import read_book
from hideledger.rules.judge import judge
from hideledger.shopfloor.layout import lay_out
from tests.unit.test_cli_load import FRIDAY, MIXED, SHOP, Captured, book

_UNWANTED = {
    "no bath written",
    "two baths in one vessel",
    "in two places",
    "vessel over full",
    "unknown tag",
    "after it was out",
}


def some_shop(dice: random.Random) -> tuple[str, str]:
    """A shop and a page: hides at the door, fleshed, in the pickle or frozen; a bath for them, one of another sort, or none."""
    shop = (
        SHOP
        if dice.random() < 0.7
        else SHOP.replace("  first turn", "  pickle again stays at least 12 h, pH 0.8 to 2.2\n  first turn", 1)
    )
    if dice.random() < 0.5:
        shop += "vessel V3, tub, 30 gal, holds 4\nvessel D2, drum, 12 gal, holds 3\n"
    mixed = dice.random() < 0.6
    lines = [MIXED.strip()] if mixed else []
    if dice.random() < 0.3:
        lines.append("2026-11-02 08:30 L7 mixed in D1")
    for number in range(1, dice.randint(2, 9)):
        kind = dice.choice(["whitetail cape", "whitetail cape", "coyote", "elk cape"])
        due = dice.choice(["", ", promised 2026-11-20", ", promised 2026-11-10"])
        state = dice.choice(["green", "fleshed", "pickle" if mixed else "green", "frozen"])
        rest = ", frozen" if state == "frozen" and not due else ""
        lines.append(f"2026-11-03 09:00 H{number} in, {kind}, 5 lb{rest}, for Oren Vale{due}")
        if state in ("fleshed", "pickle"):
            lines.append(f"2026-11-03 10:00 H{number} fleshed")
        if state == "pickle":
            lines.append(f"2026-11-03 10:30 H{number} pickle in P1")
    return shop, "\n".join(lines) + "\n"


@pytest.mark.parametrize("seed", range(30))
def test_lines_offered_are_written_without_a_refusal_and_want_no_bath(
    tmp_path: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    shop, page = some_shop(random.Random(seed))
    place = book(tmp_path / "book", page, shop)
    main(["load", place, "--at", FRIDAY, "--json"])
    lines = json.loads(capsys.readouterr().out)["lines"]
    assert lines
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(("\n".join(lines) + "\n").encode()), encoding="utf-8"))
    code = main(["write", "--book", place, "--at", "2026-12-01 12:00"])
    assert code in (0, 1), capsys.readouterr().err
    after = read_book([place])
    assert not after.unread
    assert len(after.entries) == page.count("\n") + len(lines)
    for instant in sorted({entry.when.hi for entry in after.entries[page.count("\n") :]}):
        floor = lay_out(after, instant)
        assert not [one.message for one in judge(floor) if one.name in _UNWANTED]
