"""What a skin brought with it, how it was kept, and whose hands it went through."""

from __future__ import annotations

from pathlib import Path

import pytest

from hideledger.answers.slip.exposures import season
from hideledger.answers.slip.hide import slip_hide
from tests.unit.four_skins import FOUR, SHOP, floor_of, met
from tests.unit.slip_book import asked, part

IN = "2026-11-03 08:00 H9 in, whitetail cape, green, for Ida Crane\n"


def test_kind_owner_condition_and_day_are_what_the_arrival_says(tmp_path: Path) -> None:
    page = "2026-11-03 08:00 H9 in, back skin, frozen, for Ida Crane\n2026-11-03 08:30 H9 frozen in freezer\n"
    found = season(floor_of(tmp_path, FOUR, page))
    assert met(found, "kind back skin") == {"H1": False, "H2": False, "H3": False, "H4": False, "H9": True}
    assert met(found, "for Ida Crane")["H9"] is True and met(found, "for Ida Crane")["H1"] is False
    assert met(found, "came in frozen")["H9"] is True and met(found, "came in green")["H9"] is False
    assert met(found, "came in Tue 2026-11-03")["H9"] is True
    assert met(found, "process both")["H9"] is True


def test_an_arrival_that_names_no_owner_leaves_every_owner_open(tmp_path: Path) -> None:
    found = season(floor_of(tmp_path, FOUR, "2026-11-03 08:00 H9 in, whitetail cape\n"))
    assert met(found, "for Oren Vale")["H9"] is None
    assert met(found, "came in green")["H9"] is None


def test_raw_over_the_limit_counts_the_shop_hours_up_to_the_first_sign(tmp_path: Path) -> None:
    name = "raw for more than 12 h at 66 F in the shop"
    late = IN + "2026-11-03 21:00 H9 fleshed, salt, 6 lb salt lot S-1\n"
    assert met(season(floor_of(tmp_path, FOUR, late)), name) == {
        **dict.fromkeys(("H1", "H2", "H3", "H4"), False),
        "H9": True,
    }
    slipped = late + "2026-11-03 19:00 H9 slip, belly, 2 in\n"
    assert met(season(floor_of(tmp_path, FOUR, slipped)), name)["H9"] is False


def test_hours_before_the_door_are_known_with_the_kill_and_the_cold_it_hung_at(tmp_path: Path) -> None:
    name = "raw for more than 12 h at 66 F before the door"
    warm = "2026-11-03 08:00 H8 in, whitetail cape, green, for Ida Crane, killed 2026-11-02 8:00, hung 70 F\n"
    found = season(floor_of(tmp_path, FOUR, warm + IN))
    assert met(found, name) == {**dict.fromkeys(("H1", "H2", "H3", "H4"), False), "H8": True, "H9": None}
    assert met(found, "hung warmer than 40 F") == {
        **dict.fromkeys(("H1", "H2", "H3", "H4"), False),
        "H8": True,
        "H9": None,
    }


def test_a_skin_on_a_process_without_that_limit_is_not_judged_by_it(tmp_path: Path) -> None:
    shop = SHOP + "kind beaver, process open\nprocess open\n  in\n  fleshed\n  pickle\n  out\n"
    page = "2026-11-03 08:00 H9 in, beaver, green, for Ida Crane\n2026-11-05 09:00 H9 fleshed, pickle in P1\n"
    found = season(floor_of(tmp_path, FOUR, page, shop=shop))
    assert met(found, "raw for more than 12 h at 66 F in the shop")["H9"] is None
    assert met(found, "lay raw warmer than 66 F")["H9"] is None
    assert met(found, "hung warmer than 40 F") == {**dict.fromkeys(("H1", "H2", "H3", "H4"), False), "H9": None}


