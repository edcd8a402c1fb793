"""The lines of a process: its steps with their limits, its rests, its raw limit."""

from __future__ import annotations

from typing import Any

from lark import Token, Tree

from hideledger.model.process import Every, Limits, RawLimit, Rest, Step, Within
from hideledger.reading import define_bounds as sides
from hideledger.reading import define_values as value
from hideledger.reading.define_bounds import Bounds
from hideledger.reading.define_ground import Ground, foreign
from hideledger.reading.define_lines import Line, span
from hideledger.reading.define_trouble import misspelt_clause, word
from hideledger.reading.define_values import refuse
from hideledger.reading.trouble import Unreadable
from hideledger.text.nearest import nearest
from hideledger.text.place import Place

WEIGHTS = ("green", "salted", "drained", "shaved")
READINGS = {"pressure": "pressure", "ph": "pH", "temperature": "temperature", "salt": "salt", "weight": "weight"}
_OPENINGS = ("may rest", "raw at most")


class NameRef:
    """A name in one line that another line must give: a step, a kind, a test."""

    __slots__ = ("again", "line", "name", "node")

    def __init__(self, line: Line, node: Tree[Token], name: str, again: bool = False) -> None:
        self.line = line
        self.node = node
        self.name = name
        self.again = again


class StepDraft:
    """A step on its way: what its line said, and the names in it that are still to be looked up."""

    __slots__ = ("by_kind", "line", "names", "needs", "node", "said", "within")

    def __init__(self, line: Line, node: Tree[Token], names: tuple[str, ...], again: bool) -> None:
        self.line = line
        self.node = node
        self.names = names
        self.said: dict[str, Any] = {"again": again}
        self.within: list[tuple[Within, NameRef]] = []
        self.by_kind: list[tuple[NameRef, Bounds, Tree[Token]]] = []
        self.needs: list[NameRef] = []

    @property
    def title(self) -> str:
        """The name as a report says it."""
        return f"{self.names[0]} again" if self.said["again"] else self.names[0]

    @property
    def only_by_kind(self) -> bool:
        """Whether the line says no more than limits by kind: it then belongs to a step of another line."""
        return bool(self.by_kind) and self.said.keys() <= {"again"} and not (self.within or self.needs)

    def step(self) -> Step:
        """The step itself."""
        return Step(
            name=self.names[0],
            others=self.names[1:],
            within=tuple(within for within, _ in self.within),
            needs=tuple(need.name for need in self.needs),
            place=self.line.place,
            **self.said,
        )


def step_draft(line: Line, ground: Ground, troubles: list[Unreadable]) -> StepDraft:
    """Reads one line that begins with a step's name. What its clauses do wrong goes to `troubles`; a bad name raises Unreadable."""
    tree = line.tree
    assert tree is not None
    node = value.part(tree, "names")
    assert node is not None
    for name in value.parts(node, "name"):
        words = value.leaves(name)
        opening = nearest(" ".join(words[:2]), _OPENINGS[:1]) or nearest(" ".join(words[:3]), _OPENINGS[1:])
        if opening is not None and len(words) > 1:
            count = opening.count(" ") + 1
            begun = Tree("name", list(words[:count]))
            raise refuse("word", f"`{value.text_of(begun)}`: did you mean `{opening}`?", begun)
        misspelt = misspelt_clause(words, "step")
        if misspelt is not None:
            raise misspelt
    named, others = value.names_of(node, step=True)
    draft = StepDraft(line, node, (named, *others), value.token(tree, "AGAIN") is not None)
    if line.trouble is not None:
        draft.said["optional"] = True  # what the line asks for is not known: its place in the order is all that holds
        return draft
    seen: dict[str, Place] = {}
    for clause in tree.children:
        if not isinstance(clause, Tree) or clause.data == "names":
            continue
        try:
            _take(draft, clause, ground, seen)
        except Unreadable as trouble:
            troubles.append(trouble)
    return draft


def _take(draft: StepDraft, clause: Tree[Token], ground: Ground, seen: dict[str, Place]) -> None:
    line, said, terms = draft.line, draft.said, ground.terms
    words = value.leaves(clause)
    match clause.data:
        case "flag":
            _flag(draft, clause, ground, seen)
        case "valued":
            _valued(draft, clause, ground, seen)
        case "reading":
            _reading(draft, clause, ground, seen)
        case "named":
            _named(draft, clause, ground, seen)
        case "reach" if word(words[0]) == "within":
            amount, of = value.part(clause, "value"), value.part(clause, "name")
            assert amount is not None
            length = value.length(amount, terms)
            if of is None:
                end = span(clause)[1]
                raise Unreadable(
                    "unfinished", f"`within {length}`: expected `of` and a step it counts from", end - 1, end
                )
            per = value.token(clause, "PER")
            if per is not None:
                raise refuse("word", "`per` says nothing here", per)
            again = value.token(clause, "AGAIN") is not None
            ref = NameRef(line, of, value.name_of(of, step=True), again)
            within = Within(length=length, of=f"{ref.name} again" if again else ref.name, place=line.at(clause))
            draft.within.append((within, ref))
        case "by_kind":
            name, given = value.part(clause, "name"), value.part(clause, "bounds")
            assert name is not None and given is not None
            ground.once(seen, f"limits of {value.written(name)}", line, clause)
            draft.by_kind.append((NameRef(line, name, value.name_of(name)), sides.bounds(given), clause))
        case "name":
            said_words = value.leaves(clause)
            misspelt = misspelt_clause(said_words, "step", whole=True)
            raise misspelt if misspelt is not None else foreign(clause, "step")
        case _:
            raise foreign(clause, "step")
    said.setdefault("again", False)


