"""195 lines as a hurried person writes them: each is read as its row says, or refused with both readings. None is lost, none is misread.

Common practice, no source: the lines are of the kind people write in a notebook or on a phone. The rows stand in `hurried.txt`:
the line under its number, and below it what was read (month-day, time, those it is about, facts, remark) or where and why it is refused.
Lines 15 to 31 stand under a year alone, 32 in an empty file, all others under a date and a good line that ends in a remark.
"""

from __future__ import annotations

import re

import pytest

from tests.reading.told import HERE, read_with_trial_shop, told

Row = tuple[int, str, list[str]]


def rows(name: str) -> list[Row]:
    found: list[Row] = []
    for line in (HERE / name).read_text(encoding="utf-8").split("\n"):
        numbered = re.match(r"([0-9]+)\. (.*)", line)
        if numbered:
            found.append((int(numbered[1]), numbered[2], []))
        elif line.startswith("    "):
            found[-1][2].append(line.strip())
    return found


ROWS = rows("hurried.txt")
FORGIVEN = rows("forgiven.txt")


def above(number: int) -> str:
    if 15 <= number <= 31:
        return "2026\n"
    return "" if number == 32 else "2026-11-03\n06:00 H46 fleshed -- thin\n"


def outcome(number: int, line: str) -> list[str]:
    head = above(number)
    book = read_with_trial_shop(f"{head}{line}\n")
    at = head.count("\n") + 1
    read = [f"read: {told(entry, book.clock)}" for entry in book.entries if entry.at.line == at]
    refused = [
        f"refused at {trouble.place.column} [{trouble.code}]: {trouble.message}"
        for trouble in book.unread
        if trouble.place.line == at
    ]
    assert len(book.unread) == len(refused)
    return read + refused


def test_there_are_195_of_them() -> None:
    assert [number for number, _, _ in ROWS] == list(range(1, 196))


@pytest.mark.parametrize(("number", "line", "wanted"), ROWS, ids=[str(number) for number, _, _ in ROWS])
def test_line(number: int, line: str, wanted: list[str]) -> None:
    assert outcome(number, line) == wanted
    assert len(wanted) == 1


@pytest.mark.parametrize(("number", "line", "wanted"), FORGIVEN, ids=[line for _, line, _ in FORGIVEN])
def test_forgiven(number: int, line: str, wanted: list[str]) -> None:
    """Forms beyond the 195 that people were seen to write; each can be read in one way only."""
    assert number >= 1
    book = read_with_trial_shop(f"2026-11-03\n{line}\n")
    assert [f"read: {told(entry, book.clock)}" for entry in book.entries] == wanted
    assert not book.unread
