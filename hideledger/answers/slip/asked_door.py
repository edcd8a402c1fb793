"""What is asked of a skin up to its first bath: the place on it, the hours before the door, the door, raw hours, frost, knife and salt.

The order is that in which an investigator asks (common practice, no source). Missing answers are answers too.
"""

from __future__ import annotations

from hideledger.answers.saying import counted, length_said
from hideledger.answers.slip.causes import place_suggests
from hideledger.answers.slip.question import NOT_RECORDED, Answered, silent
from hideledger.answers.slip.raw_said import degrees_said, instant_as_when, longest_said, spans_of, weighed
from hideledger.answers.slip.readings import amount_said
from hideledger.answers.slip.sign import Case, by_whom, seen_words
from hideledger.model.entry import Entry
from hideledger.model.moments import MINUTE, spoken
from hideledger.rules.spans import elapsed, left_out, now_when
from hideledger.rules.words import at_where, listed
from hideledger.shopfloor.doings import FLESHED, PICKLE, SALT, TAN, TURNED, Done, sort_of_name, steps_of, taken_with
from hideledger.shopfloor.life import Pause
from hideledger.shopfloor.noted import Test
from hideledger.shopfloor.raw import SALTED_OR_DRIED

_UNTOLD = "whether it was gutted, dragged wet, in plastic or in the sun: ask whoever brought it"


def place_on_it(case: Case) -> Answered:
    """Where the hair came loose, and what that place suggests."""
    if case.sign is None:
        return Answered(asked="place on it", answer=f"no {case.defect} is written in the shop", recorded=False)
    seen = (case.sign, *case.later)
    places = list(dict.fromkeys(words for one in seen if (words := seen_words(one))))
    hints = list(
        dict.fromkeys(hint for one in seen if (hint := place_suggests(one.fact.where, one.fact.degree, case.defect)))
    )
    if not places:
        return silent("place on it", "where on the skin tells most of all; look again and write it")
    lines = tuple(("that place", hint) for hint in hints)
    entries = tuple(one.entry for one in seen)
    remarks = [entry.remark for entry in entries if entry.remark]
    lines += tuple(("remark", remark) for remark in dict.fromkeys(remarks))
    return Answered(asked="place on it", answer="; ".join(places), lines=lines, entries=entries)


def kill_to_door(case: Case) -> Answered:
    """Hours from the kill to the door, and how warm it hung: most losses are decided there, and known only by asking."""
    life = case.life
    raw = case.raw
    lines: list[tuple[str, str]] = []
    if life.tanned_before:
        return Answered(
            asked="kill to door", answer="leather when it came: its raw hours were elsewhere", entries=(life.arrived,)
        )
    if life.kill_when is None or raw is None or raw.door is None:
        known = (
            f"killed at {life.killed[0].where}; the time is {NOT_RECORDED}"
            if life.killed and life.killed[0].where
            else ""
        )
        answer = known or f"{NOT_RECORDED}; how long it was raw before the door nobody can tell from the book"
        known_from: tuple[Entry, ...] = (life.killed[1],) if life.killed and known else ()
        return Answered(asked="kill to door", answer=answer, lines=(("", _UNTOLD),), recorded=False, entries=known_from)
    least, most = raw.door
    cured = life.condition[0].condition if life.condition is not None else ""
    since = f"killed {case.said(life.kill_when)}"
    if cured in SALTED_OR_DRIED or cured == "frozen":
        answer = f"{since}, {spoken(most)} at most before the door, and came {cured}: since when, the book does not say"
    else:
        answer = f"{since}, {length_said(least, most)} before the door"
    if life.hung is not None:
        answer += f", hung at {life.hung[0].temperature}"
        if raw.door_weighted is not None and raw.reference_c is not None:
            weighted = length_said(*raw.door_weighted)
            lines.append(
                ("", f"at {degrees_said(case, raw.reference_c)} that counts as {weighted}, apart from the shop's hours")
            )
    else:
        lines.append(("", f"how warm it hung: {NOT_RECORDED}"))
    lines.append(("", _UNTOLD))
    entries = tuple(told[1] for told in (life.killed, life.hung) if told is not None)
    return Answered(asked="kill to door", answer=answer, lines=tuple(lines), entries=entries)


