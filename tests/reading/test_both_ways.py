"""A line read whole by the grammar and the same line read piece by piece are the same: the cutter decides nothing of its own."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from lark import Token, Tree
from lark.exceptions import UnexpectedInput

from hideledger.reading.book import entry_grammar
from hideledger.reading.cut import Cut, Cutter
from hideledger.reading.grammar import grammar_folder
from tests.reading.told import HERE, read_with_trial_shop

PARSER = entry_grammar()
CUTTER = Cutter(PARSER)
ROOT = Path(__file__).resolve().parents[2]
Shape = tuple[object, ...]


def shape(tree: Tree[Token]) -> Shape:
    """A tree as plain tuples: rule, then its tokens and trees."""
    return (
        str(tree.data),
        *(shape(child) if isinstance(child, Tree) else (child.type, str(child)) for child in tree.children),
    )


def whole(line: str) -> Shape | None:
    """The line by the grammar alone: stamp, who, pieces, remarks; None where it refuses."""
    try:
        tree = PARSER.parse(line, start="entry")
    except UnexpectedInput:
        return None
    stamp: list[str] = []
    who: Shape = ()
    pieces: list[Shape] = []
    remarks: list[str] = []
    for child in tree.children:
        if isinstance(child, Token):
            continue  # a comma between pieces
        match str(child.data):
            case "stamp":
                stamp = [
                    str(token)
                    for token in child.children
                    if isinstance(token, Token) and token.type not in ("COMMA", "COLON", "ABOUT")
                ]
            case "who" | "all_in":
                named = shape(child)
                who = (named[0], *(part for part in named[1:] if part[0] != "COLON"))  # type: ignore[index]
                if who[-1] == ("COMMA", ","):
                    who = who[:-1]
            case "aside":
                remarks += [str(token)[1:-1].strip() for token in child.children]
            case "remark":
                remarks += [str(token).strip() for token in child.children[1:]]
            case "spoken":
                texts = [
                    str(token)
                    for token in tree.scan_values(lambda token: isinstance(token, Token) and token.type == "TEXT")
                ]
                return ("spoken", tuple(stamp), who, "".join(texts).strip(" \t\u00a0\u202f-—–"))
            case _:
                pieces.append(shape(child)[1:])
    return (tuple(stamp), who, tuple(pieces), "; ".join(remark for remark in remarks if remark))


def by_pieces(line: str) -> Shape | None:
    """The line by the cutter and the grammar of pieces."""
    cut = CUTTER.cut(line)
    stamp = tuple(part for part in (cut.date, cut.time) if part)
    try:
        who: Shape = ()
        if cut.who:
            who = shape(PARSER.parse(cut.who, start="who"))
        if cut.spoken is not None:
            return ("spoken", stamp, who, cut.spoken)
        pieces = [
            shape(PARSER.parse(text, start="piece" if index else "first"))[1:]
            for index, (text, _) in enumerate(cut.pieces)
        ]
    except UnexpectedInput:
        return None
    return (stamp, who, tuple(pieces), cut.remark)


def same(line: str) -> bool:
    """Both ways agree; where the grammar refuses the whole line, the reader refuses it too, sooner or later."""
    by_grammar, cut = whole(line), by_pieces(line)
    if by_grammar is None and cut is not None:
        book = read_with_trial_shop(f"2026-11-03\n{line}\n")
        return len(book.unread) == 1 and not book.entries
    return by_grammar == cut


def lines_of_tables() -> Iterator[str]:
    """Every line of the tables, the format reference and the sample books."""
    for name in ("hurried.txt", "refused.txt"):
        for line in (HERE / name).read_text(encoding="utf-8").split("\n"):
            found = re.match(r"(?:[0-9]+\. |> )(.*)", line)
            if found:
                yield found[1]
    reference = (grammar_folder() / "README.md").read_text(encoding="utf-8")
    for block in re.findall(r"^```(?:hides|refused)\n(.*?)^```", reference, re.DOTALL | re.MULTILINE):
        yield from block.split("\n")
    for page in sorted((ROOT / "sample_ledgers").rglob("*.hides")):
        if page.name != "shop.hides":
            yield from page.read_text(encoding="utf-8").replace("\r", "").split("\n")[:400]


def bare(line: str) -> str:
    """The line as the page hands it to the cutter: without its comment."""
    return CUTTER.comment.sub("", line)


def test_every_line_of_tables_and_samples() -> None:
    lines = [bare(line) for line in lines_of_tables() if line.strip() and not CUTTER.struck.match(line)]
    assert len(lines) > 500
    differing = [line for line in lines if not same(line)]
    assert not differing


WORDS = st.sampled_from(
    [
        "H41",
        "H42",
        "P3",
        "MB-07",
        "H44",
        "thru",
        "to",
        "but",
        "and",
        "&",
        ",",
        ",",
        ";",
        ":",
        ".",
        "--",
        "—",
        "-",
        "#",
        "(",
        ")",
        "(wet)",
        "in",
        "into",
        "out",
        "of",
        "pickle",
        "salt",
        "fleshed",
        "back",
        "pull",
        "test",
        "ok",
        "fails",
        "slip",
        "left",
        "ear",
        "mixed",
        "add",
        "topped",
        "up",
        "to",
        "stirred",
        "on",
        "off",
        "ran",
        "8:25",
        "9:10",
        "2026-11-03",
        "11/3",
        "3",
        "Nov",
        "07:45",
        "7.45",
        "7pm",
        "noon",
        "evening",
        "about",
        "0745",
        "7",
        "1/2",
        "7,5",
        "½",
        "lb",
        "oz",
        "gal",
        "F",
        "sal",
        "psi",
        "pH",
        "2.1",
        "$",
        "12",
        "64",
        "°",
        "%",
        "killed",
        "promised",
        "for",
        "Oren",
        "Vale",
        "by",
        "JK",
        "tag",
        "40718",
        "lot",
        "S-1",
        "seal",
        "process",
        "both",
        "recipe",
        "water",
        "soda",
        "ash",
        "remark",
        "note",
        "struck",
        "all",
        "waived",
        "came",
        "early",
        "cut",
        "opened",
        "their",
        "tags",
        "together",
        "each",
        "shrinks",
        "at",
        "78",
        "C",
        "hung",
        "neck",
        "19",
        "in",
        "deposit",
        "paid",
        "lost",
        "dumped",
        "V1",
        ".",
    ]
)


@settings(max_examples=3000, deadline=None)
@example(["remark", "--", "."], " ")
@example(["H41", "&", "in"], " ")
@example(["H41", "and", "40718", "lb"], " ")
@example(["remark", "--", ".", "H41"], " ")
@given(st.lists(WORDS, min_size=1, max_size=9), st.sampled_from([" ", " ", "  ", "\t", "\u00a0"]))
def test_any_row_of_words(words: list[str], blank: str) -> None:
    line = bare(blank.join(words))
    if CUTTER.struck.match(line):
        return
    assert same(line), (whole(line), by_pieces(line))


@pytest.mark.parametrize(
    ("line", "who"),
    [
        ("H41 and 40718 lb", ["H41"]),
        ("H41 and 7 1/2 lb", ["H41"]),
        ("H41 and 7½ lb", ["H41"]),
        ("H41 and 7,5lb", ["H41"]),
        ("P3 and 64°", ["P3"]),
        ("P3 and 10 %", ["P3"]),
        ("H41 and 40718", ["H41", "and", "40718"]),
        ("H41 and H42", ["H41", "and", "H42"]),
        ("H41 and 42 fleshed", ["H41", "and", "42"]),
    ],
)
def test_a_number_behind_and_is_a_tag_unless_a_unit_stands_behind_it(line: str, who: list[str]) -> None:
    cut = by_pieces(line)
    assert cut is not None and cut == whole(line)
    assert isinstance(cut[1], tuple)
    assert [str(token[1]) for token in cut[1][1:]] == who


@pytest.mark.parametrize(
    "name", ["DATE", "CLOCK", "FIGURES", "TAG", "RUN", "BARE", "COMMA", "DASH", "BRACKETS", "COMMENT", "STRUCK"]
)
def test_cutter_holds_the_patterns_of_the_grammar(name: str) -> None:
    """The cutter's patterns are the grammar's, letter for letter."""
    terminals = {terminal.name: terminal.pattern.to_regexp() for terminal in PARSER.terminals}
    assert CUTTER.patterns[name] == terminals[name]


def test_a_cut_says_where_each_piece_stands() -> None:
    line = "2026-11-03 07:45 H41 fleshed, ears turned (thin), salt -- wet"
    cut: Cut = CUTTER.cut(line)
    assert [line[at : at + len(text)] for text, at in cut.pieces] == [text for text, _ in cut.pieces]
    assert [text.strip() for text, _ in cut.pieces] == ["fleshed", "ears turned", "salt"]
    assert cut.remark == "thin; wet"
