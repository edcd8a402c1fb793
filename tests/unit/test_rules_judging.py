"""How findings are told: together, in order, with their places, with what was answered and what was held back."""

from __future__ import annotations

from datetime import datetime

import pytest

from hideledger.model.book import Book
from hideledger.model.moments import DAY, HOUR
from hideledger.reading import read_text
from hideledger.rules.finding import Finding
from hideledger.rules.judge import Judging, judging
from hideledger.shopfloor.layout import lay_out

SHOP = """shop Bramble Lane Skins
  zone America/Chicago
  hours 7:00 to 18:00, Mon to Sat
  gallons US
vessel V1, vat, 40 gal, holds 12
process cape
  in
  fleshed       within 12 h of in
  pickle        stays 1 d to 3 d
  shaved        optional
  neutralised   stays 15 min to 30 min
  soaked        stays at most 12 h, optional
  out

"""
HEAD = SHOP.count("\n")


def moment(book: Book, text: str) -> int:
    local = datetime.strptime(text, "%Y-%m-%d %H:%M")
    return book.clock.instant(local.toordinal(), local.hour * 60 + local.minute)[0]


def look(lines: str, at: str, ahead: int | None = None) -> Judging:
    book = read_text(SHOP + lines)
    return judging(lay_out(book, moment(book, at)), ahead=ahead)


def names(findings: tuple[Finding, ...]) -> list[str]:
    return [finding.name for finding in findings]


NEUTRAL = """2026-11-02 08:00 H1 H2 H3 H5 in, process cape
2026-11-02 09:00 H1 H2 H3 H5 fleshed
2026-11-02 10:00 H1 H2 H3 H5 pickle
2026-11-04 10:00 H1 H2 H3 H5 neutralised
"""


def test_a_finding_says_what_who_since_when_where_and_what_to_write() -> None:
    (found,) = look(NEUTRAL, "2026-11-04 10:47").findings
    assert found.name == "overdue"
    assert found.tags == ("H1", "H2", "H3", "H5")
    assert found.message == "in neutralised since Wed 4 Nov 10:00, 30 min at most: 17 min over"
    assert found.do == "go on with it; when it leaves the shop `H1 thru H3 H5 out to NAME`"
    assert found.over_s == 17 * 60
    assert found.limit_s == 30 * 60
    assert found.place is not None
    assert found.rule is not None
    assert found.place.line == HEAD + 4
    assert SHOP.split("\n")[found.rule.line - 1].split() == ["neutralised", "stays", "15", "min", "to", "30", "min"]
    assert found.rings
    assert not found.ended


def test_one_bad_tub_is_one_finding_and_those_put_in_later_say_since_when() -> None:
    book = """2026-11-02 08:00 P1 mixed in V1, 20 gal water
2026-11-02 08:00 H1 H2 in, process cape
2026-11-02 09:00 H1 H2 fleshed
2026-11-02 10:00 H1 pickle in P1
2026-11-02 12:00 H2 pickle in P1
"""
    (found,) = [f for f in look(book, "2026-11-05 17:00").findings if f.name == "overdue"]
    assert found.tags == ("H1", "H2", "P1")
    assert found.over_s == 7 * HOUR
    assert found.more == (f"H2 5 h over (page.hides:{HEAD + 5})",)


def test_shortest_limit_first_then_what_has_the_least_time_left() -> None:
    book = """2026-11-02 08:00 H1 H2 H3 H4 in, process cape
2026-11-02 09:00 H1 H2 H3 H4 fleshed
2026-11-02 10:00 H1 pickle
2026-11-03 15:00 H2 pickle
2026-11-03 16:00 H4 pickle
2026-11-04 10:00 H3 pickle
2026-11-06 13:00 H3 neutralised
"""
    found = look(book, "2026-11-06 14:00").findings
    # H2's limit falls at 15:00, H4's at 16:00; H3 was to be out of the alkali half an hour ago, H1 a day ago.
    assert [(f.when, f.name, f.tags) for f in found] == [
        ("now", "overdue", ("H3",)),
        ("now", "overdue", ("H1",)),
        ("tonight", "due", ("H2",)),
        ("tonight", "due", ("H4",)),
    ]


