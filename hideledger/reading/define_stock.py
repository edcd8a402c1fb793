"""What a shop counts by and pays for: kinds of skin, measures, supplies, prices; and the words it adds for defects and tests."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from lark import Token, Tree

from hideledger.model.moments import Length
from hideledger.model.shop import Charge, Kind, Measure, Supply
from hideledger.model.units import UNITS, Quantity
from hideledger.reading import define_bounds as sides
from hideledger.reading import define_values as value
from hideledger.reading import values
from hideledger.reading.define_clauses import word
from hideledger.reading.define_ground import Ground, Said, foreign, head_names, one_name
from hideledger.reading.define_lines import Definition, Line, span
from hideledger.reading.define_values import refuse
from hideledger.reading.trouble import Unreadable


def named(made: Definition, ground: Ground, sort: str) -> tuple[Line, Tree[Token], str, tuple[str, ...]] | None:
    """Head line, names as parsed, name and other names; each of them new in its sort."""
    found = head_names(made, ground)
    if found is None:
        return None
    line, node = found
    try:
        name, others = value.names_of(node)
        for part, each in zip(value.parts(node, "name"), (name, *others), strict=True):
            ground.define(sort, each, line, part)
        return line, node, name, others
    except Unreadable as trouble:
        ground.refused(made, line, trouble)
        return None


def measure(made: Definition, ground: Ground) -> Measure | None:
    """A measure of the shop's own."""
    found = one_name(made, ground)
    if found is None:
        return None
    line, node, name = found
    given: list[Quantity] = []

    def take(_: Line, clause: Tree[Token]) -> None:
        if clause.data != "reading" or given:
            raise foreign(clause, "measure")
        bare = sides.bare(sides.reading(clause), "what a measure holds")
        given.append(value.quantity(bare, ground.terms, "volume", "weight"))

    try:
        for spelling in (name, name + "s"):
            if values.unit_name(spelling) is not None:
                raise refuse("unit", f"`{name}` is a unit already; a measure has a name of its own", node)
        ground.define("measure", name, line, node)
    except Unreadable as trouble:
        ground.refused(made, line, trouble)
        return None
    ground.take(made, take)
    if not given:
        end = len(line.text)
        missing = "here belongs what it holds, such as `measure dipper, 350 ml`"
        ground.refused(made, line, Unreadable("unfinished", missing, end - 1, end))
        return None
    return Measure(name=name, quantity=given[0], place=line.place)


def kind(made: Definition, ground: Ground) -> tuple[Kind, Definition, tuple[Line, Tree[Token]] | None] | None:
    """A kind of skin, and where its process is named."""
    found = named(made, ground, "kind")
    if found is None:
        return None
    line, _, name, others = found
    said = Said()
    route: list[tuple[Line, Tree[Token]]] = []

    def take(here: Line, clause: Tree[Token]) -> None:
        words = value.leaves(clause)
        if clause.data == "valued" and word(words[0]) == "counts":
            node = sides.bare(sides.valued(clause)[1], "what a skin counts for")
            counts = value.bare_number(node, "what a skin counts for")
            if counts <= 0:
                raise refuse("number", f"`{counts}`: a skin counts for more than nothing", node)
            said.put(here, clause, "counts", counts=counts)
        elif clause.data == "named" and word(words[0]) == "process":
            only = clause.children[1]
            if len(clause.children) > 2 or not isinstance(only, Tree):
                raise refuse("expected", "a kind follows one process", clause.children[2])
            said.put(here, clause, "process", process=value.name_of(only))
            route.append((here, only))
        else:
            raise foreign(clause, "kind")

    ground.take(made, take)
    return Kind(name=name, others=others, place=line.place, **said.fields), made, route[0] if route else None


def supply(made: Definition, ground: Ground) -> tuple[Supply, dict[str, Any]] | None:
    """Something bought and used up, and what its lines say (a later version leaves the rest as it was)."""
    found = head_names(made, ground)
    if found is None:
        return None
    line, node = found
    try:
        name, others = value.names_of(node)
        if "water" in (name, *others):
            raise refuse("twice", "`water` is a supply in every shop", node)
    except Unreadable as trouble:
        ground.refused(made, line, trouble)
        return None
    said = Said()
    if others:
        said.fields["others"] = others
    terms = ground.terms

    def take(here: Line, clause: Tree[Token]) -> None:
        words = value.leaves(clause)
        match clause.data:
            case "charge":
                per = value.part(clause, "per")
                if per is None:
                    end = span(clause)[1]
                    raise Unreadable(
                        "unfinished", "here belongs `per` and a unit, such as `$0.19 per lb`", end - 1, end
                    )
                said.put(here, clause, "price", price=money_of(clause), price_per=per_of(per, ground))
            case "rate":
                weight = value.quantity(clause.children[0], terms, "weight")  # type: ignore[arg-type]
                per = value.part(clause, "per")
                assert per is not None
                volume = per_of(per, ground)
                if volume.dimension != "volume":
                    raise refuse(
                        "unit kind",
                        f"`{value.text_of(per)}`: {value.KIND_OF_UNIT['volume']} belongs behind `per`",
                        per,
                    )
                said.put(here, clause, "weight by volume", density=(weight, volume))
            case "reading":
                bare = sides.bare(sides.reading(clause), "a strength")
                strength = value.quantity(bare, terms, "share").value
                if not 0 < strength <= 100:
                    raise refuse("number", f"`{value.text_of(bare)}`: a strength lies between 0 and 100 %", bare)
                said.put(here, clause, "strength", strength=strength)
            case "valued" if word(words[0]) == "keep":
                given = sides.valued(clause)[1]
                amount = (
                    given.least
                    if given.least is not None and given.most is None
                    else sides.bare(given, "what the shop keeps")
                )
                said.put(here, clause, "keep", keep=value.quantity(amount, terms, "weight", "volume"))
            case "valued" if word(words[0]) in value.FINEST:
                step = sides.bare(sides.valued(clause)[1], "what it is weighed to")
                finest = value.finest(step, terms, word(words[0]))
                said.put(here, clause, "weighed or measured to", weighed_to=finest)
            case "valued" if word(words[0]) == "comes in":
                length = value.length(sides.bare(sides.valued(clause)[1], "how long it takes to come"), terms)
                said.put(here, clause, "comes in", comes_in=length)
            case "since":
                said.put(here, clause, "since", since=value.day(words[1], terms))
            case _:
                raise foreign(clause, "supply")

    ground.take(made, take)
    return Supply(name=name, place=line.place, **said.fields), said.fields


