"""The look at a floor laid out from facts: who is ready, when a tub was moved, how old a bath is, since when a state."""

from datetime import date

import pytest

from hideledger.answers.floor.answer import floor_look
from hideledger.answers.floor.baths import bath_sections
from hideledger.answers.floor.hides import by_state, held_back, ready
from hideledger.answers.sheet import Section
from hideledger.model.facts import Flaw, Mixed, Span, Stepped, Stirred, Turning
from hideledger.model.moments import MINUTE, Length
from hideledger.reading import read_text
from hideledger.shopfloor.layout import lay_out
from tests.unit.little_book import Page, proof
from tests.unit.made_by_hand import found

AT = "2026-11-08 18:00"


def pickled() -> Page:
    """Three hides in a pickle that asks for 72 hours, since 10:30 on the second of November."""
    page = Page()
    page.comes("2026-11-02 08:00", "H41 H42 H43")
    page.goes("2026-11-02 09:00", "H41 H42 H43", "fleshed")
    page.line("2026-11-02 10:00", "P3", Mixed(vessel="V1"))
    page.goes("2026-11-02 10:30", "H41 H42 H43", "pickle", "P3")
    return page


def texts(section: Section) -> list[str]:
    return [f"{row.head}: {row.text}" for row in section.rows]


def under(section: Section, label: str) -> list[str]:
    return [text for row in section.rows for name, text in row.under if name == label]


def test_what_was_late_once_is_ready_all_the_same() -> None:
    floor = pickled().floor(AT)
    findings = (found("stayed too long", "record", tags=("H41",)), found("overdue", "now", tags=("H42",)))
    (row,) = texts(ready(floor, findings))
    assert row.startswith("pickle: H41 H43: 6 d 7 h in P3")


def test_a_skin_that_slips_is_held_back_and_not_ready_until_its_hair_holds() -> None:
    page = pickled()
    page.line("2026-11-08 09:00", "H42", Flaw(defect="slip", where="ear"))
    floor = page.floor(AT)
    assert [row.split(": ")[1] for row in texts(ready(floor, ()))] == ["H41 H43"]
    assert texts(held_back(floor)) == ["H42: slip ear, 09:00"]
    mates = found("slip nearby", "now", tags=("H41", "H43"))
    assert texts(ready(floor, (mates,))) == []
    page.line("2026-11-08 09:30", "H42", proof("pull test", passed=True))
    assert [row.split(": ")[1] for row in texts(ready(page.floor(AT), ()))] == ["H41 H42 H43"]


def test_skins_that_come_out_move_the_tub_too() -> None:
    page = pickled()
    page.line("2026-11-07 08:00", "P3", Stirred())
    assert under(bath_sections(page.floor(AT))[0], "moved") == ["Sat 7 Nov 08:00, 34 h ago"]
    page.goes("2026-11-08 17:00", "H41", "shaved")
    assert under(bath_sections(page.floor(AT))[0], "moved") == ["17:00, 1 h ago"]


def test_a_bath_mixed_at_no_written_time_has_no_age_to_the_minute() -> None:
    page = Page()
    page.line("2026-11-08", "P3", Mixed(vessel="V1"))
    page.line("2026-11-07 18:00", "P4", Mixed(vessel="V2"))
    (tubs, _) = bath_sections(page.floor(AT))
    assert texts(tubs) == ["P4: in V2, 0 gal, 24 h old", "P3: in V1, 0 gal, mixed some time today"]


def test_a_step_written_with_its_length_was_over_when_it_was_written() -> None:
    page = pickled()
    page.line(
        "2026-11-08 10:00", "H41 H42 H43", Stepped(step="neutralised", span=Span(length=Length(seconds=25 * MINUTE)))
    )
    assert texts(by_state(page.floor(AT))) == ["after neutralised: 3: H41 H42 H43, the first since 10:00"]


@pytest.mark.parametrize(("time", "heading"), [("07:45", "Before anything else"), ("17:45", "Before you go")])
def test_the_list_of_what_is_to_be_done_is_called_by_the_time_of_day(time: str, heading: str) -> None:
    book = read_text("2026-11-03 07:30 H1 in\n")
    day = date(2026, 11, 3).toordinal()
    hour, minute = time.split(":")
    floor = lay_out(book, book.clock.instant(day, int(hour) * 60 + int(minute))[0])
    headings = [section.heading for section in floor_look(floor, []).sections]
    assert heading in headings
    assert len({"Before anything else", "Before you go"} & set(headings)) == 1


def drummed() -> Page:
    """L1 was left on the second of November, L2 on the seventh, in the evening; L3 turns with nobody written in it yet."""
    page = Page()
    page.comes("2026-11-02 07:00", "H41 H42")
    for day, load, tag in (("02", "L1", "H41"), ("07", "L2", "H42")):
        page.line(f"2026-11-{day} 18:00", load, Mixed(vessel="D1"))
        page.goes(f"2026-11-{day} 18:10", tag, "first turn", load)
        page.goes(f"2026-11-{day} 19:00", tag, "drained")
    page.line("2026-11-08 08:00", "L3", Mixed(vessel="D1"))
    return page


def test_a_load_that_everybody_left_a_day_ago_is_only_named() -> None:
    _, loads = bath_sections(drummed().floor(AT))
    assert [row.head for row in loads.rows] == ["L2", "L3", ""], "L2 was left less than a day ago, L3 is fresh"
    assert loads.rows[-1].text == "nobody is in L1; what was let go is written `L1 dumped`"
    assert not loads.rows[-1].under


def test_loads_left_for_long_stand_in_one_line() -> None:
    _, loads = bath_sections(drummed().floor("2026-12-17 18:00"))
    assert texts(loads)[-1] == ": nobody is in L1 L2; what was let go is written `L1 dumped`"
    assert [row.head for row in loads.rows] == ["L3", ""]


def test_a_load_that_still_turns_is_told_whoever_left_it() -> None:
    page = drummed()
    page.line("2026-11-02 20:00", "L1", Turning(on=True))
    _, loads = bath_sections(page.floor("2026-11-04 18:00"))
    assert [row.head for row in loads.rows] == ["L1"]
