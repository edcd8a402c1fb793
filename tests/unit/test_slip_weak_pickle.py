"""A pickle too weak, and who lay in it: a bath's fault counts for each skin from when it lay in the bath while the fault lasted.

The times and readings are made up; what is counted was counted by hand from the lines.
"""

from __future__ import annotations

from datetime import date

from hideledger.answers.history.answer import history
from hideledger.answers.slip.exposures import season
from hideledger.answers.slip.season import slip_season
from hideledger.rules.judge import judge
from tests.unit.four_skins import met
from tests.unit.slip_book import part, row, sheet_of, under
from tests.unit.weak_pickle import BOOK, NOW, STILL_IN, floor_of

WRONG = "finding reading out of range"


def test_whoever_went_into_a_wrong_bath_later_is_counted_among_those_with_the_finding() -> None:
    found = season(floor_of(BOOK, NOW))
    with_it = met(found, WRONG)
    assert sorted(tag for tag, hit in with_it.items() if hit) == ["H10", "H6", "H7", "H8", "H9"]
    table = found.by_name[WRONG].table
    assert (table.hit, table.exposed, table.other_hit, table.others) == (4, 5, 0, 8)
    (told,) = [one for one in judge(floor_of(BOOK, NOW)) if one.name == "reading out of range"]
    assert set(told.tags) == {"H6", "H7", "H8", "H9", "H10", "P2"}


def test_a_bath_that_reads_wrong_still_counts_as_one_that_was_dumped_since() -> None:
    found = season(floor_of(STILL_IN, "2026-10-17 09:00"))
    assert met(found, WRONG)["H8"] is True
    assert met(found, WRONG)["H1"] is False


def test_a_skin_that_slipped_before_it_lay_in_the_wrong_bath_did_not_meet_the_fault() -> None:
    early = "2026-10-14 10:10 H8 slip, belly, slight\n"
    page = "\n".join(sorted((STILL_IN.partition("\n")[2] + early).splitlines())) + "\n"
    found = season(floor_of("customer Tess Marrow\n" + page, "2026-10-17 09:00"))
    assert met(found, WRONG)["H8"] is not True


def test_a_history_tells_of_a_baths_fault_where_the_hide_went_in_and_not_before_it_came() -> None:
    floor = floor_of(BOOK, NOW)
    lines = history(floor, judge(floor), ["H10"]).sections[0].rows
    found = next(line for line in lines if "finding: reading out of range" in line.text)
    assert found.head == "2026-10-14 11:30  H10"
    assert "went into P2 then, out of range since Tue 13 Oct 08:30, last pH 3.0 strip Wed 14 Oct 07:45" in found.text
    heads = [line.text for line in lines]
    assert heads.index(found.text) > next(at for at, text in enumerate(heads) if "pickle in P2" in text)


def test_no_weak_point_of_a_bath_stands_before_the_hide_went_into_it() -> None:
    for tag, went_in in (("H8", "Wed 14 Oct 10:30"), ("H9", "Wed 14 Oct 10:50"), ("H6", "Tue 13 Oct 10:30")):
        weak = part(sheet_of(BOOK, tag, NOW), "Weak points")
        first = weak.rows[0]
        assert first.head == went_in, tag
        assert first.text.startswith("reading out of range: went into P2 then"), tag


def test_a_bath_that_had_read_wrong_for_days_is_no_weak_point_of_the_last_five_minutes() -> None:
    sheet = sheet_of(STILL_IN, "H8", "2026-10-17 09:00")
    first = row(part(sheet, "In short"), "look first at")
    assert first.text.startswith(
        "out of range now, Wed 14 Oct 10:30, 2 d 21 h before the first sign: went into P2 then"
    )
    assert "of all whose end is known 3 of 4 with lot C-2 (citric acid) slipped, none of 5 without" in under(first)


def test_a_bath_that_read_out_of_range_when_a_skin_went_in_is_a_weak_point() -> None:
    weak = part(sheet_of(BOOK, "H6", NOW), "Weak points")
    assert "which had read pH 2.9 strip Tue 13 Oct 08:30" in weak.rows[0].text


def test_it_is_one_too_where_the_bath_was_not_read_again_before_the_skin_slipped() -> None:
    page = "\n".join(line for line in BOOK.splitlines() if "P2 pH 3" not in line) + "\n"
    weak = part(sheet_of(page, "H6", NOW), "Weak points")
    text = next(one.text for one in weak.rows if one.text.startswith("reading out of range"))
    assert "P2 read pH 2.9 strip Tue 13 Oct 08:30, 2 h before it went in, over 2.2" in text
    dosed = page.replace(
        "2026-10-13 09:00 H6 in", "2026-10-13 08:40 P2 add 20 oz citric acid lot C-2\n2026-10-13 09:00 H6 in"
    )
    assert dosed != page
    weak = part(sheet_of(dosed, "H6", NOW), "Weak points")
    assert not [one for one in weak.rows if "2 h before it went in" in one.text]


def test_what_tells_most_among_few_skins_is_said_though_nothing_is_sure() -> None:
    """Fisher's exact test by hand: C(5, 4) / C(13, 4) = 5 / 715, the only table as uneven: 0.0070."""
    sheet = slip_season(floor_of(BOOK, NOW))
    assert "too few to be sure, most telling so far: bath P2 and lot C-2 (citric acid) (looked at" in sheet.title
    first = part(sheet, "Nothing is sure yet; most telling so far").rows[0]
    said = "too few skins to be sure; the most telling so far: 4 of 5 skins that lay in P2 slipped, none of 8 others (p 0.007 alone, "
    assert first.text.startswith(said)
    assert first.text.endswith("looks): look there first")
    told = under(first)
    assert any(
        line.startswith("same the very same skins: lot C-2 (citric acid) and finding reading out of range")
        for line in told
    )
    assert any(line.startswith("read P2: 5 readings from Wed 14 Oct 07:45, the worst pH 3.3 strip") for line in told)
    assert any(line.startswith("or it was let go: see how it read") for line in told), "nothing is left of it to read"


def test_of_a_bath_still_in_its_vat_something_is_left_to_read() -> None:
    first = part(slip_season(floor_of(STILL_IN, "2026-10-17 09:00")), "Nothing is sure yet").rows[0]
    assert any(line.startswith("or read what is left of it with another instrument") for line in under(first))


def test_what_all_that_slipped_share_is_said_where_it_cannot_be_compared() -> None:
    first, last = date(2026, 10, 13).toordinal(), date(2026, 10, 14).toordinal()
    sheet = slip_season(floor_of(BOOK, NOW), first=first, last=last)
    texts = [one.text for section in sheet.sections for one in section.rows]
    said = next(text for text in texts if text.startswith("all 5 lay in P2"))
    assert "met lot C-2 (citric acid)" in said and "had the finding reading out of range" in said
    assert said.endswith(": nothing to compare with")
    assert any("none could have stood out, so nothing is cleared by that" in text for text in texts)


def test_what_one_sound_skin_alone_did_not_share_is_said_too() -> None:
    first, last = date(2026, 10, 13).toordinal(), date(2026, 10, 26).toordinal()
    sheet = slip_season(floor_of(BOOK, NOW), first=first, last=last)
    texts = [one.text for section in sheet.sections for one in section.rows]
    said = next(text for text in texts if text.startswith("all 4 that slipped lay in P2"))
    assert said.endswith("and of the others only H11 did not: too few to compare with")
