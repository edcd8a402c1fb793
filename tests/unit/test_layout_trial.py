"""A newcomer's pages: a tub that is its own bath, lines written late, hides that came frozen, one tag for two skins."""

from __future__ import annotations

from datetime import date

import pytest

from hideledger.model.book import Book
from hideledger.model.moments import HOUR, MINUTE, When
from hideledger.reading import read_text
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.layout import lay_out
from hideledger.shopfloor.lengths import between, elapsed, rested
from hideledger.shopfloor.life import HideLife
from hideledger.text.source import Source
from tests.unit.little_book import bath, odd, only
from tests.unit.test_layout_books import SHOP, floor, walls

TAN = """shop Fen Lane Skins
  zone America/Chicago
  gallons US
  room 66 F
vessel D1, drum, 19 gal
vessel V1, vat, 40 gal
process drum
  in
  fleshed
  first turn      in a bath
  second turn     in a bath, tanning begun
  oiled
  out
  raw at most 12 h at 66 F

"""


def at(laid: Floor | Book, stamp: str) -> int:
    """An instant by the wall clock of the shop."""
    book = laid.book if isinstance(laid, Floor) else laid
    return book.clock.at(date.fromisoformat(stamp[:10]).toordinal(), int(stamp[11:13]) * 60 + int(stamp[14:16])).lo


def now(laid: Floor) -> When:
    """The moment the floor was laid out for."""
    return When(laid.at, laid.at, laid.book.clock.day_of(laid.at), True)


def steps(laid: Floor, tag: str) -> list[str]:
    """The steps of a hide in time, each with its fault."""
    return [f"{mark.name} {mark.fault}".strip() for mark in only(laid, tag).marks]


def span(laid: Floor, tag: str, name: str) -> tuple[str, str]:
    """From and to of a step, as the wall clock says it."""
    mark = next(mark for mark in only(laid, tag).marks if mark.name == name)
    clock = laid.book.clock
    return clock.local(mark.when.lo).strftime("%H:%M"), clock.local(mark.when.hi).strftime("%H:%M")


# --- the tub's own tag as the bath


def test_a_tub_mixed_by_its_own_tag_is_a_bath() -> None:
    laid = floor(
        """2026-11-01 8:00 H1 H2 in, whitetail cape
2026-11-02 7:55 V1 pH 6
2026-11-02 8:00 V1 mixed, 20 gal water, 20 lb salt
2026-11-02 8:10 V1 pH 2.1 strip, stirred
2026-11-02 8:20 H1 H2 pickle in V1
2026-11-02 9:20 V1 add 3 lb salt
2026-11-05 9:00 all in V1 shaved
2026-11-05 11:00 V1 dumped
2026-11-06 9:00 V1 pH 3
"""
    )
    life = bath(laid, "V1")
    assert (life.vessel, life.declared, life.ended_as) == ("V1", True, "dumped")
    assert life.volume_l == pytest.approx(75.708, abs=1e-3)  # NIST Handbook 44, appendix C: 3.785 412 L to the gallon
    assert [str(reading.fact.value.value) for reading in life.readings] == ["6", "2.1"]
    assert len(life.doses) == 1
    assert [member.hide.tag for member in life.members] == ["H1", "H2"]
    assert walls(laid, "H1") == ["pickle V1 02 08:20 to 05 09:00"]
    assert only(laid, "H1").stays[0].bath is life
    assert [entry.text for entry in life.after_end] == ["2026-11-06 9:00 V1 pH 3"]
    assert not laid.oddities


def test_a_drum_by_its_own_tag_turns_its_load() -> None:
    laid = floor(
        """2026-11-01 8:00 H1 in, whitetail cape
2026-11-02 8:00 D1 mixed in D1, 9 qt water
2026-11-02 8:20 H1 first turn in D1
2026-11-02 8:30 D1 on, 8 psi
2026-11-02 9:10 D1 off
2026-11-02 9:20 H1 drained
"""
    )
    assert bath(laid, "D1").vessel == "D1"
    assert only(laid, "H1").stays[0].turned == (40 * MINUTE, 40 * MINUTE)
    assert not laid.oddities


