"""Each line of a definition is read by itself, so that one bad line never hides the rest of the shop.

Comments and a comma at the end are cut off by the grammar's own patterns; a line that ends with a comma goes on in the next one when
that one says nothing by itself.
"""

from __future__ import annotations

import re
from functools import cache

from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedCharacters, UnexpectedInput, UnexpectedToken

from hideledger.reading.define_trouble import trouble_of
from hideledger.reading.grammar import open_grammar
from hideledger.reading.pages import Block
from hideledger.reading.trouble import Unreadable
from hideledger.text.blanks import BLANKS, plain_blanks
from hideledger.text.place import Complaint, Place
from hideledger.text.source import Source

STARTS = ["free_head", "head", "shop_line", "customer_line", "line"]
FREE_HEADS = frozenset({"shop", "customer"})
OWN_LINES = {"shop": "shop_line", "customer": "customer_line"}
# these say all they have to say on their own line
SINGLE = frozenset({"measure", "defect", "test"})

_HEAD_RULES = frozenset({"head", "free_head"})
_UNDER_NOTHING = "under nothing"
# As the grammar asks for it; nothing changes its place.
_PLAIN = {ord(blank): " " for blank in BLANKS} | {capital: capital + 32 for capital in range(ord("A"), ord("Z") + 1)}

Node = Tree[Token] | Token


@cache
def definitions_grammar() -> Lark:
    """The parser of definitions, built once."""
    return open_grammar("definitions.lark", STARTS)


@cache
def pattern(terminal: str) -> re.Pattern[str]:
    """The grammar's own pattern of a terminal."""
    return re.compile(definitions_grammar().get_terminal(terminal).pattern.to_regexp())


def head_sort(line: str) -> str:
    """`vessel`, `sent out` …: what a line at the margin defines; empty when it begins with no such word."""
    found = pattern("HEAD").match(_plain(line))
    return " ".join(found.group().split()).casefold() if found else ""


def is_definition(head_line: str) -> bool:
    """Whether a line at the margin begins a definition: a word such as `shop` or `vessel`, and a blank; no date stands before it."""
    return bool(head_sort(head_line))


class Line:
    """One line of a definition as parsed; the offsets of `tree` count from `start` in the page.

    Of a line that could not be read, `trouble` says why, and `tree` holds no more than what the line is about.
    """

    __slots__ = ("source", "start", "text", "tree", "trouble")

    def __init__(
        self, *, source: Source, start: int, text: str, tree: Tree[Token] | None, trouble: Unreadable | None = None
    ) -> None:
        self.source = source
        self.start = start
        self.text = text
        self.tree = tree
        self.trouble = trouble

    @property
    def place(self) -> Place:
        """The whole line."""
        return self.source.place(self.start, self.start + len(self.text))

    def at(self, node: Node) -> Place:
        """Where a part of it stands."""
        start, end = span(node)
        return self.source.place(self.start + start, self.start + end)


def span(node: Node) -> tuple[int, int]:
    """First and last offset of a part of a line, counted in the text that was parsed."""
    if isinstance(node, Token):
        start = node.start_pos or 0
        return start, start + len(node)
    tokens = list(node.scan_values(lambda token: isinstance(token, Token)))
    return (span(tokens[0])[0], span(tokens[-1])[1]) if tokens else (0, 1)


class Definition:
    """A block as parsed. `head` and `lines` are those that could be read, or that at least say what they are about.

    `unread` says that some of its lines could not be read.
    """

    __slots__ = ("head", "lines", "order", "sort", "unread")

    def __init__(self, *, sort: str, order: int) -> None:
        self.sort = sort
        self.order = order
        self.head: Line | None = None
        self.lines: list[Line] = []
        self.unread = False


class Complaints:
    """What could not be read, in the order of the pages."""

    __slots__ = ("_found", "order")

    def __init__(self) -> None:
        self._found: list[tuple[int, int, Complaint]] = []
        self.order = 0

    def add(self, line: Line, trouble: Unreadable, order: int | None = None) -> None:
        """One more line that could not be read; `trouble` counts its offsets in the line's text."""
        start = line.start + trouble.start
        place = line.source.place(start, line.start + max(trouble.end, trouble.start + 1))
        said = Complaint(
            place=place,
            code=trouble.code,
            message=trouble.message,
            text=line.source.line(place.line),
            definition=True,
        )
        self._found.append((self.order if order is None else order, line.start, said))

    def sorted(self) -> tuple[Complaint, ...]:
        """All of them, as they stand in the book."""
        return tuple(said for _, _, said in sorted(self._found, key=lambda found: found[:2]))


