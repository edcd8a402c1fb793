"""What is said back of every sort of line. The little books stand in tests/unit/written.

A page begins with a sentence and the shop that all its books share. Each book follows a line `== title`: `at` and the
moment, the lines of the book, `write` and the line, `said` and what is said of it, then every finding it brings up
(`found now overdue H1`) and what rings no longer (`right due H1`).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import pytest

from hideledger.answers.write.near import near
from hideledger.answers.write.understood import Understood, moment_of, understood
from hideledger.reading.book import read_sources
from hideledger.reading.draft import draft
from hideledger.reading.stamping import Moment, composed
from hideledger.shopfloor.layout import lay_out
from hideledger.text.source import Source

PAGES = Path(__file__).parent / "written"


@dataclass(frozen=True)
class Case:
    """One little book and the line that is written into it."""

    page: str
    title: str
    shop: str
    at: str
    lines: str
    line: str
    answer: tuple[str, ...]


def read_cases(page: Path) -> list[Case]:
    head, *books = re.split(r"(?m)^== ", page.read_text(encoding="utf-8"))
    cases = []
    for book in books:
        title, at, rest = book.split("\n", 2)
        lines, _, rest = f"\n{rest}".partition("\nwrite ")
        said = re.split(r"(?m)\n(?=said |found |right )", rest.strip("\n"))
        line, *answer = said
        shop = head.partition("\n")[2].strip("\n")
        cases.append(Case(page.stem, title, shop, at.removeprefix("at "), lines.strip("\n"), line, tuple(answer)))
    return cases


CASES = [case for page in sorted(PAGES.glob("*.txt")) for case in read_cases(page)]


def said_back(case: Case, *, short: int | None = None) -> Understood:
    """What is said of the case's line; `short` as `near` has it."""
    book = read_sources([Source(name="shop.hides", text=case.shop + "\n"), Source(name="p.hides", text=case.lines)])
    assert book.unread == ()
    local = datetime.strptime(case.at, "%Y-%m-%d %H:%M")
    at = book.clock.instant(local.toordinal(), local.hour * 60 + local.minute)[0]
    moment = Moment(at=at, day=local.toordinal(), time=f"{local:%H:%M}")
    made = draft(book, composed(case.line, moment, book.shop, book.clock), book.sources[1], moment)
    assert (made.unread, made.to_come) == ((), ())
    before, after = (made.before, made.after) if short is None else near(made, short=short)
    now = moment_of(made, at)
    return understood(made, lay_out(before, now), lay_out(after, now))


def in_words(told: Understood) -> tuple[str, ...]:
    return (
        *(f"said {said.words}" for said in told.said),
        *(f"found {finding.when} {' '.join([finding.name, *finding.tags])}" for finding in told.findings),
        *(f"right {' '.join([name, *tags])}" for name, tags in told.right),
    )


@pytest.mark.parametrize("case", CASES, ids=[f"{case.page}: {case.title}" for case in CASES])
def test_what_is_said_back(case: Case) -> None:
    assert in_words(said_back(case)) == case.answer


@pytest.mark.parametrize("case", CASES, ids=[f"{case.page}: {case.title}" for case in CASES])
def test_the_part_of_the_book_that_is_near_says_the_same(case: Case) -> None:
    assert in_words(said_back(case, short=0)) == case.answer


def test_every_sort_of_line_in_the_format_reference_is_said_back() -> None:
    """Each example by itself, in a book with none of what it names: something is said, and the tag it begins with."""
    text = (Path(__file__).resolve().parents[2] / "grammar" / "README.md").read_text(encoding="utf-8")
    entries = [line for block in re.findall(r"```hides\n(.*?)```", text, re.DOTALL) for line in block.split("\n")]
    shop = "shop Tarrow Ridge Skins\n  gallons US\n  degrees F\n  dates month first\nplace freezer\nmeasure dipper, 350 ml\nsupply salt\nsupply citric acid\nsupply oil\nsupply soda ash\nrecipe pickle\nkind whitetail cape\nkind elk cape\nprocess drum\n  in\n  fleshed\n  ears turned\n  lips split\n  salt\n  pickle\n  shaved\n  neutralised\n  drained\n  out\nprocess both\n  in\n  out\n"
    told = 0
    for line in entries:
        if not re.match(r"(?:2026-|struck|~)", line) or line.endswith(","):
            continue
        case = Case("", "", shop, "2026-12-31 12:00", "", line, ())
        (said,) = said_back(case).said
        assert said.words
        assert "noted:" not in said.words, line
        tag = re.match(r"[0-9-]+ (?:[0-9:]+ )?([A-Z]+[0-9]+) ", line)
        assert tag is None or tag[1] in said.words, (line, said.words)
        told += 1
    assert told > 60
