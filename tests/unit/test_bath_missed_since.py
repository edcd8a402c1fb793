"""From when on a reading or a stir is told as missed: from an hour at which somebody is there to do it."""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from hideledger.reading import read_text
from hideledger.rules.judge import judge
from hideledger.shopfloor.layout import lay_out

ZONE = ZoneInfo("America/Chicago")
SHOP = """\
shop Fallow Creek Skins
  zone America/Chicago
  hours 8:00 to 18:00, Mon to Sat
  gallons US
  degrees F
vessel V1, vat, 40 gal, holds 12
process daily
  in
  pickle        stays, read every day, stirred every day, raw clock stops
  out
process hourly
  in
  pickle        stays, read every 12 h, stirred every 12 h, raw clock stops
  out
"""


def missed(process: str, *lines: str, hours: bool = True) -> dict[str, list[str]]:
    """Each name of a gap with when it began, on the shop's clock."""
    shop = SHOP if hours else SHOP.replace("  hours 8:00 to 18:00, Mon to Sat\n", "")
    page = f"2026-11-02 08:00 P3 mixed in V1, 20 gal water\n2026-11-02 08:05 H1 in, process {process}\n2026-11-02 08:10 H1 pickle in P3\n"
    book = read_text(shop + page + "".join(f"{line}\n" for line in lines))
    assert not book.unread
    at = int(datetime(2026, 11, 12, 12, tzinfo=ZONE).timestamp())
    found: dict[str, list[str]] = {}
    for one in judge(lay_out(book, at)):
        if one.name in ("reading missed", "stir missed"):
            assert one.since is not None
            found.setdefault(one.name, []).append(f"{datetime.fromtimestamp(one.since, ZONE):%a %H:%M}")
    return found


@pytest.mark.parametrize("next_done", ["2026-11-04 09:00", "2026-11-04 17:30", "2026-11-05 12:00"])
def test_an_open_day_left_out_is_missed_from_its_closing_on(next_done: str) -> None:
    found = missed(
        "daily",
        "2026-11-02 14:20 P3 stirred, pH 2.0",
        f"{next_done} P3 stirred, pH 2.0",
        f"{next_done[:11]}17:50 H1 out of P3",
    )
    assert found == {"reading missed": ["Tue 18:00"], "stir missed": ["Tue 18:00"]}


def test_a_limit_that_falls_in_the_night_is_missed_from_the_next_opening_on() -> None:
    found = missed(
        "hourly",
        "2026-11-02 14:00 P3 stirred, pH 2.0",
        "2026-11-03 11:00 P3 stirred, pH 2.0",
        "2026-11-03 12:00 H1 out of P3",
    )
    assert found == {"reading missed": ["Tue 08:00"], "stir missed": ["Tue 08:00"]}


def test_over_a_closed_sunday_it_is_missed_from_monday_on() -> None:
    days = [f"2026-11-0{day} {hour} P3 stirred, pH 2.0" for day in (2, 3, 4, 5, 6, 7) for hour in ("09:00", "17:30")]
    found = missed("hourly", *days, "2026-11-09 10:00 P3 stirred, pH 2.0", "2026-11-09 11:00 H1 out of P3")
    assert found["stir missed"][-1] == "Mon 08:00"


def test_done_in_the_night_itself_it_was_missed_up_to_then_and_no_later() -> None:
    found = missed(
        "hourly",
        "2026-11-02 14:00 P3 stirred, pH 2.0",
        "2026-11-03 05:00 P3 stirred, pH 2.0",
        "2026-11-03 12:00 H1 out of P3",
    )
    assert found == {"reading missed": ["Tue 05:00"], "stir missed": ["Tue 05:00"]}


def test_a_limit_by_day_and_a_shop_that_names_no_hours_go_by_the_limit() -> None:
    lines = (
        "2026-11-02 20:00 P3 stirred, pH 2.0",
        "2026-11-03 11:00 P3 stirred, pH 2.0",
        "2026-11-03 12:00 H1 out of P3",
    )
    assert missed("hourly", *lines)["stir missed"] == ["Tue 08:00"]
    assert (
        missed("hourly", "2026-11-02 14:00 P3 stirred, pH 2.0", "2026-11-03 11:00 P3 stirred, pH 2.0", hours=False)[
            "stir missed"
        ][0]
        == "Tue 02:00"
    )
