"""How a process lets a hide lie: the rests it allows, and how long a skin may be raw."""

from __future__ import annotations

from lark import Tree

from hideledger.model.process import RawLimit, Rest
from hideledger.reading import define_bounds as sides
from hideledger.reading import define_values as value
from hideledger.reading.define_clauses import misspelt_clause, word
from hideledger.reading.define_ground import Ground, Said, foreign
from hideledger.reading.define_lines import Line
from hideledger.reading.define_steps import NameRef
from hideledger.reading.define_values import refuse


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
    name = value.name_of(several[0])
    said = Said()
    after: list[NameRef] = []
    for clause in tree.children:
        if not isinstance(clause, Tree) or clause.data == "names":
            continue
        words = value.leaves(clause)
        first = word(words[0])
        match clause.data:
            case "reading":
                found = sides.reading(clause)
                if found.most is None or found.least is not None:
                    raise refuse(
                        "bare", f"`{value.text_of(clause)}`: here belongs `at most` and a length of time", clause
                    )
                said.put(line, clause, "at most", most=value.length(found.most, ground.terms))
            case "flag" if first.startswith("raw clock"):
                said.put(line, clause, "raw clock", raw=first.rsplit(" ", maxsplit=1)[1])
            case "named" if first == "after":
                said.put(line, clause, "after")
                after = [NameRef(line, name, value.name_of(name, step=True)) for name in value.parts(clause, "name")]
            case "valued" if first in {"freezes in", "thaws at"}:
                bare = sides.bare(sides.valued(clause)[1], f"`{first}`")
                if first == "freezes in":
                    said.put(line, clause, first, freezes_in=value.length(bare, ground.terms))
                else:
                    said.put(line, clause, first, thaws_at=value.quantity(bare, ground.terms, "temperature"))
            case "name":
                found_word = misspelt_clause(words, "rest", whole=True)
                raise found_word if found_word is not None else foreign(clause, "rest")
            case _:
                raise foreign(clause, "rest")
    return Rest(name=name, place=line.place, **said.fields), after
