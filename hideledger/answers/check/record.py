"""What `check --json` prints: the contract with programs, version 1.

One object, keys in this order:

- `schema` 1; it counts up when a key goes or changes its meaning. New keys may be added at the end of an object
  without that.
- `at`, `at_local`: the moment of the answer, as ISO 8601 in UTC (`2026-11-03T13:40:00Z`) and on the shop's own
  clock (`2026-11-03 07:40`). In a book that names no zone times are taken as they stand, and `at` has no Z.
- `findings`, in the order in which they are told; each has `name` its plain words; `when` `now`, `tonight` or
  `record`; `may` true where it holds only for some reading of what was not written; `tags` whom it is about, hides
  first; `file`, `line`, `column` the line it comes from (counted from 1; null where there is none); `since`,
  `since_local` when the fault began or the limit falls (null where that is no matter of time); `over_s` seconds
  past the limit, negative while it is still to come, or null; `message` what was seen; `do` the act; `rule` the
  line of the limit as `file` and `line`, or null; `rings` whether it is one to act on now or tonight; `more`
  further sentences; `text` the line it comes from as it stands in the book, or null.
- `unread`: each line, or whole page, that could not be read: `file`, `line`, `column`, `message`, `text` the line as
  it stands, empty for a page.
- `counts`: `now`, `tonight`, `record` findings told; `rings` those that ring; `unread` as listed; `skins` in the shop;
  `lines` of the book that count; `later` lines dated after `at`; `held` findings of the record that wait for
  unread lines; with `--already-told`, and only then, `told_before` findings that are left out of the list.

Text stands as in the book and is not made harmless for a screen; JSON's own escapes are all it has.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from hideledger.answers.head import record_head
from hideledger.answers.saying import local_stamp, utc_stamp
from hideledger.model.book import Book
from hideledger.model.moments import Clock
from hideledger.rules.finding import Finding
from hideledger.shopfloor.floor import Floor
from hideledger.text.source import Source

SCHEMA = 1


def check_record(
    floor: Floor, told: Sequence[Finding], held: int = 0, *, told_before: int | None = None
) -> dict[str, object]:
    """The whole object; `held` is how many findings wait for unread lines, `told_before` how many are left out."""
    clock = floor.book.clock
    return {
        **record_head(floor.at, clock, schema=SCHEMA),
        "findings": finding_records(floor.book, told),
        "unread": [
            {
                "file": complaint.place.file,
                "line": complaint.place.line,
                "column": complaint.place.column,
                "message": complaint.message,
                "text": complaint.text,
            }
            for complaint in floor.book.unread
        ],
        "counts": {
            "now": sum(1 for finding in told if finding.when == "now"),
            "tonight": sum(1 for finding in told if finding.when == "tonight"),
            "record": sum(1 for finding in told if finding.when == "record"),
            "rings": sum(1 for finding in told if finding.rings and finding.when in ("now", "tonight")),
            "unread": len(floor.book.unread),
            "skins": sum(life.count for life in floor.here() if life.declared),
            "lines": len(floor.entries),
            "later": floor.later,
            "held": held,
            **({} if told_before is None else {"told_before": told_before}),
        },
    }


def finding_records(book: Book, told: Sequence[Finding]) -> list[dict[str, object]]:
    """The findings of the list, in the same order."""
    sources = {source.name: source for source in book.sources}
    return [_finding(finding, book.clock, sources) for finding in told]


def _finding(finding: Finding, clock: Clock, sources: Mapping[str, Source]) -> dict[str, object]:
    place = finding.place or (finding.entry.at if finding.entry is not None else None)
    since = finding.since
    rule = finding.rule
    source = None if place is None else sources.get(place.file)
    return {
        "name": finding.name,
        "when": finding.when,
        "may": finding.may,
        "tags": list(finding.tags),
        "file": None if place is None else place.file,
        "line": None if place is None else place.line,
        "column": None if place is None else place.column,
        "since": None if since is None else utc_stamp(since, clock),
        "since_local": None if since is None else local_stamp(since, clock),
        "over_s": finding.over_s,
        "message": finding.message,
        "do": finding.do,
        "rule": None if rule is None else {"file": rule.file, "line": rule.line},
        "rings": finding.rings and finding.when in ("now", "tonight"),
        "more": list(finding.more),
        "text": None if place is None or source is None else source.line(place.line),
    }