def test_the_tag_of_a_tub_means_the_bath_in_it() -> None:
    laid = floor(
        """2026-11-01 8:00 H1 in, whitetail cape
2026-11-02 8:00 P1 mixed in V1, 20 gal water
2026-11-02 8:10 V1 pH 2.1, stirred
2026-11-02 8:20 H1 pickle in V1
2026-11-02 8:20 H1 pickle in P1
2026-11-05 9:00 H1 out of V1
2026-11-05 11:00 V1 dumped
2026-11-05 12:00 V1 mixed, 10 gal water
2026-11-05 12:10 V1 pH 3
"""
    )
    first, second = bath(laid, "P1"), bath(laid, "V1")
    assert (first.ended_as, len(first.readings), len(first.members)) == ("dumped", 1, 1)
    assert (second.ended, len(second.readings)) == (None, 1)
    assert [oddity.sort for oddity in laid.oddities] == ["twice"]  # one skin, one minute, one bath under both its names


@pytest.mark.parametrize(("one", "other"), [("P1 mixed in V1", "V1 mixed"), ("V1 mixed", "P1 mixed in V1")])
def test_a_second_bath_in_a_tub_stands_beside_the_first(one: str, other: str) -> None:
    laid = floor(
        f"""2026-11-01 8:00 H1 H2 in, whitetail cape
2026-11-02 8:00 {one}, 20 gal water
2026-11-02 8:20 H1 pickle in V1
2026-11-02 12:00 {other}, 20 gal water
2026-11-02 12:10 V1 pH 3
2026-11-02 12:20 H2 pickle in V1
2026-11-05 9:00 all in V1 shaved
"""
    )
    old, new = bath(laid, one[:2]), bath(laid, other[:2])
    assert [life.tag for life in laid.in_vessel("V1")] == [old.tag, new.tag]
    assert ([m.hide.tag for m in old.members], [m.hide.tag for m in new.members]) == (["H1"], ["H2"])
    assert (len(old.readings), len(new.readings)) == (0, 1)
    assert [steps(laid, tag)[-1].split()[0] for tag in ("H1", "H2")] == ["shaved", "shaved"]
    assert not laid.oddities


def test_out_of_a_tub_is_out_of_whichever_bath_stands_in_it() -> None:
    laid = floor(
        """2026-11-01 8:00 H1 in, whitetail cape
2026-11-02 8:00 V1 mixed, 20 gal water
2026-11-02 8:20 H1 pickle in V1
2026-11-02 12:00 P1 mixed in V1, 20 gal water
2026-11-05 9:00 H1 out of V1
"""
    )
    assert walls(laid, "H1") == ["pickle V1 02 08:20 to 05 09:00"]
    assert not odd(laid, "in two places")


def test_a_tub_mixed_in_another_tub_is_one_tag_for_two_things() -> None:
    laid = floor("2026-11-02 8:00 V1 mixed in V2, 20 gal water\n")
    assert [oddity.tags for oddity in odd(laid, "two declarations")] == [("V1",)]
    assert not laid.baths


def test_a_tub_whose_make_up_cannot_be_read_still_holds_its_skins() -> None:
    laid = floor(
        """2026-11-01 8:00 H1 in, whitetail cape
2026-11-02 8:00 V1 mixed, 20 gal water, 20 furlongs
2026-11-02 8:20 H1 pickle in V1
2026-11-02 8:30 V1 pH 2.1
""",
        unread=1,
    )
    life = bath(laid, "V1")
    assert (life.declared, life.vessel, len(life.members), len(life.readings)) == (False, "V1", 1, 1)


# --- the tan


def test_a_skin_that_has_been_through_the_tan_is_not_raw() -> None:
    page = """2026-11-02 8:00 H1 in
2026-11-02 9:00 H1 fleshed
2026-11-02 10:00 L1 mixed in D1, 9 qt water
2026-11-02 10:10 H1 first turn in L1
2026-11-02 12:00 H1 second turn in L1
2026-11-03 8:00 H1 oiled
"""
    book = read_text(TAN + page)
    assert not book.unread
    raw = only(lay_out(book, at(book, "2026-11-09 12:00")), "H1").raw
    assert raw is not None
    assert (raw.running, raw.shop) == (False, (4 * HOUR, 4 * HOUR))
    assert raw.stopped_by is not None
    assert raw.stopped_by.text.endswith("second turn in L1")
    before = only(lay_out(book, at(book, "2026-11-02 11:00")), "H1").raw
    assert before is not None
    assert before.running


# --- lines written late

LATE = """2026-11-02 8:00 H1 in, whitetail cape
2026-11-02 15:00 H1 salt
2026-11-02 17:00 H1 7 lb
2026-11-03 8:00 H2 in, whitetail cape
2026-11-04 9:00 H1 pickle
"""


