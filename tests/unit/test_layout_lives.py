"""Lives: a hide comes, is cut, comes out of a box, takes another's job, goes; a tag means what declares it."""

from datetime import date
from decimal import Decimal

from hideledger.model.facts import (
    Amount,
    Arrived,
    Code,
    Divided,
    Flaw,
    HandedOut,
    InCondition,
    Lost,
    Mixed,
    Money,
    OfKind,
    OnProcess,
    Opened,
    Party,
    Promised,
    Reading,
    Refused,
    StandsIn,
    Stepped,
    Took,
    Waived,
    Weighed,
)
from hideledger.model.process import Process
from hideledger.model.shop import Kind
from hideledger.shopfloor.strangers import Likely
from tests.unit.little_book import BOTH, SHOP, Page, bath, odd, only, proof, quantity, step


def test_a_tag_may_begin_anew_once_it_is_out() -> None:
    page = Page()
    page.comes("2026-01-05 08:00", "H41")
    page.line("2026-02-05 08:00", "H41", HandedOut(to="Oren Vale"))
    page.comes("2026-11-05 08:00", "H41", Weighed(weight=quantity("7", "lb")))
    first, second = page.floor().hides["H41"]
    assert (first.ended_as, first.handed_to, first.here) == ("out", "Oren Vale", False)
    assert second.here
    assert not first.weights
    assert len(second.weights) == 1


def test_in_on_a_hide_that_is_here_is_told() -> None:
    page = Page()
    first = page.comes("2026-11-03 08:00", "H41")
    again = page.comes("2026-11-04 08:00", "H41")
    floor = page.floor()
    (oddity,) = odd(floor, "twice")
    assert (oddity.tags, oddity.entry, oddity.other) == (("H41",), again, first)
    assert only(floor, "H41").twice_in == [again]


def test_work_after_it_was_out_is_set_aside_and_names_are_not() -> None:
    page = Page()
    page.comes("2026-11-03 08:00", "H41")
    page.line("2026-11-04 08:00", "H41", HandedOut(to="Oren Vale"))
    late = page.goes("2026-11-05 08:00", "H41", "salt")
    page.line("2026-11-06 08:00", "H41", Code(sort="tag", code="40718"))
    paid = page.line("2026-11-06 09:00", "H41", Money(sort="paid", money=quantity("40", "$")))
    floor = page.floor()
    life = only(floor, "H41")
    assert life.after_end == [late]
    assert late not in life.lines
    assert [mark.name for mark in life.marks] == ["in", "out"]
    assert life.codes["tag"][0].code == "40718"
    assert floor.money == [paid]


def test_lost_and_refused_end_a_life() -> None:
    page = Page()
    page.comes("2026-11-03 08:00", "H41")
    page.goes("2026-11-03 09:00", "H41", "salt")
    page.line("2026-11-04 08:00", "H41", Lost())
    page.line("2026-11-04 09:00", "H42", Refused(), Flaw(defect="green belly"))
    floor = page.floor()
    lost, refused = only(floor, "H41"), only(floor, "H42")
    assert (lost.ended_as, refused.ended_as) == ("lost", "refused")
    assert lost.stay is None
    assert lost.stays[0].end == page.when("2026-11-04 08:00")
    assert len(refused.defects) == 1


def test_lines_before_the_arrival_belong_to_that_life() -> None:
    page = Page()
    page.line("2026-11-03 07:55", "H41", proof("pull test", passed=True))
    page.comes("2026-11-03 08:00", "H41")
    life = only(page.floor(), "H41")
    assert [test.fact.test for test in life.tests] == ["pull test"]
    assert len(life.lines) == 2


def test_an_unknown_tag_is_told_once_with_the_nearest() -> None:
    page = Page()
    page.comes("2026-11-03 08:00", "H41 H42")
    first = page.goes("2026-11-03 09:00", "H4l", "salt")
    second = page.goes("2026-11-03 10:00", "H4l", "pickle")
    page.goes("2026-11-03 10:00", "H24 H41", "fleshed")
    floor = page.floor()
    look_alike, swapped = odd(floor, "unknown tag")
    assert (look_alike.tags, look_alike.note, look_alike.entry, look_alike.more) == (("H4l",), "H41", first, [second])
    assert (swapped.tags, swapped.note) == (("H24",), "H42")
    assert set(floor.hides) == {"H41", "H42"}
    assert [mark.name for mark in only(floor, "H41").marks] == ["in", "fleshed"]


