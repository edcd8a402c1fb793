"""What `load` says of the bath that a load goes into: one that reads out of its range, is worn out, or has to be made first; and the lines of a drum.

The hours and amounts are reckoned by hand from the limits and the recipe in the book.
"""

from __future__ import annotations

import json
from pathlib import Path

from hideledger.cli import main
from hideledger.reading import read_book
from hideledger.rules.judge import judge
from hideledger.shopfloor.layout import lay_out
from tests.unit.test_cli_load import FRIDAY, MIXED, SHOP, Captured, asked, book, capes

# 20 gal with the citric acid and salt of the recipe may be expected to read about 1.9 (as `mix` says), so a reading of 2.4 is believed.
ACID = SHOP.replace("  per gal water: 1 lb salt\n", "  per gal water: 1 lb salt, 2 oz citric acid\n").replace(
    "supply salt\n", "supply salt\nsupply citric acid\n"
)
SOUR = "2026-11-02 08:00 P3 mixed in V1, recipe pickle, 20 gal water, 20 lb salt, 40 oz citric acid\n"
TWO = "".join(f"2026-11-05 09:00 H{n} in, whitetail cape, 5 lb, green\n2026-11-05 10:00 H{n} fleshed\n" for n in (1, 2))


def _lines(capsys: Captured, place: str, at: str = FRIDAY) -> list[str]:
    main(["load", place, "--at", at, "--json"])
    found: list[str] = json.loads(capsys.readouterr().out)["lines"]
    return found


def test_a_bath_that_reads_out_of_its_range_is_told_beside_the_first_load_that_goes_in(
    tmp_path: Path, capsys: Captured
) -> None:
    """The range of the pickle is 0.8 to 2.2, and its middle 1.5: the same that `check` says, and how to reckon the dose."""
    place = book(tmp_path, SOUR + TWO + "2026-11-05 16:00 P3 pH 2.4 meter\n", ACID)
    out = asked(capsys, place, "--at", FRIDAY)
    said = "mind P3 read pH 2.4 meter Thu 5 Nov 16:00, over 2.2: to be seen to before they go in"
    assert out.count("to be seen to before they go in") == 1
    assert said in out
    assert "do it has too little acid: add no alkali, and put it right by your supplier's sheet" in out
    assert "like this: `P3 pH 1.5 meter`; `acid P3 to pH 1.5 with citric acid` reckons the dose" in out
    assert out.index("H1 H2 into P3 in V1") < out.index(said) < out.index("into D1")
    right = book(tmp_path, SOUR + TWO + "2026-11-05 16:00 P3 pH 2.1 meter\n", ACID)
    assert "mind" not in asked(capsys, right, "--at", FRIDAY)


def test_a_bath_dosed_since_it_read_wrong_is_to_be_read_again(tmp_path: Path, capsys: Captured) -> None:
    lines = SOUR + TWO + "2026-11-05 16:00 P3 pH 2.4 meter\n2026-11-05 16:30 P3 add 8 oz citric acid\n"
    out = asked(capsys, book(tmp_path, lines, ACID), "--at", FRIDAY)
    assert "over 2.2; 8 oz citric acid added since, not read again: to be seen to before they go in" in out
    assert "do read it an hour after the dose" in out
    assert "reckons the dose" not in out


def test_a_bath_that_a_gas_may_come_off_takes_no_skin(tmp_path: Path, capsys: Captured) -> None:
    """Bleach and acid in one tub give chlorine (common knowledge of every label): nobody goes near it, and nobody is put in."""
    lines = SOUR + "2026-11-04 08:00 P3 add 8 floz bleach\n" + TWO
    out = asked(capsys, book(tmp_path, lines, ACID), "--at", FRIDAY)
    assert "into P3" not in out
    assert "P3 is left alone, since a gas that kills may come off it: see `check`" in out


def test_a_bath_at_the_end_of_its_life_is_let_go_and_made_anew(tmp_path: Path, capsys: Captured) -> None:
    """It lasts two days, up to Wednesday; nobody is in it on Friday, and the new one is as large as it was."""
    shop = ACID.replace("recipe pickle", "recipe pickle, lasts 2 d")
    place = book(tmp_path, SOUR + TWO, shop)
    assert _lines(capsys, place)[:3] == [
        "2026-11-06 08:00 P3 dumped",
        "2026-11-06 08:00 P4 mixed in V1, recipe pickle, 20 gal water, 20 lb salt, 40 oz citric acid",
        "2026-11-06 08:00 H1 H2 pickle in P4",
    ]
    out = asked(capsys, place, "--at", FRIDAY)
    assert (
        "mix let P3 go first, then make P4 first: 20 gal water, 20 lb salt, 40 oz citric acid (as much as P3 was" in out
    )
    assert "order of work and cautions by `mix pickle 20 gal for H1 H2 in V1`" in out


