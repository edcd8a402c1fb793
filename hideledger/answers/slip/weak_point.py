"""One weak point in the life of a hide, and which of several is looked at first: what is apt for the failure, then the earliest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hideledger.answers.saying import utc_stamp
from hideledger.answers.sheet import Row
from hideledger.answers.slip.apt import APT
from hideledger.answers.slip.sign import Case
from hideledger.model.moments import MINUTE, Clock, spoken
from hideledger.text.place import Place

# Raw hours and frost loosen hair; a raw streak, a stain or grease comes from elsewhere (common practice, no source).
_OF_SLIP = frozenset({"raw too long", "before the door", "thawed again", "wet salted into the freezer"})
# A day without a reading did no harm itself: it hides whether one was done.
_GAPS = frozenset({"reading missed", "stir missed", "reading due", "stir due", "not read"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Weak:
    """One weak point: when it began (UTC seconds), its moment in words, its name, what is said of it, and the lines it comes from.

    `silent`: it is only that something was not written. `leads`: in the whole season nothing goes with the failure more;
    `counted_as` are its names there. `at_step` is the sort of the step that it is, `soon` that the sign was seen shortly after it, `sides` which way a reading was wrong (`pH over`),
    `of_sort` the sort of step whose limit was broken.
    """

    instant: int
    moment: str
    name: str
    text: str
    place: Place | None = None
    rule: Place | None = None
    may: bool = False
    company: bool = False
    silent: bool = False
    leads: bool = False
    counted_as: tuple[str, ...] = ()
    at_step: str = ""
    soon: bool = False
    sides: frozenset[str] = frozenset()
    of_sort: str = ""

    def row(self) -> Row:
        """As it stands on the sheet."""
        where = ", limit ".join(place.short for place in (self.place, self.rule) if place is not None)
        may = ", maybe" if self.may else ""
        return Row(
            head=self.moment,
            text=f"{self.name}{may}: {self.text}",
            under=(("from", where),) if where else (),
        )

    def record(self, clock: Clock) -> dict[str, object]:
        """The same for a program."""
        return {
            "when": utc_stamp(self.instant, clock),
            "moment": self.moment,
            "name": self.name,
            "text": self.text,
            "maybe": self.may,
            "from": None if self.place is None else {"file": self.place.file, "line": self.place.line},
            "limit": None if self.rule is None else {"file": self.rule.file, "line": self.rule.line},
        }


def none_found() -> Row:
    """Nothing in the book points anywhere."""
    return Row(text="none in the book; what is not written cannot be looked at: see what is not recorded below")


def is_apt(weak: Weak, defect: str) -> bool:
    """Whether it can have led to this failure: a bath too weak in acid has burnt nothing."""
    if defect == "slip":
        return True
    apt = APT.get(defect)
    if apt is None:
        return weak.name not in _OF_SLIP
    if weak.at_step or weak.company:
        return True
    if weak.sides:
        return bool(weak.sides & apt.sides)
    if weak.name in _GAPS and weak.name not in apt.findings:
        return bool(apt.sides)
    return weak.name in apt.findings or f"{weak.name} {weak.of_sort}" in apt.findings


def first_weak(weak: Sequence[Weak], defect: str) -> Weak | None:
    """The earliest that can have led to this failure; a gap between readings, and what nobody wrote, only where there is nothing else."""
    could = [one for one in weak if is_apt(one, defect)]
    said = [one for one in could if not one.silent]
    return next(iter((*(one for one in said if one.name not in _GAPS), *said, *could)), None)


def likeliest(weak: Sequence[Weak], defect: str) -> Weak | None:
    """Where to look first: what goes with the failure most in the whole season, since the sisters are the best evidence there is; else the earliest.

    What nobody wrote points nowhere: None where there is nothing else.
    """
    found = next((one for one in weak if one.leads), None) or _at_step_first(weak, defect) or first_weak(weak, defect)
    return None if found is None or found.silent else found


def _at_step_first(weak: Sequence[Weak], defect: str) -> Weak | None:
    """Of a failure that happens at a step: that step, where it was done shortly before; else a fault that is apt, else the step.

    What the others met counts only behind these: a hand or a heater is no bath.
    """
    apt = APT.get(defect)
    if apt is None:
        return None
    written = [one for one in weak if one.at_step and one.at_step in APT]
    own = [one for one in weak if one.at_step in apt.steps and one.at_step]
    soon = [one for one in own if one.soon]
    faults = [
        one
        for one in weak
        if is_apt(one, defect) and not (one.silent or one.company or one.at_step) and one.name not in _GAPS
    ]
    led = [one for one in weak if one.at_step]
    company = [one for one in weak if one.company]
    return next(iter((*written, *reversed(soon), *faults, *reversed(own), *company, *led)), None)


def its_step(weak: Sequence[Weak], defect: str) -> tuple[str, str]:
    """A failure has the sort of step at which it happened, and the failure that it came of, where the sheet looks there first or at nothing.

    Two empty strings where a bath or the company is looked at.
    """
    apt, first = APT.get(defect), likeliest(weak, defect)
    if apt is None or not apt.steps:
        return "", ""
    if first is None or first.name in _GAPS:
        return apt.steps[0], defect
    if first.at_step in apt.steps:
        return first.at_step, defect
    other = APT.get(first.at_step)
    if other is not None and other.steps:
        return other.steps[0], first.at_step
    return (apt.steps[0], defect) if first.at_step else ("", "")


def said_at(case: Case, weak: Weak) -> str:
    """A weak point with its moment, and how long before the first sign that was."""
    ahead = case.until - weak.instant
    before = f", {spoken(ahead)} before the first sign" if case.sign is not None and ahead >= MINUTE else ""
    met = ", met " if weak.company else ", "
    return f"{weak.name.removeprefix('with ')}{', maybe' if weak.may else ''}{met}{weak.moment}{before}"
