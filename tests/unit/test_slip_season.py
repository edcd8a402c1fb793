"""`slip` for a season: plain words first, figures after, what goes along with it, the months, and how little few skins tell."""

from __future__ import annotations

import json
import re
from datetime import date
from functools import cache
from pathlib import Path

import pytest

from hideledger.answers.slip.season import slip_season
from hideledger.reading import read_book
from hideledger.render.card import card
from hideledger.render.json_text import json_text
from hideledger.render.plain import plain
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.layout import lay_out
from tests.property.slip_made import written_season
from tests.unit.four_skins import FOUR, floor_of

TARROW = Path(__file__).resolve().parents[2] / "sample_ledgers" / "tarrow-ridge"


def last_floor(folder: Path) -> Floor:
    """A shop after the last line of its book."""
    book = read_book([str(folder)])
    return lay_out(book, max(entry.when.hi for entry in book.entries))


@cache
def tarrow() -> Floor:
    """The sample season, read once."""
    return last_floor(TARROW)


def told(floor: Floor, defect: str = "slip") -> str:
    """The card in one line: where its lines break is the card's affair."""
    return " ".join(card(slip_season(floor, defect)).split())


def test_the_sample_season_names_the_lot_of_acid_first_and_the_owner_among_what_goes_along() -> None:
    """The notes at the end of the sample's shop page: of 41 skins in lot C-33 15 slipped; without it 2, H4 and H106.
    Dale Pruett brought 9: of his 8 in C-33 5 slipped, of the other none."""
    page = told(tarrow())
    first, along = page.split("What goes along with it")
    assert "15 of 41 skins that met lot C-33 (citric acid) slipped, 2 of 69 others" in first
    assert "Dale Pruett" not in first
    assert "5 of 9 skins for Dale Pruett slipped" in along
    assert "among skins that met lot C-33 (citric acid) 5 of 8 with it and 10 of 33 without" in along
    assert "among the others none of 1 with it and 2 of 68 without" in along
    assert "what is left is within chance" in along
    assert "most telling: lot C-33 (citric acid)" in page


def test_what_stands_out_names_the_lines_of_the_book_that_tell_of_it() -> None:
    """The lot was bought in the morning of 4 November; P4 was mixed with the first of it the day after."""
    page = told(tarrow())
    first, along = page.split("What goes along with it")
    line = f"{TARROW}/2026-11.hides:102"
    assert "P4 mixed in V3" in (TARROW / "2026-11.hides").read_text(encoding="utf-8").split("\n")[101]
    assert re.search(rf"from {re.escape(str(TARROW))}/2026-11.hides:[0-9]+, {re.escape(line)}", first)
    assert f"from {line}" in along


def test_the_page_shown_in_the_readme_is_a_real_one(monkeypatch: pytest.MonkeyPatch) -> None:
    readme = (TARROW.parents[1] / "README.md").read_text(encoding="utf-8")
    (shown,) = re.findall(r"^```text slip season\n\$ hideledger (.*?)\n(.*?)^```", readme, re.DOTALL | re.MULTILINE)
    assert shown[0] == 'slip sample_ledgers/tarrow-ridge --at "2027-01-30 17:30"'
    monkeypatch.chdir(TARROW.parents[1])
    book = read_book(["sample_ledgers/tarrow-ridge"])
    when = book.clock.at(date(2027, 1, 30).toordinal(), 17 * 60 + 30).lo
    lines = shown[1].split("\n")
    page = card(slip_season(lay_out(book, when))).split("\n")
    assert page[: len(lines) - 1] == lines[:-1]


def test_the_record_of_the_sample_season_holds_the_same() -> None:
    record = json.loads(json_text(slip_season(tarrow())))
    assert list(record)[:6] == ["schema", "at", "at_local", "defect", "from", "to"]
    first = record["found"][0]
    assert (first["sort"], first["name"]) == ("lot", "lot C-33 (citric acid)")
    assert (first["hit"], first["met"], first["other_hit"], first["others"]) == (15, 41, 2, 69)
    assert first["stands_out"] is True and len(first["tags"]) == 41
    assert record["looks"] == len(record["found"])
    assert record["counts"]["slipped"] == len(record["tags"]["slipped"]) == 17
    owner = next(one for one in record["found"] if one["name"] == "for Dale Pruett")
    assert owner["stands_out"] is False
    assert record["change"]["month"] == "2026-11"
    assert record["change"]["before"] == [1, 46]


