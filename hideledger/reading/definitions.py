"""How this shop works: every definition of the book, wherever it stands, read into one ShopBook.

The shop's own lines come first, since they settle how all figures are read; then what is named by others, then what names it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date
from functools import cache
from typing import Any, TypeVar

from lark import Token, Tree

from hideledger.model.process import Process
from hideledger.model.shop import Kind, Recipe, ShopBook, Supply, Vessel
from hideledger.reading import define_places, define_shop, define_stock, define_values
from hideledger.reading.define_ground import Ground
from hideledger.reading.define_lines import Complaints, Definition, Line, is_definition, parse_block
from hideledger.reading.define_processes import ProcessReader
from hideledger.reading.define_recipes import recipe
from hideledger.reading.define_shop import ShopReader
from hideledger.reading.define_values import refuse
from hideledger.reading.pages import Block
from hideledger.reading.trouble import Unreadable
from hideledger.reading.words import Vocabulary
from hideledger.text.nearest import nearest
from hideledger.text.place import Complaint, Place

__all__ = ["is_definition", "read_definitions"]

Thing = TypeVar("Thing")
Dated = TypeVar("Dated", Vessel, Supply, Recipe)


def read_definitions(blocks: Sequence[Block]) -> tuple[ShopBook, tuple[Complaint, ...]]:
    """All definitions of a book, and what in them could not be read. Raises nothing on any text.

    Names come out in small letters but for those of the shop and of customers. A thing that could not be read in full keeps the lines
    that could; the ShopBook is then not `whole`.
    """
    complaints = Complaints()
    found: list[Definition] = []
    for order, block in enumerate(blocks):
        complaints.order = order
        found.append(parse_block(block, complaints))
    ground = Ground(complaints=complaints, unread={made.sort for made in found if made.unread})
    shop = _Shop(found, ground).read()
    said = complaints.sorted()
    return replace(shop, whole=not said), said


class _Shop:
    """One reading of all definitions."""

    def __init__(self, found: list[Definition], ground: Ground) -> None:
        self.found = found
        self.ground = ground

    def of(self, *sorts: str) -> list[Definition]:
        """The definitions of some sorts, as they stand in the book."""
        return [made for made in self.found if made.sort in sorts]

    def each(self, read: Callable[[Definition, Ground], Thing | None], *sorts: str) -> list[Thing]:
        """What `read` makes of each of them."""
        return [thing for made in self.of(*sorts) if (thing := read(made, self.ground)) is not None]

    def read(self) -> ShopBook:
        """Everything, in the order in which one rests on the other."""
        ground = self.ground
        own = ShopReader(ground)
        for made in self.of("shop"):
            own.settle(made)
        for made in self.of("shop"):
            own.read(made)
        for measure in self.each(define_stock.measure, "measure"):
            ground.measures[measure.name] = measure
        supplies = self._supplies()
        defects, tests = (
            dict(self.each(define_stock.own_word, "defect")),
            dict(self.each(define_stock.own_word, "test")),
        )
        kinds = self.each(define_stock.kind, "kind")
        spellings = {name: kind.name for kind, _, _ in kinds for name in (kind.name, *kind.others)}
        own_tests = {spelling: name for name, others in tests.items() for spelling in (name, *others)}
        routes = ProcessReader(ground, spellings, {**built_in("test"), **own_tests}, built_in("rest"))
        for made in self.of("process"):
            routes.read(made)
        processes = routes.processes(built_in("defect"))
        self._own_defects(routes)
        return ShopBook(
            shop=own.lines(),
            customers=tuple(self.each(define_shop.customer, "customer")),
            vessels=self._versions("vessel", define_places.vessel, lambda each: each.tag),
            spots={spot.name: spot for spot in self.each(define_places.spot, "place")},
            kinds={kind.name: self._routed(kind, made, route, processes) for kind, made, route in kinds},
            measures=ground.measures,
            supplies=supplies,
            recipes=self._versions("recipe", lambda made, here: recipe(made, here, supplies), lambda each: each.name),
            charges=tuple(self.each(define_stock.charge, "charge", "sent out")),
            processes=processes,
            defects=defects,
            tests=tests,
        )

    def _versions(
        self,
        sort: str,
        read: Callable[[Definition, Ground], tuple[Dated, dict[str, Any]] | None],
        name_of: Callable[[Dated], str],
    ) -> dict[str, Dated]:
        """Each with its last version, which holds those before it."""
        several: dict[str, list[tuple[Dated, dict[str, Any]]]] = {}
        for made in self.of(sort):
            result = read(made, self.ground)
            if result is None:
                continue
            thing, said = result
            name = name_of(thing)
            if self._new(made, sort, name, said):
                several.setdefault(name, []).append((thing, said))
        return {name: _merged(versions) for name, versions in several.items()}

    def _new(self, made: Definition, sort: str, name: str, said: dict[str, Any]) -> bool:
        line = made.head
        assert line is not None and line.tree is not None
        try:
            self.ground.define(sort, name, line, line.tree.children[1], since=str(said.get("since") or ""), dated=True)
        except Unreadable as trouble:
            self.ground.refused(made, line, trouble)
            return False
        return True

    def _supplies(self) -> dict[str, Supply]:
        """Supplies with all their names; a later version may use any of them."""
        main: dict[str, tuple[str, Place]] = {}
        several: dict[str, list[tuple[Supply, dict[str, Any]]]] = {}
        for made in self.of("supply"):
            result = define_stock.supply(made, self.ground)
            if result is None:
                continue
            thing, said = result
            name = main.get(thing.name, (thing.name, thing.place))[0]
            clash = next((other for other in thing.others if main.get(other, (name, thing.place))[0] != name), None)
            if clash is not None:
                assert made.head is not None and made.head.tree is not None
                message = f"`{clash}` is a name of `{main[clash][0]}` at {main[clash][1].short}"
                self.ground.refused(made, made.head, refuse("twice", message, made.head.tree.children[1]))
                continue
            if not self._new(made, "supply", name, said):
                continue
            for spelling in (thing.name, *thing.others):
                main.setdefault(spelling, (name, thing.place))
            if thing.name != name:
                thing = replace(thing, name=name)
            several.setdefault(name, []).append((thing, said))
        merged = {name: _merged(versions) for name, versions in several.items()}
        return {name: replace(each, by=define_stock.kept_by(each, self.ground)) for name, each in merged.items()}

    def _routed(
        self,
        kind: Kind,
        made: Definition,
        route: tuple[Line, Tree[Token]] | None,
        processes: dict[str, tuple[Process, ...]],
    ) -> Kind:
        """The kind, without the process it names when there is none of that name."""
        if route is None or kind.process in processes or "process" in self.ground.unread:
            return kind
        near = nearest(kind.process, processes)
        hint = f"; did you mean `{near}`?" if near else ""
        self.ground.refused(
            made, route[0], refuse("process", f"`{kind.process}` is no process of this shop{hint}", route[1])
        )
        return replace(kind, process="")

    def _own_defects(self, routes: ProcessReader) -> None:
        steps = routes.step_places()
        for made in self.of("defect"):
            line = made.head
            names = None if line is None or line.tree is None else define_values.part(line.tree, "names")
            for node in define_values.parts(names, "name") if names is not None else ():
                name = define_values.written(node)
                if line is not None and name in steps:
                    message = f"`{name}` is a step at {steps[name].short} and cannot be a defect too"
                    self.ground.refused(made, line, refuse("both", message, node))


@cache
def built_in(sort: str) -> dict[str, str]:
    """Every spelling of a sort that all shops have, in small letters, with the name it stands for."""
    names = Vocabulary(ShopBook()).names
    return {spelling: found[sort] for spelling, found in names.items() if sort in found}


def _merged(versions: list[tuple[Dated, dict[str, Any]]]) -> Dated:
    """The last version; what its lines leave unsaid is as it was before, and what held before stands in `earlier`."""
    in_order = sorted(versions, key=lambda version: version[1].get("since") or date.min)
    last: Dated = in_order[0][0]
    for version in in_order[1:]:
        changed: dict[str, Any] = dict(version[1])
        if isinstance(last, Supply):
            changed["others"] = tuple(dict.fromkeys((*last.others, *changed.get("others", ()))))
        last = replace(last, **changed, place=version[0].place, earlier=(*last.earlier, replace(last, earlier=())))
    return last
