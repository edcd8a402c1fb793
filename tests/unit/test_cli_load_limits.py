"""`load` keeps to the limits that a person at the tub minds: raw skins, thawing, liquor that runs over, worn baths, vessels out of use, missing lines.

The hours are reckoned by hand from the limits in the book.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from hideledger.cli import main
from tests.unit.test_cli_load import FRIDAY, MIXED, SHOP, Captured, asked, book, capes, record

RAW = SHOP.replace(
    "  oiled within 24 h of drained\n  out\nprocess open",
    "  oiled within 24 h of drained\n  out\n  raw at most 12 h at 66 F\n  may rest frozen at most 9 mo, after in or fleshed, raw clock stops\nprocess open",
).replace("  degrees F\n", "  degrees F\n  room 66 F\n")


def test_a_skin_that_lies_raw_goes_in_before_its_hours_are_up(tmp_path: Path, capsys: Captured) -> None:
    """Raw since 8:00 with 12 hours, so by 17:00, when everybody goes home: it does not wait for the one that comes out tomorrow."""
    lines = MIXED + "2026-11-05 08:00 H1 in, whitetail cape, 5 lb, green\n2026-11-05 08:30 H1 fleshed\n"
    found = record(capsys, book(tmp_path, lines, RAW), "--at", "2026-11-05 09:00")
    assert found["loads"][0]["in_local"] <= "2026-11-05 17:00"


def test_a_skin_raw_for_too_long_already_waits_for_nobody(tmp_path: Path, capsys: Captured) -> None:
    """Raw for a day; another can follow at noon, and a load for both would be one load less."""
    lines = (
        MIXED
        + "2026-11-04 08:00 H1 in, whitetail cape, 5 lb, green\n2026-11-04 08:30 H1 fleshed\n"
        + "2026-11-05 08:00 H2 in, whitetail cape, 5 lb, frozen, promised 2026-11-20\n"
    )
    found = record(capsys, book(tmp_path, lines, RAW), "--at", "2026-11-05 09:00")
    first = found["loads"][0]
    assert (first["vessel"], first["in_local"], first["tags"]) == ("V1", "2026-11-05 09:00", ["H1"])


def test_where_there_is_no_room_in_time_the_rest_is_laid_out_and_that_is_said(tmp_path: Path, capsys: Captured) -> None:
    """Twelve lie in the only tub till Friday 8:00; a thirteenth is raw till Thursday 20:00."""
    shop = RAW.replace("vessel V2, tub, 40 gal, holds 10\n", "").replace("40 gal, holds 12", "80 gal, holds 12")
    lines = MIXED + capes(12) + "2026-11-05 08:00 H20 in, whitetail cape, 5 lb, green\n2026-11-05 08:30 H20 fleshed\n"
    out = asked(capsys, book(tmp_path, lines, shop), "--at", "2026-11-05 09:00", code=1)
    assert "Kept too long H20 to go on by 20:00, and goes on Fri 6 Nov 08:00: no way was found in time" in out
    assert "H1 thru H" in out


def test_a_load_that_waited_for_room_says_who_makes_it(tmp_path: Path, capsys: Captured) -> None:
    """Twelve of twelve are in the only tub till Friday 8:00, when five go on to the drum."""
    shop = SHOP.replace("vessel V2, tub, 40 gal, holds 10\n", "").replace("40 gal, holds 12", "80 gal, holds 12")
    lines = MIXED + capes(12) + "2026-11-05 08:00 H20 in, whitetail cape, 5 lb, green\n2026-11-05 08:30 H20 fleshed\n"
    out = asked(capsys, book(tmp_path, lines, shop), "--at", "2026-11-05 09:00")
    assert "H20 into P1 in V1" in out
    assert "why now there is room when H1 thru H5 come out" in out


def test_a_frozen_skin_has_a_night_to_thaw(tmp_path: Path, capsys: Captured) -> None:
    lines = MIXED + "2026-11-02 08:00 H1 in, whitetail cape, 5 lb, frozen, promised 2026-11-20\n"
    place = book(tmp_path, lines, RAW)
    out = asked(capsys, place, "--at", "2026-11-05 09:00")
    assert "Fri 6 Nov 08:00 H1 into P1 in V1" in out
    assert "2026-11-06 08:00 H1 thawed, fleshed, pickle in P1" in out
    assert "to be taken out to thaw the evening before at the latest" in out


def test_skins_and_liquor_together_do_not_run_over(tmp_path: Path, capsys: Captured) -> None:
    """30 gallons in a vat of 33 leave 3, which is 25 lb of water: five capes of 5 lb, and not the sixth (1 US gal of water weighs 8.345 lb at 4 C)."""
    shop = SHOP.replace("vessel V1, vat, 40 gal", "vessel V1, vat, 33 gal").replace(
        "vessel V2, tub, 40 gal, holds 10\n", ""
    )
    for count, loads in ((5, 1), (6, 2)):
        tags = range(1, count + 1)
        arrived = "".join(
            f"2026-11-05 09:00 H{n} in, whitetail cape, 5 lb, green\n2026-11-05 10:00 H{n} fleshed\n" for n in tags
        )
        found = record(capsys, book(tmp_path, MIXED + arrived, shop), "--at", FRIDAY)
        assert len([load for load in found["loads"] if load["vessel"] == "V1"]) == loads
    out = asked(capsys, str(tmp_path), "--at", FRIDAY)
    assert "25.0 lb of 25.0 lb that go into 33 gal beside the liquor" in out


def test_a_bath_past_its_life_is_said_with_the_load(tmp_path: Path, capsys: Captured) -> None:
    arrived = "2026-11-05 09:00 H1 in, whitetail cape, 5 lb, green\n2026-11-05 10:00 H1 fleshed\n"
    weeks = SHOP.replace("recipe pickle", "recipe pickle, lasts 2 d")
    out = asked(capsys, book(tmp_path, MIXED + arrived, weeks), "--at", FRIDAY)
    assert "mind P1 is past its life by then (it lasts 2 d, up to Wed 4 Nov): mix a new one for them" in out
    pounds = SHOP.replace("recipe pickle", "recipe pickle, lasts 4 lb of skin")
    out = asked(capsys, book(tmp_path, MIXED + arrived, pounds), "--at", FRIDAY)
    assert "mind with these 5 lb of skin have gone through P1, and it lasts 4 lb" in out
    out = asked(capsys, book(tmp_path, MIXED + arrived), "--at", FRIDAY)
    assert "mind" not in out


def test_a_vessel_that_holds_nothing_since_a_day_is_out_of_use(tmp_path: Path, capsys: Captured) -> None:
    drum = "vessel D1, drum, 19 gal, holds 5, holds 30 lb\n"
    shop = SHOP.replace(drum, drum + "vessel D1, holds 0, since 2026-11-05\nvessel D2, drum, holds 3\n")
    found = record(capsys, book(tmp_path, MIXED + capes(3), shop), "--at", FRIDAY)
    assert [load["vessel"] for load in found["loads"]] == ["D2"]
    assert "D1 holds 0, and is left out: out of use" in found["assumed"]


def test_a_vessel_that_comes_back_into_use_is_laid_out_from_its_day_on(tmp_path: Path, capsys: Captured) -> None:
    """The only drum is away until Thursday the 12th: the load goes in when the shop opens that day, and two hours later it is out."""
    drum = "vessel D1, drum, 19 gal, holds 5, holds 30 lb\n"
    away = SHOP.replace(drum, drum + "vessel D1, holds 0, since 2026-11-05\nvessel D1, holds 5, since 2026-11-12\n")
    place = book(tmp_path, MIXED + capes(3, promised="2026-11-20"), away)
    found = record(capsys, place, "--at", FRIDAY)
    (load,) = found["loads"]
    assert (load["vessel"], load["in_local"], load["out_local"]) == ("D1", "2026-11-12 08:00", "2026-11-12 10:00")
    assert found["proved"] is True
    assert any(
        one.startswith("D1 holds 0 until Thu 12 Nov, and is laid out from then on (") for one in found["assumed"]
    )
    assert not any("left out: out of use" in one for one in found["assumed"])


def test_a_promise_that_falls_while_the_only_drum_is_away_could_be_kept_by_no_shop(
    tmp_path: Path, capsys: Captured
) -> None:
    """Promised for Tuesday the 10th, and the drum turns again on Thursday the 12th: two hours, half an hour to drain, 10:30."""
    drum = "vessel D1, drum, 19 gal, holds 5, holds 30 lb\n"
    away = SHOP.replace(drum, drum + "vessel D1, holds 0, since 2026-11-07\nvessel D1, holds 5, since 2026-11-12\n")
    late = capes(2, promised="2026-11-10").replace("2026-11-03 08:00", "2026-11-05 08:00")
    out = asked(capsys, book(tmp_path, MIXED + late, away), "--at", FRIDAY, code=1)
    assert "promised for Tue 10 Nov; even with the shop to itself it would be done Thu 12 Nov 10:30" in out
    assert "2 promises missed, 4 days late in all, 1 load: no timetable is better" in out
    assert "saves a second drum like D1: 2 promises more kept" in out
    assert "from Sat 7 Nov on D1 is out of use" in out


def test_a_tub_that_comes_back_takes_what_waits_for_it(tmp_path: Path, capsys: Captured) -> None:
    """The one tub holds nothing until Monday the 9th; a smaller one that is in use takes two of three today."""
    tub = "vessel V1, vat, 40 gal, holds 12\nvessel V2, tub, 40 gal, holds 10\n"
    away = SHOP.replace(tub, "vessel V1, vat, 40 gal, holds 0\nvessel V1, holds 12, since 2026-11-09\n")
    door = AT_THE_DOOR.splitlines(keepends=True)
    place = book(tmp_path, "".join(door[:3]), away)
    found = record(capsys, place, "--at", FRIDAY)
    assert {load["in_local"] for load in found["loads"] if load["vessel"] == "V1"} == {"2026-11-09 08:00"}
    both = away + "vessel V2, tub, 40 gal, holds 2\n"
    soon = [line.replace(", for", ", promised 2026-11-09, for") for line in door[:2]]
    found = record(capsys, book(tmp_path, "".join(soon + door[2:3]), both), "--at", FRIDAY)
    first = {load["vessel"]: load["in_local"][:10] for load in reversed(found["loads"])}
    assert first["V2"] == "2026-11-06"


@pytest.mark.parametrize(
    ("gone", "said"),
    [
        ("vessel", "wants a drum, and no drum is written down in the book (as in `vessel D1, drum, holds 5`)"),
        ("hours", "no `hours` are written down for the shop: somebody is taken to be there by day and night"),
    ],
)
def test_what_the_shop_did_not_write_down_is_said(tmp_path: Path, capsys: Captured, gone: str, said: str) -> None:
    shop = "".join(
        line for line in SHOP.splitlines(keepends=True) if not line.strip().startswith((f"{gone} D", f"{gone} 8"))
    )
    code = 1 if gone == "vessel" else 0
    out = asked(capsys, book(tmp_path, MIXED + capes(2, promised="2026-11-20"), shop), "--at", FRIDAY, code=code)
    assert said in out


def test_a_book_without_processes_or_hides_is_answered_in_a_sentence(tmp_path: Path, capsys: Captured) -> None:
    place = book(tmp_path, "", "shop Fallow Creek Skins\n")
    assert "no hide is on its way that could go into a vessel" in asked(capsys, place, "--at", FRIDAY)
    book(tmp_path, "2026-11-02 09:00 H1 in, whitetail cape, 5 lb\n", "shop Fallow Creek Skins\nkind whitetail cape\n")
    assert "H1 no process is written for it" in asked(capsys, place, "--at", FRIDAY)


def _loads(capsys: Captured, place: str, vessel: str) -> list[list[str]]:
    main(["load", place, "--at", FRIDAY, "--json"])
    found = json.loads(capsys.readouterr().out)
    return [load["tags"] for load in found["loads"] if load["vessel"] == vessel]


AT_THE_DOOR = "".join(f"2026-11-06 07:{n} H{n} in, whitetail cape, 5 lb, for Oren Vale\n" for n in range(10, 15))


def test_a_vessel_that_holds_less_from_tomorrow_takes_no_more_for_three_days(tmp_path: Path, capsys: Captured) -> None:
    """Three days of pickle from Friday on reach past Saturday: the two of the later line hold, not the twelve of today."""
    only = SHOP.replace("vessel V2, tub, 40 gal, holds 10\n", "")
    assert _loads(capsys, book(tmp_path, MIXED + AT_THE_DOOR, only), "V1")[0] == ["H10", "H11", "H12", "H13", "H14"]
    less = only + "vessel V1, holds 2, since 2026-11-07\n"
    loads = _loads(capsys, book(tmp_path, MIXED + AT_THE_DOOR, less), "V1")
    assert len(loads[0]) == 2
    assert max(len(load) for load in loads) == 2
    assert sorted(tag for load in loads for tag in load) == ["H10", "H11", "H12", "H13", "H14"]


def test_a_load_that_is_out_before_a_vessel_holds_less_is_as_large_as_today(tmp_path: Path, capsys: Captured) -> None:
    """Two hours in the drum on Friday morning end before Saturday, when it holds two."""
    less = SHOP + "vessel D1, holds 2, since 2026-11-07\n"
    assert _loads(capsys, book(tmp_path, MIXED + capes(5), less), "D1") == [["H1", "H2", "H3", "H4", "H5"]]


def test_a_vessel_that_holds_more_from_next_week_takes_more_then(tmp_path: Path, capsys: Captured) -> None:
    """An elk cape that counts three waits for Monday, when the drum holds five again."""
    shop = (
        SHOP.replace("D1, drum, 19 gal, holds 5", "D1, drum, 19 gal, holds 2")
        + "vessel D1, holds 5, since 2026-11-09\n"
    )
    place = book(tmp_path, MIXED + capes(1, kind="elk cape"), shop)
    main(["load", place, "--at", FRIDAY, "--json"])
    (load,) = json.loads(capsys.readouterr().out)["loads"]
    assert load["in_local"][:10] == "2026-11-09"


BENCH = SHOP.replace("  fleshed\n", "  fleshed takes 1 h\n", 1)


def test_work_at_the_bench_is_laid_out_for_one_pair_of_hands(tmp_path: Path, capsys: Captured) -> None:
    """Five hides to flesh, an hour each, by one person from 8:00 on: five hours, and they go in at 13:00."""
    out = asked(capsys, book(tmp_path, MIXED + AT_THE_DOOR, BENCH), "--at", FRIDAY)
    assert "Loads 13:00 H10 thru H14 into P1 in V1" in out
    assert "first fleshed (H10 thru H14) bench 5 h of work for one person, from 08:00 to 13:00" in out
    assert "At the bench 08:00 to 13:00 fleshed: H10 thru H14" in out
    assert "the work at the bench (`takes`) is done by one person, on one hide after the other" in out
    assert " bench " not in asked(capsys, book(tmp_path, MIXED + AT_THE_DOOR), "--at", FRIDAY)


def test_two_loads_do_not_have_the_same_hands_at_the_same_minutes(tmp_path: Path, capsys: Captured) -> None:
    """Three capes and three coyotes go into tubs of their own; six hours of fleshing are over at 14:00 and not at 11:00."""
    shop = BENCH.replace(
        "process open\n  in\n  fleshed\n  pickle stays", "process open\n  in\n  fleshed takes 1 h\n  salting stays"
    )
    shop = shop.replace(
        "at least 3 d, pH 0.8 to 2.2, raw clock stops\n  neutralised",
        "at least 3 d, in a bath, raw clock stops\n  neutralised",
    )
    both = "".join(
        f"2026-11-06 07:{n} H{n} in, {'coyote' if n > 12 else 'whitetail cape'}, 5 lb, for Oren Vale\n"
        for n in range(10, 16)
    )
    place = book(tmp_path, MIXED + both, shop)
    main(["load", place, "--at", FRIDAY, "--json"])
    first = json.loads(capsys.readouterr().out)["loads"][:2]
    assert {load["vessel"] for load in first} == {"V1", "V2"}
    assert sorted(load["in_local"] for load in first) == ["2026-11-06 11:00", "2026-11-06 14:00"]


def test_work_that_is_not_done_by_closing_goes_on_in_the_morning(tmp_path: Path, capsys: Captured) -> None:
    """From 14:00 three of five hours are left on Friday, and Saturday begins at 8:00: the last is done at 10:00."""
    place = book(tmp_path, MIXED + AT_THE_DOOR, BENCH)
    out = asked(capsys, place, "--at", "2026-11-06 14:00")
    assert "Loads Sat 7 Nov 10:00 H10 thru H14 into P1 in V1" in out
    assert "At the bench 14:00 to 17:00 fleshed: H10 thru H12 Sat 7 Nov 08:00 to 10:00 fleshed: H13 H14" in out


def test_raw_hides_that_one_person_cannot_flesh_in_time_go_on_as_soon_as_can_be(
    tmp_path: Path, capsys: Captured
) -> None:
    """Raw since 6:00 for 12 hours at the most, two hours each from 8:00 to 17:00: four of six go in that day, and two the next."""
    shop = RAW.replace("  fleshed\n", "  fleshed takes 2 h\n", 1)
    raw = "".join(f"2026-11-05 06:{n} H{n} in, whitetail cape, 5 lb, green, for Oren Vale\n" for n in range(10, 16))
    found = record(capsys, book(tmp_path, MIXED + raw, shop), "--at", "2026-11-05 08:00", code=1)
    into = {tag: load["in_local"] for load in found["loads"] if load["vessel"] == "V1" for tag in load["tags"]}
    assert sum(one <= "2026-11-05 17:00" for one in into.values()) == 4
    assert max(into.values()) <= "2026-11-06 17:00"
    assert len(found["kept_too_long"]) == 2
