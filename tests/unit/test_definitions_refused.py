"""Each malformed line of a definition is told at its place, and never costs another line.

What must be refused, and what must be read, is the format reference's; columns were counted by hand.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator

import pytest

from hideledger.model.shop import ShopBook
from hideledger.reading.define_clauses import TERMINAL_WORDS
from hideledger.reading.define_lines import definitions_grammar
from hideledger.reading.definitions import read_definitions
from tests.unit.bad_definitions import BAD_LINES, GOOD
from tests.unit.definition_pages import amount, blocks_of, read, read_well


def page_with(block: str, line: str) -> tuple[str, int]:
    """The good shop with a line in one of its blocks, and the number of that line."""
    page = "".join(text.format("@" if name == block else "# nothing") for name, text in GOOD.items())
    return page.replace("@", line), page.split("\n").index("@") + 1


def parts_of(shop: ShopBook) -> Iterator[tuple[str, object]]:
    """Everything a shop holds, piece by piece; of a thing of several lines each line's worth."""
    for field in dataclasses.fields(shop):
        held = getattr(shop, field.name)
        match held:
            case dict():
                for name, each in held.items():
                    if field.name == "processes":
                        yield from ((f"step of {name}", step) for process in each for step in process.steps)
                        yield from ((f"rest of {name}", rest) for process in each for rest in process.rests)
                        yield from ((f"raw of {name}", process.raw_limit) for process in each)
                    elif field.name == "recipes":
                        yield from ((f"basis of {name}", basis) for basis in each.bases)
                        yield f"lasts of {name}", each.lasts
                    else:
                        yield f"{field.name} {name}", each
            case tuple():
                yield from ((field.name, each) for each in held)
            case bool():
                pass
            case _:
                yield from ((inner.name, getattr(held, inner.name)) for inner in dataclasses.fields(held))


@pytest.mark.parametrize(
    ("block", "line", "column", "code"), BAD_LINES, ids=[line.strip() for _, line, _, _ in BAD_LINES]
)
def test_a_bad_line_is_told_and_all_others_count(block: str, line: str, column: int, code: str) -> None:
    page, number = page_with(block, line)
    shop, complaints = read(page)
    assert [(said.place.line, said.place.column, said.code) for said in complaints] == [(number, column, code)]
    (said,) = complaints
    assert (said.text, said.definition, said.place.file) == (line, True, "shop.hides")
    assert said.message
    assert said.place.column - 1 + said.place.width <= len(line)
    assert not shop.whole
    without = read_well(page_with(block, "# nothing")[0])
    found = list(parts_of(shop))
    assert [name for name, part in parts_of(without) if (name, part) not in found] == []


def test_the_good_shop_is_good() -> None:
    for block in GOOD:
        read_well(page_with(block, "# another")[0])


@pytest.mark.parametrize(
    ("line", "block", "hint"),
    [
        ("  zone America/Chicgo", "shop", "`America/Chicago`"),
        ("  zone chicago", "shop", "`America/Chicago`"),
        ("  soaked within 3 h of slat", "process", "`salt`"),
        ("  soaked stays 3 dys", "process", "`days`"),
        ("  soaked needs cut tset", "process", "`cut test`"),
        ("  soaked optional, raed every day", "process", "`read every`"),
        ("kind elk cape, process boht", "kind", "`both`"),
        ("  per hide: 2 dipers oil", "recipe", "`dipper`"),
        ("vessel V2, durm, 19 gal", "vessel", "`drum`"),
        ("  soaked stays 24 h", "process", "`at least 24 h`, `at most 24 h`, or `24 h to`"),
        ("  soaked 36 to 50 sal", "process", "`36 to 50 sal at mixing`, or `36 to 50 sal with skins in`"),
        ("supply alum, $1,150 per lb", "supply", "1150, or 1.150"),
    ],
)
def test_the_nearest_right_thing_is_said(line: str, block: str, hint: str) -> None:
    (said,) = read(page_with(block, line)[0])[1]
    assert hint in said.message


