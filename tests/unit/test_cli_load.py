"""`load` on small books of an invented shop: what goes in when, what is missed and what saves it, and the promise for one hide more.

The hours are reckoned by hand from the limits in the book: nothing here comes from a run of the program.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from hideledger.cli import main
from hideledger.reading import read_book

Captured = pytest.CaptureFixture[str]

SHOP = """shop Fallow Creek Skins
  zone America/Chicago
  hours 8:00 to 17:00, Mon to Fri
  hours 8:00 to 12:00, Sat
  gallons US
  degrees F
vessel V1, vat, 40 gal, holds 12
vessel V2, tub, 40 gal, holds 10
vessel D1, drum, 19 gal, holds 5, holds 30 lb
kind whitetail cape, counts 1, process both
kind elk cape, counts 3, process both
kind coyote, counts 1, process open
recipe pickle
  per gal water: 1 lb salt
supply salt
process both
  in
  fleshed
  pickle stays at least 3 d, pH 0.8 to 2.2, raw clock stops
  first turn runs 30 min to 50 min, in a bath
  second turn runs 90 min to 2 h 30 min, in a bath
  drained stays 30 min to 24 h
  oiled within 24 h of drained
  out
process open
  in
  fleshed
  pickle stays at least 3 d, pH 0.8 to 2.2, raw clock stops
  neutralised stays 10 min to 30 min
  tan stays 2 d to 5 d, in a bath
  drained stays 30 min to 24 h
  out
