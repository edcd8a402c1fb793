"""What a line gets before it: the rules of a page, tried on lines as one says them."""

from __future__ import annotations

from datetime import date

import pytest

from hideledger.reading import read_text
from hideledger.reading.draft import Draft, draft
from hideledger.reading.stamping import Moment, composed
from hideledger.text.source import Source
from tests.unit.small_book import SHOP

DAY = date(2026, 11, 12).toordinal()
# What stands above must never reach the new lines: its date, its open comma, its definition.
ABOVE = "2026-10-30 23:30 H1 in, whitetail cape,"


def drafted(text: str, *, time: str = "10:05", day: int = DAY, above: str = ABOVE) -> Draft:
    """The lines of a text as they would stand in a page of the book."""
    book = read_text(f"{SHOP}\n{above}")
    at = book.clock.instant(day, int(time[:2]) * 60 + int(time[3:]))[0] if time else book.clock.day_end(day)
    moment = Moment(at=at, day=day, time=time)
    return draft(book, composed(text, moment, book.shop, book.clock), book.sources[0], moment)


def stands(text: str, *, time: str = "10:05", above: str = ABOVE) -> str:
    """The same, the lines alone."""
    return "\n".join(drafted(text, time=time, above=above).lines)


@pytest.mark.parametrize(
    ("written", "stands_as"),
    [
        ("H1 fleshed", "2026-11-12 10:05 H1 fleshed"),
        ("  H1 fleshed  ", "2026-11-12 10:05 H1 fleshed"),
        ("remark buy more salt", "2026-11-12 10:05 remark buy more salt"),
        ("7:45 P1 pH 2.1", "2026-11-12 7:45 P1 pH 2.1"),
        ("about 7:30 P1 pH 2.1", "2026-11-12 about 7:30 P1 pH 2.1"),
        ("morning P1 stirred", "2026-11-12 morning P1 stirred"),
        ("2026-11-03 H1 fleshed", "2026-11-03 H1 fleshed"),
        ("2026-11-03 07:45 P1 pH 2.1", "2026-11-03 07:45 P1 pH 2.1"),
        ("3 Nov 7:45 P1 pH 2.1", "2026-11-03 7:45 P1 pH 2.1"),
        ("11/3 P1 stirred", "2026-11-03 P1 stirred"),
        ("3 Jan P1 stirred", "2027-01-03 P1 stirred"),
        ("# the tub leaks", "# the tub leaks"),
        ("struck H1 out to Lena Orrick", "struck 2026-11-12 10:05 H1 out to Lena Orrick"),
        ("struck 8:20 H1 out to Lena Orrick", "struck 2026-11-12 8:20 H1 out to Lena Orrick"),
        ("~ 2026-11-03 H1 out", "~ 2026-11-03 H1 out"),
        ("H1 salt\u00a0— bit wet", "2026-11-12 10:05 H1 salt\u00a0— bit wet"),
        ("customer Ida Crane, phone 555-0123", "customer Ida Crane, phone 555-0123"),
        ("20261103 P1 stirred", "20261103 P1 stirred"),
        ("yesterday P1 stirred", "yesterday P1 stirred"),
    ],
)
def test_one_line(written: str, stands_as: str) -> None:
    assert stands(written).removeprefix("\n") == stands_as


def test_a_line_without_a_stamp_never_goes_on_with_the_entry_above() -> None:
    """The page ends with a comma: an empty line keeps apart what could otherwise be one entry with the line above."""
    assert stands("yesterday P1 stirred").startswith("\n")
    assert stands("# wet\nyesterday P1 stirred").startswith("\n")
    assert stands("yesterday P1 stirred", above="2026-10-30 P1 stirred, # a, b").startswith("\n")
    for above in ("2026-10-30 P1 stirred", "2026-10-30 P1 stirred # a,", "2026-10-30 P1 stirred,\n"):
        assert not stands("H1 fleshed", above=above).startswith("\n")
    assert not stands("yesterday P1 stirred", above="2026-10-30 P1 stirred # a,").startswith("\n")


def test_a_day_alone_as_the_moment_gives_a_date_and_no_time() -> None:
    assert stands("H1 fleshed", time="") == "2026-11-12 H1 fleshed"
    assert drafted("19:40 H1 fleshed", time="").to_come == ()


