"""A date with points (`3.11.2026`) says the day first; where the shop writes the month first and both could be, it is refused.

Common practice, no source: dates with points are written so in central and northern Europe.
"""

from __future__ import annotations

from datetime import date

import pytest

from hideledger.reading import read_sources
from hideledger.text.source import Source


@pytest.mark.parametrize(
    ("dates", "written", "read"),
    [
        ("month first", "3/11/2026", "2026-03-11"),
        ("day first", "3/11/2026", "2026-11-03"),
        ("day first", "3.11.2026", "2026-11-03"),
        ("", "3.11.2026", "2026-11-03"),
        ("month first", "25.11.2026", "2026-11-25"),
        ("month first", "11.25.2026", "2026-11-25"),
        ("month first", "3.3.2026", "2026-03-03"),
    ],
)
def test_a_date_with_points_is_day_first_where_no_other_day_could_be_meant(dates: str, written: str, read: str) -> None:
    shop = f"shop Fallow Creek Skins\n  zone America/Chicago\n{f'  dates {dates}' if dates else ''}\n"
    book = read_sources([Source(name="a.hides", text=f"{shop}\n{written} 8:00 P1 stirred\n")])
    assert [date.fromordinal(entry.when.day).isoformat() for entry in book.entries] == [read]


def test_under_month_first_a_date_with_points_that_could_be_two_days_is_refused_with_both() -> None:
    shop = "shop Fallow Creek Skins\n  zone America/Chicago\n  dates month first\n"
    book = read_sources([Source(name="a.hides", text=f"{shop}\n3.11.2026 8:00 P1 stirred\n9:00 P1 stirred\n")])
    assert book.entries == ()
    assert "2026-11-03 or 2026-03-11?" in book.unread[0].message
    assert book.unread[1].code == "no date", "the lines below it have no day either"
