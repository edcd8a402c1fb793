"""A wide letter takes two places on the screen and an accent none: how far a text reaches."""

from __future__ import annotations

import re

# A place in a file is copied and jumped to, so it stays whole however long it is.
_PLACE = re.compile(r":[0-9]+[:,;.)]*$")


def width_of(text: str) -> int:
    """Places that a text takes in a row of the screen."""
    if text.isascii():
        return len(text)
    from rich.cells import cell_len

    return cell_len(text)


def padded(text: str, width: int) -> str:
    """The text with blanks up to `width` places."""
    return text + " " * (width - width_of(text))


def wrapped(text: str, width: int) -> list[str]:
    """The text in lines of at most `width` places, broken at blanks; a longer word is cut, unless it is a place."""
    lines: list[str] = []
    line = ""
    for word in text.split(" "):
        longer = f"{line} {word}" if line else word
        if width_of(longer) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        line = word
        while width_of(line) > width and not _PLACE.search(line):
            fits = _fitting(line, width)
            lines.append(line[:fits])
            line = line[fits:]
    if line or not lines:
        lines.append(line)
    return lines


def first_of(text: str, width: int) -> str:
    """As much of the beginning as fits into `width` places."""
    while width_of(text) > max(0, width):
        text = text[:-1]
    return text


def last_of(text: str, width: int) -> str:
    """As much of the end as fits into `width` places."""
    while width_of(text) > max(0, width):
        text = text[1:]
    return text


def _fitting(word: str, width: int) -> int:
    """How many letters of a word fit into `width` places, at least one."""
    count = width
    while count > 1 and width_of(word[:count]) > width:
        count -= 1
    return max(1, count)
