"""What would keep a promise that is missed: tried one after the other, and reckoned again each time, never guessed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from hideledger.answers.load.jobs import Plan
from hideledger.answers.load.vessels import in_use, tub_of
from hideledger.model.shop import Hours
from hideledger.rules.hours import ShopHours
from hideledger.rules.words import WEEKDAYS, day_said
from hideledger.trade.timetable import Layout, Tub, Work, days_late
from hideledger.trade.timetable_alone import Alone
from hideledger.trade.timetable_best import Best, best_layout
from hideledger.trade.timetable_floors import floors

_HIDES_LAID_OUT = 12_000  # passes times hides, over all the changes
_PASSES = (6, 60)  # at least and at most for one of them
_MOST_DAYS = 6


def missed_in(work: Work, layout: Layout) -> list[int]:
    """The places of the hides that are done after their day."""
    return [
        place
        for place, (skin, visits) in enumerate(zip(work.skins, layout, strict=True))
        if days_late(work, skin, visits[-1].end)
    ]


def alone_is_late(work: Work, alone: Alone, place: int) -> bool:
    """Whether a hide would miss its day even with the shop to itself."""
    return days_late(work, work.skins[place], work.moments[alone.alone_done(place)]) > 0


def would_save(plan: Plan, best: Best, span_days: int) -> list[tuple[str, int]]:
    """Each change that keeps promises, and how many more are kept: a bath more, an hour longer, a day open, another vessel; the most telling first."""
    assert best.worth is not None
    missed, found = best.worth[0], []
    changes = list(_changes(plan, span_days))
    passes = _HIDES_LAID_OUT // (len(plan.work.skins) * len(changes)) if changes else 0
    passes = max(_PASSES[0], min(_PASSES[1], passes))
    for said, work in changes:
        if missed <= _missed_at_least(work):
            continue
        better = best_layout(work, nodes=0, passes=passes, like=best.manner)
        if better.worth is not None and better.worth[0] < missed:
            found.append((said, missed - better.worth[0]))
    return sorted(found, key=lambda one: -one[1])


def _missed_at_least(work: Work) -> int:
    floor = floors(work, Alone(work))
    return 0 if floor is None else floor[0]


def _changes(plan: Plan, span_days: int) -> Iterator[tuple[str, Work]]:
    yield from _more_baths(plan)
    work = plan.work
    tubs = [place for place in range(len(work.tubs)) if any(place in s.tubs for k in work.skins for s in k.spells[1:])]
    for place in tubs:
        vessel = plan.vessels[place]
        tub = replace(work.tubs[place], name=f"{vessel.tag} (second)", steps=())
        yield f"a second {vessel.sort or 'vessel'} like {vessel.tag}", _with_beside(work, place, tub)
    shop, clock = plan.floor.book.shop.shop, plan.floor.book.clock
    if not shop.hours:
        return
    days = len(set(work.days)) and work.days[-1] - work.days[0]
    for weekday in range(7):
        longer = tuple(
            replace(hours, weekdays=frozenset({weekday}), end=min(hours.end + 60, 1440))
            for hours in shop.hours
            if weekday in hours.weekdays
        )
        if longer:
            kept = tuple(replace(hours, weekdays=hours.weekdays - {weekday}) for hours in shop.hours)
            extended = replace(shop, hours=(*kept, longer[0], *longer[1:]))
            yield f"an hour longer each {WEEKDAYS[weekday]}", plan.with_hours(ShopHours(extended, clock), days)
    first = work.days[0]
    shut = [day for day in range(first, first + span_days + 1) if not plan.hours.open_day(day)][:_MOST_DAYS]
    for day in shut:
        yield f"somebody there on {day_said(clock, day, plan.floor.at)}", plan.with_hours(_OneDayMore(plan, day), days)


def _more_baths(plan: Plan) -> Iterator[tuple[str, Work]]:
    """A bath like one that stands, in a tub that stands empty."""
    day = plan.floor.book.clock.day_of(plan.floor.at)
    standing = {bath.vessel: bath for bath in plan.floor.standing()}
    empty = [v for tag, v in in_use(plan.floor.book.shop, day).items() if not v.is_drum and tag not in standing]
    wanted = {place for skin in plan.work.skins for spell in skin.spells[1:] for place in spell.tubs}
    for vessel in empty:
        if any(plan.vessels[place].tag == vessel.tag for place in wanted):
            continue  # it is laid out for another bath already
        for place in sorted(wanted):
            bath = standing.get(plan.vessels[place].tag)
            if bath is not None and not plan.vessels[place].is_drum:
                tub = tub_of(plan.floor, vessel)
                yield f"a bath like {bath.tag} mixed in {vessel.tag} too", _with_beside(plan.work, place, tub)


def _with_beside(work: Work, place: int, tub: Tub) -> Work:
    """The same work with one vessel more, for all that may go into another."""
    twin = len(work.tubs)
    skins = tuple(
        replace(
            skin,
            spells=tuple(replace(s, tubs=(*s.tubs, twin)) if place in s.tubs else s for s in skin.spells),
        )
        for skin in work.skins
    )
    return replace(work, tubs=(*work.tubs, tub), skins=skins)


class _OneDayMore(ShopHours):
    """The hours of the shop, and on one day more the hours of its fullest weekday."""

    __slots__ = ("_more", "_span")

    def __init__(self, plan: Plan, day: int) -> None:
        super().__init__(plan.floor.book.shop.shop, plan.floor.book.clock)
        self._more = day
        longest: Hours = max(plan.floor.book.shop.shop.hours, key=lambda hours: (hours.end - hours.start) % 1440)
        end = longest.end if longest.end > longest.start else longest.end + 1440
        clock = plan.floor.book.clock
        self._span = (clock.opening(day, longest.start), clock.opening(day, end))

    def stretches(self, day: int) -> tuple[tuple[int, int], ...]:
        """The day that is added has a stretch of its own (UTC seconds); every other day is the shop's."""
        return (self._span,) if day == self._more else super().stretches(day)
