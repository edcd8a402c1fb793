"""Reads what is asked in words on the command line: amounts, strengths, readings. `grammar/asking.lark` is the language of it.

The numbers and units are those of the book. Which gallon is meant is never guessed: the shop, the command or the words say it.
"""

from __future__ import annotations

import re
from decimal import Decimal
from functools import lru_cache

from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedInput

from hideledger.model.units import OF_TWO_SIZES, SPELLINGS, Quantity
from hideledger.reading.asked import Asked, Measured, Stuff
from hideledger.reading.asking_beside import read_beside
from hideledger.reading.asking_place import halted, in_figures, span_of
from hideledger.reading.grammar import open_grammar
from hideledger.reading.trouble import Unreadable
from hideledger.reading.values import number, unit_name
from hideledger.text.nearest import nearest, slip_of

# The rules that a request may start from, one or more for each command.
STARTS = ["brine", "instrument"]
_US, _IMPERIAL = "US", "imperial"
# What a person leaves at the end of a line.
_IDLE = " \t,"
# What may stand before its number, by how it begins.
_BEFORE = {"ph": "pH", "sg": "SG", "sal": "sal", "baum": "Be"}
_WORDS_BEFORE = re.compile("[A-Za-z][A-Za-z \t]*$")
_STUFFS = ("stuff", "named")

# Each terminal in a person's words. A test holds this table complete.
SPOKEN = {
    "NUMBER": "a number",
    "UNIT": "a unit (sal, %, lb, gal …)",
    "DEGREE": "a unit",
    "KIND": "`US` or `imperial`",
    "SIZE": "`US` or `imperial`",
    "SCALE": "`SG`",
    "HUNDRED": "`100 at`",
    "PER": "`per`",
    "AT": "`at`",
    "FROM": "`from`",
    "TO": "`to`",
    "OF": "`of`",
    "WORD": "a name",
    "COMMA": "a comma",
    "AND": "`and`",
    "BRING": "`bring`",
    "SALOMETER": "`salometer`",
    "SHOWN_IN": "`in %`",
    "$END": "nothing more",
}


@lru_cache(maxsize=1)
def asking_grammar() -> Lark:
    """The grammar of requests, built once a run."""
    return open_grammar("asking.lark", STARTS)


def only_bids(words: str) -> bool:
    """Whether these words in front of a bath only say that something is to be done with it: `bring`, `how much salt for`."""
    return re.fullmatch(asking_grammar().get_terminal("BRING").pattern.to_regexp(), words) is not None


def request_tree(text: str, start: str) -> Tree[Token]:
    """The parse of a request from the rule `start`. Raises Unreadable at an offset in `text`."""
    in_figures(text)
    try:
        return asking_grammar().parse(text.rstrip(_IDLE), start=start)
    except UnexpectedInput as error:
        raise _trouble(text, error) from None


def asked(text: str, start: str, *, gallons: str = "", degrees: str = "") -> Asked:
    """A request of the form of `brine`: what there is, commas between, and perhaps `to` what.

    `gallons` ("US", "imperial") and `degrees` ("F", "C") settle what a bare `gal` and a bare `72°` are. Raises Unreadable.
    """
    tree = request_tree(text, start)
    branches = [child for child in tree.children if isinstance(child, Tree)]
    stuffs = tuple(
        stuff_of(branch, text, gallons=gallons, degrees=degrees) for branch in branches if branch.data in _STUFFS
    )
    wanted = [branch for branch in branches if branch.data not in _STUFFS]
    to = measured_of(wanted[0], text, gallons=gallons, degrees=degrees) if wanted else None
    return read_beside(Asked(stuffs=stuffs, to=to), text)


