"""A remark from the book must reach the screen harmless: no control character does anything there."""

from __future__ import annotations

import re
import unicodedata

# Cc but tab and newline, Cf (bidi, zero width) but the joiner, Cs, Zl, Zp: written out so that one pass of `re` suffices.
_HARMFUL = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\xad\u0600-\u0605\u061c\u06dd\u070f\u08e2\u180e\u200b\u200c\u200e\u200f\u2028-\u202e"
    "\u2060-\u206f\ud800-\udfff\ufeff\ufff9-\ufffb\U000110bd\U0001bca0-\U0001bca3\U0001d173-\U0001d17a\U000e0001-\U000e007f]"
)


def _written_out(match: re.Match[str]) -> str:
    code = ord(match.group())
    if code < 0x100:
        return f"\\x{code:02x}"
    return f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"


def clean(text: str) -> str:
    """The text with every control character, bidi mark and lone surrogate written out (`\\x1b`); tabs become blanks."""
    return _HARMFUL.sub(_written_out, text).replace("\t", " ")


def invisible_mark(text: str, at: int) -> str:
    """What stands at a place where nothing is to be seen, in words: `an invisible mark (zero width space)`; empty where it is something else."""
    if _HARMFUL.match(text, at) is None:
        return ""
    name = unicodedata.name(text[at], "").casefold().replace("zero width no-break space", "byte order mark")
    return f"an invisible mark ({name})" if name else f"a control character ({clean(text[at])})"
