"""What a line says, without what is shown beside it anyway: its date, its time, and the tag when it stands alone."""

from __future__ import annotations

from functools import lru_cache

from hideledger.model.entry import Entry
from hideledger.reading.book import entry_grammar
from hideledger.reading.cut import Cutter

# A time that is no minute of the clock says more than the bare date shown in its stead.
_TIMES = ("dabout", "dclock", "dfigures", "dotted", "tabout", "tclock", "tfigures")


def words_of(entry: Entry, tag: str = "") -> str:
    """The words of an entry in one line, without the comment, the stamp at its head, and `tag` where it names no other.

    A loose time (`about 12:30`, `evening`) stays.
    """
    cutter = _cutter()
    text = " ".join(cutter.comment.sub("", line) for line in entry.text.split("\n"))
    at = 0
    stamp = cutter.stamp.match(text)
    if stamp is not None:
        loose = [] if entry.when.timed else [stamp.start(name) for name in _TIMES if stamp[name] is not None]
        at = min(loose, default=stamp.end())
        who = cutter.who.match(text, stamp.end()) if tag and not loose else None
    else:
        who = cutter.who.match(text, len(text) - len(text.lstrip())) if tag else None
    if who is not None and entry.tags == (tag,) and who["who"].casefold() == tag.casefold():
        at = who.end()
    return " ".join(text[at:].split())


@lru_cache(maxsize=1)
def _cutter() -> Cutter:
    """The reader's own way of cutting a line, so that whatever it takes for a stamp is taken for one here."""
    return Cutter(entry_grammar())