def test_a_step_written_late_stands_where_its_process_has_it() -> None:
    laid = floor(LATE + "2026-11-02 H1 fleshed\n2026-11-02 H1 ears turned\n", "2026-11-04 12:00")
    assert steps(laid, "H1") == ["in", "fleshed", "ears turned", "salt", "pickle"]
    assert span(laid, "H1", "fleshed") == ("08:00", "15:00")
    assert not only(laid, "H1").missing
    raw = only(laid, "H1").raw
    assert raw is not None
    assert raw.shop == (7 * HOUR, 7 * HOUR)


def test_a_line_is_late_below_a_later_day_of_other_hides_too() -> None:
    laid = floor(
        "2026-11-02 8:00 H1 in, whitetail cape\n2026-11-02 15:00 H1 salt\n2026-11-03 8:00 H2 in, whitetail cape\n"
        "2026-11-02 H1 fleshed\n"
    )
    assert steps(laid, "H1") == ["in", "fleshed", "salt"]


def test_a_step_in_another_file_stands_where_its_process_has_it() -> None:
    book = read_text(SHOP + LATE)
    other = read_text(SHOP + "2026-11-02 H1 fleshed\n", name="another.hides")
    first = len(book.entries)
    for i, entry in enumerate(other.entries):
        entry.order = first + i
    for entries in ((*book.entries, *other.entries), (*other.entries, *book.entries)):
        for i, entry in enumerate(entries):
            entry.order = i
        whole = Book(
            sources=(*book.sources, *other.sources),
            shop=book.shop,
            clock=book.clock,
            entries=entries,
            unread=(),
        )
        laid = lay_out(whole, at(whole, "2026-11-04 12:00"))
        assert steps(laid, "H1") == ["in", "fleshed", "salt", "pickle"]
        assert span(laid, "H1", "fleshed") == ("08:00", "15:00")
    assert isinstance(other.entries[0].source, Source)


def test_a_late_step_is_never_before_the_arrival_even_where_its_order_is_wrong() -> None:
    laid = floor(
        "2026-11-02 8:00 H1 in, whitetail cape\n2026-11-02 9:00 H1 fleshed\n2026-11-03 9:00 H1 salt\n"
        "2026-11-02 H1 oiled\n",
        "2026-11-04 12:00",
    )
    assert steps(laid, "H1")[0] == "in"
    assert min(mark.when.lo for mark in only(laid, "H1").marks) == at(laid, "2026-11-02 08:00")


def test_a_line_in_its_place_stays_below_the_line_above_it() -> None:
    laid = floor("2026-11-02 8:00 H1 in, whitetail cape\n2026-11-02 15:00 H1 salt\n2026-11-02 H1 fleshed\n")
    assert steps(laid, "H1")[1] == "salt out of order"
    assert span(laid, "H1", "fleshed") == ("15:00", "23:59")


def test_an_arrival_written_late_lies_before_the_days_other_lines() -> None:
    laid = floor("2026-11-02 9:00 H1 fleshed\n2026-11-03 9:00 H1 salt\n2026-11-02 H1 in, whitetail cape\n")
    assert steps(laid, "H1") == ["in", "fleshed", "salt"]
    assert only(laid, "H1").arrived_when.hi == at(laid, "2026-11-02 09:00")


NEUTRAL = """2026-11-02 7:50 H1 in, whitetail cape
2026-11-02 8:00 N1 mixed in V1, 10 gal water
2026-11-02 8:20 H1 neutralised in N1
2026-11-02 8:30 N1 pH 7
2026-11-02 8:40 H1 first turn
"""


@pytest.mark.parametrize("between", ["", "2026-11-03 9:00 H1 7 lb\n"])
def test_a_bath_dumped_without_a_time_was_let_go_after_its_last_line_and_its_skins(between: str) -> None:
    laid = floor(NEUTRAL + between + "2026-11-02 N1 dumped 10 gal, pH 7, sewer\n")
    life = bath(laid, "N1")
    assert (life.after_end, [len(life.readings), len(life.members)]) == ([], [2, 1])
    assert life.ended_when is not None
    assert life.ended_when.lo == at(laid, "2026-11-02 08:40")
    assert not odd(laid, "dumped with hides in")


def test_a_dump_written_late_makes_room_for_the_next_bath_of_that_tag() -> None:
    laid = floor(
        NEUTRAL + "2026-11-02 12:00 N1 mixed in V1, 10 gal water\n2026-11-03 9:00 N1 pH 6\n2026-11-02 N1 dumped\n"
    )
    old, new = laid.baths["N1"]
    assert (old.ended_as, new.ended) == ("dumped", None)
    assert not odd(laid, "mixed anew")
    assert not new.after_end


