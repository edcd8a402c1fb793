"""The language of `mix`: each of its terminals has a name for a person, a request is taken apart, and whatever is typed ends in an answer, a place or a sentence."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from hideledger.answers.acid.names import NotReckoned
from hideledger.answers.mix.answer import mix
from hideledger.reading import read_text
from hideledger.reading.asking_mix import SPOKEN, mix_asked, mix_grammar
from hideledger.reading.trouble import Unreadable
from hideledger.shopfloor.layout import lay_out

WORDS = [
    "pickle",
    "drum liquor",
    "old pickle",
    "20 gal",
    "20 US gal",
    "20 imperial gal",
    "20",
    "75 L",
    "30 lb",
    "30 lb drained",
    "10 kg liquor",
    "20 gal water",
    "5 hides",
    "3 counts",
    "1/2 hides",
    "for",
    "in",
    "V1",
    "D1",
    "H41",
    "H41 42",
    "H41 thru H44",
    "but",
    "all in P3",
    "and",
    ",",
    "of",
    "1,500",
    "½",
    "-5 gal",
    "60 F",
    "water",
    "salt",
    "%",
    "#",
    "gal",
]
PAGE = """\
shop Alder Fork
  zone America/Chicago
  gallons US
kind whitetail cape
vessel V1, vat, 40 gal, holds 12
vessel D1, drum, 19 gal, holds 90 lb
measure dipper, 350 ml
supply battery acid, keep 1 gal, 35 %
recipe pickle
  per gal water: 1 lb salt, 3 oz citric acid
recipe drum liquor
  100 lb of drained: 8 gal water, 14 lb alum tan
  per count: 2 dippers oil
recipe old pickle
  per gal liquor: 1 qt salt, 1 floz battery acid
process tub
  in
  pickle stays, at least 10 % at mixing
  drained weighs drained
  out
2026-11-01 08:00 P3 mixed in V1, recipe pickle, 20 gal water
2026-11-02 09:10 H41 H42 in, whitetail cape
2026-11-03 09:10 H41 pickle in P3
2026-11-04 09:10 H41 drained, 5 lb
"""
BOOK = read_text(PAGE)
FLOOR = lay_out(BOOK, BOOK.clock.day_end(date(2026, 11, 20).toordinal()))


def test_every_word_of_the_grammar_has_words_for_a_person() -> None:
    names = {terminal.name for terminal in mix_grammar().terminals} - {"BLANKS", "STOP", "PLEASE"}
    assert names <= set(SPOKEN)
    assert set(SPOKEN) <= names | {"$END"}


def test_a_request_is_taken_apart() -> None:
    found = mix_asked("Pickle 20 gal water, for H41, 42 and H44 thru H47 but H46, in v1", gallons="US")
    assert (found.recipe, found.vessel) == ("pickle", "V1")
    assert found.tags == ("H41", "H42", "H44", "H45", "H46", "H47")
    assert found.but == ("H46",)
    (portion,) = found.portions
    assert (portion.quantity.value, portion.quantity.unit, portion.of) == (Decimal(20), "gal", "water")


@pytest.mark.parametrize(
    ("request_", "start", "end"),
    [
        ("pickle 20", 7, 9),
        ("pickle 20 gl", 7, 12),
        ("pickle for 20 V1", 11, 13),
        ("pickle 20 gal in", 16, 17),
        ("pickle 60 F", 7, 11),
    ],
)
def test_what_cannot_be_followed_is_marked_at_its_place(request_: str, start: int, end: int) -> None:
    with pytest.raises(Unreadable) as caught:
        mix_asked(request_, gallons="US")
    assert (caught.value.start, caught.value.end) == (start, end)


@settings(deadline=None, max_examples=150)
@given(st.lists(st.sampled_from(WORDS), max_size=7).map(" ".join))
@example("")
@example("drum liquor for H41")
@example("old pickle 20 gal in V1")
def test_whatever_is_asked_gets_an_answer_or_a_sentence(text: str) -> None:
    try:
        sheet = mix(mix_asked(text, gallons="US"), FLOOR, date(2026, 11, 20))
    except Unreadable as trouble:
        assert 0 <= trouble.start <= len(text) + 1
        assert trouble.message
    except NotReckoned as why:
        assert str(why)
    else:
        assert sheet.record is not None
        assert sheet.record["write"]


@settings(deadline=None, max_examples=150)
@given(st.text(alphabet="pickle 20galH4.,/½in-%#for", max_size=30))
def test_whatever_is_typed_gets_an_answer_or_a_place(text: str) -> None:
    try:
        mix(mix_asked(text, gallons="US"), FLOOR, date(2026, 11, 20))
    except Unreadable as trouble:
        assert 0 <= trouble.start <= len(text) + 1
    except NotReckoned as why:
        assert str(why)
