"""Figures, units, lengths of time and names as a definition writes them, turned into values. Nothing is guessed.

Every function takes a part of a line as parsed and raises Unreadable at its offsets in that line. cup, tbsp and tsp are the US customary
measures in every shop: an imperial cup is nobody's by law; a shop that means another writes a `measure` of its own.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from lark import Token, Tree

from hideledger.model.moments import Length
from hideledger.model.shop import Measure
from hideledger.model.units import OF_TWO_SIZES, SPELLINGS, UNITS, Quantity
from hideledger.reading import values
from hideledger.reading.define_lines import Node, span
from hideledger.reading.own_words import LONGEST_NAME, RESERVED
from hideledger.reading.trouble import Unreadable
from hideledger.text.nearest import nearest

_LONGEST_MESSAGE = 400
_LONGEST_NUMBER = 12  # figures; a longer one is a slip of the hand
_LONGEST_LENGTH = 200 * 366 * 86400  # seconds: nothing in a shop lasts two hundred years

# How fine a scale or a spoon is, and what it measures.
FINEST = {"weighed to": "weight", "measured to": "volume"}

KIND_OF_UNIT = {
    "weight": "a weight (lb, oz, kg, g)",
    "volume": "a volume (gal, qt, L, ml)",
    "temperature": "a temperature (F or C)",
    "pressure": "a pressure (psi, bar, kPa)",
    "time": "a length of time (min, h, d)",
    "salt": "a salt reading (sal, Be, SG)",
    "share": "a share in %",
    "length": "a length (in, cm)",
    "area": "an area (sqft, sqm)",
    "measure": "a measure of the shop's own",
    "pH": "a pH",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """What the shop's own lines say about how figures are read: which gallon, which degree, which part of a date comes first."""

    gallons: str = ""
    degrees: str = ""
    dates: str = ""


def leaves(node: Tree[Token]) -> list[Token]:
    """The words and figures of a part of a line."""
    return list(node.scan_values(lambda token: isinstance(token, Token)))


def parts(node: Tree[Token], data: str) -> list[Tree[Token]]:
    """The parts of that sort right below."""
    return [child for child in node.children if isinstance(child, Tree) and child.data == data]


def part(node: Tree[Token], data: str) -> Tree[Token] | None:
    """The first part of that sort, or None."""
    return next(iter(parts(node, data)), None)


def token(node: Tree[Token], terminal: str) -> Token | None:
    """The first word of that sort right below, or None."""
    return next((child for child in node.children if isinstance(child, Token) and child.type == terminal), None)


def refuse(code: str, message: str, node: Node) -> Unreadable:
    """The trouble at a part of a line."""
    short = message if len(message) <= _LONGEST_MESSAGE else message[:_LONGEST_MESSAGE] + "…"
    return Unreadable(code, short, *span(node))


def written(node: Tree[Token]) -> str:
    """A name's words in small letters, unchecked."""
    return " ".join(leaf.casefold() for leaf in leaves(node))


def name_of(node: Tree[Token], *, step: bool = False) -> str:
    """A name the shop gives, in small letters: one to four words, none of them of the language (a step may be `in` or `out`)."""
    words = [leaf.casefold() for leaf in leaves(node)]
    if step and words in (["in"], ["out"]):
        return words[0]
    for leaf in leaves(node):
        if leaf.casefold() in RESERVED:
            raise refuse("name", f"`{leaf}` is a word of the language; a name cannot have it in it", leaf)
    if len(words) > LONGEST_NAME:
        raise refuse("name", f"a name has one to four words, this one has {len(words)}", node)
    return " ".join(words)


def names_of(node: Tree[Token], *, step: bool = False) -> tuple[str, tuple[str, ...]]:
    """`fleshed or flesh`: the name and its other names."""
    found = [name_of(name, step=step) for name in parts(node, "name")]
    for at, name in enumerate(found):
        if name in found[:at]:
            raise refuse("twice", f"`{name}` stands twice in this line", parts(node, "name")[at])
    return found[0], tuple(found[1:])


def known(name: str, table: object, node: Node, code: str, what: str, *, spoken: str = "") -> None:
    """Raises Unreadable with the nearest name when `name` is not in `table` (names in small letters)."""
    assert isinstance(table, dict | set | frozenset | tuple | list)
    if name in table:
        return
    near = nearest(name, table)
    hint = f"; did you mean `{near}`?" if near else ""
    listed = spoken or (
        ", ".join(f"`{entry}`" for entry in list(dict.fromkeys(table))[:6]) if table and not near else ""
    )
    raise refuse(code, f"`{name}` is no {what}{hint or (f'; {listed}' if listed else '')}", node)


def number(leaf: Token) -> Decimal:
    """A number as written."""
    if sum(mark.isdigit() for mark in leaf) > _LONGEST_NUMBER:
        raise refuse("number", f"a number of more than {_LONGEST_NUMBER} figures", leaf)
    return values.number(str(leaf), leaf.start_pos or 0)


def not_below_nothing(leaf: Token) -> Decimal:
    """A number of which there cannot be less than none."""
    found = number(leaf)
    if found < 0:
        raise values.below_nothing(str(leaf), leaf.start_pos or 0)
    return found


