"""Silence: hides nobody has written of for too long, and days on which nobody wrote at all."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from hideledger.model.entry import Entry
from hideledger.model.moments import DAY, spoken
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.righting import example_for
from hideledger.rules.spans import current_spell, limit_falls, only_out_is_left
from hideledger.rules.telling import TAGS, of_hide
from hideledger.rules.words import day_said, stamp
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife

_WET_OPEN_DAYS = 2  # a skin in a bath is looked at every other open day at the least (common practice, no source)


def gone_quiet(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A skin that nobody writes of is one that nobody looks at: it lies behind the others, or left without a line."""
    shop = floor.book.shop.shop
    if shop.quiet_after is None:
        return
    clock, at = horizon.clock, horizon.at
    for life in horizon.here:
        if only_out_is_left(life, clock, at) or _time_still_to_come(life, horizon):
            continue
        bath = life.stay.bath if life.stay is not None else None
        last, entry = _last_line(life)
        fell = shop.quiet_after.after(last, clock)
        wet = False
        if bath is not None:
            day = clock.day_of(last)
            for _ in range(_WET_OPEN_DAYS):
                day = horizon.hours.next_open_day(day)
            wet = horizon.hours.closing(day) < fell
            fell = min(fell, horizon.hours.closing(day))
        if at <= fell:
            continue
        by_rule = "; a skin in a bath is looked at every other open day at the least" if wet else ""
        yield of_hide(
            life,
            name="gone quiet",
            when="now",
            message=f"no line for {spoken(at - last)}, the last {stamp(clock, last, at)}"
            + (f", in {bath.tag}" if bath is not None else "")
            + by_rule,
            do=f"go and look, and write how it is: `{TAGS} remark seen, well`, or where it went",
            entry=entry,
            bath=bath,
            rule=None if wet else shop.quiet_place,
            since=fell,
            over_s=at - fell,
            limit_s=_WET_OPEN_DAYS * DAY if wet else shop.quiet_after.about_seconds,
            cause=f"bath {bath.made.order}" if bath is not None else f"day {clock.day_of(last)}",
            begun=last,
        )


def _last_line(life: HideLife) -> tuple[int, Entry]:
    """The last moment at which a line named the hide or its bath, and that line."""
    lines = [life.lines[-1] if life.lines else life.arrived]
    if life.stay is not None and life.stay.bath is not None and life.stay.bath.lines:
        lines.append(life.stay.bath.lines[-1])
    last = max(lines, key=lambda entry: entry.when.hi)
    return last.when.hi, last


def _time_still_to_come(life: HideLife, horizon: Horizon) -> bool:
    """Whether the hide lies where the process lets it lie, and its longest time is still to come."""
    pause = life.resting
    if pause is not None and life.process is not None:
        rest = life.process.rest(pause.name)
        if rest is not None and rest.most is not None:
            return horizon.at <= rest.most.after(pause.start.hi, horizon.clock)
    spell = current_spell(life)
    line = spell[-1].line if spell else None
    limits = None if line is None else line.limits_for(life.kind)
    if line is None or limits is None or limits.most is None or line.sort == "run":
        return False
    return horizon.at <= limit_falls(life, spell[0].start, limits.most, horizon.clock, horizon.at)[1]


def _unread_days(floor: Floor) -> Iterator[int]:
    for complaint in floor.book.unread:
        try:
            if complaint.day:
                yield date.fromisoformat(complaint.day).toordinal()
        except ValueError:
            continue


def nobody_wrote(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """With wet skins in the shop a day without a line is a day nobody looked, or one that nobody will remember."""
    clock, at, hours = horizon.clock, horizon.at, horizon.hours
    wet = [
        life
        for life in horizon.here
        if life.stay is not None
        and (life.stay.bath is not None or (life.stay.line is not None and life.stay.line.in_bath))
    ]
    if not wet or not floor.entries:
        return
    last = max(floor.entries, key=lambda entry: (entry.when.day, entry.when.hi, entry.order))
    # A line that could not be read was written all the same.
    last_day = max((last.when.day, *(day for day in _unread_days(floor) if day <= horizon.today)))
    silent = hours.next_open_day(last_day)
    end = hours.closing(silent)
    if at < end or clock.day_start(silent) > at:
        return
    lying = [life for life in wet if life.stay is not None and life.stay.start.hi < clock.day_start(silent)]
    days = hours.open_days_between(last_day, clock.day_of(at)) + (
        at >= hours.closing(clock.day_of(at)) and hours.open_day(clock.day_of(at))
    )
    for life in lying:
        stay = life.stay
        assert stay is not None
        yield of_hide(
            life,
            name="nobody wrote",
            when="now",
            message=f"wet, and nobody wrote a line on {day_said(clock, silent, at)}"
            + (f" nor since: {days} open days" if days > 1 else ""),
            do="look at every tub, and write what you see, with what nobody wrote under its own date: "
            + (
                f"`{stay.bath.tag} {example_for(stay.line, stay.bath, floor.book.shop.shop.degrees)}`"
                if stay.bath is not None
                else f"`{TAGS} remark seen, well`"
            ),
            entry=last,
            since=end,
            over_s=at - end,
            cause="nobody wrote",
        )
