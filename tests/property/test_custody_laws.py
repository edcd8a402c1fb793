"""Sentences about custody as laws, tried on made-up books: no skin is forgotten, none counted twice, and the year's sums agree."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import date

from hypothesis import given, settings
from hypothesis import strategies as st

from hideledger.answers.custody.count import flow
from hideledger.answers.custody.places import place_table
from hideledger.answers.custody.record import recorded
from hideledger.answers.custody.register import register
from hideledger.answers.custody.table import register_table
from hideledger.answers.export.answer import export_tables
from hideledger.model.facts import (
    Arrived,
    Code,
    Divided,
    Fact,
    HandedOut,
    LiftedOut,
    Lost,
    Opened,
    Party,
    Refused,
    StandsIn,
    Stepped,
)
from hideledger.model.keeping import kept_through
from hideledger.model.moments import DAY, Length
from hideledger.model.shop import Keeping
from hideledger.rules.judge import judge
from hideledger.shopfloor.custody import custody_of
from hideledger.shopfloor.floor import Floor
from hideledger.text.place import Place
from tests.unit.little_book import Page

TAGS = ("H1", "H2", "H3", "B1")


@dataclass(frozen=True)
class Line:
    """A day from 28 December 2026 on, minutes past midnight or none, who, what."""

    day: int
    minute: int | None
    who: str
    facts: tuple[Fact, ...]

    @property
    def stamp(self) -> str:
        day = date.fromordinal(date(2026, 12, 28).toordinal() + self.day).isoformat()
        return day if self.minute is None else f"{day} {self.minute // 60:02d}:{self.minute % 60:02d}"


what: st.SearchStrategy[tuple[Fact, ...]] = st.one_of(
    st.just((Arrived(),)),
    st.just((Arrived(), Party(role="for", name="Oren Vale"), Code(sort="tag", code="40718"))),
    st.just((Arrived(count=3), Party(role="for", name="Harrow Tannery"))),
    st.just((HandedOut(to="Oren Vale"),)),
    st.just((Lost(),)),
    st.just((Refused(),)),
    st.just((Divided(parts=(("H1a", "cape"), ("H1b", "back skin"))),)),
    st.just((Divided(parts=(("H2", "cape"), ("H4", "back skin"))),)),
    st.just((Opened(tags=("H5", "H6"), their_tags=("R-1", "R-2")),)),
    st.just((StandsIn(other="H1"),)),
    st.just((Stepped(step="pickle", where="V1"),)),
    st.just((Stepped(step="fleshed"),)),
    st.just((LiftedOut(where="B1"),)),
)
lines = st.builds(
    Line,
    st.integers(0, 7),
    st.none() | st.integers(0, 1439),
    st.sampled_from((*TAGS, "H1a", "H5")),
    what,
)
books = st.lists(lines, max_size=12)
FIRST, LAST = date(2026, 12, 30).toordinal(), date(2027, 1, 2).toordinal()


def floor_of(written: list[Line], at: str = "2027-01-10 12:00") -> Floor:
    page = Page()
    for line in written:
        page.line(line.stamp, line.who, *line.facts)
    return page.floor(at)


@given(books)
def test_every_hide_of_the_book_is_in_the_register_once(written: list[Line]) -> None:
    floor = floor_of(written)
    records = custody_of(floor)
    assert {id(one.life) for one in records} == {id(life) for life in floor.all_hides()}
    assert len(records) == len(floor.all_hides())
    made = recorded(floor, records)
    assert [one.number for one in made] == list(range(1, len(made) + 1))
    sheet = register(floor, made, open_first=True)
    told = sum(len(section.rows) for section in sheet.sections if "in order of arrival" in section.heading)
    assert told == len(made)


@given(books)
def test_arrivals_are_in_order_and_parts_stand_behind_what_they_came_out_of(written: list[Line]) -> None:
    records = custody_of(floor_of(written))
    arrivals = [(one.life.arrived_when.lo, one.life.arrived.order) for one in records]
    assert arrivals == sorted(arrivals)
    seen: set[int] = set()
    for one in records:
        assert one.whole is None or id(one.whole) in seen
        seen.add(id(one))


@given(books)
def test_what_was_here_and_came_is_what_went_and_is_here(written: list[Line]) -> None:
    records = custody_of(floor_of(written))
    found = flow(records, FIRST, LAST)
    assert found.balanced
    before = flow(records, date(2026, 12, 1).toordinal(), FIRST - 1)
    after = flow(records, LAST + 1, date(2027, 1, 10).toordinal())
    assert before.at_start == 0
    assert before.at_end == found.at_start
    assert found.at_end == after.at_start
    assert after.at_end == sum(one.life.count for one in records if one.life.here)


@given(books)
def test_the_list_to_count_against_has_exactly_what_is_here(written: list[Line]) -> None:
    floor = floor_of(written)
    rows = place_table(floor, recorded(floor, custody_of(floor))).rows
    assert sorted(str(row[1]) for row in rows) == sorted(life.tag for life in floor.here())


@settings(max_examples=40, deadline=None)
@given(books)
def test_the_export_has_the_rows_of_the_floor(written: list[Line]) -> None:
    floor = floor_of(written)
    findings = judge(floor)
    tables = {table.name: table for table in export_tables(floor, findings)}
    lives = floor.all_hides()
    assert len(tables["events"].rows) == len(floor.entries)
    assert len(tables["hides"].rows) == len(lives)
    assert len(tables["stays"].rows) == sum(len(life.stays) for life in lives)
    assert len(tables["steps"].rows) == sum(len(life.marks) for life in lives)
    assert len(tables["baths"].rows) == len(floor.all_baths())
    assert len(tables["findings"].rows) == len(findings)
    for table in tables.values():
        ids = [row[0] for row in table.rows]
        assert table.name == "book" or ids == list(range(1, len(ids) + 1))
        for record, flat in zip(table.records(), table.flat(), strict=True):
            json.dumps(record, allow_nan=False)
            assert all(cell is None or isinstance(cell, str | int | float) for cell in flat)
            for column in table.columns:
                if column.points_to and record[column.name] is not None:
                    assert 1 <= int(str(record[column.name])) <= len(tables[column.points_to].rows)


@settings(max_examples=40)
@given(books)
def test_the_register_as_a_table_has_a_cell_for_every_column(written: list[Line]) -> None:
    floor = floor_of(written)
    table = register_table(recorded(floor, custody_of(floor)))
    assert all(len(row) == len(table.columns) for row in table.rows)
    assert len(list(table.flat())) == len(table.rows)


days = st.dates(date(1990, 1, 1), date(2080, 12, 31))
events = st.sampled_from(("in", "out", "the year", "the year ending june", "the year ending february", "the last line"))
keepings = st.builds(
    lambda months, number, after: Keeping(
        length=Length(months=months, seconds=number * DAY), after=after, place=Place(file="shop.hides", line=1)
    ),
    st.integers(0, 120),
    st.integers(0, 400),
    events,
)


@given(st.lists(keepings, min_size=1, max_size=4), days, st.integers(0, 2000), st.integers(0, 2000))
def test_a_further_rule_never_lets_a_record_go_sooner(lines: list[Keeping], came: date, stay: int, wrote: int) -> None:
    left = date.fromordinal(came.toordinal() + stay)
    last_line = date.fromordinal(left.toordinal() + wrote)
    kept = kept_through(lines, came=came, left=left, last_line=last_line)
    fewer = kept_through(lines[:-1], came=came, left=left, last_line=last_line)
    assert kept is not None and kept.through >= left
    assert fewer is None or fewer.through <= kept.through


@given(keepings, days, st.integers(0, 400))
def test_a_skin_that_left_later_is_kept_no_shorter(line: Keeping, left: date, later: int) -> None:
    other = date.fromordinal(left.toordinal() + later)
    first = kept_through([line], came=left, left=left, last_line=left)
    second = kept_through([line], came=left, left=other, last_line=other)
    assert first is not None and second is not None
    assert first.through <= second.through
