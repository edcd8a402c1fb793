"""Blanks of every width: a phone, a web page and a word processor each put their own between a number and its unit."""

from __future__ import annotations

import re

# The blanks of the grammar: the plain one, the tab, and the no-break ones of a phone.
BLANKS = " \t\u00a0\u202f"
# What the grammar passes over between two words of a line.
PASSED_OVER = f"{BLANKS}."
# The space separators of Unicode (general category Zs) but the plain blank and the two no-break ones, which the grammar knows.
_OF_OTHER_WIDTH = re.compile("[\u1680\u2000-\u200a\u205f\u3000]")


def plain_blanks(text: str) -> str:
    """The same text, sign for sign, with each blank of another width as a no-break one, which the grammar reads as a blank."""
    return text if text.isascii() else _OF_OTHER_WIDTH.sub("\u00a0", text)
