"""The first line of the evening: short enough for the subject of a mail, true enough to act on."""

from __future__ import annotations

from collections.abc import Sequence

from hideledger.answers.saying import counted, now_words, unread_said, when_words
from hideledger.model.entry import Entry
from hideledger.model.moments import Clock
from hideledger.rules.finding import Finding
from hideledger.shopfloor.floor import Floor

# finding -> one, many, and whether hides are counted (else causes are)
_PHRASES: dict[str, tuple[str, str, bool]] = {
    "overdue": ("hide overdue", "hides overdue", True),
    "due": ("hide due", "hides due", True),
    "reading due": ("bath to read", "baths to read", False),
    "stir due": ("bath to stir", "baths to stir", False),
    "out of range now": ("bath out of range", "baths out of range", False),
    "raw too long": ("hide raw too long", "hides raw too long", True),
    "drum standing loaded": ("drum standing loaded", "drums standing loaded", False),
    "promise at risk": ("promise at risk", "promises at risk", True),
    "promise missed": ("promise missed", "promises missed", True),
    "gone quiet": ("hide gone quiet", "hides gone quiet", True),
    "slip nearby": ("hide near slip", "hides near slip", True),
    "kept together": ("hide to keep apart", "hides to keep apart", True),
    "stock short": ("supply short", "supplies short", False),
    "lot past its date": ("lot past its date", "lots past their date", False),
    "unknown tag": ("unknown tag", "unknown tags", False),
    "nobody wrote": ("day without a line", "days without a line", False),
    "stayed too long": ("hide stayed too long", "hides stayed too long", True),
    "wet salted into the freezer": ("hide frozen wet salted", "hides frozen wet salted", True),
    "run ends after closing": ("run that ends after closing", "runs that end after closing", False),
    "run complete without a cut": ("load to cut", "loads to cut", False),
    "pressure over the vessel's limit": ("drum over its pressure", "drums over their pressure", False),
    "pressure falling": ("drum losing pressure", "drums losing pressure", False),
    "after it was out": ("line after its hide was out", "lines after their hides were out", False),
    "dated ahead": ("line dated ahead", "lines dated ahead", False),
    "dated back": ("line dated back", "lines dated back", False),
    "dumped below the sewer limit": ("bath dumped below the sewer limit", "baths dumped below the sewer limit", False),
}
_MOST = 3


def summary(floor: Floor, told: Sequence[Finding]) -> str:
    """`3 hides overdue, 1 line unread`; when nothing rings `all quiet, 66 skins, last line 17:52`."""
    ringing = [finding for finding in told if finding.rings and finding.when in ("now", "tonight")]
    unread = bool(floor.book.unread)
    parts = _phrases(ringing, set(floor.hides))
    if unread:
        parts.append(f"{unread_said(floor.book)} unread")
    if ringing:
        return ", ".join(parts)
    return ", ".join([*parts, "nothing else rings" if unread else "all quiet", *_state(floor)])


def _phrases(ringing: Sequence[Finding], hides: set[str]) -> list[str]:
    causes: dict[tuple[str, bool], list[Finding]] = {}
    for finding in ringing:
        causes.setdefault((finding.name, finding.may), []).append(finding)
    parts = []
    for (name, may), findings in causes.items():
        one, many, by_hide = _PHRASES.get(name, (name, f"times {name}", False))
        tags = {tag for finding in findings for tag in finding.tags if tag in hides}
        number = (len(tags) if by_hide else 0) or len(findings)
        parts.append(counted(number, one, many) + (" (maybe)" if may else ""))
    if len(parts) > _MOST:
        rest = sum(len(findings) for findings in list(causes.values())[_MOST:])
        parts = [*parts[:_MOST], f"{rest} more"]
    return parts


def _state(floor: Floor) -> list[str]:
    skins = sum(life.count for life in floor.here() if life.declared)
    clock = floor.book.clock
    line = last_line(floor)
    return [counted(skins, "skin"), f"{_said(line, clock, floor.at)} (looked at {now_words(floor.at, clock)})"]


def _said(line: Entry | None, clock: Clock, at: int) -> str:
    if line is None:
        return "no line yet"
    return f"last line {when_words(line.when, clock, at)}"


def last_line(floor: Floor) -> Entry | None:
    """The latest line up to the floor's moment: of the latest day the latest one with a time, if there is one."""

    def rank(entry: Entry) -> tuple[int, bool, int, int]:
        return entry.when.day, entry.when.timed, entry.when.lo, entry.order

    return max(floor.entries, key=rank, default=None)
