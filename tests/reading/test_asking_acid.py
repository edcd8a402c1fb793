"""The language of `acid`: every terminal with words for a person, and no request that ends in a fault."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from hideledger.answers.acid.answer import Shopside, acid
from hideledger.answers.acid.names import NotReckoned
from hideledger.reading.asking_acid import SPOKEN, acid_asked, acid_grammar
from hideledger.reading.trouble import Unreadable

WORDS = [
    "20 gal",
    "20 gal water",
    "75 L",
    "1 qt",
    "60 oz citric acid crystals",
    "60 oz citric acid",
    "2 lb anhydrous oxalic acid",
    "20 lb salt",
    "85 % formic acid 200 ml",
    "3 floz 96 % sulphuric acid",
    "3 oz by weight 36 % battery acid",
    "1 lb baking soda",
    "2 kg soda ash",
    "4 oz borax",
    "1 lb lye",
    "2 lb sodium formate",
    "1 gal 5 % vinegar",
    "neutralise",
    "raise",
    "per gal",
    "a",
    "at",
    "to",
    "with",
    "in",
    ",",
    "and",
    "2.4",
    "0",
    "14",
    "2.0",
    "5",
    "9",
    "13.9",
    "citric acid crystals",
    "baking soda",
    "soda",
    "borax",
    "formic acid",
    "%",
    "½",
    "-4",
    "pH",
    "of",
    "crystals",
    "oz",
    "by volume",
    "water",
    "300 g 75 % phosphoric acid",
    "2 floz 31 % muriatic acid",
    "40 lb salt",
    "washing soda crystals",
    "",
]


def test_every_terminal_has_words_for_a_person() -> None:
    passed_over = {"BLANKS", "STOP", "PLEASE"}
    assert {terminal.name for terminal in acid_grammar().terminals} - passed_over <= set(SPOKEN)


@settings(max_examples=300, deadline=None)
@given(st.lists(st.sampled_from(WORDS), min_size=1, max_size=9))
def test_any_row_of_words_is_answered_or_refused_in_a_sentence(words: list[str]) -> None:
    text = " ".join(words)
    try:
        sheet = acid(acid_asked(text, gallons="US"), Shopside())
    except Unreadable as trouble:
        assert trouble.message and 0 <= trouble.start <= len(text)
    except NotReckoned as why:
        assert str(why)
    else:
        assert [section.heading for section in sheet.sections][-2:] == ["Order of work", "Care"]


@settings(max_examples=60, deadline=None)
@given(
    st.floats(0, 14).map(lambda ph: f"{ph:.1f}"),
    st.floats(0, 14).map(lambda ph: f"{ph:.1f}"),
    st.sampled_from(
        ["citric acid crystals", "96 % sulphuric acid", "85 % formic acid", "baking soda", "soda ash", "borax"]
    ),
    st.sampled_from(
        [
            "",
            ", 60 oz citric acid crystals",
            ", 20 lb salt, 8 floz 96 % sulphuric acid",
            ", 2 lb soda ash",
            ", 20 lb salt, 4 lb oxalic acid crystals",
        ]
    ),
)
def test_any_two_ph_are_answered_or_refused_in_a_sentence(read: str, wanted: str, agent: str, made: str) -> None:
    try:
        sheet = acid(acid_asked(f"20 gal{made} at {read} to {wanted} with {agent}", gallons="US"), Shopside())
    except NotReckoned as why:
        assert str(why)
    else:
        assert sheet.record is not None and sheet.record["to_ph"] == float(wanted)


@given(st.text(max_size=40))
def test_no_text_is_a_fault(text: str) -> None:
    try:
        acid_asked(text, gallons="US")
    except Unreadable as trouble:
        assert trouble.message
