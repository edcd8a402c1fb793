"""What a finding says and where it points: the line that caused it, words that fit, advice that is not the line written."""

from __future__ import annotations

from datetime import datetime

from hideledger.model.book import Book
from hideledger.reading import read_text
from hideledger.rules.finding import Finding
from hideledger.rules.judge import judge
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.layout import lay_out
from hideledger.shopfloor.life import Turn

SHOP = """shop Bramble Lane Skins
  zone America/Chicago
  hours 7:00 to 18:00, Mon to Sat
  gallons US
  degrees F
vessel V1, vat, 40 gal, holds 6
vessel D1, drum, 19 gal, holds 5, at most 10 psi, stands at most 3 h
kind whitetail cape, process cape
kind fox, process cape
process cape
  in        needs pull test
  fleshed
  pickle    stays at least 3 d, pH 0.8 to 2.2, read every 2 d, optional
  tan       runs 2 h to 4 h, in a bath
  out
  raw at most 12 h
"""
P1 = "2026-11-01 09:00 P1 mixed in V1, 20 gal water\n"
L1 = "2026-11-03 08:00 L1 mixed in D1, 9 qt water\n"


def floor_at(lines: str, at: str) -> Floor:
    book = read_text(SHOP + lines)
    assert book.unread == ()
    return lay_out(book, moment(book, at))


def moment(book: Book, text: str) -> int:
    local = datetime.strptime(text, "%Y-%m-%d %H:%M")
    return book.clock.instant(local.toordinal(), local.hour * 60 + local.minute)[0]


def seen(lines: str, at: str) -> list[Finding]:
    return judge(floor_at(lines, at))


def named(found: list[Finding], name: str) -> Finding:
    (one,) = [finding for finding in found if finding.name == name]
    return one


def line_of(finding: Finding, lines: str) -> str:
    assert finding.place is not None
    return (SHOP + lines).split("\n")[finding.place.line - 1]


def skin(tag: str, stamp: str) -> str:
    return f"{stamp} {tag} in, whitetail cape, wet salted, fleshed, pull test ok\n"


def turns(floor: Floor) -> list[Turn]:
    return floor.baths["L1"][-1].turns


def minutes_turned(floor: Floor) -> tuple[float, float]:
    stay = floor.hides["H1"][-1].stays[-1]
    return stay.turned[0] / 60, stay.turned[1] / 60


LOADED = L1 + skin("H1", "2026-11-03 08:05") + "2026-11-03 08:30 H1 tan in L1\n2026-11-03 08:32 L1 on\n"


def test_a_turn_written_with_on_and_with_ran_counts_once_and_stands_since_the_ran() -> None:
    floor = floor_at(LOADED + "2026-11-03 L1 ran 8:32 to 10:40\n2026-11-03 12:00 L1 off\n", "2026-11-03 12:05")
    assert minutes_turned(floor) == (128, 128)
    found = judge(floor)
    assert "overdue" not in [finding.name for finding in found]
    assert named(found, "drum standing loaded").message.startswith("standing loaded since Tue 3 Nov 10:40")
    off = named(found, "twice the same").message
    assert off == "turned off Tue 3 Nov 12:00, and another line says that it ran 08:32 to 10:40: that one is taken"


def test_the_order_in_which_on_off_and_ran_are_written_makes_no_difference() -> None:
    ran = "2026-11-03 12:02 L1 ran 8:32 to 10:40\n"
    floor = floor_at(LOADED + "2026-11-03 12:00 L1 off\n" + ran, "2026-11-03 12:05")
    assert minutes_turned(floor) == (128, 128)
    assert named(judge(floor), "twice the same").entry is not None
    out = floor_at(LOADED + "2026-11-03 12:00 H1 out of L1\n" + ran, "2026-11-03 12:05")
    assert minutes_turned(out) == (128, 128)
    assert not any(turn.open_ended for turn in turns(out))


def test_two_stretches_within_one_on_and_off_both_count() -> None:
    two = "2026-11-03 10:45 L1 ran 8:32 to 9:30\n2026-11-03 10:46 L1 ran 10:00 to 10:40\n2026-11-03 10:47 L1 on\n"
    floor = floor_at(LOADED + two, "2026-11-03 11:00")
    assert minutes_turned(floor) == (58 + 40 + 13, 58 + 40 + 13)
    assert turns(floor)[-1].end is None


