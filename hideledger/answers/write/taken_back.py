"""The answer to `write --strike`: which line was taken back.

What `write --strike --json` prints, version 1, one object, keys in this order: `schema` 1; `struck` whether it is struck now; `page` the file; `line`
the number of its first line; `text` its lines as they stood.
"""

from __future__ import annotations

from collections.abc import Sequence

from hideledger.answers.sheet import Sheet
from hideledger.text.place import Place

SCHEMA = 1


def taken_back(place: Place, lines: Sequence[str], *, tried: bool) -> Sheet:
    """One line that says it; `tried` where nothing was struck."""
    said = f"{'tried, not struck' if tried else 'struck'}: {' '.join(line.strip() for line in lines)}"
    return Sheet(
        title=f"{said}  ({place.short})",
        sections=(),
        title_in_plain=True,
        record={
            "schema": SCHEMA,
            "struck": not tried,
            "page": place.file,
            "line": place.line,
            "text": list(lines),
        },
    )
