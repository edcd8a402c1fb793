"""What answers a finding: a waiver with its reason; and what holds one back: a line that could not be read."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from datetime import date

from hideledger.model.entry import Entry
from hideledger.model.facts import Waived
from hideledger.model.moments import Clock
from hideledger.rules.finding import Finding
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife
from hideledger.text.place import Complaint

# Who answers a live finding has answered what is left of it in the record.
LATER_NAME = {
    "overdue": ("overdue", "stayed too long", "started late"),
    "reading due": ("reading due", "reading missed"),
    "stir due": ("stir due", "stir missed"),
    "out of range now": ("out of range now", "reading out of range"),
    "due": ("due",),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiver:
    """One waiving line on one tag: it answers faults begun between the tag's arrival and that line."""

    names: tuple[str, ...]
    after: int
    until: int
    entry: Entry


def reason_of(entry: Entry) -> str:
    """The reason written behind the dash; the word `why`, copied from what was to be written, is none."""
    remark = entry.remark.strip()
    return "" if remark.casefold().strip(".?! ") == "why" else remark


def waived_since(bath: BathLife, name: str, instant: int) -> bool:
    """Whether a finding of this bath was waived, with a reason, on a line from an instant (UTC seconds) on: `P3 waived slip nearby -- dosed, and read again`."""
    return any(
        _plain(answer.fact.finding) == name and answer.when.hi >= instant and reason_of(answer.entry)
        for answer in bath.waived
    )


def _plain(name: str) -> str:
    return " ".join(name.replace("’", "'").casefold().split())


def waivers(floor: Floor) -> dict[str, list[Waiver]]:
    """By tag: what was waived. Tags that no line declares, and vessels, may be waived too."""
    found: dict[str, list[Waiver]] = defaultdict(list)
    for tag, lives in floor.hides.items():
        for life in lives:
            for answer in life.waived:
                _add(found, tag, answer.fact, life.arrived_when.lo, answer.when.hi, answer.entry)
    for tag, baths in floor.baths.items():
        for bath in baths:
            for answer in bath.waived:
                _add(found, tag, answer.fact, bath.made_when.lo, answer.when.hi, answer.entry)
    for entry in floor.entries:
        for fact in entry.facts:
            if isinstance(fact, Waived):
                for tag in entry.tags:
                    if not any(waiver.entry is entry for waiver in found.get(tag, ())):
                        _add(found, tag, fact, -(2**60), entry.when.hi, entry)
    return found


def _add(found: dict[str, list[Waiver]], tag: str, fact: Waived, after: int, until: int, entry: Entry) -> None:
    name = _plain(fact.finding)
    found[tag].append(Waiver(names=LATER_NAME.get(name, (name,)), after=after, until=until, entry=entry))


def answered(finding: Finding, waived: dict[str, list[Waiver]], floor: Floor) -> Finding | None:
    """The finding without the hides it was waived for; None when none is left. No reason, no waiver."""
    if not any(tag in waived for tag in finding.tags):
        return finding
    begun = finding.begun if finding.begun is not None else finding.since
    hides = [tag for tag in finding.tags if tag in floor.hides]
    left: list[str] = []
    more: list[str] = []
    for tag in finding.tags:
        answers = [
            waiver
            for waiver in waived.get(tag, ())
            if finding.name in waiver.names and (begun is None or waiver.after <= begun <= waiver.until)
        ]
        if any(reason_of(waiver.entry) for waiver in answers):
            if tag not in hides:
                return None  # the bath itself is answered, and all its hides with it
            continue
        more += [
            f"waived without a reason at {w.entry.at.short}; write the reason itself, behind a dash" for w in answers
        ]
        left.append(tag)
    if hides and not any(tag in hides for tag in left):
        return None
    if not left:
        return None
    return replace(finding, tags=tuple(left), more=(*finding.more, *dict.fromkeys(more)))


def unread_by_tag(floor: Floor) -> dict[str, list[Complaint]]:
    """Lines that could not be read, by the tags that could still be made out."""
    found: dict[str, list[Complaint]] = defaultdict(list)
    for complaint in floor.book.unread:
        for tag in complaint.tags:
            found[tag].append(complaint)
    return found


def _day(complaint: Complaint) -> int | None:
    try:
        return date.fromisoformat(complaint.day).toordinal() if complaint.day else None
    except ValueError:
        return None


def held_back(finding: Finding, unread: dict[str, list[Complaint]], floor: Floor, clock: Clock) -> bool:
    """Whether a line of that day, not read, may be the one that is missed. Only the record is ever held back."""
    if finding.when != "record" or not any(tag in unread for tag in finding.tags):
        return False
    days = finding.days
    if days is None:
        if finding.since is None:
            return False
        days = (clock.day_of(finding.since),) * 2
    touched = set()
    for tag in finding.tags:
        for complaint in unread.get(tag, ()):
            day = _day(complaint)
            if day is not None and days[0] <= day <= days[1]:
                touched.add(tag)
    hides = {tag for tag in finding.tags if tag in floor.hides}
    return bool(touched - hides) or (bool(touched) and touched >= hides)


def with_unread(finding: Finding, unread: dict[str, list[Complaint]], clock: Clock) -> Finding:
    """What runs now is never quieted by a line that could not be read; it says which one names the hide."""
    if finding.when == "record" or not any(tag in unread for tag in finding.tags):
        return finding
    if finding.name == "arrival not read":
        return finding  # it says so itself
    begun = finding.begun if finding.begun is not None else finding.since
    first = None if begun is None else clock.day_of(begun)
    said = []
    for tag in finding.tags:
        for complaint in unread.get(tag, ()):
            day = _day(complaint)
            if first is None or day is None or day >= first:
                said.append(f"line {complaint.place.line} of {complaint.place.file} names {tag} and could not be read")
    return replace(finding, more=(*finding.more, *dict.fromkeys(said))) if said else finding
