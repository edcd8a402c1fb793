"""On a screen the headings stand out a little; the words are the same as on paper."""

from __future__ import annotations

from typing import TextIO

from hideledger.answers.sheet import Sheet
from hideledger.render.card import CARD_WIDTH, lines_of


def width_on(stream: TextIO) -> int:
    """How many places a line has on a terminal: those of a card, or of the terminal where that is narrower; 40 at least."""
    from rich.console import Console

    return min(CARD_WIDTH, max(40, Console(file=stream).width))


def paint(sheet: Sheet, stream: TextIO) -> None:
    """Writes the sheet to a terminal, as wide as a card or as the terminal where that is narrower.

    Text goes in as it is, never as markup, so that a `[/x]` in a remark stays one. Raises OSError as the stream does.
    """
    from rich.console import Console
    from rich.text import Text

    console = Console(file=stream, markup=False, emoji=False, highlight=False)
    for line, heading in lines_of(sheet, width=width_on(stream)):
        console.print(Text(line, style="bold" if heading else ""), soft_wrap=True)
