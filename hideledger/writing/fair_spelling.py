"""The capitals of a name are those that its definition gives it: `kind Dall sheep cape`."""

from __future__ import annotations

import re
from collections.abc import Iterable

from hideledger.model.book import Book
from hideledger.reading.book import entry_grammar
from hideledger.reading.cut import Cutter
from hideledger.reading.define_lines import is_definition
from hideledger.reading.pages import split_page

# A name stands at the head of its line, or behind the word that says what it is; a further name behind `or`.
_HEAD = re.compile(
    "[ \t\u00a0\u202f]*(?:(?:kind|supply|place|measure|recipe|process)[ \t\u00a0\u202f]+)?", re.IGNORECASE
)
_OR = re.compile("[ \t\u00a0\u202f]+or[ \t\u00a0\u202f]+", re.IGNORECASE)
_NAME = re.compile("[^,:#0-9]*")


def spelled_in(book: Book, names: Iterable[str]) -> dict[str, str]:
    """Of these names (in small letters) those that a definition writes with capitals, as it writes them first."""
    known = set(names)
    cutter = Cutter(entry_grammar())
    spelled: dict[str, str] = {}
    for source in book.sources:
        blocks, _ = split_page(source, cutter, is_definition)
        for block in blocks:
            for number in range(len(block.lines)):
                line = block.text(number)
                head = _HEAD.match(line)
                said = _NAME.match(line, head.end() if head else 0)
                for words in _OR.split(said.group() if said else ""):
                    written = _longest(words.split(), known)
                    if written and written != written.casefold():
                        spelled.setdefault(written.casefold(), written)
    return spelled


def _longest(words: list[str], known: set[str]) -> str:
    """The longest known name that these words begin with, as written; empty when there is none."""
    for count in range(len(words), 0, -1):
        written = " ".join(words[:count])
        if written.casefold() in known:
            return written
    return ""
