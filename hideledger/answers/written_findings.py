"""What lines that were just written bring up, and what they answer: the difference between two judgings at one moment."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from hideledger.rules.finding import Finding

# Still to come: the sentence about the line says by when.
_TOLD_ANYWAY = frozenset({"due", "reading due", "stir due", "drum standing loaded"})
Mark = tuple[str, str, str]  # the finding's name, one of those it is about, the line it comes from


def brought_up(before: Iterable[Finding], after: Iterable[Finding]) -> list[Finding]:
    """The findings that were not there without the lines, in their order; what is only still to come is left out."""
    known = {mark for finding in before for mark in _marks(finding)}
    return [
        finding
        for finding in after
        if not (finding.when == "tonight" and finding.name in _TOLD_ANYWAY) and not _marks(finding) <= known
    ]


def put_right(before: Iterable[Finding], after: Sequence[Finding]) -> list[tuple[str, tuple[str, ...]]]:
    """What rang and rings no longer: its name, and whom it was about."""
    still = {(finding.name, tag) for finding in after for tag in finding.tags or ("",)}
    found: list[tuple[str, tuple[str, ...]]] = []
    for finding in before:
        if not finding.rings or finding.when not in ("now", "tonight"):
            continue
        gone = tuple(tag for tag in finding.tags if (finding.name, tag) not in still)
        if gone or (not finding.tags and (finding.name, "") not in still):
            found.append((finding.name, gone))
    return list(dict.fromkeys(found))


def _marks(finding: Finding) -> set[Mark]:
    place = finding.entry.at if finding.entry is not None else finding.place or finding.rule
    line = "" if place is None else place.short
    return {(finding.name, tag, line) for tag in finding.tags or ("",)}
