"""The night the clocks go back: an hour comes twice, and the order of the lines on a page says which of the two is meant.

America/Chicago goes back on 1 November 2026 at 2:00 (15 U.S.C. 260a); the instants are the standard library's (PEP 495, fold).
"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from hideledger.cli import main
from hideledger.reading import read_text
from hideledger.rules.judge import judge
from hideledger.shopfloor.layout import lay_out

SHOP = """shop Pine Hollow Skins
  zone America/Chicago
kind cape, process tub
process tub
  in
  neutralised  stays 15 min to 30 min
  tan          stays 16 h to 24 h
  out
"""


def instant(hour: int, minute: int, *, again: bool, day: int = 1) -> int:
    local = datetime(2026, 11, day, hour, minute, tzinfo=ZoneInfo("America/Chicago"), fold=int(again))
    return int(local.timestamp())


def moments(lines: str) -> list[tuple[int, bool]]:
    book = read_text(SHOP + lines)
    assert book.unread == ()
    return [(entry.when.lo, entry.when.twice) for entry in book.entries]


def test_an_earlier_time_below_a_later_one_of_that_hour_is_the_second() -> None:
    lines = "2026-11-01 1:50 H1 remark a\n1:10 H1 remark b\n1:30 H1 remark c\n2:05 H1 remark d\n"
    assert moments(lines) == [
        (instant(1, 50, again=False), True),
        (instant(1, 10, again=True), False),
        (instant(1, 30, again=True), False),
        (instant(2, 5, again=False), False),
    ]


@pytest.mark.parametrize(
    "lines",
    [
        "2026-11-01 1:10 H1 remark a\n1:50 H1 remark b\n",  # in order: nothing says that the clocks went back between
        "2026-11-01 1:30 H1 remark a\n1:30 H1 remark b\n",
        "2026-11-01 2:10 H1 remark a\n2026-11-01 1:10 H1 remark b\n",  # written late, below a time that came once
        "2026-11-01 0:50 H1 remark a\n1:10 H1 remark b\n",
    ],
)
def test_else_the_first_is_taken_and_known_to_come_twice(lines: str) -> None:
    for lo, twice in moments(lines):
        minute = [
            int(part) for part in datetime.fromtimestamp(lo, ZoneInfo("America/Chicago")).strftime("%H %M").split()
        ]
        assert lo == instant(minute[0], minute[1], again=False)
        assert twice == (minute[0] == 1)


def test_twenty_minutes_over_that_hour_are_twenty_minutes() -> None:
    lines = "2026-10-31 08:00 H1 in, cape\n2026-11-01 1:50 H1 neutralised\n1:10 H1 tan\n"
    book = read_text(SHOP + lines)
    found = judge(lay_out(book, instant(3, 0, again=False)))
    assert [
        one.name for one in found if one.name in ("overdue", "stayed too long", "out of order", "came out early")
    ] == []


def test_a_line_that_is_written_at_the_bench_knows_the_one_above_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "shop.hides").write_text(SHOP, encoding="utf-8")
    page = tmp_path / "november.hides"
    page.write_text("2026-10-31 08:00 H1 in, cape\n2026-11-01 1:50 H1 neutralised\n", encoding="utf-8")
    main(["write", "1:10 H1 tan", "--book", str(tmp_path), "--at", "2026-11-01 03:00"])
    assert "after 20 min in neutralised" in " ".join(capsys.readouterr().out.split())
