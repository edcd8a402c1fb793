"""The grammar of requests holds no conflict: lark's strict mode, with interegular 0.3 as the judge of terminals that could match alike."""

from __future__ import annotations

import pytest

pytest.importorskip("interegular")

import lark.lexer
from lark import Lark

from hideledger.reading.asking import STARTS
from hideledger.reading.grammar import grammar_folder


def test_the_grammar_of_requests_is_free_of_conflicts(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(lark.lexer, "has_interegular", True)
    folder = grammar_folder()
    Lark.open(
        str(folder / "asking.lark"),
        parser="lalr",
        lexer="contextual",
        start=STARTS,
        import_paths=[str(folder)],
        strict=True,
    )
