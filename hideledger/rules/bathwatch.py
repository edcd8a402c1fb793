"""The tubs now: what wants a reading or a stir before the next look, and what reads wrong."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from hideledger.model.moments import HOUR, When
from hideledger.model.process import Every, Range, Step
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.readings import beyond, counted_quantities, doubt, limit_said, ranges_of, reading_said
from hideledger.rules.righting import example_for, righting, righting_place
from hideledger.rules.telling import bath_cause, of_bath, of_hide, twice_told
from hideledger.rules.unexplained import last_misfits
from hideledger.rules.whichline import by_line, known_first
from hideledger.rules.words import listed, stamp, when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, BathReading, Dose, HideLife, Member

# A bath settles for an hour after skins or acid go in, and then tells the truth (from memory, no source).
SETTLES = HOUR
# What is done each open day is asked for when this much of the day is left: asked for at dawn it would ring every morning.
LAST_HOURS = 4 * HOUR


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """When a bath wants something next: between `earliest` and `latest` (UTC seconds), and why."""

    earliest: int
    latest: int
    every: Every
    wish: str
    why: str
    begun: int
    base: When | None = None
    settling: bool = False  # by the hour after skins or a dose, which is no line of the shop
    before: int | None = None  # the closing that comes first: it is read before the last one goes
    day: int | None = None  # what is to be done each open day is asked for on that day only


def reading_due(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A pickle is not late by days but by readings: acid goes into the skins, and what is left may not keep them."""
    for bath in horizon.standing:
        yield from _wanting(floor, bath, "reading due", horizon)


def _wanting(floor: Floor, bath: BathLife, name: str, horizon: Horizon) -> Iterator[Finding]:
    """What a bath wants for the hides whose line is known; else what it may want for those whose arrival nobody can read."""
    reads = name == "reading due"
    rows = [
        (
            [(line, ms) for line, ms in by_line(row, floor) if (line.read_every if reads else line.stirred_every)],
            doubtful,
        )
        for row, doubtful in known_first(bath.now_in)
    ]
    watched = list({id(m): m for lines, _ in rows for _, ms in lines for m in ms}.values())
    for lines, doubtful in rows:
        wanted = [
            (w, line)
            for line, members in lines
            for w in (_reading_wanted if reads else _stir_wanted)(bath, line, members, horizon)
        ]
        if not wanted:
            continue
        first, line = min(wanted, key=lambda item: item[0].earliest)
        told = list(_told(floor, bath, watched, first, line, name, horizon, doubtful=doubtful))
        if told:
            yield from told
            return
        watched = [m for m in watched if m.stay.line is None]


def _reading_wanted(bath: BathLife, line: Step, members: list[Member], horizon: Horizon) -> Iterable[Wanted]:
    every = line.read_every
    assert every is not None
    what = counted_quantities(line)
    readings = [reading.when for reading in bath.readings if reading.fact.what in what]
    first_in = min((m.enter for m in members), key=lambda when: when.lo)
    last_read = max(readings, key=lambda when: (when.hi, when.lo), default=None)
    yield _next_time(every, first_in, last_read, "read", horizon)
    settling = [(max((m.enter for m in members), key=lambda when: when.hi), "skins went in", "skins going in")]
    if bath.doses:
        settling.append((max((dose.when for dose in bath.doses), key=lambda when: when.hi), "dosed", "a dose"))
    for event, why, after in settling:
        if last_read is not None and last_read.hi > event.lo:
            continue
        wanted = event.hi + SETTLES
        opening = horizon.hours.next_opening(wanted)
        closing = horizon.hours.act_by(
            wanted
        )  # with nobody there then: before the last one leaves, else in the morning
        yield Wanted(
            earliest=opening,
            latest=opening,
            every=every,
            wish=f"to be read within an hour of {after}",
            why=f"{why} {when_said(horizon.clock, event, horizon.at)}, not read since",
            begun=event.lo,
            base=event,
            settling=True,
            day=None if opening == wanted else horizon.clock.day_of(opening),
            before=closing if opening != wanted and event.hi <= closing < wanted else None,
        )


