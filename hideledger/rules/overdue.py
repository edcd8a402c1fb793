"""Limits that run now: the longest time of a stay, a run or a rest, and the time a step may take to come."""

from __future__ import annotations

from collections.abc import Iterable

from hideledger.model.moments import spoken
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.running import Running, running_limits
from hideledger.rules.spans import left_out, now_when, over_by
from hideledger.rules.telling import of_hide, twice_told
from hideledger.rules.words import stamp, when_said
from hideledger.shopfloor.floor import Floor


def overdue(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A skin left too long goes on changing: alkali loosens the hair, damp rots it, and it does not show."""
    for limit in running_limits(floor, horizon):
        if horizon.at <= limit.earliest:
            continue
        certain = horizon.at > limit.latest
        may = not certain or limit.optional or bool(limit.unread)
        if limit.over is not None and limit.standing and not certain:
            continue
        fell = limit.latest if certain else limit.earliest
        if limit.over is not None:
            over = limit.over[0] if certain else limit.over[1]
        else:
            over = over_by(limit.life, fell, horizon.clock, horizon.at) if limit.rests else horizon.at - fell
        yield of_hide(
            limit.life,
            name="overdue",
            when="now",
            message=f"{_held(limit, horizon)}: {f'it may be {spoken(over)} over' if may else f'{spoken(over)} over'}",
            held=_held(limit, horizon),
            do=limit.do,
            entry=limit.entry,
            bath=limit.bath,
            rule=limit.rule,
            may=may,
            since=fell,
            over_s=over,
            limit_s=limit.limit.about_seconds,
            more=_more(limit, horizon),
            cause=limit.cause,
            begun=limit.start.lo,
        )


def _held(limit: Running, horizon: Horizon) -> str:
    since = when_said(horizon.clock, limit.start, horizon.at)
    return f"{limit.what} since {since}, {limit.limit} at most{_left_out(limit, horizon)}"


def _left_out(limit: Running, horizon: Horizon) -> str:
    if not limit.rests or limit.over is not None:
        return ""
    return left_out(limit.life, limit.start, now_when(horizon.clock, horizon.at), horizon.at)


def _more(limit: Running, horizon: Horizon) -> tuple[str, ...]:
    turns = limit.bath.turns if limit.bath is not None and limit.over is not None else ()
    moments = [limit.start, *(moment for turn in turns for moment in (turn.start, turn.end))]
    told = tuple(dict.fromkeys(twice_told(horizon.clock, horizon.at, *moments)))
    return (*told, limit.unread) if limit.unread else told


def due(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Whatever runs out in the night runs out on a closed shop: it has to be moved before the last one leaves."""
    for limit in running_limits(floor, horizon):
        if limit.standing or horizon.at > limit.earliest:
            continue
        by = horizon.hours.act_by(limit.earliest)
        if by > horizon.end:
            continue
        at = horizon.at
        falls, do = _falls(limit, by, horizon)
        yield of_hide(
            limit.life,
            name="due",
            when="tonight",
            message=f"{_held(limit, horizon)}: {falls}",
            held=_held(limit, horizon),
            do=do,
            entry=limit.entry,
            bath=limit.bath,
            rule=limit.rule,
            may=limit.optional
            or bool(limit.unread)
            or (limit.earliest != limit.latest and horizon.hours.act_by(limit.latest) > horizon.end),
            since=limit.earliest,
            over_s=min(0, at - by),
            limit_s=limit.limit.about_seconds,
            more=_more(limit, horizon),
            cause=limit.cause,
            begun=limit.start.lo,
        )


def _falls(limit: Running, by: int, horizon: Horizon) -> tuple[str, str]:
    """When a limit falls and what to do for it: never to take a skin out before its shortest time is over."""
    ready = limit.not_before
    if ready is None or ready <= horizon.at:
        return horizon.time_is_up(limit.earliest), limit.do
    first, last = (stamp(horizon.clock, instant, horizon.at) for instant in (ready, limit.earliest))
    if by < ready:
        told = f"not before {first}, not after {last}, when nobody is there: somebody has to come"
        return told, f"leave it until {first}; somebody has to come by {last}: {limit.do}"
    return horizon.time_is_up(limit.earliest), f"not before {first}: {limit.do}"