def stuff_of(tree: Tree[Token], text: str, *, gallons: str = "", degrees: str = "") -> Stuff:
    """A `stuff` of the grammar. Raises Unreadable."""
    branches = [child for child in tree.children if isinstance(child, Tree)]
    names = [branch for branch in branches if branch.data == "name"]
    first, *of = [branch for branch in branches if branch.data not in ("name", "held")]
    held = [branch.children[-1] for branch in branches if branch.data == "held"]
    start, end = span_of(tree)
    name_start, name_end = span_of(names[0]) if names else (start, end)
    return Stuff(
        measured=measured_of(first, text, gallons=gallons, degrees=degrees),
        name=" ".join(name_of(branch) for branch in names),
        name_start=name_start,
        name_end=name_end,
        held=tuple(
            measured_of(branch, text, gallons=gallons, degrees=degrees)
            for branch in (*of, *held)
            if isinstance(branch, Tree)
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
    if tree.data == "bare":  # its unit stands elsewhere, or nowhere
        return Measured(value=Quantity(value=number(tokens[0], start), unit=""), start=start, end=end)
    if tree.data == "scale":
        scale, figures = tokens
        unit = next(unit for head, unit in _BEFORE.items() if scale.casefold().startswith(head))
        return Measured(value=Quantity(value=number(figures, figures.start_pos or 0), unit=unit), start=start, end=end)
    return Measured(value=_quantity(tokens, text, gallons=gallons, degrees=degrees), start=start, end=end)


def _quantity(tokens: list[Token], text: str, *, gallons: str, degrees: str) -> Quantity:
    """NUMBER, perhaps KIND, UNIT; without a number it is one. Raises Unreadable."""
    figures = next((token for token in tokens if token.type == "NUMBER"), None)
    kind = next((token for token in tokens if token.type in ("KIND", "SIZE")), None)
    # `40 degrees salometer`: the unit, and not what stands in front of it
    mark = next((token for token in reversed(tokens) if token.type in ("UNIT", "DEGREE")), tokens[-1])
    value = number(figures, figures.start_pos or 0) if figures is not None else Decimal(1)
    start, end = tokens[0].start_pos or 0, tokens[-1].end_pos or 0
    if mark.type == "DEGREE":
        if not degrees:
            message = f"`{text[start:end]}`: F or C? write one of them, or `{value:f} sal` for degrees of a salometer"
            raise Unreadable("degrees", message, start, end)
        return Quantity(value=value, unit=degrees)
    unit = unit_name(mark)
    assert unit is not None, mark
    return Quantity(value=value, unit=sized(unit, kind, gallons, text, (start, end)))


def sized(unit: str, kind: Token | None, gallons: str, text: str, span: tuple[int, int]) -> str:
    """A unit with its size, for those that come in two: as `kind` says, else as `gallons` ("US", "imperial", "") does.

    Raises Unreadable at `span` of `text` where neither does.
    """
    if unit not in OF_TWO_SIZES:
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


def _trouble(text: str, error: UnexpectedInput) -> Unreadable:
    """Why a request cannot be followed, at its place, with the nearest thing that would be right."""
    halt = halted(text, error, SPOKEN)
    accepted, wanted = halt.accepted, halt.wanted
    if "NUMBER" in accepted and len(accepted) > 1 and "UNIT" not in accepted:
        wanted = "an amount or a strength, as in `20 gal water, 20 lb salt` or `40 sal`,"
    words = _WORDS_BEFORE.search(text[: halt.start])
    if (
        "PER" in accepted and "NUMBER" not in accepted and words is not None
    ):  # words behind an amount, and then no `per`
        stop = halt.stop if halt.word else words.end()
        message = f"`{text[words.start() : stop].strip()}` says nothing that can be followed here; as in `20 gal water, 20 lb salt`, `20 gal from 36 sal to 46 sal`, `40 sal`"
        return Unreadable("expected", message, words.start(), stop)
    if not halt.word:
        figures = re.search(r"[0-9½¼¾⅓⅔⅛⅜⅝⅞]+[ \t,]*$", text)
        if "UNIT" in accepted and figures is not None:
            message = (
                f"`{figures.group().strip(_IDLE)}` of what? a unit stands behind its number: `40 sal`, `20 gal`, `72 F`"
            )
            return Unreadable("unit", message, figures.start(), figures.start() + len(figures.group().strip(_IDLE)))
        alone = re.search(r"(?:^|,)[ \t]*([^0-9,]+)$", text.rstrip(_IDLE))
        if "NUMBER" in accepted and alone is not None:
            message = f"`{alone.group(1)}`: how much, or how strong? as in `20 gal water, 20 lb salt`, or `40 sal`"
            return Unreadable("too short", message, alone.start(1), alone.end(1))
        return Unreadable(
            "too short", f"something is missing at the end: {(wanted or 'more of it').rstrip(',')}", halt.start
        )
    word, start, stop = halt.word, halt.start, halt.stop
    if "UNIT" in accepted:
        near = slip_of(word, SPELLINGS) or nearest(word, SPELLINGS)
        hint = f"; did you mean `{near}`?" if near else "; as in `40 sal`, `20 gal`, `72 F`"
        return Unreadable("unit", f"`{word}` is no unit known here{hint}", start, stop)
    if text[start] in "+-–−" or (word[0].isdigit() and "COMMA" in accepted):
        message = f"a comma between one amount and the next: `20 gal water, 20 lb salt`; `{word}` stands here"
        return Unreadable("comma", message, start, stop)
    return Unreadable("expected", f"{wanted or 'nothing more'} belongs here; `{word}` stands here", start, stop)