def kept_by(found: Supply, ground: Ground) -> str:
    """`weight` or `volume`: how the shop keeps a supply, by the unit of what it keeps, else of its price; empty when unsaid."""
    for amount in (found.keep, found.price_per):
        if amount is None:
            continue
        own = ground.measures.get(amount.unit)
        dimension = own.quantity.dimension if own is not None else amount.dimension
        if dimension in {"weight", "volume"}:
            return dimension
    return ""


def money_of(clause: Tree[Token]) -> Quantity:
    """A sum of money."""
    sign, figure = value.leaves(clause)[:2]
    return Quantity(value=value.not_below_nothing(figure), unit=str(sign))


def per_of(node: Tree[Token], ground: Ground) -> Quantity:
    """What stands behind `per`: one of a unit, or so many."""
    figure, leaf, name = value.token(node, "NUMBER"), value.token(node, "UNIT"), value.part(node, "name")
    if leaf is None:
        assert name is not None
        leaves = value.leaves(name)
        if len(leaves) > 1:
            raise refuse("unit", f"`{value.text_of(name)}` is no unit", name)
        leaf = leaves[0]
    amount = Decimal(1) if figure is None else value.number(figure)
    if amount <= 0:
        raise refuse("number", f"`per {amount}`: it must be more than nothing", node)
    return Quantity(value=amount, unit=value.unit(leaf, ground.terms, ground.measures))


def wage(clause: Tree[Token], ground: Ground) -> tuple[Quantity, Length]:
    """What an hour of work costs: `$24 per h`."""
    per = value.part(clause, "per")
    assert per is not None
    amount = per_of(per, ground)
    if amount.dimension != "time":
        raise refuse("unit kind", f"`{value.text_of(per)}`: {value.KIND_OF_UNIT['time']} belongs behind `per`", per)
    sign = value.token(clause, "MONEY")
    figure = value.token(clause, "NUMBER")
    assert sign is not None
    assert figure is not None
    seconds = int(amount.value * UNITS[amount.unit].factor)
    return Quantity(value=value.not_below_nothing(figure), unit=str(sign)), Length(seconds=seconds, written=str(amount))


def charge(made: Definition, ground: Ground) -> Charge | None:
    """A price to a customer, or what sending hides away would cost."""
    line = made.head
    if line is None or line.tree is None:
        return None
    names = value.part(line.tree, "names")
    money: list[tuple[Quantity, str]] = []
    said = Said()

    def take(here: Line, clause: Tree[Token]) -> None:
        if clause.data == "charge":
            label, per = value.part(clause, "name"), value.part(clause, "per")
            what_for = f"per {value.text_of(per).casefold()}" if per is not None else ""
            if label is not None:
                what_for = value.written(label)
            found = (money_of(clause), what_for)
            said.put(here, clause, what_for or "price")
            money.append(found)
        elif clause.data == "since":
            said.put(here, clause, "since", since=value.day(value.leaves(clause)[1], ground.terms))
        elif made.sort == "charge" and clause.data == "valued" and word(value.leaves(clause)[0]) == "free for":
            length = value.length(sides.bare(sides.valued(clause)[1], "how long storage is free"), ground.terms)
            said.put(here, clause, "free for", free_for=length)
        else:
            raise foreign(clause, made.sort)

    try:
        if names is None and made.sort == "charge":
            message = "here belongs what is charged for, such as `charge whitetail cape, $92`"
            raise refuse("unfinished", message, line.tree.children[0])
        what = value.names_of(names)[0] if names is not None else ""
    except Unreadable as trouble:
        ground.refused(made, line, trouble)
        return None
    ground.take(made, take)
    since = said.fields.get("since")
    try:
        if not money:
            if not made.unread:
                raise Unreadable(
                    "unfinished", "here belongs a price, such as `$92`", len(line.text) - 1, len(line.text)
                )
            return None
        ground.define(made.sort, what, line, names or line.tree.children[0], since=str(since or ""), dated=True)
    except Unreadable as trouble:
        ground.refused(made, line, trouble)
        return None
    free = said.fields.get("free_for")
    return Charge(sort=made.sort, what=what, money=tuple(money), free_for=free, since=since, place=line.place)


def own_word(made: Definition, ground: Ground) -> tuple[str, tuple[str, ...]] | None:
    """A defect or a test that the shop names itself."""
    found = named(made, ground, made.sort)
    if found is None:
        return None
    ground.take(made, _nothing)
    return found[2], found[3]


def _nothing(_: Line, clause: Tree[Token]) -> None:
    raise foreign(clause, "test")