def parse_block(block: Block, complaints: Complaints) -> Definition:
    """Every line of one block. Raises nothing: what cannot be read goes to `complaints`."""
    sort = head_sort(block.text(0)) if block.lines else ""
    made = Definition(sort=sort, order=complaints.order)
    at = 0
    while at < len(block.lines):
        rule = _rule(sort, head=at == 0)
        line, goes_on = _line_of(block, at, rule, sort)
        at += 1
        while line is not None and goes_on and at < len(block.lines):
            alone, next_goes_on = _line_of(block, at, _rule(sort, head=False), sort)
            if alone is None or alone.trouble is None:
                break
            end = alone.start + len(alone.text)
            longer = _parsed(block.source, line.start, plain_blanks(block.source.text[line.start : end]), rule, sort)
            if longer.trouble is not None:
                break
            line, goes_on = longer, next_goes_on
            at += 1
        if line is None:
            continue
        if line.trouble is not None:
            made.unread = True
            complaints.add(line, line.trouble)
        if line.tree is None or (isinstance(line.tree.children[0], Token) and line.tree.children[0].type == "STRUCK"):
            continue
        if rule in _HEAD_RULES:
            made.head = line
        else:
            made.lines.append(line)
    return made


def _line_of(block: Block, number: int, rule: str, sort: str) -> tuple[Line | None, bool]:
    """One line of a block, None when nothing stands in it but a comment; and whether a comma at its end lets it go on."""
    start, end = block.lines[number]
    text = plain_blanks(block.source.text[start:end])
    bare = text.lstrip(BLANKS)
    start += len(text) - len(bare)
    comment = pattern("COMMENT").search(bare)
    if comment is not None:
        bare = bare[: comment.start()]
    cut = bare.rstrip()
    text = cut.rstrip("," + BLANKS)
    return (_parsed(block.source, start, text, rule, sort) if text else None), text != cut


def _rule(sort: str, *, head: bool) -> str:
    if not sort:
        return _UNDER_NOTHING
    if head:
        return "free_head" if sort in FREE_HEADS else "head"
    return sort if sort in SINGLE else OWN_LINES.get(sort, "line")


def _parsed(source: Source, start: int, text: str, rule: str, sort: str) -> Line:
    trouble: Unreadable | None = None
    tree: Tree[Token] | None = None
    if rule == _UNDER_NOTHING:
        message = (
            "an indented line under nothing; above it belongs a line at the margin, such as `shop` or `process both`"
        )
        trouble = Unreadable("nothing above", message, 0, len(text))
    elif rule in SINGLE:
        trouble = Unreadable(
            "expected", f"a `{rule}` has no lines of its own; all of it stands on one line", 0, len(text)
        )
    else:
        try:
            tree = _as_written(definitions_grammar().parse(_plain(text), start=rule), text)
        except UnexpectedInput as unexpected:
            assert isinstance(unexpected, UnexpectedCharacters | UnexpectedToken)
            stamped = rule not in _HEAD_RULES and any(pattern(stamp).match(_plain(text)) for stamp in ("DATE", "CLOCK"))
            trouble, tree = trouble_of(unexpected, text, sort, stamped=stamped)
        else:
            trouble = _without_step(tree) if sort == "process" and rule == "line" else None
            tree = tree if trouble is None else None
    return Line(source=source, start=start, text=text, tree=tree, trouble=trouble)


def _plain(text: str) -> str:
    """A line in small letters and with plain blanks, each sign where it stood."""
    return text.translate(_PLAIN)


def _as_written(tree: Tree[Token], text: str) -> Tree[Token]:
    """The same tree with every word as the line has it."""
    for part in tree.iter_subtrees():
        part.children = [
            child.update(value=text[span(child)[0] : span(child)[1]]) if isinstance(child, Token) else child
            for child in part.children
        ]
    return tree


def _without_step(tree: Tree[Token]) -> Unreadable | None:
    """A clause that no step stands before; `since` and `tannage`, which are of the whole process, need none."""
    first = tree.children[0]
    if tree.data != "line" or isinstance(first, Token) or first.data == "since":
        return None
    if first.data == "named" and str(first.children[0]).casefold() == "tannage":
        return None
    message = "the name of a step comes first; a line that goes on with the one above follows a comma at its end"
    return Unreadable("expected", message, *span(first))