def test_what_may_be_comes_after_what_is() -> None:
    book = """2026-11-02 08:00 H1 H2 in, process cape
2026-11-02 09:00 H1 H2 fleshed
2026-11-02 10:00 H1 H2 pickle
2026-11-04 H1 neutralised
2026-11-04 23:10 H2 neutralised
"""
    found = [f for f in look(book, "2026-11-04 23:50").findings if f.when == "now"]
    assert [(f.name, f.tags, f.may) for f in found] == [("overdue", ("H2",), False), ("overdue", ("H1",), True)]


@pytest.mark.parametrize(
    ("ahead", "seen"),
    [(None, True), (HOUR, False), (20 * HOUR, True), (0, False)],
)
def test_how_far_ahead_is_looked(ahead: int | None, seen: bool) -> None:
    book = """2026-11-02 08:00 H1 in, process cape
2026-11-02 09:00 H1 fleshed
2026-11-02 10:00 H1 pickle
"""
    assert ("due" in names(look(book, "2026-11-04 17:00", ahead).findings)) is seen


def test_on_saturday_evening_the_look_reaches_to_monday_morning() -> None:
    book = """2026-11-05 06:00 H1 H2 in, process cape
2026-11-05 06:30 H1 H2 fleshed
2026-11-06 06:59 H1 pickle
2026-11-06 18:30 H2 pickle
"""
    found = look(book, "2026-11-07 17:00").findings  # a Saturday; H1's three days end Monday 06:59, H2's Monday 18:30
    assert [(f.name, f.tags) for f in found] == [("due", ("H1",))]
    assert found[0].message.endswith("when nobody is there; act before closing, Sat 7 Nov 18:00")


def test_a_line_that_could_not_be_read_is_named_and_quiets_nothing_that_runs() -> None:
    seen = look(NEUTRAL + "2026-11-04 10:30 H2 owt of the tub\n", "2026-11-04 10:47")
    (found,) = seen.findings
    assert found.tags == ("H1", "H2", "H3", "H5")
    assert found.more == (f"line {HEAD + 5} of page.hides names H2 and could not be read",)
    assert seen.held == ()


def test_what_is_held_back_is_counted() -> None:
    book = """2026-11-02 08:00 H1 in, process cape
2026-11-02 09:00 H1 flezhd
2026-11-02 10:00 H1 pickle
"""
    seen = look(book, "2026-11-02 12:00")
    assert names(seen.findings) == []
    assert [(f.name, f.tags) for f in seen.held] == [("not recorded", ("H1",))]


def test_a_waiver_without_a_reason_is_asked_for_one() -> None:
    (found,) = look(NEUTRAL + "2026-11-04 10:40 H1 H2 H3 H5 waived overdue\n", "2026-11-04 10:47").findings
    assert found.more == (f"waived without a reason at page.hides:{HEAD + 5}; write the reason itself, behind a dash",)


def test_hides_gone_and_baths_let_go_are_told_only_in_the_long_list() -> None:
    book = """2026-11-02 08:00 H1 H2 in, process cape
2026-11-02 10:00 H1 H2 pickle
2026-11-04 09:00 H1 neutralised
2026-11-04 09:20 H1 out to Wen Alder
"""
    both = look(book, "2026-11-04 09:45").findings
    assert [(f.name, f.tags, f.ended) for f in both] == [("not recorded", ("H1", "H2"), False)]
    alone = look(book.replace("H1 H2", "H1"), "2026-11-04 09:45").findings
    assert [(f.name, f.tags, f.ended) for f in alone] == [("not recorded", ("H1",), True)]


