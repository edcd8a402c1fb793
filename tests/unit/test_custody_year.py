"""The sheet of a year, the skins held of other people's, the boxes, and the list to count against."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from hideledger.answers.custody.baths import let_go
from hideledger.answers.custody.boxes import box_table, boxes
from hideledger.answers.custody.count import Flow, flow
from hideledger.answers.custody.held import held, held_table, others
from hideledger.answers.custody.places import by_place, place_table
from hideledger.answers.custody.year import NotBegun, _adds_up, year_sheet
from hideledger.answers.sheet import Sheet
from hideledger.model.moments import Clock
from hideledger.reading import read_book
from hideledger.shopfloor.layout import lay_out
from tests.unit.custody_book import PAGE, SHOP, floor_of, made_of, write

SAMPLES = Path(__file__).parents[2] / "sample_ledgers"
CLOCK = Clock("America/Chicago")


def day(text: str) -> int:
    return date.fromisoformat(text).toordinal()


def year_of(folder: Path, year: int, at: str = "2027-01-20") -> Sheet:
    return year_sheet(read_book([str(folder)]), year, CLOCK.day_end(day(at)))


def rows(sheet: Sheet, heading: str) -> dict[str, str]:
    section = next(section for section in sheet.sections if section.heading == heading)
    return {row.head: row.text for row in section.rows}


def test_what_was_here_and_came_is_what_went_and_is_here(tmp_path: Path) -> None:
    """Counted by hand on the page: 1 here; 10 came (the box counts for four), a cut makes one more, the box held one fewer."""
    records = [one.custody for one in made_of(floor_of(write(tmp_path / "book"), "2026-12-31")).values()]
    found = flow(records, day("2026-01-01"), day("2026-12-31"))
    assert (found.at_start, found.came, found.by_cutting, found.by_opening) == (1, 10, 1, -1)
    assert (found.out, found.lost, found.refused, found.at_end) == (1, 2, 1, 7)
    assert found.balanced


def test_the_year_says_in_one_line_that_it_adds_up(tmp_path: Path) -> None:
    skins = rows(year_of(write(tmp_path / "book"), 2026), "Skins")
    assert skins["together"] == (
        "1 here + 10 in + 1 by cutting - 1 in boxes = 11; 1 out + 2 lost + 1 refused + 7 here at the end = 11"
    )
    assert skins["a box counts"] == "for the skins in it: B7 for 4"
    assert (skins["more by cutting"], skins["fewer in boxes than said"]) == ("1: H41", "1: B7")


def test_a_count_that_did_not_add_up_would_say_so() -> None:
    assert "the two differ" in _adds_up(Flow(at_start=1, came=2, out=1, at_end=1))


@pytest.mark.parametrize("shop", ["tarrow-ridge", "harbour-road", "rough", "first-week"])
def test_every_sample_shop_adds_up_each_year_and_ends_with_what_the_next_begins_with(shop: str) -> None:
    book = read_book([str(SAMPLES / shop)])
    at = book.clock.day_end(day("2028-12-31"))
    ends = 0
    for year in (2025, 2026, 2027, 2028):
        record = year_sheet(book, year, at).record
        skins = None if record is None else record["skins"]
        assert isinstance(skins, dict)
        into = skins["at_start"] + skins["in"] + skins["by_cutting"] + skins["by_opening"]
        assert into == skins["out"] + skins["lost"] + skins["refused"] + skins["at_end"]
        assert skins["at_start"] == ends
        ends = skins["at_end"]
    assert ends == sum(life.count for life in lay_out(book, at).here())


def test_a_year_is_told_as_it_stood_on_its_last_day(tmp_path: Path) -> None:
    folder = write(tmp_path / "book")
    sheet = year_of(folder, 2026)
    assert sheet.title == "The year 2026 of Fallow Creek Skins, Thu 2026-12-31 24:00"
    assert "H63" not in str(sheet), "it came in January"
    assert rows(sheet, "Skins")["came in"] == "10: B7, H41, H42, H44 thru H46, H50"
    assert rows(sheet, "Lost and refused")["H45"].startswith(
        "lost 2026-11-05 09:00, whitetail cape, Ida Crane: slipped all over"
    )
    assert rows(sheet, "Skins")["here at the end"] == "7: H41b, H42, H44, H50, H60 thru H62"
    assert rows(year_of(folder, 2027), "Skins")["here on 1 Jan 2027"] == "7: H41b, H42, H44, H50, H60 thru H62"
    assert year_of(folder, 2027).title.startswith("The year 2027 so far of ")


def test_a_year_that_has_not_begun_is_refused(tmp_path: Path) -> None:
    with pytest.raises(NotBegun, match="2028 has not begun"):
        year_of(write(tmp_path / "book"), 2028)


def test_every_bath_let_go_has_its_day_gallons_ph_contents_and_where(tmp_path: Path) -> None:
    """What a sewer authority asks under 40 CFR 403.5: how much, at what pH, of what, when."""
    folder = write(tmp_path / "book")
    (drum,) = let_go(floor_of(folder), day("2026-01-01"), day("2026-12-31"))
    assert (drum.bath.tag, drum.stamp, drum.volume, drum.ph, drum.where) == (
        "L14",
        "2026-11-08 11:00",
        "2 gal",
        "pH 5.1",
        "sewer",
    )
    assert drum.contents == "9 qt water"
    assert drum.below, "the shop's own limit is pH 5.5"
    (pickle,) = let_go(floor_of(folder), day("2027-01-01"), day("2027-12-31"))
    assert pickle.ph == "pH not written then; pH 2.2 strip on 2027-01-12 09:00"
    assert not pickle.below, "what was not read then is not judged"
    assert pickle.contents == "recipe pickle, 20 gal water, 20 lb salt"
    assert rows(year_of(folder, 2027), "Baths let go")["in all"] == "21 gal to sewer"


def test_gallons_let_go_together_are_counted_once(tmp_path: Path) -> None:
    page = PAGE + "2027-01-16 8:00 P4 P5 mixed, 10 gal water\n2027-01-17 8:00 P4 P5 dumped 20 gal, pH 6.9, sewer\n"
    sheet = year_of(write(tmp_path / "book", page), 2027)
    assert rows(sheet, "Baths let go")["in all"] == "41 gal to sewer"


def test_a_shop_without_gallons_lets_litres_go(tmp_path: Path) -> None:
    page = "2026-01-03 9:00 P1 mixed, 40 L water, 4 kg salt\n2026-01-05 9:00 P1 dumped, pH 4.1\n"
    sheet = year_of(write(tmp_path / "book", page, "shop Cold Fell\n  zone America/Chicago\n  degrees C\n"), 2026)
    told = rows(sheet, "Baths let go")
    assert told["P1"] == "2026-01-05 09:00, 40 L by what went in, pH 4.1, where to not written"
    assert told["in all"] == "40 L where to not written"


def test_a_bath_mixed_anew_is_no_discharge_and_is_told(tmp_path: Path) -> None:
    page = PAGE.replace(
        "2027-01-15 9:00 P3 dumped 21 gal, sewer", "2027-01-15 9:00 P3 mixed in V1, recipe pickle, 20 gal water"
    )
    sheet = year_of(write(tmp_path / "book", page), 2027)
    assert rows(sheet, "Baths let go")["P3"] == "2027-01-15 09:00, mixed anew; no line says where the old bath went"
    assert "in all" not in rows(sheet, "Baths let go")


def test_money_is_told_as_it_was_written_that_year_and_the_shelf_as_it_lay_on_the_last_day(tmp_path: Path) -> None:
    sheet = year_of(write(tmp_path / "book"), 2026)
    assert rows(sheet, "Money of the year, as written") == {
        "paid by customers": "$92.00",
        "deposits": "$50.00",
        "paid for supplies": "$9.50",
    }
    # 50 lb for $9.50, of which the pickle of that day took 20: 30 lb at 19 cents
    assert rows(sheet, "The shelf on the last day") == {"salt": "30 lb, worth $5.70", "in all": "worth $5.70"}


PRICES = "charge whitetail cape, $92\n"


def test_what_has_no_price_is_named_and_never_taken_as_nothing(tmp_path: Path) -> None:
    page = PAGE + "2026-11-05 bought 10 lb salt\n2026-12-20 9:00 H42 out to Oren Vale\n"
    told = rows(year_of(write(tmp_path / "book", page, SHOP + PRICES), 2026), "Unpaid on the last day")
    # H41a and H41b are one skin of $92, and $92 is paid; H42 is a bear, for which no line has a price
    assert told["Oren Vale"] == "$92.00 paid; not reckoned: H42 (no price for black bear)"
    assert told["in all"] == "not reckoned: H42 has no price"
    assert rows(year_of(tmp_path / "book", 2026), "Money of the year, as written")["not reckoned"] == (
        f"10 lb salt ({tmp_path}/book/2026.hides:{PAGE.count(chr(10)) + 1}): bought, and no price is written"
    )


def test_a_price_goes_with_what_stands_before_it_and_what_stands_behind_has_none(tmp_path: Path) -> None:
    page = PAGE + "2026-11-06 bought 5 lb salt, $1.00, 3 lb alum\n"
    told = rows(year_of(write(tmp_path / "book", page, SHOP + "supply alum\n"), 2026), "Money of the year, as written")
    assert told["paid for supplies"] == "$10.50"
    assert told["not reckoned"].startswith("3 lb alum (")


def test_a_shelf_without_a_price_is_not_worth_nothing(tmp_path: Path) -> None:
    page = PAGE + "2026-11-06 bought 3 lb alum\n"
    sheet = year_of(write(tmp_path / "book", page, SHOP + "supply alum\n"), 2026)
    told = rows(sheet, "The shelf on the last day")
    assert told["alum"] == "3 lb, no price known"
    assert told["in all"] == "worth $5.70, without what has no price: alum"
    only = "2026-11-06 bought 3 lb alum\n"
    told = rows(year_of(write(tmp_path / "only", only, SHOP + "supply alum\n"), 2026), "The shelf on the last day")
    assert told["in all"] == "not reckoned: no price is known of alum"


def test_a_machine_is_paid_for_apart_from_supplies(tmp_path: Path) -> None:
    """A drum for $980.00 and salt for $4.00 on one line, beside the $9.50 of the book."""
    page = f"{PAGE}2026-11-04 08:00 bought 1 drum, $980.00, 20 lb salt, $4.00\n"
    sheet = year_of(write(tmp_path / "book", page), 2026)
    money = rows(sheet, "Money of the year, as written")
    assert (money["paid for supplies"], money["paid for machines"]) == ("$13.50", "$980.00")


def test_an_insurer_gets_other_peoples_skins_with_what_was_stated(tmp_path: Path) -> None:
    floor = floor_of(write(tmp_path / "book"), "2026-12-31")
    sheet = held(floor, list(made_of(floor).values()))
    headings = [section.heading for section in sheet.sections]
    assert "Harrow Tannery: 3 skins, stated $1000.00" in headings, "the value of the whole box, once"
    assert "Oren Vale: 2 skins, stated $1300.00" in headings, "of the cut skin the whole value, once"
    assert rows(sheet, "In all")["stated in all"] == "$2300.00"
    assert rows(sheet, "In all")["no value"].startswith("H41b, H44, H50, H60 thru H62;")


def test_the_shops_own_spares_are_nobody_elses(tmp_path: Path) -> None:
    page = PAGE.replace("H50 in, whitetail cape, green", "H50 in, whitetail cape, green, owner Fallow Creek Skins")
    floor = floor_of(write(tmp_path / "book", page))
    made = list(made_of(floor).values())
    assert "H50" not in [one.tag for one in others(floor, made)]
    assert "H50" in [row[3] for row in held_table(made).rows]


def test_a_box_says_what_came_what_was_opened_and_what_is_missing(tmp_path: Path) -> None:
    floor = floor_of(write(tmp_path / "book"))
    sheet = boxes(floor, list(made_of(floor).values()))
    (section,) = sheet.sections
    told = dict(section.rows[0].under)
    assert section.rows[0].text == "whitetail cape, 4 skins, received 2026-11-01 10:00"
    assert told["opened"] == "2026-11-05 10:00: H60 thru H62"
    assert told["tags"] == "H60 R-101, H61 R-102, H62 R-103"
    assert told["missing"] == "1 skin of 4"


@pytest.mark.parametrize(
    ("opened", "missing"),
    [
        ("H60 thru H63, their tags R-101 thru R-104", ""),
        ("H60 thru H64", "1 skin more than the 4 that came, their tags"),
        ("H60 thru H63", "their tags"),
    ],
)
def test_a_box_that_does_not_agree_says_how(tmp_path: Path, opened: str, missing: str) -> None:
    page = PAGE.split("2027-01-10")[0].replace("H60 thru H62, their tags R-101 thru R-103", opened)
    floor = floor_of(write(tmp_path / "book", page))
    (section,) = boxes(floor, list(made_of(floor).values())).sections
    assert dict(section.rows[0].under).get("missing", "") == missing


def test_a_box_that_is_not_opened_stands_first_and_is_one_row_of_the_table(tmp_path: Path) -> None:
    floor = floor_of(write(tmp_path / "book"), "2026-11-04")
    made = list(made_of(floor).values())
    (section,) = boxes(floor, made).sections
    assert section.heading == "Not opened"
    assert box_table(made).rows == (
        ("B7", "2026-11-01 10:00", "Harrow Tannery", 4, "", "", "", "whitetail cape", "here"),
    )


def test_the_list_to_count_against_goes_place_by_place(tmp_path: Path) -> None:
    floor = floor_of(write(tmp_path / "book"), "2026-11-05")
    made = list(made_of(floor).values())
    headings = [section.heading for section in by_place(floor, made).sections]
    assert headings[:3] == ["freezer: 3 skins", "V1, in P3: 2 skins", "in the shop, place not written: 2 skins"]
    assert [row[:2] for row in place_table(floor, made).rows][:4] == [
        ("freezer", "H60"),
        ("freezer", "H61"),
        ("freezer", "H62"),
        ("V1, in P3", "H41"),
    ]


def test_every_number_in_between_that_is_not_here_is_explained(tmp_path: Path) -> None:
    page = PAGE + "2027-01-16 H52 fleshed\n2027-01-16 H53 fleshd\n2027-03-01 H49 in, whitetail cape\n"
    floor = floor_of(write(tmp_path / "book", page))
    told = rows(by_place(floor, list(made_of(floor).values())), "Numbers in between that are not here")
    assert told["H41"] == "cut into H41a H41b, 2026-11-06 09:00"
    assert told["H46"] == "refused 2026-11-01 09:00: green belly, smells"
    assert told["H47"] == f"named on a struck line only, {tmp_path / 'book' / '2026.hides'}:17"
    assert told["H49"] == "comes in on a later day"
    assert told["H52"].startswith("named, and no line says that it came in")
    assert told["H53"].startswith("named on a line that was not understood")
    assert told["H39, H40, H43, H48, H51, H54 thru H59"] == "never used: no line of the book names it"


def test_a_tag_far_from_all_others_makes_no_list_of_thousands(tmp_path: Path) -> None:
    page = PAGE + "2027-01-16 H99999 in, whitetail cape\n"
    floor = floor_of(write(tmp_path / "book", page))
    told = rows(by_place(floor, list(made_of(floor).values())), "Numbers in between that are not here")
    assert told["H38 to H99999"] == "too far apart to list; is one of them a slip of the hand?"


def test_a_shop_with_nothing_in_it_has_an_empty_year(tmp_path: Path) -> None:
    sheet = year_of(write(tmp_path / "book", "", SHOP), 2026)
    assert rows(sheet, "Skins")["here at the end"] == "none"
    assert rows(sheet, "Other people's skins, in all") == {"": "none"}
    assert rows(sheet, "The shelf on the last day") == {"not reckoned": "no line says what was bought or counted"}


def test_a_skin_that_has_a_value_of_its_own_is_not_counted_in_its_box_too(tmp_path: Path) -> None:
    """$1000 were stated for the box and $250 each for two of its three skins: $500 are left for the third, and $1000 in all."""
    page = PAGE + "2026-11-05 11:00 H60 H61 valued at $250\n2026-11-06 10:00 H41a valued at $150\n"
    floor = floor_of(write(tmp_path / "book", page), "2026-12-01")
    sheet = held(floor, list(made_of(floor).values()))
    headings = [section.heading for section in sheet.sections]
    assert "Harrow Tannery: 3 skins, stated $1000.00" in headings
    assert "Oren Vale: 3 skins, stated $1300.00" in headings, "$400 for H41 with its parts, $900 for H42"
    assert rows(sheet, "In all")["stated in all"] == "$2300.00"
    assert "$500.00 ($1000.00 less what is stated for H60 H61) for all of box B7" in rows(sheet, "In all")["of it"]
    (third,) = [one for one in held_table(list(made_of(floor).values())).records() if one["tag"] == "H62"]
    assert (third["value"], third["whole_value"], third["whole_value_left"]) == (None, 1000, 500)


def test_no_parts_are_worth_more_together_than_was_stated_for_each(tmp_path: Path) -> None:
    page = PAGE + "2026-11-05 11:00 H60 H61 valued at $700\n"
    floor = floor_of(write(tmp_path / "book", page), "2026-12-01")
    sheet = held(floor, list(made_of(floor).values()))
    assert "Harrow Tannery: 3 skins, stated $1400.00" in [section.heading for section in sheet.sections]


BOXED = """\
2026-11-01 10:00 B8 in, 2 whitetail capes, frozen, for Harrow Tannery, valued at $800
2026-11-01 11:00 H80 H81 in, whitetail cape, for Harrow Tannery
2026-11-01 11:05 H80 valued at $500
"""


@pytest.mark.parametrize(
    ("lines", "tags", "skins", "stated"),
    [
        ("", ["B8", "H80", "H81"], 4, "$1300.00"),  # nothing says that they are the same skins
        ("2026-11-02 9:00 H80 out of B8\n", ["B8", "H80", "H81"], 3, "$800.00"),
        ("2026-11-02 9:00 H80 H81 out of B8\n", ["H80", "H81"], 2, "$800.00"),
    ],
)
def test_a_skin_that_is_lifted_out_of_a_box_counts_once(
    tmp_path: Path, lines: str, tags: list[str], skins: int, stated: str
) -> None:
    floor = floor_of(write(tmp_path / "book", BOXED + lines), "2026-12-01")
    made = list(made_of(floor).values())
    assert [one.tag for one in others(floor, made)] == tags
    assert sum(life.count for life in floor.here()) == skins
    assert rows(held(floor, made), "In all")["stated in all"] == stated
    found = flow([one.custody for one in made], day("2026-01-01"), day("2026-12-31"))
    assert found.balanced and found.at_end == skins


def test_a_box_names_the_skins_that_were_lifted_out_of_it(tmp_path: Path) -> None:
    floor = floor_of(write(tmp_path / "book", BOXED + "2026-11-02 9:00 H80 out of B8\n"), "2026-12-01")
    (section,) = boxes(floor, list(made_of(floor).values())).sections
    assert dict(section.rows[0].under)["out of it"] == "H80, 1 left in it"