def _flag(draft: StepDraft, clause: Tree[Token], ground: Ground, seen: dict[str, Place]) -> None:
    line, said = draft.line, draft.said
    flag = word(value.leaves(clause)[0])
    match flag:
        case "optional":
            said["optional"] = True
        case "in a bath":
            said["in_bath"] = True
        case "tanning begun":
            said["tanning"] = True
        case "raw clock stops" | "raw clock runs":
            ground.once(seen, "raw clock", line, clause)
            said["raw"] = flag.rsplit(" ", maxsplit=1)[1]
        case _:
            what = flag.removesuffix(" day")
            ground.once(seen, what, line, clause)
            said["read_every" if what.startswith("read") else "stirred_every"] = Every(days=True, place=line.at(clause))


def _valued(draft: StepDraft, clause: Tree[Token], ground: Ground, seen: dict[str, Place]) -> None:
    line, said = draft.line, draft.said
    what = word(value.leaves(clause)[0])
    if what in {"stays", "runs"}:
        ground.once(seen, "stays or runs", line, clause)
        said["sort"] = "stay" if what == "stays" else "run"
        if value.part(clause, "bounds") is not None:  # without: yours to fill in, and nothing is judged
            said["limits"] = sides.limits(line, clause, sides.valued(clause)[1], ground.terms, what)
        return
    if what not in {"read every", "stirred every", "ph", "sg"}:
        raise foreign(clause, "step")
    _, found, basis = sides.valued(clause)
    if basis is not None and what != "sg":
        raise refuse("word", f"`{basis}` belongs to a salt reading", basis)
    match what:
        case "ph":
            ground.once(seen, "pH", line, clause)
            said["ph"] = sides.scale(line, clause, found, "pH")
        case "sg":
            ground.once(seen, "salt", line, clause)
            said["salt"] = sides.scale(line, clause, found, "SG", _basis(clause, basis))
        case _:
            ground.once(seen, what, line, clause)
            length = value.length(sides.bare(found, "how often"), ground.terms)
            if not length.about_seconds:
                raise refuse("number", f"`{what} {length}`: longer than no time is expected", clause)
            said["read_every" if what.startswith("read") else "stirred_every"] = Every(
                length=length, place=line.at(clause)
            )


def _reading(draft: StepDraft, clause: Tree[Token], ground: Ground, seen: dict[str, Place]) -> None:
    """`50 to 80 F`, `36 to 50 sal at mixing`; and `at most 14 d` behind `stays at least 3 d`."""
    line, said = draft.line, draft.said
    found = sides.reading(clause)
    sample = found.bare or found.most or found.least
    assert sample is not None
    parts = value.quantity_parts(sample, ground.terms)
    dimension = parts[0].dimension if parts else ""
    basis = value.token(clause, "BASIS")
    if basis is not None and dimension != "salt":
        raise refuse("word", f"`{basis}` belongs to a salt reading", basis)
    if dimension in {"time", "calendar"}:
        held: Limits | None = said.get("limits")
        verb = {"stay": "stays", "run": "runs"}.get(said.get("sort", ""), "")
        misspelt = misspelt_clause(value.leaves(value.parts(draft.node, "name")[-1]), "step")
        if misspelt is not None:
            raise misspelt
        if not verb or held is None or found.bare is not None:
            text = value.text_of(clause)
            raise refuse("bare", f"`{text}`: `stays {text}`, `runs {text}` or `within {text} of` a step?", clause)
        more = sides.limits(line, clause, found, ground.terms, verb)
        if (more.least and held.least) or (more.most and held.most):
            raise refuse("twice", f"`{value.text_of(clause)}`: that limit is said already", clause)
        both = Limits(least=held.least or more.least, most=held.most or more.most, place=held.place)
        if both.least and both.most and both.least.about_seconds > both.most.about_seconds:
            raise refuse("goes down", f"at least {both.least} and at most {both.most}: no time is both", clause)
        said["limits"] = both
    elif dimension == "salt":
        ground.once(seen, "salt", line, clause)
        said["salt"] = sides.reach(line, clause, found, ground.terms, "salt", basis=_basis(clause, basis))
    elif dimension == "" and found.bare is not None and "," not in line.text[span(draft.node)[1] : span(clause)[0]]:
        raise refuse("name", f"`{value.text_of(clause)}`: a name has no figures in it", clause)
    elif dimension in {"temperature", ""}:
        ground.once(seen, "temperature", line, clause)
        said["temperature"] = sides.reach(line, clause, found, ground.terms, "temperature")
    else:
        wanted = f"{value.KIND_OF_UNIT['temperature']} or {value.KIND_OF_UNIT['salt']}"
        raise refuse("unit kind", f"`{value.text_of(clause)}`: {wanted} is expected here", clause)