def test_stretches_that_overlap_count_once() -> None:
    lines = L1 + skin("H1", "2026-11-03 08:05") + "2026-11-03 08:30 H1 tan in L1\n"
    ran = "2026-11-03 10:45 L1 ran 8:32 to 9:30\n2026-11-03 10:46 L1 ran 9:00 to 10:40\n"
    assert minutes_turned(floor_at(lines + ran, "2026-11-03 12:05")) == (128, 128)
    more = "2026-11-03 09:10 L1 ran 8:32 to 9:10\n2026-11-03 09:09 L1 on\n2026-11-03 10:40 L1 off\n"
    assert minutes_turned(floor_at(lines + more, "2026-11-03 12:05")) == (128, 128)


def test_a_ran_long_after_an_on_without_off_leaves_open_when_the_first_one_stopped() -> None:
    floor = floor_at(LOADED + "2026-11-03 11:10 L1 ran 10:00 to 11:00\n", "2026-11-03 12:05")
    assert minutes_turned(floor) == (60, 60 + 88)
    assert named(judge(floor), "no off written").may


def test_a_reading_due_points_at_the_skins_or_the_dose_that_it_speaks_of() -> None:
    lines = P1 + skin("H1", "2026-11-01 09:03") + "2026-11-01 09:04 H1 pickle in P1\n2026-11-02 09:10 P1 pH 1.9\n"
    skins = lines + skin("H2", "2026-11-02 09:20") + "2026-11-02 09:40 H2 pickle in P1\n"
    due = named(seen(skins, "2026-11-02 12:00"), "reading due")
    assert due.message.startswith("skins went in Mon 2 Nov 09:40")
    assert line_of(due, skins) == "2026-11-02 09:40 H2 pickle in P1"
    dosed = lines + "2026-11-02 12:05 P1 add 8 oz salt\n"
    due = named(seen(dosed, "2026-11-02 15:00"), "reading due")
    assert due.message.startswith("dosed Mon 2 Nov 12:05")
    assert line_of(due, dosed) == "2026-11-02 12:05 P1 add 8 oz salt"


def test_a_reading_due_since_the_last_one_points_at_that_one() -> None:
    lines = P1 + skin("H1", "2026-11-01 09:03") + "2026-11-01 09:04 H1 pickle in P1\n2026-11-02 09:10 P1 pH 1.9\n"
    due = named(seen(lines, "2026-11-04 12:00"), "reading due")
    assert due.message.startswith("last read Mon 2 Nov 09:10")
    assert line_of(due, lines) == "2026-11-02 09:10 P1 pH 1.9"


def test_two_readings_at_one_minute_are_named_with_their_figures() -> None:
    two = seen(P1 + "2026-11-02 09:10 P1 pH 1.9\n2026-11-02 09:10 P1 pH 2.7, add 8 oz salt\n", "2026-11-02 12:00")
    one = named(two, "twice the same")
    assert one.message == "two readings at one minute, pH 1.9 and pH 2.7, Mon 2 Nov 09:10"
    assert one.do.startswith("strike the wrong one")


def test_two_capes_of_one_kind_are_told_apart_by_which_came_second() -> None:
    lines = (
        "2026-11-03 08:00 H5 in, whitetail cape, for Oren Vale\n2026-11-03 08:10 H5 in, whitetail cape, for Ida Crane\n"
    )
    one = named(seen(lines, "2026-11-03 09:00"), "one tag for two things")
    assert one.message.startswith("H5 is here already (whitetail cape); give the second one another tag")


def test_a_hide_put_into_a_drum_is_asked_for_its_load_and_never_for_the_line_that_stands_there() -> None:
    lines = skin("H1", "2026-11-03 08:05") + "2026-11-03 08:30 H1 tan in D1\n"
    now = seen(lines, "2026-11-03 09:00")
    assert [(finding.name, finding.do) for finding in now] == [
        ("no bath written", "write how that load was made, with its own date: `L1 mixed in D1`")
    ]
    past = named(seen(lines + "2026-11-03 12:00 H1 out of D1\n", "2026-11-03 12:30"), "not recorded")
    assert past.do == "write how that load was made, with its own date, before that line: `L1 mixed in D1`"
    with_load = named(seen(L1 + lines + "2026-11-03 12:00 H1 out of D1\n", "2026-11-03 12:30"), "not recorded")
    assert "`L1 on`, and `L1 off`" in with_load.do


def test_a_failed_pull_is_made_again_and_not_written_down_as_good() -> None:
    lines = "2026-11-03 08:00 H3 in, fox\n2026-11-03 08:05 H3 pull test fails\n2026-11-03 09:00 H3 fleshed\n"
    one = named(seen(lines, "2026-11-03 09:30"), "hair comes loose")
    assert (
        "pull again, gently, at ears, brisket, belly and round every wound, and write what lets go: `H3 slip, ears, 1 in`"
        in one.do
    )
    assert one.do.endswith("or where it holds after all `H3 pull test ok`")
    assert "not recorded" not in [other.name for other in seen(lines, "2026-11-03 09:30")]