@pytest.mark.parametrize(
    ("written", "stands_as"),
    [
        ("H1 fleshed\nP1 stirred", "2026-11-12 10:05 H1 fleshed\n2026-11-12 10:05 P1 stirred"),
        (
            "2026-11-11 7:45 P1 pH 2.1\n  8:10 P1 stirred\nH1 fleshed",
            "2026-11-11 7:45 P1 pH 2.1\n2026-11-11 8:10 P1 stirred\n2026-11-11 H1 fleshed",
        ),
        (
            "7:45 P1 pH 2.1\nP1 stirred\n 8:30 H1 fleshed",
            "2026-11-12 7:45 P1 pH 2.1\n2026-11-12 P1 stirred\n2026-11-12 8:30 H1 fleshed",
        ),
        (
            "2026-11-10\n7:45 P1 stirred\n\n# so far\nP1 pH 2.0",
            "2026-11-10\n2026-11-10 7:45 P1 stirred\n\n# so far\n2026-11-10 P1 pH 2.0",
        ),
        (
            "H2 in, whitetail cape, green,\n  for Lena Orrick,\n  tag 7\n  -- wet",
            "2026-11-12 10:05 H2 in, whitetail cape, green,\n  for Lena Orrick,\n  tag 7\n  -- wet",
        ),
        ("2025-12-28 P1 stirred\n3 Jan P1 stirred", "2025-12-28 P1 stirred\n2026-01-03 P1 stirred"),
        (
            "2026-11-11 8:00 P1 stirred\nstruck 9:00 P1 pH 7",
            "2026-11-11 8:00 P1 stirred\nstruck 2026-11-11 9:00 P1 pH 7",
        ),
        ("\n\nH1 fleshed\n\n", "2026-11-12 10:05 H1 fleshed"),
    ],
)
def test_several_lines_carry_their_own_date_down_and_none_from_above(written: str, stands_as: str) -> None:
    assert stands(written) == stands_as


@pytest.mark.parametrize(
    "above", ["", "2026-10-30 23:30 H1 in,", "process tub\n  in", "2026\n", "2026-10-30 23:30 P1 stirred"]
)
def test_what_stands_above_changes_nothing(above: str) -> None:
    written = "3 Nov 7:45 P1 pH 2.1\n  0:10 P1 stirred\nH1 fleshed"
    assert stands(written, above=above) == stands(written, above="")
    # a definition that stands open above would take an indented line for one of its own
    assert len(drafted("  7:45 P1 pH 2.1", above=above).new) == 1


def test_a_time_still_to_come_is_asked_and_the_minutes_of_another_clock_are_let_pass() -> None:
    asked = drafted("19:40 H1 fleshed").to_come
    assert [complaint.message for complaint in asked] == [
        "19:40 is still to come today: 2026-11-11 or 2026-11-12? write the date before it"
    ]
    assert asked[0].text[asked[0].place.column - 1 :].startswith("19:40")
    assert drafted("10:12 H1 fleshed").to_come == ()
    assert drafted("2026-11-12 19:40 H1 fleshed").to_come == ()
    assert len(drafted("9:00 P1 stirred\n19:40 H1 fleshed").to_come) == 1
    assert len(drafted("evening P1 stirred").to_come) == 1


def test_a_time_past_midnight_is_asked_as_on_a_page() -> None:
    found = drafted("23:50 H2 in\n0:20 H3 in", time="23:55").unread
    assert [complaint.code for complaint in found] == ["past midnight"]


def test_a_bad_date_is_told_with_the_number_of_its_own_line() -> None:
    found = drafted("2026-13-03 7:45 P1 stirred\nH1 fleshed").unread
    first = found[0].place.line
    assert found[1].message.startswith(f"line {first} should have given the date")


def test_the_second_time_of_a_night_is_written_as_the_clock_shows_it_and_known_to_come_twice() -> None:
    """America/Chicago, 1 November 2026: 1:30 comes twice (IANA time zone database)."""
    made = drafted("H1 fleshed", time="01:30", day=date(2026, 11, 1).toordinal())
    (entry,) = [entry for entry in made.after.entries if entry.order in made.new]
    assert entry.when.twice


def test_new_lines_are_numbered_behind_those_above_and_before_those_of_later_pages() -> None:
    first, last = (
        Source(name="a.hides", text="2026-11-01 P1 stirred\n"),
        Source(name="b.hides", text="2026-11-02 P1 stirred\n"),
    )
    from hideledger.reading.book import read_sources

    book = read_sources([Source(name="0.hides", text=SHOP), first, last])
    moment = Moment(at=book.clock.day_end(DAY), day=DAY, time="10:05")
    made = draft(book, composed("P1 pH 2\nP1 pH 3", moment, book.shop, book.clock), first, moment)
    assert [entry.order for entry in made.after.entries] == sorted({entry.order for entry in made.after.entries})
    assert [entry.text for entry in made.after.entries] == [
        "2026-11-01 P1 stirred",
        "2026-11-12 10:05 P1 pH 2",
        "2026-11-12 10:05 P1 pH 3",
        "2026-11-02 P1 stirred",
    ]