def _next_time(every: Every, first_in: When, last: When | None, doing: str, horizon: Horizon) -> Wanted:
    clock, at = horizon.clock, horizon.at
    base = last if last is not None and last.hi >= first_in.lo else first_in
    if base is first_in:
        why = f"not {doing} since skins went in, {when_said(clock, base, at)}"
    else:
        why = f"last {doing} {when_said(clock, base, at)}"
    if every.length is None:
        day = horizon.hours.next_open_day(base.day)
        closing = horizon.hours.closing(day)
        wish = f"to be {doing} every open day"
        return Wanted(
            earliest=closing, latest=closing, every=every, wish=wish, why=why, begun=base.lo, base=base, day=day
        )
    return Wanted(
        earliest=every.length.after(base.lo, clock),
        latest=every.length.after(base.hi, clock),
        every=every,
        wish=f"to be {doing} every {every.length}",
        why=why,
        begun=base.lo,
        base=base,
    )


def _told(
    floor: Floor,
    bath: BathLife,
    members: list[Member],
    wanted: Wanted,
    line: Step,
    name: str,
    horizon: Horizon,
    *,
    doubtful: bool,
) -> Iterable[Finding]:
    at = horizon.at
    broken = at > wanted.earliest
    by = horizon.hours.act_by(wanted.earliest)
    leaving = wanted.before is not None and at <= wanted.before
    if leaving and wanted.before is not None:
        by = wanted.before
    elif not broken and (by > horizon.end or _not_yet(wanted, by, horizon)):
        return
    may = broken and at <= wanted.latest
    fell = wanted.latest if broken and not may else wanted.earliest
    state = (
        horizon.over(fell, may=may)
        if broken
        else f"nobody is there then; act before closing, {stamp(horizon.clock, by, at)}"
        if leaving
        else f"by {stamp(horizon.clock, by if by > at else fell, at)}"
    )
    yield of_bath(
        bath,
        [m.hide for m in members],
        name=name,
        when="now" if broken else "tonight",
        message=f"{wanted.why}; {wanted.wish}: {state}",
        do=f"read it{' before you go' if leaving else ''} and write what it says, like this: `{bath.tag} {example_for(line, bath, floor.book.shop.shop.degrees)}`"
        if name == "reading due"
        else f"stir it and write: `{bath.tag} stirred`",
        entry=members[0].stay.mark.entry,
        rule=None if wanted.settling else wanted.every.place,
        may=may or doubtful,
        since=fell,
        over_s=at - fell if broken else min(0, at - by),
        limit_s=SETTLES
        if wanted.settling
        else 24 * HOUR
        if wanted.every.length is None
        else wanted.every.length.about_seconds,
        more=twice_told(horizon.clock, at, wanted.base),
        cause=bath_cause(bath),
        begun=wanted.begun,
    )


def _not_yet(wanted: Wanted, by: int, horizon: Horizon) -> bool:
    """Whether a round made each open day need not be asked for yet: not before its day, nor before the last hours of it."""
    if wanted.day is None or horizon.asked:
        return False
    return wanted.day > horizon.today or horizon.at < by - LAST_HOURS


