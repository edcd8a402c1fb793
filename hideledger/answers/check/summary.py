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
    "gas that kills": ("bath with a gas that kills", "baths with a gas that kills", False),
    "too little salt": ("bath with too little salt", "baths with too little salt", False),
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
    "hair comes loose": ("hide whose hair comes", "hides whose hair comes", True),
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
    "dumped outside the sewer": ("bath dumped outside the sewer", "baths dumped outside the sewer", False),
    "dumped above the sewer limit": ("bath dumped above the sewer limit", "baths dumped above the sewer limit", False),
    "dumped below the sewer limit": ("bath dumped below the sewer limit", "baths dumped below the sewer limit", False),
}
_MOST = 3
LONGEST = (
    69  # with `Subject: ` before it the 78 characters that a line of a mail should keep to (RFC 5322, section 2.1.1)
)


def ringing(findings: Sequence[Finding]) -> list[Finding]:
    """Those that want somebody now or tonight."""
    return [finding for finding in findings if finding.rings and finding.when in ("now", "tonight")]


def summary(floor: Floor, told: Sequence[Finding], left_out: Sequence[Finding] = ()) -> str:
    """`3 hides overdue, 1 line unread`; when nothing rings `all quiet, 66 skins, last line 17:52`.

    `left_out` are findings told before. At most `LONGEST` characters: what does not fit is counted, or left unsaid.
    """
    loud, still = ringing(told), ringing(left_out)
    unread = f"{unread_said(floor.book)} unread" if floor.book.unread else ""
    if loud:
        tail = [unread] if unread else []
        if still:
            tail.append(f"{len(still)} told before")
        phrases = _phrases(loud, set(floor.hides))
        return _fitting([", ".join([*row, *tail]) for row in phrases])
    head = [unread, "nothing else rings"] if unread else ["all quiet"]
    if still:
        head = [*head[:-1], "nothing new", f"{len(still)} still ring{'s' if len(still) == 1 else ''}"]
    return _fitting([", ".join([*head, *state]) + looked for state, looked in _states(floor)])


def _fitting(sayings: Sequence[str]) -> str:
    """The first that is short enough, else the shortest way to say it."""
    return next((said for said in sayings if len(said) <= LONGEST), sayings[-1])


def _phrases(loud: Sequence[Finding], hides: set[str]) -> list[list[str]]:
    """What rings, told in fewer and fewer words."""
    causes: dict[tuple[str, bool], list[Finding]] = {}
    for finding in loud:
        causes.setdefault((finding.name, finding.may), []).append(finding)
    parts = []
    for (name, may), findings in causes.items():
        one, many, by_hide = _PHRASES.get(name, (name, f"times {name}", False))
        tags = {tag for finding in findings for tag in finding.tags if tag in hides}
        number = (len(tags) if by_hide else 0) or len(findings)
        parts.append(counted(number, one, many) + (" (maybe)" if may else ""))
    numbers = [len(findings) for findings in causes.values()]
    rows = [parts] if len(parts) <= _MOST else []
    rows += [[*parts[:most], f"{sum(numbers[most:])} more"] for most in range(min(_MOST, len(parts) - 1), 0, -1)]
    return [*rows, [f"{len(loud)} to see to"]]


def _states(floor: Floor) -> list[tuple[list[str], str]]:
    """How much there is and when it was looked at, told in fewer and fewer words; the moment is said last of all."""
    skins = counted(sum(life.count for life in floor.here() if life.declared), "skin")
    clock = floor.book.clock
    line = _said(last_line(floor), clock, floor.at)
    moment = now_words(floor.at, clock)
    full, short = f" (looked at {moment})", f" (at {moment.partition(' ')[2]})"
    return [
        ([skins, line], full),
        ([skins, line], short),
        ([skins], full),
        ([skins], short),
        ([], short),
        ([], ""),
    ]


def _said(line: Entry | None, clock: Clock, at: int) -> str:
    if line is None:
        return "no line yet"
    return f"last line {when_words(line.when, clock, at)}"


def last_line(floor: Floor) -> Entry | None:
    """The latest line up to the floor's moment: of the latest day the latest one with a time, if there is one."""

    def rank(entry: Entry) -> tuple[int, bool, int, int]:
        return entry.when.day, entry.when.timed, entry.when.lo, entry.order

    return max(floor.entries, key=rank, default=None)
