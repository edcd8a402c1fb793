"""Where a bath is going: the slope of its readings since the last thing that went in, and when it leaves the range of those in it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from hideledger.model.facts import Reading
from hideledger.model.moments import DAY, HOUR, Clock
from hideledger.model.process import Range
from hideledger.rules.bathwatch import SETTLES
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.readings import beyond, doubt, ranges_of
from hideledger.rules.righting import example_for
from hideledger.rules.telling import bath_cause, of_bath
from hideledger.rules.whichline import by_line
from hideledger.rules.words import WEEKDAYS, day_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, Member
from hideledger.shopfloor.noted import BathReading
from hideledger.trade.slope import LEAST_READINGS, Crossing, robust_slope

QUANTITIES = ("pH", "salt", "temperature")
# A reading whose time is less sure than this says nothing about a slope.
_SURE_WITHIN = 2 * HOUR
# Said to the hour up to here; a forecast farther off is not worth saying.
_FAR = 21 * DAY
# What a meter that was set may be wrong by, pH.
_METER = 0.1
# Tenths taken from tenths as binary fractions are off by less than this.
_HAIR = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Drift:
    """What the readings of one quantity, taken in one way, say of where it goes.

    `word` is `too few`, `too short`, `steady`, `both ways`, `within doubt`, `away`, or `passes`; only then are `crossing` (UTC seconds) and `limit`
    given. `a_day` is the change in a day, in the unit of the limit; `readings` those it rests on; `over` whether it passes upwards.
    """

    what: str
    how: str
    word: str
    readings: tuple[BathReading, ...]
    a_day: float = 0.0
    limit: Range | None = None
    crossing: Crossing | None = None
    over: bool = True
    members: tuple[Member, ...] = ()


def drifts(bath: BathLife, floor: Floor) -> list[Drift]:
    """One for each quantity that a step of those in the bath limits and that was read since; none where nobody is in it."""
    found: list[Drift] = []
    lines = by_line(bath.now_in, floor)
    for what in QUANTITIES:
        limits = [
            (limit, members) for line, members in lines for limit in ranges_of(line, what) if limit.basis != "at mixing"
        ]
        if limits:
            found += _of_quantity(bath, what, limits)
    return found


def _of_quantity(bath: BathLife, what: str, limits: Sequence[tuple[Range, list[Member]]]) -> Iterator[Drift]:
    last = next((reading for reading in reversed(bath.readings) if reading.fact.what == what), None)
    if last is None or any(beyond(last.fact, limit) is not None for limit, _ in limits):
        return  # it is out already, which is told by itself
    since = _begins(bath)
    unit, how = last.fact.value.unit, last.fact.how
    row = tuple(
        reading
        for reading in bath.readings
        if reading.fact.what == what
        and reading.fact.how == how
        and (reading.fact.value.unit == unit or what == "temperature")
        and reading.when.lo >= since
        and reading.when.hi - reading.when.lo <= _SURE_WITHIN
    )
    nearest = [_judged(row, what, how, limit, members) for limit, members in limits]
    passing = [one for one in nearest if one.crossing is not None]
    yield (
        min(passing, key=lambda one: one.crossing.soonest if one.crossing is not None else 0.0)
        if passing
        else nearest[0]
    )


def _begins(bath: BathLife) -> int:
    """From when on readings belong to one slope: an hour after the last make-up, dose, or skin that went in."""
    moments = [bath.made_when.hi, *(dose.when.hi for dose in bath.doses), *(member.enter.hi for member in bath.members)]
    return max(moments) + SETTLES


def _judged(row: tuple[BathReading, ...], what: str, how: str, limit: Range, members: list[Member]) -> Drift:
    drift = Drift(what=what, how=how, word="too few", readings=row, limit=limit, members=tuple(members))
    if len(row) < LEAST_READINGS:
        return drift
    times = [(reading.when.lo + reading.when.hi) / 2 for reading in row]
    if max(times) - min(times) < DAY:
        return _saying(drift, "too short")
    figures = [_figure(reading.fact) for reading in row]
    slope = robust_slope([time / DAY for time in times], figures)
    if slope is None or not slope.direction:
        return _saying(drift, "steady" if _stands_still(row) else "both ways")
    drift = _saying(drift, "within doubt", a_day=slope.slope, over=slope.direction > 0)
    if abs(slope.slope) * (max(times) - min(times)) / DAY < doubt(row[-1].fact):
        return drift
    side = limit.most if slope.direction > 0 else limit.least
    if side is None or not _same_scale(row[-1].fact, side.unit):
        return _saying(drift, "away", a_day=slope.slope, over=slope.direction > 0)
    # A whole row read by one instrument is off by what that instrument is off by, and passes the limit so much sooner or later. A meter that was
    # set is told of by that beside the hours, and paper, which is coarser, by the hours themselves.
    wrong_by = doubt(row[-1].fact)
    off = max(0.0, wrong_by - _METER) if what == "pH" else 0.0
    crossing = slope.passes(_figure(Reading(what=what, value=side)), read=figures[-1], off=off, doubt=wrong_by)
    if crossing is None:
        return _saying(drift, "away", a_day=slope.slope, over=slope.direction > 0)
    at = Crossing(
        soonest=crossing.soonest * DAY,
        likely=crossing.likely * DAY,
        latest=crossing.latest * DAY,
        first=crossing.first * DAY,
        last=crossing.last * DAY,
        met=crossing.met,
    )
    return _saying(drift, "passes", a_day=slope.slope, over=slope.direction > 0, crossing=at)


def _stands_still(row: Sequence[BathReading]) -> bool:
    """Whether no reading lies farther from the middle one than the instrument may be wrong by."""
    middle = _figure(middle_of(row).fact)
    return all(abs(_figure(reading.fact) - middle) <= doubt(reading.fact) + _HAIR for reading in row)


def middle_of(row: Sequence[BathReading]) -> BathReading:
    """The middle reading by its figure, one that was taken: of an even number the lower of the two."""
    return sorted(row, key=lambda reading: _figure(reading.fact))[(len(row) - 1) // 2]


def _saying(
    drift: Drift, word: str, *, a_day: float = 0.0, over: bool = True, crossing: Crossing | None = None
) -> Drift:
    return Drift(
        what=drift.what,
        how=drift.how,
        word=word,
        readings=drift.readings,
        limit=drift.limit,
        members=drift.members,
        a_day=a_day,
        over=over,
        crossing=crossing,
    )


def _figure(reading: Reading) -> float:
    """A reading as a number; warmth in F, so that two units make one row."""
    value = reading.value
    return float(value.to("F") if value.dimension == "temperature" else value.value)


def _same_scale(reading: Reading, unit: str) -> bool:
    return reading.what != "salt" or reading.value.unit == unit


def bath_leaves_its_range(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Skins go on taking acid in the night: a bath that rises day by day passes its limit at an hour that can be told beforehand."""
    for bath in horizon.standing:
        if not bath.now_in or len(bath.readings) < LEAST_READINGS:
            continue
        for drift in drifts(bath, floor):
            crossing, limit = drift.crossing, drift.limit
            if (
                crossing is None
                or limit is None
                or crossing.soonest > horizon.end
                or crossing.likely > horizon.at + _FAR
            ):
                continue
            yield _told(bath, drift, crossing, limit, floor, horizon)


