"""The rooms of the house: what each may import, and the few things that only one room may do.

DEVELOPERS.md shows the same table. Every checker below is first tried on a line that breaks it.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

CHECKOUT = Path(__file__).resolve().parents[2]
HOUSE = CHECKOUT / "hideledger"
GRAMMAR = CHECKOUT / "grammar"
LONGEST_FILE = 340

# room -> the rooms of ours that it may import (itself is always allowed)
MAY_IMPORT: dict[str, frozenset[str]] = {
    "text": frozenset(),
    "model": frozenset({"text"}),
    "trade": frozenset({"model"}),
    "reading": frozenset({"text", "model"}),
    "shopfloor": frozenset({"text", "model"}),
    "rules": frozenset({"text", "model", "shopfloor", "trade"}),
    "answers": frozenset({"text", "model", "trade", "reading", "shopfloor", "rules"}),
    "render": frozenset({"text", "answers"}),
    "writing": frozenset({"text", "model", "reading"}),
    "cli": frozenset(
        {"text", "model", "trade", "reading", "shopfloor", "rules", "answers", "render", "writing"},
    ),
}
# what was not written by us, nor comes with Python (zoneinfo does, and is kept to one room all the same)
ONLY_IN: dict[str, str] = {"lark": "reading", "rich": "render", "dateutil": "model", "zoneinfo": "model"}
# the two files at the top of the house
DOORSTEP: dict[str, frozenset[str]] = {"__init__.py": frozenset(), "__main__.py": frozenset({"cli"})}

CLOCKS = {("datetime", "now"), ("datetime", "today"), ("datetime", "utcnow"), ("date", "today")}
CLOCK_MODULES = {"time"}
WRITERS = {"write_text", "write_bytes", "mkdir", "touch", "unlink", "rename", "symlink_to", "hardlink_to"}
WRITERS_OF = {
    "os": {
        "open",
        "write",
        "replace",
        "rename",
        "remove",
        "unlink",
        "mkdir",
        "makedirs",
        "truncate",
        "fdopen",
        "symlink",
        "link",
        "ftruncate",
        "chmod",
        "fchown",
        "setxattr",
    },
    "shutil": {"copy", "copy2", "copyfile", "copytree", "move", "rmtree"},
    "tempfile": {"mkstemp", "mkdtemp", "NamedTemporaryFile", "TemporaryFile", "TemporaryDirectory"},
}
DULL_NAMES = re.compile(r"utils?\b|_utils?_|manager|helper", re.IGNORECASE)


def imported(tree: ast.AST) -> Iterator[str]:
    """Every module named by an import anywhere in a file; relative ones come back with their dots."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = "." * node.level + (node.module or "")
            yield base
            if base == "hideledger":
                yield from (f"hideledger.{name.name}" for name in node.names)


def wrong_imports(room: str, source: str, *, allowed: frozenset[str] | None = None) -> list[str]:
    """The imports by which a room reaches past the rooms it may use."""
    may = (MAY_IMPORT[room] if allowed is None else allowed) | {room}
    wrong = []
    for module in imported(ast.parse(source)):
        if module.startswith("."):
            wrong.append(f"relative import {module}")
            continue
        head, *rest = module.split(".")
        if head == "hideledger":
            # __version__ lies at the top of the house and anybody may read it
            if rest and rest[0] not in may and rest[0] != "__version__":
                wrong.append(module)
        elif head in ONLY_IN and ONLY_IN[head] != room:
            wrong.append(module)
    return wrong


def last_name(node: ast.expr) -> str:
    """`datetime` of both `datetime` and `dt.datetime`; nothing of anything else."""
    match node:
        case ast.Name(id=name):
            return name
        case ast.Attribute(attr=name):
            return name
        case _:
            return ""


def clock_calls(source: str) -> list[int]:
    """Lines on which somebody looks at the clock on the wall."""
    lines = []
    for node in ast.walk(ast.parse(source)):
        match node:
            case ast.Attribute(value=owner, attr=name) if (last_name(owner), name) in CLOCKS:
                lines.append(node.lineno)
            case ast.Import(names=names) if any(name.name in CLOCK_MODULES for name in names):
                lines.append(node.lineno)
            case ast.ImportFrom(module=module) if module in CLOCK_MODULES:
                lines.append(node.lineno)
            case _:
                pass
    return lines


def prints(source: str) -> list[int]:
    """Lines that speak to the screen by themselves."""
    lines = []
    for node in ast.walk(ast.parse(source)):
        match node:
            case ast.Call(func=ast.Name(id="print" | "input")):
                lines.append(node.lineno)
            case ast.Attribute(value=ast.Name(id="sys"), attr="stdout" | "stderr" | "__stdout__"):
                lines.append(node.lineno)
            case _:
                pass
    return lines


