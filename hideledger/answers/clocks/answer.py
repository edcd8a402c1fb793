"""The sheet of clocks: what is overdue, what ends today, tightest first, what ends in the night, what is ready."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from hideledger.answers.check.answer import unread_section
from hideledger.answers.clocks.countdown import DUE, NEVER, UP, Countdown
from hideledger.answers.clocks.running import countdowns
from hideledger.answers.head import record_head
from hideledger.answers.saying import counted, local_stamp, point, today, unread_said, utc_stamp
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.model.moments import MINUTE, Clock, spoken
from hideledger.rules.hours import ShopHours
from hideledger.rules.words import WEEKDAYS, stamp
from hideledger.shopfloor.floor import Floor

# From here on a person at the tub wants seconds.
_SECONDS = 5 * MINUTE


@dataclass(frozen=True, slots=True, kw_only=True)
class ClockLook:
    """All clocks of one floor, when its day ends, and until when the sheet reaches: the next opening after that (UTC seconds)."""

    floor: Floor
    clocks: tuple[Countdown, ...]
    day_end: int
    until: int

    def shown(self, now: int) -> list[Countdown]:
        """Those that belong on the sheet: overdue, ending before the shop opens again, ready today, standing in a drum.

        Whose longest time is up is no longer told to be ready.
        """
        found = [one for one in self.clocks if one.is_over(now) or one.stands or one.earliest < self.until]
        up = {(tag, one.what) for one in found if one.sort == "limit" and now >= one.latest for tag in one.tags}
        return [one for one in found if one.sort != "ready" or any((tag, one.what) not in up for tag in one.tags)]


def look_at(floor: Floor) -> ClockLook:
    """The clocks of a floor with the bounds of its day; 24:00 is the end of a day."""
    clock = floor.book.clock
    day_end = clock.day_end(today(clock, floor.at))
    until = ShopHours(floor.book.shop.shop, clock).next_opening(day_end)
    return ClockLook(floor=floor, clocks=countdowns(floor), day_end=day_end, until=max(day_end, until))


def any_over(look: ClockLook, now: int) -> bool:
    """Whether a clock is past its end, or may be."""
    return any(one.is_over(now) for one in look.clocks)


def clock_sheet(
    look: ClockLook, now: int, *, seconds: bool = False, most: int | None = None, unread: int | None = None
) -> Sheet:
    """The clocks as they stand `now` (UTC seconds, at or a little after the floor's moment).

    `seconds`: the sheet is looked at while it runs. `most` clocks are shown, and of the lines not understood `unread` (with 0 they are only
    counted).
    """
    floor = look.floor
    clock = floor.book.clock
    shown = _weightiest_first(look.shown(now), look, now)
    kept = shown[:most]
    over = [one for one in kept if one.is_over(now)]
    stands = [one for one in kept if one.stands and one not in over]
    ready = [one for one in kept if one.sort == "ready" and now >= one.earliest and one not in stands]
    ends = [one for one in kept if one not in over and one not in ready and one not in stands]
    sections = [
        _section("Overdue", over, now, clock, seconds=seconds),
        _today(look, [one for one in ends if one.earliest < look.day_end], now, seconds=seconds),
        _section(
            "Before the shop opens again", [o for o in ends if o.earliest >= look.day_end], now, clock, seconds=seconds
        ),
        _section("Ready", ready, now, clock, seconds=seconds),
        _section("Standing still", stands, now, clock, seconds=seconds),
    ]
    untold = [counted(left, "more clock")] if (left := len(shown) - len(kept)) else []
    if unread != 0:
        sections.append(unread_section(floor.book, most=unread))
    elif floor.book.unread:
        untold.append(f"{unread_said(floor.book)} not understood")
    if untold:
        sections.append(Section(heading=f"and {', '.join(untold)}; hideledger floor shows all", rows=()))
    name = floor.book.shop.shop.name or "The shop"
    return Sheet(
        title=f"{name}, {_now_said(now, clock, seconds=seconds)}",
        sections=tuple(section for section in sections if section.rows or (untold and section is sections[-1])),
        record=None if seconds else _record(look, shown, now),
    )


def _weightiest_first(shown: Sequence[Countdown], look: ClockLook, now: int) -> list[Countdown]:
    """In the order of the sheet: overdue, ending today, in the night, then what is no hurry; the last are given up first."""

    def rank(one: Countdown) -> tuple[int, int]:
        if one.is_over(now):
            return 0, one.limit_s
        if one.stands or (one.sort == "ready" and now >= one.earliest):
            return 3, 0
        return (1 if one.earliest < look.day_end else 2), 0

    return sorted(shown, key=rank)


def _today(look: ClockLook, ends: Sequence[Countdown], now: int, *, seconds: bool) -> Section:
    clock = look.floor.book.clock
    if ends:
        return _section("Ends today", ends, now, clock, seconds=seconds)
    if any(not one.stands and now <= one.earliest < look.day_end for one in look.clocks):
        return Section(heading="Ends today", rows=())  # there are some, and no room for them
    if any(not one.stands and look.day_end <= one.earliest < look.until for one in look.clocks):
        words = "no clock"
    else:
        coming = [one for one in look.clocks if not one.stands and one.earliest > now and not one.is_over(now)]
        following = min(coming, key=lambda one: one.earliest, default=None)
        words = "no clock" if following is None else f"no clock; the next: {next_said(following, now, clock)}"
    return Section(heading="Ends today", rows=(Row(text=words, plain=(f"ends today: {words}",)),))


def next_said(one: Countdown, now: int, clock: Clock) -> str:
    """`H41 salt, not before tomorrow 19:40`; with `time is up` for a longest time, `by` for what a bath wants."""
    how = {"ready": "not before", "wish": "by"}.get(one.sort, "time is up")
    return f"{one.whom} {one.what}, {how} {when_it_ends(one.earliest, now, clock)}"


def when_it_ends(instant: int, now: int, clock: Clock) -> str:
    """`17:10`, `tomorrow 19:40`, else with the day."""
    if clock.day_of(instant) == today(clock, now) + 1:
        return f"tomorrow {clock.local(instant):%H:%M}"
    return point(instant, clock, now)


def ends_said(one: Countdown, now: int, clock: Clock) -> str:
    """When a clock ends, with the closing before it: `time is up 17:10`, `ready 17:00`, `time is up between 16:10 and 19:00`."""
    if one.stands:
        return "stands still"
    first = when_it_ends(one.earliest, now, clock)
    ranges = one.latest != NEVER and one.latest - one.earliest >= MINUTE
    if ranges:
        alike = clock.day_of(one.earliest) == clock.day_of(one.latest)
        first = (
            f"between {first} and {when_it_ends(one.latest, now, clock) if alike else stamp(clock, one.latest, now)}"
        )
    if one.sort == "ready":
        return f"ready {'since ' if now >= one.latest and not ranges else ''}{first}"
    if one.latest == NEVER:
        return f"time may be up since {first}"
    if one.sort == "wish":
        told = f"by {first}"
    else:
        told = f"time {'was' if one.is_over(now) else 'is'} up {first}"
    if now <= one.act_by < one.earliest:
        told += f", when nobody is there; act before closing, {when_it_ends(one.act_by, now, clock)}"
    return told


def left_said(one: Countdown, now: int, *, seconds: bool) -> str:
    """What is left, or how much it is over: `35 min left`, `due, 4:48 left`, `17 min over`, `ready in 12 min`."""
    left = one.left(now)
    if one.sort == "ready":
        if one.stands:
            return f"ready in {spoken(left)}"
        if left <= 0:
            return "ready"
        return "may be ready" if now >= one.earliest else f"ready in {_length(one.earliest - now, seconds=seconds)}"
    if one.stands and not one.over_s:
        return f"{spoken(left)} left"
    if one.stage(now) >= UP:
        over = one.over_by(now)
        if over < MINUTE:
            return "time may be up" if one.may else "time is up"
        return f"{'may be ' if one.may else ''}{spoken(over)} over"
    length = f"{_length(left, seconds=seconds)} left"
    return f"due, {length}" if one.stage(now) == DUE else length


def _length(left: int, *, seconds: bool) -> str:
    if seconds and left < _SECONDS:
        return f"{left // MINUTE}:{left % MINUTE:02d}"
    return spoken(left)


def state_of(one: Countdown, now: int) -> str:
    """One word for a program or a search: overdue, due, running, ready, stands."""
    if one.is_over(now):
        return "overdue"
    if one.stands:
        return "stands"
    if one.sort == "ready":
        return "ready" if one.stage(now) == UP else "running"
    return "running" if one.stage(now) < DUE else "due"


def _section(heading: str, clocks: Iterable[Countdown], now: int, clock: Clock, *, seconds: bool) -> Section:
    rows = tuple(_row(one, now, clock, seconds=seconds) for one in clocks)
    return Section(heading=heading, rows=rows)


def _row(one: Countdown, now: int, clock: Clock, *, seconds: bool) -> Row:
    head = left_said(one, now, seconds=seconds)
    whom = f"{one.whom}, maybe" if one.may else one.whom
    said = f"{one.what}{', ' if one.sort == 'wish' else ' '}{one.text}"
    text = f"{whom}: {said}, {ends_said(one, now, clock)}"
    pressing = one.sort != "ready" and (one.is_over(now) or (one.stage(now) >= DUE and not one.stands))
    under = [("", "; ".join(one.more))] if one.more and pressing else []
    if pressing and one.do:
        under.append(("do", one.do))
    place = "" if one.place is None else one.place.short
    fields = (local_stamp(one.earliest, clock), state_of(one, now), head, whom, said)
    return Row(head=head, text=text, under=tuple(under), plain=(*fields, *one.more, one.do, place))


def _now_said(now: int, clock: Clock, *, seconds: bool) -> str:
    day = today(clock, now)
    local = clock.local(now)
    time = "24:00" if clock.day_end(day) == now else f"{local:%H:%M}"
    said = f"{WEEKDAYS[date.fromordinal(day).weekday()]} {date.fromordinal(day).isoformat()} {time}"
    return f"{said}:{local:%S}" if seconds else said


def foot_words(look: ClockLook, read: int, trouble: str) -> str:
    """The last line of the screen: when the book was read, or why it could not be read since; and how one leaves."""
    clock = look.floor.book.clock
    when = f"{clock.local(read):%H:%M:%S}"
    if trouble:
        return f"Book of {when}; it cannot be read now: {trouble}"
    return f"Book read {when}, {counted(len(look.floor.book.entries), 'line')}; Ctrl-C ends it"


def _record(look: ClockLook, shown: Iterable[Countdown], now: int) -> dict[str, object]:
    """For a program: the moment, every clock of the sheet, and how many lines could not be read."""
    clock = look.floor.book.clock
    return {
        **record_head(now, clock),
        "clocks": [_as_record(one, now, clock) for one in shown],
        "unread": len(look.floor.book.unread),
    }


def _as_record(one: Countdown, now: int, clock: Clock) -> dict[str, object]:
    known = one.latest != NEVER
    return {
        "state": state_of(one, now),
        "sort": one.sort,
        "may": one.may,
        "tags": list(one.tags),
        "where": one.where or None,
        "what": one.what,
        "said": one.text,
        "ends": None if one.stands else utc_stamp(one.earliest, clock),
        "ends_local": None if one.stands else local_stamp(one.earliest, clock),
        "ends_latest": utc_stamp(one.latest, clock) if known and not one.stands else None,
        "left_s": one.left(now),
        "over_s": one.over_by(now) if one.is_over(now) else 0,
        "do": one.do,
        "file": None if one.place is None else one.place.file,
        "line": None if one.place is None else one.place.line,
        "rule": None if one.rule is None else {"file": one.rule.file, "line": one.rule.line},
        "more": list(one.more),
    }
