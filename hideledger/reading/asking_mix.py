"""Reads what is asked of `mix` in words: the recipe, how much water, liquor or skin, which hides, which vessel."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedInput

from hideledger.model.units import SPELLINGS, UNITS, Quantity
from hideledger.reading.asking import measured_of, name_of, span_of, stopped_at
from hideledger.reading.grammar import open_grammar
from hideledger.reading.tags import expand, one_tag
from hideledger.reading.trouble import Unreadable
from hideledger.reading.values import number
from hideledger.text.nearest import nearest, slip_of

# Each terminal in a person's words. A test holds this table complete.
SPOKEN = {
    "NUMBER": "an amount",
    "BARE": "an amount",
    "UNIT": "a unit (gal, L, lb, kg …)",
    "KIND": "`US` or `imperial`",
    "TAG": "a tag such as H41",
    "RUN": "`thru`",
    "BUT": "`but`",
    "ALL_IN": "`all in`",
    "FOR": "`for`",
    "IN": "`in`",
    "OF": "`of`",
    "AND": "`and`",
    "WORD": "a name",
    "COMMA": "a comma",
    "$END": "nothing more",
}
_HEADS = {
    "hide": "hide",
    "hides": "hide",
    "skin": "hide",
    "skins": "hide",
    "head": "hide",
    "heads": "hide",
    "count": "count",
    "counts": "count",
}
_MOST_HEADS = 500
_MEASURES = tuple(spelling for spelling, unit in SPELLINGS.items() if UNITS[unit].dimension in ("weight", "volume"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Portion:
    """So much as asked: `20 gal`, `30 lb drained`. `of` is what stands behind it, in small letters; empty where nothing does."""

    quantity: Quantity
    of: str = ""
    text: str
    start: int
    end: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Some:
    """So many of a kind of skin, by a name that only the shop knows: `4 capes`."""

    number: Decimal
    name: str
    text: str
    start: int
    end: int


@dataclass(frozen=True, slots=True, kw_only=True)
class MixAsked:
    """One request. `recipe` is empty where none stands by itself; `everyone` the bath of `all in P3`; heads and counts are None unless said."""

    text: str
    recipe: str = ""
    recipe_start: int = 0
    recipe_end: int = 0
    portions: tuple[Portion, ...] = ()
    heads: Decimal | None = None
    counts: Decimal | None = None
    kinds: tuple[Some, ...] = ()
    tags: tuple[str, ...] = ()
    but: tuple[str, ...] = ()
    everyone: str = ""
    vessel: str = ""


@lru_cache(maxsize=1)
def mix_grammar() -> Lark:
    """The grammar of such requests, built once a run."""
    return open_grammar("asking_mix.lark", ["mix"])


def mix_asked(text: str, *, gallons: str) -> MixAsked:
    """A request in words; `gallons` (US, imperial or empty) is the shop's. Raises Unreadable at an offset in `text`."""
    try:
        tree = mix_grammar().parse(text.rstrip(" \t,"), start="mix")
    except UnexpectedInput as error:
        raise _trouble(text, error) from None
    recipe = next((child for child in tree.children if isinstance(child, Tree) and child.data == "name"), None)
    start, end = span_of(recipe) if recipe is not None else (0, 0)
    tags, but = _whom(tree.children)
    counted, kinds = _counted(tree, text)
    return MixAsked(
        text=text,
        recipe="" if recipe is None else name_of(recipe),
        recipe_start=start,
        recipe_end=end,
        portions=tuple(
            _portion(child, text, gallons)
            for child in tree.children
            if isinstance(child, Tree) and child.data == "portion"
        ),
        heads=counted.get("hide"),
        counts=counted.get("count"),
        kinds=kinds,
        tags=tags,
        but=but,
        everyone=_one(tree, "everyone", text),
        vessel=_one(tree, "vessel", text),
    )


def _portion(tree: Tree[Token], text: str, gallons: str) -> Portion:
    first = tree.children[0]
    assert isinstance(first, Tree)
    # A bare figure is a number here, whatever it would be behind a tag.
    first.children = [
        Token.new_borrow_pos("NUMBER", str(child), child)
        if isinstance(child, Token) and child.type == "BARE"
        else child
        for child in first.children
    ]
    start, end = span_of(tree)
    try:
        found = measured_of(first, text, gallons=gallons)
    except Unreadable as trouble:
        if trouble.code != "gallons":
            raise
        message = f"`{text[trouble.start : trouble.end]}`: US or imperial? write a line `gallons US` or `gallons imperial` under `shop`; here `20 US gal` does"
        raise Unreadable("gallons", message, trouble.start, trouble.end) from None
    if found.dimension not in ("weight", "volume"):
        raise Unreadable("unit kind", f"`{text[start:end]}`: a weight or a volume belongs here", start, end)
    if found.value.value <= 0:
        raise Unreadable("number", f"`{text[start:end]}`: it must be more than nothing", start, end)
    of = next((name_of(child) for child in tree.children[1:] if isinstance(child, Tree)), "")
    return Portion(quantity=found.value, of=of, text=" ".join(text[start:end].split()), start=start, end=end)


