"""Which clocks stand on the sheet at a given moment, in which order, and what is said of each.

Lengths of time are reckoned by hand beside each case; the limits are those of the little book.
"""

import pytest

from hideledger.answers.clocks.answer import any_over, clock_sheet
from hideledger.answers.sheet import Sheet
from tests.unit.clock_book import PICKLED, SHOP, book_of, instant, look

Parts = dict[str, list[tuple[str, str]]]


def sheet(*lines: str, at: str, page: str = PICKLED, shop: str = SHOP, seconds: bool = False) -> Sheet:
    book = book_of(*lines, page=page, shop=shop)
    return clock_sheet(look(book, at), instant(book, at), seconds=seconds)


def parts(answer: Sheet) -> Parts:
    return {section.heading: [(row.head, row.text) for row in section.rows] for section in answer.sections}


def test_hides_alike_are_one_clock_and_the_line_to_write_names_them_all() -> None:
    answer = sheet("2026-11-05 16:40 H1 H2 neutralised", at="2026-11-05 17:02")
    told = parts(answer)
    # 16:40 and 30 min is 17:10, 8 min after 17:02; within the last 5 min it would be due
    assert told["Ends today"] == [("8 min left", "H1 H2: neutralised since 16:40, 30 min at most, time is up 17:10")]
    assert told["Ready"][0] == ("ready", "H1 H2: neutralised since 16:40, 20 min at least, ready since 17:00")
    assert answer.sections[0].rows[0].plain[5].endswith("then `H1 H2 first turn in L1`")
    assert "Overdue" not in told
    assert "Not understood" not in told


@pytest.mark.parametrize(
    ("at", "heading", "head"),
    [
        ("2026-11-05 16:41", "Ends today", "29 min left"),
        ("2026-11-05 17:04:59", "Ends today", "5 min left"),
        ("2026-11-05 17:05", "Ends today", "due, 5 min left"),
        ("2026-11-05 17:05:12", "Ends today", "due, 4:48 left"),
        ("2026-11-05 17:09:59", "Ends today", "due, 0:01 left"),
        ("2026-11-05 17:10", "Ends today", "time is up"),
        ("2026-11-05 17:10:30", "Overdue", "time is up"),
        ("2026-11-05 17:11", "Overdue", "1 min over"),
        ("2026-11-05 17:27:40", "Overdue", "17 min over"),
        ("2026-11-05 19:12", "Overdue", "2 h 2 min over"),
    ],
)
def test_a_clock_counts_down_to_its_end_and_up_behind_it(at: str, heading: str, head: str) -> None:
    """Thirty minutes from 16:40 end at 17:10; a limit met to the minute is kept."""
    told = parts(sheet("2026-11-05 16:40 H1 neutralised", at=at, seconds=True))
    limits = [(where, row[0]) for where, rows in told.items() for row in rows if "30 min at most" in row[1]]
    assert limits == [(heading, head)]


def test_what_is_overdue_comes_first_the_shortest_limit_before_the_longer_one() -> None:
    answer = sheet(
        "2026-11-05 16:00 H1 neutralised",
        "2026-11-05 16:40 H2 neutralised",
        "2026-11-05 16:41 H2 soap",
        "2026-11-05 16:50 H3 neutralised",
        at="2026-11-05 17:02",
    )
    told = parts(answer)
    assert list(told)[:2] == ["Overdue", "Ends today"]
    assert [head for head, _ in told["Overdue"]] == ["11 min over", "32 min over"]
    assert [text.split(":")[0] for _, text in told["Overdue"]] == ["H2", "H1"]
    assert [row for row in told["Ends today"] if "at most" in row[1]] == [
        ("18 min left", "H3: neutralised since 16:50, 30 min at most, time is up 17:20")
    ]
    do = [text for row in answer.sections[0].rows for label, text in row.under if label == "do"]
    assert do == [
        "go on with it and write: mix the load first, `L1 mixed in D1`, then `H2 first turn in L1`",
        "go on with it and write: mix the load first, `L1 mixed in D1`, then `H1 first turn in L1`",
    ]


def test_a_shortest_time_still_to_come_is_a_clock_of_its_own() -> None:
    told = parts(sheet("2026-11-05 16:40 H1 neutralised", at="2026-11-05 16:47"))
    assert told["Ends today"] == [
        ("ready in 13 min", "H1: neutralised since 16:40, 20 min at least, ready 17:00"),
        ("23 min left", "H1: neutralised since 16:40, 30 min at most, time is up 17:10"),
    ]


DRUM = (
    "2026-11-05 15:00 L1 mixed in D1, 8 gal water",
    "2026-11-05 15:10 H1 neutralised 25 min",
    "2026-11-05 15:12 H1 first turn in L1",
    "2026-11-05 15:20 L1 on",
)


