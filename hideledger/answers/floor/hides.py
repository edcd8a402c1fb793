"""Where every skin is that lies in no bath, what may go on, and what is held back."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from hideledger.answers.saying import point, when_words
from hideledger.answers.sheet import Row, Section
from hideledger.answers.standing import (
    had_its_least_time,
    is_finished,
    next_steps,
    spot_of,
    state_of,
    state_since,
    time_held,
)
from hideledger.answers.wording import words_of
from hideledger.model.moments import Clock, spoken
from hideledger.rules.finding import Finding
from hideledger.rules.raw import pulled_since
from hideledger.rules.words import at_where, in_order
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife

_HURRY = (
    "overdue",
    "due",
    "stayed too long",
    "raw too long",
    "drum standing loaded",
    "slip nearby",
    "hair comes loose",
)


def by_state(floor: Floor) -> Section:
    """Freezer and other places first, then the steps on the floor: who, and since when the first of them."""
    groups: dict[tuple[str, str], list[HideLife]] = {}
    for life in floor.here():
        if life.declared and (life.stay is None or life.stay.bath is None or life.resting is not None):
            groups.setdefault((spot_of(life), state_of(life)), []).append(life)
    resting = [key for key, lives in groups.items() if any(life.resting is not None for life in lives)]
    order = sorted(resting) + sorted((key for key in groups if key not in resting), key=lambda key: _first(groups[key]))
    return Section(heading="Freezer and floor", rows=tuple(_group(floor, key, groups[key]) for key in order))


def _group(floor: Floor, key: tuple[str, str], lives: Sequence[HideLife]) -> Row:
    spot, state = key
    boxed = "".join(f" ({life.tag} holds {life.count})" for life in lives if life.box)
    oldest = min((state_since(life) for life in lives), key=lambda when: when.lo)
    since = when_words(oldest, floor.book.clock, floor.at)
    first = "since" if len(lives) == 1 else "the first since"
    text = f"{len(lives)}: {' '.join(tags_of(lives))}{boxed}, {first} {since}"
    return Row(head=f"{state} in {spot}" if spot else state, text=text)


def _first(lives: Iterable[HideLife]) -> int:
    return min(state_since(life).lo for life in lives)


def ready(floor: Floor, findings: Sequence[Finding]) -> Section:
    """Hides that have had the least time of their step and may go on, unless one has to hurry with them."""
    clock = floor.book.clock
    ringing = [finding for finding in findings if finding.rings and finding.when in ("now", "tonight")]
    hurried = {tag for finding in ringing if finding.name in _HURRY for tag in finding.tags}
    groups: dict[tuple[str, str, str], list[HideLife]] = {}
    for life in floor.here():
        if life.tag in hurried or _slips(life) or is_finished(life, clock, floor.at):
            continue
        if not had_its_least_time(life, clock, floor.at):
            continue
        following = ", or ".join(step.title for step in next_steps(life) if step.name != "out") or "out"
        where = life.stay.where if life.stay is not None and life.stay.bath is not None else spot_of(life)
        groups.setdefault((state_of(life), where, following), []).append(life)
    rows = []
    for (state, where, following), lives in groups.items():
        place = f" in {where}" if where else ""
        text = f"{' '.join(tags_of(lives))}: {_held(lives, clock, floor.at)}{place}; next {following}"
        rows.append(Row(head=state, text=text))
    return Section(heading="Ready, no hurry", rows=tuple(rows))


def _slips(life: HideLife) -> bool:
    """Whether its hair slipped here and has not held in a pull test since: such a skin does not simply go on."""
    seen = [defect.when for defect in life.defects if defect.fact.defect == "slip" and not defect.at_door]
    return bool(seen) and not pulled_since(life, max(when.lo for when in seen))


def _held(lives: Sequence[HideLife], clock: Clock, at: int) -> str:
    """`3 d 2 h`, `45 min turned`, and from the shortest to the longest where hides differ."""
    held = [time_held(life, clock, at) for life in lives]
    least, most = spoken(min(held)[0]), spoken(max(held)[0])
    return f"{least if least == most else f'{least} to {most}'}{' turned' if held[0][1] else ''}"


def held_back(floor: Floor) -> Section:
    """Hides that do not simply go on: to keep apart, a test that failed, a defect seen here, no process."""
    groups: dict[str, list[HideLife]] = {}
    for life in floor.here():
        if not life.declared:
            continue
        reasons = [*_apart(life), *_failed(life, floor), *_seen(life, floor)]
        if life.process is None and not life.box:
            reasons.append("no process is written for it, so nothing is judged")
        if reasons:
            groups.setdefault("; ".join(reasons), []).append(life)
    rows = tuple(Row(head=" ".join(tags_of(lives)), text=reason) for reason, lives in groups.items())
    return Section(heading="Held back", rows=rows)


def _apart(life: HideLife) -> list[str]:
    if life.apart is None:
        return []
    why = life.apart[1].remark
    return [f"keep apart: {why}" if why else "keep apart"]


def _failed(life: HideLife, floor: Floor) -> list[str]:
    last = {test.fact.test: test for test in life.tests}
    said = []
    for name, test in last.items():
        if not test.fact.passed:
            where = at_where(test.fact.where)
            said.append(f"{name} fails{where}, {when_words(test.when, floor.book.clock, floor.at)}")
    return said


def _seen(life: HideLife, floor: Floor) -> list[str]:
    said = []
    for defect in life.defects:
        if defect.at_door:
            continue
        size = f"{defect.fact.size}" if defect.fact.size is not None else defect.fact.degree
        words = " ".join(part for part in (defect.fact.defect, defect.fact.where, size) if part)
        said.append(f"{words}, {when_words(defect.when, floor.book.clock, floor.at)}")
    return said


def while_away(floor: Floor, findings: Sequence[Finding], left: int, opened: int) -> Section:
    """What happened between closing and opening: limits that ran out, drums left on, lines written."""
    clock = floor.book.clock
    told = [
        (finding.since, f"{finding.name}: {' '.join(finding.tags)}")
        for finding in findings
        if finding.when == "now" and finding.since is not None and left < finding.since <= opened
    ]
    told += [
        (turn.start.lo, f"{bath.tag} was on when the shop was left")
        for bath in floor.standing()
        for turn in bath.turns
        if turn.start.lo <= left and (turn.end is None or turn.end.hi > left)
    ]
    told += [
        (entry.when.lo, f"written: {words_of(entry)}")
        for entry in floor.entries
        if entry.when.timed and left < entry.when.lo <= opened
    ]
    rows = [Row(head=point(instant, clock, floor.at), text=text) for instant, text in sorted(told)]
    return Section(heading="While nobody was here", rows=tuple(rows))


def tags_of(lives: Iterable[HideLife]) -> tuple[str, ...]:
    """Their tags in order."""
    return in_order(life.tag for life in lives)
