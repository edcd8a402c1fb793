"""The grammars hold no conflict: lark's strict mode, with interegular 0.3 as the judge of terminals that could match the same text.

interegular reckons the meeting of two regular expressions as finite automata; it is a general library, used in tests only.
"""

from __future__ import annotations

import pytest

pytest.importorskip("interegular")

import lark.lexer
from lark import Lark

from hideledger.reading.grammar import grammar_folder


@pytest.mark.parametrize(("name", "start"), [("entry.lark", ["entry", "first", "piece", "who"])])
def test_entry_grammar_is_free_of_conflicts(name: str, start: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(lark.lexer, "has_interegular", True)
    folder = grammar_folder()
    Lark.open(
        str(folder / name), parser="lalr", lexer="contextual", start=start, import_paths=[str(folder)], strict=True
    )
