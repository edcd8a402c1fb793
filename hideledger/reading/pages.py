"""A page falls into definitions (a line at the margin and the indented lines below it) and entries."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from hideledger.reading.cut import Cutter
from hideledger.text.blanks import BLANKS, plain_blanks
from hideledger.text.source import Source

_DASHES = "-—–"


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """One definition: its head at the margin and the indented lines under it, as (start, end) offsets into the page's text.

    Blank lines and lines that hold only a comment are left out; comments at the end of a line are still there. A block without a head
    holds indented lines that stand under nothing.
    """

    source: Source
    lines: tuple[tuple[int, int], ...]

    def text(self, number: int) -> str:
        """Line `number` of the block, counted from 0."""
        start, end = self.lines[number]
        return plain_blanks(self.source.text[start:end])


class Record:
    """One entry as it lies on the page: `text` with comments and line ends made blank, so that offsets are the page's less `start`."""

    __slots__ = ("end", "line", "start", "text")

    def __init__(self, start: int, end: int, line: int, text: str) -> None:
        self.start = start
        self.end = end
        self.line = line
        self.text = text

    @property
    def ends_open(self) -> bool:
        """Whether it ends with a comma, so that the next line may go on with it."""
        return self.text[-1:] == "," or self.text.rstrip(BLANKS + "\n")[-1:] == ","


def split_page(
    source: Source, cutter: Cutter, is_definition: Callable[[str], bool]
) -> tuple[list[Block], list[Record]]:
    """The definitions and the entries of a page, in written order. Struck lines, blank lines and comments are in neither."""
    blocks: list[Block] = []
    records: list[Record] = []
    block: list[tuple[int, int]] = []
    open_record: Record | None = None  # what an ending comma or a `--` may go on with
    text = plain_blanks(source.text)
    start, number, length = 0, 0, len(text)
    while start <= length:
        end = text.find("\n", start)
        if end < 0:
            end = length
        number += 1
        line = text[start:end]
        here, start = start, end + 1
        bare = line.strip(BLANKS)
        if not bare:
            open_record = None
            continue
        if bare[0] == "#" and cutter.comment.match(bare):
            continue
        indented = line[0] in BLANKS
        if block and indented:
            block.append((here, end))
            continue
        if block:
            blocks.append(Block(source=source, lines=tuple(block)))
            block = []
        if not indented and line[0] > "9" and is_definition(line):
            block = [(here, end)]
            open_record = None
            continue
        if bare[0] in "~sS" and cutter.struck.match(line):
            open_record = None
            continue
        if (
            open_record is not None
            and (bare[0] in _DASHES or open_record.ends_open)
            and _goes_on(open_record, line, cutter)
        ):
            joined = text[open_record.start : end]
            records[-1] = open_record = Record(open_record.start, end, open_record.line, _blanked(joined, cutter))
            continue
        open_record = Record(here, end, number, _blanked(line, cutter) if "#" in line else line)
        records.append(open_record)
    if block:
        blocks.append(Block(source=source, lines=tuple(block)))
    return blocks, records


def _goes_on(record: Record, line: str, cutter: Cutter) -> bool:
    """Whether a line goes on with the entry above: it begins with `--`, or that one ends with a comma and this begins with no stamp or tag."""
    if cutter.remark_only.match(line):
        return True
    written = record.text.rstrip(BLANKS + "\n")
    return (
        written.endswith(",")
        and "--" not in written
        and "—" not in written
        and not cutter.stamp.match(line)
        and not cutter.who.match(line)
    )


def _blanked(text: str, cutter: Cutter) -> str:
    """The same text with comments and line ends turned into as many blanks."""

    def blank(found: re.Match[str]) -> str:
        return " " * len(found.group())

    return "\n".join(cutter.comment.sub(blank, line) if "#" in line else line for line in text.split("\n")).replace(
        "\n", " "
    )