def _basis(clause: Tree[Token], basis: Token | None) -> str:
    """A hydrometer reads lower once wet skins have brought their water: the range must say which it means."""
    if basis is None:
        said = value.text_of(clause)
        raise refuse("basis", f"`{said}`: `{said} at mixing`, or `{said} with skins in`?", clause)
    return word(basis)


def _named(draft: StepDraft, clause: Tree[Token], ground: Ground, seen: dict[str, Place]) -> None:
    line, said = draft.line, draft.said
    what = word(value.leaves(clause)[0])
    names = value.parts(clause, "name")
    odd = next((leaf for leaf in clause.children if isinstance(leaf, Token) and leaf.type in {"OR", "AGAIN"}), None)
    if odd is not None and what in {"needs", "weighs", "note"}:
        raise refuse("word", f"`{odd}` says nothing behind `{what}`; two are written with `and`", odd)
    match what:
        case "needs":
            draft.needs += [NameRef(line, name, value.name_of(name)) for name in names]
        case "weighs":
            ground.once(seen, "weighs", line, clause)
            value.known(value.written(names[0]), WEIGHTS, names[0], "word", "weight of a skin")
            if len(names) > 1:
                raise refuse("expected", "a step has one weight", names[1])
            said["weighs"] = value.written(names[0])
        case "note":
            for name in names:
                value.known(value.written(name), READINGS, name, "word", "reading to note")
            noted = (*said.get("notes", ()), *(READINGS[value.written(name)] for name in names))
            said["notes"] = tuple(dict.fromkeys(noted))
        case _:
            raise foreign(clause, "step")


def raw_limit(line: Line, ground: Ground) -> RawLimit:
    """`raw at most 12 h at 66 F`."""
    tree = line.tree
    assert tree is not None
    limit = value.token(tree, "LIMIT")
    if limit is not None and word(limit) == "at least":
        raise refuse("word", "`raw at least`: did you mean `raw at most`?", limit)
    given = value.parts(tree, "value")
    at = value.quantity(given[1], ground.terms, "temperature") if len(given) > 1 else None
    return RawLimit(length=value.length(given[0], ground.terms), at=at, place=line.place)


def rest(line: Line, ground: Ground) -> tuple[Rest, list[NameRef]]:
    """`may rest frozen at most 9 mo, after in or fleshed, raw clock stops`, and the steps it may come after."""
    tree = line.tree
    assert tree is not None
    names = value.part(tree, "names")
    assert names is not None
    several = value.parts(names, "name")
    if len(several) > 1:
        raise refuse("name", "a rest has one name", several[1])
    again = value.token(tree, "AGAIN")
    if again is not None:
        raise refuse("word", "`again` says nothing here", again)
    misspelt = misspelt_clause(value.leaves(several[0]), "rest")
    if misspelt is not None:
        raise misspelt
    said: dict[str, Any] = {"name": value.name_of(several[0])}
    seen: dict[str, Place] = {}
    after: list[NameRef] = []
    for clause in tree.children:
        if not isinstance(clause, Tree) or clause.data == "names":
            continue
        words = value.leaves(clause)
        first = word(words[0])
        match clause.data:
            case "reading":
                ground.once(seen, "at most", line, clause)
                found = sides.reading(clause)
                if found.most is None or found.least is not None:
                    raise refuse("bare", f"`{value.text_of(clause)}`: expected `at most` and a length of time", clause)
                said["most"] = value.length(found.most, ground.terms)
            case "flag" if first.startswith("raw clock"):
                ground.once(seen, "raw clock", line, clause)
                said["raw"] = first.rsplit(" ", maxsplit=1)[1]
            case "named" if first == "after":
                ground.once(seen, "after", line, clause)
                after = [NameRef(line, name, value.name_of(name, step=True)) for name in value.parts(clause, "name")]
            case "valued" if first in {"freezes in", "thaws at"}:
                ground.once(seen, first, line, clause)
                bare = sides.bare(sides.valued(clause)[1], f"`{first}`")
                if first == "freezes in":
                    said["freezes_in"] = value.length(bare, ground.terms)
                else:
                    said["thaws_at"] = value.quantity(bare, ground.terms, "temperature")
            case "name":
                found_word = misspelt_clause(words, "rest", whole=True)
                raise found_word if found_word is not None else foreign(clause, "rest")
            case _:
                raise foreign(clause, "rest")
    return Rest(place=line.place, **said), after
