"""A sheet laid out like a batch card: plain words in columns, a word above each part, nothing drawn."""

from __future__ import annotations

from collections.abc import Iterator

from hideledger.answers.sheet import Quote, Row, Section, Sheet
from hideledger.render.width import first_of, last_of, padded, width_of, wrapped
from hideledger.text.clean import clean

CARD_WIDTH = 80
_INDENT = 2
_WIDEST_HEAD = 24
_LONGEST_QUOTE = 160
_LEFT_OUT = "..."
_TAB = 4
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
    # rows that are never broken lose nothing by a wide head, and need it
    column = max((head for head in heads if section.whole_lines or head <= _WIDEST_HEAD), default=0)
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
        yield from quoted(row.quote, indent=under, width=width)


def _hanging(lead: str, start: int, text: str, width: int, further: int | None = None) -> Iterator[str]:
    """A text that begins after `lead` at place `start`, its further lines at place `further` or under its first."""
    rest = start if further is None else further
    for number, line in enumerate(wrapped(_one_line(text), max(_NARROWEST, width - max(start, rest)))):
        yield (padded(lead, start) if number == 0 else " " * rest) + line


def quoted(quote: Quote, *, indent: int, width: int = CARD_WIDTH) -> Iterator[str]:
    """The line of the book stands as it is, with a mark under the place.

    Where it is longer than the card only what stands around the place is shown, so that the mark still stands under it.
    """
    text, column = quote.text.removesuffix("\r"), max(1, quote.column)
    before, after = text[: column - 1], text[column - 1 :]
    # of a line of a megabyte no more is looked at than can be shown
    cut_before, cut_after = len(before) > _LONGEST_QUOTE, len(after) > _LONGEST_QUOTE
    before, after = before[-_LONGEST_QUOTE:] if cut_before else before, after[:_LONGEST_QUOTE]
    shown = _one_line((before + after).expandtabs(_TAB))
    before = _one_line(before.expandtabs(_TAB))
    after = shown[len(before) :]
    room = max(_NARROWEST, width - indent)
    if cut_before or cut_after or width_of(shown) > room:
        if cut_before or width_of(before) > room - _NARROWEST:
            before = _LEFT_OUT + " " + last_of(before, room // 2)
        if cut_after or width_of(before) + width_of(after) > room:
            after = first_of(after, room - width_of(before) - len(_LEFT_OUT) - 1).rstrip() + " " + _LEFT_OUT
    yield " " * indent + before + after
    yield " " * (indent + width_of(before)) + "^"
