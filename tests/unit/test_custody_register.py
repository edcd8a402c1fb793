"""The register of skins: every skin once, whose it is, where it went, what is missing, and how long its record is kept."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

from hideledger.answers.custody.asked import NoSuchRecord, asked_for
from hideledger.answers.custody.record import Recorded, recorded
from hideledger.answers.custody.register import CAUTION, CITES_CAUTION, HOW_TO_WRITE, register
from hideledger.answers.sheet import Sheet
from hideledger.render.card import card
from hideledger.shopfloor.custody import custody_of
from hideledger.shopfloor.floor import Floor
from tests.unit.custody_book import PAGE, SHOP, floor_of, made_of, write


@pytest.fixture
def floor(tmp_path: Path) -> Floor:
    return floor_of(write(tmp_path / "book"))


@pytest.fixture
def made(floor: Floor) -> dict[str, Recorded]:
    return made_of(floor)


def sheet_of(floor: Floor, *, open_first: bool = False) -> Sheet:
    return register(floor, recorded(floor, custody_of(floor)), open_first=open_first)


def under(sheet: Sheet, tag: str) -> dict[str, str]:
    """The lines beneath the row of a tag."""
    row = next(row for section in sheet.sections for row in section.rows if row.head.split()[-1:] == [tag])
    return dict(row.under)


def test_every_skin_stands_once_in_order_of_arrival_with_what_came_out_of_it(made: dict[str, Recorded]) -> None:
    """4VAC15-290-80 has a numbered tag match the line number of the record: the numbers run without a gap."""
    order = "H38 H41 H41a H41b H42 H44 H45 H50 H46 B7 H60 H61 H62 H63"
    assert list(made) == order.split()
    assert [one.number for one in made.values()] == list(range(1, 15))


def test_an_officers_fields_are_all_there(made: dict[str, Recorded]) -> None:
    """50 CFR 20.82: species, place taken, date received, from whom, date disposed, to whom; the states add owner, licence, kill date, tag."""
    one = made["H41a"]
    assert one.received == "2026-10-30 18:20"
    assert one.brought_by is not None and one.brought_by.name == "Oren Vale"
    assert one.owner is not None
    assert (one.owner.address, one.owner.phone) == ("12 Mill Road, Tarrow", "555-0142")
    assert (one.killed, one.killed_where, one.licence) == ("2026-10-29 16:00", "Tarrow county", "TX-77")
    assert (one.out, one.to and one.to.name, one.custody.code("tag")) == ("2026-12-10 16:00", "Oren Vale", "40718")
    assert one.missing == ()


def test_what_the_book_does_not_say_is_listed_by_name(made: dict[str, Recorded]) -> None:
    assert made["H44"].missing == (
        "whose it is",
        "address of Ida Crane",
        "address of Tam Reedy",
        "sex",
        "when killed",
        "where killed",
        "licence",
        "legal tag",
    )
    assert made["H42"].missing == ("address of Pell Vale", "legal tag")


def test_a_spare_takes_over_the_job_and_never_whose_skin_it_is(floor: Floor, made: dict[str, Recorded]) -> None:
    spare, lost = made["H50"], made["H45"]
    assert spare.owner is None and "whose it is" in spare.missing
    assert spare.job_for == "Ida Crane"
    assert lost.owner is not None and lost.owner.name == "Ida Crane"
    assert "took over the job of H45" in under(sheet_of(floor), "H50")["instead"]
    assert "H50 took over its job" in under(sheet_of(floor), "H45")["instead"]


def test_the_owner_of_a_spare_stays_when_the_job_moves(tmp_path: Path) -> None:
    page = PAGE.replace("H50 in, whitetail cape, green", "H50 in, whitetail cape, green, for Harrow Tannery")
    spare = made_of(floor_of(write(tmp_path / "book", page)))["H50"]
    assert spare.owner is not None and spare.owner.name == "Harrow Tannery"
    assert spare.job_for == "Ida Crane"


def test_the_parts_of_a_cut_skin_share_its_one_legal_tag(made: dict[str, Recorded]) -> None:
    whole, cape, back = made["H41"], made["H41a"], made["H41b"]
    assert {one.custody.code("tag") for one in (whole, cape, back)} == {"40718"}
    assert [part.life.tag for part in whole.custody.parts] == ["H41a", "H41b"]
    assert whole.custody.here and whole.kept is None, "a part of it is still in the shop"
    assert cape.custody.value is None, "the value stated for the whole skin is not one part's"


def test_a_legal_tag_written_after_the_cut_is_the_parts_too(tmp_path: Path) -> None:
    page = PAGE.replace(", tag 40718", "") + "2027-01-16 H41 tag 40718\n"
    made = made_of(floor_of(write(tmp_path / "book", page)))
    assert made["H41b"].custody.code("tag") == "40718"


def test_a_refused_skin_was_never_in_custody_and_asks_only_for_what_its_record_needs(made: dict[str, Recorded]) -> None:
    one = made["H46"]
    assert (one.how, one.why, one.missing) == ("refused", "green belly, smells", ("whose it is",))


def test_a_skin_refused_only_after_it_was_here_needs_its_whole_record(tmp_path: Path) -> None:
    page = PAGE.replace(
        "2026-11-01 9:00 H46 refused", "2026-10-31 9:00 H46 in, for Oren Vale\n2026-11-01 9:00 H46 refused"
    )
    one = made_of(floor_of(write(tmp_path / "book", page)))["H46"]
    assert (one.how, one.received, one.out) == ("refused", "2026-10-31 09:00", "2026-11-01 09:00")
    assert "kind" in one.missing and "legal tag" in one.missing


@pytest.mark.parametrize(
    ("day", "said"),
    [
        ("2026-11-07", "4411, stays on until tanning has begun"),
        ("2026-11-08", "4411, may come off: tanning began 2026-11-08 09:05 (first turn)"),
    ],
)
def test_a_bears_seal_may_come_off_once_tanning_has_begun(tmp_path: Path, day: str, said: str) -> None:
    """5 AAC 92.165 (Alaska): the seal stays on the skin until tanning has begun. The pickle before is no tan."""
    assert under(sheet_of(floor_of(write(tmp_path / "book"), day)), "H42")["seal"] == said


def test_without_tanning_begun_the_step_called_tan_is_the_one_and_else_it_is_asked(tmp_path: Path) -> None:
    silent = SHOP.replace(", tanning begun", "")
    said = under(sheet_of(floor_of(write(tmp_path / "book", PAGE, silent))), "H42")["seal"]
    assert said == "4411, stays on until tanning has begun; no step of its process says `tanning begun`"
    tan, page = silent.replace("first turn ", "tan "), PAGE.replace("first turn", "tan")
    said = under(sheet_of(floor_of(write(tmp_path / "tan", page, tan))), "H42")["seal"]
    assert said == "4411, may come off: tanning began 2026-11-08 09:05 (tan)"


def test_a_bear_without_a_seal_is_told(tmp_path: Path) -> None:
    one = made_of(floor_of(write(tmp_path / "book", PAGE.replace(", seal 4411", ""))))["H42"]
    assert "seal" in one.missing


def test_the_longest_rule_of_the_shop_gives_the_day_a_record_is_kept_through(made: dict[str, Recorded]) -> None:
    """Three years after it went out, five after the year: South Dakota Administrative Rule 41:09:11:03 counts the second so."""
    kept = made["H41a"].kept
    assert kept is not None
    assert (kept.through, kept.line.place.line) == (date(2031, 12, 31), 8)
    assert made["H42"].kept is None


def test_a_box_is_kept_until_the_last_skin_of_it_has_gone(tmp_path: Path) -> None:
    page = PAGE + "2027-01-16 9:00 H60 H61 out to Harrow Tannery\n"
    assert made_of(floor_of(write(tmp_path / "book", page)))["B7"].kept is None
    page += "2027-01-17 9:00 H62 out to Harrow Tannery\n"
    kept = made_of(floor_of(write(tmp_path / "later", page)))["B7"].kept
    assert kept is not None and kept.through == date(2032, 12, 31)


def test_open_records_come_first_when_asked(floor: Floor) -> None:
    here, gone, *_ = sheet_of(floor, open_first=True).sections
    assert [row.head.split()[-1] for row in here.rows] == [
        "H41",
        "H41b",
        "H42",
        "H44",
        "H50",
        "B7",
        "H60",
        "H61",
        "H62",
        "H63",
    ]
    assert [row.head.split()[-1] for row in gone.rows] == ["H38", "H41a", "H45", "H46"]


def test_a_skin_whose_arrival_cannot_be_read_is_in_the_register_and_says_so(tmp_path: Path) -> None:
    page = PAGE.replace("2026-10-30 18:40 H44 in,", "2026-10-30 18:40 H44 in, 7 furlongs,")
    floor = floor_of(write(tmp_path / "book", page + "2027-01-16 H44 fleshed\n"))
    assert made_of(floor)["H44"].missing[0] == "when it came in"
    text = card(sheet_of(floor))
    assert "1 line of the book, counted nowhere here" in text.split("\n")[3]
    assert "no line says that it came in" in text


def test_one_legal_tag_on_two_skins_is_told_and_on_the_parts_of_one_is_not(tmp_path: Path) -> None:
    made = made_of(floor_of(write(tmp_path / "book", PAGE.replace("tag 40720", "tag 40718"))))
    assert made["H45"].missing[-1] == "a legal tag of its own (40718 is on H41 too)"
    assert made["H41"].missing[-1] == "a legal tag of its own (40718 is on H45 too)"
    assert made["H41a"].missing == ()


def test_a_second_skin_under_a_tag_that_is_taken_is_not_lost(tmp_path: Path) -> None:
    page = PAGE + "2027-01-16 9:00 H44 in, black bear, for Oren Vale\n"
    made = made_of(floor_of(write(tmp_path / "book", page)))
    assert made["H44"].missing[-1].startswith("another tag for what came in under this one too (")


def test_a_tag_that_is_named_and_never_came_in_is_told(tmp_path: Path) -> None:
    sheet = sheet_of(floor_of(write(tmp_path / "book", PAGE + "2027-01-16 9:00 H94 fleshed\n")))
    (section,) = [section for section in sheet.sections if section.heading == "Named, and no line says that it came in"]
    assert [row.head for row in section.rows] == ["H94"]


def test_the_agency_decides_and_the_sheet_says_so(floor: Floor) -> None:
    mind = sheet_of(floor).sections[-1]
    assert mind.heading == "Mind"
    assert mind.rows[0].text == CAUTION
    assert "differs by state" in CAUTION and "agency decides" in CAUTION


def test_a_shop_without_a_rule_is_told_how_to_write_one(tmp_path: Path) -> None:
    shop = "".join(line for line in SHOP.splitlines(keepends=True) if "records kept" not in line)
    text = card(sheet_of(floor_of(write(tmp_path / "book", PAGE, shop))))
    assert "`records kept 5 y after out`" in " ".join(text.split())


@pytest.mark.parametrize(
    ("words", "tags"),
    [
        (["h44"], {"H44"}),
        (["R-102"], {"H61"}),  # the tag of another shop
        (["4411"], {"H42"}),  # a seal
        (["40720"], {"H45"}),  # a legal tag
        (["harrow", "tannery"], {"B7", "H60", "H61", "H62"}),
        (["Reedy"], {"H44"}),
        (["H41a"], {"H41", "H41a"}),  # with the skin it was cut from
        (["B7"], {"B7", "H60", "H61", "H62"}),
        (["H44,", "H46"], {"H44", "H46"}),
    ],
)
def test_records_are_found_by_tag_code_or_name(made: dict[str, Recorded], words: list[str], tags: set[str]) -> None:
    assert asked_for(list(made.values()), words) == tags


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["H444"], "H444 is in no record; H44 is"),
        (["Vael"], "Vael is in no record; Vale is"),
        (["Vale"], "Vale could be Oren Vale or Pell Vale; give the whole name"),
    ],
)
def test_what_is_in_no_record_gets_the_nearest(made: dict[str, Recorded], words: list[str], said: str) -> None:
    with pytest.raises(NoSuchRecord) as refused:
        asked_for(list(made.values()), words)
    assert str(refused.value) == said


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("H38 lost, slipped all over", "slipped all over"),
        ("H38 lost slipped all over", "slipped all over"),
        ("lost H38, slipped all over", "slipped all over"),
        ("H38 lost -- slipped all over", "slipped all over"),
        ("H38 lost (slipped all over)", "slipped all over"),
        ("H38 lost — slipped all over", "slipped all over"),
        ("H38 fleshed, lost, slip, bad -- owner told", "slip, bad -- owner told"),
        ("H38 refused, green belly", "green belly"),
        ("H38 lost", ""),
    ],
)
def test_the_words_behind_lost_are_the_reason_however_they_stand(tmp_path: Path, line: str, why: str) -> None:
    page = PAGE.replace("H38 lost -- slipped all over", line)
    one = made_of(floor_of(write(tmp_path / "book", page)))["H38"]
    assert one.why == why
    assert (f"why {one.how}" in one.missing) == (not why)


def test_a_skin_that_comes_in_again_lacks_no_tag_of_its_own(tmp_path: Path) -> None:
    page = PAGE + "2027-01-18 9:00 H70 in, whitetail cape, for Oren Vale, killed 2026-10-29, tag 40718\n"
    whole = page.replace(
        "2026-11-06 9:00 H41 cut into H41a cape, H41b back skin", "2026-11-06 9:00 H41 out to Oren Vale"
    )
    again = made_of(floor_of(write(tmp_path / "book", whole.replace("H41a out to Oren Vale", "H63 fleshed"))))
    assert not any("of its own" in said for tag in ("H41", "H70") for said in again[tag].missing)


def test_the_skins_of_a_box_share_the_legal_tag_of_the_box(tmp_path: Path) -> None:
    page = PAGE.replace("for Harrow Tannery, valued at $1000", "for Harrow Tannery, tag 7001, seal 55")
    made = made_of(floor_of(write(tmp_path / "book", page)))
    assert not any("of its own" in said for tag in ("B7", "H60", "H61", "H62") for said in made[tag].missing)


def test_who_asks_for_a_name_is_told_of_records_under_nearly_the_same(tmp_path: Path) -> None:
    page = PAGE + "2027-01-18 9:00 H71 in, whitetail cape, for Oren Vail\n"
    floor = floor_of(write(tmp_path / "book", page))
    made = recorded(floor, custody_of(floor))
    said = "H71 not shown: Oren Vail is nearly Oren Vale; one person, or two?"
    told = card(register(floor, made, shown=asked_for(made, ["Oren", "Vale"])))
    assert said in told
    assert said not in card(register(floor, made)), "it is shown there"
    waived = floor_of(write(tmp_path / "book", page + "2027-01-18 9:05 H71 waived two names alike -- cousins\n"))
    made = recorded(waived, custody_of(waived))
    assert said not in card(register(waived, made, shown=asked_for(made, ["Oren", "Vale"])))


def test_what_the_register_says_to_write_can_be_read_and_fills_the_gap(tmp_path: Path) -> None:
    page = "2026-10-30 18:20 H41 in, whitetail cape\n"
    lines = re.findall("`(H41 [^`]+)`", HOW_TO_WRITE)
    customer = re.findall("`(customer [^`]+)`", HOW_TO_WRITE)
    shop = re.sub("(?m)^customer .*\n", "", SHOP) + "\n".join(customer) + "\n"
    assert len(made_of(floor_of(write(tmp_path / "bare", page, shop)))["H41"].missing) == 6
    told = page + "".join(f"2026-10-30 18:3{n} {line}\n" for n, line in enumerate(lines))
    assert made_of(floor_of(write(tmp_path / "book", told, shop)))["H41"].missing == ()


def test_kind_and_sex_may_be_written_later_and_the_kind_brings_its_process(tmp_path: Path) -> None:
    page = PAGE + "2027-01-18 9:00 H72 in\n2027-01-18 9:05 H72 black bear, sow\n"
    life = made_of(floor_of(write(tmp_path / "book", page)))["H72"].custody.life
    assert (life.kind, life.sex, life.process and life.process.name) == ("black bear", "sow", "both")


def test_all_of_a_kind_are_found_as_an_officer_asks_for_them(made: dict[str, Recorded]) -> None:
    for words in (["black", "bear"], ["black", "bears"]):
        assert asked_for(list(made.values()), words) == {"H42"}


def test_the_shop_is_not_asked_for_its_own_address(tmp_path: Path) -> None:
    page = PAGE + "2027-01-18 9:00 H73 in, whitetail cape, doe, for Fallow Creek Skins\n"
    assert not any("address" in said for said in made_of(floor_of(write(tmp_path / "book", page)))["H73"].missing)


def test_a_furbearer_of_cites_brings_its_caution(tmp_path: Path) -> None:
    """50 CFR 23.69 names bobcat, river otter, Canada lynx, gray wolf and brown bear."""
    page = PAGE + "2027-01-18 9:00 H74 in, bobcat, for Oren Vale\n"
    for text, told in ((page, True), (PAGE, False)):
        sheet = sheet_of(floor_of(write(tmp_path / "book", text, SHOP + "kind bobcat, process both\n")))
        assert (CITES_CAUTION in str(sheet)) == told
