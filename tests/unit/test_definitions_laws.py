"""No text whatever makes the reader of definitions fail: it is read, or told."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from hideledger.reading.define_clauses import CLAUSES
from tests.unit.definition_pages import WHOLE_SHOP, read

PIECES = st.sampled_from(
    [
        *(word for words in CLAUSES.values() for word in words),
        *CLAUSES,
        *[
            "in",
            "out",
            "of",
            "to",
            "or",
            "and",
            "per",
            "at",
            "since",
            "fleshed",
            "salt",
            "pickle",
            "again",
            "elk",
            "cape",
            "D1",
            "H41",
            "both",
            "raw",
            "may",
            "rest",
            "frozen",
        ],
        *[
            "12",
            "h",
            "3",
            "d",
            "7",
            "1/2",
            "lb",
            "½",
            "gal",
            "66",
            "°",
            "F",
            "0.8",
            "-4",
            "1,500",
            "71/2",
            "1/0",
            "$0.19",
            "%",
            ":",
            ",",
            "-",
            "--",
            "(",
            "#",
            "struck",
            "~",
            "7:00",
            "2026-09-01",
            "3/11/26",
        ],
        "at least",
        "at most",
        "99999999999999999999",
        "\u00a0",
        "\t",
        "İ",
        "٣",
    ]
)
HEADS = st.sampled_from([word for word in CLAUSES if word not in {"step", "rest"}])
LINES = st.one_of(
    st.lists(PIECES, max_size=9).map(lambda words: "  " + " ".join(words)),
    st.tuples(HEADS, st.lists(PIECES, max_size=7)).map(lambda line: " ".join([line[0], *line[1]])),
    st.sampled_from(WHOLE_SHOP.split("\n")),
)


def nothing_raises(text: str) -> None:
    shop, complaints = read(text)
    assert shop.whole is not bool(complaints)
    lines = text.split("\n")
    for said in complaints:
        assert said.text == lines[said.place.line - 1].removesuffix("\r")
        assert 1 <= said.place.column <= max(1, len(said.text))
        assert said.message
        assert said.code


@given(st.lists(LINES, max_size=14).map("\n".join))
def test_no_page_of_lines_like_ours_raises(text: str) -> None:
    nothing_raises(text)


@given(st.text(), HEADS)
def test_no_text_at_all_raises(text: str, head: str) -> None:
    nothing_raises(text)
    nothing_raises(f"{head} {text}\n  {text}")
