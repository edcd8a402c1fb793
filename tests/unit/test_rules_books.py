"""Every finding has a little book that raises it and a near one that does not. The books stand in tests/unit/rules.

A page begins with a sentence and the shop that all its books share. Each book follows a line `== title`: `at` and the moment, the lines of
the book, `found`, and every finding in order, as `now overdue H1 P1`, with `may`, `silent` (wakes nobody), or `ended`
(told in the long list only) behind it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import pytest

from hideledger.model.book import Book
from hideledger.reading import read_text
from hideledger.rules.all_rules import ALL_RULES
from hideledger.rules.finding import Finding
from hideledger.rules.judge import judge
from hideledger.rules.meanings import MEANINGS, meaning_of
from hideledger.shopfloor.layout import lay_out
from tests.unit.rule_names import NAMES

PAGES = Path(__file__).parent / "rules"
COMMAND = re.compile("`([^`]+)`")


@dataclass(frozen=True)
class Case:
    """One little book."""

    page: str
    title: str
    at: str
    text: str
    found: tuple[str, ...]


def read_cases(page: Path) -> list[Case]:
    head, *books = re.split(r"(?m)^== ", page.read_text(encoding="utf-8"))
    shop = head.partition("\n")[2].strip("\n")
    cases = []
    for book in books:
        title, _, rest = book.partition("\n")
        at, _, rest = rest.partition("\n")
        lines, _, found = rest.partition("\nfound") if not rest.startswith("found") else ("", "", rest[5:])
        cases.append(
            Case(
                page=page.stem,
                title=title,
                at=at.removeprefix("at "),
                text=f"{shop}\n\n{lines}\n",
                found=tuple(line.strip() for line in found.split("\n") if line.strip()),
            )
        )
    return cases


CASES = [case for page in sorted(PAGES.glob("*.txt")) for case in read_cases(page)]


def moment(book: Book, text: str) -> int:
    local = datetime.strptime(text, "%Y-%m-%d %H:%M")
    return book.clock.instant(local.toordinal(), local.hour * 60 + local.minute)[0]


def found_in(text: str, at: str) -> tuple[Book, list[Finding]]:
    book = read_text(text)
    return book, judge(lay_out(book, moment(book, at)))


def said(finding: Finding) -> str:
    words = [finding.when, finding.name, *finding.tags]
    words += ["may"] * finding.may + ["silent"] * (not finding.rings) + ["ended"] * finding.ended
    return " ".join(words)


@pytest.mark.parametrize("case", CASES, ids=[f"{case.page}: {case.title}" for case in CASES])
def test_what_is_found(case: Case) -> None:
    book, found = found_in(case.text, case.at)
    if case.page != "unread":
        assert [str(complaint.place) + " " + complaint.message for complaint in book.unread] == []
    assert [said(finding) for finding in found] == list(case.found)


def test_every_finding_is_raised_by_some_book_and_absent_from_another() -> None:
    raised = {name for case in CASES for name in NAMES if any(f" {name} " in f"{line} " for line in case.found)}
    assert set(NAMES) - raised == set()
    for page in {case.page for case in CASES}:
        assert any(not case.found for case in CASES if case.page == page), f"nothing is quiet on {page}"


def test_every_finding_has_a_meaning_and_every_meaning_a_finding() -> None:
    assert set(MEANINGS) == set(NAMES)
    for name, meaning in MEANINGS.items():
        assert meaning_of(name.upper()) is meaning
        assert all((meaning.seen, meaning.harm, meaning.source, meaning.write))


def test_every_rule_begins_with_a_fact_and_bears_its_name() -> None:
    for rule in ALL_RULES:
        doc = (rule.judge.__doc__ or "").partition("\n")[0]
        assert doc.endswith("."), rule.name
        assert len(doc.split()) > 6, rule.name


@pytest.mark.parametrize("case", CASES, ids=[f"{case.page}: {case.title}" for case in CASES])
def test_what_to_write_can_be_read(case: Case) -> None:
    """What a finding tells to write is a line that this very book can read, and no line has a hole left in it."""
    book, found = found_in(case.text, case.at)
    known = {(complaint.text, complaint.message) for complaint in book.unread}
    for finding in found:
        assert "{" not in finding.do, finding.do
        assert finding.message
        assert finding.do
        for line in COMMAND.findall(finding.do):
            if line.startswith(("zone", "supply", "customer", "kind ", "struck")):
                continue  # words of the shop file, and the mark of a struck line
            dated = line if re.match("[0-9]{4}-", line) else f"2027-12-01 12:00 {line}"
            again = read_text(f"{case.text}\n{dated}\n")
            new = [(c.text, c.message) for c in again.unread if (c.text, c.message) not in known]
            assert new == [], (finding.name, line)