def test_a_hide_handed_out_without_a_time_went_after_its_other_lines_of_that_day() -> None:
    laid = floor(LATE + "2026-11-02 H2 in, whitetail cape\n2026-11-04 9:30 H1 4 lb\n2026-11-04 H1 out to Oren Vale\n")
    assert not only(laid, "H1").after_end
    assert only(laid, "H1").marks[-1].when.lo == at(laid, "2026-11-04 09:30")


def test_lifted_out_written_late_follows_going_in() -> None:
    laid = floor(
        NEUTRAL.replace("8:40 H1 first turn", "8:35 H2 in, whitetail cape")
        + "2026-11-03 9:00 H2 7 lb\n2026-11-02 H1 out of N1\n"
    )
    (stay,) = only(laid, "H1").stays
    assert stay.end is not None
    assert stay.end_entry is not None
    assert stay.end_entry.text.endswith("out of N1")


def test_an_off_written_late_ends_the_turn_it_is_missing_from() -> None:
    laid = floor(
        """2026-11-01 8:00 H1 in, whitetail cape
2026-11-02 8:00 L1 mixed in D1, 9 qt water
2026-11-02 8:20 H1 first turn in L1
2026-11-02 8:30 L1 on
2026-11-02 10:00 L1 on
2026-11-02 10:30 L1 off
2026-11-03 9:00 H1 7 lb
2026-11-02 L1 off
"""
    )
    first, second = bath(laid, "L1").turns
    assert first.end is not None
    assert (first.end.lo, first.end.hi) == (at(laid, "2026-11-02 08:30"), at(laid, "2026-11-02 10:00"))
    assert second.start.lo == at(laid, "2026-11-02 10:00")
    assert not odd(laid, "twice")


# --- two moments of one line

FROZEN = "2026-10-28 H4 in, whitetail cape, frozen, for Ada Quill\n"


def test_what_came_frozen_on_some_hour_of_a_day_was_never_raw_in_the_shop() -> None:
    life = only(floor(FROZEN), "H4")
    assert life.raw is not None
    assert (life.raw.shop, life.raw.running) == ((0, 0), False)


def test_a_rest_that_began_at_the_door_leaves_nothing_of_the_clock() -> None:
    laid = floor(FROZEN)
    life = only(laid, "H4")
    assert elapsed(life, life.arrived_when, now(laid), laid.at) == (0, 0)
    whole = between(life.arrived_when, now(laid))
    assert rested(life, life.arrived_when, now(laid), laid.at) == whole


def test_after_a_timed_thaw_hours_are_certain() -> None:
    laid = floor(FROZEN + "2026-11-03 9:00 H4 thawed\n2026-11-03 15:00 H4 fleshed\n2026-11-03 16:00 H4 salt\n")
    life = only(laid, "H4")
    assert life.raw is not None
    assert life.raw.shop == (7 * HOUR, 7 * HOUR)
    fleshed = life.marks[1]
    assert elapsed(life, life.arrived_when, fleshed.when, laid.at) == (6 * HOUR, 6 * HOUR)


def test_a_rest_later_on_an_unknown_hour_leaves_a_range() -> None:
    laid = floor(
        "2026-11-02 8:00 H4 in, whitetail cape\n2026-11-03 H4 frozen in freezer\n2026-11-05 9:00 H4 thawed\n"
        "2026-11-05 10:00 H4 fleshed\n"
    )
    life = only(laid, "H4")
    # by hand: 16 h to 40 h until it froze, and 1 h after the thaw
    least, most = elapsed(life, life.arrived_when, life.marks[1].when, laid.at)
    assert least == 17 * HOUR
    assert most == pytest.approx(41 * HOUR, abs=1)


def test_a_step_with_its_length_lasted_that_long_whenever_it_was() -> None:
    laid = floor("2026-11-01 H4 in, whitetail cape\n2026-11-04 9:00 H4 pickle\n2026-11-04 H4 neutralised 20 min\n")
    pickle, stay = only(laid, "H4").stays
    assert stay.end is not None
    assert between(stay.start, stay.end) == (20 * MINUTE, 20 * MINUTE)
    assert (stay.start.lo, stay.end.lo) == (at(laid, "2026-11-04 09:00"), at(laid, "2026-11-04 09:20"))
    assert pickle.end == stay.start