def test_a_bath_that_was_never_mixed_is_an_unknown_tag_and_the_step_counts() -> None:
    page = Page()
    page.comes("2026-11-03 08:00", "H41")
    page.goes("2026-11-03 09:00", "H41", "pickle", "P9")
    floor = page.floor()
    assert [oddity.tags for oddity in odd(floor, "unknown tag")] == [("P9",)]
    stay = only(floor, "H41").stay
    assert stay is not None
    assert (stay.name, stay.where, stay.bath) == ("pickle", "P9", None)


def test_nearest_tags() -> None:
    likely = Likely(("H41", "H41a", "MB-07", "H100", "P3"))
    wanted = {
        "H14": "H41",
        "H4I": "H41",
        "MB-7": "MB-07",
        "MB07": "MB-07",
        "H1O0": "H100",
        "H42": "H41",
        "H0041": "H41",
        "H431": "H41",
    }
    assert {tag: likely.meant(tag, lambda _: True) for tag in wanted} == wanted
    assert likely.meant("ZZ-900", lambda _: True) == ""


def test_the_nearest_is_rather_one_that_was_here() -> None:
    likely = Likely(("H23", "H24", "H43"))
    assert likely.meant("H243", lambda tag: tag == "H43") == "H43"
    assert likely.meant("H243", lambda tag: tag == "H24") == "H24"


def test_a_tag_cannot_be_two_things() -> None:
    page = Page()
    first = page.comes("2026-11-03 08:00", "H41")
    second = page.line("2026-11-03 09:00", "H41", Mixed(vessel="V1"))
    floor = page.floor()
    (oddity,) = odd(floor, "two declarations")
    assert (oddity.entry, oddity.other) == (second, first)
    assert not floor.baths


def test_the_last_word_on_a_matter_counts() -> None:
    page = Page()
    page.comes("2026-11-03 08:00", "H51 H52")
    page.line("2026-11-03 12:00", "H51 H52", OfKind(kind="whitetail cape"), Party(role="for", name="Oren Vale"))
    page.line("2026-11-04 12:00", "H51", Promised(day=date(2026, 12, 15)))
    last = page.line("2026-11-05 12:00", "H51", Promised(day=date(2027, 1, 10)), Party(role="for", name="Lena Orrick"))
    life = only(page.floor(), "H51")
    assert life.promised == (Promised(day=date(2027, 1, 10)), last)
    assert life.payer == "Lena Orrick"
    assert only(page.floor(), "H52").payer == "Oren Vale"
    assert only(page.floor("2026-11-04 13:00"), "H51").payer == "Oren Vale"


def test_all_in_a_bath_but_one() -> None:
    page = Page()
    page.comes("2026-11-03 08:00", "H41 H42 H43")
    page.line("2026-11-03 09:00", "P3", Mixed(vessel="V1"))
    page.goes("2026-11-03 10:00", "H41 H42 H43", "pickle", "P3")
    page.goes("2026-11-08 10:00", "all in P3 but H42", "drained")
    page.goes("2026-11-08 10:05", "all in V1", "shaved")  # the vessel means the bath then in it
    floor = page.floor()
    assert [life.marks[-1].name for life in floor.all_hides()] == ["drained", "shaved", "drained"]
    assert bath(floor, "P3").now_in == []


def test_all_in_an_empty_bath_is_told() -> None:
    page = Page()
    page.line("2026-11-03 09:00", "P3", Mixed(vessel="V1"))
    line = page.goes("2026-11-08 10:00", "all in P3", "drained")
    assert [(oddity.tags, oddity.entry) for oddity in odd(page.floor(), "group of nobody")] == [(("P3",), line)]


