"""Reads what is asked of `acid` in words: the parts of a bath, the pH it has and is to have, and what is to bring it there."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache

from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedInput

from hideledger.model.units import SPELLINGS, Quantity
from hideledger.reading.asking import sized, span_of, stopped_at
from hideledger.reading.grammar import open_grammar
from hideledger.reading.trouble import Unreadable
from hideledger.reading.values import number, unit_name
from hideledger.text.nearest import slip_of

WEIGHT, VOLUME = "weight", "volume"

# The forms in which an acid is sold, as they stand behind its name.
FORMS = frozenset(["crystals", "anhydrous", "monohydrate", "dihydrate"])
HIDES = frozenset(["hide", "hides", "skin", "skins", "cape", "capes", "pelt", "pelts"])

# Each terminal in a person's words. A test holds this table complete.
SPOKEN = {
    "NUMBER": "a number",
    "UNIT": "a unit (oz, lb, gal, ml …)",
    "FLUID": "a unit (oz, lb, gal, ml …)",
    "PERCENT": "`%`",
    "KIND": "`US` or `imperial`",
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
    "$END": "nothing more",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One thing in a bath, as asked: `amount` with `by` (`weight`, `volume` or unsaid), `strength` in per cent with its own.

    `text` is how it was written.
    """

    name: str = ""
    amount: Quantity | None = None
    by: str = ""
    strength: Decimal | None = None
    strength_by: str = ""
    per: Quantity | None = None  # the amount is for so much water
    text: str
    start: int
    end: int


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
    try:
        tree = acid_grammar().parse(text.rstrip(" \t,"), start="acid")
    except UnexpectedInput as error:
        raise _trouble(text, error) from None
    branches = {branch.data: branch for branch in tree.children if isinstance(branch, Tree)}
    before = _bare_reading(tree) if "wanted" in branches and "read" not in branches else None
    parts = tuple(
        _part(branch, text, gallons)
        for branch in tree.children
        if isinstance(branch, Tree) and branch.data == "part" and branch.children
    )
    agent = branches.get("agent")
    asked = AcidAsked(
        parts=parts,
        neutralise=_has(tree, "NEUTRALISE"),
        read=_reading(branches.get("read") or before, text),
        wanted=_reading(branches.get("wanted"), text),
        agent=_part(_only(agent), text, gallons) if agent is not None else None,
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


def _part(tree: Tree[Token], text: str, gallons: str) -> Part:
    start, end = span_of(tree)
    _no_bare(tree, text)
    amounts = [branch for branch in tree.children if isinstance(branch, Tree) and branch.data == "quantity"]
    strengths = [branch for branch in tree.children if isinstance(branch, Tree) and branch.data == "strength"]
    words = [child for child in tree.children if isinstance(child, Token) and child.type == "WORD"]
    pers = [branch for branch in tree.children if isinstance(branch, Tree) and branch.data == "per"]
    for twice in (amounts[1:], strengths[1:], pers[1:]):
        if twice:
            begin, stop = span_of(twice[0])
            message = (
                f"a comma between one thing and the next: `20 gal water, 20 lb salt`; `{text[begin:stop]}` stands here"
            )
            raise Unreadable("comma", message, begin, stop)
    amount, by = _amount(amounts[0], text, gallons) if amounts else (None, "")
    strength, strength_by = _strength(strengths[0], text) if strengths else (None, "")
    return Part(
        name=" ".join(word.casefold() for word in words),
        amount=amount,
        by=by,
        strength=strength,
        strength_by=strength_by,
        per=_per(pers[0], text, gallons) if pers else None,
        text=text[start:end],
        start=start,
        end=end,
    )


def _no_bare(tree: Tree[Token], text: str) -> None:
    """Refuses a number without a unit, with the unit that the word behind it may be a slip of."""
    for child, after in zip(tree.children, [*tree.children[1:], None], strict=True):
        if not isinstance(child, Tree) or child.data != "bare":
            continue
        start, end = span_of(child)
        if not isinstance(after, Token) or after.type != "WORD":
            message = f"`{text[start:end]}` of what? a unit stands behind its number (`60 oz`, `20 gal`, `85 %`), or `at` before a pH (`at 2.4`)"
            raise Unreadable("unit", message, start, end)
        word, first, last = str(after), after.start_pos or 0, after.end_pos or 0
        if word.casefold() in HIDES:
            said = text[start:last]
            raise Unreadable("unit", f"`{said}`: how much do they weigh together? as in `30 lb skins`", start, last)
        near = slip_of(word, SPELLINGS)
        hint = f"; did you mean `{near}`?" if near else "; as in `60 oz`, `20 gal`, `200 ml`, `85 %`"
        raise Unreadable("unit", f"`{word}` is no unit known here{hint}", first, last)


def _amount(tree: Tree[Token], text: str, gallons: str) -> tuple[Quantity, str]:
    tokens = {token.type: token for token in tree.children if isinstance(token, Token)}
    start, end = span_of(tree)
    figures = tokens["NUMBER"]
    value = number(figures, figures.start_pos or 0)
    unit = "floz" if "FLUID" in tokens else unit_name(tokens["UNIT"])
    by = _by(tokens.get("BY"))
    quantity = Quantity(value=value, unit=unit or "")
    if quantity.dimension not in (WEIGHT, VOLUME):
        raise Unreadable("unit kind", f"`{text[start:end]}`: a weight or a volume belongs here", start, end)
    if value <= 0:
        raise Unreadable("number", f"`{text[start:end]}`: it must be more than nothing", start, end)
    if unit == "oz" and by == VOLUME:
        unit = "floz"
    elif by and by != quantity.dimension:
        raise Unreadable("unit kind", f"`{text[start:end]}`: {unit} is no measure of {by}", start, end)
    return Quantity(value=value, unit=sized(unit or "", tokens.get("KIND"), gallons, text, (start, end))), by


def _per(tree: Tree[Token], text: str, gallons: str) -> Quantity:
    tokens = {token.type: token for token in tree.children if isinstance(token, Token)}
    start, end = span_of(tree)
    value = number(tokens["NUMBER"], tokens["NUMBER"].start_pos or 0) if "NUMBER" in tokens else Decimal(1)
    unit = unit_name(tokens["UNIT"]) or ""
    quantity = Quantity(value=value, unit=sized(unit, tokens.get("KIND"), gallons, text, (start, end)))
    if quantity.dimension != VOLUME or value <= 0:
        raise Unreadable(
            "unit kind", f"`{text[start:end]}`: per so much water belongs here, as in `per gal`", start, end
        )
    return quantity


def _strength(tree: Tree[Token], text: str) -> tuple[Decimal, str]:
    tokens = {token.type: token for token in tree.children if isinstance(token, Token)}
    start, end = span_of(tree)
    value = number(tokens["NUMBER"], tokens["NUMBER"].start_pos or 0)
    if not 0 < value <= 100:
        raise Unreadable("number", f"`{text[start:end]}`: a strength lies between 0 and 100 %", start, end)
    return value, _by(tokens.get("BY"))


def _has(tree: Tree[Token], kind: str) -> bool:
    return any(isinstance(child, Token) and child.type == kind for child in tree.children)


def _by(token: Token | None) -> str:
    if token is None:
        return ""
    return VOLUME if token.casefold().endswith(("volume", "v")) else WEIGHT


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
    start, accepted = stopped_at(text, error)
    rest = text[start:].split()
    wanted = " or ".join(dict.fromkeys(SPOKEN[name] for name in sorted(accepted) if name in SPOKEN))
    if not rest:
        return Unreadable("too short", f"something is missing at the end: {wanted or 'more of it'}", len(text.rstrip()))
    word = rest[0].rstrip(",")
    if "UNIT" in accepted:
        near = slip_of(word, SPELLINGS)
        hint = f"; did you mean `{near}`?" if near else "; as in `60 oz`, `20 gal`, `200 ml`, `85 %`"
        return Unreadable("unit", f"`{word}` is no unit known here{hint}", start, start + len(word))
    return Unreadable(
        "expected", f"{wanted or 'nothing more'} belongs here; `{word}` stands here", start, start + len(word)
    )
