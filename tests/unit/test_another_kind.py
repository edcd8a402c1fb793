"""Words in front of a kind's short name: another animal is never entered as the shop's own, and a look at a skin is no kind.

An officer counts by species (15A NCAC 10H .1003; 50 CFR 20.82). Which words people say of a skin is common practice, no source.
"""

from __future__ import annotations

import pytest

from hideledger.model.book import Book
from hideledger.reading import read_text
from hideledger.rules.finding import Finding
from hideledger.rules.judge import judge
from hideledger.shopfloor.layout import lay_out
from tests.reading.test_both_ways import same
from tests.unit.test_rules_judging import moment

SHOP = """shop Bramble Lane Skins
  zone America/Chicago
  gallons US
customer Wen Alder
kind whitetail cape or cape
kind elk cape
kind coyote
process tub
  in
  pickle
  out
"""


def book_with(words: str) -> Book:
    return read_text(f"{SHOP}2026-11-02 08:00 H1 in, {words}, for Wen Alder\n")


def asked(book: Book, tag: str = "H1") -> list[Finding]:
    floor = lay_out(book, moment(book, "2026-11-09 12:00"))
    return [one for one in judge(floor) if one.name == "unknown kind" and tag in one.tags]


def kind_of(book: Book, tag: str = "H1") -> str:
    return lay_out(book, moment(book, "2026-11-09 12:00")).hides[tag][-1].kind


@pytest.mark.parametrize(
    ("words", "named"),
    [
        ("mule deer cape", "mule deer cape"),
        ("Mule Deer Cape", "Mule Deer Cape"),
        ("zebra cape", "zebra cape"),
        ("big mule deer cape", "mule deer cape"),
        ("red deer cape", "red deer cape"),
        ("mule deer buck cape", "mule deer cape"),
        ("muley cape", "muley cape"),
        ("sitatunga cape", "sitatunga cape"),
        ("zebra elk cape", "zebra elk cape"),
    ],
)
def test_another_skin_is_asked_about_and_entered_as_none_of_the_shop(words: str, named: str) -> None:
    book = book_with(words)
    assert not book.unread
    assert kind_of(book) == ""
    (found,) = asked(book)
    assert found.message.startswith(f"`{named}` is no kind of the shop, and no other is written of it, ")
    assert f"`kind {named.casefold()}`" in found.do


def test_sex_between_the_animal_and_the_cape_is_kept() -> None:
    book = book_with("mule deer buck cape")
    assert lay_out(book, moment(book, "2026-11-09 12:00")).hides["H1"][-1].sex == "buck"


@pytest.mark.parametrize(
    "words",
    [
        *(
            "a cape",
            "big cape",
            "nice cape",
            "green cape",
            "fresh cape",
            "small cape",
            "extra-large cape",
            "XL cape",
            "black cape",
            "tan cape",
        ),
        *(
            "brown and white cape",
            "his brother's cape",
            "my cape",
            "heavy old cape",
            "muddy cape",
            "damaged cape",
            "8 pt buck cape",
            "8 lb cape",
        ),
        *("yearling cape", "trophy cape", "second cape", "whitetail cape", "cape"),
    ],
)
def test_a_look_at_a_skin_leaves_it_the_kind_that_it_is(words: str) -> None:
    book = book_with(words)
    assert not book.unread
    assert kind_of(book) == "whitetail cape"
    assert not asked(book)


@pytest.mark.parametrize("words", ["roosevelt elk cape", "calf elk cape", "bull elk cape", "old coyote"])
def test_words_before_a_name_that_says_the_animal_are_a_remark(words: str) -> None:
    book = book_with(words)
    assert kind_of(book) in ("elk cape", "coyote")
    assert not asked(book)


