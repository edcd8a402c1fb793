"""How the house speaks: a sentence at the head of everything that others may use, and one English spelling in all that it says.

What a person types into the book is read in both spellings; `tests/reading/` and `tests/unit/test_definitions.py` hold that.
"""

from __future__ import annotations

import ast
import io
import re
import tokenize
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.unit.test_house import CHECKOUT, GRAMMAR, every_file, house_files, named, source_of

# American spelling: ours (Concise Oxford Dictionary; from memory).
SPELLED = {
    "neutraliz": "neutralis",
    "recogniz": "recognis",
    "organiz": "organis",
    "color": "colour",
    "liter": "litre",
    "mold": "mould",
    "labor": "labour",
    "aluminum": "aluminium",
    "sulf": "sulph",
    "fiber": "fibre",
    "center": "centre",
    "favor": "favour",
    "behavior": "behaviour",
    "license": "licence",
    "gray": "grey",
    "odor": "odour",
}
_AMERICAN = re.compile(rf"\b(?:milli)?({'|'.join(SPELLED)})(?!al\b|d\b)[a-z]*", re.IGNORECASE)
# A name that stands so in the regulation, and rows of words that are read in both spellings.
_AS_IT_STANDS = (
    "gray wolf",
    "neutralised or neutralized",
    "synthetic aluminum",
    "milliliter milliliters millilitre",
    "liter liters litre",
    "gray great green grey",
)
_TYPED = re.compile("`[^`\n]*`|color(?=:)|color-scheme")  # and the words of a style sheet


def american(text: str) -> list[str]:
    """The words of a text in the other spelling; what stands in backticks is somebody's typing."""
    for stands in _AS_IT_STANDS:
        text = text.replace(stands, "")
    return [found.group() for found in _AMERICAN.finditer(_TYPED.sub("", text))]


def unspoken(source: str) -> list[str]:
    """Classes, functions and methods that others may use whose docstring is missing, or begins with no whole sentence."""
    found: list[str] = []
    waiting: list[ast.AST] = [ast.parse(source)]
    while waiting:
        for node in ast.iter_child_nodes(waiting.pop()):
            if not isinstance(node, ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef) or node.name.startswith("_"):
                continue
            first = (ast.get_docstring(node) or "").split("\n")[0]
            if not re.match("[A-Z`0-9].*[.]$", first):
                found.append(node.name)
            if isinstance(node, ast.ClassDef):
                waiting.append(node)
    return found


def spoken_words(source: str) -> Iterator[tuple[int, str]]:
    """Every comment, docstring and string of two words and more in a file, with its line."""
    for token in tokenize.generate_tokens(io.StringIO(source).readline):
        if token.type == tokenize.COMMENT:
            yield token.start[0], token.string
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and " " in node.value.strip():
            yield node.lineno, node.value


@pytest.mark.parametrize(
    "source",
    [
        "def f(): ...",
        'def f():\n    """what it does."""',
        'def f():\n    """Goes on in\n    the next line."""',
        'class C:\n    """A thing stands here."""\n    def f(self): ...',
    ],
)
def test_a_name_without_a_sentence_is_seen(source: str) -> None:
    assert unspoken(source)


@pytest.mark.parametrize(
    "source",
    [
        'def f():\n    """It reads a page.\n\n    In UTF-8."""',
        "def _f(): ...",
        'class C:\n    """It stands."""\n    def _f(self): ...',
    ],
)
def test_a_name_with_a_sentence_is_let_pass(source: str) -> None:
    assert not unspoken(source)


@pytest.mark.parametrize(
    "said",
    ["neutralized for 20 min", "Moldy at the edge", "20 liters", "what color?", "aluminum salts", "sulfuric acid"],
)
def test_the_other_spelling_is_seen(said: str) -> None:
    assert american(said)
    assert [line for line, text in spoken_words(f"x = 1  # {said}\ny = {said!r}\n") if american(text)] == [1, 2]


@pytest.mark.parametrize(
    "said",
    ["neutralised", "a literal, licensed", "`neutralized` is read too", "mould", "gray wolf", "20 litres, molten"],
)
def test_our_spelling_and_what_is_typed_are_let_pass(said: str) -> None:
    assert american(said) == []


@every_file
def test_whatever_others_may_use_begins_with_a_whole_sentence(path: Path) -> None:
    assert unspoken(source_of(path)) == []


@every_file
def test_comments_and_messages_are_spelt_one_way(path: Path) -> None:
    assert [(line, words) for line, text in spoken_words(source_of(path)) if (words := american(text))] == []


@pytest.mark.parametrize(
    "path", [CHECKOUT / "README.md", CHECKOUT / "DEVELOPERS.md", *sorted(GRAMMAR.glob("*.md"))], ids=named
)
def test_the_pages_are_spelt_one_way(path: Path) -> None:
    text = re.sub("^```.*?^```", "", source_of(path), flags=re.DOTALL | re.MULTILINE)
    assert american(text) == []


def test_there_is_something_to_look_at() -> None:
    assert sum(1 for path in house_files() for _ in spoken_words(source_of(path))) > 2000
