"""What became of a skin: slipped, came through, not known yet, came in with it, or gone for another reason."""

from __future__ import annotations

from pathlib import Path

from hideledger.answers.slip.outcomes import AFTER_OUT, AT_DOOR, GONE, NOT_YET, SLIPPED, THROUGH, fates
from tests.unit.four_skins import FOUR, SHOP, ends, floor_of

CAME = "2026-11-20 08:00 {} in, whitetail cape, green, for Ida Crane\n"


def test_one_that_slipped_counts_as_slipped_wherever_it_went_later(tmp_path: Path) -> None:
    floor = floor_of(tmp_path, FOUR, "2026-11-07 09:00 H2 slip, left ear base, 1 in\n")
    assert ends(floor) == {"H1": THROUGH, "H2": SLIPPED, "H3": THROUGH, "H4": THROUGH}


def test_one_still_in_its_pickle_has_no_outcome_yet(tmp_path: Path) -> None:
    page = CAME.format("H9") + "2026-11-20 10:00 H9 fleshed\n2026-11-20 11:00 H9 pickle in P1\n"
    assert ends(floor_of(tmp_path, FOUR, page))["H9"] == NOT_YET


def test_one_past_its_last_bath_came_through_though_it_is_still_here(tmp_path: Path) -> None:
    page = CAME.format("H9") + (
        "2026-11-20 10:00 H9 fleshed\n2026-11-20 11:00 H9 pickle in P1\n2026-11-23 07:00 L2 mixed in D1, 9 qt water\n"
        "2026-11-23 08:00 H9 first turn in L2\n"
    )
    assert ends(floor_of(tmp_path, FOUR, page))["H9"] == NOT_YET
    assert ends(floor_of(tmp_path, FOUR, page + "2026-11-23 12:00 H9 drained\n"))["H9"] == THROUGH


def test_a_tan_in_a_vessel_is_wet_though_nobody_wrote_a_bath(tmp_path: Path) -> None:
    shop = SHOP.replace(
        "  first turn   runs 10 min to 4 h, in a bath\n", "  neutralised  stays\n  last liquor  stays\n"
    )
    page = CAME.format("H9") + "2026-11-20 10:00 H9 fleshed, pickle in P1\n2026-11-24 08:00 H9 neutralised 20 min\n"
    liquor = "2026-11-24 09:00 H9 last liquor in V1\n"
    four = FOUR.replace("first turn in L1", "last liquor in V1").replace("2026-11-06 08:00 L1", "2026-11-06 08:00 P9")
    assert ends(floor_of(tmp_path, four, page, shop=shop))["H9"] == NOT_YET
    assert ends(floor_of(tmp_path, four, page + liquor, shop=shop))["H9"] == NOT_YET
    assert ends(floor_of(tmp_path, four, page + liquor + "2026-11-25 09:00 H9 drained\n", shop=shop))["H9"] == THROUGH


def test_one_put_back_into_a_bath_is_not_through(tmp_path: Path) -> None:
    page = CAME.format("H9") + (
        "2026-11-20 10:00 H9 fleshed\n2026-11-20 11:00 H9 pickle in P1\n2026-11-23 07:00 L2 mixed in D1, 9 qt water\n"
        "2026-11-23 08:00 H9 first turn in L2\n2026-11-23 12:00 H9 drained\n2026-11-23 13:00 H9 back in P1 -- soft at the neck\n"
    )
    assert ends(floor_of(tmp_path, FOUR, page))["H9"] == NOT_YET


def test_a_slip_at_the_door_is_no_outcome_of_the_shop(tmp_path: Path) -> None:
    page = "2026-11-20 08:00 H9 in, whitetail cape, green, for Ida Crane, slip left ear\n"
    page += "2026-11-25 08:00 H9 out to Ida Crane\n"
    assert ends(floor_of(tmp_path, FOUR, page))["H9"] == AT_DOOR