def test_a_drum_counts_only_the_time_it_turns_and_a_stop_stands_still() -> None:
    """On at 15:20, off at 15:32 (12 min), on again at 16:02: thirty minutes are turned at 16:20, fifty at 16:40."""
    running = parts(sheet(*DRUM, at="2026-11-05 15:30"))["Ends today"]
    assert [head for head, _ in running] == ["ready in 20 min", "40 min left"]
    stopped = (*DRUM, "2026-11-05 15:32 L1 off")
    for at in ("2026-11-05 15:40", "2026-11-05 16:01"):
        told = parts(sheet(*stopped, at=at))
        assert told["Standing still"] == [
            ("ready in 18 min", "H1: first turn in L1 since 15:12, 30 min at least, stands still"),
            ("38 min left", "H1: first turn in L1 since 15:12, 50 min at most, turned 12 min, stands still"),
        ]
        assert all("first turn" not in text for _, text in told["Ends today"])
    again = parts(sheet(*stopped, "2026-11-05 16:02 L1 on", at="2026-11-05 16:10"))["Ends today"]
    assert [head for head, _ in again] == ["ready in 10 min", "30 min left"]
    assert again[0][1].endswith("ready 16:20")
    assert again[1][1].endswith("time is up 16:40")
    over = sheet(*stopped, "2026-11-05 16:02 L1 on", at="2026-11-05 16:50")
    assert parts(over)["Overdue"][0][0] == "10 min over"
    assert [text for _, text in over.sections[0].rows[0].under] == ["stop it and write: `L1 off`"]


def test_a_drum_that_stands_loaded_is_a_clock_of_the_load() -> None:
    """Off at 15:32 and 14 hours: 05:32, when nobody is there, so somebody has to see to it before closing at 18:00."""
    told = parts(sheet(*DRUM, "2026-11-05 15:32 L1 off", at="2026-11-05 16:00"))
    (row,) = (row for row in told["Before the shop opens again"] if "standing loaded" in row[1])
    assert row[0] == "13 h 32 min left"
    assert row[1].startswith("L1: standing loaded since Thu 5 Nov 15:32, 14 h at most, time is up tomorrow 05:32")
    assert row[1].endswith("when nobody is there; act before closing, 18:00")


def test_the_raw_clock_of_a_green_skin_is_on_the_sheet() -> None:
    """In at 8:00 at 66 F, which is the warmth of the limit: twelve hours are over at 20:00."""
    page = PICKLED + "2026-11-05 08:00 H5 in, whitetail cape, green, for Ida Crane\n2026-11-05 08:10 H5 fleshed\n"
    told = parts(sheet(page=page, at="2026-11-05 17:00"))
    (row,) = (row for row in told["Ends today"] if row[1].startswith("H5"))
    assert row == (
        "3 h left",
        "H5: raw for 9 h in the shop, 12 h at most, time is up 20:00, when nobody is there; act before closing, 18:00",
    )
    late = parts(sheet(page=page, at="2026-11-05 20:17"))
    assert next(row for row in late["Overdue"] if row[1].startswith("H5"))[0] == "17 min over"


def test_the_reading_of_a_bath_is_a_clock_of_the_bath() -> None:
    page = PICKLED.replace("2026-11-05 15:00 P1 pH 2.0 strip\n", "")
    told = parts(sheet(page=page, at="2026-11-05 16:00"))
    assert told["Ends today"] == [
        ("2 h left", "P1: to read, last read Wed 4 Nov 09:00; to be read every open day, by 18:00")
    ]
    dosed = parts(sheet("2026-11-05 15:30 P1 add 1 lb salt", at="2026-11-05 16:00"))
    assert [row[0] for row in dosed["Ends today"]] == ["30 min left"]
    assert "to be read within an hour of a dose, by 16:30" in dosed["Ends today"][0][1]


def test_clocks_run_on_real_time_in_the_night_the_clocks_go_back() -> None:
    """US clocks went back from 2:00 to 1:00 on 1 November 2026 (15 U.S.C. 260a): from 22:00 to 03:00 are six hours."""
    page = (
        "2026-10-28 08:00 P1 mixed in V1, recipe pickle, 20 gal water, 20 lb salt\n"
        "2026-10-28 09:00 H1 in, whitetail cape, green, for Oren Vale\n"
        "2026-10-28 10:00 H1 fleshed, pickle in P1\n"
        "2026-10-31 22:00 H1 neutralised 20 min\n"
        "2026-10-31 22:00 H1 tan\n"
    )
    told = parts(sheet(page=page, at="2026-11-01 03:00"))
    # sixteen hours from 22:00 daylight time are 13:00 standard time, twenty-four are 21:00
    rows = [row for rows in told.values() for row in rows if row[1].startswith("H1: tan")]
    assert [row[0] for row in rows] == ["ready in 10 h", "18 h left"]
    assert "ready 13:00" in rows[0][1]
    assert "time is up 21:00" in rows[1][1]


