"""How long a record is kept: the calendar facts of published rules, as a shop would write each of them as its line.

What each rule counts from is as its text has it; the days are worked out by hand from a calendar.
"""

from __future__ import annotations

from datetime import date

import pytest

from hideledger.model.keeping import event_said, is_event, kept_through, last_month
from hideledger.model.moments import DAY, Length
from hideledger.model.shop import Keeping
from hideledger.text.place import Place

CAME, LEFT = date(2026, 10, 30), date(2026, 12, 10)


def line(after: str, *, years: int = 0, months: int = 0, days: int = 0, number: int = 1) -> Keeping:
    length = Length(months=12 * years + months, seconds=days * DAY)
    return Keeping(length=length, after=after, place=Place(file="shop.hides", line=number))


def through(*lines: Keeping, left: date | None = LEFT, last_line: date | None = None) -> date | None:
    kept = kept_through(lines, came=CAME, left=left, last_line=last_line or left)
    return None if kept is None else kept.through


RULES = [
    # 4VAC15-290-80 (Virginia): records "shall be retained for three years"; from when it does not say: here from the return.
    (line("out", years=3), date(2029, 12, 10)),
    # ECL 11-1733 (New York): at least five years.
    (line("out", years=5), date(2031, 12, 10)),
    # South Dakota Administrative Rule 41:09:11:03: five consecutive calendar years beginning 1 January of the year
    # following the year that the record was completed.
    (line("the year", years=5), date(2031, 12, 31)),
    # South Dakota Administrative Rule 41:06:03:11 (processing facilities): one year following receipt.
    (line("in", years=1), date(2027, 10, 30)),
    # 515 ILCS 5/20-85 (Illinois, aquatic life), by the synopsis of HB 232 (2009): two years.
    (line("in", years=2), date(2028, 10, 30)),
    # 15A NCAC 10H .1003 (North Carolina) as it stood in December 2016: at least one year after the termination of the
    # applicable taxidermy licence year. That the year ends with June is made up here; it stands on the licence.
    (line("the year ending june", years=1), date(2028, 6, 30)),
    # The same rule as of November 2024: one year following expiration of the licence, here one that ends with 2026.
    (line("2026-12-31", years=1), date(2027, 12, 31)),
    # 50 CFR 13.46: five years from the end of the permit (the length comes from memory), here one that ends on 31 March 2028.
    (line("2028-03-31", years=5), date(2033, 3, 31)),
]


@pytest.mark.parametrize(
    ("rule", "day"), RULES, ids=[f"{rule.length.months} mo after {rule.after}" for rule, _ in RULES]
)
def test_a_published_rule_ends_on_the_day_its_text_gives(rule: Keeping, day: date) -> None:
    assert through(rule) == day


def test_one_year_after_the_last_entry_moves_on_as_the_shop_writes_on() -> None:
    """50 CFR 20.82: one year following the last entry on the record."""
    rule = line("the last line", years=1)
    assert through(rule) == date(2027, 12, 10)
    assert through(rule, last_line=date(2027, 3, 2)) == date(2028, 3, 2)


def test_of_several_lines_the_latest_counts() -> None:
    """A shop in South Dakota that also mounts birds under a federal permit keeps to the longer of the two."""
    kept = kept_through(
        [line("out", years=3, number=1), line("the year", years=5, number=2), line("in", years=1, number=3)],
        came=CAME,
        left=LEFT,
        last_line=LEFT,
    )
    assert kept is not None
    assert (kept.through, kept.line.place.line) == (date(2031, 12, 31), 2)


def test_a_skin_that_is_here_has_no_day_yet_whatever_the_line_counts_from() -> None:
    for rule, _ in RULES:
        assert through(rule, left=None) is None


def test_no_line_gives_no_day() -> None:
    assert through() is None


def test_a_record_is_never_dropped_before_the_skin_has_left() -> None:
    assert through(line("in", days=10)) == LEFT
    assert through(line("2020-01-01", years=1)) == LEFT


@pytest.mark.parametrize(
    ("left", "day"),
    [
        (date(2026, 6, 30), date(2027, 6, 30)),  # the last day of the old licence year
        (date(2026, 7, 1), date(2028, 6, 30)),  # the first of the new one
    ],
)
def test_a_licence_year_has_its_own_new_year(left: date, day: date) -> None:
    assert through(line("the year ending june", years=1), left=left) == day


def test_a_year_after_the_29th_of_february_is_the_28th() -> None:
    """As the calendar has it, and as a lawyer counts it: the year is over with the 28th."""
    assert through(line("out", years=1), left=date(2028, 2, 29)) == date(2029, 2, 28)
    assert through(line("out", years=4), left=date(2028, 2, 29)) == date(2032, 2, 29)


def test_a_licence_year_from_august_to_july_is_read_too() -> None:
    """Virginia's application for a permit to stuff and mount gives its term as 1 August to 31 July."""
    assert through(line("the year ending July", years=3), left=date(2026, 7, 31)) == date(2029, 7, 31)
    assert through(line("the year ending July", years=3), left=date(2026, 8, 1)) == date(2030, 7, 31)


def test_months_days_and_parts_of_days_count_too() -> None:
    assert through(line("out", months=6), left=date(2026, 8, 31)) == date(2027, 2, 28)
    assert through(line("out", days=30)) == date(2027, 1, 9)
    half = Keeping(length=Length(seconds=DAY // 2), after="out", place=Place(file="shop.hides", line=1))
    assert through(half) == date(2026, 12, 11)


@pytest.mark.parametrize(
    ("event", "month"),
    [("the year", 12), ("year", 12), ("the year ending June", 6), ("year to sept", 9), ("out", None)],
)
def test_the_month_a_year_ends_in_is_read_by_its_name(event: str, month: int | None) -> None:
    assert last_month(event) == month


def test_what_no_time_counts_from_is_known_for_that() -> None:
    assert [
        event for event in ("moon", "the licence year", "the year ending J", "outt", "permit") if is_event(event)
    ] == []
    assert event_said("the year to june") == "the year ending June"
    assert event_said("out") == "out"