def test_one_given_up_without_a_slip_is_gone_and_not_counted(tmp_path: Path) -> None:
    page = CAME.format("H9") + "2026-11-21 08:00 H9 lost -- the dog had it\n"
    floor = floor_of(tmp_path, FOUR, page)
    assert ends(floor)["H9"] == GONE
    assert not next(fate for fate in fates(floor) if fate.life.tag == "H9").counts


def test_a_slip_written_after_it_was_out_is_told_apart_and_not_counted(tmp_path: Path) -> None:
    """It came back, or the tag is another's: nobody can tell, so it is neither."""
    assert ends(floor_of(tmp_path, FOUR, "2026-12-01 09:00 H2 slip, left ear, 1 in\n"))["H2"] == AFTER_OUT


def test_a_box_is_no_skin_and_its_skins_are(tmp_path: Path) -> None:
    page = "2026-11-20 08:00 B7 in, 2 whitetail capes, frozen, for Ida Crane\n2026-11-20 08:10 B7 frozen in freezer\n"
    opened = "2026-11-21 08:00 B7 opened, H60 thru H61\n"
    assert "B7" not in ends(floor_of(tmp_path, FOUR, page))
    told = ends(floor_of(tmp_path, FOUR, page + opened))
    assert "B7" not in told
    assert (told["H60"], told["H61"]) == (NOT_YET, NOT_YET)


def test_a_skin_that_was_cut_counts_by_its_parts(tmp_path: Path) -> None:
    page = "2026-11-03 09:00 H4 cut into H4a cape, H4b back skin\n2026-11-03 10:30 H4a H4b pickle in P1\n"
    page += "2026-11-06 09:00 H4a H4b first turn in L1\n2026-11-06 12:00 H4a H4b drained\n"
    page += "2026-11-07 12:00 H4b slip, edge, 1 in\n"
    told = ends(floor_of(tmp_path, FOUR.replace(" H4 ", " "), CAME.format("H4").replace("11-20", "11-02"), page))
    assert "H4" not in told
    assert (told["H4a"], told["H4b"]) == (THROUGH, SLIPPED)


def test_a_skin_that_slipped_before_it_was_cut_counts_once_as_it_was(tmp_path: Path) -> None:
    page = CAME.format("H9") + "2026-11-21 08:00 H9 slip, belly, 2 in\n"
    page += "2026-11-21 09:00 H9 cut into H9a cape, H9b back skin\n"
    told = ends(floor_of(tmp_path, FOUR, page))
    assert told["H9"] == SLIPPED
    assert "H9a" not in told and "H9b" not in told


def test_another_defect_is_looked_at_by_its_own_name(tmp_path: Path) -> None:
    floor = floor_of(tmp_path, FOUR, "2026-11-07 09:00 H2 slip, ear, 1 in\n2026-11-07 09:05 H3 raw streak, neck\n")
    assert ends(floor, "raw streak") == {"H1": THROUGH, "H2": THROUGH, "H3": SLIPPED, "H4": THROUGH}


def test_the_first_of_two_signs_is_the_sign(tmp_path: Path) -> None:
    page = "2026-11-07 09:00 H2 slip, ear, 1 in\n2026-11-08 09:00 H2 slip, belly, 4 in\n"
    (fate,) = [one for one in fates(floor_of(tmp_path, FOUR, page)) if one.hit]
    assert fate.sign is not None
    assert fate.sign.fact.where == "ear"
    assert not fate.before_sign(fate.sign.when.lo)


def test_only_the_skins_of_the_days_asked_for_are_looked_at(tmp_path: Path) -> None:
    floor = floor_of(tmp_path, FOUR, CAME.format("H9"))
    arrival = next(life for life in floor.all_hides() if life.tag == "H9").arrived_when.day
    assert [fate.life.tag for fate in fates(floor, first=arrival)] == ["H9"]
    assert [fate.life.tag for fate in fates(floor, last=arrival - 1)] == ["H1", "H2", "H3", "H4"]