def test_a_tub_over_full_now_is_told_by_what_is_in_it_now() -> None:
    ins = "".join(skin(f"H{n}", "2026-11-03 08:05") for n in range(1, 10))
    lines = P1 + ins + "2026-11-03 09:40 H1 thru H9 pickle in P1\n2026-11-03 10:00 H9 out of P1\n"
    one = named(seen(lines, "2026-11-03 10:30"), "vessel over full")
    assert (one.when, one.rings) == ("now", True)
    assert one.message == "V1 holds 6 and has 8 in it, and more than it holds since Tue 3 Nov 09:40"
    assert one.tags == (*(f"H{n}" for n in range(1, 9)), "P1")


def test_how_many_were_in_at_a_time_is_said_only_of_that_time() -> None:
    ins = "".join(skin(f"H{n}", "2026-11-03 08:05") for n in range(1, 10))
    at_once = named(
        seen(P1 + ins + "2026-11-03 09:40 H1 thru H9 pickle in P1\n", "2026-11-03 10:30"), "vessel over full"
    )
    assert at_once.message == "V1 holds 6 and has 9 in it since Tue 3 Nov 09:40"
    lines = (
        P1
        + ins
        + "2026-11-03 09:40 H1 thru H7 pickle in P1\n2026-11-03 09:50 H8 H9 pickle in P1\n2026-11-03 10:00 H1 thru H5 out of P1\n"
    )
    later = named(seen(lines, "2026-11-03 10:30"), "vessel over full")
    assert (
        later.message
        == "V1 holds 6 and had 9 in it at the most, and more than it holds from Tue 3 Nov 09:40 to Tue 3 Nov 10:00"
    )


def test_hides_whose_bath_was_let_go_ring_until_their_next_step_is_written() -> None:
    lines = (
        P1 + skin("H1", "2026-11-01 09:03") + "2026-11-01 09:04 H1 pickle in P1\n2026-11-03 09:00 P1 dumped 20 gal\n"
    )
    one = named(seen(lines, "2026-11-03 09:30"), "out of order")
    assert (one.when, one.rings) == ("now", True)
    assert "wet, and in no bath" in one.message
    after = L1 + lines + "2026-11-03 09:10 H1 tan in L1\n"
    assert named(seen(after, "2026-11-03 09:30"), "out of order").when == "record"


def test_sour_liquor_to_the_sewer_is_asked_about_where_the_shop_has_no_line_for_it() -> None:
    # 40 CFR 403.5 (b) (2): no discharge with a pH below 5.0 unless the works is designed for it
    one = named(
        seen(P1 + "2026-11-03 09:00 P1 dumped 20 gal, pH 4.9, sewer\n", "2026-11-03 09:30"),
        "dumped below the sewer limit",
    )
    assert (one.when, one.may, one.ended) == ("record", True, False)
    assert "40 CFR 403.5" in one.message
    assert "ask your sewer authority" in one.do
    assert seen(P1 + "2026-11-03 09:00 P1 dumped 20 gal, pH 5.0, sewer\n", "2026-11-03 09:30") == []


def test_pressure_over_the_limit_comes_before_all_else_while_the_drum_is_under_it() -> None:
    lines = LOADED + "2026-11-03 08:33 L1 14 psi\n"
    found = seen(lines, "2026-11-03 18:00")
    assert [finding.name for finding in found][:2] == ["pressure over the vessel's limit", "overdue"]
    vented = seen(lines + "2026-11-03 17:50 L1 vented\n", "2026-11-03 18:00")
    assert [finding.name for finding in vented][:2] == ["overdue", "pressure over the vessel's limit"]


def test_hours_before_the_door_and_the_shops_own_are_kept_apart_in_words() -> None:
    lines = "2026-11-03 08:05 H1 in, whitetail cape, green, killed 2026-11-02 16:00, pull test fails\n"
    one = named(seen(lines, "2026-11-03 08:05"), "raw too long")
    assert "came in 16 h 5 min after the kill" in one.message
    assert "the shop's own clock begins at the door" in one.message


def test_a_stay_that_ended_at_the_minute_it_began_is_said_so() -> None:
    lines = P1 + skin("H1", "2026-11-01 09:03") + "2026-11-02 09:04 H1 pickle in P1\n2026-11-02 09:04 H1 out of P1\n"
    one = named(seen(lines, "2026-11-02 12:00"), "came out early")
    assert one.message.startswith("pickle began and ended at one minute, Mon 2 Nov 09:04, 3 d at least")
