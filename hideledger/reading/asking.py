"""Reads what is asked in words on the command line: amounts, strengths, readings. `grammar/asking.lark` is the language of it.

The numbers and units are those of the book. Which gallon is meant is never guessed: the shop, the command or the words say it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedCharacters, UnexpectedInput, UnexpectedToken

from hideledger.model.units import SPELLINGS, Quantity
from hideledger.reading.grammar import open_grammar
from hideledger.reading.trouble import Unreadable
from hideledger.reading.values import number, unit_name
from hideledger.text.nearest import nearest, slip_of

# The rules that a request may start from, one or more for each command.
STARTS = ["brine", "instrument"]
_TWO_SIZES = frozenset({"gal", "qt", "pt", "floz"})
_US, _IMPERIAL = "US", "imperial"
_NEXT = re.compile("[^ \t\u00a0\u202f,]+")

# Each terminal in a person's words. A test holds this table complete.
SPOKEN = {
    "NUMBER": "a number",
    "UNIT": "a unit (sal, %, lb, gal …)",
    "DEGREE": "a unit",
    "KIND": "`US` or `imperial`",
    "SCALE": "`SG`",
    "HUNDRED": "`100 at`",
    "PER": "`per`",
    "AT": "`at`",
    "FROM": "`from`",
    "TO": "`to`",
    "OF": "`of`",
    "WORD": "a name",
    "COMMA": "a comma",
    "$END": "nothing more",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A quantity as asked, `per` another where it is a ratio; `stuff` and `of` are the names in a ratio, where they stand.

    `start` and `end` are offsets into the request.
    """

    value: Quantity
    per: Quantity | None = None
    stuff: str = ""
    of: str = ""
    start: int
    end: int

    @property
    def dimension(self) -> str:
        """`ratio`, or the dimension of the quantity."""
        return self.value.dimension if self.per is None else "ratio"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stuff:
    """Something named in a request: how much, of what (and where its name stands), and what stands behind `at` or `from`."""

    measured: Measured
    name: str = ""
    name_start: int = 0
    name_end: int = 0
    held: tuple[Measured, ...] = ()
    start: int
    end: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One request: what there is, and what it is to be brought to."""

    stuffs: tuple[Stuff, ...]
    to: Measured | None = None


@lru_cache(maxsize=1)
def asking_grammar() -> Lark:
    """The grammar of requests, built once a run."""
    return open_grammar("asking.lark", STARTS)


def request_tree(text: str, start: str) -> Tree[Token]:
    """The parse of a request from the rule `start`. Raises Unreadable at an offset in `text`."""
    try:
        return asking_grammar().parse(text, start=start)
    except UnexpectedInput as error:
        raise _trouble(text, error) from None


def asked(text: str, start: str, *, gallons: str = "", degrees: str = "") -> Asked:
    """A request of the form of `brine`: what there is, commas between, and perhaps `to` what.

    `gallons` ("US", "imperial") and `degrees` ("F", "C") settle what a bare `gal` and a bare `72°` are. Raises Unreadable.
    """
    tree = request_tree(text, start)
    stuffs = tuple(
        stuff_of(child, text, gallons=gallons, degrees=degrees)
        for child in tree.children
        if isinstance(child, Tree) and child.data == "stuff"
    )
    wanted = [child for child in tree.children if isinstance(child, Tree) and child.data != "stuff"]
    to = measured_of(wanted[0], text, gallons=gallons, degrees=degrees) if wanted else None
    return Asked(stuffs=stuffs, to=to)


def stuff_of(tree: Tree[Token], text: str, *, gallons: str = "", degrees: str = "") -> Stuff:
    """A `stuff` of the grammar. Raises Unreadable."""
    first, *rest = [child for child in tree.children if isinstance(child, Tree)]
    held = [branch for branch in rest if branch.data == "held"]
    names = [branch for branch in rest if branch.data == "name"]
    start, end = span_of(tree)
    name_start, name_end = span_of(names[0]) if names else (start, end)
    return Stuff(
        measured=measured_of(first, text, gallons=gallons, degrees=degrees),
        name=" ".join(name_of(branch) for branch in names),
        name_start=name_start,
        name_end=name_end,
        held=tuple(
            measured_of(branch.children[-1], text, gallons=gallons, degrees=degrees)
            for branch in held
            if isinstance(branch.children[-1], Tree)
        ),
        start=start,
        end=end,
    )


def measured_of(tree: Tree[Token] | Token, text: str, *, gallons: str = "", degrees: str = "") -> Measured:
    """A `quantity`, `ratio` or `scale` of the grammar. Raises Unreadable for what could be read two ways."""
    assert isinstance(tree, Tree), tree
    start, end = span_of(tree)
    if tree.data == "ratio":
        per_at = next(i for i, child in enumerate(tree.children) if isinstance(child, Token) and child.type == "PER")
        before, after = tree.children[:per_at], tree.children[per_at + 1 :]
        assert isinstance(before[0], Tree)
        top = measured_of(before[0], text, gallons=gallons, degrees=degrees)
        tokens = [child for child in after if isinstance(child, Token) and child.type != "OF"]
        per = _quantity(tokens, text, gallons=gallons, degrees=degrees)
        return Measured(value=top.value, per=per, stuff=_named(before), of=_named(after), start=start, end=end)
    tokens = [child for child in tree.children if isinstance(child, Token)]
    if tree.data == "scale":
        scale, figures = tokens
        unit = "pH" if scale.casefold().startswith("ph") else "SG"
        return Measured(value=Quantity(value=number(figures, figures.start_pos or 0), unit=unit), start=start, end=end)
    return Measured(value=_quantity(tokens, text, gallons=gallons, degrees=degrees), start=start, end=end)


def _quantity(tokens: list[Token], text: str, *, gallons: str, degrees: str) -> Quantity:
    """NUMBER, perhaps KIND, UNIT; without a number it is one. Raises Unreadable."""
    figures = next((token for token in tokens if token.type == "NUMBER"), None)
    kind = next((token for token in tokens if token.type == "KIND"), None)
    mark = tokens[-1]
    value = number(figures, figures.start_pos or 0) if figures is not None else Decimal(1)
    start, end = tokens[0].start_pos or 0, mark.end_pos or 0
    if mark.type == "DEGREE":
        if not degrees:
            raise Unreadable("degrees", f"`{text[start:end]}`: F or C? write one of them", start, end)
        return Quantity(value=value, unit=degrees)
    unit = unit_name(mark)
    assert unit is not None, mark
    return Quantity(value=value, unit=sized(unit, kind, gallons, text, (start, end)))


def sized(unit: str, kind: Token | None, gallons: str, text: str, span: tuple[int, int]) -> str:
    """A unit with its size, for those that come in two: as `kind` says, else as `gallons` ("US", "imperial", "") does.

    Raises Unreadable at `span` of `text` where neither does.
    """
    if unit not in _TWO_SIZES:
        return unit
    said = (kind or gallons).casefold()
    if not said:
        start, end = span
        message = (
            f"`{text[start:end]}`: US or imperial? they are a fifth apart; say `--gallons US` or `--gallons imperial`"
        )
        raise Unreadable("gallons", message, start, end)
    return f"imperial {unit}" if said.startswith("imp") or "k" in said else unit


def name_of(tree: Tree[Token]) -> str:
    """The words of a `name`, in small letters, one blank between."""
    return " ".join(token.casefold() for token in tree.children if isinstance(token, Token))


def _named(children: list[Tree[Token] | Token]) -> str:
    return " ".join(name_of(child) for child in children if isinstance(child, Tree) and child.data == "name")


def span_of(tree: Tree[Token]) -> tuple[int, int]:
    """Where in the request a branch stands: its first offset and the one behind its last."""
    tokens = list(tree.scan_values(lambda value: isinstance(value, Token)))
    return tokens[0].start_pos or 0, tokens[-1].end_pos or 0


def _trouble(text: str, error: UnexpectedInput) -> Unreadable:
    """Why a request cannot be followed, at its place, with the nearest thing that would be right."""
    end = len(text.rstrip())
    if isinstance(error, UnexpectedToken):
        at = end if error.token.type == "$END" else error.token.start_pos
        accepted = set(error.accepts or error.expected)
    else:
        at = error.pos_in_stream if isinstance(error, UnexpectedCharacters) else end
        accepted = set(getattr(error, "allowed", None) or ())
    start = end if at is None else at
    found = _NEXT.match(text, start)
    wanted = " or ".join(dict.fromkeys(SPOKEN.get(name, name) for name in sorted(accepted)))
    if found is None:
        figures = re.search(r"[0-9½¼¾⅓⅔⅛⅜⅝⅞]+[ \t]*$", text)
        if "UNIT" in accepted and figures is not None:
            message = (
                f"`{figures.group().strip()}` of what? a unit stands behind its number: `40 sal`, `20 gal`, `72 F`"
            )
            return Unreadable("unit", message, figures.start(), end)
        return Unreadable("too short", f"something is missing at the end: {wanted or 'more of it'}", end)
    word, stop = found.group(), found.end()
    if "UNIT" in accepted:
        near = slip_of(word, SPELLINGS) or nearest(word, SPELLINGS)
        hint = f"; did you mean `{near}`?" if near else "; as in `40 sal`, `20 gal`, `72 F`"
        return Unreadable("unit", f"`{word}` is no unit known here{hint}", start, stop)
    if text[start] in "+-–−" or (word[0].isdigit() and "COMMA" in accepted):
        message = f"a comma between one amount and the next: `20 gal water, 20 lb salt`; `{word}` stands here"
        return Unreadable("comma", message, start, stop)
    return Unreadable("expected", f"{wanted or 'nothing more'} belongs here; `{word}` stands here", start, stop)
