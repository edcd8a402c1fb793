"""A page with its changes as bytes: byte order mark, newlines and every line that is not changed come out as they lie on the disk."""

from __future__ import annotations

import re
from pathlib import Path

from hideledger.model.fair import FairPage
from hideledger.text.clean import clean
from hideledger.text.files import BookTrouble, decode, read_raw
from hideledger.text.newlines import BYTE_ORDER_MARK
from hideledger.writing.trouble import changed_meanwhile, not_written

_NEWLINE = re.compile("(\r\n|\r|\n)")


def fair_bytes(page: FairPage) -> bytes:
    """What is to stand in the file. Raises ChangedMeanwhile where it is not as it was read, NotWritten where it cannot be read."""
    source = page.source
    try:
        raw, seen = read_raw(Path(source.path), source.name)
        text = decode(raw, clean(source.name))
    except BookTrouble as trouble:
        raise not_written(source.path, trouble.said) from trouble
    if seen != source.seen or text != source.text:
        raise changed_meanwhile(source.path)
    body = raw.removeprefix(BYTE_ORDER_MARK)
    mark = raw[: len(raw) - len(body)]
    # Lines at the even places, each followed by the newline it ends with.
    parts = _NEWLINE.split(body.decode("utf-8"))
    for change in reversed(page.changes):
        first, last = 2 * (change.line - 1), 2 * (change.line - 2 + len(change.was))
        if len(change.now) == len(change.was):
            parts[first : last + 1 : 2] = change.now
        else:  # joined into one line, which ends as the last of them did
            parts[first : last + 1] = change.now
    return mark + "".join(parts).encode("utf-8")