def test_a_short_step_written_when_it_was_over_began_before_its_line() -> None:
    laid = floor(
        "2026-11-01 H4 in, whitetail cape\n2026-11-04 14:30 H4 neutralised 15 min\n2026-11-04 15:30 H4 first turn\n"
    )
    stay = only(laid, "H4").stays[0]
    assert (stay.told, stay.begun) == (True, stay.start)
    assert stay.end is not None
    assert (stay.start.lo, stay.end.lo) == (at(laid, "2026-11-04 14:15"), at(laid, "2026-11-04 14:30"))


def test_a_short_step_written_after_the_old_bath_was_dumped_began_before_that() -> None:
    laid = floor(
        """2026-11-01 8:00 H4 H5 in, whitetail cape
2026-11-02 8:00 P3 mixed in V1, 20 gal water
2026-11-02 8:10 H4 H5 pickle in P3
2026-11-05 10:00 N1 mixed in V2, 10 gal water
2026-11-05 11:05 P3 dumped
2026-11-05 11:10 H4 neutralised 20 min in N1
"""
    )
    assert walls(laid, "H4") == ["pickle P3 02 08:10 to 05 10:50", "neutralised N1 05 10:50 to 05 11:10"]
    assert [member.leave.lo for member in bath(laid, "P3").members if member.leave is not None] == [
        at(laid, "2026-11-05 10:50"),
        at(laid, "2026-11-05 11:05"),
    ]
    assert [oddity.tags for oddity in odd(laid, "dumped with hides in")] == [("H5", "P3")]


# --- arrivals that cannot be read, and two under one tag


@pytest.mark.parametrize(
    "bad", ["2026-10-28 9:00 H4 in, whitetail cap, for Ada Quill", "2026-10-28 9:00 H4 xyzzy cap, for Ada Quill"]
)
def test_a_hide_whose_arrival_cannot_be_read_is_on_the_floor(bad: str) -> None:
    page = f"{bad}\n2026-10-28 10:00 H4 fleshed\n2026-10-28 11:00 H4 salt\n"
    laid = floor(page, unread=1)
    life = only(laid, "H4")
    assert (life.declared, life.arrival_unread, life.process) == (False, True, None)  # the shop has two processes
    assert not laid.oddities
    book = read_text(TAN + page.replace(" 11:00 H4 salt", " 11:00 H4 first turn"))
    alone = only(lay_out(book, at(book, "2026-11-04 12:00")), "H4")
    assert alone.process is not None
    assert alone.process.name == "drum"
    assert not alone.missing


def test_a_hide_that_came_in_on_a_line_that_can_be_read_is_no_such_hide() -> None:
    laid = floor("2026-10-28 9:00 H4 in, whitetail cape\n2026-10-28 10:00 H4 flshd\n", unread=1)
    assert not only(laid, "H4").arrival_unread


def test_a_bath_that_only_an_unread_line_names_stays_unknown() -> None:
    laid = floor(
        "2026-10-28 9:00 H4 in, whitetail cape\n2026-10-28 9:30 P9 pH 2..1\n2026-10-28 10:00 H4 pickle in P9\n",
        unread=1,
    )
    assert [oddity.tags for oddity in odd(laid, "unknown tag")] == [("P9",)]


def arrivals(second: str) -> tuple[HideLife, str]:
    """A hide that is here, and a second arrival under its tag: its life, and what is noted of the two."""
    laid = floor(
        "2026-10-28 9:00 H1 in, whitetail cape, 7 lb, for Ada Quill\n"
        f"2026-10-29 9:00 H1 in, {second}\n2026-10-29 10:00 H1 fleshed\n"
    )
    (oddity,) = odd(laid, "twice")
    return only(laid, "H1"), oddity.note


@pytest.mark.parametrize(
    ("second", "note"),
    [
        ("back skin, for Ada Quill", "another skin"),
        ("whitetail cape, for Bea Marsh", "another skin"),
        ("whitetail cape, 9 lb, for Ada Quill", "another skin"),
        ("whitetail cape, 112 oz, for Ada Quill", ""),  # 16 oz to the pound (NIST Handbook 44, appendix C)
        ("whitetail cape", ""),
        ("for ada quill", ""),
    ],
)
def test_two_arrivals_under_one_tag_may_be_two_skins(second: str, note: str) -> None:
    life, said = arrivals(second)
    assert said == note
    assert (life.kind, life.payer, len(life.weights)) == ("whitetail cape", "Ada Quill", 1)
    assert len(life.twice_in) == 1
