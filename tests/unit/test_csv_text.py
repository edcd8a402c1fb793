"""CSV as RFC 4180 has it, and nothing in it that a spreadsheet would work out."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hideledger.render.csv_text import csv_text, harmless, kept_code


def test_records_end_with_carriage_return_and_line_feed() -> None:
    """RFC 4180, section 2, rules 1 to 4: each record on a line of its own, the last one ended too, a header, commas between."""
    assert csv_text(("field_name",), [["aaa"], ["zzz"]]) == "field_name\r\naaa\r\nzzz\r\n"


def test_commas_line_breaks_and_quotes_are_quoted() -> None:
    """RFC 4180, section 2, rules 6 and 7, with their own examples: `"b CRLF bb"` and `"b""bb"`."""
    assert csv_text(("a",), [["b\r\nbb"], ['b"bb'], ["b,bb"]]) == 'a\r\n"b\r\nbb"\r\n"b""bb"\r\n"b,bb"\r\n'


@pytest.mark.parametrize(
    "text",
    ["=1+2", "+1-2", "-2 lb, slipped", "@SUM(1,2)", "\t=1+2", "\r=1", " =1+2", "=cmd|' /C calc'!A0", "+1 555-0123"],
)
def test_a_text_that_begins_like_a_formula_gets_an_apostrophe(text: str) -> None:
    """CWE-1236 and the OWASP page on CSV injection name these beginnings: `=`, `+`, `-`, `@`, tab, carriage return."""
    assert harmless(text) == f"'{text}"


@pytest.mark.parametrize(
    "text", ["-4", "+4", "-0.5", "40718", "H41", "MB-07", "31-204", "2026-10-30", "a=b", "", "'=1"]
)
def test_tags_dates_codes_and_plain_numbers_are_left_as_they_are(text: str) -> None:
    assert harmless(text) == text


@pytest.mark.parametrize(
    "code", ["00718", "007", "12E5", "1e5", "3-14", "31/12/2026", "10:30", "4.10", "14Mar", "MAR-7", "1234567890123456"]
)
def test_a_code_that_a_spreadsheet_would_change_gets_one_too(code: str) -> None:
    """`007` becomes 7 and `1E5` 100000 in a spreadsheet; that was tried by hand. Days, times and 15 places: common knowledge, no source."""
    assert kept_code(code) == f"'{code}"
    assert csv_text(("note", "tag"), [[code, code]], codes={1}) == f"note,tag\r\n{code},'{code}\r\n"


@pytest.mark.parametrize("code", ["40718", "H41", "MB-07", "31-204", "TX-77", "R-101", "555-0142", "7712A", "MAR", ""])
def test_other_codes_are_left_as_they_are(code: str) -> None:
    assert kept_code(code) == code


def test_a_program_may_have_the_texts_as_they_are() -> None:
    assert csv_text(("a",), [["=1+2"]], raw=True) == "a\r\n=1+2\r\n"


def test_numbers_and_yes_and_no_stand_bare() -> None:
    assert csv_text(("a", "b", "c", "d", "e"), [[-4, 400.0, 7.25, True, None]]) == "a,b,c,d,e\r\n-4,400,7.25,yes,\r\n"


texts = st.text(st.characters(blacklist_categories=["Cs"], blacklist_characters="\0"), max_size=12)


@given(st.lists(st.lists(texts, min_size=2, max_size=2), max_size=6))
def test_whatever_is_written_is_read_back(rows: list[list[str]]) -> None:
    """By the csv module of the standard library, strictly."""
    text = csv_text(("one", "two"), rows, raw=True)
    assert list(csv.reader(io.StringIO(text, newline=""), strict=True)) == [["one", "two"], *rows]


@given(texts)
def test_no_cell_begins_like_a_formula_unless_it_is_a_number(text: str) -> None:
    said = harmless(text)
    assert said.removeprefix("'") == text.removeprefix("'") or said == f"'{text}"
    if said.lstrip(" \u00a0")[:1] in tuple("=+-@\t\r"):
        float(said)
