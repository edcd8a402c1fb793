"""A sheet that fills the screen of a terminal and is painted over itself again and again, and how the screen is given back."""

from __future__ import annotations

from collections.abc import Sequence

from hideledger.answers.sheet import Sheet
from hideledger.render.card import CARD_WIDTH, lines_of
from hideledger.render.width import first_of
from hideledger.text.clean import clean

Line = tuple[str, bool]  # the text, and whether it is a heading

# ECMA-48 sequences, and the two private modes of the alternate screen and the cursor that xterm brought and all others took over.
ENTER = "\x1b[?1049h\x1b[?25l\x1b[H\x1b[2J"
LEAVE = "\x1b[0m\x1b[?25h\x1b[?1049l"
BELL = "\a"
_HOME, _REST_OF_LINE, _REST_OF_SCREEN = "\x1b[H", "\x1b[K", "\x1b[J"
_BOLD, _NORMAL = "\x1b[1m", "\x1b[0m"
_NARROWEST = 20


def screen_lines(sheet: Sheet, columns: int) -> list[Line]:
    """The sheet as lines that end before the last column: a letter in it would make some terminals begin a new line."""
    width = max(_NARROWEST, min(CARD_WIDTH, columns - 1))
    return [(first_of(line, width), heading) for line, heading in lines_of(sheet, width=width)]


def frame(lines: Sequence[Line], foot: str, columns: int, rows: int) -> str:
    """Everything to write for one picture: the lines from the top, what does not fit left out, the foot in the last row.

    Each line is followed by the clearing of its rest, so that nothing is wiped before it is written and nothing flickers.
    """
    width = max(1, columns - 1)
    above = [*lines[: max(0, rows - 1)]]
    above += [("", False)] * (rows - 1 - len(above))
    told = [*above, (clean(foot), False)][-rows:]
    painted = [f"{_BOLD}{text}{_NORMAL}" if heading and text else text for text, heading in _cut(told, width)]
    return _HOME + "\r\n".join(f"{text}{_REST_OF_LINE}" for text in painted) + _REST_OF_SCREEN


def _cut(lines: Sequence[Line], width: int) -> list[Line]:
    return [(first_of(text, width), heading) for text, heading in lines]
