"""Vessels, and the places where hides rest."""

from __future__ import annotations

from typing import Any

from lark import Token, Tree

from hideledger.model.shop import Spot, Vessel
from hideledger.reading import define_bounds as sides
from hideledger.reading import define_values as value
from hideledger.reading.define_clauses import CLAUSES
from hideledger.reading.define_ground import Ground, Said, foreign, one_name
from hideledger.reading.define_lines import Definition, Line
from hideledger.reading.define_values import refuse
from hideledger.reading.desk import canonical_tag
from hideledger.reading.trouble import Unreadable
from hideledger.text.nearest import nearest

_VESSELS = ("drum", "vat", "tub", "barrel", "bucket", "tank", "tote", "trough", "pail")


def vessel(made: Definition, ground: Ground) -> tuple[Vessel, dict[str, Any]] | None:
    """A drum, vat, tub or barrel, and what its lines say (a later version leaves the rest as it was)."""
    line = made.head
    if line is None or line.tree is None:
        return None
    leaf = value.token(line.tree, "TAG")
    if leaf is None:
        names = value.part(line.tree, "names")
        ground.refused(
            made, line, refuse("tag", "a tag such as D1 belongs behind `vessel`", names or line.tree.children[0])
        )
        return None
    said = Said()
    terms = ground.terms

    def take(here: Line, clause: Tree[Token]) -> None:
        if clause.data == "name":
            sort = value.name_of(clause)
            near = nearest(sort, (*_VESSELS, *CLAUSES["vessel"]))
            if near is not None and near != sort:
                raise refuse("word", f"`{sort}`: did you mean `{near}`?", clause)
            said.put(here, clause, "sort of vessel", sort=sort)
        elif clause.data == "since":
            said.put(here, clause, "since", since=value.day(value.leaves(clause)[1], terms))
        elif clause.data == "reading":
            found = sides.reading(clause)
            if found.bare is not None:
                said.put(here, clause, "volume", volume=value.quantity(found.bare, terms, "volume"))
            elif found.most is None or found.least is not None:
                raise refuse("expected", "here belongs `at most` and a pressure, such as `at most 10 psi`", clause)
            else:
                said.put(here, clause, "at most", most_pressure=value.quantity(found.most, terms, "pressure"))
        elif clause.data == "valued":
            what, found, _ = sides.valued(clause)
            if what == "stands":
                if found.most is None or found.least is not None:
                    raise refuse("bare", "here belongs `stands at most` and a length of time", clause)
                said.put(here, clause, what, stands=value.length(found.most, terms))
            elif what == "holds":
                amount = (
                    found.most
                    if found.most is not None and found.least is None
                    else sides.bare(found, "what a vessel holds")
                )
                if len(amount.children) == 1:
                    said.put(here, clause, what, holds=value.bare_number(amount, "how many skins it holds"))
                else:
                    said.put(here, clause, "holds, by weight", holds_weight=value.quantity(amount, terms, "weight"))
            else:
                raise foreign(clause, "vessel")
        else:
            raise foreign(clause, "vessel")

    ground.take(made, take)
    return Vessel(tag=canonical_tag(str(leaf)), place=line.place, **said.fields), said.fields


def spot(made: Definition, ground: Ground) -> Spot | None:
    """A place that hides rest in."""
    found = one_name(made, ground)
    if found is None:
        return None
    line, node, name = found
    try:
        ground.define("place", name, line, node)
    except Unreadable as trouble:
        ground.refused(made, line, trouble)
        return None
    said = Said()

    def take(here: Line, clause: Tree[Token]) -> None:
        if clause.data != "reading":
            raise foreign(clause, "place")
        within = sides.reach(here, clause, sides.reading(clause), ground.terms, "temperature")
        for side in ("least", "most"):
            limit = getattr(within, side)
            if limit is not None:
                said.put(here, clause, f"at {side}", **{side: limit})

    ground.take(made, take)
    return Spot(name=name, place=line.place, **said.fields)
