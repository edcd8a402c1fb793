"""Every example of the documentation is read, and every example of what is refused is refused."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from hideledger.reading import read_text
from hideledger.reading.define_lines import is_definition
from hideledger.reading.grammar import grammar_folder
from hideledger.reading.own_words import FINDINGS
from tests.reading.told import read_with_trial_shop
from tests.unit.rule_names import NAMES

ROOT = Path(__file__).resolve().parents[2]
PAGES = [grammar_folder() / "README.md", ROOT / "README.md", ROOT / "DEVELOPERS.md"]


def blocks(sort: str) -> list[tuple[str, str]]:
    """The fenced examples of a sort, each with the page and line it stands on."""
    found = []
    for page in PAGES:
        text = page.read_text(encoding="utf-8")
        for block in re.finditer(rf"^```{sort}\n(.*?)^```", text, re.DOTALL | re.MULTILINE):
            line = text.count("\n", 0, block.start()) + 1
            found.append((f"{page.parent.name}/{page.name}:{line}", block[1]))
    return found


@pytest.mark.parametrize(("where", "page"), blocks("hides"), ids=[where for where, _ in blocks("hides")])
def test_example_is_read(where: str, page: str) -> None:
    book = read_text(page) if is_definition(page.split("\n", maxsplit=1)[0]) else read_with_trial_shop(page)
    assert [(trouble.place.line, trouble.message) for trouble in book.unread] == [], where
    assert book.entries or is_definition(page.split("\n", maxsplit=1)[0])


@pytest.mark.parametrize(("where", "page"), blocks("refused"), ids=[where for where, _ in blocks("refused")])
def test_example_is_refused(where: str, page: str) -> None:
    for line in page.strip().split("\n"):
        book = read_with_trial_shop(f"2026-11-03\n06:00 H46 fleshed -- thin\n{line}\n")
        assert [trouble.place.line for trouble in book.unread] == [3], (where, line)


def test_there_are_examples() -> None:
    assert len(blocks("hides")) >= 16
    assert len(blocks("refused")) >= 5


def test_every_finding_can_be_waived() -> None:
    """Whatever a rule says can be answered on the page in the same words."""
    assert set(NAMES) <= set(FINDINGS)
    for name in NAMES:
        assert not read_with_trial_shop(f"2026-11-03 08:00 H41 waived {name} -- seen to\n").unread
