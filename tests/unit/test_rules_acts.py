"""What a finding tells to do: an act that helps, a line that can be pasted, and the hides it is about."""

from __future__ import annotations

from datetime import datetime

from hideledger.reading import read_text
from hideledger.rules.finding import Finding
from hideledger.rules.judge import judge
from hideledger.shopfloor.layout import lay_out

SHOP = """shop Bramble Lane Skins
  zone America/Chicago
  hours 7:00 to 18:00, Mon to Sat
  gallons US
  sewer pH at least 5.0
vessel V1, vat, 40 gal
vessel D1, drum, 19 gal, stands at most 4 h
process cape
  in
  pickle        stays 2 d to 5 d, in a bath
  neutralised   stays 15 min to 30 min
  tan           stays 16 h to 24 h
  out
process drum
  in
  fleshed
  first turn    runs 30 min to 50 min, in a bath
  drained       stays 30 min to 24 h
  out
process slow drum
  in
  long turn     runs 3 h to 5 h
  out
"""


def seen(lines: str, at: str, shop: str = SHOP, unread: int = 0) -> list[Finding]:
    book = read_text(f"{shop}\n{lines}")
    assert len(book.unread) == unread, [complaint.message for complaint in book.unread]
    local = datetime.strptime(at, "%Y-%m-%d %H:%M")
    return judge(lay_out(book, book.clock.instant(local.toordinal(), local.hour * 60 + local.minute)[0]))


def named(found: list[Finding], name: str) -> Finding:
    (one,) = [finding for finding in found if finding.name == name]
    return one


def test_nobody_is_sent_to_take_a_skin_out_before_its_shortest_time() -> None:
    # Sat 7 Nov 2026, closed on Sunday: the whole window of 16 to 24 hours lies where nobody is there.
    one = named(seen("2026-11-06 08:00 H1 in, process cape\n2026-11-07 15:30 H1 tan\n", "2026-11-07 17:50"), "due")
    assert one.message == (
        "in tan since Sat 7 Nov 15:30, 24 h at most: not before Sun 8 Nov 07:30, not after Sun 8 Nov 15:30, when nobody "
        "is there: somebody has to come"
    )
    assert one.do.startswith("leave it until Sun 8 Nov 07:30; somebody has to come by Sun 8 Nov 15:30: ")


def test_what_can_be_taken_out_in_time_is_told_from_when_on() -> None:
    one = named(
        seen("2026-11-06 08:00 H1 in, process cape\n2026-11-06 10:00 H1 neutralised\n", "2026-11-06 10:05"), "due"
    )
    assert one.message.endswith(": time is up Fri 6 Nov 10:30")
    assert one.do.startswith("not before Fri 6 Nov 10:15: go on with it and write: `H1 tan`")
    later = named(
        seen("2026-11-06 08:00 H1 in, process cape\n2026-11-06 10:00 H1 neutralised\n", "2026-11-06 10:15"), "due"
    )
    assert later.do.startswith("go on with it")


IN_DRUM = "2026-11-02 08:00 H1 in, process drum\n2026-11-02 09:00 H1 fleshed\n"
LATE_SHOP = SHOP.replace("first turn    runs", "first turn    within 2 h of fleshed, runs")


def test_a_run_is_asked_for_with_its_load_and_the_load_first_where_none_stands() -> None:
    one = named(seen(IN_DRUM, "2026-11-02 12:00", LATE_SHOP), "overdue")
    assert one.do == "do it and write: mix the load first, `L1 mixed in D1`, then `H1 first turn in L1`"
    loaded = "2026-11-02 07:30 L4 mixed in D1, 9 qt water\n" + IN_DRUM
    assert named(seen(loaded, "2026-11-02 12:00", LATE_SHOP), "overdue").do == "do it and write: `H1 first turn in L4`"


def test_a_run_without_a_load_is_not_told_to_be_turned_on() -> None:
    lines = "2026-11-02 16:00 H1 in, process slow drum\n2026-11-02 16:30 H1 long turn\n"
    assert not [one for one in seen(lines, "2026-11-02 17:00") if "` on`" in one.do]