def open_mode(call: ast.Call, position: int) -> str:
    """The mode a file is opened with; `?` where it is worked out at run time."""
    given = [word.value for word in call.keywords if word.arg == "mode"] + call.args[position : position + 1]
    if not given:
        return "r"
    match given[0]:
        case ast.Constant(value=str(mode)):
            return mode
        case _:
            return "?"


def writes(source: str) -> list[int]:
    """Lines that open a file for writing, or make, move or remove one."""
    lines = []
    for node in ast.walk(ast.parse(source)):
        match node:
            case ast.Call(func=ast.Name(id="open")) if set(open_mode(node, 1)) & set("wax+?"):
                lines.append(node.lineno)
            case ast.Call(func=ast.Attribute(value=owner, attr=name)) if name in WRITERS_OF.get(last_name(owner), ()):
                lines.append(node.lineno)
            case ast.Call(func=ast.Attribute(attr="open", value=owner)) if last_name(owner) not in {
                *WRITERS_OF,
                "Lark",
            }:
                if set(open_mode(node, 0)) & set("wax+?"):
                    lines.append(node.lineno)
            case ast.Call(func=ast.Attribute(attr=name)) if name in WRITERS:
                lines.append(node.lineno)
            case _:
                pass
    return lines


def split_lines(source: str) -> list[int]:
    """Lines that cut text at form feeds and U+2028 too, and so lose count with every editor."""
    return [
        node.lineno
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Attribute) and node.attr == "splitlines"
    ]


def loose_classes(pattern: str) -> bool:
    r"""Whether a pattern takes `\d` or `\w`, which also match Arabic-Indic and full-width figures, without (?a.

    `[^\W\d_]`, a letter of any script and nothing else, is how names are read and is let pass; so is a look at whether
    a word begins or ends here.
    """
    without = re.sub(r"\[\^\\W\\d_\]|\(\?<?!\\w\)", "", pattern)
    return re.search(r"(?<!\\)(?:\\\\)*\\[dDwW]", without) is not None and "(?a" not in pattern


def loose_patterns(source: str) -> list[int]:
    r"""Lines of a Python file with a string that holds `\d` or `\w`, docstrings left out."""
    tree = ast.parse(source)
    docstrings = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    return [
        node.lineno
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docstrings
        if loose_classes(node.value)
    ]


def dull_names(source: str) -> list[str]:
    """Classes and functions named after nothing in the shop."""
    return [
        node.name
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.ClassDef | ast.FunctionDef) and DULL_NAMES.search(node.name)
    ]


def room_of(path: Path) -> str:
    """The room a file stands in; its own name for the two files at the top."""
    return path.relative_to(HOUSE).parts[0]


def source_of(path: Path) -> str:
    return path.read_text(encoding="utf-8")


def house_files() -> list[Path]:
    return sorted(path for path in HOUSE.rglob("*.py"))


def named(path: Path) -> str:
    return path.relative_to(CHECKOUT).as_posix()


every_file = pytest.mark.parametrize("path", house_files(), ids=named)


# The checkers themselves: each must find what it is there to find.


@pytest.mark.parametrize(
    ("room", "source"),
    [
        ("text", "import hideledger.model"),
        ("text", "from hideledger import model"),
        ("model", "from hideledger.reading.grammar import read"),
        ("trade", "def f():\n    import hideledger.text.files"),
        ("rules", "from hideledger.answers import check"),
        ("render", "from hideledger.rules import order"),
        ("writing", "from hideledger.cli import main"),
        ("rules", "from .order import rule"),
        ("render", "from lark import Lark"),
        ("cli", "from rich.console import Console"),
        ("cli", "import dateutil.tz"),
        ("rules", "from zoneinfo import ZoneInfo"),
    ],
)
def test_a_wrong_import_is_seen(room: str, source: str) -> None:
    assert wrong_imports(room, source)


@pytest.mark.parametrize(
    ("room", "source"),
    [
        ("model", "from dateutil.relativedelta import relativedelta\nfrom hideledger.text import spans"),
        ("reading", "from lark import Lark\nfrom hideledger.reading import entries"),
        ("cli", "from hideledger import __version__\nfrom hideledger.render import plain"),
        ("rules", "import re\nfrom hideledger.trade import acids"),
    ],
)
def test_a_right_import_is_let_pass(room: str, source: str) -> None:
    assert wrong_imports(room, source) == []


@pytest.mark.parametrize(
    "source",
    [
        "datetime.now()",
        "dt.datetime.now(UTC)",
        "f(clock=datetime.now)",
        "date.today()",
        "import time",
        "from time import time",
    ],
)
def test_a_look_at_the_clock_is_seen(source: str) -> None:
    assert clock_calls(source) == [1]