"""
MIXED = "2026-11-02 08:00 P1 mixed in V1, recipe pickle, 30 gal water, 30 lb salt\n"


def capes(count: int, *, promised: str = "", pounds: str = "5 lb", kind: str = "whitetail cape", first: int = 1) -> str:
    """So many hides in pickle since Tuesday 3 November 8:00."""
    due = f", promised {promised}" if promised else ""
    tags = range(first, first + count)
    arrived = "".join(f"2026-11-02 09:00 H{n} in, {kind}, {pounds}, green, for Oren Vale{due}\n" for n in tags)
    fleshed = "".join(f"2026-11-02 10:00 H{n} fleshed\n" for n in tags)
    return arrived + fleshed + "".join(f"2026-11-03 08:00 H{n} pickle in P1\n" for n in tags)


def book(where: Path, lines: str, shop: str = SHOP) -> str:
    """A book of two pages."""
    where.mkdir(exist_ok=True)
    (where / "shop.hides").write_text(shop, encoding="utf-8")
    (where / "november.hides").write_text(lines, encoding="utf-8")
    return str(where)


def asked(capsys: Captured, *words: str, code: int = 0) -> str:
    """The sheet, its folded lines made one."""
    assert main(["load", *words]) == code
    return " ".join(capsys.readouterr().out.split())


def record(capsys: Captured, *words: str, code: int = 0) -> dict[str, Any]:
    assert main(["load", "--json", *words]) == code
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


FRIDAY = "2026-11-06 08:00"  # three days after the pickle began


def test_seven_ready_capes_go_into_a_drum_of_five_in_two_loads(tmp_path: Path, capsys: Captured) -> None:
    """Two hours of turning at the least, half an hour to drain: in at 8 out at 10, in at 10 out at 12."""
    found = record(capsys, book(tmp_path, MIXED + capes(7, promised="2026-11-06")), "--at", FRIDAY)
    loads = [
        (load["vessel"], load["in_local"][11:], load["out_local"][11:], len(load["tags"])) for load in found["loads"]
    ]
    assert [one[:3] for one in loads] == [("D1", "08:00", "10:00"), ("D1", "10:00", "12:00")]
    assert sum(one[3] for one in loads) == 7
    assert found["worth"] == {"missed": 0, "days_late": 0, "loads": 2}
    assert found["proved"] is True
    assert {hide["done_local"] for hide in found["hides"]} == {"2026-11-06 10:30", "2026-11-06 12:30"}


def test_the_sheet_says_who_goes_where_how_full_it_is_and_why_now(tmp_path: Path, capsys: Captured) -> None:
    out = asked(capsys, book(tmp_path, MIXED + capes(5, promised="2026-11-20")), "--at", FRIDAY)
    assert out.startswith(
        "What goes in next, Fri 2026-11-06 08:00 Loads 08:00 H1 thru H5 into D1 for first turn, second turn; out 10:00"
    )
    assert "holds 5 of 5 by count, 25.0 lb of 30 lb mix make L1 first; no recipe is called first turn or" in out
    assert "why now all of them are ready, and so is the vessel" in out
    assert "Promises Fri 20 Nov H1 thru H5: done 10:30" in out
    assert "no promises missed, no days late in all, 1 load: no timetable is better" in out


def test_the_lines_to_write_are_lines_of_the_book(tmp_path: Path, capsys: Captured) -> None:
    """They are put at its end, and all of them are understood; the hides are then where the sheet said."""
    place = book(
        tmp_path, MIXED + capes(5) + "2026-11-05 09:00 H9 in, coyote, 3 lb, green\n2026-11-05 10:00 H9 fleshed\n"
    )
    assert main(["load", place, "--at", FRIDAY, "--plain"]) == 0
    lines = [line for line in capsys.readouterr().out.split("\n") if line.startswith("2026-") and "\t" not in line]
    assert "2026-11-06 08:00 L1 mixed in D1" in lines
    assert "2026-11-06 08:00 H1 thru H5 first turn in L1" in lines
    assert "2026-11-06 10:30 H1 thru H5 oiled" in lines
    page = tmp_path / "november.hides"
    page.write_text(page.read_text(encoding="utf-8") + "\n".join(lines) + "\n", encoding="utf-8")
    after = read_book([place])
    assert after.unread == ()
    assert len(after.entries) == len(lines) + 1 + 15 + 2


def test_pounds_count_where_the_vessel_has_a_limit_for_them(tmp_path: Path, capsys: Captured) -> None:
    """Four capes of 8 lb are 32, more than 30: two loads, not one."""
    found = record(capsys, book(tmp_path, MIXED + capes(4, pounds="8 lb")), "--at", FRIDAY)
    assert found["worth"]["loads"] == 2


def test_an_elk_cape_counts_three(tmp_path: Path, capsys: Captured) -> None:
    """One elk cape and two others fill the drum; the third waits."""
    lines = MIXED + capes(1, kind="elk cape") + capes(3, first=2)
    found = record(capsys, book(tmp_path, lines), "--at", FRIDAY)
    sizes = sorted(sum(3 if tag == "H1" else 1 for tag in load["tags"]) for load in found["loads"])
    assert sum(sizes) == 6
    assert max(sizes) <= 5


def test_a_short_step_begins_only_when_the_next_can_take_it_in_time(tmp_path: Path, capsys: Captured) -> None:
    """Neutralised for half an hour at the most: never at closing time, and the tan right behind it."""
    lines = MIXED + capes(2, kind="coyote")
    out = asked(capsys, book(tmp_path, lines), "--at", FRIDAY)
    assert "08:30 H1 H2 into P2 in V2 for tan; out" in out
    assert "before neutralised from 08:00" in out
    late = asked(capsys, book(tmp_path, lines), "--at", "2026-11-06 17:00")
    assert "Sat 7 Nov 08:30 H1 H2 into P2 in V2" in late


def test_a_hide_to_be_kept_apart_goes_in_alone(tmp_path: Path, capsys: Captured) -> None:
    lines = MIXED + capes(3) + "2026-11-03 09:00 H2 keep apart -- mange\n"
    found = record(capsys, book(tmp_path, lines), "--at", FRIDAY)
    assert sorted(len(load["tags"]) for load in found["loads"]) == [1, 2]
    assert ["H2"] in [load["tags"] for load in found["loads"]]


def test_what_is_said_to_save_a_promise_saves_it(tmp_path: Path, capsys: Captured) -> None:
    """From 11:30 two loads of five can be done by 17:00 and no third, so one of eleven is late; a second drum, truly bought, saves it."""
    lines = MIXED + capes(11, promised="2026-11-06")
    at = ("--at", "2026-11-06 11:30")
    out = asked(capsys, book(tmp_path, lines), *at, code=1)
    assert "1 promise missed, 1 day late in all, 3 loads: no timetable is better" in out
    assert "but the vessels and the hours do not take all at once" in out
    assert "saves a second drum like D1: 1 promise more kept" in out
    assert "an hour longer each Fri: 1 promise more kept" in out
    assert "an hour longer each Sat" not in out
    bought = SHOP.replace("vessel D1,", "vessel D2, drum, 19 gal, holds 5, holds 30 lb\nvessel D1,")
    assert record(capsys, book(tmp_path, lines, bought), *at)["worth"]["missed"] == 0
    longer = SHOP.replace(
        "hours 8:00 to 17:00, Mon to Fri", "hours 8:00 to 17:00, Mon to Thu\n  hours 8:00 to 18:00, Fri"
    )
    assert record(capsys, book(tmp_path, lines, longer), *at)["worth"]["missed"] == 0


def test_a_promise_that_no_shop_could_keep_is_said_to_be_one(tmp_path: Path, capsys: Captured) -> None:
    """In pickle till Friday, and promised for Thursday."""
    lines = MIXED + capes(1, promised="2026-11-05")
    out = asked(capsys, book(tmp_path, lines), "--at", "2026-11-04 09:00", code=1)
    assert "H1 promised for Thu 5 Nov; even with the shop to itself it would be done Fri 6 Nov 10:30" in out
    assert "saves nothing that was tried" in out


def test_a_step_without_a_length_is_not_guessed(tmp_path: Path, capsys: Captured) -> None:
    shop = SHOP.replace(
        "pickle stays at least 3 d, pH 0.8 to 2.2, raw clock stops\n  first",
        "pickle stays, raw clock stops\n  salt stays\n  first",
    )
    out = asked(
        capsys, book(tmp_path, MIXED + "2026-11-02 09:00 H1 in, whitetail cape, 5 lb, green\n", shop), "--at", FRIDAY
    )
    assert "shop.hides:19), and too few hides here had it to know one" in out
    assert "H1 pickle of process both has no length" in out


def test_a_length_that_is_not_written_is_taken_from_this_shops_own_past(tmp_path: Path, capsys: Captured) -> None:
    """Three capes lay in pickle for four days each, and were drained for an hour: so will the next."""
    shop = SHOP.replace(
        "pickle stays at least 3 d, pH 0.8 to 2.2, raw clock stops\n  first", "pickle stays, raw clock stops\n  first"
    )
    moved = "2026-11-07 08:00 H1 thru H3 first turn in D1\n2026-11-07 09:00 H1 thru H3 second turn in D1\n2026-11-07 10:30 H1 thru H3 drained\n"
    lines = (
        MIXED
        + capes(3)
        + moved
        + "2026-11-09 08:00 H4 in, whitetail cape, 5 lb, green\n2026-11-09 08:00 H4 fleshed, pickle in P1\n"
    )
    out = asked(capsys, book(tmp_path, lines, shop), "--at", "2026-11-09 09:00")
    assert "pickle (both) has no shortest time written: 4 d, the usual of 3 here" in out
    assert "a load is in the drum for 2 h 30 min (first turn, second turn), the usual of 3 here" in out


def test_a_book_without_hides_on_their_way_says_so(tmp_path: Path, capsys: Captured) -> None:
    out = asked(capsys, book(tmp_path, MIXED), "--at", FRIDAY)
    assert "no hide is on its way that could go into a vessel" in out


def test_a_line_that_cannot_be_read_shows_in_the_exit_code(tmp_path: Path, capsys: Captured) -> None:
    assert main(["load", book(tmp_path, MIXED + capes(2) + "2026-11-05 09:00 H1 pickel in P1\n"), "--at", FRIDAY]) == 3
    assert "H1" in capsys.readouterr().out


def test_the_promise_for_one_hide_more_is_the_first_day_that_can_be_kept(tmp_path: Path, capsys: Captured) -> None:
    """Comes Monday 8:00, three days of pickle from the first moment: Thursday 8:00 into the drum, done at 10:30."""
    place = book(tmp_path, MIXED + capes(5))
    found = record(
        capsys, "--with", "H60 in on Monday, whitetail cape, 5 lb, promised 2026-11-12", place, "--at", FRIDAY
    )
    assert (found["comes"], found["earliest"], found["can_be_kept"]) == ("2026-11-09T14:00:00Z", "2026-11-12", True)
    early = record(
        capsys, "--with", "H60 in on Monday, whitetail cape, 5 lb, promised 2026-11-11", place, "--at", FRIDAY, code=1
    )
    assert (early["earliest"], early["can_be_kept"]) == ("2026-11-12", False)


def test_the_promise_does_not_make_another_one_late(tmp_path: Path, capsys: Captured) -> None:
    """The drum takes four loads on Thursday, 8:00 to 16:00, and the last is drained at 16:30. Four are full of capes promised for that day."""
    later = capes(20, promised="2026-11-12").replace("2026-11-03 08:00", "2026-11-09 08:00")
    shop = SHOP.replace("40 gal, holds 12", "60 gal, holds 30")
    place = book(tmp_path, MIXED + later, shop)
    found = record(capsys, "--with", "H60 in today, whitetail cape, 5 lb", place, "--at", "2026-11-09 08:00")
    assert found["earliest"] == "2026-11-13"
    out = asked(capsys, "--with", "H60 in today, whitetail cape, 5 lb", place, "--at", "2026-11-09 08:00")
    assert "promise Fri 13 Nov at the earliest, with no other promise the worse for it" in out
    assert "H60 in, whitetail cape, 5 lb, promised 2026-11-13" in out


@pytest.mark.parametrize(
    ("words", "said", "mark"),
    [
        ("H60 in tomorow, whitetail cape", "`tomorow` is no day; did you mean `tomorrow`?", 7),
        ("H60 in on Mondy, whitetail cape", "`Mondy` is no day; did you mean `Monday`?", 10),
        ("H60 in 2026-13-01, whitetail cape", "there is no day 2026-13-01", 7),
        ("H60 in tomorrow, whitetale cape", "did you mean `whitetail cape`?", 17),
        ("H1 in tomorrow, whitetail cape", "H1 is in the shop already: ask with a tag that is free", 0),
        ("H60 in tomorrow", "no process is known for H60: name its kind, as in whitetail cape, or its process", 0),
        ("a cape tomorrow", "`cape` is no kind, condition or defect of this shop; did you mean `whitetail cape`?", 2),
        ("coyote tomorow", "`tomorow` is no day; did you mean `tomorrow`?", 7),
        ("H60 in 13/13, coyote", "which day is `13/13`? Write it as in 2026-11-06", 7),
        ("H60 in tomorrow, coyote, promised 2026-11-31", "2026-11-31", 34),
        ("H60 in tomorrow, coyote, promised Friday, 5 lq", "5: a unit or a kind is missing", 42),
        ("when can it be done?", "a hide that comes is asked about as in", 0),
    ],
)
def test_a_question_that_cannot_be_followed_is_shown_with_a_mark(
    tmp_path: Path, capsys: Captured, words: str, said: str, mark: int
) -> None:
    assert main(["load", "--with", words, book(tmp_path, MIXED + capes(2)), "--at", FRIDAY]) == 2
    heard = capsys.readouterr()
    assert heard.out == ""
    assert said in heard.err
    shown = heard.err.split("\n")
    assert shown[1] == f"  {words}"
    assert shown[2].index("^") == mark + 2
