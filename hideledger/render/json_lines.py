"""One JSON object a line (RFC 8259), each with `record`, the sort of thing it is; UTF-8, a line feed behind each."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping


def json_lines(tables: Iterable[tuple[str, Iterable[Mapping[str, object]]]]) -> Iterator[str]:
    """The lines, table after table. Raises ValueError for a number that JSON does not know."""
    for name, records in tables:
        for record in records:
            yield json.dumps({"record": name, **record}, ensure_ascii=False, allow_nan=False) + "\n"
