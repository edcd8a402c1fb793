"""Every finding that can be told can be explained, by its own plain words."""

import json
import re

import pytest

from hideledger.answers.meaning import NoSuchFinding, meaning
from hideledger.answers.slip.causes import CAUSES
from hideledger.cli import main
from hideledger.model.facts import Flaw
from hideledger.reading import read_text
from hideledger.render.card import card
from hideledger.rules.all_rules import ALL_RULES
from hideledger.rules.meanings import MEANINGS

Captured = pytest.CaptureFixture[str]


@pytest.mark.parametrize("name", sorted({rule.name for rule in ALL_RULES}))
def test_every_finding_has_a_meaning(name: str) -> None:
    text = card(meaning(name))
    assert text.startswith(f"{name}\n")
    for heading in ("What was seen", "Why it harms", "How that is known", "What to write on the page"):
        assert f"\n\n{heading}\n  " in text
    assert max(len(line) for line in text.split("\n")) <= 80


# What somebody can look up: a standard, a law, a book, a paper.
PUBLISHED = (
    "CFR",
    "NCAC",
    "VAC",
    "ISO 3380",
    "CRC Handbook",
    "IANA time zone database",
    "Theil (1950)",
    "FAO Fisheries Technical Paper 348",
    "Library of Congress, 1982",
    "Home Taxidermy for Pleasure and Profit (1916)",
    "Diseases of Wisconsin Furbearers",
    "Camping and Woodcraft",
)


@pytest.mark.parametrize("name", sorted(MEANINGS))
def test_every_finding_says_its_source_or_that_there_is_none(name: str) -> None:
    source = MEANINGS[name].source
    assert any(words in source for words in (*PUBLISHED, "common practice, no source", "the shop's own line")), source
    assert not re.search("what an investigator|accounts|pages|policies", source), "nobody can look that up"


def test_the_list_names_them_all() -> None:
    rows = meaning("").sections[0].rows
    assert {row.plain[0] for row in rows} == {rule.name for rule in ALL_RULES}


@pytest.mark.parametrize(
    ("asked", "near"),
    [
        ("came out erly", "came out early"),
        ("over due", "overdue"),
        ("slip nearb", "slip nearby"),
        ("slipp", "slip"),
        ("grease brun", "grease burn"),
        ("out of rang now", "out of range now"),
    ],
)
def test_a_misspelt_name_gets_the_nearest(asked: str, near: str) -> None:
    with pytest.raises(NoSuchFinding, match=f"did you mean {near}\\?"):
        meaning(asked)


@pytest.mark.parametrize(
    ("asked", "title", "looks"),
    [
        ("slip", "slip, a defect", "hair and outer skin come off in patches"),
        ("hair slip", "slip, a defect", "hair and outer skin come off in patches"),
        ("Burnt", "burn, a defect", "it tears like wet paper"),
        ("tear", "tear, a defect", "it gives way in the hand"),
    ],
)
def test_a_defect_is_explained_as_well(asked: str, title: str, looks: str) -> None:
    text = card(meaning(asked))
    assert text.startswith(f"{title}\n")
    assert f"What it looks like\n  {looks}" in text
    assert "common practice, no source" in text
    for heading in (
        "What it usually comes from",
        "How to tell it",
        "Whether it can be mended",
        "What to write on the page",
    ):
        assert f"\n\n{heading}\n  " in text


@pytest.mark.parametrize("defect", sorted(CAUSES))
def test_what_a_defect_is_to_be_written_as_can_be_read(defect: str) -> None:
    record = meaning(defect).record
    assert record is not None
    write = record["write"]
    assert isinstance(write, str)
    line = write.split("`")[1]
    book = read_text(f"shop T\n  zone America/Chicago\n\n2026-11-02 09:10 {line}\n")
    assert not book.unread
    (flaw,) = book.entries[0].facts
    assert isinstance(flaw, Flaw)
    assert (flaw.defect, flaw.where, str(flaw.size)) == (defect, "belly", "2 in")


def test_the_list_names_the_defects_below_the_findings() -> None:
    findings, defects = meaning("").sections
    assert (findings.heading, defects.heading) == ("Findings", "Defects")
    assert [row.plain[0] for row in defects.rows] == list(CAUSES)


def test_words_of_a_name_need_no_quotation_marks(capsys: Captured) -> None:
    assert main(["meaning", "Came", "out", "EARLY"]) == 0
    assert capsys.readouterr().out.startswith("came out early\n")


def test_a_name_that_is_like_none_is_pointed_to_the_list(capsys: Captured) -> None:
    assert main(["meaning", "zzz"]) == 2
    assert "hideledger meaning lists them all" in capsys.readouterr().err


def test_a_program_gets_the_same(capsys: Captured) -> None:
    main(["meaning", "overdue", "--json"])
    record = json.loads(capsys.readouterr().out)
    assert list(record) == ["schema", "name", "seen", "harm", "source", "write"]
    assert record["name"] == "overdue"
