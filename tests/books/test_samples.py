"""Each sample book states in its comments what must be found at a given moment; anything missing, and anything extra, fails.

In a book's `shop.hides`: `# at 2026-11-09 18:00` begins a statement, `# found: overdue H42` and `# unread: march.hides:9` are its lines. Everything
counts: now, tonight and the whole record, of hides long gone too.
"""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest

from hideledger.model.moments import Clock
from hideledger.reading import read_book
from hideledger.reading.own_words import FINDINGS
from hideledger.rules.judge import judge
from hideledger.shopfloor.layout import lay_out

SAMPLES = Path(__file__).resolve().parents[2] / "sample_ledgers"
Found = tuple[str, tuple[str, ...]]


def statements(folder: Path) -> dict[str, tuple[Counter[Found], set[str]]]:
    """What the book says must be found, by moment: findings with their tags, unread lines as page and line."""
    stated: dict[str, tuple[Counter[Found], set[str]]] = {}
    at = ""
    for line in (folder / "shop.hides").read_text(encoding="utf-8").split("\n"):
        if moment := re.match(r"# at (\d{4}-\d{2}-\d{2} \d{2}:\d{2})\s*$", line):
            at = moment[1]
            stated[at] = (Counter(), set())
        elif found := re.match(r"# found: (.*)", line):
            name = max((name for name in FINDINGS if found[1].startswith(name)), key=len, default=None)
            assert name is not None, line
            stated[at][0][name, tuple(sorted(found[1][len(name) :].split()))] += 1
        elif unread := re.match(r"# unread: (\S+)", line):
            stated[at][1].add(unread[1])
    return stated


CASES = [(folder.name, at) for folder in sorted(SAMPLES.iterdir()) if folder.is_dir() for at in statements(folder)]


def instant(clock: Clock, at: str) -> int:
    day, time = at.split()
    hour, minute = time.split(":")
    year, month, date_of_month = (int(part) for part in day.split("-"))
    from datetime import date

    return clock.instant(date(year, month, date_of_month).toordinal(), int(hour) * 60 + int(minute))[0]


def test_every_sample_states_something() -> None:
    assert {name for name, _ in CASES} == {"first-week", "harbour-road", "rough", "tarrow-ridge"}


@pytest.mark.parametrize(("name", "at"), CASES)
def test_statement(name: str, at: str) -> None:
    folder = SAMPLES / name
    stated, unread = statements(folder)[at]
    book = read_book([str(folder)])
    found = Counter(
        (finding.name, tuple(sorted(finding.tags))) for finding in judge(lay_out(book, instant(book.clock, at)))
    )
    assert {"missing": sorted((stated - found).elements()), "extra": sorted((found - stated).elements())} == {
        "missing": [],
        "extra": [],
    }
    assert {f"{Path(trouble.place.file).name}:{trouble.place.line}" for trouble in book.unread} == unread


def test_the_season_is_large_enough() -> None:
    """At least eighty hides, several kinds, two and a half thousand lines as a person would write them."""
    book = read_book([str(SAMPLES / "tarrow-ridge")])
    lives = lay_out(book, instant(book.clock, "2027-02-28 18:00")).all_hides()
    assert len(lives) >= 80
    assert len({life.kind for life in lives if life.kind}) >= 5
    assert sum(source.text.count("\n") for source in book.sources) >= 2500