def own_measure(name: str, measures: dict[str, Measure]) -> Measure | None:
    """The shop's own measure of that name, one or several of it (`dipper`, `dippers`)."""
    small = name.casefold()
    return measures.get(small) or measures.get(small.removesuffix("s")) or measures.get(small.removesuffix("es"))


def unit(leaf: Token, terms: Terms, measures: dict[str, Measure] | None = None) -> str:
    """The unit a word stands for. Raises Unreadable for one that can be read two ways in this shop."""
    if leaf.type == "DEGREE":
        if not terms.degrees:
            raise refuse(
                "degrees", f"{leaf}: F or C? write one, or a line `degrees F` or `degrees C` under `shop`", leaf
            )
        return terms.degrees
    own = own_measure(str(leaf), measures) if measures else None
    if own is not None:
        return own.name
    name = values.unit_name(str(leaf))
    if name is None:
        near = nearest(str(leaf), [*SPELLINGS, *(measures or ())])
        hint = f"did you mean `{near}`?" if near else "a unit such as lb, gal, h or F belongs here"
        raise refuse("unit", f"`{leaf}` is no unit; {hint}", leaf)
    if name in OF_TWO_SIZES and terms.gallons != "US":
        if not terms.gallons:
            message = f"`{leaf}`: US or imperial? write a line `gallons US` or `gallons imperial` under `shop`"
            raise refuse("gallons", message, leaf)
        return f"imperial {name}"
    return name


def quantity_parts(value: Tree[Token], terms: Terms) -> list[Quantity]:
    """The numbers of a value with their units (`2 h 30 min`); none when it is a number alone."""
    leaves_found = leaves(value)
    found = []
    for figure, name in zip(leaves_found[::2], leaves_found[1::2], strict=False):
        part_found = Quantity(value=number(figure), unit=unit(name, terms))
        if part_found.value < 0 and part_found.dimension != "temperature":
            raise values.below_nothing(str(figure), figure.start_pos or 0)
        found.append(part_found)
    return found


def quantity(value: Tree[Token], terms: Terms, *dimensions: str) -> Quantity:
    """A value with its unit, of one of these dimensions; `7 lb 8 oz` is one weight, in its first unit."""
    found = quantity_parts(value, terms)
    if not found:
        if dimensions == ("temperature",):
            said = text_of(value)
            raise refuse("unit", f"`{said}`: `{said} F` or `{said} C`?", value)
        raise refuse("unit", f"`{text_of(value)}` has no unit; {_expected(dimensions)} belongs here", value)
    for part_found in found:
        if part_found.dimension not in dimensions or part_found.dimension != found[0].dimension:
            raise refuse("unit kind", f"`{text_of(value)}`: {_expected(dimensions)} belongs here", value)
    if len(found) == 1:
        return found[0]
    if found[0].dimension not in {"weight", "volume"}:
        raise refuse("unit kind", f"`{text_of(value)}`: one number belongs here", value)
    return Quantity(value=sum((one.to(found[0].unit) for one in found), Decimal(0)), unit=found[0].unit)


def finest(value: Tree[Token], terms: Terms, said: str) -> Quantity:
    """The finest step of a scale (`weighed to`), a spoon or a jug (`measured to`): `1/4 lb`. More than nothing."""
    found = quantity(value, terms, FINEST[said])
    if found.value <= 0:
        raise refuse("number", f"`{text_of(value)}`: it must be more than nothing", value)
    return found


def _expected(dimensions: tuple[str, ...]) -> str:
    return " or ".join(KIND_OF_UNIT.get(dimension, dimension) for dimension in dimensions)


def text_of(node: Tree[Token]) -> str:
    """A part of a line in its own words, single blanks between."""
    return " ".join(" ".join(leaf.split()) for leaf in leaves(node))


def bare_number(value: Tree[Token], what: str) -> Decimal:
    """A number without a unit."""
    found = leaves(value)
    if len(found) > 1:
        raise refuse("unit kind", f"`{text_of(value)}`: {what} is a number without a unit", value)
    return not_below_nothing(found[0])


def length(value: Tree[Token], terms: Terms) -> Length:
    """A length of time: `24 h`, `2 h 30 min`, `9 mo`."""
    found = quantity_parts(value, terms)
    said = text_of(value)
    if not found:
        raise refuse("unit", f"`{said}` has no unit; {KIND_OF_UNIT['time']} belongs here", value)
    seconds, months = Decimal(0), Decimal(0)
    for one in found:
        if one.dimension == "time":
            seconds += one.value * UNITS[one.unit].factor
        elif one.dimension == "calendar":
            months += one.value * UNITS[one.unit].factor
        else:
            raise refuse("unit kind", f"`{said}`: {KIND_OF_UNIT['time']} belongs here", value)
    if seconds < 0 or months < 0:
        raise refuse("number", f"`{said}`: no time is shorter than none", value)
    if months != int(months):
        raise refuse("number", f"`{said}`: months are counted whole; write days", value)
    if seconds + months * 31 * 86400 > _LONGEST_LENGTH:
        raise refuse("number", f"`{said}` is longer than any hide is kept", value)
    return Length(seconds=int(seconds), months=int(months), written=said)


def day(leaf: Token, terms: Terms) -> date:
    """A date with its year."""
    return values.written_date(str(leaf), leaf.start_pos or 0, terms.dates).settled(None)
