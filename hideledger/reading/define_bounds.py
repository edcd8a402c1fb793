"""Least and most: of a stay, of a run, of a reading. A limit that does not say which of the two it is, is refused."""

from __future__ import annotations

from dataclasses import dataclass

from lark import Token, Tree

from hideledger.model.process import Limits, Range
from hideledger.model.units import Quantity
from hideledger.reading.define_clauses import word
from hideledger.reading.define_lines import Line, span
from hideledger.reading.define_values import (
    Terms,
    bare_number,
    leaves,
    length,
    part,
    parts,
    quantity,
    refuse,
    text_of,
    token,
)
from hideledger.reading.trouble import Unreadable


@dataclass(frozen=True, slots=True, kw_only=True)
class Bounds:
    """`24 h to 14 d`, `at least 3 d`, or a value alone (`bare`), each still as parsed."""

    least: Tree[Token] | None = None
    most: Tree[Token] | None = None
    bare: Tree[Token] | None = None
    node: Tree[Token]


def bounds(node: Tree[Token]) -> Bounds:
    """`A to B`, `at least A`, `at most B`, `at least A at most B`, or a value alone. A unit may be left out of A in `A to B`."""
    children = node.children
    found = parts(node, "value")
    if isinstance(children[0], Tree):
        if len(found) == 1:
            return Bounds(bare=found[0], node=node)
        first, second = found
        if len(first.children) == 1 and len(second.children) == 2:
            first = Tree("value", [*first.children, second.children[1]])
        return Bounds(least=first, most=second, node=node)
    limits = [(word(leaf), leaf) for leaf in children if isinstance(leaf, Token)]
    if len(limits) == 2 and limits[0][0] == limits[1][0]:
        raise refuse("twice", f"`{limits[0][0]}` stands twice", limits[1][1])
    sides = {said.rsplit(" ", maxsplit=1)[-1]: value for (said, _), value in zip(limits, found, strict=True)}
    return Bounds(least=sides.get("least"), most=sides.get("most"), node=node)


def bare(found: Bounds, what: str) -> Tree[Token]:
    """The value of a clause that takes one value alone."""
    if found.bare is None:
        raise refuse("expected", f"`{text_of(found.node)}`: {what} is one value", found.node)
    return found.bare


def limits(line: Line, clause: Tree[Token], found: Bounds, terms: Terms, verb: str) -> Limits:
    """A stay or a run has a least and a most time; one length alone is refused.

    Raises Unreadable.
    """
    if found.bare is not None:
        said = text_of(found.bare)
        length(found.bare, terms)
        raise refuse(
            "bare", f"`{verb} {said}`: `at least {said}`, `at most {said}`, or `{said} to` another?", found.bare
        )
    least = length(found.least, terms) if found.least is not None else None
    most = length(found.most, terms) if found.most is not None else None
    if least is not None and most is not None and least.about_seconds > most.about_seconds:
        raise refuse("goes down", f"`{least} to {most}` goes down; the shorter comes first", found.node)
    return Limits(least=least, most=most, place=line.at(clause))


def reach(line: Line, clause: Tree[Token], found: Bounds, terms: Terms, *dimensions: str, basis: str = "") -> Range:
    """Least and most of a reading, in the written unit."""
    if found.bare is not None:
        said = text_of(found.bare)
        quantity(found.bare, terms, *dimensions)
        raise refuse("bare", f"`{said}`: `at least {said}`, `at most {said}`, or `{said} to` another?", found.bare)
    least = quantity(found.least, terms, *dimensions) if found.least is not None else None
    most = quantity(found.most, terms, *dimensions) if found.most is not None else None
    _upwards(least, most, found)
    return Range(least=least, most=most, basis=basis, place=line.at(clause))


def scale(line: Line, clause: Tree[Token], found: Bounds, name: str, basis: str = "") -> Range:
    """Least and most on a scale without a unit: `pH` (0 to 14) or `SG`."""
    if found.bare is not None:
        said = text_of(found.bare)
        raise refuse(
            "bare", f"`{name} {said}`: `at least {said}`, `at most {said}`, or `{said} to` another?", found.bare
        )
    sides: list[Quantity | None] = []
    for side in (found.least, found.most):
        value = None if side is None else Quantity(value=bare_number(side, name), unit=name)
        if value is not None and side is not None and name == "pH" and not 0 <= value.value <= 14:
            raise refuse("pH", f"`{text_of(side)}`: a pH lies between 0 and 14", side)
        sides.append(value)
    _upwards(sides[0], sides[1], found)
    return Range(least=sides[0], most=sides[1], basis=basis, place=line.at(clause))


def _upwards(least: Quantity | None, most: Quantity | None, found: Bounds) -> None:
    if least is None or most is None:
        return
    if least.unit != most.unit and (least.dimension != most.dimension or least.dimension != "temperature"):
        raise refuse("unit kind", f"`{text_of(found.node)}`: both ends in one unit, please", found.node)
    if least.value > most.to(least.unit):
        raise refuse("goes down", f"`{text_of(found.node)}` goes down; the smaller comes first", found.node)


def valued(clause: Tree[Token]) -> tuple[str, Bounds, Token | None]:
    """A clause's own word in small letters, its bounds, and what they hold for (`at mixing`) where it is said."""
    first = leaves(clause)[0]
    found = part(clause, "bounds")
    if found is None:
        end = span(clause)[1]
        raise Unreadable("unfinished", f"a value belongs behind `{word(first)}`", end - 1, end)
    return word(first), bounds(found), token(clause, "BASIS")


def reading(clause: Tree[Token]) -> Bounds:
    """The bounds of a clause without a word of its own."""
    found = part(clause, "bounds")
    assert found is not None
    return bounds(found)
