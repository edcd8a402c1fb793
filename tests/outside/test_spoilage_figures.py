"""Published spoilage figures through the raw clock of small books: r(T) = ((T + 10) / 10)^2 against 0 C.

Sources: relative rates of spoilage, Technical University of Denmark (sssp.dtuaqua.dk, RRS generic; Dalgaard 2002: 21 d at 5 C are 47.2 d at
0 C with Tmin -10 C), and the closed forms of the same square-root model (Ratkowsky and Olley). The model is for flesh; no published study
of hair slip by hours and warmth was found, so it is a yardstick for comparing hours and no limit.
"""

from __future__ import annotations

import math
from datetime import date

import pytest

from hideledger.model.moments import HOUR
from hideledger.reading import read_text
from hideledger.shopfloor.layout import lay_out
from hideledger.shopfloor.life import RawClock

SHOP = """\
shop Trial
  zone UTC
  degrees C
place cooler
kind whitetail cape
process plain
  in
  salt  optional, raw clock stops
  out
  raw at most 40 h at {at} C
  may rest frozen at most 9 mo, after in, raw clock stops
"""


def raw_hours(page: str, at: str, reference: str = "0") -> float:
    """Hours at the reference temperature, as the book's own clock has them."""
    clock = raw_clock(page, at, reference)
    assert clock.weighted is not None
    assert clock.weighted[0] == clock.weighted[1]
    return clock.weighted[1] / HOUR


def raw_clock(page: str, at: str, reference: str = "0") -> RawClock:
    book = read_text(SHOP.format(at=reference) + page)
    assert not book.unread, [complaint.message for complaint in book.unread]
    day, time = at.split()
    hour, minute = time.split(":")
    floor = lay_out(book, book.clock.instant(date.fromisoformat(day).toordinal(), int(hour) * 60 + int(minute))[0])
    clock = floor.hides["H1"][0].raw
    assert clock is not None
    return clock


def test_twenty_one_days_at_five_degrees_are_forty_seven_at_nought() -> None:
    page = "2026-03-02 07:59 room 5 C\n2026-03-02 08:00 H1 in, whitetail cape\n"
    assert raw_hours(page, "2026-03-23 08:00") / 24 == pytest.approx(47.25, abs=1e-6)  # printed there as 47.2


def test_three_temperatures_of_the_room_add_up() -> None:
    """2 h at 30 C, 6 h at 15 C, 18 h at 4 C: 32.00 + 37.50 + 35.28 h at 0 C, 53.46 h at 4 C."""
    page = (
        "2026-03-02 08:00 room 30 C\n2026-03-02 08:00 H1 in, whitetail cape\n"
        "2026-03-02 10:00 room 15 C\n2026-03-02 16:00 room 4 C\n"
    )
    assert raw_hours(page, "2026-03-03 10:00") == pytest.approx(104.78, abs=1e-3)
    assert raw_hours(page, "2026-03-03 10:00", reference="4") == pytest.approx(53.46, abs=0.005)


def test_two_hours_at_twenty_degrees_are_eighteen_at_nought() -> None:
    page = "2026-03-02 08:00 room 20 C\n2026-03-02 08:00 H1 in, whitetail cape\n"
    assert raw_hours(page, "2026-03-02 10:00") == pytest.approx(18.0, abs=1e-6)


def test_a_hide_that_cools_evenly_read_every_five_minutes() -> None:
    """38 to 4 C in 6 h: 6 (48^3 - 14^3) / (3 * 34 * 100) = 63.44 h at 0 C. The clock takes the last reading as it stands."""
    lines = ["2026-03-02 08:00 H1 in, whitetail cape"]
    for minute in range(0, 360, 5):
        hour, past = divmod(minute + 480, 60)
        lines.append(f"2026-03-02 {hour:02d}:{past:02d} room {38 - 34 * (minute + 2.5) / 360:.3f} C")
    assert raw_hours("\n".join(lines) + "\n", "2026-03-02 14:00") == pytest.approx(63.44, rel=1e-3)


def test_a_hide_that_cools_as_warm_things_do() -> None:
    """4 + 34 exp(-t / 2 h) over 12 h: 54.0727 h at 0 C by the closed form."""
    lines = ["2026-03-02 08:00 H1 in, whitetail cape"]
    for minute in range(0, 720, 5):
        hour, past = divmod(minute + 480, 60)
        lines.append(f"2026-03-02 {hour:02d}:{past:02d} room {4 + 34 * math.exp(-(minute + 2.5) / 120):.3f} C")
    assert raw_hours("\n".join(lines) + "\n", "2026-03-02 20:00") == pytest.approx(54.0727, rel=1e-3)


def test_read_only_at_both_ends_the_warm_hours_weigh_too_much() -> None:
    """What nobody read in between counts at the last reading: 6 h at 38 C, 138.24 h, more than the 63.44 of an even cooling."""
    page = "2026-03-02 08:00 room 38 C\n2026-03-02 08:00 H1 in, whitetail cape\n2026-03-02 14:00 room 4 C\n"
    assert raw_hours(page, "2026-03-02 14:00") == pytest.approx(6 * 4.8**2, rel=1e-9)


def test_frozen_time_weighs_nothing_and_the_thaw_goes_on_where_it_stood() -> None:
    page = (
        "2026-03-02 08:00 room 20 C\n2026-03-02 08:00 H1 in, whitetail cape\n2026-03-02 10:00 H1 frozen\n"
        "2026-05-02 08:00 room 20 C\n2026-05-02 08:00 H1 thawed\n"
    )
    assert raw_hours(page, "2026-05-02 07:00") == pytest.approx(18.0, abs=1e-6)
    assert raw_hours(page, "2026-05-02 09:00") == pytest.approx(27.0, abs=1e-6)


def test_at_ten_below_nothing_spoils() -> None:
    page = "2026-03-02 08:00 room -10 C\n2026-03-02 08:00 H1 in, whitetail cape\n"
    assert raw_hours(page, "2026-03-09 08:00") == 0