def test_a_line_without_a_time_gives_a_range_and_may() -> None:
    """Some time on the 5th before 00:55: it began between 0:00 and 0:55, so it ends between 0:30 and 1:25."""
    lines = ("2026-11-05 H1 neutralised",)
    page = PICKLED.replace("2026-11-05 15:00 P1 pH 2.0 strip\n", "")
    told = parts(sheet(*lines, page=page, at="2026-11-05 00:55"))
    assert told["Overdue"] == [
        (
            "may be 25 min over",
            "H1, maybe: neutralised since some time today, 30 min at most, time was up between 00:30 and 01:25",
        )
    ]
    assert (
        "may be ready",
        "H1: neutralised since some time today, 20 min at least, ready between 00:20 and 01:15",
    ) in told["Ready"]


def test_a_hide_that_rests_has_no_clock_but_its_rest() -> None:
    lines = ["2026-11-05 16:40 H1 neutralised", "2026-11-05 16:45 H1 frozen in freezer"]
    told = parts(sheet(*lines, at="2026-11-05 17:30"))
    assert not [text for rows in told.values() for _, text in rows if "H1" in text]
    thawed = parts(sheet(*lines, "2026-11-05 17:30 H1 thawed", at="2026-11-05 17:35"))
    # five minutes before the freezer and five after it: of thirty, twenty are left
    assert [row for rows in thawed.values() for row in rows if "30 min at most" in row[1]] == [
        ("20 min left", "H1: neutralised since 16:40, 30 min at most, time is up 17:55")
    ]


def test_a_waived_limit_is_no_clock_any_more() -> None:
    lines = ["2026-11-05 16:00 H1 H2 neutralised", "2026-11-05 16:50 H1 waived overdue -- the cut was not through yet"]
    told = parts(sheet(*lines, at="2026-11-05 17:00"))
    assert [text.split(":")[0] for _, text in told["Overdue"]] == ["H2"]
    bare = parts(sheet(lines[0], "2026-11-05 16:50 H1 waived overdue", at="2026-11-05 17:00"))
    assert [text.split(":")[0] for _, text in bare["Overdue"]] == ["H1 H2"]  # no reason, no waiver


@pytest.mark.parametrize(
    ("at", "words"),
    [
        ("2026-11-02 12:00", "no clock; the next: H1 thru H3 pickle in P1, not before Thu 5 Nov 10:00"),
        ("2026-11-05 15:30", "no clock; the next: P1 to read, by tomorrow 18:00"),
    ],
)
def test_when_nothing_ends_today_the_next_clock_is_named(at: str, words: str) -> None:
    page = PICKLED if at > "2026-11-03" else PICKLED.replace(", read every day", "")
    shop = SHOP if at > "2026-11-03" else SHOP.replace(", read every day", "")
    assert parts(sheet(page=page, shop=shop, at=at))["Ends today"] == [("", words)]


def test_a_shop_without_hides_has_no_clock_at_all() -> None:
    assert parts(sheet(page="2026-11-05 08:00 remark swept the floor\n", at="2026-11-05 09:00")) == {
        "Ends today": [("", "no clock")]
    }


@pytest.mark.parametrize(("at", "rings"), [("2026-11-05 17:10", False), ("2026-11-05 17:11", True)])
def test_a_limit_met_to_the_minute_is_kept(at: str, rings: bool) -> None:
    book = book_of("2026-11-05 16:40 H1 neutralised")
    assert any_over(look(book, at), instant(book, at)) is rings


def test_too_many_clocks_are_counted_and_the_overdue_ones_stay() -> None:
    lines = [f"2026-11-05 16:{minute} H{tag} neutralised" for tag, minute in ((1, 10), (2, 50), (3, 55))]
    book = book_of(*lines)
    at = "2026-11-05 17:02"
    answer = clock_sheet(look(book, at), instant(book, at), most=2)
    told = parts(answer)
    assert [text.split(":")[0] for _, text in told["Overdue"]] == ["H1"]
    assert len(told["Ends today"]) == 1
    (left,) = (heading for heading in told if heading.startswith("and "))
    assert left == "and 3 more clocks; hideledger floor shows all"


def test_between_two_looks_what_runs_over_takes_its_place_among_the_overdue() -> None:
    """H2 was put in first, and H1 is the shorter limit that runs over in this very minute."""
    lines = ["2026-11-04 16:00 H2 neutralised 20 min", "2026-11-04 16:10 H2 tan", "2026-11-05 16:40 H1 neutralised"]
    told = parts(sheet(*lines, at="2026-11-05 17:10:20", seconds=True))
    assert [(head, text.split(" since")[0]) for head, text in told["Overdue"]] == [
        ("time is up", "H1: neutralised"),
        ("1 h over", "H2: tan"),
    ]


@pytest.mark.parametrize("at", ["2026-11-05 17:10", "2026-11-05 17:10:30", "2026-11-05 17:12"])
def test_a_hide_whose_longest_time_is_up_is_not_told_once_more_as_ready(at: str) -> None:
    told = parts(sheet("2026-11-05 16:40 H1 neutralised", at=at))
    rows = [text for heading in told for _, text in told[heading] if "H1: neutralised" in text]
    assert len(rows) == 1
    assert "30 min at most" in rows[0]
