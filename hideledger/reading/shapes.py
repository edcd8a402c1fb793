"""Pieces of one shape are parsed once: the grammar sees a digit only as a digit, so `tag 40718` and `tag 40722` parse alike.

What is kept of a parse is the sort of each phrase and where its tokens lie; for another text of the same shape the tokens are cut out
of that text at the same places. Two patterns of the grammar look at the digits themselves: a time in four figures and a year behind a
month. A piece that may hold one is its own shape. A test holds this to the grammar's own parse.
"""

from __future__ import annotations

import re

from lark import Lark, Token, Tree

from hideledger.reading.desk import Phrase

MOST_KEPT = 20_000
_ALIKE = str.maketrans("123456789", "000000000")
_FOUR_ALONE = re.compile(r"(?<![0-9\-/.:])0000(?![0-9\-/.])")
_DATED = re.compile(r"killed|promised|expires|jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec", re.IGNORECASE)

_Shaped = tuple[str, tuple[tuple[str, tuple[tuple[str, int, int], ...]], ...]]


class Shapes:
    """The grammar, with the parses of shapes met before."""

    __slots__ = ("_kept", "_parser")

    def __init__(self, parser: Lark) -> None:
        self._parser = parser
        self._kept: dict[tuple[str, str], _Shaped] = {}

    def parse(self, text: str, start: str) -> tuple[str, list[Phrase]]:
        """The rule and the phrases of a text, read from the rule `start`. Raises lark's UnexpectedInput."""
        key = (start, shape_of(text))
        kept = self._kept.get(key)
        if kept is None:
            rule, phrases = parse_anew(self._parser, text, start)
            if len(self._kept) > MOST_KEPT:
                self._kept.clear()
            self._kept[key] = (
                rule,
                tuple(
                    (
                        phrase.kind,
                        tuple((token.type, token.start_pos or 0, token.end_pos or 0) for token in phrase.tokens),
                    )
                    for phrase in phrases
                ),
            )
            return rule, phrases
        return kept[0], [
            Phrase(kind, [_cut_out(sort, text[begin:end], begin, end) for sort, begin, end in tokens])
            for kind, tokens in kept[1]
        ]


def _cut_out(sort: str, written: str, begin: int, end: int) -> Token:
    """A token with what this room looks at, and no more: lark's own way of making one takes four times as long."""
    token = str.__new__(Token, written)
    token.type = sort
    token.start_pos = begin
    token.end_pos = end
    return token


def shape_of(text: str) -> str:
    """The text with every digit alike, unless the digits themselves may matter."""
    shape = text.translate(_ALIKE)
    if "0000" in shape and _FOUR_ALONE.search(shape) and _DATED.search(shape):
        return text
    return shape


def parse_anew(parser: Lark, text: str, start: str) -> tuple[str, list[Phrase]]:
    """The same by the grammar itself: a phrase for each rule, a word for each word; the tokens of `who` are one phrase."""
    tree = parser.parse(text, start=start)
    if start == "who":
        return str(tree.data), [Phrase("who", [token for token in tree.children if isinstance(token, Token)])]
    phrases: list[Phrase] = []
    for child in tree.children:
        assert isinstance(child, Tree)
        tokens = list(child.scan_values(lambda value: isinstance(value, Token)))
        if child.data == "words":
            phrases.extend(Phrase("word", [token]) for token in tokens)
        else:
            phrases.append(Phrase(str(child.data), tokens))
    return str(tree.data), phrases
