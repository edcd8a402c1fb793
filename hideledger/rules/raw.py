"""The raw clock: how long the skin has lain raw and unprotected, weighted by what is known of the cold."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hideledger.model.moments import DAY, MINUTE, spoken
from hideledger.model.process import RawLimit, Step
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.spans import next_step, to_come
from hideledger.rules.telling import TAGS, gone, of_hide, pull_or_why, twice_told
from hideledger.rules.tubs import asked
from hideledger.rules.words import when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife, RawClock
from hideledger.shopfloor.noted import Test
from hideledger.shopfloor.raw import rate as rate_at

# So many times its limit: then a line is missing sooner than that anybody lets it lie.
_LIMITS_LAIN = 3


def raw_too_long(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Decay starts at the kill and never goes back: cold slows it, salt, acid and frost stop it, a thaw does not."""
    for life in horizon.lives:
        raw = life.raw
        limit = life.process.raw_limit if life.process is not None else None
        if raw is None or limit is None:
            continue
        yield from _at_the_door(life, raw, limit)
        least, most = raw.shop if raw.weighted is None else raw.weighted
        allowed = limit.length.about_seconds
        if most <= allowed:
            continue
        known = raw.weighted is not None and (
            limit.at is None or all(degrees is not None for _, _, degrees in raw.spans)
        )
        certain = least > allowed and known
        over = (least if least > allowed else most) - allowed
        running = raw.running and life.here
        if not running and pulled_since(life, raw.since):
            continue  # looked at since, and the hair holds: that answers it
        if not running and any(missing.line.raw == "stops" or missing.line.tanning for missing in life.missing):
            continue  # the line that stopped it is missing, and told as such
        yield of_hide(
            life,
            name="raw too long",
            when="now" if running else "record",
            message=_said(raw, limit, over, horizon, certain=certain),
            held=_held(raw, limit, certain=certain),
            do=_protect(life, horizon)
            if running
            else pull_or_why(life, "raw too long", "look at it closely, pull at ears and belly"),
            entry=life.arrived if raw.stopped_by is None or running else raw.stopped_by,
            rule=limit.place,
            may=not certain,
            since=_fell(raw, allowed, horizon),
            over_s=over,
            limit_s=allowed,
            more=(*_before_the_door(raw), *twice_told(horizon.clock, horizon.at, life.arrived_when)),
            cause=f"raw {limit.place} {life.arrived.order}{gone(life)}",
            begun=raw.since,
        )


def pulled_since(life: HideLife, instant: int) -> bool:
    """Whether the hair of this very hide was pulled at after an instant, and held."""
    return any(
        test.own and test.fact.passed and "pull" in test.fact.test and test.when.hi >= instant for test in life.tests
    )


def last_pull(life: HideLife, instant: int) -> Test | None:
    """The last time the hair of this very hide was pulled at after an instant."""
    made = [test for test in life.tests if test.own and "pull" in test.fact.test and test.when.hi >= instant]
    return max(made, key=lambda test: (test.when.hi, test.entry.order), default=None)


def _said(raw: RawClock, limit: RawLimit, over: int, horizon: Horizon, *, certain: bool) -> str:
    told = f"{_held(raw, limit, certain=certain)}: " + (
        f"{spoken(over)} over" if certain else f"it may be {spoken(over)} over"
    )
    if not raw.running and raw.stopped_by is not None:
        told += f"; stopped {when_said(horizon.clock, raw.stopped_by.when, horizon.at)}"
    return told


def _held(raw: RawClock, limit: RawLimit, *, certain: bool) -> str:
    least, most = raw.shop
    lain = spoken(least) if spoken(least) == spoken(most) else f"between {spoken(least)} and {spoken(most)}"
    if least < MINUTE <= most:
        lain = f"{spoken(most)} at most"
    return f"{_lain_said(lain, most)}{_counts_as(raw, limit, lain, certain=certain)}; {limit.length} at most"