@pytest.mark.parametrize("source", ["print('x')", "sys.stderr.write('x')", "input()"])
def test_speaking_out_of_turn_is_seen(source: str) -> None:
    assert prints(source) == [1]


@pytest.mark.parametrize(
    "source",
    [
        "open(p, 'w')",
        "open(p, mode='ab')",
        "open(p, how)",
        "p.open('r+')",
        "p.write_text('x')",
        "os.open(p, flags)",
        "os.replace(a, b)",
        "os.link(a, b)",
        "os.ftruncate(page, 0)",
        "tempfile.mkstemp()",
        "pathlib.Path(p).unlink()",
    ],
)
def test_a_writing_hand_is_seen(source: str) -> None:
    assert writes(source) == [1]


@pytest.mark.parametrize(
    "source", ["open(p)", "open(p, 'rb')", "p.open()", "p.read_bytes()", "text.replace('a', 'b')", "Lark.open(name)"]
)
def test_a_reading_hand_is_let_pass(source: str) -> None:
    assert writes(source) == []


@pytest.mark.parametrize("pattern", [r"\d+", r"[\w-]+", r"\\\d", r"\D", r"[^\W\d_]\d"])
def test_a_loose_pattern_is_seen(pattern: str) -> None:
    assert loose_classes(pattern)
    assert loose_patterns(f"re.compile({pattern!r})") == [1]


@pytest.mark.parametrize("pattern", ["[0-9]+", r"(?a:\d+)", r"\\d", r"\s*", r"[^\W\d_]+", r"x(?!\w)", r"(?<!\w)x"])
def test_a_strict_pattern_is_let_pass(pattern: str) -> None:
    assert not loose_classes(pattern)


def test_a_loose_word_in_a_docstring_is_let_pass() -> None:
    assert loose_patterns('def f():\n    r"""Never \\d."""\n') == []


def test_other_small_faults_are_seen() -> None:
    assert split_lines("text.splitlines()") == [1]
    assert dull_names("class BookManager: ...\ndef helper_for(x): ...\ndef hide(x): ...") == [
        "BookManager",
        "helper_for",
    ]


# The house as it stands.


def test_there_is_a_house() -> None:
    assert len(house_files()) > 10
    assert {room_of(path) for path in house_files()} <= MAY_IMPORT.keys() | DOORSTEP.keys()


@every_file
def test_each_room_imports_only_what_it_may(path: Path) -> None:
    room = room_of(path)
    assert wrong_imports(room, source_of(path), allowed=DOORSTEP.get(room)) == []


def test_no_third_party_but_the_three() -> None:
    """A package nobody declared would be missing on a new machine."""
    import sys

    heads = {module.split(".")[0] for path in house_files() for module in imported(ast.parse(source_of(path)))}
    assert heads - set(sys.stdlib_module_names) <= {"hideledger", "lark", "rich", "dateutil"}


@every_file
def test_no_file_is_too_long(path: Path) -> None:
    lines = source_of(path).count("\n")
    assert lines <= LONGEST_FILE


@every_file
def test_only_the_front_desk_looks_at_the_clock_and_speaks(path: Path) -> None:
    if room_of(path) != "cli":
        assert clock_calls(source_of(path)) == []
        assert prints(source_of(path)) == []


@every_file
def test_only_writing_writes(path: Path) -> None:
    if room_of(path) != "writing":
        assert writes(source_of(path)) == []


@every_file
def test_lines_patterns_and_names(path: Path) -> None:
    assert split_lines(source_of(path)) == []
    assert loose_patterns(source_of(path)) == []
    assert dull_names(source_of(path)) == []
    assert not DULL_NAMES.search(path.stem)


@every_file
def test_each_file_opens_with_a_sentence(path: Path) -> None:
    first = (ast.get_docstring(ast.parse(source_of(path))) or "").split("\n")[0]
    assert first.endswith((".", ":", "?")), "the first line of a file is one whole sentence"


def test_the_grammar_takes_plain_figures_and_letters_only() -> None:
    grammars = sorted(GRAMMAR.rglob("*.lark"))
    assert grammars, "grammar/ holds the language"
    for path in grammars:
        for number, line in enumerate(source_of(path).split("\n"), start=1):
            assert not loose_classes(line.split("//")[0]), f"{named(path)}:{number}: write [0-9] or [A-Za-z]"


def test_the_house_rules_page_shows_the_same_table() -> None:
    """DEVELOPERS.md lists each room with the rooms it may import, in the words of the table above."""
    page = source_of(CHECKOUT / "DEVELOPERS.md")
    rows = dict(re.findall(r"^\| `([a-z]+)/` \|[^|]*\| ([^|]*) \|", page, flags=re.MULTILINE))
    assert rows.keys() == MAY_IMPORT.keys()
    for room, may in MAY_IMPORT.items():
        assert set(re.findall(r"`([a-z]+)`", rows[room])) == may, room
