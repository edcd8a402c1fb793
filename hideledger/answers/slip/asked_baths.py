"""What is asked of a skin from its drying to what came after the tan: every bath it lay in, every reading, and the gaps between.

The order is that in which an investigator asks (common practice, no source). Steps are known by the shop's own words.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hideledger.answers.saying import counted, length_said
from hideledger.answers.slip.outcomes import place_of_step
from hideledger.answers.slip.question import NO_SUCH_STEP, NOT_RECORDED, NOT_SO_FAR, Answered, silent
from hideledger.answers.slip.readings import amount_said, bath_lines, read_in_short, stay_end
from hideledger.answers.slip.sign import Case, by_whom
from hideledger.model.entry import Entry
from hideledger.model.moments import MINUTE
from hideledger.model.process import Step
from hideledger.rules.spans import elapsed
from hideledger.rules.words import at_where, listed
from hideledger.shopfloor.doings import (
    AFTER,
    DRIED,
    NEUTRALISED,
    OTHER,
    PICKLE,
    SHAVED,
    SOAKED,
    TAN,
    TURNED,
    WASHED,
    Done,
    sort_of,
    sort_of_bath,
    sort_of_name,
    steps_of,
    taken_with,
)
from hideledger.shopfloor.life import Stay

_SILENT = {
    DRIED: "days, warmth and moving air",
    SOAKED: "hours, warmth, salt, and whether the water was changed",
    WASHED: "which soap, and for how many minutes",
    NEUTRALISED: "with what, how much of it, minutes, and the pH after",
    TAN: "pH, time and warmth",
    AFTER: "how long it was wet in a bag, and how cold",
}
ASKED = {
    DRIED: "dried",
    SOAKED: "soaked",
    WASHED: "washed",
    PICKLE: "pickle",
    NEUTRALISED: "neutralised",
    TAN: "tan",
    AFTER: "after the tan",
    OTHER: "other steps",
}


def baths_asked(case: Case) -> Iterator[Answered]:
    """From drying to what came after the tan, in this order; steps that the shop's words do not place come last."""
    for sort in (DRIED, SOAKED, WASHED):
        yield _plain(case, sort)
    yield _pickled(case)
    yield _plain(case, NEUTRALISED)
    yield _plain(case, TAN)
    yield _plain(case, AFTER)
    others = [one for one in _done(case, OTHER) if not one.mark.moved]
    if others:
        yield Answered(
            asked=ASKED[OTHER],
            answer="by the shop's own names",
            lines=tuple(line for one in others for line in _told(case, one)),
            entries=tuple(one.mark.entry for one in others),
        )


def _done(case: Case, sort: str) -> list[Done]:
    return [one for one in steps_of(case.life) if one.sort == sort and case.before(one.mark.when)]


def _plain(case: Case, sort: str) -> Answered:
    every = _done(case, sort)
    done = [one for one in every if not one.mark.skipped]
    lines = [line for one in done for line in _told(case, one)]
    entries: list[Entry] = [one.mark.entry for one in done]
    if sort == AFTER:
        for line, entry in _rests_after_tan(case):
            lines.append(("", line))
            entries.append(entry)
    if lines:
        return Answered(asked=ASKED[sort], answer=_how_often(done, sort), lines=tuple(lines), entries=tuple(entries))
    left_out = next((one.mark.entry for one in every if one.mark.skipped), None)
    if left_out is not None:
        why = f": {left_out.remark}" if left_out.remark else ""
        return Answered(asked=ASKED[sort], answer=f"left out on purpose{why}", entries=(left_out,))
    if sort == AFTER and not _done(case, TAN):
        return Answered(asked=ASKED[sort], answer="it had not come to the tan yet")
    if sort == AFTER and _still_in_the_tan(case):
        return Answered(asked=ASKED[sort], answer="it was still in the tan")
    cannot = cannot_apply(case, sort)
    if cannot:
        return Answered(asked=ASKED[sort], answer=cannot)
    return silent(ASKED[sort], _SILENT[sort])


def _still_in_the_tan(case: Case) -> bool:
    """Whether its last tan was not over when the first sign was seen."""
    stay = _done(case, TAN)[-1].stay
    return stay is not None and (stay.end is None or stay.end.lo >= case.until)


def _how_often(done: Sequence[Done], sort: str) -> str:
    names = list(dict.fromkeys(one.name for one in done))
    if not names:
        return "at rest"
    if sort in (DRIED, SOAKED, WASHED) and len(done) > 1:
        return f"{listed(names)}, {counted(len(done), 'time')}"
    return listed(names)


def cannot_apply(case: Case, sort: str) -> str:
    """Why nothing could be written of a sort of step: its process has none, or it had not come so far; else nothing."""
    process = case.life.process
    if process is None or sort == AFTER:
        return ""
    places = [number for number, step in enumerate(process.steps) if _is_of(step, sort)]
    if not places:
        return NO_SUCH_STEP
    marks = [
        mark for mark in case.life.marks if mark.line is not None and not mark.elsewhere and case.before(mark.when)
    ]
    far = max((place_of_step(process, mark.line) for mark in marks), default=-1)
    # with nothing written beyond its arrival nobody can tell how far it had come
    return NOT_SO_FAR if 0 < far < min(places) else ""


def _is_of(step: Step, sort: str) -> bool:
    """Whether a line of the process is of that sort: by its name, or a turn in the drum whose name says nothing, which is a tan."""
    named = sort_of_name(step.name)
    return named == sort or (sort == TAN and (step.tanning or (step.sort == "run" and named in (OTHER, TURNED))))


