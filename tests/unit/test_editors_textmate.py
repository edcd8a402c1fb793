"""The TextMate grammar: what it sees on a page, that its patterns are sound, and that it knows every word of the language."""

import json
import re
from pathlib import Path

import pytest

from tests.unit.coloured import PAGE, TEXT, expected
from tests.unit.language_words import clauses, deeds, findings, heads, known, not_thought_of, units
from tests.unit.textmate import Grammar, pieces

FILE = Path(__file__).resolve().parents[2] / "hideledger" / "editors" / "hides.tmLanguage.json"

# What stands in the table in plain words, by the names that TextMate's manual gives to scopes.
SCOPES = {
    "comment": "comment.line.number-sign.hides",
    "struck": "comment.line.struck.hides",
    "date": "constant.other.date.hides",
    "time": "constant.other.time.hides",
    "time alone": "constant.other.time.carried.hides",
    "tag": "entity.name.tag.hides",
    "bare": "entity.name.tag.hides",
    "join": "keyword.operator.hides",
    "step": "entity.name.function.hides",
    "name": "entity.name.function.hides",
    "word": "keyword.other.hides",
    "known": "support.constant.hides",
    "number": "constant.numeric.hides",
    "unit": "keyword.other.unit.hides",
    "money": "constant.numeric.money.hides",
    "code": "constant.other.code.hides",
    "finding": "constant.other.finding.hides",
    "person": "string.unquoted.name.hides",
    "remark": "string.unquoted.remark.hides",
    "head": "keyword.control.hides",
    "title": "entity.name.section.hides",
    "clause": "keyword.other.clause.hides",
    "bound": "keyword.operator.hides",
}

# Where scopes begin, by the manual's list of root groups.
ROOTS = {"comment", "constant", "entity", "keyword", "string", "support"}


@pytest.fixture(scope="module")
def grammar() -> Grammar:
    return Grammar(FILE)


def joined(runs: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """The same, a blank between two words of one phrase left uncoloured or not."""
    return [(text.strip(), scope) for text, scope in runs]


def test_every_piece_of_the_page_has_its_scope(grammar: Grammar) -> None:
    for (line, things), scopes in zip(PAGE, grammar.scopes(TEXT), strict=True):
        wanted = [(text.strip(), SCOPES[thing]) for text, thing in expected(line, things)]
        assert joined(pieces(line, scopes)) == wanted, line


def test_every_pattern_can_be_compiled_and_is_strict(grammar: Grammar) -> None:
    """Oniguruma (which editors use) and `re` share what stands here; tests/outside tries the real one."""
    patterns = list(grammar.every_pattern())
    assert len(patterns) > 30
    for pattern in patterns:
        re.compile(pattern)
        assert not re.search(r"\\[dDwW]", pattern.replace(r"[^\W\d_]", "")), pattern
        assert not re.search(r"\\[GAzZhHKR]|\(\?[#>]|\\g<|\\p\{|[+*?}]\+", pattern), pattern


def test_every_scope_begins_as_the_manual_lists_them_and_ends_with_the_language(grammar: Grammar) -> None:
    names = set(re.findall(r'"name": "([a-z.-]+)"', FILE.read_text(encoding="utf-8")))
    assert names == set(SCOPES.values())
    assert {name.split(".")[0] for name in names} <= ROOTS
    assert grammar.top["fileTypes"] == ["hides"]
    assert grammar.top["scopeName"] == "text.hides"


def test_every_include_names_a_rule_and_every_rule_is_used() -> None:
    text = FILE.read_text(encoding="utf-8")
    assert set(re.findall(r'"include": "#([a-z-]+)"', text)) == set(json.loads(text)["repository"])


def scope_of(grammar: Grammar, text: str, piece: str) -> set[str]:
    """The scopes that the letters of a piece have in the last line of a text."""
    line = text.rsplit("\n", maxsplit=1)[-1]
    start = line.index(piece)
    scopes = grammar.scopes(text)[-1][start : start + len(piece)]
    return {scope for letter, scope in zip(piece, scopes, strict=True) if letter not in " .:="}


def test_it_knows_every_unit(grammar: Grammar) -> None:
    for unit in units():
        assert scope_of(grammar, f"2026-11-03 8:15 P3 add 3 {unit}, x", f" {unit}") == {SCOPES["unit"]}, unit


def test_it_knows_every_word_of_an_entry(grammar: Grammar) -> None:
    for word in deeds():
        for line in (f"2026-11-03 8:15 H1 {word} xyz", f"2026-11-03 8:15 H1 xyz, {word} 3"):
            assert scope_of(grammar, line, f" {word} "[:-1]) == {SCOPES["word"]}, line


def test_it_knows_what_the_vocabulary_knows(grammar: Grammar) -> None:
    for name in known():
        assert scope_of(grammar, f"2026-11-03 8:15 H1 xyz, {name}", f" {name}") == {SCOPES["known"]}, name


def test_it_knows_every_finding(grammar: Grammar) -> None:
    for finding in findings():
        assert scope_of(grammar, f"H1 waived {finding} -- why", finding) == {SCOPES["finding"]}, finding


def test_it_knows_every_head_and_every_clause(grammar: Grammar) -> None:
    for head in heads():
        assert scope_of(grammar, f"{head}, x", head) == {SCOPES["head"]}, head
    for clause in clauses():
        for line in (f"  xyz, {clause} 3", f"  {clause} 3"):
            assert scope_of(grammar, f"process q\n{line}", f" {clause}") == {SCOPES["clause"]}, line


def test_no_word_of_the_grammar_was_forgotten_here() -> None:
    """A new terminal belongs into one of the lists of language_words.py, so that both files for editors are held to it."""
    assert not_thought_of() == set()


def test_a_word_inside_another_is_none_of_the_language(grammar: Grammar) -> None:
    for word in ("shop", "process"):
        assert scope_of(grammar, f"{word}ing goods", word) == {""}
    for word in ("inner", "outlet", "stirrups", "greenish"):
        assert scope_of(grammar, f"2026-11-03 8:15 H1 xyz, {word}", word) == {""}
