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
  further sentences.
- `unread`: each line, or whole page, that could not be read: `file`, `line`, `column`, `message`.
- `counts`: `now`, `tonight`, `record` findings told; `rings` those that ring; `unread` as listed; `skins` in the shop;
  `lines` of the book that count; `later` lines dated after `at`; `held` findings of the record that wait for
  unread lines.

Text stands as in the book and is not made harmless for a screen; JSON's own escapes are all it has.
"""

from __future__ import annotations

from collections.abc import Sequence

from hideledger.answers.saying import local_stamp, utc_stamp
from hideledger.model.moments import Clock
from hideledger.rules.finding import Finding
from hideledger.shopfloor.floor import Floor

SCHEMA = 1


def record_of(floor: Floor, told: Sequence[Finding], held: int = 0) -> dict[str, object]:
    """The whole object; `held` is how many findings wait for unread lines."""
    clock = floor.book.clock
    return {
        "schema": SCHEMA,
        "at": utc_stamp(floor.at, clock),
        "at_local": local_stamp(floor.at, clock),
        "findings": [finding_record(finding, clock) for finding in told],
        "unread": [
            {
                "file": complaint.place.file,
                "line": complaint.place.line,
                "column": complaint.place.column,
                "message": complaint.message,
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
        },
    }


def finding_record(finding: Finding, clock: Clock) -> dict[str, object]:
    """One finding of the list."""
    place = finding.place or (finding.entry.at if finding.entry is not None else None)
    since = finding.since
    rule = finding.rule
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
    }