def test_a_stay_or_a_run_in_a_bath_without_its_bath_is_asked_for_it() -> None:
    one = named(
        seen("2026-11-02 08:00 H1 in, process cape\n2026-11-02 09:00 H1 pickle\n", "2026-11-02 10:00"),
        "no bath written",
    )
    assert one.message == "in pickle since Mon 2 Nov 09:00, and no bath is written, nor does one stand for it"
    assert one.rings
    turn = named(seen(IN_DRUM + "2026-11-02 10:00 H1 first turn\n", "2026-11-02 11:00"), "no bath written")
    assert turn.message == "in first turn since Mon 2 Nov 10:00, and no load is written, nor does one stand for it"
    assert turn.do.endswith("`L1 mixed in D1`, and under that `H1 first turn in L1`")
    loaded = "2026-11-02 07:30 L4 mixed in D1, 9 qt water\n" + IN_DRUM + "2026-11-02 10:00 H1 first turn in L4\n"
    assert not [f for f in seen(loaded, "2026-11-02 11:00") if f.name == "no bath written"]


TUB_SHOP = """shop Bramble Lane Skins
  zone America/Chicago
  hours 7:00 to 18:00, Mon to Sat
  gallons US
vessel V1, vat, 40 gal, holds 12
process cape
  in
  pickle   stays at least 1 d, pH 0.8 to 1.6, read every day
  tan      pH 3.6 to 4.2, read every 12 h, stirred every 12 h
  out
process small
  in
  pickle   stays at least 1 d, pH 0.8 to 2.0, read every day
  tan      read every 12 h, stirred every 12 h
  out
"""
UNREAD = "2026-11-02 08:00 P1 mixed in V1, 20 gal water\n2026-11-02 08:10 H1 in, 7 moons\n"


def told(found: list[Finding]) -> list[tuple[str, tuple[str, ...], bool]]:
    return [(one.name, one.tags, one.may) for one in found if one.name != "arrival not read"]


def test_a_skin_whose_arrival_nobody_can_read_lies_in_the_tub_all_the_same() -> None:
    tan = UNREAD + "2026-11-02 08:15 H1 tan in P1\n2026-11-02 09:30 P1 pH 3.9\n"
    assert told(seen(tan, "2026-11-03 16:00", TUB_SHOP, 1)) == [
        ("stir due", ("H1", "P1"), True),
        ("reading due", ("H1", "P1"), True),
    ]
    pickle = UNREAD + "2026-11-02 08:15 H1 pickle in P1\n2026-11-03 15:30 P1 pH 2.9\n"
    assert told(seen(pickle, "2026-11-03 16:00", TUB_SHOP, 1)) == [("out of range now", ("H1", "P1"), True)]


def test_its_mates_slip_is_its_own_matter_and_the_other_way_round() -> None:
    both = (
        UNREAD
        + "2026-11-02 08:10 H2 in, process cape\n2026-11-02 08:15 H1 H2 pickle in P1\n2026-11-03 15:30 P1 pH 1.2\n"
    )
    assert told(seen(both + "2026-11-03 15:40 H2 slip, slight\n", "2026-11-03 16:00", TUB_SHOP, 1)) == [
        ("slip nearby", ("H1",), False)
    ]
    assert told(seen(both + "2026-11-03 15:40 H1 slip, slight\n", "2026-11-03 16:00", TUB_SHOP, 1)) == [
        ("slip nearby", ("H2",), False)
    ]


IN_TAN = "2026-11-02 08:00 P1 mixed in V1, 20 gal water\n2026-11-02 08:10 H1 in, process cape\n2026-11-02 08:15 H1 tan in P1\n"


def test_what_a_bath_may_read_is_shown_inside_its_range() -> None:
    one = named(seen(IN_TAN + "2026-11-02 09:00 P1 stirred\n", "2026-11-02 16:00", TUB_SHOP), "reading due")
    assert one.do.endswith("`P1 pH 3.9 strip`")


