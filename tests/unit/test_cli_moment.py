"""`--at` and `--ahead`: the only door through which time comes in."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from hideledger.cli.moment import Unclear, instant_of, is_a_day, length_of
from hideledger.model.moments import Clock

CHICAGO = Clock("America/Chicago")


def utc(*parts: int, zone: str = "America/Chicago") -> int:
    """By the standard library and the published zone data, not by the shop's clock."""
    return int(datetime(*parts, tzinfo=ZoneInfo(zone)).timestamp())  # type: ignore[misc,arg-type]


@pytest.mark.parametrize(
    ("written", "instant"),
    [
        ("2026-11-05 18:00", utc(2026, 11, 5, 18)),
        ("2026-11-05 7:05", utc(2026, 11, 5, 7, 5)),
        ("2026-11-06 5pm", utc(2026, 11, 6, 17)),
        ("2026-11-06 5:10 pm", utc(2026, 11, 6, 17, 10)),
        ("2026-11-06 17h10", utc(2026, 11, 6, 17, 10)),
        ("2026-11-06T17:10", utc(2026, 11, 6, 17, 10)),
        ("2026-11-06 noon", utc(2026, 11, 6, 12)),
        ("2026-11-06 0745", utc(2026, 11, 6, 7, 45)),
        ("2026-11-06 7.45", utc(2026, 11, 6, 7, 45)),
        ("2026-11-06 12:05 a.m.", utc(2026, 11, 6, 0, 5)),
        ("2026-11-05", utc(2026, 11, 6)),
        (" 2026-11-5 ", utc(2026, 11, 6)),
        # US clocks go back on the first Sunday in November (15 U.S.C. 260a): that day has 25 hours
        ("2026-11-01", utc(2026, 11, 2)),
        ("2026-10-31", utc(2026, 11, 1)),
        # of a time that comes twice that night the first is taken
        ("2026-11-01 01:30", utc(2026, 11, 1, 1, 30)),
        ("2027-12-31", utc(2028, 1, 1)),
        # as a line of the book may have it
        ("2026/11/5", utc(2026, 11, 6)),
        ("5 Nov 2026", utc(2026, 11, 6)),
        ("Nov 5th, 2026 7:30 pm", utc(2026, 11, 5, 19, 30)),
        ("5.11.2026 18:00", utc(2026, 11, 5, 18)),
        ("13/11/2026, 6 pm", utc(2026, 11, 13, 18)),
    ],
)
def test_a_date_means_its_end_and_a_time_that_minute(written: str, instant: int) -> None:
    assert instant_of(written, CHICAGO) == instant


def test_figures_alone_go_by_the_shops_own_line() -> None:
    assert instant_of("11/5/2026 6 pm", CHICAGO, "month first") == utc(2026, 11, 5, 18)
    assert instant_of("11/5/2026 6 pm", CHICAGO, "day first") == utc(2026, 5, 11, 18)
    assert instant_of("5.11.2026", CHICAGO, "day first") == utc(2026, 11, 6)
    with pytest.raises(Unclear, match="2026-11-05 or 2026-05-11"):
        instant_of("5.11.2026", CHICAGO, "month first")


def test_a_day_alone_is_known_in_every_form() -> None:
    assert is_a_day("5 Nov 2026")
    assert not is_a_day("5 Nov 2026 noon")
    assert not is_a_day(None)


def test_the_day_the_clocks_go_back_is_25_hours_long() -> None:
    assert instant_of("2026-11-01", CHICAGO) - instant_of("2026-10-31", CHICAGO) == 25 * 3600


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("tomorrow", "takes a date"),
        ("11/5/2026", "11/5/2026: 2026-11-05 or 2026-05-11. write one of them"),
        ("5 Nov", "of which year. write it as 2026-11-05"),
        ("5 Nov 2026 at six", "takes a date"),
        ("2026-11-05x", "takes a date"),
        ("18:00", "takes a date"),
        ("", "takes a date"),
        ("2026-13-01", "no month 13"),
        ("2026-02-29", "no such day"),
        ("0000-01-01", "no month 0|year 0"),
        ("9999-12-31", "in the year 9999"),
        ("2026-11-05 24:00", "between 0:00 and 23:59"),
        ("2026-11-05 12:60", "between 0:00 and 23:59"),
        ("2026-11-05 13pm", "1 to 12"),
        ("2026-11-05 evening", "takes a date"),
        ("2026-11-05 5 o'clock", "takes a date"),
        ("2026-11-05 17:10 sharp", "takes a date"),
        # 8 March 2026: the second Sunday in March (15 U.S.C. 260a)
        ("2026-03-08 02:30", "never was"),
        ("\u0662\u0660\u0662\u0666-11-05", "takes a date"),
    ],
)
def test_what_cannot_be_followed_is_said_in_one_sentence(written: str, said: str) -> None:
    with pytest.raises(Unclear, match=said):
        instant_of(written, CHICAGO)


def test_now_is_an_instant_and_does_not_hang_on_the_zone_of_the_shop() -> None:
    before = int(datetime.now(UTC).timestamp())
    for zone in ("America/Chicago", "Pacific/Auckland"):
        now = instant_of(None, Clock(zone))
        assert before - 60 < now <= before + 60
        assert now % 60 == 0, "9 min from now at 7:50 for 8:00 would be a minute short"


def test_without_a_zone_times_are_taken_as_they_stand() -> None:
    assert instant_of("2026-11-05 18:00", Clock(None)) == int(datetime(2026, 11, 5, 18, tzinfo=UTC).timestamp())
    wall = datetime.now(UTC).astimezone().replace(tzinfo=UTC)
    assert abs(instant_of(None, Clock(None)) - wall.timestamp()) < 60


@pytest.mark.parametrize(
    ("written", "seconds"),
    [
        ("14h", 14 * 3600),
        ("14 h", 14 * 3600),
        ("90 min", 5400),
        ("1 d 12 h", 36 * 3600),
        ("2 days", 2 * 86400),
        ("1 Week", 7 * 86400),
        ("0h", 0),
    ],
)
def test_a_length_of_time_ahead(written: str, seconds: int) -> None:
    assert length_of(written) == seconds


@pytest.mark.parametrize("written", ["", "14", "h", "14 lb", "1 mo", "-3h", "3h!", "99999 d", "a while"])
def test_no_length_of_time(written: str) -> None:
    with pytest.raises(Unclear, match="--ahead takes a length of time"):
        length_of(written)