def _lain_said(lain: str, most: int) -> str:
    """How long it lay raw in the shop; of one that only just came in nothing is to be said."""
    return f"raw for {lain} in the shop" if most >= MINUTE else "raw"


def _counts_as(raw: RawClock, limit: RawLimit, lain: str, *, certain: bool) -> str:
    """What the hours weigh, where that is not what the clock on the wall says: `, counts as 16 h at 66 F`."""
    if raw.weighted is None:
        return ", its warmth not known"
    if limit.at is None:
        return ""
    weighs = spoken(raw.weighted[0] if certain else raw.weighted[1])
    return "" if weighs == lain else f", counts as {weighs} at {limit.at}"


def _before_the_door(raw: RawClock) -> tuple[str, ...]:
    if raw.door is None:
        return ("the time since the kill is not written",)
    if raw.door[1] <= 0:
        return ()
    least, most = raw.door
    return (
        f"and {spoken(most)} from the kill to the door"
        if least == most
        else f"and {f'{spoken(least)} to ' if least >= MINUTE else 'at most '}{spoken(most)} from the kill to the door",
    )


def _at_the_door(life: HideLife, raw: RawClock, limit: RawLimit) -> Iterator[Finding]:
    """Hours before the door are judged once, at arrival: nothing in the shop can change them."""
    judged = raw.door if raw.door_weighted is None else raw.door_weighted
    if raw.door is None or judged is None or judged[1] <= limit.length.about_seconds:
        return
    if life.condition is not None and life.condition[0].condition != "green":
        return
    if pulled_since(life, life.arrived_when.lo):
        return
    certain = judged[0] > limit.length.about_seconds and (raw.door_weighted is not None or limit.at is None)
    lain = spoken(raw.door[0] if certain else raw.door[1])
    cold = ", nobody wrote how cold it hung" if life.hung is None else f", hung at {life.hung[0].temperature}"
    if raw.door_weighted is not None and limit.at is not None:
        weighs = spoken(judged[0] if certain else judged[1])
        cold += "" if weighs == lain else f", counts as {weighs} at {limit.at}"
    yield of_hide(
        life,
        name="raw too long",
        when="record",
        message=f"came in {lain} after the kill{cold}; {limit.length} at most while raw; the hours before the door are judged here, and the shop's own clock begins at the door",
        do=pull_or_why(life, "raw too long", "look at it closely at the door, pull at ears and belly"),
        entry=life.arrived,
        rule=limit.place,
        may=not certain,
        since=life.arrived_when.lo,
        limit_s=limit.length.about_seconds,
        cause=f"door {life.arrived.order}{gone(life)}",
        days=(life.arrived_when.day, life.arrived_when.day),
    )


def _fell(raw: RawClock, allowed: int, horizon: Horizon) -> int:
    """When the clock passed its limit, taking each stretch at its own warmth."""
    gone = 0.0
    for start, stop, degrees in raw.spans:
        rate = _rate(raw, degrees)
        gone += (stop - start) * rate
        if gone > allowed and rate:
            return int(stop - (gone - allowed) / rate)
    return raw.spans[-1][1] if raw.spans else horizon.at


def _rate(raw: RawClock, degrees: float | None) -> float:
    """How many hours of the reference an hour at this warmth weighs; 1 where nothing is known."""
    if raw.weighted is None or raw.reference_c is None or degrees is None or raw.weighted == raw.shop:
        return 1.0
    return rate_at(degrees) / rate_at(raw.reference_c)


def _most(raw: RawClock) -> int:
    return int(raw.shop[1] if raw.weighted is None else raw.weighted[1])


def raw_past_its_limit(life: HideLife) -> bool:
    """Whether a skin that lies raw may have lain so for longer than its process allows."""
    limit = life.process.raw_limit if life.process is not None else None
    return bool(life.raw and limit and life.raw.running and _most(life.raw) > limit.length.about_seconds)


