"""Reads what is asked of `acid` in words: the parts of a bath, the pH it has and is to have, and what is to bring it there."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache

from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedInput

from hideledger.reading.asking_part import FORMS, Part, part_of, side_by_side
from hideledger.reading.asking_place import MEASURES, halted, in_figures, span_of
from hideledger.reading.grammar import open_grammar
from hideledger.reading.trouble import Unreadable
from hideledger.reading.values import number
from hideledger.text.nearest import slip_of

# Each terminal in a person's words. A test holds this table complete.
SPOKEN = {
    "NUMBER": "a number",
    "UNIT": "a unit (oz, lb, gal, ml …)",
    "FLUID": "a unit (oz, lb, gal, ml …)",
    "PERCENT": "`%`",
    "KIND": "`US` or `imperial`",
    "SIZE": "`US` or `imperial`",
    "SCALE": "`pH`",
    "WORD": "a name",
    "OF": "`of`",
    "COMMA": "a comma",
    "AND": "`and`",
    "IN": "`in`",
    "FOR": "`for`",
    "AT": "`at`",
    "TO": "`to`",
    "WITH": "`with`",
    "BY": "`by weight` or `by volume`",
    "PER": "`per`",
    "BRING": "`bring`",
    "NEUTRALISE": "`neutralise`",
    "TO_NEUTRALISE": "`to neutralise`",
    "TO_BRING": "`to bring`",
    "WHAT": "`pH of`",
    "$END": "nothing more",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class AcidAsked:
    """One request: the parts, the pH that was read, the pH that is wanted, and what is to bring the bath there."""

    parts: tuple[Part, ...]
    neutralise: bool = False
    read: Decimal | None = None
    wanted: Decimal | None = None
    agent: Part | None = None


@lru_cache(maxsize=1)
def acid_grammar() -> Lark:
    """The grammar of such requests, built once a run."""
    return open_grammar("asking_acid.lark", ["acid"])


def acid_asked(text: str, *, gallons: str) -> AcidAsked:
    """A request in words, `gallons` (US, imperial, or empty where nobody said) being the shop's. Raises Unreadable at an offset in `text`."""
    in_figures(text)
    try:
        tree = acid_grammar().parse(text.rstrip(" \t,"), start="acid")
    except UnexpectedInput as error:
        raise _trouble(text, error) from None
    branches = {branch.data: branch for branch in tree.children if isinstance(branch, Tree)}
    before = _bare_reading(tree) if "wanted" in branches and "read" not in branches else None
    parts = tuple(
        part_of(beside, text, gallons)
        for branch in tree.children
        if isinstance(branch, Tree) and branch.data == "part" and branch.children
        for beside in side_by_side(branch)
    )
    agent = branches.get("agent")
    asked = AcidAsked(
        parts=parts,
        neutralise=_has(tree, "NEUTRALISE") or _has(tree, "TO_NEUTRALISE"),
        read=_reading(branches.get("read") or before, text),
        wanted=_reading(branches.get("wanted"), text),
        agent=part_of(_only(agent), text, gallons) if agent is not None else None,
    )
    if asked.agent is None:
        return _what_brings_it(asked) if asked.wanted is not None else asked
    return _with_form(asked, asked.agent, text)


def _with_form(asked: AcidAsked, agent: Part, text: str) -> AcidAsked:
    """`with citric acid, crystals` is one thing: a form alone behind a comma belongs to what stands before it."""
    form = next((part for part in asked.parts if part.start > agent.end and part.name in FORMS), None)
    if form is None or form.amount is not None or form.strength is not None:
        return asked
    whole = replace(agent, name=f"{agent.name} {form.name}", text=text[agent.start : form.end], end=form.end)
    return replace(asked, parts=tuple(part for part in asked.parts if part is not form), agent=whole)


def _bare_reading(tree: Tree[Token]) -> Tree[Token] | None:
    """The `2.4` of `20 gal 2.4 to 2.0`, taken out of the part it stands at the end of."""
    end = next(at for at, child in enumerate(tree.children) if isinstance(child, Tree) and child.data == "wanted")
    parts = [child for child in tree.children[:end] if isinstance(child, Tree) and child.data == "part"]
    last = parts[-1].children[-1] if parts else None
    if not isinstance(last, Tree) or last.data != "bare":
        return None
    parts[-1].children.pop()
    return last


def _what_brings_it(asked: AcidAsked) -> AcidAsked:
    """`baking soda for 20 gal from 1.8 to 5`: the one thing named without an amount is what brings it there."""
    without = [part for part in asked.parts if part.name and part.amount is None and part.per is None]
    if len(without) != 1 or len(asked.parts) == 1:
        return asked
    rest = tuple(part for part in asked.parts if part is not without[0])
    return replace(asked, parts=rest, agent=without[0])


def _has(tree: Tree[Token], kind: str) -> bool:
    return any(isinstance(child, Token) and child.type == kind for child in tree.children)


def _reading(tree: Tree[Token] | None, text: str) -> Decimal | None:
    if tree is None:
        return None
    start, end = span_of(tree)
    (figures,) = [token for token in tree.children if isinstance(token, Token) and token.type == "NUMBER"]
    value = number(figures, figures.start_pos or 0)
    if not 0 <= value <= 14:
        raise Unreadable("number", f"`{text[start:end]}`: a pH lies between 0 and 14", start, end)
    return value


def _only(tree: Tree[Token]) -> Tree[Token]:
    (child,) = tree.children
    assert isinstance(child, Tree)
    return child


def _trouble(text: str, error: UnexpectedInput) -> Unreadable:
    """Why a request cannot be followed, at its place."""
    halt = halted(text, error, SPOKEN)
    word, start = halt.word, halt.start
    if not word:
        return Unreadable("too short", f"something is missing at the end: {halt.wanted or 'more of it'}", start)
    if "UNIT" in halt.accepted:
        near = slip_of(word, MEASURES)
        hint = f"; did you mean `{near}`?" if near else "; as in `60 oz`, `20 gal`, `200 ml`, `85 %`"
        return Unreadable("unit", f"`{word}` is no unit known here{hint}", start, halt.stop)
    example = "as in `20 gal, 60 oz citric acid crystals`, `20 gal at 2.4 to 2.0 with citric acid crystals`"
    return Unreadable("expected", f"`{word}` says nothing that can be followed here; {example}", start, halt.stop)
