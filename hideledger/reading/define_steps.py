"""The lines of a process: its steps with their limits, its rests, its raw limit."""

from __future__ import annotations

from lark import Token, Tree

from hideledger.model.process import Every, Limits, Step, Within
from hideledger.reading import define_bounds as sides
from hideledger.reading import define_values as value
from hideledger.reading.define_bounds import Bounds
from hideledger.reading.define_clauses import misspelt_clause, word
from hideledger.reading.define_ground import Ground, Said, foreign
from hideledger.reading.define_lines import Line, span
from hideledger.reading.define_values import refuse
from hideledger.reading.own_words import BASES
from hideledger.reading.trouble import Unreadable
from hideledger.text.nearest import nearest

WEIGHTS = tuple(BASES)
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

    __slots__ = ("again", "by_kind", "line", "names", "needs", "node", "said", "within")

    def __init__(self, line: Line, node: Tree[Token], names: tuple[str, ...], again: bool) -> None:
        self.line = line
        self.node = node
        self.names = names
        self.again = again
        self.said = Said()
        self.within: list[tuple[Within, NameRef]] = []
        self.by_kind: list[tuple[NameRef, Bounds, Tree[Token]]] = []
        self.needs: list[NameRef] = []

    @property
    def title(self) -> str:
        """The name as a report says it."""
        return f"{self.names[0]} again" if self.again else self.names[0]

    @property
    def only_by_kind(self) -> bool:
        """Whether the line says no more than limits by kind: it then belongs to a step of another line."""
        return bool(self.by_kind) and not (self.said.fields or self.within or self.needs)

    def step(self) -> Step:
        """The step itself."""
        return Step(
            name=self.names[0],
            others=self.names[1:],
            within=tuple(within for within, _ in self.within),
            needs=tuple(need.name for need in self.needs),
            place=self.line.place,
            again=self.again,
            **self.said.fields,
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
        draft.said.fields["optional"] = (
            True  # what the line asks for is not known: its place in the order is all that holds
        )
        return draft
    for clause in tree.children:
        if not isinstance(clause, Tree) or clause.data == "names":
            continue
        try:
            _take(draft, clause, ground)
        except Unreadable as trouble:
            troubles.append(trouble)
    return draft


def _take(draft: StepDraft, clause: Tree[Token], ground: Ground) -> None:
    line = draft.line
    words = value.leaves(clause)
    match clause.data:
        case "flag":
            _flag(draft, clause)
        case "valued":
            _valued(draft, clause, ground)
        case "reading":
            _reading(draft, clause, ground)
        case "named":
            _named(draft, clause)
        case "reach" if word(words[0]) == "within":
            _within(draft, clause, ground)
        case "by_kind":
            name, given = value.part(clause, "name"), value.part(clause, "bounds")
            assert name is not None
            assert given is not None
            draft.by_kind.append((NameRef(line, name, value.name_of(name)), sides.bounds(given), clause))
        case "name":
            misspelt = misspelt_clause(words, "step", whole=True)
            raise misspelt if misspelt is not None else foreign(clause, "step")
        case _:
            raise foreign(clause, "step")


def _within(draft: StepDraft, clause: Tree[Token], ground: Ground) -> None:
    amount, of = value.part(clause, "value"), value.part(clause, "name")
    assert amount is not None
    length = value.length(amount, ground.terms)
    if of is None:
        end = span(clause)[1]
        raise Unreadable("unfinished", f"`within {length}`: here belongs `of` and a step it counts from", end - 1, end)
    per = value.token(clause, "PER")
    if per is not None:
        raise refuse("word", "`per` says nothing here", per)
    ref = NameRef(draft.line, of, value.name_of(of, step=True), value.token(clause, "AGAIN") is not None)
    within = Within(length=length, of=f"{ref.name} again" if ref.again else ref.name, place=draft.line.at(clause))
    draft.within.append((within, ref))


def _flag(draft: StepDraft, clause: Tree[Token]) -> None:
    line, said = draft.line, draft.said
    flag = word(value.leaves(clause)[0])
    match flag:
        case "optional":
            said.fields["optional"] = True
        case "in a bath":
            said.fields["in_bath"] = True
        case "tanning begun":
            said.fields["tanning"] = True
        case "raw clock stops" | "raw clock runs":
            said.put(line, clause, "raw clock", raw=flag.rsplit(" ", maxsplit=1)[1])
        case _:
            what = flag.removesuffix(" day")
            every = Every(days=True, place=line.at(clause))
            said.put(line, clause, what, **{what.replace(" ", "_"): every})


def _valued(draft: StepDraft, clause: Tree[Token], ground: Ground) -> None:
    line, said = draft.line, draft.said
    what = word(value.leaves(clause)[0])
    if what in {"stays", "runs"}:
        limits = None  # without bounds they are the shop's to fill in, and nothing is judged
        if value.part(clause, "bounds") is not None:
            limits = sides.limits(line, clause, sides.valued(clause)[1], ground.terms, what)
        said.put(line, clause, "stays or runs", sort="stay" if what == "stays" else "run", limits=limits)
        return
    if what == "takes":
        length = value.length(sides.bare(sides.valued(clause)[1], "how long the work on one hide takes"), ground.terms)
        if length.months:
            raise refuse("unit kind", f"`{value.text_of(clause)}`: minutes or hours of work belong here", clause)
        said.put(line, clause, what, takes=length)
        return
    if what not in {"read every", "stirred every", "ph", "sg"}:
        raise foreign(clause, "step")
    _, found, basis = sides.valued(clause)
    if basis is not None and what != "sg":
        raise refuse("word", f"`{basis}` belongs to a salt reading", basis)
    match what:
        case "ph":
            said.put(line, clause, "pH", ph=sides.scale(line, clause, found, "pH"))
        case "sg":
            said.put(line, clause, "salt", salt=sides.scale(line, clause, found, "SG", _basis(clause, basis)))
        case _:
            length = value.length(sides.bare(found, "how often"), ground.terms)
            if not length.about_seconds:
                raise refuse("number", f"`{what} {length}`: it must be longer than no time", clause)
            every = Every(length=length, place=line.at(clause))
            said.put(line, clause, what, **{what.replace(" ", "_"): every})


def _reading(draft: StepDraft, clause: Tree[Token], ground: Ground) -> None:
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
        _other_limit(draft, clause, found, ground)
    elif dimension == "salt":
        salt = sides.reach(line, clause, found, ground.terms, "salt", basis=_basis(clause, basis))
        said.put(line, clause, "salt", salt=salt)
    elif dimension == "" and found.bare is not None and "," not in line.text[span(draft.node)[1] : span(clause)[0]]:
        raise refuse("name", f"`{value.text_of(clause)}`: a name has no figures in it", clause)
    elif dimension in {"temperature", ""}:
        warmth = sides.reach(line, clause, found, ground.terms, "temperature")
        said.put(line, clause, "temperature", temperature=warmth)
    else:
        wanted = f"{value.KIND_OF_UNIT['temperature']} or {value.KIND_OF_UNIT['salt']}"
        raise refuse("unit kind", f"`{value.text_of(clause)}`: {wanted} belongs here", clause)


def _other_limit(draft: StepDraft, clause: Tree[Token], found: Bounds, ground: Ground) -> None:
    """A length of time without a word: the other side of `stays` or `runs`, or nothing that can be read one way."""
    fields = draft.said.fields
    held: Limits | None = fields.get("limits")
    verb = {"stay": "stays", "run": "runs"}.get(fields.get("sort", ""), "")
    text = value.text_of(clause)
    if not verb or held is None or found.bare is not None:
        raise refuse("bare", f"`{text}`: `stays {text}`, `runs {text}` or `within {text} of` a step?", clause)
    more = sides.limits(draft.line, clause, found, ground.terms, verb)
    if (more.least and held.least) or (more.most and held.most):
        raise refuse("twice", f"`{text}`: that limit is said already", clause)
    both = Limits(least=held.least or more.least, most=held.most or more.most, place=held.place)
    if both.least and both.most and both.least.about_seconds > both.most.about_seconds:
        raise refuse("goes down", f"at least {both.least} and at most {both.most}: no time is both", clause)
    fields["limits"] = both


def _basis(clause: Tree[Token], basis: Token | None) -> str:
    """A hydrometer reads lower once wet skins have brought their water: the range must say which it means."""
    if basis is None:
        said = value.text_of(clause)
        raise refuse("basis", f"`{said}`: `{said} at mixing`, or `{said} with skins in`?", clause)
    return word(basis)


def _named(draft: StepDraft, clause: Tree[Token]) -> None:
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
            value.known(value.written(names[0]), WEIGHTS, names[0], "word", "weight of a skin")
            if len(names) > 1:
                raise refuse("expected", "a step has one weight", names[1])
            said.put(line, clause, "weighs", weighs=value.written(names[0]))
        case "note":
            for name in names:
                value.known(value.written(name), READINGS, name, "word", "reading to note")
            noted = (*said.fields.get("notes", ()), *(READINGS[value.written(name)] for name in names))
            said.fields["notes"] = tuple(dict.fromkeys(noted))
        case _:
            raise foreign(clause, "step")
