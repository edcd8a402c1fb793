"""Names that may be one customer's, and names that are plainly two: the judgements are common practice, no source."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hideledger.reading import read_text
from hideledger.rules import alike as judged
from hideledger.rules.alike import alike, alike_pairs
from hideledger.rules.judge import judge
from hideledger.shopfloor.layout import lay_out

ONE = (
    ("Ansel Mar", "Ansel Marr"),
    ("Jo Lee", "Joe Lee"),
    ("Joe Lee", "Joe Leigh"),
    ("Jon Fenn", "John Fenn"),
    ("Sara Pell", "Sarah Pell"),
    ("Søren Holt", "Soren Holt"),
    ("José Marin", "Jose Marin"),
    ("Æsa Holt", "Aesa Holt"),
    ("Łuka Fenn", "Luka Fenn"),
    ("Müller Brook", "Mueller Brook"),
    ("Dahl and Sons", "Dahl & Sons"),
    ("Dahl and Sons", "Dahl + Sons"),
    ("Harrow Tannery", "Harrow Tannery LLC"),
    ("Oren Vale", "Oren Vail"),
    ("Oren Vale", "Oren Vlae"),
    ("Oren Vale", "Oren Bale"),
    ("Roy Tansley", "R. Tansley"),
    ("Roy Tansley", "Roy Tanslee"),
    ("Oren Vale", "Oren J. Vale"),
    ("Vale, Oren", "Oren Vale"),
    ("De Vries", "DeVries"),
    ("O’Neil Fenn", "ONeil Fenn"),
)
TWO = (
    ("Oren Vale", "Ida Vale"),
    ("Oren Vale", "Pell Vale"),
    ("Oren Vale", "Oren Marsh"),
    ("Ida Marlow", "Ada Marlow"),
    ("Ansel Marr", "Ansel Mark"),
    ("Mark Tansley", "Mary Tansley"),
    ("Paul Marsh", "Paula Marsh"),
    ("Mario Fenn", "Maria Fenn"),
    ("Tam Reedy", "Tom Reedy"),
    ("Dale Fenn", "Vale Fenn"),
    ("Oren Vale Sr", "Oren Vale Jr"),
    ("Oren Vale", "O V"),
    ("Dahl and Sons", "Dahl"),
)
WORDS = st.text(alphabet="aeilmnorsøé&'. ", min_size=1, max_size=12)
SHOP = "shop Bramble Lane Skins\n  zone America/Chicago\nkind cape\nprocess tub\n  in\n  out\n"


@pytest.mark.parametrize(("one", "other"), ONE)
def test_a_slip_an_accent_or_a_letter_not_heard_may_be_one_customer(one: str, other: str) -> None:
    assert alike(one.casefold(), other.casefold())


@pytest.mark.parametrize(("one", "other"), TWO)
def test_plainly_two_people_are_not_asked_about(one: str, other: str) -> None:
    assert not alike(one.casefold(), other.casefold())


@given(WORDS, WORDS)
def test_it_does_not_matter_which_name_stands_first(one: str, other: str) -> None:
    assert alike(one, other) == alike(other, one)


@given(st.sets(WORDS, max_size=25))
def test_the_quick_way_finds_every_pair_that_looking_at_each_would(names: set[str]) -> None:
    row = sorted(names)
    each = [(one, other) for number, one in enumerate(row) for other in row[number + 1 :] if alike(one, other)]
    assert list(alike_pairs(names)) == each


def test_thousands_of_names_are_not_laid_beside_each_other_one_by_one(monkeypatch: pytest.MonkeyPatch) -> None:
    parts = [a + b for a in ("an", "bel", "cor", "dal", "fen", "gor", "har", "lu", "mi", "so") for b in "aeiou"]
    firsts = [one + other for one in parts for other in ("ric", "mund")]
    names = [f"{firsts[n % 100]} {parts[n % 37]}{parts[n // 60 % 50]}" for n in range(3000)]
    looked: list[str] = []

    def counting(one: str, other: str) -> bool:
        looked.append(one)
        return alike(one, other)

    monkeypatch.setattr(judged, "alike", counting)
    list(alike_pairs(names))
    assert len(looked) < len(set(names)) * 40, "of some four million pairs"


def names_told(*lines: str) -> list[str]:
    book = read_text(SHOP + "\n" + "\n".join(lines) + "\n")
    assert not book.unread
    return [one.message for one in judge(lay_out(book, book.clock.day_end(739600))) if one.name == "two names alike"]


def test_who_was_said_to_be_two_is_not_asked_about_again_and_a_third_name_is() -> None:
    two = ("2024-11-02 08:00 H1 in, cape, for Jo Lee", "2024-11-02 08:01 H2 in, cape, for Joe Lee")
    waived = "2024-11-02 08:05 H2 waived two names alike -- father and daughter"
    assert len(names_told(*two)) == 1
    assert names_told(*two, waived) == []
    assert names_told(*two, "2024-11-02 08:05 H2 waived two names alike") != [], "no reason, no waiver"
    third = names_told(*two, waived, "2024-11-03 08:00 H3 in, cape, for Joe Leee")
    assert len(third) == 2 and all("Joe Leee" in said for said in third)