def test_a_bath_that_reads_wrong_and_is_to_be_read_is_one_matter() -> None:
    lines = (
        IN_TAN + "2026-11-02 09:30 P1 pH 5.0\n2026-11-02 10:00 P1 add 1 oz citric acid\n2026-11-02 10:00 P1 stirred\n"
    )
    found = [f for f in seen(lines, "2026-11-02 12:00", TUB_SHOP) if f.name in ("out of range now", "reading due")]
    assert [f.name for f in found] == ["out of range now"]
    assert "dosed Mon 2 Nov 10:00, not read since; to be read within an hour of a dose: 1 h over" in found[0].more


SOAKED = "2026-11-02 08:00 H1 H2 in, process cape\n2026-11-06 08:00 H1 H2 neutralised\n2026-11-06 09:00 H1 H2 drained\n"
WATCH_SHOP = SHOP.replace("  tan           stays 16 h", "  drained       optional\n  tan           stays 16 h")


def test_hair_that_held_since_wakes_nobody_and_hair_that_came_after_it_does() -> None:
    held = SOAKED + "2026-11-06 10:00 H1 H2 pull test ok\n"
    one = named(seen(held, "2026-11-06 12:00", WATCH_SHOP), "stayed too long")
    assert (one.when, one.rings, one.tags) == ("now", False, ("H1", "H2"))
    assert one.do.startswith("pull again, gently at ears")
    worse = named(
        seen(held + "2026-11-06 11:00 H1 H2 pull test fails\n", "2026-11-06 12:00", WATCH_SHOP), "stayed too long"
    )
    assert worse.rings


def test_what_a_cut_skin_went_through_is_a_matter_of_its_parts() -> None:
    found = seen(SOAKED + "2026-11-06 10:00 H1 cut into H1a cape, H1b back skin\n", "2026-11-06 12:00", WATCH_SHOP)
    one = named(found, "stayed too long")
    assert one.tags == ("H1a", "H1b", "H2")
    assert "`H1a H1b H2 pull test ok`" in one.do


def test_skins_put_in_just_before_closing_are_read_before_the_last_one_goes() -> None:
    late = "2026-11-02 08:00 P1 mixed in V1, 20 gal water\n2026-11-02 08:10 H1 in, process cape\n2026-11-02 17:50 H1 pickle in P1\n"
    one = named(seen(late, "2026-11-02 17:55", TUB_SHOP), "reading due")
    assert one.when == "tonight"
    assert one.message.endswith(
        "to be read within an hour of skins going in: nobody is there then; act before closing, Mon 2 Nov 18:00"
    )
    assert one.do == "read it before you go and write what it says, like this: `P1 pH 1.2 strip`"
    assert not [f for f in seen(late, "2026-11-02 18:30", TUB_SHOP) if f.name == "reading due"]
    (morning,) = [f for f in seen(late, "2026-11-03 07:05", TUB_SHOP) if f.name == "reading due"]
    assert morning.when == "now"


def test_the_line_to_write_for_a_reading_that_was_wrong_answers_it() -> None:
    shop = TUB_SHOP.replace("  out\nprocess small", "  shaved\n  out\nprocess small")
    lines = IN_TAN + "2026-11-02 09:30 P1 pH 5.0\n2026-11-02 16:00 P1 pH 3.9\n2026-11-02 16:10 H1 shaved\n"
    one = named(seen(lines, "2026-11-02 17:00", shop), "reading out of range")
    command = one.do.split("`")[1]
    assert command == "P1 waived reading out of range -- dosed, and read again"
    assert "reading out of range" not in [
        f.name for f in seen(f"{lines}2026-11-02 17:00 {command}\n", "2026-11-02 17:00", shop)
    ]


def test_what_was_let_go_keeps_the_amount_that_was_written() -> None:
    lines = "2026-11-02 08:00 L1 mixed in D1, 9 qt water\n2026-11-02 12:00 L1 dumped 2 gal, sewer, pH 3.0\n"
    assert "`L1 dumped 2 gal, sewer`" in named(seen(lines, "2026-11-02 13:00"), "dumped below the sewer limit").do


