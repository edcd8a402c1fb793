"""What a bath is made of: so much of each supply to a volume, a weight of skin or a hide, and how long it lasts."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from lark import Token, Tree

from hideledger.model.shop import Recipe, RecipeBasis, Supply
from hideledger.model.units import Quantity
from hideledger.reading import define_values as value
from hideledger.reading.define_clauses import word
from hideledger.reading.define_ground import Ground, Said, foreign, one_name
from hideledger.reading.define_lines import Definition, Line, Node
from hideledger.reading.define_stock import per_of
from hideledger.reading.define_values import refuse
from hideledger.reading.own_words import BASES

_SKIN = ("skin", "skins", "hide", "hides")
_LIQUID = ("water", "liquor")
_WEIGHED = tuple(BASES)
_COUNTED = ("hide", "count")
_AS_COUNTED = {"hides": "hide", "skin": "hide", "skins": "hide", "head": "hide", "counts": "count"}


def recipe(made: Definition, ground: Ground, supplies: dict[str, Supply]) -> tuple[Recipe, dict[str, Any]] | None:
    """What a bath is made of, and what its lines say (a later version leaves the rest as it was)."""
    found = one_name(made, ground)
    if found is None:
        return None
    line, _, name = found
    said = Said()
    bases: list[RecipeBasis] = []
    keeps = {spelling: each.by for each in supplies.values() for spelling in (each.name, *each.others)}

    def take(here: Line, clause: Tree[Token]) -> None:
        match clause.data:
            case "basis":
                base, per = _base(clause, ground)
                amounts = tuple(_amount(each, ground, keeps, per) for each in value.parts(clause, "amount"))
                said.put(here, clause.children[1], f"per {base}" if per is None else f"{per} ({base})")
                bases.append(RecipeBasis(base=base, per=per, amounts=amounts, place=here.at(clause)))
            case "reach" if word(value.leaves(clause)[0]) == "lasts":
                _lasts(here, clause, ground, said)
            case "since":
                said.put(here, clause, "since", since=value.day(value.leaves(clause)[1], ground.terms))
            case _:
                raise foreign(clause, "recipe")

    ground.take(made, take)
    if bases:
        said.fields["bases"] = tuple(bases)
    return Recipe(name=name, place=line.place, **said.fields), said.fields


def _lasts(line: Line, clause: Tree[Token], ground: Ground, said: Said) -> None:
    amount, of, per = value.part(clause, "value"), value.part(clause, "name"), value.part(clause, "per")
    assert amount is not None
    if (
        of is None
        and per is None
        and len(amount.children) > 1
        and value.quantity_parts(amount, ground.terms)[0].dimension != "weight"
    ):
        said.put(line, clause, "lasts, a time", lasts=value.length(amount, ground.terms), lasts_place=line.at(clause))
        return
    if len(amount.children) == 1:
        raise refuse(
            "unit", f"`{value.text_of(amount)}` has no unit; a length of time or a weight belongs here", amount
        )
    weight = value.quantity(amount, ground.terms, "weight")
    if of is not None:
        value.known(value.written(of), _SKIN, of, "word", "word for what goes through a bath", spoken="write `of skin`")
    volume = None if per is None else per_of(per, ground)
    if per is not None and volume is not None and volume.dimension != "volume":
        raise refuse("unit kind", f"`{value.text_of(per)}`: {value.KIND_OF_UNIT['volume']} belongs behind `per`", per)
    said.put(line, clause, "lasts, a weight", lasts_weight=weight, lasts_weight_per=volume)
    said.fields.setdefault("lasts_place", line.at(clause))


def _base(clause: Tree[Token], ground: Ground) -> tuple[str, Quantity | None]:
    """`gal water` and one gal; `hide` and nothing; `lb of drained` and 100 lb."""
    amount = value.part(clause, "value")
    where: Node
    if amount is not None:
        of = value.part(clause, "name")
        assert of is not None
        where = amount
        per = value.quantity(amount, ground.terms, "weight", "volume")
    else:
        base = value.part(clause, "base")
        assert base is not None
        of = value.part(base, "name")
        assert of is not None
        leaf = value.token(base, "UNIT")
        if leaf is None:
            said = _AS_COUNTED.get(value.written(of), value.written(of))
            value.known(
                said,
                _COUNTED,
                of,
                "word",
                "measure to make a bath by",
                spoken="`hide`, `count`, `gal water`, `lb of drained` …",
            )
            return said, None
        figure = value.token(base, "NUMBER")
        where = leaf
        count = Decimal(1) if figure is None else value.number(figure)
        per = Quantity(value=count, unit=value.unit(leaf, ground.terms))
        if per.dimension not in {"weight", "volume"}:
            raise refuse("unit kind", f"`{leaf}`: a weight or a volume belongs here", leaf)
    if per.value <= 0:
        raise refuse("number", f"`{per}`: it must be more than nothing", where)
    shown = per.unit.removeprefix("imperial ")
    said = value.written(of)
    if said in _WEIGHED or (said not in _LIQUID and per.dimension == "weight"):
        if per.dimension != "weight":
            raise refuse(
                "unit kind",
                f"`{shown}`: {value.KIND_OF_UNIT['weight']} belongs before `{said}`",
                where,
            )
        value.known(said, (*_WEIGHED, *_LIQUID), of, "word", "weight of a skin")
        return f"{shown} of {said}" if said in _WEIGHED else f"{shown} {said}", per
    value.known(said, (*_LIQUID, *_WEIGHED), of, "word", "measure to make a bath by")
    return f"{shown} {said}", per


def _amount(node: Tree[Token], ground: Ground, keeps: dict[str, str], per: Quantity | None) -> tuple[Quantity, str]:
    given, name = value.part(node, "quantity"), value.part(node, "name")
    assert given is not None and name is not None
    figure, leaf = value.leaves(given)
    amount = Quantity(value=value.not_below_nothing(figure), unit=value.unit(leaf, ground.terms, ground.measures))
    said = value.name_of(name)
    if amount.unit == "%":
        return _share(amount.value, said, per, node, ground), said
    if amount.dimension not in {"weight", "volume", "measure"}:
        raise refuse("unit kind", f"`{value.text_of(given)}`: a weight or a volume belongs here", given)
    if amount.unit == "oz" and (keeps.get(said) == "volume" or said == "water"):
        raise refuse(
            "ounces", f"`{value.text_of(node)}`: `floz` (a volume) or `oz` by weight? `{said}` is kept by volume", given
        )
    return amount, said


def _share(percent: Decimal, name: str, per: Quantity | None, node: Tree[Token], ground: Ground) -> Quantity:
    """`20 % salt` of a weight of skin is a fifth of that weight; of water it is poured, a litre for a kilogram."""
    if per is None or per.dimension != "weight":
        raise refuse(
            "share",
            f"`{value.text_of(node)}`: a share of what? of a weight, as in `100 lb of drained: 20 % salt`",
            node,
        )
    if percent <= 0:
        raise refuse("number", f"`{value.text_of(node)}`: it must be more than nothing", node)
    if name != "water":
        return Quantity(value=percent * per.value / 100, unit=per.unit)
    litres = Quantity(value=percent * per.to("kg") / 100, unit="L")
    gallon = {"US": "gal", "imperial": "imperial gal"}.get(ground.terms.gallons, "L")
    return Quantity(value=litres.to(gallon), unit=gallon)