def _told(bath: BathLife, drift: Drift, crossing: Crossing, limit: Range, floor: Floor, horizon: Horizon) -> Finding:
    last, soonest = drift.readings[-1], int(crossing.soonest)
    lines = by_line(list(drift.members), floor)
    example = example_for(lines[0][0] if lines else None, bath, floor.book.shop.shop.degrees, drift.what)
    acid = " or dose it by your supplier's sheet" if drift.what != "temperature" else " or right its warmth"
    fallen = soonest <= horizon.at
    return of_bath(
        bath,
        [member.hide for member in drift.members],
        name="due",
        when="tonight",
        message=f"{slope_said(drift)}: {passing_said(drift, horizon.clock, horizon.at)}",
        do=f"{'read it now' if fallen else 'read it before you go'}{acid}, and write what it says, like this: `{bath.tag} {example}`",
        entry=last.entry,
        rule=limit.place,
        may=True,
        since=soonest,
        over_s=min(0, horizon.at - horizon.hours.act_by(soonest)),
        rings=not (crossing.met and _has_stopped(drift)),
        cause=f"{bath_cause(bath)} drift {drift.what}",
        begun=drift.readings[0].when.lo,
    )


def _has_stopped(drift: Drift) -> bool:
    """Whether the newest reading lies no nearer to the limit than the one before: then the line alone says that it was met."""
    last, before = (_figure(reading.fact) for reading in (drift.readings[-1], drift.readings[-2]))
    return last <= before if drift.over else last >= before