def at_the_door(case: Case) -> Answered:
    """The condition it came in, and whether its hair was pulled there."""
    life = case.life
    parts = [life.condition[0].condition if life.condition is not None else f"condition {NOT_RECORDED}"]
    entries: list[Entry] = [life.arrived]
    if life.condition is not None:
        entries.append(life.condition[1])
    first = next((done.mark.when for done in steps_of(life) if not done.mark.skipped and not done.mark.elsewhere), None)
    pulls = [test for test in life.tests if test.own and "pull" in test.fact.test and case.before(test.when)]
    door = [test for test in pulls if first is None or test.when.lo <= first.hi]
    parts += [_pulled(case, test) for test in door[:2]]
    if not door:
        parts.append(f"pull test {NOT_RECORDED}" + (f"; the first is {_pulled(case, pulls[0])}" if pulls else ""))
    entries += [test.entry for test in (door[:2] or pulls[:1])]
    noted = [one for one in life.defects if one.at_door]
    parts += [f"{' '.join(filter(None, (one.fact.defect, seen_words(one))))} noted at the door" for one in noted]
    lines: tuple[tuple[str, str], ...] = (("remark", life.arrived.remark),) if life.arrived.remark else ()
    return Answered(
        asked="at the door",
        answer=", ".join(parts),
        lines=lines,
        recorded=bool(door) and life.condition is not None,
        entries=tuple(entries),
    )


def _pulled(case: Case, test: Test) -> str:
    how = "ok" if test.fact.passed else "fails"
    where = at_where(test.fact.where)
    return f"{test.fact.test} {how}{where} {case.said(test.when)}"


def raw_in_the_shop(case: Case) -> Answered:
    """Every raw hour in the shop up to the first sign, across frost and thaw, and what the warmth makes of them."""
    raw, life = case.raw, case.life
    if raw is None or not life.declared:
        return silent("raw in the shop", "its arrival is not in the book")
    least, most = raw.shop
    if most < MINUTE:
        answer = "no time, as it is written"
    else:
        answer = f"{length_said(least, most)}{weighed(case, raw)}"
    limit = life.process.raw_limit if life.process is not None else None
    if limit is not None:
        warm = f" at {limit.at}" if limit.at is not None else ""
        answer += f"; {limit.length}{warm} at most by its process ({limit.place.short})"
    lines = tuple(
        ("", f"{spoken(end - start)} at {degrees_said(case, celsius)} from {case.said(instant_as_when(start))}")
        for start, end, celsius in spans_of(raw)
    )
    if raw.spans and any(celsius is None for _, _, celsius in raw.spans):
        lines = (
            *lines,
            ("", f"how warm it lay: {NOT_RECORDED} for {spoken(sum(b - a for a, b, c in raw.spans if c is None))}"),
        )
    entries = (life.arrived,) if raw.stopped_by is None else (life.arrived, raw.stopped_by)
    return Answered(
        asked="raw in the shop", answer=answer, lines=lines, entries=entries, short=f"{answer}{longest_said(case, raw)}"
    )


def frost(case: Case) -> Answered:
    """How often it froze and thawed, and whether it was wet salted before."""
    life = case.life
    pauses = [one for one in life.pauses if case.before(one.start)]
    if not pauses:
        came = life.condition is not None and life.condition[0].condition == "frozen"
        return (
            silent("freezing", "it came in frozen; the thaw is not written")
            if came
            else Answered(asked="freezing", answer="never, as it is written")
        )
    thaws = sum(one.end is not None and one.end.lo <= case.until for one in pauses)
    answer = f"{counted(len(pauses), 'freezing')}, {counted(thaws, 'thaw') if thaws else 'no thaw'}"
    if thaws > 1:
        answer += "; each one costs the skin something, and the raw hours between them add up"
    lines = tuple(("", _frozen(case, one)) for one in pauses)
    entries = [entry for one in pauses for entry in (one.entry, one.end_entry) if entry is not None]
    return Answered(asked="freezing", answer=answer, lines=lines, entries=tuple(entries))