def stir_due(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A still bath lies in layers, and mold and slip begin where skin lies on skin: whatever moves it counts."""
    for bath in horizon.standing:
        yield from _wanting(floor, bath, "stir due", horizon)


def _stir_wanted(bath: BathLife, line: Step, members: list[Member], horizon: Horizon) -> Iterable[Wanted]:
    assert line.stirred_every is not None
    moved = [noted.when for noted in bath.stirs]
    moved += [m.enter for m in bath.members] + [m.leave for m in bath.members if m.leave is not None]
    last = max(moved, key=lambda when: (when.hi, when.lo), default=None)
    first_in = min((m.enter for m in members), key=lambda when: when.lo)
    yield _next_time(line.stirred_every, first_in, last, "moved", horizon)


def out_of_range_now(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Acid without salt swells a skin, salt without acid lets it rot, warm acid eats it: a bath is righted at once."""
    for bath in horizon.standing:
        if bath.now_in:
            yield from _bath_out(floor, bath, horizon)
    yield from _places_out(floor, horizon)


def _bath_out(floor: Floor, bath: BathLife, horizon: Horizon) -> Iterable[Finding]:
    first_in = min((m.enter for m in bath.members), key=lambda when: when.lo)
    rows = [(by_line(row, floor), doubtful) for row, doubtful in known_first(bath.now_in)]
    for what in ("pH", "temperature", "salt"):
        readings = [reading for reading in bath.readings if reading.fact.what == what]
        worst: tuple[float, Range, BathReading] | None = None
        hides: list[HideLife] = []
        unread = True
        for lines, doubtful in rows:
            for line, members in lines:
                for limits in ranges_of(line, what):
                    judged = [r for r in readings if _judged(r, limits, first_in)]
                    out = beyond(judged[-1].fact, limits) if judged else None
                    if out is None:
                        continue
                    hides += [member.hide for member in members]
                    unread = unread and doubtful
                    if worst is None or (out > worst[0] and (unread or not doubtful)):
                        worst = (out, limits, judged[-1])
        if worst is None:
            continue
        out, limits, last = worst
        doses = [dose for dose in bath.doses if dose.when.lo >= last.when.lo and dose.entry is not last.entry]
        settling = bool(doses) and horizon.at <= doses[-1].when.hi + SETTLES
        in_doubt = out < doubt(last.fact)
        misread = not in_doubt and last_misfits(bath, last, floor)
        yield of_bath(
            bath,
            hides,
            name="out of range now",
            when="now",
            message=(
                f"{reading_said(last.fact)} {when_said(horizon.clock, last.when, horizon.at)}, {limit_said(last.fact, limits)}"
                + (f"; {_doses_said(doses)}, not read again" if doses else "")
                + ("; that is within the doubt of the instrument" if in_doubt else "")
                + ("; nothing that was put in explains it" if misread else "")
            ),
            do=righting(bath.tag, last.fact, limits, doses=bool(doses), in_doubt=in_doubt or misread, far=out >= 10),
            entry=last.entry,
            rule=limits.place,
            may=in_doubt or unread,
            since=last.when.lo,
            rings=not settling,
            cause=f"{bath_cause(bath)} {what}",
        )


def _judged(reading: BathReading, limits: Range, first_in: When) -> bool:
    """Whether a range holds for a reading: one `at mixing` is for the bath before any skin went in."""
    return not limits.basis or (reading.when.hi <= first_in.lo) == (limits.basis == "at mixing")


def _doses_said(doses: list[Dose]) -> str:
    """What went in since: `8 oz citric acid added since`."""
    amounts = [f"{amount.quantity} {amount.supply}" for dose in doses for amount in dose.amounts]
    return f"{listed(amounts)} added since" if amounts else "topped up since"


def _places_out(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    lying: dict[str, list[HideLife]] = {}
    for life in horizon.here:
        pause = life.resting
        place = pause.place if pause is not None and pause.place else (life.places[-1][1] if life.places else "")
        if place:
            lying.setdefault(place.casefold(), []).append(life)
    for name, spot in floor.book.shop.spots.items():
        hides = lying.get(name.casefold(), []) or lying.get(spot.name.casefold(), [])
        taken = floor.place_readings.get(spot.name) or floor.place_readings.get(name) or []
        readings = [reading for reading in taken if reading.fact.what == "temperature"]
        if not hides or not readings:
            continue
        last = readings[-1]
        out = beyond(last.fact, spot)
        if out is None:
            continue
        for life in hides:
            yield of_hide(
                life,
                name="out of range now",
                when="now",
                message=f"{spot.name} read {last.fact.value} {when_said(horizon.clock, last.when, horizon.at)}, "
                f"{limit_said(last.fact, spot)}",
                do=righting_place(spot.name, last.fact, spot),
                entry=last.entry,
                rule=spot.place,
                may=out < doubt(last.fact),
                since=last.when.lo,
                cause=f"place {spot.name}",
            )