_UNITS = {"pH": "", "temperature": " F"}


def slope_said(drift: Drift) -> str:
    """`pH rises 0.11 a day by meter (5 readings)`."""
    way = "rises" if drift.a_day > 0 else "falls"
    unit = _UNITS.get(drift.what, f" {drift.readings[-1].fact.value.unit}")
    how = f" by {drift.how}" if drift.how else ""
    figure = f"{abs(drift.a_day):.2f}" if drift.what == "pH" else f"{abs(drift.a_day):.1f}"
    return f"{drift.what} {way} {figure}{unit} a day{how} ({len(drift.readings)} readings)"


def passing_said(drift: Drift, clock: Clock, at: int) -> str:
    """`will pass 2.2 about Wed 04:00 to 11:00`; in words where it may have passed it already."""
    crossing, limit = drift.crossing, drift.limit
    assert crossing is not None
    assert limit is not None
    side = limit.most if drift.over else limit.least
    assert side is not None
    edge = f"{side.value.normalize():f}" if side.unit == "pH" else str(side)
    first, last = int(crossing.soonest), int(crossing.latest)
    read = drift.readings[-1].fact
    if crossing.met:
        return f"by its own line it is at {edge} about now, last read {_bare_value(read)}"
    wide = _with_doubt(crossing, read, clock, at)
    if last <= at:
        return f"by that it passed {edge} {_hour(clock, last, at)} at the latest, not read since{wide}"
    if first <= at:
        return f"by that it passes {edge} by {_hour(clock, last, at)}, and may have done so already{wide}"
    return f"will pass {edge} about {_hours(clock, first, last, at)}{wide}"


def _with_doubt(crossing: Crossing, read: Reading, clock: Clock, at: int) -> str:
    """`; with the meter's own doubt of 0.1, Fri 10:00 to Sat 15:00`: nobody leaves a bath alone for an hour that an instrument cannot tell."""
    off = doubt(read)
    figure = f"{off:.1f}" if read.what == "pH" else f"{off:.0f}{_UNITS.get(read.what, f' {read.value.unit}')}"
    whose = {"meter": "the meter's", "strip": "the paper's"}.get(read.how, "the instrument's")
    first, last = int(crossing.first), int(crossing.last)
    if last <= at:
        return f"; with {whose} own doubt of {figure}, {_hour(clock, last, at)} at the latest"
    if first <= at:
        return f"; with {whose} own doubt of {figure}, from now to {_hour(clock, last, at)}"
    return f"; with {whose} own doubt of {figure}, {_hours(clock, first, last, at)}"


def _bare_value(read: Reading) -> str:
    return f"{read.value.value:f}" if read.what == "pH" else str(read.value)


def _hours(clock: Clock, first: int, last: int, at: int) -> str:
    begins, until = _hour(clock, first, at), _hour(clock, last, at)
    if begins == until:
        return begins
    same = clock.day_of(first + HOUR // 2) == clock.day_of(last + HOUR // 2)
    return f"{begins} to {until.rpartition(' ')[2] if same else until}"


def _hour(clock: Clock, instant: int, at: int) -> str:
    """A forecast is good to the hour at best: `Wed 04:00`, within a week; beyond that the day alone."""
    near = instant + HOUR // 2  # to the nearest hour
    day = clock.day_of(near)
    if abs(day - clock.day_of(at)) < 6:
        return f"{WEEKDAYS[date.fromordinal(day).weekday()]} {clock.local(near):%H}:00"
    return day_said(clock, day, at)
