"""The tubs now: what wants a reading or a stir before the next look."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from hideledger.model.entry import Entry
from hideledger.model.moments import HOUR, When
from hideledger.model.process import Every, Step
from hideledger.rules.answering import waived_since
from hideledger.rules.finding import Finding
from hideledger.rules.gas import is_to_be_left
from hideledger.rules.horizon import Horizon
from hideledger.rules.readings import counted_quantities
from hideledger.rules.righting import example_for
from hideledger.rules.telling import bath_cause, of_bath, twice_told
from hideledger.rules.whichline import by_line, known_first
from hideledger.rules.words import stamp, when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, Member

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
    entry: Entry  # the line that says so: of the last reading or stir, the dose, the skins that went in
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
    if bath.now_in and is_to_be_left(bath, floor):
        return
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
    read = _last((reading.when, reading.entry) for reading in bath.readings if reading.fact.what in what)
    yield _next_time(every, _first_in(members), read, "read", horizon)
    settling = [(_last((m.enter, m.stay.mark.entry) for m in members), "skins went in", "skins going in")]
    settling.append((_last((dose.when, dose.entry) for dose in bath.doses), "dosed", "a dose"))
    for told, why, after in settling:
        if told is None:
            continue
        event, entry = told
        if read is not None and read[0].hi > event.lo:
            continue
        if waived_since(bath, "reading due", event.lo):
            continue  # or the hour that was waived would stand before the reading of the day
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
            entry=entry,
            base=event,
            settling=True,
            day=None if opening == wanted else horizon.clock.day_of(opening),
            before=closing if opening != wanted and event.hi <= closing < wanted else None,
        )


def _first_in(members: Iterable[Member]) -> tuple[When, Entry]:
    """When the first of them went in, and the line that says so."""
    first = min(members, key=lambda member: member.enter.lo)
    return first.enter, first.stay.mark.entry


def _last(told: Iterable[tuple[When, Entry]]) -> tuple[When, Entry] | None:
    """The last of several moments, with its line; None of none."""
    return max(told, key=lambda item: (item[0].hi, item[0].lo), default=None)


def _next_time(
    every: Every, first_in: tuple[When, Entry], last: tuple[When, Entry] | None, doing: str, horizon: Horizon
) -> Wanted:
    clock, at = horizon.clock, horizon.at
    base, entry = last if last is not None and last[0].hi >= first_in[0].lo else first_in
    if base is first_in[0]:
        why = f"not {doing} since skins went in, {when_said(clock, base, at)}"
    else:
        why = f"last {doing} {when_said(clock, base, at)}"
    if every.length is None:
        day = horizon.hours.next_open_day(base.day)
        closing = horizon.hours.closing(day)
        wish = f"to be {doing} every open day"
        return Wanted(
            earliest=closing,
            latest=closing,
            every=every,
            wish=wish,
            why=why,
            # Who waived it yesterday has said nothing of today.
            begun=max(base.lo, clock.day_start(day)),
            entry=entry,
            base=base,
            day=day,
        )
    return Wanted(
        earliest=every.length.after(base.lo, clock),
        latest=every.length.after(base.hi, clock),
        every=every,
        wish=f"to be {doing} every {every.length}",
        why=why,
        begun=base.lo,
        entry=entry,
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
        held=f"{wanted.why}; {wanted.wish}",
        do=f"read it{' before you go' if leaving else ''} and write what it says, like this: `{bath.tag} {example_for(line, bath, floor.book.shop.shop.degrees)}`"
        if name == "reading due"
        else f"stir it and write: `{bath.tag} stirred`",
        entry=wanted.entry,
        rule=None if wanted.settling else wanted.every.place,
        may=may or doubtful,
        since=fell,
        over_s=at - fell if broken else min(0, at - by),
        limit_s=SETTLES
        if wanted.settling
        else 24 * HOUR
        if wanted.every.length is None
        else wanted.every.length.about_seconds,
        more=(*_whose_hour(bath, wanted), *twice_told(horizon.clock, at, wanted.base)),
        cause=bath_cause(bath),
        begun=wanted.begun,
    )


def _whose_hour(bath: BathLife, wanted: Wanted) -> tuple[str, ...]:
    """Whose number the hour is: no line of the shop says it, so the finding does, and how it is quieted."""
    if not wanted.settling:
        return ()
    every = "day" if wanted.every.length is None else str(wanted.every.length)
    return (
        f"that hour is common practice, no line of the shop; it goes with the shop's own `read every {every}` ({wanted.every.place.short}), and `{bath.tag} waived reading due -- why` quiets it",
    )


def _not_yet(wanted: Wanted, by: int, horizon: Horizon) -> bool:
    """Whether a round made each open day need not be asked for yet: not before its day, nor before the last hours of it."""
    if wanted.day is None or horizon.asked:
        return False
    return wanted.day > horizon.today or horizon.at < by - LAST_HOURS


def stir_due(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A still bath lies in layers, and mould and slip begin where skin lies on skin: whatever moves it counts."""
    for bath in horizon.standing:
        yield from _wanting(floor, bath, "stir due", horizon)


def _stir_wanted(bath: BathLife, line: Step, members: list[Member], horizon: Horizon) -> Iterable[Wanted]:
    assert line.stirred_every is not None
    moved = [(noted.when, noted.entry) for noted in bath.stirs]
    moved += [(m.enter, m.stay.mark.entry) for m in bath.members]
    moved += [(m.leave, m.stay.end_entry or m.stay.mark.entry) for m in bath.members if m.leave is not None]
    yield _next_time(line.stirred_every, _first_in(members), _last(moved), "moved", horizon)
