"""What stands once in the house: the head of an answer's record, and a number that is one fact of the shop or of the trade."""

from __future__ import annotations

import ast
from collections.abc import Iterator

import pytest

from tests.unit.test_house import HOUSE, house_files, named, source_of

HEAD = HOUSE / "answers" / "head.py"


def heads_written(source: str) -> list[int]:
    """Lines on which the moment of an answer is put into a record by hand."""
    return [
        node.lineno
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Dict)
        if any(isinstance(key, ast.Constant) and key.value == "at_local" for key in node.keys)
    ]


def numbers_named(source: str) -> Iterator[tuple[str, str]]:
    """The names that a file gives to a number or to a row of fixed things at its margin, without the underscore, and the value as written."""
    for node in ast.parse(source).body:
        match node:
            case ast.Assign(targets=[ast.Name(id=name)], value=value) if name.isupper():
                yield name.lstrip("_"), ast.unparse(value)
            case ast.AnnAssign(target=ast.Name(id=name), value=ast.expr() as value) if name.isupper():
                yield name.lstrip("_"), ast.unparse(value)
            case _:
                pass


def test_a_head_written_by_hand_is_seen() -> None:
    assert heads_written("def f():\n    return {'schema': 1, 'at_local': stamp(at)}") == [2]
    assert heads_written("{'schema': 1, **moment_record(at, clock)}") == []


@pytest.mark.parametrize("path", [path for path in house_files() if path != HEAD], ids=named)
def test_the_moment_of_an_answer_is_put_into_a_record_in_one_place(path: object) -> None:
    assert isinstance(path, type(HEAD))
    assert heads_written(source_of(path)) == []