def test_all_in_the_freezer() -> None:
    page = Page()
    page.comes("2026-11-03 08:00", "H41 H42")
    page.goes("2026-11-03 09:00", "H41 H42", "frozen", "freezer")
    page.goes("2026-11-04 09:00", "H42", "thawed")
    thaw = page.goes("2026-11-05 09:00", "all in freezer", "thawed")
    floor = page.floor()
    assert only(floor, "H41").pauses[0].end_entry is thaw
    assert only(floor, "H42").pauses[0].end_entry is not thaw


def test_the_parts_of_a_skin_go_on_where_the_whole_stood() -> None:
    page = Page(BOTH, Process(name="backs", steps=(step("in"), step("salt", "stay"), step("out")), place=SHOP))
    page.shop.kinds["back skin"] = Kind(name="back skin", process="backs", place=SHOP)
    page.line("2026-11-03 07:00", "P3", Mixed(vessel="V1"))
    page.comes(
        "2026-11-03 08:00",
        "H41",
        OnProcess(process="both"),
        Party(role="for", name="Oren Vale"),
        Code(sort="tag", code="7"),
    )
    page.line("2026-11-03 08:05", "H41", Weighed(weight=quantity("9", "lb")), proof("pull test", passed=True))
    page.goes("2026-11-03 09:00", "H41", "salt")
    start = page.goes("2026-11-05 09:00", "H41", "pickle", "P3")
    page.line("2026-11-06 09:00", "H41", Divided(parts=(("H41a", "cape"), ("H41b", "back skin"))))
    page.goes("2026-11-09 09:00", "H41a", "shaved")
    floor = page.floor()
    whole, cape, back = only(floor, "H41"), only(floor, "H41a"), only(floor, "H41b")
    assert (whole.ended_as, cape.parent, back.what) == ("cut", "H41", "back skin")
    assert [mark.name for mark in cape.marks] == ["in", "salt", "pickle", "shaved"]
    assert back.stay is not None
    assert (back.stay.start, back.stay.mark.entry) == (start.when, start)
    assert (cape.payer, cape.codes["tag"][0].code, len(cape.tests)) == ("Oren Vale", "7", 1)
    assert not cape.weights
    assert cape.process is not None
    assert back.process is not None
    assert (cape.process.name, back.process.name, back.kind) == ("both", "backs", "back skin")
    assert [(member.hide.tag, member.leave is None) for member in bath(floor, "P3").members] == [
        ("H41", False),
        ("H41a", False),
        ("H41b", True),
    ]
    assert bath(floor, "P3").pounds_through == 9


def test_a_stand_in_takes_job_and_promise_only() -> None:
    page = Page()
    page.comes("2026-11-03 08:00", "H44", Party(role="for", name="Oren Vale"), Party(role="owner", name="Bea Marsh"))
    page.line("2026-11-03 08:01", "H44", Promised(day=date(2026, 12, 15)), Code(sort="tag", code="7"))
    page.comes("2026-11-04 08:00", "H50", Party(role="owner", name="the shop"))
    page.line("2026-11-05 08:00", "H44", Lost())
    page.line("2026-11-05 08:05", "H50", StandsIn(other="H44"))
    spare = only(page.floor(), "H50")
    assert (spare.stands_in_for, spare.payer, spare.parties["owner"][0].name) == ("H44", "Oren Vale", "the shop")
    assert spare.promised is not None
    assert spare.promised[0].day == date(2026, 12, 15)
    assert not spare.codes


def test_the_skins_of_a_box_came_in_with_the_box() -> None:
    page = Page()
    page.line(
        "2026-11-03 08:00",
        "B7",
        Arrived(count=3),
        OfKind(kind="whitetail cape"),
        InCondition(condition="frozen"),
        Party(role="for", name="Wharf Forms"),
    )
    page.line("2026-11-05 08:00", "B7", Opened(tags=("H60", "H61"), their_tags=("R-1", "R-2")))
    page.goes("2026-11-05 10:00", "H61", "thawed")
    floor = page.floor()
    box, first, second = only(floor, "B7"), only(floor, "H60"), only(floor, "H61")
    assert (box.box, box.count, box.ended_as) == (True, 3, "opened")
    assert [oddity.note for oddity in odd(floor, "box count")] == ["2 of 3"]
    assert (first.kind, first.payer, first.from_box, first.box) == ("whitetail cape", "Wharf Forms", "B7", False)
    assert second.codes["their tag"][0].code == "R-2"
    assert first.resting is not None
    assert first.resting.start == page.when("2026-11-03 08:00")
    assert second.resting is None
    assert [life.tag for life in floor.here()] == ["H60", "H61"]


