"""A sheet laid out like a batch card: plain words in columns, a word above each part, nothing drawn."""

from __future__ import annotations

from collections.abc import Iterator

from hideledger.answers.sheet import Quote, Row, Section, Sheet
from hideledger.render.width import padded, width_of, wrapped
from hideledger.text.clean import clean

CARD_WIDTH = 80
_INDENT = 2
_WIDEST_HEAD = 24
_LONGEST_QUOTE = 160
_NARROWEST = 20


def card(sheet: Sheet, *, width: int = CARD_WIDTH) -> str:
    """The sheet as lines of at most `width` places, each ended by a newline; the first line is never broken."""
    return "".join(f"{line}\n" for line, _ in lines_of(sheet, width=width))


def lines_of(sheet: Sheet, *, width: int = CARD_WIDTH) -> Iterator[tuple[str, bool]]:
    """Each line of the card, and whether it is a heading."""
    yield _one_line(sheet.title), True  # whole, since `head -n 1` makes the subject of a mail of it
    for section in sheet.sections:
        yield "", False
        for line in wrapped(_one_line(section.heading), width):
            yield line, True
        for line in _section(section, width):
            yield line.rstrip(), False


def _one_line(text: str) -> str:
    """Harmless, and in one line whatever the book holds."""
    return clean(text.replace("\r", "").replace("\n", " "))


def _section(section: Section, width: int) -> Iterator[str]:
    indent = 0 if section.at_margin else _INDENT
    heads = [width_of(_one_line(row.head)) for row in section.rows if row.head]
    column = max((head for head in heads if head <= _WIDEST_HEAD), default=0)
    for number, row in enumerate(section.rows):
        if section.spaced and number:
            yield ""
        if section.whole_lines:
            yield from _whole(row, column, indent)
        else:
            yield from _row(row, column, indent, width)


def _whole(row: Row, column: int, indent: int) -> Iterator[str]:
    head = padded(_one_line(row.head), column) + "  " if column else ""
    yield " " * indent + head + _one_line(row.text)
    for label, text in row.under:
        yield " " * (indent + 2) + " ".join(part for part in (_one_line(label), _one_line(text)) if part)


def _row(row: Row, column: int, indent: int, width: int) -> Iterator[str]:
    head = _one_line(row.head)
    start = indent + (column + 2 if column else 0)
    if head and width_of(head) > column:
        for line in wrapped(head, width - indent):
            yield " " * indent + line
        head, start = "", max(start, indent + 2)
    if row.text:
        yield from _hanging(" " * indent + head, start, row.text, width, further=start or _INDENT)
    elif head:
        yield " " * indent + head
    under = start if row.head else start + 2
    labels = max((width_of(_one_line(label)) for label, _ in row.under if label), default=0)
    for label, text in row.under:
        lead = " " * under + _one_line(label)
        yield from _hanging(lead, under + (labels + 2 if label else 0), text, width)
    if row.quote is not None:
        yield from quoted(row.quote, indent=under)


def _hanging(lead: str, start: int, text: str, width: int, further: int | None = None) -> Iterator[str]:
    """A text that begins after `lead` at place `start`, its further lines at place `further` or under its first."""
    rest = start if further is None else further
    for number, line in enumerate(wrapped(_one_line(text), max(_NARROWEST, width - max(start, rest)))):
        yield (padded(lead, start) if number == 0 else " " * rest) + line


def quoted(quote: Quote, *, indent: int) -> Iterator[str]:
    """The line of the book as it stands, and a mark under the place; of a very long line only what stands around it."""
    text, column = quote.text.removesuffix("\r"), max(1, quote.column)
    before, after = text[: column - 1], text[column - 1 :]
    if len(text) > _LONGEST_QUOTE:
        before = "... " + before[-_LONGEST_QUOTE // 2 :] if len(before) > _LONGEST_QUOTE // 2 else before
        after = after[: _LONGEST_QUOTE // 2] + " ..." if len(after) > _LONGEST_QUOTE // 2 else after
    before = before.expandtabs(4)
    shown = (before + after).expandtabs(4)
    yield " " * indent + _one_line(shown)
    yield " " * (indent + width_of(_one_line(before))) + "^"
