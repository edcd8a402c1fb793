"""The words of a piece in the style of a fair copy: each token of the grammar keeps its value and loses only its spelling."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Protocol

from hideledger.reading.desk import Phrase, canonical_tag
from hideledger.reading.tags import expand
from hideledger.reading.values import SIGNS, STRETCHES, clock_minute, unit_name, written_date
from hideledger.reading.words import Vocabulary

# What an element is: this decides how far a rewriting that must be careful still touches it.
STAMP, WHO, TAGS, WORD, MARK, COMMA, KEPT, SIGN = "stamp", "who", "tags", "word", "mark", "comma", "kept", "sign"
FREE = "free"  # a word that names nothing known
DIVIDED = "divided"  # a comma where the writer left it out

_FRACTIONS = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
# Phrases that are a detail of their own wherever they stand, and quantities that are one behind a name.
_DETAILS = frozenset(("scale", "killed", "dated", "hung", "whom", "coded", "price", "payment", "stirred", "turning"))
_TIMES = frozenset(("min", "h", "d", "wk", "mo", "y"))
# Words that only join others: never part of a name, so never a matter of how somebody writes himself.
_JOINING = frozenset(
    (
        "a",
        "again",
        "all",
        "and",
        "apiece",
        "as",
        "at",
        "back",
        "by",
        "each",
        "from",
        "good",
        "in",
        "is",
        "it",
        "off",
        "on",
        "or",
        "temp",
        "temperature",
        "the",
        "then",
        "took",
        "twice",
        "was",
        "well",
        "with",
    )
)


class Written(Protocol):
    """A token of the grammar: its text, its sort and where it stands in its piece."""

    type: str
    start_pos: int | None
    end_pos: int | None


@dataclass(frozen=True, slots=True)
class Element:
    """A stretch of the line and what a fair copy has in its stead; offsets in the line."""

    start: int
    end: int
    text: str
    sort: str


def clock_of(written: str) -> str:
    """`7:45 pm` as `19:45`; a stretch of the day keeps its word. Raises Unreadable as the reader does."""
    if written.casefold() in STRETCHES:
        return written.casefold()
    minute = clock_minute(written, 0)
    return f"{minute // 60:02d}:{minute % 60:02d}"


def number_of(written: str) -> str:
    """A number with a decimal point and its fraction in figures: `6,4` as `6.4`, `7½` and `7-1/2` as `7 1/2`; its value stays."""
    text = written.translate(SIGNS).strip()
    sign = "-" if text.startswith("-") else ""
    body = text.removeprefix("-").strip()
    if body[-1:] in _FRACTIONS:
        return sign + f"{body[:-1].strip()} {_FRACTIONS[body[-1]]}".strip()
    if "/" in body:
        return sign + " ".join(re.split(r"[ \-]+", body))
    if body.startswith("."):
        body = f"0{body}"
    return sign + body.replace(",", ".")


def _divides(above: Phrase, phrase: Phrase) -> bool:
    """Whether a comma belongs between two phrases of one piece; whether the line still reads with it is seen afterwards."""
    if above.kind == "word" and above.word in _JOINING:
        return False
    if phrase.kind in _DETAILS:
        return phrase.word != "lot"
    if phrase.kind == "quantity":
        unit = unit_name(str(phrase.tokens[-1]))
        if above.kind == "quantity":
            return unit not in _TIMES and unit != "oz"  # `7 lb 8 oz` is one weight
        return unit not in _TIMES and above.kind in ("word", "tags", "coded", "scale")
    return phrase.kind == "count" and above.kind in ("word", "coded")


class PieceWords:
    """The elements of a piece are found in the words of one shop.

    `spelled` are names with the capitals that their definition gives them, `degrees` is what a bare degree sign means there, or nothing.
    """

    __slots__ = ("_dates", "_degrees", "_spelled", "_words")

    def __init__(self, words: Vocabulary, *, spelled: Mapping[str, str], dates: str, degrees: str) -> None:
        self._words = words
        self._spelled = spelled
        self._dates = dates
        self._degrees = degrees

    def of(self, phrases: Sequence[Phrase], at: int, day: date) -> Iterator[Element]:
        """Every element of a piece that begins at offset `at` of a line written on `day`. Raises Unreadable."""
        run: list[Phrase] = []
        for above, phrase in zip((None, *phrases), phrases, strict=False):
            comes = phrase.kind == "word" and above is phrases[0] and above.kind == "in"
            if above is not None and (comes or _divides(above, phrase)):
                yield Element(at + phrase.start, at + phrase.start, ",", DIVIDED)
            if phrase.kind == "word":
                run.append(phrase)
                continue
            yield from self._named(run, at)
            run = []
            yield from self._phrase(phrase, at, day)
        yield from self._named(run, at)

    def _phrase(self, phrase: Phrase, at: int, day: date) -> Iterator[Element]:
        tokens = phrase.tokens
        match phrase.kind:
            case "tags":
                yield Element(at + phrase.start, at + phrase.end, " ".join(expand(tokens)), TAGS)
            case "theirs":
                yield self._one(tokens[0], at, day, phrase.kind)
                start = at + (tokens[1].start_pos or 0)
                yield Element(start, at + phrase.end, " ".join(expand(tokens[1:])), TAGS)
            case "whom" | "at" | "out_to":
                yield self._one(tokens[0], at, day, phrase.kind)
                start = tokens[1].start_pos or 0
                # A name stays as its owner writes it; where a line was broken inside it, one blank stands.
                yield Element(at + start, at + phrase.end, "", KEPT)
            case _:
                for token in tokens:
                    yield self._one(token, at, day, phrase.kind)

    def _one(self, token: Written, at: int, day: date, kind: str) -> Element:
        start, end = at + (token.start_pos or 0), at + (token.end_pos or 0)
        written = str(token)
        plain = " ".join(written.translate(SIGNS).split())
        match token.type:
            case "NUMBER":
                return Element(start, end, number_of(written), MARK)
            case "UNIT":
                return Element(start, end, unit_name(written) or written, MARK)
            case "DEGREE":
                return Element(start, end, self._degrees or written, MARK)
            case "INCHES":
                return Element(start, end, "in", MARK)
            case "DATE":
                found = written_date(written, 0, self._dates)
                settled = found.last_before(day) if kind == "killed" else found.first_after(day)
                return Element(start, end, settled.isoformat(), MARK)
            case "CLOCK" | "STARTED" | "FIGURES":
                return Element(start, end, clock_of(written), MARK)
            case "UNTIL":
                return Element(start, end, "to", MARK)
            case "SCALE":
                return Element(start, end, "SG" if plain.casefold().startswith("sg") else "pH", MARK)
            case "MONEY":
                return Element(start, end, plain.casefold(), SIGN)
            case "COLON":
                return Element(start, end, ",", COMMA)
            case "TAG":
                return Element(start, end, canonical_tag(written), TAGS)
            case "CODE" | "BARE" | "QUOTE" | "WORD":
                return Element(start, end, "", KEPT)
            case _:
                return Element(start, end, " ".join(written.casefold().split()), MARK)

    def _named(self, run: Sequence[Phrase], at: int) -> Iterator[Element]:
        """Words in a row: those that name something known as the shop writes it, all others as they stand."""
        lowered = [phrase.word.replace("’", "'") for phrase in run]
        index = 0
        while index < len(run):
            name = self._known(lowered[index:])
            taken = name.split(" ") if name else []
            for offset, word in enumerate(taken):
                phrase = run[index + offset]
                yield Element(at + phrase.start, at + phrase.end, word, WORD)
            if not taken:
                phrase = run[index]
                joins = lowered[index] in _JOINING
                yield Element(at + phrase.start, at + phrase.end, lowered[index], WORD if joins else FREE)
            index += max(1, len(taken))

    def _known(self, words: Sequence[str]) -> str:
        """The longest known name that the words begin with, its capitals as the shop has them; empty when there is none."""
        for count in range(min(self._words.longest, len(words)), 0, -1):
            written = " ".join(words[:count])
            names = [name for sort, name in self._words.names.get(written, {}).items() if sort != "finding"]
            for name in names:
                if written.startswith(name.casefold()):  # the name itself, or several of it: `whitetail capes`
                    return self._spelled.get(name, name) + written[len(name) :]
            if names:
                return self._spelled.get(written, written)
        return ""
