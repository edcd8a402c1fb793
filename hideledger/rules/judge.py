"""Judges a floor: runs every rule, drops what was waived, tells one cause as one finding, puts first what burns."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from hideledger.model.moments import spoken
from hideledger.rules.all_rules import ALL_RULES
from hideledger.rules.answering import answered, held_back, unread_by_tag, waivers, with_unread
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon, look
from hideledger.rules.once import once
from hideledger.rules.telling import TAGS
from hideledger.rules.words import in_order, stamp, tag_order, who
from hideledger.shopfloor.floor import Floor

PRESSING = {"now": 0, "tonight": 1, "record": 2}
_ENDLESS = 2**62
_MOST_MORE = 6
_MISDATED = frozenset({"dated ahead", "dated back"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Judging:
    """What is told, most pressing first, and what was held back because a line about it could not be read."""

    findings: tuple[Finding, ...]
    held: tuple[Finding, ...]


def judge(floor: Floor, *, ahead: int | None = None) -> list[Finding]:
    """All findings about a floor, most pressing first. The same floor gives the same list.

    `ahead`: how many seconds `due` looks ahead, instead of a day and on to the next opening.
    """
    return list(judging(floor, ahead=ahead).findings)


def judging(floor: Floor, *, ahead: int | None = None) -> Judging:
    """The same, with what was held back beside it."""
    horizon = look(floor, ahead)
    waived, unread = waivers(floor), unread_by_tag(floor)
    # What a misdated line seems to say about order and time is told once, as the wrong date.
    misdated = {id(oddity.entry) for oddity in floor.oddities if oddity.sort in _MISDATED}
    doubtful = _on_unread_ways(floor, horizon)
    told: list[tuple[int, Finding]] = []
    held: list[tuple[int, Finding]] = []
    for rank, rule in enumerate(ALL_RULES):
        for finding in rule.judge(floor, horizon):
            left = answered(finding, waived, floor)
            if left is None or (left.when == "record" and id(left.entry) in misdated):
                continue
            if any(tag in doubtful for tag in left.tags):
                left = replace(left, may=True)
            if held_back(left, unread, floor, horizon.clock):
                held.append((rank, left))
            else:
                told.append((rank, with_unread(left, unread, horizon.clock)))
    return Judging(findings=_told_together(once(told), floor, horizon), held=_told_together(held, floor, horizon))


def _on_unread_ways(floor: Floor, horizon: Horizon) -> frozenset[str]:
    """Hides with a step that a line of the shop file may have told of, could it be read: all said of them only may be."""
    if floor.book.shop.whole:
        return frozenset()
    return frozenset(
        life.tag for life in horizon.lives if any(mark.fault == "not of this process" for mark in life.marks)
    )


def _told_together(found: Iterable[tuple[int, Finding]], floor: Floor, horizon: Horizon) -> tuple[Finding, ...]:
    causes: dict[object, list[tuple[int, Finding]]] = {}
    for number, (rank, finding) in enumerate(found):
        alone = finding.cause or f"alone {number}"
        key = (finding.name, finding.when, finding.may, str(finding.rule), alone)
        causes.setdefault(key, []).append((rank, finding))
    merged = [
        (several[0][0], _as_one([finding for _, finding in several], floor, horizon)) for several in causes.values()
    ]
    merged.sort(key=lambda item: _order(*item))
    return tuple(finding for _, finding in merged)


def _order(rank: int, finding: Finding) -> tuple[object, ...]:
    """Now, tonight, record; what can hurt a person first; certain before possible; broken ones by the shortest limit, the others by the time left."""
    over = finding.over_s if finding.over_s is not None else -_ENDLESS
    limit = finding.limit_s if finding.limit_s is not None else _ENDLESS
    if finding.when == "tonight":
        urgency: tuple[int, ...] = (-over, limit)
    elif finding.when == "now":
        urgency = (limit, -over)
    else:
        urgency = (-(finding.since or 0),)  # the record: the latest first
    tags = tuple(tag_order(tag) for tag in finding.tags)
    place = ("", 0, 0) if finding.place is None else (finding.place.file, finding.place.line, finding.place.column)
    return (PRESSING[finding.when], not finding.hurts, finding.may, *urgency, rank, tags, place, finding.message)


def _as_one(several: list[Finding], floor: Floor, horizon: Horizon) -> Finding:
    """One finding with all the hides behind it: the worst of them speaks, the others say since when."""
    several.sort(key=_worst_first)
    worst = several[0]
    hides = in_order(tag for finding in several for tag in finding.tags if tag in floor.hides)
    others = in_order(tag for finding in several for tag in finding.tags if tag not in floor.hides)
    more = list(worst.more)
    for other in several[1:]:
        if other.since != worst.since and other.entry is not worst.entry and other.place is not None:
            more.append(_also(other, floor, horizon))
        more += other.more
    # What is to be done now can only be done to those still here; in the record a late line names the others too.
    named = hides if worst.when == "record" else tuple(t for t in hides if floor.hides[t][-1].here) or hides
    kept = list(dict.fromkeys(more))
    if len(kept) > _MOST_MORE:
        kept = [*kept[: _MOST_MORE - 1], f"and {len(kept) - _MOST_MORE + 1} more"]
    return replace(
        worst,
        tags=(*hides, *others),
        do=worst.do.replace(TAGS, who(named or others)),
        more=tuple(kept),
        rings=any(finding.rings for finding in several),
        hurts=any(finding.hurts for finding in several),
        ended=all(finding.ended for finding in several),
    )


def _worst_first(finding: Finding) -> tuple[object, ...]:
    over = finding.over_s if finding.over_s is not None else -_ENDLESS
    return (-over, finding.since if finding.since is not None else 0, tuple(tag_order(tag) for tag in finding.tags))


def _also(other: Finding, floor: Floor, horizon: Horizon) -> str:
    names = [tag for tag in other.tags if tag in floor.hides] or list(other.tags)
    head = who(names)
    if other.over_s is not None and other.over_s > 0:
        head += f" {spoken(other.over_s)} over"
    elif other.since is not None:
        by = "by" if other.when == "tonight" else "on"
        head += f" {by} {stamp(horizon.clock, other.since, horizon.at)}"
    return f"{head} ({other.place.short if other.place is not None else ''})"
