"""The grammars hold no conflict: lark's strict mode, with interegular 0.3 as the judge of terminals that could match the same text.

interegular reckons the meeting of two regular expressions as finite automata; it is a general library, used in tests only.
"""

from __future__ import annotations

import pytest

pytest.importorskip("interegular")

import lark.lexer
from lark import Lark

from hideledger.reading import asking, define_lines
from hideledger.reading.grammar import grammar_folder

STARTS = {
    "entry.lark": ["entry", "first", "piece", "who"],
    "definitions.lark": define_lines.STARTS,
    "asking.lark": asking.STARTS,
    "asking_acid.lark": ["acid"],
    "asking_mix.lark": ["mix"],
}
_ONLY_TERMINALS = "words.lark"  # has no rule to start from; the others take their words from it


def test_every_grammar_is_looked_at() -> None:
    assert {page.name for page in grammar_folder().glob("*.lark")} == {*STARTS, _ONLY_TERMINALS}


@pytest.mark.parametrize("name", STARTS)
def test_a_grammar_is_free_of_conflicts(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(lark.lexer, "has_interegular", True)
    folder = grammar_folder()
    Lark.open(
        str(folder / name),
        parser="lalr",
        lexer="contextual",
        start=STARTS[name],
        import_paths=[str(folder)],
        strict=True,
    )
