"""What was told last time need not be told again, unless it weighs more now, has grown, or runs over its time.

Two runs are compared by their records (`record.py`). A finding is taken for the same matter by its name, its
`since`, the line of the book it comes from as that stands there, and its words. Line numbers are left out, since a line
put in above moves them; so are figures, units and weekdays, since a length of time grows by itself.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import UnionType
from typing import Any

from hideledger.answers.check.record import SCHEMA
from hideledger.rules.words import WEEKDAYS

# what a finding of an earlier run must have to be compared
_FINDING: dict[str, type | UnionType] = {
    "name": str,
    "when": str,
    "may": bool,
    "tags": list,
    "since": str | None,
    "message": str,
    "rings": bool,
    "more": list,
}
_WEIGHT = {"record": 0, "tonight": 1, "now": 2}
_PLACE = re.compile(r":[0-9]+(?::[0-9]+)?")
_FIGURE = re.compile("[-+]?[0-9]")
_PUNCTUATION = ".,;:()`?"


class NoSuchRecord(Exception):
    """Not the record of an earlier run; the text says what it is instead, to go on behind the name of the file."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What an earlier run told: its findings, and the lines of the book that it could not read."""

    findings: tuple[Mapping[str, Any], ...]
    unread: tuple[str, ...]


def told_before(raw: bytes) -> Told:
    """What stands in the JSON of an earlier run. Raises NoSuchRecord.

    UTF-16 is read too, since a shell of Windows makes it of whatever is sent into a file.
    """
    import json  # here, since a check that asks for no such thing need not wait for it

    try:
        record = json.loads(raw)
    except (ValueError, RecursionError):
        raise NoSuchRecord("is not what `check --json` prints") from None
    if not isinstance(record, dict) or not {"schema", "findings", "unread", "counts"} <= record.keys():
        raise NoSuchRecord("is not what `check --json` prints")
    if record["schema"] != SCHEMA:
        raise NoSuchRecord(f"has schema {str(record['schema'])[:20]}, and this program knows schema {SCHEMA}")
    findings, unread = record["findings"], record["unread"]
    if not _rows(findings, _FINDING) or not _rows(unread, {}):
        raise NoSuchRecord("is not what `check --json` prints")
    return Told(findings=tuple(findings), unread=tuple(str(line.get("text", "")) for line in unread))


def _rows(value: object, keys: Mapping[str, type | UnionType]) -> bool:
    """Whether this is a list of objects with these keys, of these types; of a list, words."""
    return isinstance(value, list) and all(
        isinstance(row, dict) and all(key in row and _is(row[key], kind) for key, kind in keys.items()) for row in value
    )


def _is(value: object, kind: type | UnionType) -> bool:
    return isinstance(value, kind) and not (isinstance(value, list) and any(not isinstance(one, str) for one in value))


def new_among(findings: Sequence[Mapping[str, Any]], last: Told) -> list[bool]:
    """For each finding of this run whether it is to be told: it is new, weighs more than it did, or runs over its time.

    It weighs more when what was for tonight is for now, what may have been is certain, what was told in passing rings,
    or one more hide is behind it. Each earlier finding answers for one of now, so that of two alike the second is new.
    """
    earlier: dict[object, list[Mapping[str, Any]]] = {}
    for finding in last.findings:
        earlier.setdefault(_matter(finding), []).append(finding)
    for several in earlier.values():
        several.sort(key=lambda finding: len(finding["tags"]))  # of two that could answer, the nearest
    return [_new(finding, earlier.get(_matter(finding), [])) for finding in findings]


def _new(finding: Mapping[str, Any], earlier: list[Mapping[str, Any]]) -> bool:
    before = next((one for one in earlier if _no_lighter(one, finding)), None)
    if before is None:
        return True
    earlier.remove(before)
    return runs_over(finding)


def runs_over(finding: Mapping[str, Any]) -> bool:
    """Whether a limit is past and its time still runs: that gets worse by the hour, and is told each time."""
    if finding["when"] != "now":
        return False
    over = finding["over_s"]
    return finding["name"] == "overdue" or (bool(finding["rings"]) and over is not None and over > 0)


def _no_lighter(before: Mapping[str, Any], now: Mapping[str, Any]) -> bool:
    """Whether what was told before weighs as much as what is to be told now, with the same hides and more behind it."""
    return (
        _WEIGHT.get(before["when"], -1) >= _WEIGHT[now["when"]]
        and (not before["may"] or bool(now["may"]))
        # the record never rings: what rang and is over rings no more, and that alone is no news
        and (bool(before["rings"]) or not now["rings"])
        and set(now["tags"]) <= set(before["tags"])
        and _words(now["more"]) <= _words(before["more"])
    )


def _matter(finding: Mapping[str, Any]) -> object:
    return finding["name"], finding["since"], str(finding.get("text")), _said(finding["message"])


def _words(sentences: Sequence[str]) -> set[tuple[str, ...]]:
    return {_said(sentence) for sentence in sentences}


def _said(sentence: str) -> tuple[str, ...]:
    """The words of a sentence without what changes by itself: figures and what they count, weekdays, line numbers."""
    words: list[str] = []
    counted = False
    for word in _PLACE.sub("", sentence).split():
        bare = word.strip(_PUNCTUATION)
        figure = _FIGURE.match(bare) is not None
        if bare and not figure and not counted and bare not in WEEKDAYS:
            words.append(bare)
        counted = figure and bare == word.rstrip(".")  # what ends with a comma counts nothing
    return tuple(words)
