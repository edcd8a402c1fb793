"""The raw clock of skins from a frozen box: no hour counts twice, whenever they were taken out and whether a thaw was written."""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from hideledger.model.moments import HOUR
from hideledger.reading import read_text
from hideledger.shopfloor.layout import lay_out
from hideledger.shopfloor.life import RawClock

SHOP = """\
shop Fallow Creek Skins
  zone America/Chicago
  room 66 F
  degrees F
kind cape
place freezer, at most 5 F
process tub
  in
  fleshed
  pickle        stays, raw clock stops
  out
  raw at most 24 h at 66 F
  may rest frozen at most 9 mo, after in, raw clock stops, freezes in 12 h
2026-11-02 06:00 freezer -20 F
"""
FROZEN = "2026-11-02 08:00 B1 in, 2 capes, green, process tub\n2026-11-02 12:00 B1 frozen in freezer\n"
SINCE_THE_DOOR = 106


def clock_of(page: str, tag: str) -> RawClock:
    """The raw clock at six in the evening of the fourth day, 106 hours after the box came in."""
    at = int(datetime(2026, 11, 6, 18, tzinfo=ZoneInfo("America/Chicago")).timestamp())
    book = read_text(SHOP + page)
    assert not book.unread
    (life,) = lay_out(book, at).hides[tag]
    assert life.raw is not None
    return life.raw


def hours(clock: RawClock) -> tuple[float, float, float, float]:
    """Least and most in the shop, then weighted, in hours."""
    assert clock.weighted is not None
    return tuple(round(seconds / HOUR, 2) for seconds in (*clock.shop, *clock.weighted))  # type: ignore[return-value]


def test_taken_out_of_the_freezer_a_day_after_the_box_was_opened() -> None:
    """Four hours before the freezer, up to twelve until it was frozen through, six after it came out: at 66 F an hour weighs an hour, at -20 F nothing."""
    page = FROZEN + "2026-11-05 12:00 B1 opened, H1 H2\n2026-11-06 12:00 H1 out of freezer\n"
    assert hours(clock_of(page, "H1")) == (10, 22, 10, 10)
    assert hours(clock_of(page, "H2")) == (4, 16, 4, 4)


def test_fleshed_with_no_thaw_written_it_was_raw_since_the_freezer_at_most_and_no_longer() -> None:
    page = FROZEN + "2026-11-05 12:00 B1 opened, H1 H2\n2026-11-06 12:00 H1 fleshed\n"
    assert hours(clock_of(page, "H1")) == (10, SINCE_THE_DOOR, 10, SINCE_THE_DOOR)


@pytest.mark.parametrize(
    "page",
    [
        FROZEN + "2026-11-05 12:00 B1 opened, H1 H2\n2026-11-06 12:00 H1 fleshed\n",
        "2026-11-02 08:00 B1 in, 2 capes, frozen, process tub\n2026-11-02 B1 frozen in freezer\n2026-11-05 B1 opened, H1 H2\n2026-11-06 12:00 H1 fleshed\n",
        "2026-11-02 08:00 B1 in, 2 capes, green, process tub\n2026-11-02 B1 frozen in freezer\n2026-11-05 12:00 B1 opened, H1 H2\n2026-11-06 12:00 H1 fleshed\n",
        "2026-11-02 08:00 H1 in, cape, green, process tub\n2026-11-02 H1 frozen in freezer\n2026-11-06 12:00 H1 fleshed\n",
    ],
    ids=[
        "frozen at noon",
        "came in frozen",
        "frozen at no time that was written",
        "a hide of its own, frozen at no time that was written",
    ],
)
def test_no_hour_counts_twice(page: str) -> None:
    clock = clock_of(page, "H1")
    least, most, light, heavy = hours(clock)
    assert 0 < least <= most <= SINCE_THE_DOOR
    assert light <= heavy <= SINCE_THE_DOOR
    ends = [span[1] for span in clock.spans]
    assert all(start >= end for end, (start, *_) in zip(ends, clock.spans[1:], strict=False))
