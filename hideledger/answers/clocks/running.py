"""Every clock that runs in the shop at one moment, gathered from the rules: hides alike together, the tightest first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from hideledger.answers.clocks.countdown import NEVER, Countdown
from hideledger.answers.saying import when_words
from hideledger.model.moments import HOUR, spoken
from hideledger.rules.answering import answered, unread_by_tag, waivers, with_unread
from hideledger.rules.bathwatch import reading_due, stir_due
from hideledger.rules.drum import drum_standing_loaded
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon, look
from hideledger.rules.raw import raw_clock_due, raw_too_long
from hideledger.rules.running import Running, move_on, running_limits
from hideledger.rules.spans import arrival_unread, current_spell, limit_falls, over_by, turned, turned_enough
from hideledger.rules.telling import TAGS, of_hide, twice_told
from hideledger.rules.words import in_order, who
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.text.place import Place

# How far a clock is looked for: the longest that a sheet for the day may have to name as the next.
_FAR = 400 * 24 * HOUR

_WATCHED = (raw_too_long, raw_clock_due, reading_due, stir_due, drum_standing_loaded)
_WHAT = {
    "raw too long": "raw",
    "due": "raw",
    "reading due": "to read",
    "stir due": "to stir",
    "drum standing loaded": "standing loaded",
}


def countdowns(floor: Floor) -> tuple[Countdown, ...]:
    """Every clock of a floor, hides alike together: first what is overdue, the shortest limit first, then what is nearest."""
    horizon = look(floor, ahead=_FAR)
    limits = list(_limits(floor, horizon))
    over = {(tag, one.what) for one in limits if one.over_s for tag in one.tags}
    readies = (one for one in _readies(horizon) if one.latest > floor.at or (one.tags[0], one.what) not in over)
    found = [*limits, *readies, *_watched(floor, horizon)]
    return tuple(sorted(_together(found), key=lambda one: _order(one, floor.at)))


def _order(one: Countdown, at: int) -> tuple[object, ...]:
    over = one.is_over(at)
    return (not over, one.limit_s if over else abs(one.left(at)), one.may, one.sort == "ready", one.whom, one.what)


def _limits(floor: Floor, horizon: Horizon) -> Iterator[Countdown]:
    """The longest times: of stays, runs, rests, and of what must follow within a time."""
    waived, unread = waivers(floor), unread_by_tag(floor)
    at, clock = horizon.at, horizon.clock
    for limit in running_limits(floor, horizon):
        over = _over(limit, horizon)
        if limit.standing and limit.over is None and not over:
            continue  # it rests: its clock neither ends nor moves
        names = ("overdue",) if over else ("due", "overdue")
        findings = [answered(_as_finding(limit, name, horizon), waived, floor) for name in names]
        if any(finding is None for finding in findings) or findings[0] is None:
            continue
        told = with_unread(findings[0], unread, clock)
        name, after = _name(limit)
        where = _where(limit)
        since = when_words(limit.start, clock, at)
        yield Countdown(
            sort="limit",
            keys=((limit.life.tag, f"limit {limit.life.tag} {name} {limit.start.lo}"),),
            tags=(limit.life.tag,),
            where=where,
            what=f"{name} in {where}" if where else name,
            text=f"{after}since {since}, {limit.limit} at most"
            + (_turned_said(limit) if limit.over is not None else ""),
            earliest=limit.earliest,
            latest=limit.latest,
            act_by=_act_by(limit.earliest, limit.start.lo, horizon),
            limit_s=limit.limit.about_seconds,
            looked=at,
            do=limit.do,
            stands=limit.standing,
            left_s=max(0, limit.earliest - at),
            over_s=over,
            may=limit.optional or bool(limit.unread) or limit.earliest < limit.latest >= at,
            place=limit.entry.at,
            rule=limit.rule,
            more=told.more,
        )


def _over(limit: Running, horizon: Horizon) -> int:
    """Seconds past a limit, for certain or maybe; 0 while it is still to come."""
    at = horizon.at
    if at <= limit.earliest:
        return 0
    certain = at > limit.latest
    if limit.over is not None:
        if limit.standing and not certain:
            return 0
        return max(1, limit.over[0] if certain else limit.over[1])
    fell = limit.latest if certain else limit.earliest
    return max(1, over_by(limit.life, fell, horizon.clock, at) if limit.rests else at - fell)


def _as_finding(limit: Running, name: str, horizon: Horizon) -> Finding:
    """The same limit as check would tell it, so that a waiver or a line not read counts here as it does there."""
    return of_hide(
        limit.life,
        name=name,
        when="now",
        message="",
        do=limit.do,
        entry=limit.entry,
        bath=limit.bath,
        since=limit.earliest,
        more=(*twice_told(horizon.clock, horizon.at, limit.start), *((limit.unread,) if limit.unread else ())),
        begun=limit.start.lo,
    )


def _name(limit: Running) -> tuple[str, str]:
    """What the clock is called (the step, the rest, or what is not done yet), and for the last what it counts from."""
    return limit.name, f"after {limit.after}, " if limit.after else ""


def _where(limit: Running) -> str:
    stay = limit.life.stay
    if limit.bath is not None:
        return limit.bath.tag
    return stay.where if stay is not None and limit.lies else ""


def _turned_said(limit: Running) -> str:
    least = turned(current_spell(limit.life))[0]
    return f", turned {spoken(least)}" if least else ", not turned yet"


def _act_by(end: int, begun: int, horizon: Horizon) -> int:
    """The closing before an end when nobody is there then; whoever began a clock after closing is there."""
    by = horizon.hours.act_by(end)
    return by if by > begun else end


def _readies(horizon: Horizon) -> Iterator[Countdown]:
    """The shortest times: those still to come, and those reached on this day."""
    at, clock = horizon.at, horizon.clock
    for life in horizon.here:
        spell = current_spell(life)
        line = spell[-1].line if spell else None
        limits = None if line is None else line.limits_for(life.kind)
        if line is None or limits is None or limits.least is None or life.resting is not None or arrival_unread(life):
            continue
        stay, start, wanted = spell[-1], spell[0].start, limits.least.about_seconds
        stands, left = False, 0
        if line.sort == "run":
            had, most = turned(spell)
            left = max(0, wanted - had)
            stands = not stay.turning_now and left > 0
            first, last = turned_enough(spell, wanted, at)
            earliest = at + max(0, wanted - most) if first is None else first
            ends = at + left if last is None else last
        else:
            earliest, ends = limit_falls(life, start, limits.least, clock, at)
        if ends < clock.day_start(clock.day_of(at)):
            continue
        where = stay.bath.tag if stay.bath is not None else stay.where
        yield Countdown(
            sort="ready",
            keys=((life.tag, f"ready {life.tag} {line.title} {start.lo}"),),
            tags=(life.tag,),
            where=where,
            what=f"{line.title} in {where}" if where else line.title,
            text=f"since {when_words(start, clock, at)}, {limits.least} at least",
            earliest=earliest,
            latest=ends,
            act_by=earliest,
            limit_s=wanted,
            looked=at,
            do=_go_on(life, stay.where, turning=stay.turning_now, horizon=horizon),
            stands=stands,
            left_s=left,
            place=spell[0].mark.entry.at,
            rule=limits.place,
        )


def _go_on(life: HideLife, where: str, *, turning: bool, horizon: Horizon) -> str:
    return f"stop it and write: `{where} off`" if turning and where else move_on(life, where, horizon)


def _watched(floor: Floor, horizon: Horizon) -> Iterator[Countdown]:
    """The raw clock, and what the tubs and drums want: as the rules tell it."""
    waived, unread = waivers(floor), unread_by_tag(floor)
    for rule in _WATCHED:
        for found in rule(floor, horizon):
            finding = None if found.when == "record" or found.since is None else answered(found, waived, floor)
            if finding is None or finding.since is None:
                continue
            finding = with_unread(finding, unread, horizon.clock)
            hides = in_order(tag for tag in finding.tags if tag in floor.hides)
            baths = [tag for tag in finding.tags if tag not in floor.hides]
            ends, over = found.since or 0, (found.over_s or 0) if found.when == "now" else 0
            what, begun = _WHAT[found.name], found.begun if found.begun is not None else 0
            by = horizon.at - (found.over_s or 0) if found.when != "now" and (found.over_s or 0) < 0 else ends
            own = (baths or hides)[0]
            yield Countdown(
                sort="wish" if what.startswith("to ") else "limit",
                keys=((own, f"{what} {own} {begun}"),),
                tags=hides,
                where=baths[0] if baths else "",
                of_bath=bool(baths),
                what=what,
                text=_front(found, what),
                earliest=ends,
                latest=NEVER if found.may and found.when == "now" else ends,
                act_by=by if by > begun else ends,
                limit_s=found.limit_s or HOUR,
                looked=horizon.at,
                do=finding.do,
                over_s=max(0, over),
                may=found.may,
                place=finding.place,
                rule=finding.rule,
                more=finding.more,
            )


def _front(finding: Finding, what: str) -> str:
    """What a rule says before it comes to the hour, without the words that the clock is called by."""
    return finding.held.removeprefix(f"{what} ")


def _together(found: Iterable[Countdown]) -> Iterator[Countdown]:
    """Hides alike as one clock; the line to write then names them all."""
    alike: dict[tuple[object, ...], list[Countdown]] = {}
    for one in found:
        times = (one.earliest, one.latest, one.stands, one.left_s, one.over_s)
        own = one.keys if one.of_bath else ()
        alike.setdefault((one.sort, one.what, one.text, one.may, *times, one.do, *own), []).append(one)
    for several in alike.values():
        first = min(several, key=lambda one: (one.place or Place(file="", line=0), one.tags))
        tags = in_order(tag for one in several for tag in one.tags)
        yield replace(
            first,
            tags=tags,
            keys=tuple(sorted(key for one in several for key in one.keys)),
            do=first.do.replace(TAGS, who(tags)),
            more=tuple(dict.fromkeys(words for one in several for words in one.more)),
        )
