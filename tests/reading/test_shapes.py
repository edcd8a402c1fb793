"""A piece of a shape met before reads as the grammar itself reads it: digits alone never change what the grammar sees."""

from __future__ import annotations

import random
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lark.exceptions import UnexpectedInput

from hideledger.reading.book import entry_grammar
from hideledger.reading.desk import Phrase
from hideledger.reading.shapes import Shapes, parse_anew, shape_of
from tests.reading.test_both_ways import CUTTER, WORDS, bare, lines_of_tables

PARSER = entry_grammar()
Seen = tuple[str, list[tuple[str, list[tuple[str, str, int | None, int | None]]]]] | None


def seen(found: tuple[str, list[Phrase]]) -> Seen:
    rule, phrases = found
    return rule, [
        (phrase.kind, [(token.type, str(token), token.start_pos, token.end_pos) for token in phrase.tokens])
        for phrase in phrases
    ]


def by_grammar(text: str, start: str) -> Seen:
    try:
        return seen(parse_anew(PARSER, text, start))
    except UnexpectedInput:
        return None


def by_shape(shapes: Shapes, text: str, start: str) -> Seen:
    try:
        return seen(shapes.parse(text, start))
    except UnexpectedInput:
        return None


def other_digits(text: str, chance: random.Random) -> str:
    return re.sub("[0-9]", lambda _: str(chance.randrange(10)), text)


def pieces_of_tables() -> list[tuple[str, str]]:
    found = []
    for line in lines_of_tables():
        cut = CUTTER.cut(bare(line))
        found += [("who", cut.who)] if cut.who else []
        found += [("piece" if index else "first", text) for index, (text, _) in enumerate(cut.pieces)]
    return found


def test_pieces_of_tables_and_samples_with_other_digits() -> None:
    chance = random.Random(5)
    shapes = Shapes(PARSER)
    pieces = sorted(set(pieces_of_tables()))
    assert len(pieces) > 800
    for start, text in pieces:
        for like in (text, other_digits(text, chance), other_digits(text, chance)):
            assert by_shape(shapes, like, start) == by_grammar(like, start), like


@settings(max_examples=800, deadline=None)
@given(
    st.lists(WORDS, min_size=1, max_size=5),
    st.integers(min_value=0, max_value=10**9),
    st.sampled_from(["first", "piece", "who"]),
)
def test_any_row_of_words_with_other_digits(words: list[str], seed: int, start: str) -> None:
    chance = random.Random(seed)
    shapes = Shapes(PARSER)
    text = " ".join(words)
    for like in (text, other_digits(text, chance), text):
        assert by_shape(shapes, like, start) == by_grammar(like, start)


@pytest.mark.parametrize(
    "text", ["killed 2026-10-29 1600", "killed Oct 29 2026", "promised 14 Mar 2027", "expires Dec 1 2027"]
)
def test_digits_that_may_matter_are_a_shape_of_their_own(text: str) -> None:
    assert shape_of(text) == text


def test_tags_and_codes_share_a_shape() -> None:
    assert shape_of("tag 40718") == shape_of("tag 40722")
    assert shape_of("killed 2026-10-29 16:00 at Tarrow county") == shape_of("killed 2026-11-02 07:30 at Tarrow county")