def _counted(tree: Tree[Token], text: str) -> tuple[dict[str, Decimal], tuple[Some, ...]]:
    """How many heads or counts were said, and how many of kinds."""
    found: dict[str, Decimal] = {}
    kinds: list[Some] = []
    for child in tree.children:
        if not isinstance(child, Tree) or child.data != "heads":
            continue
        start, end = span_of(child)
        figures = child.children[0]
        assert isinstance(figures, Token)
        said = name_of(next(part for part in child.children if isinstance(part, Tree)))
        sort = _HEADS.get(said)
        value = number(figures, figures.start_pos or 0)
        if not 0 < value <= _MOST_HEADS or (sort != "count" and value != int(value)):
            message = f"`{text[start:end]}`: it is a whole number of hides, up to {_MOST_HEADS}"
            raise Unreadable("number", message, start, end)
        if sort is None:
            words = " ".join(text[start:end].split())
            some = Some(number=value, name=said, text=words, start=start, end=end)
            if slip_of(said, _MEASURES):
                raise no_kind(some)
            kinds.append(some)
            continue
        if sort in found:
            raise Unreadable("twice", f"`{text[start:end]}`: how many was said before", start, end)
        found[sort] = value
    return found, tuple(kinds)


def no_kind(some: Some, kinds: Iterable[str] = ()) -> Unreadable:
    """What is no unit of weight or volume, and no kind of the shop either."""
    known = tuple(kinds)
    near = slip_of(some.name, (*_HEADS, *known, *_MEASURES)) or nearest(some.name, (*_HEADS, *known))
    has = f", or a kind of the shop ({', '.join(known)})" if known else ""
    hint = f"did you mean `{near}`?" if near else f"a unit stands behind it (`20 gal`, `30 lb`), or `hides`{has}"
    return Unreadable("unit", f"`{some.text}`: {hint}", some.start, some.end)


def _whom(children: list[Tree[Token] | Token]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The tags named, and those left out behind `but`."""
    named: list[Token] = []
    left_out: list[Token] | None = None
    for child in children:
        if not isinstance(child, Token) or child.type not in ("TAG", "RUN", "BARE", "NUMBER", "BUT"):
            continue
        if child.type == "BUT":
            if left_out is not None:
                raise Unreadable("twice", "`but` twice", child.start_pos or 0, child.end_pos)
            left_out = []
            continue
        # a bare number before a comma is no less the end of a tag
        bare = child.type == "NUMBER" and child.isdecimal()
        leaf = Token.new_borrow_pos("BARE", str(child), child) if bare else child
        (named if left_out is None else left_out).append(leaf)
    for several in (named, left_out or []):
        first = next((leaf for at, leaf in enumerate(several) if leaf.type == "NUMBER" or not at), None)
        if first is not None and first.type != "TAG":
            message = f"`{first}`: a unit (`{first} gal`), or a tag? write the whole tag (`H{first}`)"
            raise Unreadable("unit", message, first.start_pos or 0, first.end_pos)
    return expand(named), expand(left_out or [])


def _one(tree: Tree[Token], data: str, text: str) -> str:
    """The tag of the one branch of that sort."""
    branches = [child for child in tree.children if isinstance(child, Tree) and child.data == data]
    if len(branches) > 1:
        start, end = span_of(branches[1])
        raise Unreadable("twice", f"`{text[start:end]}`: one is enough", start, end)
    if not branches:
        return ""
    leaf = branches[0].children[-1]
    assert isinstance(leaf, Token)
    return one_tag(leaf, leaf.start_pos or 0)


def _trouble(text: str, error: UnexpectedInput) -> Unreadable:
    """Why a request cannot be followed, at its place."""
    start, accepted = stopped_at(text, error)
    rest = text[start:].split()
    wanted = " or ".join(dict.fromkeys(SPOKEN[name] for name in sorted(accepted) if name in SPOKEN))
    if not rest:
        return Unreadable("too short", f"something is missing at the end: {wanted or 'more of it'}", len(text.rstrip()))
    word = rest[0].rstrip(",")
    return Unreadable(
        "expected", f"{wanted or 'nothing more'} belongs here; `{word}` stands here", start, start + max(1, len(word))
    )