def test_a_warm_room_is_met_while_raw_and_not_after(tmp_path: Path) -> None:
    name = "lay raw warmer than 66 F"
    page = IN + "2026-11-03 09:00 room 78 F\n2026-11-03 12:00 H9 fleshed, salt, 6 lb salt lot S-1\n"
    found = season(floor_of(tmp_path, FOUR, page))
    assert met(found, name) == {**dict.fromkeys(("H1", "H2", "H3", "H4"), False), "H9": True}


@pytest.mark.parametrize(
    ("page", "told"),
    [
        ("2026-11-03 12:00 H9 fleshed, pickle in P1\n2026-11-08 12:00 H9 out to Ida Crane\n", True),
        ("2026-11-03 12:00 H9 fleshed, salt, 6 lb salt lot S-1\n2026-11-04 12:00 H9 pickle in P1\n", False),
        ("2026-11-03 12:00 H9 skipped salt -- straight to acid\n2026-11-03 12:30 H9 slip, ear, 1 in\n", True),
        ("2026-11-03 12:00 H9 slip, ear, 1 in\n", None),  # it had not come to the salt yet
    ],
)
def test_never_salted_is_said_of_a_skin_that_went_on_without(tmp_path: Path, page: str, told: bool | None) -> None:
    found = season(floor_of(tmp_path, FOUR, IN + page))
    assert met(found, "never salted") == {**dict.fromkeys(("H1", "H2", "H3", "H4"), False), "H9": told}


def test_thawed_more_than_once_and_frozen_raw_without_salt(tmp_path: Path) -> None:
    page = IN + "2026-11-03 09:00 H9 frozen in freezer\n2026-11-05 09:00 H9 thawed\n2026-11-05 10:00 H9 fleshed\n"
    again = "2026-11-05 11:00 H9 frozen in freezer\n2026-11-07 09:00 H9 thawed\n"
    once, twice = season(floor_of(tmp_path, FOUR, page)), season(floor_of(tmp_path, FOUR, page + again))
    assert met(once, "thawed more than once")["H9"] is False
    assert met(twice, "thawed more than once") == {**dict.fromkeys(("H1", "H2", "H3", "H4"), False), "H9": True}
    assert met(twice, "frozen raw without salt") == {**dict.fromkeys(("H1", "H2", "H3", "H4"), False), "H9": True}


def test_nobody_knows_whether_what_came_in_frozen_had_been_salted(tmp_path: Path) -> None:
    page = "2026-11-03 08:00 H9 in, whitetail cape, frozen, for Ida Crane\n2026-11-03 08:30 H9 frozen in freezer\n"
    assert met(season(floor_of(tmp_path, FOUR, page)), "frozen raw without salt")["H9"] is None


def test_a_bath_past_its_life_is_met_by_whoever_lies_in_it_then(tmp_path: Path) -> None:
    """The recipe lasts 10 d: mixed on 2 November, over on the 12th."""
    page = "2026-11-11 08:00 H9 in, whitetail cape, green, for Ida Crane\n2026-11-11 12:00 H9 fleshed, pickle in P1\n"
    page += "2026-11-14 08:00 H9 out to Ida Crane\n"
    found = season(floor_of(tmp_path, FOUR, page))
    assert met(found, "in a bath past its life") == {**dict.fromkeys(("H1", "H2", "H3", "H4"), False), "H9": True}


POUNDS = SHOP.replace("recipe pickle, lasts 10 d", "recipe pickle, lasts 10 d, lasts 1 1/4 lb of skin per gal")
HEAVY = FOUR.replace("whitetail cape, green, for Oren Vale,", "whitetail cape, 6 lb each green, for Oren Vale,")
LATE = (
    "2026-11-03 12:00 H9 in, whitetail cape, 2 lb, green, for Ida Crane\n2026-11-04 12:00 H9 fleshed, pickle in P1\n"
    "2026-11-06 12:00 H9 out of P1\n"
)