def test_plain_gives_one_comparison_a_line_with_its_counts() -> None:
    lines = plain(slip_season(tarrow())).split("\n")
    assert lines[1].split("\t")[:6] == ["lot", "lot C-33 (citric acid)", "15", "41", "2", "69"]


def test_a_month_in_which_most_have_no_outcome_is_shown_and_not_judged() -> None:
    page = told(tarrow())
    assert "2027-01 1 of 7 slipped" in page
    assert "the rate has changed: 1 of 46 before 2026-11" in page
    assert "left out, since those that slip are known first: 2027-01" in page


def test_skins_still_in_a_bath_that_stands_out_are_named(tmp_path: Path) -> None:
    folder = Path(written_season(tmp_path / "book", 3, cause="P4"))
    page = (folder / "season.hides").read_text(encoding="utf-8")
    page += "2026-11-20 08:00 H90 in, whitetail cape, green, for Oren Vale\n2026-11-20 09:00 H90 fleshed\n"
    page += "2026-11-20 10:00 H90 pickle in P4\n"
    (folder / "season.hides").write_text(page, encoding="utf-8")
    assert "no outcome yet, bath P4 too: H90" in told(last_floor(folder))


def test_with_few_skins_it_says_how_little_can_be_known(tmp_path: Path) -> None:
    """Two of four: C(4, 2) = 6 ways, so no comparison goes below 1/3 two-sided."""
    page = FOUR.replace(
        "09:00 H1 H2 H3 H4 fleshed", "09:00 H1 H2 fleshed, by JK\n2026-11-02 09:10 H3 H4 fleshed, by TR"
    )
    floor = floor_of(tmp_path, page, "2026-11-07 09:00 H1 H2 slip, ear, 1 in\n")
    sheet = told(floor)
    assert "2 of 2 skins fleshed by JK slipped, none of 2 others" in sheet
    assert "with 2 of 4 the clearest that any of these could show is p 0.33" in sheet
    assert "these are too few to point at anything yet" in sheet
    assert "too few to tell by" in sheet and "so nothing is cleared by that" in sheet


def test_where_everything_was_alike_nothing_could_be_looked_at(tmp_path: Path) -> None:
    sheet = told(floor_of(tmp_path, FOUR, "2026-11-07 09:00 H2 slip, ear, 1 in\n"))
    assert "1 of 4 skins slipped" in sheet
    assert "nothing could be looked at: two skins at least must have met a thing, and two not" in sheet


def test_a_season_without_a_slip_is_one_quiet_page(tmp_path: Path) -> None:
    sheet = slip_season(floor_of(tmp_path, FOUR))
    assert "none of 4 skins slipped" in sheet.title
    assert [section.heading for section in sheet.sections] == ["By the month they came in", "What was counted"]


def test_those_that_came_in_with_it_are_counted_apart(tmp_path: Path) -> None:
    page = "2026-11-20 08:00 H9 in, whitetail cape, green, for Ida Crane, slip left ear\n"
    sheet = told(floor_of(tmp_path, FOUR, page))
    assert "came in with slip, no outcome of this shop, not counted: H9" in sheet
    assert "none of 4 skins slipped" in sheet


def test_another_defect_has_its_own_page(tmp_path: Path) -> None:
    floor = floor_of(tmp_path, FOUR, "2026-11-07 09:05 H3 raw streak, neck\n")
    assert "1 of 4 skins had a raw streak" in slip_season(floor, "raw streak").title


def test_only_the_days_asked_for_are_counted() -> None:
    first, last = date(2026, 10, 1).toordinal(), date(2026, 10, 31).toordinal()
    assert (
        "in from 2026-10-01 to 2026-10-31: none of 27 skins slipped"
        in slip_season(tarrow(), first=first, last=last).title
    )


def test_it_says_where_to_look_and_that_going_with_it_is_no_proof() -> None:
    page = told(tarrow())
    assert "what goes with it need not have done it: it is where to look next" in page
    assert "gloves and goggles on" in page and "the supplier's sheet" in page
    assert "things that skins met were looked at, so each p is raised: after so many looks" in page