def test_who_lay_in_a_drum_that_stood_too_long_and_the_line_that_stopped_it() -> None:
    lines = (
        "2026-11-02 07:30 L1 mixed in D1, 9 qt water\n"
        "2026-11-02 07:35 H1 H2 in, process drum\n"
        "2026-11-02 07:40 H1 H2 fleshed\n"
        "2026-11-02 07:50 H1 H2 first turn in L1\n"
        "2026-11-02 08:00 L1 on\n"
        "2026-11-02 08:40 L1 off\n"
        "2026-11-02 10:00 H2 drained\n"
        "2026-11-02 15:00 H1 drained\n"
    )
    one = named(seen(lines, "2026-11-02 16:00"), "drum standing loaded")
    assert (one.when, one.tags) == ("record", ("H1", "L1"))
    assert one.place is not None
    assert one.place.line == SHOP.count("\n") + 1 + 6


def test_a_skin_that_lies_raw_because_it_is_not_fleshed_is_one_matter() -> None:
    shop = SHOP.replace(
        "process drum\n  in\n  fleshed\n",
        "process drum\n  in\n  fleshed  within 12 h of in, raw clock stops\n  raw at most 18 h\n",
    )
    found = seen("2026-11-02 08:00 H1 in, process drum\n", "2026-11-03 08:00", shop)
    assert [f.name for f in found if f.name in ("overdue", "raw too long")] == ["overdue"]


def test_no_length_of_time_is_said_to_be_none() -> None:
    lines = "2026-11-02 H1 in, process cape\n2026-11-02 H1 neutralised\n2026-11-02 09:00 H1 tan\n"
    for at in ("2026-11-02 08:00", "2026-11-02 09:00", "2026-11-02 12:00", "2026-11-04 12:00"):
        assert not [f.message for f in seen(lines, at) if "no time" in f.message.replace("no time zone", "")]


RAW = """shop Bramble Lane Skins
  zone America/Chicago
  hours 7:00 to 18:00, Mon to Sat
  gallons US
process cape
  in
  fleshed
  salt  stays at least 24 h, raw clock stops
  out
  raw at most 12 h
"""


def test_nobody_is_asked_to_pull_at_a_skin_that_is_lost() -> None:
    day = "2026-11-02 08:00 H5 H6 in, process cape\n2026-11-03 08:00 H5 H6 fleshed\n2026-11-03 09:00 H5 H6 salt\n"
    told = [
        one
        for one in seen(f"{day}2026-11-03 10:00 H6 lost\n", "2026-11-03 12:00", shop=RAW)
        if one.name == "raw too long"
    ]
    assert [(one.tags, one.ended) for one in told] == [(("H5",), False), (("H6",), True)]
    assert "`H5 pull test ok`" in told[0].do
    assert told[1].do == "it is no longer here to be pulled at; say why: `H6 waived raw too long -- why`"
    after = f"{day}2026-11-03 10:00 H6 lost\n2026-11-03 11:00 H6 waived raw too long -- it slipped\n"
    names = [one.name for one in seen(after, "2026-11-03 12:00", shop=RAW) if "H6" in one.tags]
    assert "after it was out" not in names
    assert "raw too long" not in names


def test_a_line_to_write_names_a_vessel_the_shop_has_or_none() -> None:
    line = "2026-11-02 08:00 H99 pickle\n"
    assert "`H99 mixed in V1`" in named(seen(line, "2026-11-02 09:00"), "unknown tag").do
    other = SHOP.replace("vessel V1, vat", "vessel T7, tub")
    assert "`H99 mixed in T7`" in named(seen(line, "2026-11-02 09:00", shop=other), "unknown tag").do
    none = SHOP.replace("vessel V1, vat, 40 gal\n", "")
    assert "`H99 mixed`" in named(seen(line, "2026-11-02 09:00", shop=none), "unknown tag").do
