"""The timetable on the sample books, at busy moments: it follows the rule, keeps the hours, and its lines are lines of the book."""

from __future__ import annotations

from datetime import date
from functools import lru_cache
from pathlib import Path

import pytest

from hideledger.answers.load.baths import baths_of
from hideledger.answers.load.jobs import Plan, plan_of
from hideledger.answers.load.lines import lines_to_write
from hideledger.answers.load.loads import loads_in_order
from hideledger.model.book import Book
from hideledger.model.moments import MINUTE, Clock
from hideledger.reading import read_book, read_sources, read_text
from hideledger.rules.hours import ShopHours
from hideledger.shopfloor.layout import lay_out
from hideledger.text.source import Source
from hideledger.trade.timetable import Layout, faults_of
from hideledger.trade.timetable_best import best_layout

SAMPLES = Path(__file__).resolve().parents[2] / "sample_ledgers"
MOMENTS = (
    ("tarrow-ridge", 2026, 10, 24),
    ("tarrow-ridge", 2026, 11, 19),
    ("tarrow-ridge", 2026, 12, 1),
    ("tarrow-ridge", 2026, 12, 23),
    ("tarrow-ridge", 2027, 1, 28),
    ("harbour-road", 2026, 9, 30),
    ("harbour-road", 2027, 4, 2),
    ("first-week", 2026, 10, 31),
)


@lru_cache(maxsize=4)
def book_of(name: str) -> Book:
    return read_book([str(SAMPLES / name)])


def planned(book: Book, year: int, month: int, day: int, hour: int = 9) -> tuple[Plan, Layout | None]:
    at = book.clock.opening(date(year, month, day).toordinal(), hour * 60)
    plan = plan_of(lay_out(book, at), ShopHours(book.shop.shop, book.clock))
    return plan, best_layout(plan.work, nodes=20_000).layout


@pytest.mark.parametrize(("name", "year", "month", "day"), MOMENTS)
def test_every_sample_book_gets_a_sound_timetable(name: str, year: int, month: int, day: int) -> None:
    plan, layout = planned(book_of(name), year, month, day)
    assert layout is not None
    assert faults_of(plan.work, layout) == []
    for job, visits in zip(plan.jobs, layout, strict=True):
        assert len(visits) == len(job.parts) + 1
        for visit in visits:
            assert plan.hours.is_open(visit.end * MINUTE), job.life.tag


@pytest.mark.parametrize(("name", "year", "month", "day"), MOMENTS)
def test_the_lines_to_write_are_understood_in_that_book(name: str, year: int, month: int, day: int) -> None:
    book = book_of(name)
    plan, layout = planned(book, year, month, day)
    assert layout is not None
    loads = loads_in_order(plan, layout)
    rows = lines_to_write(plan, layout, loads, baths_of(plan, layout, loads))
    text = "\n".join(row.text for row in rows)
    whole = read_sources([*book.sources, Source(name="next", text=text + "\n")])
    assert [one for one in whole.unread if one.place.file == "next"] == []


def test_a_length_of_time_is_real_in_the_night_the_clocks_change() -> None:
    """A soak of 8 hours at the least, begun at 1:00 by the shop's clock when at 2:00 the hour begins anew: over at 8:00, not at 9:00."""
    book = read_text(
        """shop Fallow Creek Skins
  zone America/Chicago
vessel V1, vat, holds 12
kind coyote, process furs
process furs
  in
  soaked stays 8 h to 9 h
  tan stays 2 h to 3 h, in a bath
  out

2026-11-01 00:55 H1 in, coyote, 3 lb
2026-11-01 01:00 H1 soaked
"""
    )
    clock: Clock = book.clock
    at = clock.opening(date(2026, 11, 1).toordinal(), 6 * 60)
    plan = plan_of(lay_out(book, at), ShopHours(book.shop.shop, clock))
    layout = best_layout(plan.work).layout
    assert layout is not None
    assert f"{clock.local(layout[0][0].end * MINUTE):%H:%M}" == "08:00"
    assert f"{clock.local(layout[0][1].end * MINUTE):%H:%M}" == "10:00"
