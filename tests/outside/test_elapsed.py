"""Elapsed time over every clock change of ten zones in twenty years, against `whenever`, which reads the zone files by
itself.

`whenever` (https://whenever.readthedocs.io) neither uses zoneinfo nor datetime arithmetic. Which changes there were is
found with it too, so a change that the shop's clock overlooked would be seen.
"""

from __future__ import annotations

from datetime import date
from functools import lru_cache
from typing import Any

import pytest

from hideledger.model.moments import DAY, HOUR, MINUTE, Clock, NoSuchTime

whenever = pytest.importorskip("whenever")

ZONES = (
    "America/Chicago",
    "America/New_York",
    "America/Havana",  # changes at midnight: the first minute of a day is missing or comes twice
    "America/Sao_Paulo",  # gave it up in 2019
    "Europe/London",
    "Europe/Berlin",
    "Africa/Casablanca",  # sets the clocks back for Ramadan only
    "Australia/Lord_Howe",  # half an hour
    "Pacific/Auckland",
    "Pacific/Apia",  # left out the whole of 30 December 2011
)
FIRST, LAST = date(2007, 1, 1), date(2026, 12, 31)


def offset(instant: int, zone: str) -> int:
    """Seconds by which the wall is ahead of UTC."""
    there = whenever.Instant.from_timestamp(instant).to_tz(zone)
    days = date(there.year, there.month, there.day).toordinal() - date(1970, 1, 1).toordinal()
    return int(days * DAY + there.hour * HOUR + there.minute * MINUTE + there.second) - instant


@lru_cache(maxsize=len(ZONES))
def changes(zone: str) -> tuple[tuple[int, int, int], ...]:
    """Every change between the two days: the instant, the offset before, the offset after."""
    start = (FIRST.toordinal() - date(1970, 1, 1).toordinal()) * DAY
    end = (LAST.toordinal() - date(1970, 1, 1).toordinal()) * DAY
    found = []
    before = offset(start, zone)
    for instant in range(start + DAY, end, DAY):
        after = offset(instant, zone)
        if after != before:
            low, high = (instant - DAY) // MINUTE, instant // MINUTE
            while high - low > 1:
                middle = (low + high) // 2
                low, high = (middle, high) if offset(middle * MINUTE, zone) == before else (low, middle)
            found.append((high * MINUTE, before, after))
        before = after
    return tuple(found)


def wall(instant: int, ahead: int) -> tuple[int, int]:
    """Calendar day and minute that a clock `ahead` of UTC shows."""
    days, seconds = divmod(instant + ahead, DAY)
    return days + date(1970, 1, 1).toordinal(), seconds // MINUTE


def said_by_whenever(day: int, minute: int, zone: str, which: str = "earlier") -> int:
    """The first instant at which the wall shows this time; with `raise` its own refusal of a time that never was."""
    on = date.fromordinal(day)
    plain: Any = whenever.PlainDateTime(on.year, on.month, on.day, minute // 60, minute % 60)
    try:
        there = plain.assume_tz(zone, disambiguation=which)
    except TypeError:  # as the word was before 0.11
        there = plain.assume_tz(zone, disambiguate=which)
    return int(there.timestamp())


def test_there_are_changes_to_try() -> None:
    # Chicago: two a year; Sao Paulo from 2007 to 2019, the last in February 2019; Apia: the year it changed sides, and
    # summers to 2021
    assert len(changes("America/Chicago")) == 40
    assert 20 <= len(changes("America/Sao_Paulo")) <= 26
    assert any(after - before == 24 * HOUR for _, before, after in changes("Pacific/Apia"))


@pytest.mark.parametrize("zone", ZONES)
def test_hours_before_across_and_after_every_change(zone: str) -> None:
    clock = Clock(zone)
    tried = 0
    for change, before, after in changes(zone):
        moments = [wall(change - hours * HOUR, before) for hours in (36, 12, 5, 3, 2)]
        moments += [wall(change + hours * HOUR, after) for hours in (2, 3, 5, 12, 36)]
        ours = [clock.at(day, minute) for day, minute in moments]
        theirs = [said_by_whenever(day, minute, zone) for day, minute in moments]
        assert [when.lo for when in ours] == theirs, (zone, change)
        for i, first in enumerate(ours):
            for j in range(i, len(ours)):
                assert ours[j].lo - first.lo == theirs[j] - theirs[i]
                tried += 1
        # what really went by from 12 h before to 12 h after is a day, whatever the wall says
        assert ours[8].lo - ours[1].lo == DAY
    assert tried >= 55 * len(changes(zone)) > 0


@pytest.mark.parametrize("zone", ZONES)
def test_times_that_the_clocks_jump_over_do_not_exist(zone: str) -> None:
    clock = Clock(zone)
    gaps = [(change, before, after) for change, before, after in changes(zone) if after > before]
    assert gaps
    for change, before, after in gaps:
        missing = after - before
        for into in (0, MINUTE, missing // 2, missing - MINUTE):
            day, minute = wall(change + into, before)
            with pytest.raises(NoSuchTime):
                clock.at(day, minute)
            with pytest.raises(whenever.SkippedTime):
                said_by_whenever(day, minute, zone, "raise")
        assert clock.at(*wall(change - MINUTE, before)).lo == change - MINUTE
        assert clock.at(*wall(change, after)).lo == change


@pytest.mark.parametrize("zone", ZONES)
def test_times_that_come_twice_are_taken_as_the_first_and_say_so(zone: str) -> None:
    clock = Clock(zone)
    repeats = [(change, before, after) for change, before, after in changes(zone) if after < before]
    assert repeats
    for change, before, after in repeats:
        again = before - after
        for into in (0, MINUTE, again // 2, again - MINUTE):
            day, minute = wall(change + into, after)
            when = clock.at(day, minute)
            assert when.twice
            assert when.lo == change + into - again == said_by_whenever(day, minute, zone)
        for instant, ahead in ((change - again - MINUTE, before), (change + again, after)):
            when = clock.at(*wall(instant, ahead))
            assert (when.lo, when.twice) == (instant, False)


@pytest.mark.parametrize("zone", ZONES)
def test_a_day_without_a_time_is_as_long_as_it_really_was(zone: str) -> None:
    clock = Clock(zone)
    for change, before, after in changes(zone):
        day, _ = wall(change, min(before, after))
        for ordinal in range(day - 2, day + 3):
            some = clock.some_time(ordinal)
            start = said_by_whenever(ordinal, 0, zone)
            end = said_by_whenever(ordinal + 1, 0, zone)
            assert some.hi + 1 - some.lo == clock.day_end(ordinal) - clock.day_start(ordinal)
            if after < before or wall(change, before)[1] != 0:  # midnight itself was there
                assert (some.lo, some.hi + 1) == (start, end), (zone, date.fromordinal(ordinal))
