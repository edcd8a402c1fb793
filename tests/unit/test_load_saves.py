"""What `load` says would save a promise is put into the book, and planned anew from there: so many more promises are then kept."""

from __future__ import annotations

import json
import random
import re
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from hideledger.cli import main
from tests.unit.test_cli_load import SHOP, Captured, book

AT = date(2026, 11, 6)
TIGHT = SHOP.replace("V1, vat, 40 gal, holds 12", "V1, vat, 60 gal, holds 4").replace(
    "kind coyote", "vessel V3, vat, 60 gal, holds 4\nkind coyote"
)
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MIXED = "2026-11-02 08:00 P1 mixed in V1, recipe pickle, 20 gal water, 20 lb salt\n"


def a_book(sort: str, number: int = 1) -> str:
    """Capes promised too soon: many that wait for the drum, for today or for Sunday, or many that wait for the tub."""
    made = random.Random(number)
    count = {"today": 15, "tub": 9, "Sunday": 18}[sort] + made.randint(0, 1)
    lines = MIXED
    for place in range(1, count + 1):
        ready = sort != "tub" or place <= 2
        due = AT + timedelta(
            days={"today": made.choice((0, 0, 0, 0, 1)), "tub": made.choice((3, 3, 4)), "Sunday": 2}[sort]
        )
        lines += f"2026-11-02 09:{place:02d} H{place} in, whitetail cape, {made.randint(4, 6)} lb, green, promised {due.isoformat()}\n"
        lines += f"2026-11-02 10:{place:02d} H{place} fleshed\n"
        if ready:
            lines += f"2026-11-03 11:{place:02d} H{place} pickle in P1\n"
    return lines


def with_it(change: str, shop: str, lines: str) -> tuple[str, str]:
    """The book of a shop that did what was proposed."""
    if found := re.fullmatch(r"a bath like P1 mixed in ([A-Z0-9]+) too", change):
        return shop, lines + f"2026-11-06 11:00 P9 mixed in {found[1]}, recipe pickle, 20 gal water, 20 lb salt\n"
    if found := re.fullmatch(r"a second [a-z]+ like ([A-Z0-9]+)", change):
        line = next(line for line in shop.split("\n") if line.startswith(f"vessel {found[1]},"))
        another = line.replace(found[1], f"{found[1][0]}9", 1)
        if found[1] == "V1":
            lines += "2026-11-06 11:00 P9 mixed in V9, recipe pickle, 20 gal water, 20 lb salt\n"
        return shop.replace(line, f"{line}\n{another}"), lines
    hours = dict.fromkeys(WEEKDAYS[:5], "8:00 to 17:00") | {"Sat": "8:00 to 12:00"}
    shut: list[date] = []
    if found := re.fullmatch(r"an hour longer each ([A-Z][a-z]+)", change):
        start, end = hours[found[1]].split(" to ")
        hours[found[1]] = f"{start} to {int(end.split(':')[0]) + 1}:00"
    else:
        found = re.fullmatch(r"somebody there on ([A-Z][a-z]+) ([0-9]+) Nov", change)
        assert found, change
        hours[found[1]] = "8:00 to 17:00"
        wanted = date(2026, 11, int(found[2]))
        shut = [wanted + timedelta(weeks=week) for week in range(-1, 12) if week]
    plain = "".join(line + "\n" for line in shop.split("\n") if not line.startswith("  hours"))
    said = "".join(f"  hours {span}, {day}\n" for day, span in hours.items())
    said += "".join(f"  closed {day.isoformat()}\n" for day in shut)
    return plain.replace("  gallons US\n", said + "  gallons US\n"), lines


def planned(capsys: Captured, place: str) -> dict[str, Any]:
    assert main(["load", "--json", place, "--at", f"{AT.isoformat()} 11:30"]) in (0, 1)
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


@pytest.mark.parametrize(
    ("sort", "changes"),
    [
        ("today", ("a second drum like D1", "an hour longer each Fri")),
        ("tub", ("a bath like P1 mixed in V2 too", "a second vat like V1")),
        ("Sunday", ("a second drum like D1", "somebody there on Sun 8 Nov")),
    ],
)
def test_each_change_that_is_said_to_save_promises_saves_them(
    sort: str, changes: tuple[str, ...], tmp_path: Path, capsys: Captured
) -> None:
    lines = a_book(sort)
    before = planned(capsys, book(tmp_path / "before", lines, TIGHT))
    assert before["worth"]["missed"] > 0
    assert {saved["change"] for saved in before["saves"]} >= set(changes)
    for at, saved in enumerate(before["saves"]):
        shop, more = with_it(saved["change"], TIGHT, lines)
        after = planned(capsys, book(tmp_path / f"after{at}", more, shop))
        assert after["worth"]["missed"] <= before["worth"]["missed"] - saved["more_kept"], saved
