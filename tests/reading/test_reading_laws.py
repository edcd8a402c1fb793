"""Laws of reading: it never raises, every entry stands where it says, one bad line hides nothing else."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from hideledger.reading import read_text
from hideledger.text.files import BookTrouble, decode
from tests.reading.test_both_ways import WORDS
from tests.reading.told import TRIAL_SHOP, read_with_trial_shop, told

LINE = st.lists(WORDS, min_size=1, max_size=7).map(" ".join)
STAMPED = st.tuples(
    st.sampled_from(["2026-11-03 ", "2026-11-03 08:15 ", "  9:10 ", "", "12:60 ", "H41 ", "# "]), LINE
).map("".join)
GOOD = [
    "2026-11-03 06:00 H46 fleshed -- thin",
    "2026-11-03 06:10 H41 H44 thru H47 pickle in P3",
    "2026-11-03 06:20 P3 pH 2.1 strip, 64 F",
    "2026-11-03 H41 4.9 lb shaved",
]


@settings(max_examples=400, deadline=None)
@given(st.text())
def test_no_text_raises(text: str) -> None:
    book = read_text(text)
    for complaint in book.unread:
        assert complaint.message
        assert complaint.place.line >= 1
        assert complaint.place.column >= 1


@settings(max_examples=400, deadline=None)
@given(st.binary())
def test_no_bytes_raise_anything_but_one_sentence(raw: bytes) -> None:
    try:
        text = decode(raw, "page.hides")
    except BookTrouble as trouble:
        assert "page.hides" in trouble.message
        assert "\n" not in trouble.message
    else:
        read_text(text)


@settings(max_examples=600, deadline=None)
@given(st.lists(STAMPED, max_size=8))
def test_every_line_is_read_or_complained_of_and_stands_where_it_says(lines: list[str]) -> None:
    page = "2026-11-03\n06:00 H46 fleshed -- thin\n" + "\n".join(lines) + "\n"
    book = read_with_trial_shop(page)
    source = book.sources[1]
    for entry in book.entries:
        assert entry.text == source.text[entry.start : entry.end]
        assert entry.text.strip() == entry.text
        place = entry.at
        assert source.line(place.line)[place.column - 1 :].startswith(entry.text.split("\n")[0])
    for complaint in book.unread:
        line = source.line(complaint.place.line)
        assert complaint.text == line
        assert complaint.place.column <= len(line) + 1


@settings(max_examples=300, deadline=None)
@given(LINE, st.integers(min_value=1, max_value=len(GOOD)))
def test_one_line_more_changes_no_other_line(line: str, at: int) -> None:
    """A further line with a date and time of its own, good or bad, leaves the other lines as they were."""
    before = read_with_trial_shop("\n".join(GOOD) + "\n")
    page = [*GOOD[:at], f"2026-11-03 06:30 {line}", *GOOD[at:]]
    after = read_with_trial_shop("\n".join(page) + "\n")
    there = {told(entry, after.clock) for entry in after.entries}
    assert {told(entry, before.clock) for entry in before.entries} <= there


def test_the_trial_shop_itself_reads() -> None:
    assert not read_text(TRIAL_SHOP).unread
