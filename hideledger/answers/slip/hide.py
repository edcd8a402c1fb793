"""What happened to one hide: on the first screen where to look and who is next, then all that is known, in the investigator's order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hideledger.answers.head import record_of
from hideledger.answers.history.at_work import is_about
from hideledger.answers.saying import counted, local_stamp, now_words, unread_said, utc_stamp
from hideledger.answers.sheet import Quote, Row, Section, Sheet
from hideledger.answers.slip.apt import APT
from hideledger.answers.slip.asked_baths import ASKED, baths_asked
from hideledger.answers.slip.asked_door import (
    at_the_door,
    fleshed_and_turned,
    frost,
    kill_to_door,
    place_on_it,
    raw_in_the_shop,
    salted,
)
from hideledger.answers.slip.at_step import names_of_step
from hideledger.answers.slip.bald import not_always_slip, usually_from
from hideledger.answers.slip.exposures import Season, season
from hideledger.answers.slip.head import head
from hideledger.answers.slip.in_short import in_short
from hideledger.answers.slip.lives import name_of, of_the_tag, records_of
from hideledger.answers.slip.next_said import next_records, next_section, whom_to_tell
from hideledger.answers.slip.outcomes import refused_at_the_door
from hideledger.answers.slip.question import Answered, asked_section
from hideledger.answers.slip.sign import Case, NoSuchHide, case_of, seen_words
from hideledger.answers.slip.sisters import Company, Sister, companies, sisters_of
from hideledger.answers.slip.sisters_said import in_company, side_by_side_with, sister_rows, sisters_records
from hideledger.answers.slip.still_to_come import AtStep, at_step_records, at_step_section, nobody_said, still_to_come
from hideledger.answers.slip.timeline import WIDTH, side_by_side
from hideledger.answers.slip.waived import waived_on
from hideledger.answers.slip.weak import weak_points
from hideledger.answers.slip.weak_point import Weak, is_apt, its_step, likeliest, none_found
from hideledger.answers.slip.who_is_next import Next, next_in_line
from hideledger.answers.slip.words import asking, verb
from hideledger.answers.standing import state_of
from hideledger.rules.finding import Finding
from hideledger.rules.judge import judge
from hideledger.rules.words import listed
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife

__all__ = ["NoSuchHide", "slip_hide"]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Looked:
    """All that was found, before it is laid out."""

    case: Case
    season: Season
    asked: tuple[Answered, ...]
    sisters: tuple[Sister, ...]
    company: tuple[Company, ...]
    before: tuple[Weak, ...]
    after: tuple[Weak, ...]
    next_ones: tuple[Next, ...]
    ahead: AtStep | None


def slip_hide(floor: Floor, tag: str, *, defect: str = "slip", whole: bool = True, width: int = WIDTH) -> Sheet:
    """The sheet of one hide at the floor's moment, for a failure by its own name in the book (`slip`, `raw streak`).

    `tag` is the shop's own, or a code that the hide bears. Not `whole`: the first screen as it is, below it each matter
    in a line, sisters that fared alike together. `width` is how many places a line has, for the lives side by side. Raises NoSuchHide.
    """
    looked = _look(case_of(floor, tag, defect))
    return Sheet(
        title=_title(looked.case),
        sections=tuple(_sections(looked, whole=whole, width=width)),
        title_in_plain=True,
        record={**_record(looked), **_apart(looked.case)},
    )


def _look(case: Case) -> _Looked:
    whole = season(case.floor, case.defect)
    sisters = sisters_of(case)
    company = companies(case, sisters, whole.fates)
    findings = [*judge(case.floor), *waived_on(case.floor, case.life)]
    before, after = weak_points(case, findings, company, whole)
    ahead = _ahead(case, before, whole)
    return _Looked(
        case=case,
        season=whole,
        asked=(*_asked(case), _of_sisters(case, sisters)),
        sisters=tuple(sisters),
        company=tuple(company),
        before=tuple(before),
        after=tuple(after),
        next_ones=()
        if ahead is not None
        else tuple(next_in_line(case, sisters, company, whole, _broke_it_too(case, before, findings))),
        ahead=ahead,
    )


def _ahead(case: Case, before: Sequence[Weak], whole: Season) -> AtStep | None:
    """Of a failure that happens at a step: who is still to come to it; None where whoever shares a bath is next."""
    if case.sign is not None:
        sort, of = its_step(before, case.defect)
        names = names_of_step(case.life.process, sort) or [ASKED.get(sort, sort)]
    elif whole.step is not None:
        sort, of, names = whole.step.sort, case.defect, [whole.step.name]
    else:
        return None
    return still_to_come(case, sort, listed(names, "or"), APT[of].care) if sort else None


def _broke_it_too(case: Case, before: Sequence[Weak], findings: Sequence[Finding]) -> dict[HideLife, str]:
    """Who broke the limit to which the sheet points first, if it is one of skins and not of a bath; each skin with its name."""
    first = likeliest(before, case.defect)
    if case.sign is None or first is None or first.company or first.rule is None:
        return {}
    return {
        life: finding.name
        for finding in findings
        if finding.name == first.name and all(tag in case.floor.hides for tag in finding.tags)
        for tag in finding.tags
        for life in case.floor.hides[tag]
        if is_about(finding, life, case.floor)
    }


def _asked(case: Case) -> tuple[Answered, ...]:
    return (
        place_on_it(case),
        kill_to_door(case),
        at_the_door(case),
        raw_in_the_shop(case),
        frost(case),
        fleshed_and_turned(case),
        salted(case),
        *baths_asked(case),
    )


def _of_sisters(case: Case, sisters: Sequence[Sister]) -> Answered:
    hit = sum(one.slipped for one in sisters)
    if not sisters:
        return Answered(asked="sisters", answer="no other hide in the book shares anything with it", recorded=False)
    return Answered(
        asked="sisters",
        answer=f"of {counted(len(sisters), 'hide')} that share something with it {hit or 'none'} {verb(case.defect)}; see below",
    )


def _title(case: Case) -> str:
    left_out = f", {unread_said(case.floor.book)} not understood" if case.floor.book.unread else ""
    looked = f"(at {now_words(case.at, case.clock).partition(' ')[2]}{left_out})"
    why = f": {case.life.ended.remark}" if case.life.ended is not None and case.life.ended.remark else ""
    name = name_of(case.floor, case.life)
    if case.sign is None and refused_at_the_door(case.life):
        return f"{name} was refused at the door{why} {looked}"
    if case.sign is None and why:
        return f"{name} has no {case.defect} written, {case.life.ended_as}{why} {looked}"
    if case.sign is None:
        return f"{name} has no {case.defect} written {looked}"
    words = seen_words(case.sign)
    return f"{name} {verb(case.defect)}{f': {words}' if words else ''}, {case.said(case.sign.when)} {looked}"


def _sections(looked: _Looked, *, whole: bool, width: int) -> list[Section]:
    case = looked.case
    following = next_section(case, looked.next_ones) if looked.ahead is None else at_step_section(case, looked.ahead)
    compared = looked.season.by_name
    missing = any(not one.recorded for one in looked.asked)
    first = in_short(
        case,
        looked.before,
        looked.sisters,
        looked.season,
        nobody=_nobody(looked) if following is None else "",
        missing=missing,
    )
    bald = not_always_slip(case)
    found = [first]
    found += [bald] if bald is not None and case.defect == "bald spot" else []
    found += [following] if following is not None else []
    found += _unread(case)
    found += [Section(heading="The hide", rows=tuple(head(case)))]
    if case.sign is not None:
        heading = "Weak points, the earliest first: it shows late, and the cause is nearly always earlier"
        apt = [one for one in looked.before if is_apt(one, case.defect)]
        found.append(Section(heading=heading, rows=tuple(one.row() for one in apt) or (none_found(),)))
        if len(apt) < len(looked.before):
            other = tuple(one.row() for one in looked.before if one not in apt)
            found.append(Section(heading="Weak before it too, though seldom what it comes from", rows=other))
        if looked.after:
            found.append(Section(heading="Broken since the first sign", rows=tuple(one.row() for one in looked.after)))
        found.append(asked_section(looked.asked, whole=whole))
    found += in_company(case, looked.company, compared)
    found += sister_rows(case, looked.sisters, whole=whole)
    shown = [one.life for one in side_by_side_with(case, looked.sisters, whole=whole)]
    last = (
        side_by_side(case, shown, width=width) if shown else None,
        whom_to_tell(case, looked.next_ones),
        bald if case.defect == "slip" else None,
        usually_from(case) if whole else None,
    )
    found += [section for section in last if section is not None]
    if not whole:
        found.append(Section(heading="More", rows=(_more(case),), in_plain=()))
    return found


def _nobody(looked: _Looked) -> str:
    if looked.ahead is not None:
        return nobody_said(looked.ahead)
    return "nobody who is still here shares with it what tells against them"


def _more(case: Case) -> Row:
    text = f"`{asking(case.life.tag, case.defect)} --all` lays out every reading and gap with its line in the book, and each sister by itself"
    return Row(text=text)


def _unread(case: Case) -> list[Section]:
    """Lines that name the hide and could not be read: what they say may be the very thing that is missing below."""
    about = [one for one in case.floor.book.unread if case.life.tag in one.tags]
    rows = tuple(
        Row(
            text=f"{one.place}: {one.message}",
            quote=Quote(text=one.text, column=one.place.column) if one.text else None,
        )
        for one in about
    )
    return [Section(heading=f"Not understood, and about {case.life.tag}", rows=rows, at_margin=True)] if rows else []


def _record(looked: _Looked) -> dict[str, object]:
    case = looked.case
    life, sign, clock = case.life, case.sign, case.clock
    first = None
    if sign is not None:
        first = {
            "when": utc_stamp(sign.when.lo, clock),
            "when_local": local_stamp(sign.when.lo, clock),
            "timed": sign.when.timed,
            "where": sign.fact.where or None,
            "size": None if sign.fact.size is None else str(sign.fact.size),
            "degree": sign.fact.degree or None,
            "file": sign.entry.at.file,
            "line": sign.entry.at.line,
        }
    raw = case.raw
    parts: dict[str, object] = {
        "tag": life.tag,
        "defect": case.defect,
        "kind": life.kind or None,
        "owner": life.payer or None,
        "process": None if life.process is None else life.process.name,
        "first_sign": first,
        "at_door": [seen_words(one) for one in case.at_door],
        "raw_at_first_sign": None
        if raw is None
        else {
            "shop_seconds": list(raw.shop),
            "weighted_seconds": None if raw.weighted is None else list(raw.weighted),
            "door_seconds": None if raw.door is None else list(raw.door),
        },
        "weak_points": [{**one.record(clock), "apt": is_apt(one, case.defect)} for one in looked.before]
        if sign is not None
        else [],
        "broken_since": [one.record(clock) for one in looked.after] if sign is not None else [],
        "asked": [one.record() for one in looked.asked],
        "met_with": [one.record(case.floor) for one in looked.company],
        "sisters": list(sisters_records(case, looked.sisters)),
        "next": list(
            next_records(case, looked.next_ones) if looked.ahead is None else at_step_records(case, looked.ahead)
        ),
    }
    first_look = None if sign is None else likeliest(looked.before, case.defect)
    return {
        **record_of(case.floor, parts),
        "look_first": None if first_look is None else first_look.record(clock),
    }


def _apart(case: Case) -> dict[str, object]:
    """When this skin came, and which other skins bear its tag."""
    others = [one for one in of_the_tag(case.floor, case.life) if one is not case.life]
    return {
        **records_of(case.floor, [case.life])[0],
        "other_skins_of_the_tag": [
            {**record, "state": state_of(one) if one.here else one.ended_as}
            for one, record in zip(others, records_of(case.floor, others), strict=True)
        ],
    }