@pytest.mark.parametrize(
    ("first", "second", "column"),
    [
        ("customer Oren Vale", "customer oren  vale, phone 555-0100", 10),
        ("vessel D1, drum", "vessel d1, vat", 8),
        ("place freezer", "place Freezer", 7),
        ("kind elk cape or elk", "kind elk", 6),
        ("measure dipper, 350 ml", "measure dipper, 400 ml", 9),
        ("supply salt", "supply salt, $1 per kg", 8),
        ("recipe pickle", "recipe pickle, lasts 60 d", 8),
        ("charge elk, $90", "charge elk, $92", 8),
        ("defect rub", "defect rub", 8),
        ("test crush", "test crush", 6),
        ("process drum\n  in", "process drum\n  out", 9),
        ("process drum, since 2026-09-01\n  in", "process drum, since 2026-09-01\n  out", 9),
        ("shop A", "shop B", 1),
    ],
)
def test_a_second_definition_names_the_first(first: str, second: str, column: int) -> None:
    """Also in another file of the book."""
    one, other = blocks_of(first, "a.hides"), blocks_of(second, "b.hides")
    (said,) = read_definitions([*one, *other])[1]
    assert (said.code, str(said.place)) == ("twice", f"b.hides:1:{column}")
    assert "a.hides:1" in said.message


def test_a_gallon_needs_the_shops_word() -> None:
    (said,) = read("vessel V1, vat, 40 gal\n")[1]
    assert (said.code, said.place.column) == ("gallons", 20)
    assert "gallons US" in said.message
    assert "gallons imperial" in said.message
    assert read_well("vessel V1, vat, 4 cups\n").vessels["V1"].volume == amount("4", "cup")


def test_a_step_that_could_not_be_read_keeps_its_place_in_the_order() -> None:
    """Otherwise one slip would put every hide out of order. It asks for nothing; the book is not whole."""
    shop, complaints = read("process drum\n  in\n  pickle stays at lest 3 d\n  oiled within 4 h of pickle\n")
    assert len(complaints) == 1
    (process,) = shop.processes["drum"]
    assert [(step.name, step.sort, step.optional) for step in process.steps] == [
        ("in", "moment", False),
        ("pickle", "moment", True),
        ("oiled", "moment", False),
    ]


def test_what_an_unread_line_may_have_defined_is_not_called_wrong() -> None:
    _, complaints = read("process drum since\n  in\nkind elk, process durm\n")
    assert [said.place.line for said in complaints] == [1]
    _, complaints = read("kind elk cuonts 2\nprocess drum\n  turned runs 1 h to 2 h, elk: 3 h to 4 h\n")
    assert [said.place.line for said in complaints] == [1]


def test_lines_under_nothing() -> None:
    _, complaints = read("  in\n  out\n")
    assert [(said.place.line, said.code) for said in complaints] == [(1, "nothing above"), (2, "nothing above")]


def test_every_word_of_the_grammar_can_be_said() -> None:
    """A message names what was expected, so each terminal has its words (or belongs to the clauses)."""
    assert {terminal.name for terminal in definitions_grammar().terminals} <= TERMINAL_WORDS.keys()


def test_a_process_has_one_raw_limit_and_one_rest_of_a_name() -> None:
    _, complaints = read(
        "process drum\n  in\n  raw at most 12 h\n  raw at most 14 h\n  may rest frozen\n  may rest freeze, after in\n"
    )
    assert [(said.place.line, said.place.column, said.code) for said in complaints] == [
        (4, 3, "twice"),
        (6, 12, "twice"),
    ]


def test_one_word_is_not_another_name_of_two_steps() -> None:
    (said,) = read("process drum\n  salt or cure\nprocess bath\n  dried or cure\n")[1]
    assert (said.place.line, said.place.column, said.code) == (4, 12, "twice")
    assert "`salt` at shop.hides:2" in said.message


def test_nothing_stands_behind_out() -> None:
    (said,) = read("process drum\n  in\n  out\n  oiled\n")[1]
    assert (said.place.line, said.place.column, said.code) == (4, 3, "order")


def test_a_line_is_told_once() -> None:
    (said,) = read("process drum\n  in\n  oiled within 3 lb of in, weighs shavd, optionl\n")[1]
    assert (said.place.column, said.code) == (16, "unit kind")