def test_a_hide_follows_its_own_process_else_its_kinds_else_the_only_one() -> None:
    other = Process(name="drum", steps=(step("in"), step("out")), place=SHOP)
    page = Page(BOTH, other)
    page.shop.kinds["coyote"] = Kind(name="coyote", process="drum", place=SHOP)
    page.comes("2026-11-03 08:00", "H41", OfKind(kind="coyote"))
    page.comes("2026-11-03 08:00", "H42", OfKind(kind="coyote"), OnProcess(process="both"))
    page.comes("2026-11-03 08:00", "H43")
    change = page.line("2026-11-04 08:00", "H42", OnProcess(process="drum"))
    floor = page.floor()
    assert only(floor, "H41").process is other
    assert (only(floor, "H42").process, only(floor, "H42").process_entry) == (other, change)
    assert only(floor, "H43").process is None
    page = Page(other)
    page.comes("2026-11-03 08:00", "H43")
    assert only(page.floor(), "H43").process is other


def test_the_version_is_the_one_that_held_on_the_day_it_came_in() -> None:
    old = Process(name="both", steps=(step("in"), step("out")), place=SHOP)
    new = Process(name="both", since=date(2026, 9, 1), steps=(step("in"), step("salt"), step("out")), place=SHOP)
    page = Page(old, new)
    page.comes("2026-08-31 23:59", "H41")
    page.comes("2026-09-01 00:00", "H42")
    page.line("2026-09-05 08:00", "H41", Weighed(weight=quantity("7", "lb")))
    floor = page.floor()
    assert only(floor, "H41").process is old
    assert only(floor, "H42").process is new


def test_amounts_put_onto_several_hides_are_shared() -> None:
    page = Page()
    page.comes("2026-11-03 08:00", "H41 H42")
    page.line(
        "2026-11-03 09:00",
        "H41 H42",
        Stepped(step="salt"),
        Took(amount=Amount(quantity=quantity("16", "lb"), supply="salt", lot="S-1")),
    )
    amount = only(page.floor(), "H41").used[0].amount
    assert (amount.quantity.value, amount.lot) == (Decimal(8), "S-1")


def test_a_waived_finding_is_kept_with_its_line() -> None:
    page = Page()
    page.comes("2026-11-03 08:00", "H41")
    line = page.line("2026-11-04 08:00", "H41", Waived(finding="came out early"))
    page.line("2026-11-04 09:00", "P3", Mixed(vessel="V1"))
    on_bath = page.line("2026-11-04 10:00", "P3", Waived(finding="reading missed"))
    floor = page.floor()
    assert [(answer.entry, answer.fact.finding) for answer in only(floor, "H41").waived] == [(line, "came out early")]
    assert [answer.entry for answer in bath(floor, "P3").waived] == [on_bath]


def test_a_line_written_twice_counts_once() -> None:
    page = Page()
    page.comes("2026-11-03 08:00", "H41")
    page.line("2026-11-03 08:05", "H41", Weighed(weight=quantity("7", "lb")))
    again = page.line("2026-11-03 08:05", "H41", Weighed(weight=quantity("7", "lb")))
    page.line("2026-11-03 09:00", "P3", Mixed(vessel="V1"))
    page.line("2026-11-03 10:00", "P3", Reading(what="pH", value=quantity("2.0", "pH"), how="strip"))
    page.line("2026-11-03 10:00", "P3", Reading(what="pH", value=quantity("2.1", "pH"), how="meter"))
    clash = page.line("2026-11-03 10:00", "P3", Reading(what="pH", value=quantity("2.4", "pH"), how="strip"))
    floor = page.floor()
    assert len(only(floor, "H41").weights) == 1
    assert [oddity.entry for oddity in odd(floor, "twice")] == [again, clash]