def _frozen(case: Case, pause: Pause) -> str:
    life = case.life
    where = f" in {pause.place}" if pause.place else ""
    said = f"{pause.name}{where} {'when it came' if pause.from_door else 'from ' + case.said(pause.start)}"
    end = pause.end
    if end is not None:
        said += f" to {case.said(end)}, {length_said(max(0, end.lo - pause.start.hi), end.hi - pause.start.lo)}"
    before = (
        []
        if pause.from_door
        else [done for done in steps_of(life) if not done.mark.skipped and done.mark.when.lo <= pause.start.lo]
    )
    cured = life.condition[0].condition if life.condition is not None else ""
    if any(done.sort == TAN for done in before):
        return f"{said}; after the tan, where frost harms nothing"
    if (before and before[-1].sort == SALT) or (not before and cured == "wet salted"):
        return f"{said}; wet salted before, and wet salt keeps a skin from freezing through"
    if any(done.sort in (SALT, PICKLE) for done in before):
        return f"{said}; salt or acid had come to it before"
    return f"{said}; raw, not salted before"


def fleshed_and_turned(case: Case) -> Answered:
    """Whether meat, fat, ears and lips were off or open before the salt, by whom and how long after the door."""
    done = [
        one
        for one in steps_of(case.life)
        if one.sort in (FLESHED, TURNED) and not one.mark.skipped and case.before(one.mark.when)
    ]
    if not any(one.sort == FLESHED for one in done):
        asked = silent("fleshed, turned", "fat and meat hide raw skin from salt and acid")
        done_said = [_done(case, one) for one in done]
        return (
            asked
            if not done
            else Answered(
                asked="fleshed, turned",
                answer=f"fleshing {NOT_RECORDED}; {'; '.join(done_said)}",
                recorded=False,
                entries=tuple(one.mark.entry for one in done),
            )
        )
    said = [_done(case, one) for one in done]
    turned = any(one.sort == TURNED for one in done)
    answer = "; ".join(said) + ("" if turned else f"; ears and lips turned: {NOT_RECORDED}")
    return Answered(
        asked="fleshed, turned", answer=answer, recorded=turned, entries=tuple(one.mark.entry for one in done)
    )


def _done(case: Case, done: Done) -> str:
    mark = done.mark
    if mark.elsewhere:
        return f"{done.name} before it came"
    least, most = elapsed(case.life, case.life.arrived_when, mark.when, case.at)
    rests = left_out(case.life, case.life.arrived_when, mark.when, case.at)
    after = f", {length_said(least, most)} after it came{rests}" if case.life.declared and most >= MINUTE else ""
    return f"{done.name} {case.said(mark.when)}{after}{by_whom(mark.entry)}"


def salted(case: Case) -> Answered:
    """How often, how much salt of which lot, and for how long; a route without salt is a whole route."""
    life = case.life
    every = [one for one in steps_of(life) if one.sort == SALT]
    done = [one for one in every if not one.mark.skipped and case.before(one.mark.when)]
    cured = (
        life.condition[0].condition if life.condition is not None and "salted" in life.condition[0].condition else ""
    )
    left_out = next((one for one in every if one.mark.skipped), None)
    came = f"came {cured}; " if cured else ""
    if not done:
        if left_out is not None:
            why = left_out.mark.entry.remark
            return Answered(
                asked="salt",
                answer=f"{came}left out on purpose{f': {why}' if why else ''}",
                entries=(left_out.mark.entry,),
            )
        if cured and life.condition is not None:
            return Answered(asked="salt", answer=f"came {cured}, not salted here", entries=(life.condition[1],))
        if life.process is not None and not any(sort_of_name(step.name) == SALT for step in life.process.steps):
            return Answered(asked="salt", answer="no step of its process; a way without salt is a whole way")
        return silent("salt", "" if life.process is None else "a step of its process")
    lines = tuple(("", _salting(case, one)) for one in done)
    used = any(taken_with(one.mark) for one in done)
    answer = f"{came}salted {'once' if len(done) == 1 else f'{len(done)} times'}{'' if used else f'; how much salt: {NOT_RECORDED}'}"
    return Answered(
        asked="salt", answer=answer, lines=lines, recorded=used, entries=tuple(one.mark.entry for one in done)
    )


def _salting(case: Case, done: Done) -> str:
    mark, stay = done.mark, done.stay
    if mark.elsewhere:
        return f"{done.name} before it came"
    said = f"{done.name} {case.said(mark.when)}"
    amounts = [amount_said(one) for one in taken_with(mark)]
    if amounts:
        tags = len(mark.entry.tags)
        said += f", {listed(amounts)}" + (f" on {tags} skins together" if tags > 1 else "")
    if stay is not None:
        end = stay.end if stay.end is not None else now_when(case.clock, case.at)
        said += f", for {length_said(*elapsed(case.life, stay.start, end, case.at))}"
    return said + by_whom(mark.entry)
