"""Weak points in the life of a hide, the earliest first: slip shows late, and its cause is nearly always earlier.

Each is a place to look, not a proof. What was written late, or not at all, can be no weak point of the book's.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from hideledger.answers.history.at_work import READ_WRONG, as_it_met, at_work_from
from hideledger.answers.saying import length_said, utc_stamp
from hideledger.answers.sheet import Row
from hideledger.answers.slip.compare import Compared
from hideledger.answers.slip.exposures import Season, only_along
from hideledger.answers.slip.paper import ON_PAPER
from hideledger.answers.slip.sign import Case
from hideledger.answers.slip.sisters import Company
from hideledger.answers.slip.went_in import went_into_a_wrong_bath
from hideledger.answers.slip.worn import worn_by
from hideledger.model.moments import MINUTE, Clock, When, spoken
from hideledger.rules.finding import Finding
from hideledger.rules.readings import limit_said, reading_said
from hideledger.rules.words import listed, stamp
from hideledger.shopfloor.raw import came_cured
from hideledger.text.place import Place

# Raw hours and frost loosen hair; a raw streak, a stain or grease comes from elsewhere (common practice, no source).
_OF_SLIP = frozenset({"raw too long", "before the door", "thawed again", "wet salted into the freezer"})
# A day without a reading did no harm itself: it hides whether one was done.
_GAPS = frozenset({"reading missed", "stir missed", "reading due", "stir due"})
_MOST_COMPANIES = 3
_SELDOM_CHANCE = 0.1  # a place to look, so less is asked of it than of a cause


@dataclass(frozen=True, slots=True, kw_only=True)
class Weak:
    """One weak point: when it began (UTC seconds), its moment in words, its name, what is said of it, and the lines it comes from.

    `silent`: it is only that something was not written. `leads`: in the whole season nothing goes with the failure more;
    `counted_as` are its names there.
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


def weak_points(
    case: Case, findings: Sequence[Finding], met: Sequence[Company], season: Season
) -> tuple[list[Weak], list[Weak]]:
    """Those before or at the first sign, the earliest first, and the rules it broke since."""
    broken = [
        _broken(case, finding) for finding in findings if finding.name not in ON_PAPER and _of_this_life(case, finding)
    ]
    broken += _worn_baths(case)
    broken += _went_in_wrong(case, broken)
    before = [one for one in broken if one.instant <= case.until]
    after = [one for one in broken if one.instant > case.until]
    before += [*_before_the_door(case, before), *_frost(case), *_company(case, met, season)]
    before.sort(key=lambda one: (one.instant, one.company, one.name))
    after.sort(key=lambda one: (one.instant, one.name))
    return before, after


def _of_this_life(case: Case, finding: Finding) -> bool:
    life = case.life
    if life.tag not in finding.tags and not (life.parent and life.parent in finding.tags):
        return False
    if len(case.floor.hides.get(life.tag, ())) < 2 or finding.entry is None:
        return True
    ends = life.ended.order if life.ended is not None else None
    return life.arrived.order <= finding.entry.order and (ends is None or finding.entry.order <= ends)


def _broken(case: Case, finding: Finding) -> Weak:
    entry, own = finding.entry, at_work_from(finding, case.life)
    began = own.instant if own is not None else finding.begun
    instant = min(began, case.at) if began is not None else entry.when.lo if entry is not None else case.at
    loose = entry is not None and not entry.when.timed and instant == entry.when.lo
    moment = case.said(entry.when) if loose and entry is not None else stamp(case.clock, instant, case.at)
    return Weak(
        instant=instant,
        moment=moment if own is None or own.stay is None else case.said(own.stay.start),
        name=finding.name,
        text=as_it_met(finding, case.life, case.floor).message,
        place=finding.place,
        rule=finding.rule,
        may=finding.may,
        silent=finding.name == "not recorded",
        counted_as=("finding reading out of range",) if finding.name in READ_WRONG else (),
    )


def _worn_baths(case: Case) -> Iterator[Weak]:
    """Each bath that was past its life while it lay in it: a bath let go since is judged too."""
    for stay in case.life.stays:
        if stay.bath is None:
            continue
        for worn in worn_by(case.floor, stay.bath):
            instant = max(worn.when.lo, stay.start.lo)
            if instant > case.at or (stay.end is not None and stay.end.hi <= worn.when.lo):
                continue
            sure = worn.when.hi < (case.at if stay.end is None else stay.end.lo)
            when = worn.when if instant == worn.when.lo else stay.start
            yield Weak(
                instant=instant,
                moment=case.said(when),
                name="bath worn out",
                text=f"{stay.bath.tag}: {worn.said}",
                place=worn.line.at,
                rule=worn.rule,
                may=not sure,
            )


def _went_in_wrong(case: Case, told: Sequence[Weak]) -> Iterator[Weak]:
    """Each bath that read out of range when it went in, where no finding says so already."""
    said = {(one.instant, one.rule) for one in told if one.name in READ_WRONG}
    for one in went_into_a_wrong_bath(case.life):
        if (one.stay.start.lo, one.limits.place) in said:
            continue
        ahead = spoken(max(0, one.stay.start.lo - one.reading.when.hi))
        yield Weak(
            instant=one.stay.start.lo,
            moment=case.said(one.stay.start),
            name="reading out of range",
            text=f"{one.bath.tag} read {reading_said(one.reading.fact)} {case.said(one.reading.when)}, {ahead} before it went in, {limit_said(one.reading.fact, one.limits)}; nothing was put in between, by the book",
            place=one.reading.entry.at,
            rule=one.limits.place,
            may=one.may,
            counted_as=("finding reading out of range",),
        )


