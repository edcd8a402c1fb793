"""Weak points in the life of a hide, the earliest first: slip shows late, and its cause is nearly always earlier.

Each is a place to look, not a proof. What was written late, or not at all, can be no weak point of the book's.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from hideledger.answers.history.at_work import READ_WRONG, as_it_met, at_work_from, is_about, side_of, sides_of
from hideledger.answers.saying import length_said
from hideledger.answers.slip.at_step import at_its_steps, on_the_same_line
from hideledger.answers.slip.compare import Compared
from hideledger.answers.slip.exposures import Season, only_along
from hideledger.answers.slip.lives import name_of
from hideledger.answers.slip.not_read import not_read_before_the_sign
from hideledger.answers.slip.outcomes import wholes
from hideledger.answers.slip.paper import ON_PAPER
from hideledger.answers.slip.sign import Case
from hideledger.answers.slip.sisters import Company
from hideledger.answers.slip.sisters_said import left_out_said
from hideledger.answers.slip.weak_point import Weak
from hideledger.answers.slip.went_in import went_into_a_wrong_bath
from hideledger.answers.slip.words import verb
from hideledger.answers.slip.worn import worn_by
from hideledger.model.moments import When, spoken
from hideledger.rules.finding import Finding
from hideledger.rules.readings import limit_said, reading_said
from hideledger.rules.words import listed, stamp
from hideledger.shopfloor.doings import sort_of_name
from hideledger.shopfloor.life import HideLife
from hideledger.shopfloor.raw import came_cured
from hideledger.text.place import Place

_READ = frozenset({"reading missed", "reading due"})
_MOST_COMPANIES = 3
_SELDOM_CHANCE = 0.1  # a place to look, so less is asked of it than of a cause


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
    before += [*_not_read(case, before), *_before_the_door(case, before), *_frost(case), *_company(case, met, season)]
    before += [*on_the_same_line(case), *at_its_steps(case)]
    before.sort(key=lambda one: (one.instant, one.company, one.name))
    after.sort(key=lambda one: (one.instant, one.name))
    return before, after


def _of_this_life(case: Case, finding: Finding) -> bool:
    return any(is_about(finding, life, case.floor) for life in (case.life, *wholes(case.floor, case.life)))


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
        sides=sides_of(finding, case.life) if finding.name in READ_WRONG else frozenset(),
        of_sort=_sort_of_limit(case, finding.rule),
    )


def _sort_of_limit(case: Case, rule: Place | None) -> str:
    """What the step does whose line of the process was broken; nothing where it is no step's."""
    steps = () if case.life.process is None or rule is None else case.life.process.steps
    return next((sort_of_name(step.name) for step in steps if rule is not None and step.place.short == rule.short), "")


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
            sides=frozenset({side_of(one.reading.fact, one.limits)}),
        )


def _not_read(case: Case, told: Sequence[Weak]) -> Iterator[Weak]:
    """Each bath that nobody had read when the sign was seen; a gap alone only where no finding tells of it already."""
    for one in not_read_before_the_sign(case):
        if not one.wrong and any(weak.name in _READ for weak in told):
            continue
        yield Weak(
            instant=one.since.lo,
            moment=case.said(one.since),
            name="read too late" if one.wrong else "not read",
            text=one.said,
            place=one.place,
            rule=one.rule,
            may=one.may,
            sides=one.sides,
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
            text=f"the {'second thaw' if len(thawed) == 2 else f'second of {len(thawed)} thaws'}; raw hours on both sides of the frost add up",
            place=entry.at,
        )


def _tells(one: Company, compared: Mapping[str, Compared]) -> bool:
    """Whether more failed in a company than elsewhere; where the season is too small to compare, whether a third of it did."""
    found = compared.get(one.met.counted_as)
    if found is not None:
        return found.p <= _SELDOM_CHANCE and found.table.rate > found.table.other_rate
    return 3 * len(one.slipped) >= len(one.slipped) + len(one.spared)


def _company(case: Case, met: Sequence[Company], season: Season) -> Iterator[Weak]:
    """The company it kept where others failed too: what the sisters did is the best evidence there is.

    What only travels along with something else it met is left out, as on the sheet of the season.
    """
    compared = season.by_name
    leading = {exposure.name for lead in season.standing.leading for exposure in (lead.exposure, *lead.same)}
    telling = [one for one in met if one.slipped and one.met.spans and _tells(one, compared)]
    travelling = only_along(season, [found for one in telling if (found := compared.get(one.met.counted_as))])
    telling = [one for one in telling if one.met.counted_as not in travelling][:_MOST_COMPANIES]
    same: dict[tuple[int, tuple[HideLife, ...]], list[Company]] = {}
    for one in telling:
        same.setdefault((min(start for start, _ in one.met.spans), one.slipped), []).append(one)
    for (start, slipped), several in same.items():
        shown = [name_of(case.floor, life) for life in slipped[:6]]
        names = listed([*shown, *([f"{len(slipped) - 6} more"] if len(slipped) > 6 else [])])
        counts = list(dict.fromkeys(one.known for one in several))
        of = f"{listed([f'{len(slipped)} of {count}' for count in counts])} others that met with {'it' if len(several) == 1 and not several[0].same else 'them'}"
        if counts == [1]:
            of = (
                "the one other that met with it"
                if len(several) == 1 and not several[0].same
                else "the one other that met with them"
            )
        yield Weak(
            instant=start,
            moment=stamp(case.clock, start, case.at),
            name=f"with {listed([met.name for one in several for met in (one.met, *one.same) if met.spans])}",
            text=f"{of} {verb(case.defect)} too: {names}{left_out_said(case, *several)}",
            company=True,
            leads=any(met.counted_as in leading for one in several for met in (one.met, *one.same)),
            counted_as=tuple(met.counted_as for one in several for met in (one.met, *one.same)),
        )
