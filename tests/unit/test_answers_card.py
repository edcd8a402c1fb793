"""How a sheet looks: 80 columns, a mark under the right place, and nothing in a remark that a screen would obey."""

import io
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hideledger.answers.sheet import Quote, Row, Section, Sheet
from hideledger.render.card import card, quoted
from hideledger.render.plain import plain
from hideledger.render.terminal import paint
from hideledger.render.width import wrapped
from hideledger.text.clean import clean


def columns(text: str) -> int:
    """Places on a screen by Unicode Standard Annex 11: wide and full-width letters two, marks none."""
    return sum(
        0 if unicodedata.combining(letter) else 2 if unicodedata.east_asian_width(letter) in "WF" else 1
        for letter in text
    )


def sheet_of(text: str) -> Sheet:
    row = Row(head="H41", text=text, under=(("do", text), ("", text)), plain=("H41", text))
    return Sheet(title=text, sections=(Section(heading="Now", rows=(row,)),))


HARMFUL = ["\x1b[2J", "\x9b31m", "\x07", "\u202e", "\x7f", "\r", "\x00", "\u2028"]


@pytest.mark.parametrize("sign", HARMFUL)
def test_control_characters_reach_no_screen(sign: str) -> None:
    stream = io.StringIO()
    paint(sheet_of(f"soft{sign}ears"), stream)
    for text in (card(sheet_of(f"soft{sign}ears")), plain(sheet_of(f"soft{sign}ears")), stream.getvalue()):
        assert sign not in text
        left = {unicodedata.category(letter) for letter in text.replace("\n", "").replace("\t", "")}
        assert not left & {"Cc", "Cf", "Cs", "Zl", "Zp"}


@pytest.mark.parametrize("words", ["[/x]", "[oak] bark", "[red]x[/red]", ":smile:", "end\\", "[link=http://x]y[/link]"])
def test_bracketed_words_stay_words(words: str) -> None:
    stream = io.StringIO()
    paint(sheet_of(words), stream)
    assert stream.getvalue().count(words) == 4
    assert card(sheet_of(words)).count(words) == 4


@given(st.text(max_size=300))
def test_no_line_is_wider_than_the_card(text: str) -> None:
    first, *lines = card(sheet_of(text)).split("\n")
    assert first == clean(text.replace("\r", "").replace("\n", " ")), "the subject of a mail is one line"
    for line in lines:
        assert len(line) <= 80 or columns(line) <= 80


@given(st.text(alphabet=st.sampled_from("ab cd\u4e2d\u00e9"), max_size=120), st.integers(min_value=2, max_value=60))
def test_wrapping_loses_no_letter(text: str, width: int) -> None:
    lines = wrapped(text, width)
    assert "".join("".join(lines).split()) == "".join(text.split())
    assert all(columns(line) <= width for line in lines)


@pytest.mark.parametrize(
    ("line", "column", "under"),
    [
        ("2026-11-03 P9 odd", 15, "odd"),
        ("2026-11-03\tP9 odd", 12, "P9"),
        ("\t\t07:50 P3 pH 21", 12, "pH"),
        ("2026-11-03 Ünal Ø odd", 19, "odd"),
        ("\u4e2d\u6587 odd", 4, "odd"),
        ("\x1b[31m odd", 7, "odd"),
        ("e\u0301 odd", 4, "odd"),
        ("2026-11-03 P9 " + "soft ears and " * 12 + "odd", 183, "odd"),
        ("2026-11-03 P9 odd " + "soft ears and " * 12, 15, "odd"),
        ("soft ears\t" * 5 + "odd" + "\t\u4e2d\u6587" * 20, 51, "odd"),
        ("\u4e2d\u6587" * 30 + "odd" + "\u4e2d\u6587" * 30, 61, "odd"),
        ("a" * 76 + "odd", 77, "odd"),
    ],
)
def test_the_mark_stands_under_the_place(line: str, column: int, under: str) -> None:
    shown, mark = quoted(Quote(text=line, column=column), indent=2)
    place = shown.index(under)
    assert columns(shown[:place]) == columns(mark) - 1
    assert mark.strip() == "^"
    assert columns(shown) <= 80, "on paper a longer line would break, and the mark stand under nothing"


def test_a_line_that_fits_is_shown_whole_and_of_a_longer_one_what_was_left_out_is_marked() -> None:
    fits = "x" * 74 + " odd"
    assert next(quoted(Quote(text=fits, column=76), indent=2)) == "  " + fits
    shown, _ = quoted(Quote(text="y" * 100 + " odd " + "z" * 100, column=102), indent=2)
    assert shown.startswith("  ... y")
    assert shown.endswith("z ...")
    narrow, mark = quoted(Quote(text=fits, column=76), indent=2, width=40)
    assert columns(narrow) <= 40
    assert narrow[mark.index("^") :] == "odd"


def test_rows_that_are_never_broken_keep_a_wide_head() -> None:
    """A date, a time and `drying room` take 29 places."""
    row = Row(head="2026-11-05 16:40  drying room", text="H1 in")
    sheet = Sheet(title="History", sections=(Section(heading="drying room", rows=(row,), whole_lines=True),))
    assert "2026-11-05 16:40  drying room  H1 in" in card(sheet)


def test_a_place_is_never_cut() -> None:
    place = f"/srv/{'shop/' * 30}november.hides:12:41:"
    assert place in card(sheet_of(f"{place} expected a step")).split("\n")[0]


def test_of_a_line_of_a_megabyte_only_the_place_is_shown() -> None:
    line = "a" * 500_000 + "ODD" + "b" * 500_000
    shown, mark = quoted(Quote(text=line, column=500_001), indent=2)
    assert len(shown) < 200
    assert shown[mark.index("^") :].startswith("ODD")


def test_the_mark_may_stand_behind_the_last_letter() -> None:
    shown, mark = quoted(Quote(text="2026-11-03 P9", column=14), indent=0)
    assert mark.index("^") == len(shown)


def test_plain_breaks_nothing_and_cuts_nothing() -> None:
    long = " ".join(["ears"] * 100)
    lines = plain(sheet_of(long)).split("\n")
    assert lines == [f"H41\t{long}", ""]


def test_a_tab_in_a_remark_makes_no_new_field() -> None:
    assert plain(sheet_of("a\tb\nc")) == "H41\ta b c\n"


def test_nothing_is_drawn() -> None:
    """Words and blanks only: no rules, boxes, ticks or coloured marks (the shop's own look)."""
    text = card(sheet_of("neck thin"))
    assert not {unicodedata.category(letter) for letter in text} & {"So", "Sk"}
    assert not any("\u2500" <= letter <= "\u25ff" for letter in text)
    assert all(set(line) - set("-=_+| ") for line in text.split("\n") if line)