def _told(case: Case, done: Done) -> Iterator[tuple[str, str]]:
    mark, stay = done.mark, done.stay
    if mark.elsewhere:
        yield "", f"{done.name} before it came"
        return
    where = (
        f" in {stay.where if stay is not None else mark.where}"
        if (stay.where if stay is not None else mark.where)
        else ""
    )
    said = f"{done.name}{where} {case.said(mark.when)}"
    if stay is not None:
        said += f", {length_said(*elapsed(case.life, stay.start, stay_end(case, stay), case.at))}"
        if stay.line is not None and stay.line.sort == "run":
            said += f", turned {length_said(*stay.turned)}"
    amounts = [amount_said(one) for one in taken_with(mark)]
    yield "", said + (f", {listed(amounts)}" if amounts else "") + by_whom(mark.entry)
    if stay is not None and stay.bath is not None:
        yield from bath_lines(case, stay, stay.bath, again=_lay_in_it_before(stay, case.life.stays))
    if done.sort in (NEUTRALISED, TAN, WASHED, SHAVED):
        yield from _own_readings(case, done)


def _lay_in_it_before(stay: Stay, stays: Sequence[Stay]) -> bool:
    """Whether an earlier one of these stays was in the same bath."""
    return any(one.bath is stay.bath for one in stays[: stays.index(stay)])


def _own_readings(case: Case, done: Done) -> Iterator[tuple[str, str]]:
    """Readings of the hide itself, and its cut, until the next step."""
    start = done.mark.when
    following = [one.when.lo for one in case.life.marks if one.when.lo > start.hi and not one.skipped]
    end = min(following, default=case.until)
    found = [
        one for one in case.life.taken if start.lo <= one.when.hi and one.when.lo <= end and hasattr(one.fact, "value")
    ]
    for taken in found:
        fact = taken.fact
        yield (
            "",
            f"{getattr(fact, 'value', '')}{' of the cut' if getattr(fact, 'how', '') == 'cut' else ''} {case.said(taken.when)}",
        )
    for test in case.life.tests:
        if "cut" in test.fact.test and start.lo <= test.when.hi and test.when.lo <= end and case.before(test.when):
            where = at_where(test.fact.where)
            yield "", f"{test.fact.test} {'ok' if test.fact.passed else 'fails'}{where} {case.said(test.when)}"
    in_bath = done.stay is not None and done.stay.bath is not None
    if done.sort == NEUTRALISED and not in_bath and not taken_with(done.mark):
        yield "", f"with what, and how much of it: {NOT_RECORDED}"
    if done.sort == NEUTRALISED and not found and not in_bath:
        yield "", f"pH after: {NOT_RECORDED}"


def _pickled(case: Case) -> Answered:
    """The first pH and salt, every reading and the gaps between, whether it was moved, how old and how used the bath was."""
    stays = _pickle_stays(case)
    if not stays:
        cannot = cannot_apply(case, PICKLE)
        if cannot:
            return Answered(asked="pickle", answer=cannot)
        return silent("pickle", "first pH and salt, every reading, stirred or not, warmth, the age of the bath")
    lines: list[tuple[str, str]] = []
    for stay in stays:
        title = stay.line.title if stay.line is not None else stay.name
        where = f" in {stay.where}" if stay.where else ""
        length = length_said(*elapsed(case.life, stay.start, stay_end(case, stay), case.at))
        lines.append(("", f"{title}{where} from {case.said(stay.start)}, {length}"))
        if stay.bath is None:
            lines.append(("", f"which bath: {NOT_RECORDED}, so nothing is known of its readings"))
        else:
            lines += bath_lines(case, stay, stay.bath, again=_lay_in_it_before(stay, stays))
    names = listed(list(dict.fromkeys(stay.where or "a bath without a tag" for stay in stays)))
    total = sum(max(0, stay_end(case, stay).hi - stay.start.lo) for stay in stays) >= MINUTE
    read = any(stay.bath is not None and stay.bath.readings for stay in stays)
    return Answered(
        asked="pickle",
        answer=f"in {names}" + ("" if total else ", for no time as it is written"),
        lines=tuple(lines),
        short="; ".join(_stay_in_short(case, stay) for stay in stays) if total else "",
        recorded=read,
        entries=tuple(stay.mark.entry for stay in stays),
    )


def _stay_in_short(case: Case, stay: Stay) -> str:
    length = length_said(*elapsed(case.life, stay.start, stay_end(case, stay), case.at))
    where = f"in {stay.where} " if stay.where else ""
    return f"{where}from {case.said(stay.start)}, {length}, {read_in_short(case, stay)}"


def _pickle_stays(case: Case) -> list[Stay]:
    """Its time in acid: by the step's name, or by what the bath was made of."""
    found = []
    for stay in case.life.stays:
        if not case.before(stay.start):
            continue
        sort = sort_of(stay.mark, stay, case.life)
        if sort == PICKLE or (sort == OTHER and stay.bath is not None and sort_of_bath(stay.bath) == PICKLE):
            found.append(stay)
    return found


def _rests_after_tan(case: Case) -> Iterator[tuple[str, Entry]]:
    tan = next((one.mark.when for one in steps_of(case.life) if one.sort == TAN and not one.mark.skipped), None)
    for pause in case.life.pauses:
        if tan is not None and pause.start.lo >= tan.lo and case.before(pause.start):
            yield (
                f"{pause.name}{f' in {pause.place}' if pause.place else ''} from {case.said(pause.start)}",
                pause.entry,
            )
