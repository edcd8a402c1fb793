"""Every word that the grammar and the vocabulary know, one by one, for those who must keep step with them."""

import re
from collections.abc import Iterator
from pathlib import Path

from hideledger.model.shop import ShopBook
from hideledger.reading.own_words import FINDINGS, RESERVED
from hideledger.reading.words import Vocabulary

_GRAMMAR = Path(__file__).resolve().parents[2] / "grammar"
_TERMINAL = re.compile(r"^([A-Z_]+)(?:\.[0-9]+)?: /(.*)/i?$", re.MULTILINE)


def terminal(name: str, page: str) -> str:
    """The pattern of a terminal as it stands in a grammar file."""
    found: dict[str, str] = dict(_TERMINAL.findall((_GRAMMAR / page).read_text(encoding="utf-8")))
    return found[name]


def spellings(pattern: str) -> list[str]:
    """Every text that a pattern of plain words can match; what only looks ahead or behind is passed over, a run of blanks is one blank."""
    choices, rest = _choices(pattern)
    assert rest == "", rest
    return sorted(set(choices))


def _choices(pattern: str) -> tuple[list[str], str]:
    found: list[str] = []
    row = [""]
    while pattern and not pattern.startswith(")"):
        if pattern.startswith("|"):
            found += row
            row, pattern = [""], pattern[1:]
            continue
        these, pattern = _one(pattern)
        if pattern.startswith("?"):
            these, pattern = ["", *these], pattern[1:]
        elif pattern.startswith("*"):
            these, pattern = [""], pattern[1:]
        elif pattern.startswith("+"):
            pattern = pattern[1:]
        row = [before + one for before in row for one in these]
    return found + row, pattern


def _one(pattern: str) -> tuple[list[str], str]:
    """The first letter, class or bracket of a pattern, and the rest of it."""
    if pattern.startswith("("):
        opened = re.match(r"\((\?:|\?<?[=!])?", pattern)
        assert opened is not None
        inside, rest = _choices(pattern[opened.end() :])
        return (inside if opened[1] == "?:" else [""]), rest[1:]
    if pattern.startswith("["):
        closed = pattern.index("]", 2)
        letters = pattern[1:closed]
        if letters.startswith((" ", r"\t")):
            return [" "], pattern[closed + 1 :]
        return [letters[0]] if "-" in letters or "^" in letters else list(letters), pattern[closed + 1 :]
    if pattern.startswith("\\"):
        return [pattern[1]], pattern[2:]
    return [pattern[0]], pattern[1:]


def units() -> list[str]:
    """Every way to write a unit."""
    return spellings(terminal("UNIT", "words.lark"))


def heads() -> list[str]:
    """Every word that a definition begins with."""
    return spellings(terminal("HEAD", "definitions.lark"))


_DEEDS = [
    "DOSING",
    "TOPPED",
    "STIRRED",
    "TURNING",
    "RAN",
    "PRESSED",
    "SKIPPED",
    "NAMED",
    "WAIVED",
    "SHELF",
    "PAYMENT",
    "SHRINKS",
    "METER_SET",
    "DONE",
    "CUT_INTO",
    "REPLACES",
    "TOGETHER",
    "IN",
    "OUT_TO",
    "OUT",
    "OF",
    "TO",
    "AT",
    "CODED",
    "KILLED",
    "DATED",
    "HUNG",
    "SCALE",
    "THEIR_TAGS",
    "WHOM",
]


def deeds() -> Iterator[str]:
    """Every word of the language that an entry may hold, and those no name may contain."""
    for name in _DEEDS:
        yield from spellings(terminal(name, "entry.lark"))
    yield from sorted(RESERVED - {"remark", "note", "struck", "licence", "license", "seal", "permit", "lot", "tag"})


_CLAUSES = [
    "ZONE",
    "HOURS",
    "CLOSED",
    "SETTING",
    "CONTACT",
    "OWN",
    "LABOUR",
    "VALUED",
    "REACH",
    "NAMED",
    "FLAG",
    "SINCE",
    "BASIS",
    "AGAIN",
    "MAY_REST",
]


def clauses() -> Iterator[str]:
    """Every word of the language that a line of a definition may hold."""
    for name in _CLAUSES:
        yield from spellings(terminal(name, "definitions.lark"))


def known() -> list[str]:
    """Every condition, sex, defect, degree, test and result that a book knows before its shop says anything."""
    vocabulary = Vocabulary(ShopBook())
    return sorted(vocabulary.of_sort("condition", "basis", "sex", "defect", "degree", "how", "result", "test", "rest"))


def findings() -> tuple[str, ...]:
    """Every finding that can be waived."""
    return FINDINGS


# What the table of coloured lines shows, or what is no word at all.
_SHOWN_ELSEWHERE = {
    "entry.lark": "ABOUT ALL_IN BUT AND BARE COLON QUOTE STARTED UNTIL FINDING SIZE STRUCK REMARK TEXT DASH BRACKETS",
    "definitions.lark": "HEAD FREE STRUCK NEWLINE COLON DAY RAW LIMIT AT OF OR AND PER TO",
}


def not_thought_of() -> set[str]:
    """Terminals of the grammar that are in none of the lists here."""
    lists = {"entry.lark": _DEEDS, "definitions.lark": _CLAUSES}
    found: set[str] = set()
    for page, elsewhere in _SHOWN_ELSEWHERE.items():
        text = (_GRAMMAR / page).read_text(encoding="utf-8")
        names = re.findall(r"^([A-Z_]+)(?:\.[0-9]+)?: [/\"]", text, re.MULTILINE)
        found |= {f"{page}: {name}" for name in names} - {
            f"{page}: {name}" for name in [*lists[page], *elsewhere.split()]
        }
    return found