def test_a_time_that_came_twice_says_so() -> None:
    # 2026-11-01: in Chicago the clocks go back from 02:00 to 01:00 (IANA time zone database)
    book = """2026-10-31 12:00 H1 in, process cape
2026-10-31 13:00 H1 fleshed
2026-11-01 01:30 H1 soaked
"""
    found = [f for f in look(book, "2026-11-01 14:00").findings if f.name == "overdue"]
    # 01:30 (first) to 14:00 is 13 h 30 of real time
    assert [f.over_s for f in found] == [HOUR + HOUR // 2]
    assert "Sun 1 Nov 01:30 came twice that night; the first is taken" in found[0].more


def test_a_missed_promise_rings_once_and_then_weekly() -> None:
    book = read_text(SHOP + "2026-11-02 08:00 H1 in, process cape, promised 2026-11-02\n")
    first = moment(book, "2026-11-03 12:00")
    rang = []
    for day in range(20):
        found = [f for f in judging(lay_out(book, first + day * DAY)).findings if f.name == "promise missed"]
        assert len(found) == 1
        rang.append(found[0].rings)
    assert [day for day, rings in enumerate(rang) if rings] == [0, 7, 14]


def test_figures_swapped_are_asked_for() -> None:
    book = """2026-11-02 08:00 H41 H14 in, process cape
2026-11-02 09:00 H41 fleshed
2026-11-02 10:00 H14 pickle
"""
    found = [f for f in look(book, "2026-11-02 12:00").findings if f.name == "not recorded"]
    assert [f.tags for f in found] == [("H14",)]
    assert found[0].more == ("is H41 meant? it was waiting for pickle",)


def test_over_the_night_the_clocks_go_back_an_hour_is_gained() -> None:
    # 30 October 19:40 to 2 November 8:15 in America/Chicago, 2026, is 61 h 35 min and not 60 h 35 (IANA time zone database)
    salt = SHOP.replace("fleshed       within 12 h of in", "salt          stays at most 61 h")
    book = read_text(salt + "2026-10-30 18:20 H1 in, process cape\n2026-10-30 19:40 H1 salt\n")
    found = judging(lay_out(book, moment(book, "2026-11-02 08:15"))).findings
    assert [(f.name, f.over_s) for f in found] == [("overdue", 35 * 60)]


def test_a_drum_counts_what_it_turned_with_the_hide_in_it() -> None:
    # it ran 45 min and 2 h 30 with the hide in it for 3 h 35: it turned 3 h 15 and stood 20 min (reckoned by hand)
    drum = """vessel D1, drum, 19 gal
process drum
  in
  second turn  runs 1 h to 2 h 50 min, in a bath
  oiled   optional
  out
"""
    lines = """2026-11-02 07:00 L1 mixed in D1, 9 qt water
2026-11-02 07:00 H1 in, process drum
2026-11-02 08:00 H1 second turn in L1
2026-11-02 08:00 L1 on
2026-11-02 08:45 L1 off
2026-11-02 09:05 L1 on
2026-11-02 11:35 L1 off
2026-11-02 11:35 H1 oiled
"""
    book = read_text(SHOP + drum + lines)
    (found,) = judging(lay_out(book, moment(book, "2026-11-02 12:00"))).findings
    assert found.name == "stayed too long"
    assert found.over_s == 25 * 60
    assert found.message == "second turn turned 3 h 15 min to Mon 2 Nov 11:35, 2 h 50 min at most: 25 min over"


def test_two_that_slipped_in_one_tub_are_more_than_one() -> None:
    book = """2026-11-02 08:00 P1 mixed in V1, 20 gal water
2026-11-02 08:00 H1 H2 H3 in, process cape
2026-11-02 09:00 H1 H2 H3 fleshed
2026-11-02 10:00 H1 H2 H3 pickle in P1
2026-11-03 09:00 H2 slip, left ear
2026-11-03 10:00 H3 slip, belly
"""
    found = [f for f in look(book, "2026-11-03 12:00").findings if f.name == "slip nearby"]
    assert [f.tags for f in found] == [("H1",)]
    assert found[0].message == "lay with H2 in P1, and H2 slipped at left ear, Tue 3 Nov 09:00"
    assert [one.split(" (")[0] for one in found[0].more] == ["so did H3, Tue 3 Nov 10:00"]
    assert found[0].do.startswith("get them cold or into fresh acid now")


def test_a_silence_of_days_says_how_many() -> None:
    book = """2026-11-02 08:00 P1 mixed in V1, 20 gal water
2026-11-02 08:00 H1 in, process cape
2026-11-02 09:00 H1 fleshed
2026-11-02 10:00 H1 pickle in P1
"""
    (one,) = [f for f in look(book, "2026-11-03 20:00").findings if f.name == "nobody wrote"]
    assert one.message == "wet, and nobody wrote a line on Tue 3 Nov"
    (more,) = [f for f in look(book, "2026-11-05 20:00").findings if f.name == "nobody wrote"]
    assert more.message == "wet, and nobody wrote a line on Tue 3 Nov nor since: 3 open days"


def test_a_shop_file_with_an_unread_line_calls_no_word_wrong_for_certain() -> None:
    other = "process fur\n  in\n  tumbled\n  out\n"
    book = "2026-11-02 08:00 H1 in, process cape\n2026-11-02 09:00 H1 tumbled\n"
    sure = look(other + book, "2026-11-02 12:00").findings
    perhaps = look(other + "vessel V2, vat, 40 moons\n" + book, "2026-11-02 12:00").findings
    assert [(f.name, f.may) for f in sure] == [("due", False), ("out of order", False)]
    assert [(f.name, f.may) for f in perhaps] == [("due", True), ("out of order", True)]


def test_what_is_to_be_done_before_closing_counts_the_time_to_closing() -> None:
    drum = "vessel D1, drum, 19 gal, stands at most 14 h\nprocess drum\n  in\n  turned  runs 90 min to 3 h\n  out\n"
    book = """2026-11-02 15:00 L1 mixed in D1, 9 qt water
2026-11-02 15:00 H1 in, process drum
2026-11-02 15:10 H1 turned in L1
"""
    found = look(drum + book, "2026-11-02 17:00").findings
    assert [(f.name, f.over_s) for f in found] == [
        ("run ends after closing", -HOUR),
        ("drum standing loaded", -HOUR),
    ]


def test_a_line_not_read_before_the_stay_began_is_not_named() -> None:
    before = NEUTRAL.replace("2026-11-04", "2026-11-03 09:00 H1 flezhd\n2026-11-04")
    seen = look(before, "2026-11-04 10:47")
    assert [(f.name, f.more) for f in seen.findings] == [("overdue", ())]


def test_figures_swapped_are_not_asked_for_where_the_other_is_not_waiting() -> None:
    book = """2026-11-02 08:00 H41 H14 in, process cape
2026-11-02 10:00 H14 pickle
"""
    found = [f for f in look(book, "2026-11-02 12:00").findings if f.name == "not recorded"]
    assert [f.more for f in found] == [()]  # H41 waits to be fleshed


def test_an_over_full_tub_is_told_at_its_fullest() -> None:
    hides = "".join(f"2026-11-02 08:{n:02} H{n} in, process cape\n" for n in range(1, 10))
    ins = "".join(f"2026-11-02 10:{n:02} H{n} pickle in P1\n" for n in range(1, 10))
    book = f"vessel V2, vat, 40 gal, holds 6\n2026-11-02 08:00 P1 mixed in V2, 20 gal water\n{hides}{ins}"
    found = [f for f in look(book, "2026-11-02 12:00").findings if f.name == "vessel over full"]
    assert [f.message for f in found] == ["V2 holds 6 and has 9 in it, and more than it holds since Mon 2 Nov 10:07"]
    assert found[0].do == "move some, and write: `H9 out of P1`"


TUBS = """shop Bramble Lane Skins
  zone America/Chicago
  hours 7:00 to 18:00, Mon to Sat
  gallons US
  degrees F
  room 66 F
  quiet after 14 d
  sewer pH at least 5.5
vessel V1, vat, 40 gal
vessel V2, vat, 40 gal
vessel D1, drum, 19 gal, stands at most 14 h
place freezer, at most 5 F
customer Wen Alder
kind coyote, process cape
kind fox, process cape
process cape
  in
  fleshed      within 12 h of in
  pickle       stays 1 d to 3 d, pH 1.2 to 2.2, 50 to 80 F, read every day, raw clock stops
  turned       runs 30 min to 50 min, in a bath, optional
  limed        stays at most 2 d, pH 11.5 to 12.5, at least 20 sal with skins in, optional
  out
  raw at most 12 h at 66 F
  may rest frozen, after in or fleshed, raw clock stops

"""
P1_AND_H1 = """2026-11-02 07:00 P1 mixed in V1, 20 gal water
2026-11-02 08:00 H1 in, coyote
2026-11-02 09:00 H1 fleshed
"""


def seen(lines: str, at: str) -> tuple[Finding, ...]:
    book = read_text(TUBS + lines)
    return judging(lay_out(book, moment(book, at))).findings


def named(findings: tuple[Finding, ...], name: str) -> Finding:
    (one,) = [finding for finding in findings if finding.name == name]
    return one


def test_which_bath_is_asked_at_once_and_the_one_that_stands_is_named() -> None:
    one = named(seen(P1_AND_H1 + "2026-11-02 10:00 H1 pickle\n", "2026-11-02 10:00"), "no bath written")
    assert (one.when, one.rings, one.since) == ("now", True, moment(read_text(TUBS), "2026-11-02 10:00"))
    assert one.message == "in pickle since Mon 2 Nov 10:00, and no bath is written"
    assert "`H1 pickle in P1`" in one.do
    two = "2026-11-02 07:00 P2 mixed in V2, 20 gal water\n"
    several = named(seen(two + P1_AND_H1 + "2026-11-02 10:00 H1 pickle\n", "2026-11-02 10:00"), "no bath written")
    assert several.message == "in pickle since Mon 2 Nov 10:00, and no bath is written: P1 or P2?"
    # one in which others were for that step goes before one that nothing is known of; a drum and one let go do not fit
    others = """2026-11-02 07:00 P2 mixed in V2, 20 gal water
2026-11-02 07:00 L1 mixed in D1, 9 qt water
2026-11-02 07:30 H7 in, coyote
2026-11-02 07:40 H7 fleshed
2026-11-02 07:50 H7 pickle in P2
"""
    known = named(seen(others + P1_AND_H1 + "2026-11-02 10:00 H1 pickle\n", "2026-11-02 10:00"), "no bath written")
    assert known.message == "in pickle since Mon 2 Nov 10:00, and no bath is written"
    assert "`H1 pickle in P2`" in known.do


def test_a_line_to_write_names_the_bath_that_stands() -> None:
    raw = named(seen(P1_AND_H1, "2026-11-02 21:30"), "raw too long")
    assert raw.do == "get it cold or get on with it, and write: `H1 pickle in P1`"
    missed = named(
        seen(
            P1_AND_H1
            + "2026-11-05 08:00 P1 dumped 20 gal, pH 6.8, sewer\n"
            + "2026-11-05 09:00 L1 mixed in D1, 9 qt water\n2026-11-05 10:00 H1 turned in L1\n",
            "2026-11-05 10:10",
        ),
        "not recorded",
    )
    assert "`H1 pickle`" in missed.do  # P1 was let go by then
    early = named(
        seen(P1_AND_H1 + "2026-11-02 10:00 H1 pickle in P1\n2026-11-02 12:00 H1 turned 40 min\n", "2026-11-02 12:30"),
        "came out early",
    )
    assert "`H1 pickle in P1`" in early.do


IN_P1 = P1_AND_H1 + "2026-11-02 10:00 H1 pickle in P1\n2026-11-02 11:00 P1 pH 2.0, 65 F\n"


@pytest.mark.parametrize(
    ("reading", "never", "must", "example"),
    [
        ("pH 0.6 meter", "acid into water", "add no acid", "`P1 pH 1.7 meter`"),
        ("pH 3.0 meter", "soda", "add no alkali", "`P1 pH 1.7 meter`"),
        ("91 F", "acid", "too warm", "`P1 65 F`"),
        ("38 F", "acid", "too cold", "`P1 65 F`"),
        ("31 C", "acid", "too warm", "`P1 65 F`"),
    ],
)
def test_what_there_is_too_much_of_is_never_added(reading: str, never: str, must: str, example: str) -> None:
    found = named(seen(IN_P1 + f"2026-11-02 11:30 P1 {reading}\n", "2026-11-02 11:40"), "out of range now")
    assert must in found.do
    assert never not in found.do
    assert example in found.do  # inside the range, and not the bad one


@pytest.mark.parametrize(
    ("reading", "must", "never", "example"),
    [
        ("pH 13.2 meter", "too much alkali: add none", "alkali into water", "`P1 pH 12.0 meter`"),
        ("pH 10.0 meter", "add no acid", "acid into water", "`P1 pH 12.0 meter`"),
        ("12 sal", "too little salt: add no acid", "add none", "`P1 25 sal`"),
    ],
)
def test_a_bath_of_alkali_is_righted_the_other_way(reading: str, must: str, never: str, example: str) -> None:
    lines = IN_P1.replace("pickle in P1", "limed in P1").replace("pH 2.0, 65 F", "pH 12.0")
    found = named(seen(lines + f"2026-11-02 11:30 P1 {reading}\n", "2026-11-02 11:40"), "out of range now")
    assert must in found.do
    assert never not in found.do
    assert example in found.do


def test_a_freezer_that_reads_too_warm_is_looked_to() -> None:
    lines = (
        "2026-11-02 08:00 H1 in, coyote, frozen\n2026-11-02 08:10 H1 frozen in freezer\n2026-11-02 09:00 freezer 28 F\n"
    )
    found = named(seen(lines, "2026-11-02 09:10"), "out of range now")
    assert "too warm: see that it runs" in found.do
    assert "`freezer 0 F`" in found.do


def test_since_when_a_drum_ran_too_long_is_the_moment_it_had() -> None:
    lines = (
        P1_AND_H1
        + """2026-11-02 10:00 H1 pickle in P1
2026-11-04 00:30 L1 mixed in D1, 9 qt water
2026-11-04 01:00 H1 turned in L1
2026-11-04 01:05 L1 on
2026-11-04 01:30 L1 off
2026-11-04 01:50 L1 on
2026-11-04 03:00 L1 off
"""
    )
    # 25 min to 01:30, so the 50 min are full at 02:15
    told = [named(seen(lines, f"2026-11-04 {at}"), "overdue") for at in ("02:20", "03:00", "08:25", "14:25")]
    assert {one.since for one in told} == {moment(read_text(TUBS), "2026-11-04 02:15")}
    assert [one.over_s for one in told] == [5 * 60, 45 * 60, 45 * 60, 45 * 60]


def test_a_limit_passed_before_a_rest_stays_passed_when_it_was() -> None:
    lines = IN_P1 + "2026-11-05 12:00 H1 frozen in freezer\n"
    told = [named(seen(lines, f"2026-11-{at}"), "overdue") for at in ("05 11:00", "05 13:00", "20 13:00")]
    assert {one.since for one in told} == {moment(read_text(TUBS), "2026-11-05 10:00")}
    assert [one.over_s for one in told] == [HOUR, 2 * HOUR, 2 * HOUR]  # frozen, the clock stands


def test_what_a_clock_leaves_out_is_said() -> None:
    lines = IN_P1 + "2026-11-03 08:00 H1 frozen in freezer\n2026-11-05 08:00 H1 thawed\n"
    one = named(seen(lines, "2026-11-08 08:00"), "overdue")
    assert one.message == "in pickle since Mon 2 Nov 10:00, 3 d at most (frozen 2 d left out): 22 h over"


def test_hours_that_weigh_more_than_the_clock_says_are_said_both_ways() -> None:
    warm = named(
        seen("2026-11-02 08:00 room 75 F\n2026-11-02 08:00 H1 in, coyote\n", "2026-11-02 19:00"), "raw too long"
    )
    # ((23.9 + 10) / 10)^2 over ((18.9 + 10) / 10)^2 is 1.376 (square-root model, Tmin -10 C), so 11 h weigh 15 h 8 min
    assert warm.message.startswith("raw for 11 h in the shop, counts as 15 h 8 min at 66 F; 12 h at most")
    plain = named(seen("2026-11-02 08:00 H1 in, coyote\n", "2026-11-02 21:00"), "raw too long")
    assert plain.message == "raw for 13 h in the shop; 12 h at most: 1 h over"


def test_one_tag_on_two_skins_rings_and_gives_the_second_a_tag_of_its_own() -> None:
    one = named(
        seen("2026-11-02 08:00 H1 in, coyote\n2026-11-02 09:00 H1 in, fox\n", "2026-11-02 09:10"),
        "one tag for two things",
    )
    assert one.when == "now"
    assert one.message.startswith("H1 is here already (coyote); give the fox another tag")
    assert "`H2 in, fox`" in one.do


def test_the_company_of_a_slipped_one_is_named_rightly() -> None:
    lines = (
        P1_AND_H1
        + """2026-11-02 09:05 B1 in, 2 coyotes, for Wen Alder
2026-11-02 09:10 B1 opened, H11 H12
2026-11-02 09:20 H11 H12 fleshed
2026-11-02 10:00 H1 H11 pickle in P1
2026-11-02 11:00 P1 pH 2.0
2026-11-02 12:00 H11 slip, belly
"""
    )
    told = {one.tags: one.message for one in seen(lines, "2026-11-02 12:10") if one.name == "slip nearby"}
    assert told[("H1",)].startswith("lay with H11 in P1, and H11 slipped at belly")
    assert told[("H12",)].startswith("came in box B1 with H11, and H11 slipped at belly")


def test_a_frozen_mate_is_left_frozen() -> None:
    lines = (
        IN_P1
        + """2026-11-02 08:30 H2 in, coyote
2026-11-02 09:00 H2 fleshed
2026-11-02 10:00 H2 pickle in P1
2026-11-02 11:30 H1 frozen in freezer
2026-11-02 12:00 H2 slip, belly
"""
    )
    one = named(seen(lines, "2026-11-02 12:10"), "slip nearby")
    assert one.do.startswith("leave it frozen, mark it, and when it is thawed look at it")


def test_silence_names_the_rule_it_goes_by() -> None:
    book = read_text(
        TUBS.replace("1 d to 3 d", "at least 1 d").replace("in a bath, optional", "in a bath")
        + IN_P1
        + "2026-11-06 08:00 remark all well\n"
    )
    one = named(judging(lay_out(book, moment(book, "2026-11-06 12:00"))).findings, "gone quiet")
    assert one.rule is None
    assert one.message.endswith("a skin in a bath is looked at every other open day at the least")
    dry = read_text(
        TUBS.replace("  raw at most 12 h at 66 F\n", "").replace("within 12 h of in", "")
        + "2026-11-02 08:00 H1 in, coyote\n2026-11-20 08:00 remark well\n"
    )
    other = named(judging(lay_out(dry, moment(dry, "2026-11-20 12:00"))).findings, "gone quiet")
    assert other.rule is not None
    assert TUBS.split("\n")[other.rule.line - 1].strip() == "quiet after 14 d"


def test_two_limits_that_fall_together_are_one_finding_that_mentions_both() -> None:
    one = named(seen("2026-11-02 08:00 H1 in, coyote\n", "2026-11-02 17:00"), "due")
    assert one.message.startswith("raw for 9 h in the shop, 12 h at most")
    assert "and not fleshed yet, in since Mon 2 Nov 08:00, 12 h at most" in one.more
    assert "`H1 fleshed`" in one.do


@pytest.mark.parametrize(
    ("line", "said"),
    [("H2 pickle in P1", "within an hour of skins going in"), ("P1 add 3 oz salt", "within an hour of a dose")],
)
def test_a_reading_after_skins_or_a_dose_says_that_rule(line: str, said: str) -> None:
    lines = IN_P1 + f"2026-11-02 08:30 H2 in, coyote\n2026-11-02 09:00 H2 fleshed\n2026-11-02 12:00 {line}\n"
    one = named(seen(lines, "2026-11-02 13:30"), "reading due")
    assert said in one.message
    assert "every open day" not in one.message
    assert one.rule is None
    assert one.over_s == HOUR // 2
    (whose,) = one.more
    assert whose.startswith(
        "that hour is common practice, no line of the shop; it goes with the shop's own `read every day` ("
    )
    assert whose.endswith("`P1 waived reading due -- why` quiets it")


def test_skins_that_went_in_before_closing_are_read_first_thing_in_the_morning() -> None:
    lines = P1_AND_H1 + "2026-11-02 17:30 H1 pickle in P1\n"
    assert "reading due" not in names(seen(lines, "2026-11-02 20:00"))
    one = named(seen(lines, "2026-11-03 07:30"), "reading due")
    assert "within an hour of skins going in" in one.message
    assert one.over_s == HOUR // 2


def test_all_that_is_missing_before_one_line_is_told_in_one_sentence() -> None:
    one = named(
        seen("2026-11-02 08:00 H1 in, coyote\n2026-11-02 09:00 H1 out to Wen Alder\n", "2026-11-02 10:00"),
        "not recorded",
    )
    assert one.message == "fleshed and pickle are not recorded, though out is, Mon 2 Nov 09:00"
    assert "`H1 fleshed`, `H1 pickle`" in one.do
    assert "`H1 skipped fleshed, skipped pickle -- why`" in one.do


def test_a_bath_let_go_is_never_told_with_an_invented_ph() -> None:
    lines = P1_AND_H1 + "2026-11-02 10:00 P2 mixed in V1, 20 gal water\n"
    one = named(seen(lines, "2026-11-02 12:00"), "two baths in one vessel")
    assert "`P1 dumped 20 gal, sewer`" in one.do
    assert "the pH that you measured" in one.do


def test_skins_put_into_the_old_bath_are_told_for_certain() -> None:
    lines = P1_AND_H1 + "2026-11-02 09:30 P2 mixed in V1, 20 gal water\n2026-11-02 10:00 H1 pickle in P1\n"
    one = named(seen(lines, "2026-11-02 10:30"), "two baths in one vessel")
    assert (one.when, one.may) == ("now", False)
    assert one.message.startswith(
        "P2 was mixed in V1 Mon 2 Nov 09:30, and after that skins were put into P1, Mon 2 Nov 10:00"
    )


def test_an_arrival_that_could_not_be_read_is_told_with_its_line() -> None:
    lines = "2026-11-02 08:00 H1 in, 7 moons\n2026-11-02 09:00 H1 pickle\n"
    one = named(seen(lines, "2026-11-02 09:30"), "arrival not read")
    line = TUBS.count("\n") + 1
    assert one.message == (
        f"in pickle since Mon 2 Nov 09:00; its arrival (line {line}) could not be read, so its limits are not known for certain"
    )
    late = named(seen(lines, "2026-11-05 10:30"), "overdue")
    assert late.may
    assert late.message == "in pickle since Mon 2 Nov 09:00, 3 d at most: it may be 1 h 30 min over"


def test_hours_short_of_a_limit_in_a_night_that_has_two_say_so() -> None:
    # 2026-11-01: in Chicago the clocks go back from 02:00 to 01:00 (IANA time zone database)
    lines = "2026-10-31 23:00 P1 mixed in V1, 20 gal water\n2026-10-31 23:00 H1 in, coyote\n2026-10-31 23:30 H1 fleshed\n2026-11-01 01:30 H1 pickle\n"
    one = named(seen(lines, "2026-11-01 09:00"), "no bath written")
    assert "Sun 1 Nov 01:30 came twice that night; the first is taken" in one.more