def _before_the_door(case: Case, told: Sequence[Weak]) -> Iterator[Weak]:
    life, raw = case.life, case.raw
    cured = came_cured(life)
    if raw is None or not life.declared or cured or life.tanned_before:
        return
    if raw.door is None:
        yield Weak(
            instant=life.arrived_when.lo,
            moment=case.said(life.arrived_when),
            name="before the door",
            text="when it was killed is not written, so the hours that decide most losses are not known; ask whoever brought it",
            place=life.arrived.at,
            silent=True,
        )
        return
    if any(one.name == "raw too long" for one in told) or life.kill_when is None or life.killed is None:
        return
    limit = life.process.raw_limit if life.process is not None else None
    least, most = raw.door if raw.door_weighted is None else raw.door_weighted
    warm = "" if life.hung is not None else "; how warm it hung is not written"
    if limit is not None and most > limit.length.about_seconds // 2:
        yield Weak(
            instant=life.kill_when.lo,
            moment=case.said(life.kill_when),
            name="before the door",
            text=f"raw for {length_said(least, most)} before it came, of {limit.length} that its process allows in all{warm}",
            place=life.killed[1].at,
            rule=limit.place,
            may=least <= limit.length.about_seconds // 2,
        )


def _frost(case: Case) -> Iterator[Weak]:
    thawed = [one for one in case.life.pauses if one.end is not None and one.end.lo <= case.until]
    if len(thawed) > 1 and thawed[1].end is not None:
        second = thawed[1]
        end: When = thawed[1].end
        entry = second.end_entry or second.entry
        yield Weak(
            instant=end.lo,
            moment=case.said(end),
            name="thawed again",
            text=f"the {'second' if len(thawed) == 2 else f'second of {len(thawed)}'} thaw; raw hours on both sides of the frost add up",
            place=entry.at,
        )


def _tells(one: Company, compared: Mapping[str, Compared]) -> bool:
    """Whether more failed in a company than elsewhere; where the season is too small to compare, whether a third of it did."""
    found = compared.get(one.met.counted_as)
    if found is not None:
        return found.p <= _SELDOM_CHANCE and found.table.rate > found.table.other_rate
    return 3 * len(one.slipped) >= len(one.slipped) + len(one.others)


def _company(case: Case, met: Sequence[Company], season: Season) -> Iterator[Weak]:
    """The company it kept where others failed too: what the sisters did is the best evidence there is.

    What only travels along with something else it met is left out, as on the sheet of the season.
    """
    compared = season.by_name
    leading = {exposure.name for lead in season.standing.leading for exposure in (lead.exposure, *lead.same)}
    telling = [one for one in met if one.slipped and one.met.spans and _tells(one, compared)]
    travelling = only_along(season, [found for one in telling if (found := compared.get(one.met.counted_as))])
    telling = [one for one in telling if one.met.counted_as not in travelling][:_MOST_COMPANIES]
    same: dict[tuple[int, tuple[str, ...]], list[Company]] = {}
    for one in telling:
        same.setdefault((min(start for start, _ in one.met.spans), one.slipped), []).append(one)
    verb = "slipped" if case.defect == "slip" else f"had {case.defect}"
    for (start, slipped), several in same.items():
        names = listed(slipped[:6]) + (f" and {len(slipped) - 6} more" if len(slipped) > 6 else "")
        counts = list(dict.fromkeys(len(slipped) + len(one.others) for one in several))
        of = f"{listed([f'{len(slipped)} of {count}' for count in counts])} others that met with {'it' if len(counts) == 1 else 'them'}"
        if counts == [1]:
            of = "the one other that met with it"
        yield Weak(
            instant=start,
            moment=stamp(case.clock, start, case.at),
            name=f"with {listed([met.name for one in several for met in (one.met, *one.same) if met.spans])}",
            text=f"{of} {verb} too: {names}",
            company=True,
            leads=any(met.counted_as in leading for one in several for met in (one.met, *one.same)),
            counted_as=tuple(met.counted_as for one in several for met in (one.met, *one.same)),
        )


def none_found() -> Row:
    """Nothing in the book points anywhere."""
    return Row(text="none in the book; what is not written cannot be looked at: see what is not recorded below")


def first_weak(weak: Sequence[Weak], defect: str) -> Weak | None:
    """The earliest that can have led to this failure; a gap between readings, and what nobody wrote, only where there is nothing else."""
    could = [one for one in weak if defect == "slip" or one.name not in _OF_SLIP]
    said = [one for one in could if not one.silent]
    return next(iter((*(one for one in said if one.name not in _GAPS), *said, *could)), None)


def likeliest(weak: Sequence[Weak], defect: str) -> Weak | None:
    """Where to look first: what goes with the failure most in the whole season, since the sisters are the best evidence there is; else the earliest.

    What nobody wrote points nowhere: None where there is nothing else.
    """
    found = next((one for one in weak if one.leads), None) or first_weak(weak, defect)
    return None if found is None or found.silent else found


def said_at(case: Case, weak: Weak) -> str:
    """A weak point with its moment, and how long before the first sign that was."""
    ahead = case.until - weak.instant
    before = f", {spoken(ahead)} before the first sign" if case.sign is not None and ahead >= MINUTE else ""
    met = ", met " if weak.company else ", "
    return f"{weak.name.removeprefix('with ')}{', maybe' if weak.may else ''}{met}{weak.moment}{before}"