def test_a_bath_is_past_its_life_by_pounds_of_skin_too_and_whoever_lay_in_it_from_then_on_met_that(
    tmp_path: Path,
) -> None:
    """20 gal at 1 1/4 lb a gallon last 25 lb: four skins of 6 lb are 24, H9 makes it 26 while the four lie in it."""
    found = season(floor_of(tmp_path, HEAVY, LATE, shop=POUNDS))
    assert set(met(found, "in a bath past its life").values()) == {True}
    gone = HEAVY.replace("2026-11-06 08:00 L1 mixed", "2026-11-04 11:00 H1 out of P1\n2026-11-06 08:00 L1 mixed")
    assert met(season(floor_of(tmp_path, gone, LATE, shop=POUNDS)), "in a bath past its life")["H1"] is False
    light = LATE.replace("2 lb", "1 lb")
    assert set(met(season(floor_of(tmp_path, HEAVY, light, shop=POUNDS)), "in a bath past its life").values()) == {
        False
    }


def test_with_a_skin_that_nobody_weighed_nobody_can_tell_of_pounds(tmp_path: Path) -> None:
    unweighed = LATE.replace("2 lb, ", "")
    assert set(met(season(floor_of(tmp_path, HEAVY, unweighed, shop=POUNDS)), "in a bath past its life").values()) == {
        None
    }


def test_the_sheet_of_a_skin_says_how_much_had_gone_through_and_names_the_worn_bath_as_a_weak_point(
    tmp_path: Path,
) -> None:
    floor = floor_of(tmp_path, HEAVY, LATE, "2026-11-05 09:00 H9 slip, belly, 2 in\n", shop=POUNDS)
    sheet = slip_hide(floor, "H9")
    assert "4 other skins into it before, 24 lb of skin, of the 25 lb that it lasts" in asked(sheet, "pickle")
    weak = [one.text for one in part(sheet, "Weak points").rows]
    assert "bath worn out: P1: 26 lb of skin put through with H9, and it lasts 25 lb" in weak


def test_a_hand_is_known_only_where_the_line_is_signed(tmp_path: Path) -> None:
    page = FOUR.replace(
        "2026-11-02 09:00 H1 H2 H3 H4 fleshed",
        "2026-11-02 09:00 H1 fleshed, by JK\n2026-11-02 09:10 H2 fleshed, by TR\n2026-11-02 09:20 H3 H4 fleshed",
    )
    found = season(floor_of(tmp_path, page))
    assert met(found, "fleshed by JK") == {"H1": True, "H2": False, "H3": None, "H4": None}
    assert met(found, "fleshed by TR") == {"H1": False, "H2": True, "H3": None, "H4": None}


def test_a_broken_rule_counts_before_the_first_sign_and_not_after(tmp_path: Path) -> None:
    """They leave a pickle of 24 h after 19 h. H2 that slipped before could not show any more whether it would have too."""
    shop = SHOP.replace("stays at least 1 d", "stays at least 24 h")
    early = FOUR.replace("2026-11-03 10:00 H1", "2026-11-05 14:00 H1")
    name = "finding came out early"
    assert set(met(season(floor_of(tmp_path, early, shop=shop)), name).values()) == {True}
    before = season(floor_of(tmp_path, early, "2026-11-06 08:30 H2 slip, ear, 1 in\n", shop=shop))
    assert met(before, name) == {"H1": True, "H2": None, "H3": True, "H4": True}
    after = season(floor_of(tmp_path, early, "2026-11-07 08:30 H2 slip, ear, 1 in\n", shop=shop))
    assert met(after, name)["H2"] is True


def test_skins_out_of_one_box_share_it(tmp_path: Path) -> None:
    page = (
        "2026-11-03 08:00 B7 in, 2 whitetail capes, frozen, for Ida Crane\n2026-11-04 08:00 B7 opened, H60 thru H61\n"
    )
    found = season(floor_of(tmp_path, FOUR, page))
    assert met(found, "box B7") == {**dict.fromkeys(("H1", "H2", "H3", "H4"), False), "H60": True, "H61": True}
