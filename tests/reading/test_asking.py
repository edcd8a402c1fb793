"""Requests in words: the grammar's terminals have words of their own, and whatever is typed gets an answer or a place."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from hideledger.answers.brine.answer import brine_sheet
from hideledger.answers.brine.asked import understood
from hideledger.answers.brine.strength import Instrument, instrument_of
from hideledger.answers.brine.words import Units
from hideledger.reading.asking import SPOKEN, asked, asking_grammar
from hideledger.reading.trouble import Unreadable
from hideledger.render.json_text import json_text

WORDS = [
    "40",
    "20",
    "1",
    "0",
    "-5",
    "7.5",
    "6,4",
    "1,500",
    "1/2",
    "½",
    "7",
    "1/2",
    "1/0",
    "100",
    "sal",
    "%",
    "lb",
    "gal",
    "L",
    "kg",
    "g",
    "oz",
    "F",
    "C",
    "°",
    "Be",
    "SG",
    "pH",
    "SG:",
    "water",
    "salt",
    "brine",
    "skins",
    "wet",
    "citric",
    "acid",
    "capes",
    "per",
    "/",
    "a",
    "at",
    "from",
    "to",
    "of",
    "in",
    ",",
    "US",
    "imperial",
    "UK",
    "salt,",
    "water.",
    "@",
    "saal",
    "°F",
    "m²",
    "fl.oz",
    "floz",
    "72F",
    "20C",
]


def test_every_terminal_has_words() -> None:
    ignored = {"BLANKS", "STOP", "PLEASE"}
    assert {terminal.name for terminal in asking_grammar().terminals} - ignored <= set(SPOKEN)


@given(st.lists(st.sampled_from(WORDS), max_size=12).map(" ".join), st.sampled_from(["", "US", "imperial"]))
@example("1 lb per 0 gal", "US")
@example("20 gal at 46 sal at 72 F at 73 F", "US")
@example("20 gal at 72 F, 5 lb salt", "US")
@example("5 oz citric acid at 40 sal", "US")
@example("145 Be", "")
@example("200 Be", "")
@example("SG 0", "")
@example("40 lb per lb", "")
@example("100 sal at 32 F", "")
@example("100 sal at 72 F", "")
@example("20 L at 100 sal at 90 F, 1 lb sulphuric acid to 100 sal", "")
@example("1 L water, 20 kg citric acid, 1 g salt", "")
@example("1 lb brine at 40 sal, 19999 kg salt to 46 sal", "")
def test_any_row_of_words_is_understood_or_refused_inside_it(text: str, gallons: str) -> None:
    try:
        found = understood(text, Instrument(), gallons=gallons)
    except Unreadable as trouble:
        assert 0 <= trouble.start <= len(text)
        assert trouble.start < trouble.end
        assert trouble.message
    else:
        assert found.share is None or 0 <= found.share < 0.28
        assert found.batch is None or found.batch.water_kg > 0
        assert json_text(brine_sheet(text, Instrument(), Units(gallons=gallons)))


@given(st.text(max_size=40))
def test_any_text_at_all_is_understood_or_refused(text: str) -> None:
    for reads in (lambda: understood(text, Instrument()), lambda: instrument_of(text)):
        try:
            reads()
        except Unreadable as trouble:
            assert 0 <= trouble.start <= len(text)


def test_forms_that_phones_and_hurry_make() -> None:
    one = asked("20 gal water, 20 lb salt", "brine", gallons="US")
    for way in ("20 GAL Water,  20 lbs salt", "20 gal of water, 20 lb of salt.", "20\u00a0gal water, 20\u202flb salt"):
        other = asked(way, "brine", gallons="US")
        assert [(stuff.measured.value, stuff.name) for stuff in other.stuffs] == [
            (stuff.measured.value, stuff.name) for stuff in one.stuffs
        ]


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("20 US gal", "gal"),
        ("20 imperial gal", "imperial gal"),
        ("20 UK gal", "imperial gal"),
        ("20 imp gal", "imperial gal"),
        ("20 U.S. gal", "gal"),
    ],
)
def test_the_kind_of_gallon_said_outright_wins(text: str, unit: str) -> None:
    for gallons in ("", "US", "imperial"):
        assert asked(f"{text} water", "brine", gallons=gallons).stuffs[0].measured.value.unit == unit
