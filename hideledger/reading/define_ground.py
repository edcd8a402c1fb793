"""What is known of the shop while its definitions are read, and what stands in two places."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from lark import Token, Tree

from hideledger.model.shop import Measure
from hideledger.reading.define_clauses import BARE_CLAUSES, CLAUSES, misspelt_clause
from hideledger.reading.define_lines import Complaints, Definition, Line, Node, span
from hideledger.reading.define_trouble import hint_for
from hideledger.reading.define_values import Terms, leaves, name_of, refuse, text_of
from hideledger.reading.trouble import Unreadable
from hideledger.text.place import Place

Take = Callable[[Line, Tree[Token]], None]


class Said:
    """What the lines of one definition say, each thing once, by the fields of the model."""

    __slots__ = ("fields", "seen")

    def __init__(self) -> None:
        self.fields: dict[str, Any] = {}
        self.seen: dict[str, Place] = {}

    def put(self, line: Line, node: Node, what: str, **fields: Any) -> None:
        """One more thing. Raises Unreadable when it was said before."""
        before, here = self.seen.get(what), line.at(node)
        if before is not None:
            where = "in this line" if before.short == here.short else f"at {before.short}"
            raise refuse("twice", f"`{what}` is said already {where}", node)
        self.seen[what] = here
        self.fields.update(fields)


@dataclass(slots=True, kw_only=True)
class Ground:
    """Handed from one sort of definition to the next.

    `defined` says where each name of each sort was first given; `unread` names the sorts with lines that could not be read, whose names
    may therefore be missing.
    """

    complaints: Complaints
    terms: Terms = field(default_factory=Terms)
    measures: dict[str, Measure] = field(default_factory=dict)
    defined: dict[tuple[str, str], Place] = field(default_factory=dict)
    unread: set[str] = field(default_factory=set)

    def refused(self, made: Definition, line: Line, trouble: Unreadable) -> None:
        """One line of a definition does not count. Each line is told once."""
        made.unread = True
        self.unread.add(made.sort)
        if line.trouble is None:
            line.trouble = trouble
            self.complaints.add(line, trouble, made.order)

    def define(
        self, sort: str, name: str, line: Line, node: Node, *, since: str = "", dated: bool = False, shown: str = ""
    ) -> None:
        """A name is given here. Raises Unreadable when it was given before.

        `dated` sorts may be given again with a `since` of their own.
        """
        key = (sort, f"{name}\n{since}" if dated else name)
        before = self.defined.get(key)
        if before is None:
            self.defined[key] = line.at(node)
            return
        message = f"`{shown or name}` is defined already at {before.short}"
        if dated:
            day = f" since {since}" if since else ""
            message = f"`{name}`{day} is defined already at {before.short}; a later one needs a `since` of its own"
        raise refuse("twice", message, node)

    def take(self, made: Definition, take: Take, *, head_only: bool = False) -> None:
        """Hands every clause of a definition to `take`, line by line; what `take` refuses is told, once a line."""
        for line in [made.head, *(() if head_only else made.lines)]:
            if line is None or line.tree is None:
                continue
            if line.tree.data in {"step", "raw_limit"}:  # only a process has such lines
                self.refused(made, line, foreign(line.tree, made.sort))
                continue
            for clause in clauses_of(line.tree):
                try:
                    take(line, clause)
                except Unreadable as trouble:
                    self.refused(made, line, trouble)


def clauses_of(tree: Tree[Token]) -> list[Tree[Token]]:
    """What stands in a line beside its names."""
    return [child for child in tree.children if isinstance(child, Tree) and child.data != "names"]


def one_name(made: Definition, ground: Ground) -> tuple[Line, Tree[Token], str] | None:
    """Head line, name as parsed, and the name of a definition that has just one; None (and told) when there is none."""
    found = head_names(made, ground)
    if found is None:
        return None
    line, names = found
    try:
        several = [child for child in names.children if isinstance(child, Tree)]
        if len(several) > 1:
            raise refuse("name", f"a {made.sort} has one name", several[1])
        return line, several[0], name_of(several[0])
    except Unreadable as trouble:
        ground.refused(made, line, trouble)
        return None


def head_names(made: Definition, ground: Ground) -> tuple[Line, Tree[Token]] | None:
    """Head line and names as parsed; None (and told) when there are none."""
    line = made.head
    if line is None or line.tree is None:
        ground.unread.add(made.sort)
        return None
    names = next((child for child in line.tree.children if isinstance(child, Tree) and child.data == "names"), None)
    if names is None:
        leaf = (
            line.tree.children[-1]
            if len(line.tree.children) == 2 and isinstance(line.tree.children[1], Token)
            else line.tree.children[0]
        )
        tagged = isinstance(leaf, Token) and leaf.type == "TAG"
        said = f"`{leaf}`: a name has no figures in it" if tagged else f"a name belongs behind `{made.sort}`"
        ground.refused(made, line, Unreadable("name" if tagged else "unfinished", said, *span(leaf)))
        return None
    for name in names.children:
        misspelt = misspelt_clause(leaves(name), made.sort) if isinstance(name, Tree) else None
        if misspelt is not None:
            ground.refused(made, line, misspelt)
            return None
    return line, names


def foreign(clause: Tree[Token], sort: str) -> Unreadable:
    """A clause that says nothing where it stands, with what could."""
    said = text_of(clause)
    known = (*BARE_CLAUSES.get(sort, ()), *(f"`{word}`" for word in CLAUSES.get(sort, ())))
    hint = hint_for(said, {"NAMED", "_COMMA"}, sort)
    listed = f"; a {sort} line may say {', '.join(known[:8])}{' …' if len(known) > 8 else ''}" if known else ""
    shown = said if len(said) <= 40 else said[:40] + "…"
    if hint is not None and said.casefold().startswith(hint[0].casefold()):
        hint = None
    return refuse("word", f"`{shown}` says nothing here{f'; did you mean `{hint[0]}`?' if hint else listed}", clause)
