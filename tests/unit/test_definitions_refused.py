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
from tests.unit.definition_pages import amount, blocks_of, read, read_well

# One bad line in a shop that is otherwise right: the block it stands in, the line, the column of the mark, and the sort of mistake.
BAD_LINES = [
    ("shop", "  zone America/Chicgo", 8, "zone"),
    ("shop", "  zone Chicago", 8, "zone"),
    ("shop", "  hours 18:00 to 7:00", 18, "goes down"),
    ("shop", "  hours 7 to 18:00", 9, "expected"),
    ("shop", "  hours 7:75 to 18:00", 9, "time"),
    ("shop", "  hours 7:00 to 24:00", 17, "24:00"),
    ("shop", "  hours 7:00 to 18:00, Mno to Sat", 24, "expected"),
    ("shop", "  closed 2027-01-02 to 2026-12-24", 10, "goes down"),
    ("shop", "  closed 2026-02-30", 10, "date"),
    ("shop", "  closed 24 Dec", 10, "year"),
    ("shop", "  dates mont first", 9, "word"),
    ("shop", "  quiett after 14 d", 3, "word"),
    ("shop", "  quiet after 14", 15, "unit"),
    ("shop", "  quiet after 14 lb", 15, "unit kind"),
    ("shop", "  sewer pH 5.5", 3, "expected"),
    ("shop", "  records kept 5 y", 18, "unfinished"),
    ("shop", "  room 70 F", 3, "twice"),
    ("shop", "  18:30 P3 pH 2.0", 3, "entry inside"),
    ("shop", "  2026-11-03 P3 pH 2.0", 3, "entry inside"),
    ("shop", "  holds 5", 3, "expected"),
    ("vessel", "vessel tub, 19 gal", 8, "tag"),
    ("vessel", "vessel V2, durm, 19 gal", 12, "word"),
    ("vessel", "vessel V2, 19 lb", 12, "unit kind"),
    ("vessel", "vessel V2, 19 glas", 15, "unit"),
    ("vessel", "vessel V2, hlds 12", 12, "word"),
    ("vessel", "vessel V2, stands 14 h", 12, "bare"),
    ("vessel", "vessel V2, at least 10 psi", 12, "expected"),
    ("vessel", "vessel V2, keep 3 lb", 12, "word"),
    ("vessel", "vessel V1, vat", 8, "twice"),
    ("place", "place at home, at most 5 F", 7, "name"),
    ("place", "place cooler, at most 5 psi", 23, "unit kind"),
    ("kind", "kind elk cape, counts 0", 23, "number"),
    ("kind", "kind elk cape cuonts 3", 15, "word"),
    ("kind", "kind elk cape, process bth", 24, "process"),
    ("kind", "kind H41", 6, "name"),
    ("kind", "kind the very big old elk", 6, "name"),
    ("kind", "kind whitetail cape", 6, "twice"),
    ("measure", "measure ladle", 13, "unfinished"),
    ("measure", "measure cup, 250 ml", 9, "unit"),
    ("measure", "  350 ml", 3, "expected"),
    ("supply", "supply alum, $0.19", 18, "unfinished"),
    ("supply", "supply alum, $1,150 per lb", 15, "thousands"),
    ("supply", "supply alum, $0.19 per lb, kep 3 lb", 28, "word"),
    ("supply", "supply alum, 140 %", 14, "number"),
    ("supply", "supply alum or salt", 8, "twice"),
    ("supply", "supply water, $1 per L", 8, "twice"),
    ("recipe", "  lasts 3 lb of skn", 17, "word"),
    ("recipe", "  per gal water 1 lb salt", 17, "expected"),
    ("recipe", "  per hde: 1 lb salt", 7, "word"),
    ("recipe", "  100 lb of draned: 2 lb soda", 13, "word"),
    ("recipe", "  per hide: 3 oz oil", 13, "ounces"),
    ("recipe", "  per hide: 71/2 oz salt", 13, "fraction"),
    ("recipe", "  per hide: 2 dipers oil", 15, "unit"),
    ("customer", "customer", 1, "unfinished"),
    ("customer", "customer Oren Vale", 10, "twice"),
    ("customer", "customer Tam Reedy phone 555", 10, "expected"),
    ("customer", "  phnoe 555", 3, "word"),
    ("charge", "charge elk cape", 15, "unfinished"),
    ("charge", "charge whitetail cape, $70", 8, "twice"),
    ("charge", "charge $92", 1, "unfinished"),
    ("charge", "defect salt", 8, "both"),
    ("charge", "defect out", 8, "name"),
    ("charge", "test", 1, "unfinished"),
    ("process", "  soaked stays 24 h", 16, "bare"),
    ("process", "  soaked 24 h to 2 d", 10, "bare"),
    ("process", "  soaked stays 3 d to 24 h", 16, "goes down"),
    ("process", "  soaked stays at lest 3 d", 16, "word"),
    ("process", "  soaked stays 3 dys", 18, "unit"),
    ("process", "  soaked stays 3", 16, "unit"),
    ("process", "  soaked stays 3 gal to 4 gal", 16, "unit kind"),
    ("process", "  soaked stys 24 h to 2 d", 10, "word"),
    ("process", "  soaked optionl", 10, "word"),
    ("process", "  soaked stays at least 3 d, optionl", 30, "word"),
    ("process", "  soaked raed every day", 10, "word"),
    ("process", "  soaked optional, raw clok stops", 20, "word"),
    ("process", "  soaked pH 0.8 to", 18, "unfinished"),
    ("process", "  soaked pH 0.8 to 22", 20, "pH"),
    ("process", "  soaked 36 to 50 sal", 10, "basis"),
    ("process", "  soaked 50 to 80 psi", 10, "unit kind"),
    ("process", "  soaked 50 to 80°", 18, "degrees"),
    ("process", "  soaked within 3 h of salted", 24, "step"),
    ("process", "  soaked within 3 h salt", 21, "expected"),
    ("process", "  soaked within 3 h of drained", 24, "order"),
    ("process", "  soaked needs cut tset", 16, "test"),
    ("process", "  soaked weighs shavd", 17, "word"),
    ("process", "  soaked note presure", 15, "word"),
    ("process", "  soaked stays at least 3 d, elk caep: 1 d to 2 d", 30, "kind"),
    ("process", "  soaked, whitetail cape: 1 d to 2 d", 3, "step"),
    ("process", "  salt, whitetail cape: 1 d", 25, "bare"),
    ("process", "  salt stays 1 d to 2 d", 3, "twice"),
    ("process", "  soaked again", 3, "step"),
    ("process", "  salted or flesh", 13, "twice"),
    ("process", "  soak 2 runs 3 h to 4 h", 8, "name"),
    ("process", "  soaked in brine", 10, "name"),
    ("process", "  frozen stays 1 d to 2 d", 3, "both"),
    ("process", "  slip", 3, "both"),
    ("process", "  in", 3, "order"),
    ("process", "  stays at least 3 d", 3, "expected"),
    ("process", "  50 to 80 F", 3, "expected"),
    ("process", "  raw at mots 12 h", 7, "word"),
    ("process", "  may rset dried", 3, "word"),
    ("process", "  may rest dried, afetr in", 19, "word"),
    ("process", "  may rest dried, after inn or slat", 25, "step"),
    ("process", "  may rest salt", 12, "both"),
    ("process", "  soaked optional -- to taste", 19, "remark"),
    ("process", "  soaked (overnight)", 10, "remark"),
]

GOOD = {
    "shop": "shop Pine Hollow Skins\n  zone America/Chicago\n  room 66 F\n{}\n  gallons US\n",
    "customer": "customer Oren Vale, phone 555-0142\n{}\ncustomer Lena Orrick\n",
    "vessel": "vessel V1, vat, 40 gal\n{}\nvessel D1, drum, 19 gal, holds 5\n",
    "place": "place freezer, at most 5 F\n{}\nplace rack\n",
    "kind": "kind whitetail cape, counts 1, process both\n{}\nkind coyote\n",
    "measure": "measure dipper, 350 ml\n{}\nmeasure bucket, 2 gal\n",
    "supply": "supply salt, $0.19 per lb\n{}\nsupply oil, $31.00 per gal\n",
    "recipe": "recipe pickle, lasts 60 d\n{}\n  per gal water: 1 lb salt, 3 oz citric acid\n",
    "charge": "charge whitetail cape, $92\n{}\nsent out, $58 per hide\n",
    "process": "process both\n  in\n  fleshed or flesh within 12 h of in\n  salt stays 24 h to 14 d\n{}\n"
    "  drained within 14 d of salt\n  out\n  raw at most 12 h at 66 F\n  may rest frozen at most 9 mo, after in\n",
}


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
