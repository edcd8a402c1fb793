"""Reads the pieces of lines behind a bounded cache: the same words come again and again in a book."""

from __future__ import annotations

from collections.abc import Sequence

from lark import Lark, Token
from lark.exceptions import UnexpectedInput

from hideledger.model.entry import Group
from hideledger.model.shop import ShopBook
from hideledger.reading.complain import grammar_trouble
from hideledger.reading.desk import Desk, canonical_tag
from hideledger.reading.loose import Loose
from hideledger.reading.sayings import SAYINGS
from hideledger.reading.shapes import Shapes
from hideledger.reading.tags import expand
from hideledger.reading.trouble import Unreadable
from hideledger.reading.unknown_words import bracket_inside
from hideledger.reading.words import Vocabulary
from hideledger.text.blanks import PASSED_OVER

MOST_CACHED = 50_000

Piece = tuple[bool, bool, str, str]  # first of its line, somebody named, what the line is so far, the text
People = tuple[tuple[str, ...], Group | None]


class Understood:
    """One piece, read: its facts, what the line is now, tags or a place named in it, whether a fact is loose."""

    __slots__ = ("facts", "loose", "mode", "place", "tags")

    def __init__(self, desk: Desk) -> None:
        self.facts = tuple(desk.facts)
        self.mode = desk.mode
        self.tags = desk.tags
        self.place = desk.place
        self.loose = any(isinstance(fact, Loose) for fact in desk.facts)


class PieceReader:
    """Reads pieces in the words of one shop; the cache holds readings in that shop's words."""

    __slots__ = ("_pieces", "_shapes", "_shop", "_who", "_words")

    def __init__(self, parser: Lark, words: Vocabulary, shop: ShopBook) -> None:
        self._shapes = Shapes(parser)
        self._words = words
        self._shop = shop
        self._pieces: dict[Piece, Understood | Unreadable] = {}
        self._who: dict[str, People] = {}

    def people(self, text: str) -> People:
        """Whom a line is about. Raises Unreadable at an offset in `text`."""
        known = self._who.get(text)
        if known is None:
            try:
                rule, phrases = self._shapes.parse(text, "who")
            except UnexpectedInput as error:
                raise grammar_trouble(text, error) from None
            tokens = phrases[0].tokens
            known = _group(tokens) if rule == "all_in" else (_but(tokens), None)
            if len(self._who) > MOST_CACHED:
                self._who.clear()
            self._who[text] = known
        return known

    def piece(self, first: bool, who: bool, mode: str, text: str) -> Understood:
        """What a piece says. Raises Unreadable at an offset in `text`."""
        key = (first, who, mode, text)
        known = self._pieces.get(key)
        if known is None:
            try:
                known = self._understand(first, who, mode, text)
            except Unreadable as trouble:
                known = trouble.moved(0)  # a new one: the trace of this one would keep the whole page in memory
            if len(self._pieces) > MOST_CACHED:
                self._pieces.clear()
            self._pieces[key] = known
        if isinstance(known, Unreadable):
            raise known.moved(0)
        return known

    def _understand(self, first: bool, who: bool, mode: str, text: str) -> Understood:
        if not text.strip(PASSED_OVER):
            raise Unreadable("comma", "a comma with nothing before it", len(text))
        try:
            _, phrases = self._shapes.parse(text, "first" if first else "piece")
        except UnexpectedInput as error:
            trouble = grammar_trouble(text, error)
            raise bracket_inside(text, trouble, self._words.of_sort("kind")) or trouble from None
        desk = Desk(text=text, phrases=phrases, mode=mode, first=first, who=who, words=self._words, shop=self._shop)
        while (phrase := desk.peek()) is not None:
            SAYINGS[phrase.kind](desk)
        return Understood(desk)


def _but(tokens: Sequence[Token]) -> tuple[str, ...]:
    """Tags less those behind `but`, where a bare number carries on the letter of the tag before it."""
    index = next((i for i, token in enumerate(tokens) if token.type == "BUT"), len(tokens))
    named = expand(tokens[:index])
    if index == len(tokens):
        return named
    last = next(token for token in reversed(tokens[:index]) if token.type == "TAG")
    left_out = set(expand(tokens[index + 1 :], like=canonical_tag(last)))
    return tuple(tag for tag in named if tag not in left_out)


def _group(tokens: Sequence[Token]) -> People:
    tags = [token for token in tokens if token.type in ("TAG", "RUN", "BARE")]
    return (), Group(where=canonical_tag(tags[0]), but=expand(tags[1:]))
