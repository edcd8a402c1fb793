"""Reads one thing in a bath, as it is asked of `acid`: `60 oz citric acid crystals`, `85 % formic acid 200 ml`, `3 oz oxalic acid per gal`."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from lark import Token, Tree

from hideledger.model.units import Quantity
from hideledger.reading.asking import sized
from hideledger.reading.asking_place import MEASURES, span_of
from hideledger.reading.trouble import Unreadable
from hideledger.reading.values import number, unit_name
from hideledger.text.nearest import slip_of

WEIGHT, VOLUME = "weight", "volume"

# The forms in which an acid is sold, as they stand behind its name.
FORMS = frozenset(["crystals", "anhydrous", "monohydrate", "dihydrate"])
HIDES = frozenset(["hide", "hides", "skin", "skins", "cape", "capes", "pelt", "pelts"])


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


def side_by_side(tree: Tree[Token]) -> list[Tree[Token]]:
    """`20 gal 60 oz citric crystals` as two parts: one begins at each amount, where the first begins with one and each has a name, but for a volume of the bath in front."""
    starts = [at for at, child in enumerate(tree.children) if isinstance(child, Tree) and child.data == "quantity"]
    # `3 lb 12 oz` is one weight, however it ends
    starts = [at for at in starts if not (at - 1 in starts and _goes_on(tree.children[at - 1], tree.children[at]))]
    if len(starts) < 2 or starts[0] != 0:
        return [tree]
    pieces = [tree.children[begin:end] for begin, end in zip(starts, [*starts[1:], None], strict=True)]
    unnamed = [piece for piece in pieces if not any(isinstance(part, Token) and part.type == "WORD" for part in piece)]
    if unnamed and (unnamed != pieces[:1] or _plain_amount(unnamed[0][0]).dimension != VOLUME):
        return [tree]
    return [Tree("part", list(piece)) for piece in pieces]


def _goes_on(first: Tree[Token] | Token, second: Tree[Token] | Token) -> bool:
    """`3 lb 12 oz`: the same sort of measure, and the second smaller than one of the first."""
    whole, rest = (_plain_amount(each) for each in (first, second))
    return whole.dimension == rest.dimension and rest.dimension in (WEIGHT, VOLUME) and rest.to(whole.unit) < 1


def _plain_amount(tree: Tree[Token] | Token) -> Quantity:
    """An amount, whichever gallon is meant."""
    assert isinstance(tree, Tree)
    tokens = {token.type: token for token in tree.children if isinstance(token, Token)}
    unit = "floz" if "FLUID" in tokens else unit_name(tokens["UNIT"])
    return Quantity(value=number(tokens["NUMBER"], tokens["NUMBER"].start_pos or 0), unit=unit or "")


def part_of(tree: Tree[Token], text: str, gallons: str) -> Part:
    """A `part` of the grammar. Raises Unreadable."""
    start, end = span_of(tree)
    _no_bare(tree, text)
    amounts = [branch for branch in tree.children if isinstance(branch, Tree) and branch.data == "quantity"]
    strengths = [branch for branch in tree.children if isinstance(branch, Tree) and branch.data == "strength"]
    words = [child for child in tree.children if isinstance(child, Token) and child.type == "WORD"]
    pers = [branch for branch in tree.children if isinstance(branch, Tree) and branch.data == "per"]
    further = amounts[1:]
    if len(amounts) == 2 and _goes_on(*amounts) and not text[span_of(amounts[0])[1] : span_of(amounts[1])[0]].strip():
        further = []
    for twice in (further, strengths[1:], pers[1:]):
        if twice:
            begin, stop = span_of(twice[0])
            message = (
                f"a comma between one thing and the next: `20 gal water, 20 lb salt`; `{text[begin:stop]}` stands here"
            )
            raise Unreadable("comma", message, begin, stop)
    amount, by = _amount(amounts[0], text, gallons) if amounts else (None, "")
    if amount is not None and len(amounts) == 2:
        rest, by = _amount(amounts[1], text, gallons)
        amount = Quantity(value=amount.value + rest.to(amount.unit), unit=amount.unit)
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
        near = slip_of(word, MEASURES)
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
    return Quantity(
        value=value, unit=sized(unit or "", tokens.get("KIND") or tokens.get("SIZE"), gallons, text, (start, end))
    ), by


def _per(tree: Tree[Token], text: str, gallons: str) -> Quantity:
    tokens = {token.type: token for token in tree.children if isinstance(token, Token)}
    start, end = span_of(tree)
    value = number(tokens["NUMBER"], tokens["NUMBER"].start_pos or 0) if "NUMBER" in tokens else Decimal(1)
    unit = unit_name(tokens["UNIT"]) or ""
    quantity = Quantity(
        value=value, unit=sized(unit, tokens.get("KIND") or tokens.get("SIZE"), gallons, text, (start, end))
    )
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


def _by(token: Token | None) -> str:
    if token is None:
        return ""
    return VOLUME if token.casefold().endswith(("volume", "v")) else WEIGHT