@pytest.mark.parametrize(
    ("words", "written"), [("whitetial cape", "whitetial cape"), ("whitetal buck cape", "whitetal cape")]
)
def test_a_slip_of_the_hand_is_refused_with_the_nearest_kind(words: str, written: str) -> None:
    book = book_with(words)
    (complaint,) = book.unread
    assert (
        complaint.message == f"`{written}` is no kind, condition or defect of this shop; did you mean `whitetail cape`?"
    )


def test_another_animal_before_the_comma_is_asked_about() -> None:
    (found,) = asked(book_with("mule deer, cape"))
    assert found.message.startswith("`mule deer` is no kind of the shop, and it is written down as whitetail cape, ")
    assert not asked(book_with("deer, cape"))
    assert not asked(book_with("whitetail, cape"))


@pytest.mark.parametrize(
    "words",
    [
        *("cape, mule deer", "cape of a mule deer", "Cape, Mule Deer", "capes mule deer", "cape, buck, mule deer"),
        *("mule deer, cape", "cape, a mule deer"),
    ],
)
def test_a_kind_said_in_another_order_is_asked_about_with_the_shops_own_name_of_it(words: str) -> None:
    book = read_text(f"{SHOP}kind mule deer cape\n2026-11-02 08:00 H1 in, {words}, for Wen Alder\n")
    assert not book.unread
    (found,) = asked(book)
    assert "; did you mean mule deer cape?, " in found.message
    assert "mule deer cape`; else " in found.do


@pytest.mark.parametrize("words", ["cape from a mule deer", "cape, from an elk"])
def test_an_animal_is_nobody_who_brought_a_skin(words: str) -> None:
    (complaint,) = book_with(words).unread
    assert complaint.message.endswith("who brought it stands behind `from`; the kind is said in the shop's own words")


@pytest.mark.parametrize(("words", "meant"), [("a moose", ""), ("elk", "elk cape"), ("bull elk", "elk cape")])
def test_an_animal_alone_is_asked_about_with_the_one_kind_that_has_it(words: str, meant: str) -> None:
    (found,) = asked(book_with(words))
    assert (f"did you mean {meant}?" in found.message) == bool(meant)


def test_a_look_between_the_words_of_a_kind_leaves_it_that_kind() -> None:
    book = book_with("whitetail shoulder cape")
    assert not book.unread
    assert kind_of(book) == "whitetail cape"
    assert not asked(book)


def test_no_other_animal_is_offered_in_its_place() -> None:
    (found,) = asked(book_with("muley cape"))
    assert "elk" not in found.message + found.do


CUT = "2026-11-03 09:00 H1 cut into H1a whitetail cape, H1b back skin\n"


def test_a_part_of_another_name_is_asked_about_on_the_line_that_cut_it() -> None:
    book = read_text(f"{SHOP}2026-11-02 08:00 H1 in, whitetail cape, for Wen Alder\n{CUT}")
    assert not asked(book, "H1a")
    (found,) = asked(book, "H1b")
    assert found.message.startswith(
        "`back skin` is no kind of the shop, and it is written down as whitetail cape, Tue 3 Nov 09:00"
    )
    assert found.place is not None
    assert found.place.line == SHOP.count("\n") + 2


@pytest.mark.parametrize("answer", ["kind back skin\n", "2026-11-03 10:00 H1b whitetail cape\n"])
def test_a_part_is_answered_by_a_kind_of_that_name_or_by_its_own_line(answer: str) -> None:
    book = read_text(f"{SHOP}2026-11-02 08:00 H1 in, whitetail cape, for Wen Alder\n{CUT}{answer}")
    assert not book.unread
    assert not asked(book, "H1b")


@pytest.mark.parametrize(
    "words",
    [
        "mule deer cape",
        "mule deer buck cape, 8 lb",
        "big cape",
        "whitetial cape",
        "his brother's cape",
        "whitetail shoulder cape",
        "cape, mule deer",
    ],
)
def test_both_readers_agree_about_such_a_line(words: str) -> None:
    assert same(f"08:00 H1 in, {words}, for Oren Vale")
