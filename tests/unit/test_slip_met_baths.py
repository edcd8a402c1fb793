"""Who lay in which bath and met which lot, from the book alone; what nobody wrote is unknown and never a no."""

from __future__ import annotations

from pathlib import Path

from hideledger.answers.slip.exposures import season
from tests.unit.four_skins import FOUR, floor_of, met

C1, C2, S1 = "lot C-1 (citric acid)", "lot C-2 (citric acid)", "lot S-1 (salt)"


def test_a_lot_is_met_by_whoever_lay_in_the_bath_made_of_it_or_got_it_on_the_skin(tmp_path: Path) -> None:
    page = "2026-11-03 08:00 H9 in, whitetail cape, green, for Ida Crane\n2026-11-03 09:00 H9 fleshed\n"
    page += "2026-11-03 10:00 H9 salt, 6 lb salt lot S-2\n2026-11-10 10:00 H9 out to Ida Crane\n"
    found = season(floor_of(tmp_path, FOUR, page))
    assert met(found, C1) == {"H1": True, "H2": True, "H3": True, "H4": True, "H9": False}
    assert met(found, S1)["H1"] is True
    assert met(found, "lot S-2 (salt)") == {"H1": False, "H2": False, "H3": False, "H4": False, "H9": True}
    assert met(found, "bath P1")["H9"] is False
    assert met(found, "load L1")["H1"] is True


def test_a_lot_added_after_a_skin_had_left_was_not_met_by_it(tmp_path: Path) -> None:
    page = FOUR.replace("2026-11-06 09:00 H1 H2 H3 H4 first", "2026-11-06 09:00 H1 H2 first")
    page = page.replace("2026-11-06 12:00 H1 H2 H3 H4 drained", "2026-11-06 10:00 P1 add 8 oz citric acid lot C-2")
    found = season(floor_of(tmp_path, page))
    assert met(found, C2) == {"H1": False, "H2": False, "H3": True, "H4": True}


def test_a_lot_added_at_some_time_of_the_day_a_skin_left_may_have_been_met(tmp_path: Path) -> None:
    page = FOUR.replace("2026-11-06 09:00 H1", "2026-11-06 P1 add 8 oz citric acid lot C-2\n2026-11-06 09:00 H1")
    found = season(floor_of(tmp_path, page))
    assert met(found, C2)["H1"] is None


def test_what_was_added_after_the_first_sign_has_caused_nothing(tmp_path: Path) -> None:
    page = "2026-11-04 09:00 H2 slip, left ear base, 1 in\n2026-11-05 09:00 P1 add 8 oz citric acid lot C-2\n"
    found = season(floor_of(tmp_path, FOUR, page))
    assert met(found, C2) == {"H1": True, "H2": False, "H3": True, "H4": True}
    assert met(found, C1)["H2"] is True


def test_a_dose_with_no_lot_written_makes_every_lot_of_that_supply_unknown(tmp_path: Path) -> None:
    page = "2026-11-07 08:00 P2 mixed in V1, 20 gal water, 20 lb salt lot S-1, 60 oz citric acid\n"
    page += "2026-11-07 09:00 H9 in, whitetail cape, green, for Ida Crane\n2026-11-07 10:00 H9 fleshed, pickle in P2\n"
    page += "2026-11-12 09:00 H9 out to Ida Crane\n"
    found = season(floor_of(tmp_path, FOUR, page))
    assert met(found, C1)["H9"] is None
    assert met(found, S1)["H9"] is True
    assert met(found, "bath P1")["H9"] is False


def test_a_lot_bought_only_later_is_not_the_one_without_a_name(tmp_path: Path) -> None:
    page = "2026-11-05 09:00 P1 add 8 oz citric acid\n2026-11-06 07:00 bought 25 lb citric acid lot C-2, $58.75\n"
    page += "2026-11-07 08:00 P2 mixed in V1, 20 gal water, 60 oz citric acid lot C-2\n"
    page += "2026-11-07 09:00 H9 in, whitetail cape, green, for Ida Crane\n2026-11-07 10:00 H9 fleshed, pickle in P2\n"
    found = season(floor_of(tmp_path, FOUR, page))
    assert met(found, C2) == {"H1": False, "H2": False, "H3": False, "H4": False, "H9": True}


def test_salted_with_nobody_knows_what_is_unknown(tmp_path: Path) -> None:
    page = "2026-11-03 08:00 H9 in, whitetail cape, green, for Ida Crane\n2026-11-03 09:00 H9 fleshed, salt\n"
    found = season(floor_of(tmp_path, FOUR, page))
    assert met(found, S1)["H9"] is None
    assert met(found, C1)["H9"] is False


def test_a_pickle_with_no_bath_written_may_have_been_any(tmp_path: Path) -> None:
    page = "2026-11-03 08:00 H9 in, whitetail cape, green, for Ida Crane\n2026-11-03 09:00 H9 fleshed, pickle\n"
    page += "2026-11-09 09:00 H9 out to Ida Crane\n"
    found = season(floor_of(tmp_path, FOUR, page))
    assert met(found, "bath P1")["H9"] is None
    assert met(found, C1)["H9"] is None
    assert met(found, "load L1")["H9"] is False


def test_a_skin_that_slipped_before_the_drum_is_left_out_where_loads_are_compared(tmp_path: Path) -> None:
    """Else every load would seem to spare the skins that came so far."""
    page = FOUR.replace(" H4 first", " first").replace(" H4 drained", " drained")
    found = season(floor_of(tmp_path, page, "2026-11-05 09:00 H4 slip, left ear base, bad\n"))
    assert met(found, "load L1") == {"H1": True, "H2": True, "H3": True, "H4": None}
    assert met(found, "bath P1")["H4"] is True


def test_a_skin_that_came_through_without_the_drum_was_not_in_the_load(tmp_path: Path) -> None:
    page = FOUR.replace(" H4 first", " first").replace(" H4 drained", " drained")
    assert met(season(floor_of(tmp_path, page)), "load L1")["H4"] is False


def test_a_tag_used_for_two_baths_is_two_baths(tmp_path: Path) -> None:
    page = "2026-11-07 08:00 P1 dumped 20 gal, pH 7.0, sewer\n2026-11-08 08:00 P1 mixed in V1, 20 gal water\n"
    page += "2026-11-08 09:00 H9 in, whitetail cape, green, for Ida Crane\n2026-11-08 10:00 H9 fleshed, pickle in P1\n"
    found = season(floor_of(tmp_path, FOUR, page))
    assert met(found, "bath P1 mixed 2026-11-02")["H9"] is False
    assert met(found, "bath P1 mixed 2026-11-08") == {"H1": False, "H2": False, "H3": False, "H4": False, "H9": True}


def test_parts_of_a_cut_skin_met_what_the_whole_had_met(tmp_path: Path) -> None:
    page = "2026-11-04 09:00 H4 cut into H4a cape, H4b back skin\n"
    page += "2026-11-06 09:00 H4a H4b first turn in L1\n2026-11-06 12:00 H4a H4b drained\n"
    four = FOUR.replace(" H4 first", " first").replace(" H4 drained", " drained").replace(" H4 out", " out")
    found = season(floor_of(tmp_path, four, page))
    assert met(found, C1)["H4a"] is True and met(found, C1)["H4b"] is True
    assert met(found, S1)["H4a"] is True
    assert "H4" not in met(found, C1)