def test_a_bath_with_skins_in_it_is_not_let_go_for_others(tmp_path: Path, capsys: Captured) -> None:
    """Three capes lie in it till Friday afternoon: those who go in at eight are told that it is worn, and it stays."""
    shop = ACID.replace("recipe pickle", "recipe pickle, lasts 2 d")
    in_it = capes(3, first=5).replace("P1", "P3").replace("2026-11-03 08:00", "2026-11-03 15:00")
    lines = _lines(capsys, book(tmp_path, SOUR + in_it + TWO, shop))
    assert "2026-11-06 08:00 H1 H2 pickle in P3" in lines
    assert not [line for line in lines if line.endswith("P3 dumped")]


def test_a_bath_let_go_is_made_again_to_the_size_that_it_had(tmp_path: Path, capsys: Captured) -> None:
    lines = SOUR + "2026-11-04 08:00 P3 dumped\n" + TWO
    place = book(tmp_path, lines, ACID)
    assert "2026-11-06 08:00 P4 mixed in V1, recipe pickle, 20 gal water, 20 lb salt, 40 oz citric acid" in _lines(
        capsys, place
    )
    assert "H1 H2 into P4 in V1" in asked(capsys, place, "--at", FRIDAY)


def test_a_first_bath_is_made_to_what_its_vessel_takes_beside_the_skins(tmp_path: Path, capsys: Captured) -> None:
    """40 gal less 10 lb of skin (4.5 L, 1.2 gal) are 38.8, and four fifths of that are 31 whole gallons."""
    place = book(tmp_path, TWO, ACID.replace("vessel V2, tub, 40 gal, holds 10\n", ""))
    assert "2026-11-06 08:00 P1 mixed in V1, recipe pickle, 31 gal water, 31 lb salt, 62 oz citric acid" in _lines(
        capsys, place
    )
    assert "(80 % of what V1 takes beside them)" in asked(capsys, place, "--at", FRIDAY)


DRUM = SHOP.replace(
    "recipe pickle\n",
    "recipe first turn\n  100 lb of drained: 8 gal water, 14 lb alum tan\nsupply alum tan\nrecipe pickle\n",
)
WEIGHED = "".join(f"2026-11-06 07:50 H{n} 10 lb drained\n" for n in (1, 2))


def test_a_load_is_made_by_the_weight_of_the_skins_that_go_in(tmp_path: Path, capsys: Captured) -> None:
    """20 lb drained: a fifth of 8 gal is 1.6, that is 6.4 qt (6 3/8 to the nearest eighth); a fifth of 14 lb is 2.8."""
    lines = _lines(capsys, book(tmp_path, MIXED + capes(2) + WEIGHED, DRUM))
    (made,) = [line for line in lines if " mixed " in line]
    assert made.startswith("2026-11-06 08:00 L1 mixed in D1, recipe first turn, ")
    assert "alum tan" in made
    assert read_book([book(tmp_path, MIXED + capes(2) + WEIGHED + made + "\n", DRUM)]).unread == ()
    water, alum = made.split("first turn, ")[1].split(", ")
    assert (water, alum) in {("6 3/8 qt water", "2.8 lb alum tan"), ("6 3/8 qt water", "44.8 oz alum tan")}


def test_a_load_that_is_not_weighed_has_no_amounts_and_says_why(tmp_path: Path, capsys: Captured) -> None:
    place = book(tmp_path, MIXED + capes(2), DRUM)
    assert "2026-11-06 08:00 L1 mixed in D1, recipe first turn" in _lines(capsys, place)
    assert "its amounts are not known: no drained weight is written for H1 and H2" in asked(
        capsys, place, "--at", FRIDAY
    )


def test_the_lines_of_a_drum_turn_it_on_and_off_and_no_later_check_misses_one(tmp_path: Path, capsys: Captured) -> None:
    """30 min and 90 min fill the two hours; a drum with a gauge is vented before it is opened."""
    shop = SHOP.replace("vessel D1, drum, 19 gal,", "vessel D1, drum, 19 gal, at most 10 psi, stands at most 14 h,")
    page = MIXED + capes(2)
    lines = _lines(capsys, book(tmp_path, page, shop))
    assert lines == [
        "2026-11-06 08:00 L1 mixed in D1",
        "2026-11-06 08:00 H1 H2 first turn in L1",
        "2026-11-06 08:00 L1 on",
        "2026-11-06 08:30 L1 off",
        "2026-11-06 08:30 H1 H2 second turn in L1",
        "2026-11-06 08:30 L1 on",
        "2026-11-06 10:00 L1 off, vented",
        "2026-11-06 10:00 H1 H2 drained",
        "2026-11-06 10:30 H1 H2 oiled",
    ]
    after = read_book([book(tmp_path, page + "\n".join(lines) + "\n", shop)])
    assert after.unread == ()
    for instant in sorted({entry.when.hi for entry in after.entries}):
        told = [one for one in judge(lay_out(after, instant)) if "L1" in one.tags or one.name == "not recorded"]
        assert [one.message for one in told if one.when == "record"] == []