def raw_time_is_up(life: HideLife, at: int) -> int | None:
    """The instant at which a skin that lies raw will have lain so too long; None where no limit runs, or it is past."""
    raw = life.raw
    limit = life.process.raw_limit if life.process is not None else None
    if raw is None or limit is None or not raw.running:
        return None
    left = limit.length.about_seconds - _most(raw)
    rate = _rate(raw, raw.spans[-1][2] if raw.spans else None)
    # Where it is cold enough the clock does not run at all.
    return None if left < 0 or rate <= 0 else at + int(left / rate)


def raw_clock_due(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A green skin on the floor at closing time is the first thing to ask for: by morning its hours are gone."""
    at = horizon.at
    for life in horizon.here:
        raw = life.raw
        limit = life.process.raw_limit if life.process is not None else None
        falls = raw_time_is_up(life, at)
        if raw is None or limit is None or falls is None:
            continue
        by = horizon.hours.act_by(falls)
        if by > horizon.end:
            continue
        lain = spoken(raw.shop[1])
        held = f"{_lain_said(lain, raw.shop[1])}{_counts_as(raw, limit, lain, certain=False)}, {limit.length} at most"
        yield of_hide(
            life,
            name="due",
            when="tonight",
            message=f"{held}: {horizon.time_is_up(falls)}",
            held=held,
            do=_protect(life, horizon),
            entry=life.arrived,
            rule=limit.place,
            may=raw.weighted is None,
            since=falls,
            over_s=min(0, at - by),
            limit_s=limit.length.about_seconds,
            more=(*_before_the_door(raw), *twice_told(horizon.clock, horizon.at, life.arrived_when)),
            cause=f"raw {limit.place} {life.arrived.order}",
            begun=raw.since,
        )


def _protect(life: HideLife, horizon: Horizon) -> str:
    """What stops the clock next: the first step to come that the process says stops it. After days it is asked first whether the skin is there."""
    lines = _lines_that_stop_it(life, horizon)
    if _hardly_there(life):
        missing = f"if lines are missing, write them with their dates: {lines}; " if lines else ""
        return (
            f"look first whether it is there: if it was lost or handed back, write that with its own date: `{TAGS} lost -- why`, or `{TAGS} out to NAME`; "
            f"{missing}if it lies there raw, get it cold and pull at it"
        )
    if not lines:
        return "get it cold, or get on with it, and write its next step"
    return f"get it cold{' or get on with it' if _stopping(life) else ''}, and write: {lines}"


def _stopping(life: HideLife) -> Step | None:
    return next((s for s in to_come(life) if s.raw == "stops"), None)


def _hardly_there(life: HideLife) -> bool:
    """Whether it has lain raw by the book for so long that it more likely was worked, or left, without a line (common practice, no source)."""
    raw = life.raw
    limit = life.process.raw_limit if life.process is not None else None
    if raw is None or limit is None:
        return False
    return _most(raw) > _LIMITS_LAIN * limit.length.about_seconds and raw.shop[0] >= DAY


def _lines_that_stop_it(life: HideLife, horizon: Horizon) -> str:
    """The lines to write of what stops the clock: `H41 fleshed`, then `H41 salt`."""
    step = _stopping(life)
    following = next_step(life)
    first = (
        f"{asked(TAGS, following, horizon)}, then "
        if following is not None and step is not None and following is not step and _sooner(life, following, step)
        else ""
    )
    if step is not None:
        return f"{first}{asked(TAGS, step, horizon)}"
    if life.process is not None and life.process.rests:
        return f"`{TAGS} {life.process.rests[0].name}`"
    return ""


def _sooner(life: HideLife, one: Step, other: Step) -> bool:
    steps = life.process.steps if life.process is not None else ()
    return next((i for i, s in enumerate(steps) if s is one), 0) < next(
        (i for i, s in enumerate(steps) if s is other), 0
    )
