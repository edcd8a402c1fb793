"""Opens the grammar: the files under `grammar/` are the language, and nothing is read behind their back."""

from __future__ import annotations

from pathlib import Path

import lark.lexer
from lark import Lark

from hideledger.reading.lexing import PLUGINS

# A checker of patterns that lark uses when it happens to be installed: twenty times the building time, and only of use in a test.
lark.lexer.has_interegular = False  # type: ignore[attr-defined, unused-ignore]

_HERE = Path(__file__).resolve().parent


def grammar_folder() -> Path:
    """The folder of the grammar files: inside the installed package, or beside it in a checkout."""
    packed = _HERE.parent / "grammar"
    return packed if (packed / "entry.lark").is_file() else _HERE.parents[1] / "grammar"


def open_grammar(name: str, start: list[str]) -> Lark:
    """A parser for one grammar file, with the rules it may start from."""
    folder = grammar_folder()
    return Lark.open(
        str(folder / name),
        parser="lalr",
        lexer="contextual",
        start=start,
        import_paths=[str(folder)],
        propagate_positions=False,
        maybe_placeholders=False,
        _plugins=PLUGINS,
    )