def test_what_only_an_eye_or_a_gauge_can_say_is_asked_for_and_not_made_up(tmp_path: Path, capsys: Captured) -> None:
    shop = SHOP.replace("50 min, in a bath", "50 min, in a bath, note pressure").replace(
        "drained stays 30 min to 24 h\n  oiled", "drained stays 30 min to 24 h, needs cut test, weighs drained\n  oiled"
    )
    place = book(tmp_path, MIXED + capes(2), shop)
    out = asked(capsys, place, "--at", FRIDAY)
    assert "To be written as it is seen first turn pressure (H1 H2), like this: `L1 on, 8 psi`" in out
    assert "drained cut test (H1 H2), like this: `H1 cut test ok`" in out
    assert "drained drained weight (H1 H2), like this: `H1 5 lb drained`" in out
    assert not [line for line in _lines(capsys, place) if "psi" in line or "cut test" in line]
    examples = "2026-11-06 08:00 L1 mixed in D1\n2026-11-06 08:00 H1 H2 first turn in L1\n2026-11-06 08:00 L1 on, 8 psi\n2026-11-06 10:00 H1 cut test ok\n2026-11-06 10:00 H1 5 lb drained\n"
    assert read_book([book(tmp_path, MIXED + capes(2) + examples, shop)]).unread == ()


def test_a_bath_without_amounts_is_not_said_to_hold_no_gallons(tmp_path: Path, capsys: Captured) -> None:
    place = book(tmp_path, MIXED)
    assert main(["write", "--book", place, "--at", FRIDAY, "--try", "P2 mixed in V2, recipe pickle"]) in (0, 1)
    out = " ".join(capsys.readouterr().out.split())
    assert "P2: mixed in V2, recipe pickle, no amounts are written" in out
    assert "0 gal" not in out


def test_a_load_that_turns_now_has_its_further_turns_among_the_lines(tmp_path: Path, capsys: Captured) -> None:
    """Ten minutes of the first half hour are over; nothing else is to go in, and the day's doings are told all the same."""
    page = MIXED + capes(2) + "2026-11-06 08:00 L1 mixed in D1\n2026-11-06 08:00 H1 H2 first turn in L1\n"
    place = book(tmp_path, page + "2026-11-06 08:00 L1 on\n")
    assert _lines(capsys, place, "2026-11-06 08:10") == [
        "2026-11-06 08:30 L1 off",
        "2026-11-06 08:30 H1 H2 second turn in L1",
        "2026-11-06 08:30 L1 on",
        "2026-11-06 10:00 L1 off",
        "2026-11-06 10:00 H1 H2 drained",
        "2026-11-06 10:30 H1 H2 oiled",
    ]


def test_a_skin_that_goes_in_again_counts_once_against_the_life_of_its_bath(tmp_path: Path, capsys: Captured) -> None:
    """Two capes of 5 lb go into the same tub twice; the bath lasts 10 lb of skin, and is not worn out by them."""
    shop = ACID.replace("recipe pickle", "recipe pickle, lasts 10 lb of skin").replace(
        "  first turn", "  pickle again stays at least 12 h, pH 0.8 to 2.2\n  first turn", 1
    )
    shop = shop.replace("vessel V2, tub, 40 gal, holds 10\n", "")
    out = asked(capsys, book(tmp_path, SOUR + TWO, shop), "--at", FRIDAY)
    assert out.count("H1 H2 into P3 in V1") == 2
    assert "have gone through" not in out
    three = TWO + "2026-11-05 09:00 H3 in, whitetail cape, 5 lb, green\n2026-11-05 10:00 H3 fleshed\n"
    out = asked(capsys, book(tmp_path, SOUR + three, shop), "--at", FRIDAY)
    assert "with these 15 lb of skin have gone through P3, and it lasts 10 lb" in out


def test_why_a_load_has_no_amounts_is_told_once(tmp_path: Path, capsys: Captured) -> None:
    out = asked(capsys, book(tmp_path, MIXED + capes(7)), "--at", FRIDAY)
    assert out.count("no recipe is called first turn or second turn") == 1
    assert "mix let L1 go first, then make L2 first, as L1" in out


def test_a_pickle_is_not_let_go_because_the_second_time_has_another_range(tmp_path: Path, capsys: Captured) -> None:
    shop = ACID.replace("  first turn", "  pickle again stays at least 12 h, pH 1.0 to 2.5\n  first turn", 1).replace(
        "vessel V2, tub, 40 gal, holds 10\n", ""
    )
    main(["load", book(tmp_path, SOUR + TWO, shop), "--at", FRIDAY, "--json"])
    found = json.loads(capsys.readouterr().out)
    assert [load["vessel"] for load in found["loads"]] == ["V1", "V1", "D1"]
    assert not [line for line in found["lines"] if "dumped" in line or " mixed in V1" in line]
    out = asked(capsys, book(tmp_path, SOUR + TWO + "2026-11-05 16:00 P3 pH 2.4 meter\n", shop), "--at", FRIDAY)
    assert out.count("to be seen to before they go in") == 1
