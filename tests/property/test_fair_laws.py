"""A fair copy says what the book said, is its own fair copy, and leaves what nobody understood to the byte; tried on made-up pages."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Callable
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from hideledger.model.book import Book
from hideledger.reading import read_book
from hideledger.rules.judge import judge
from hideledger.text.files import decode
from hideledger.writing.fair_bytes import fair_bytes
from hideledger.writing.fair_copy import fair_copy
from tests.property.fair_pages import fair_page, last_floor, read_page, text_of
from tests.property.test_judging import SHOP, books, written
from tests.reading.test_hurried import FORGIVEN, ROWS
from tests.reading.test_reading_laws import STAMPED
from tests.reading.told import TRIAL_SHOP, told

# Lines of every sort, as they may follow each other on a page.
TABLE = [line for _, line, _ in (*ROWS, *FORGIVEN)]
ROUGH = [
    "",
    "   ",
    "# a comment, # with two signs",
    "  # one under an indent",
    "struck 2026-11-03 08:20 H45 out to Oren Vale",
    "~ 8:21 H46 out",
    "2026-11-03",
    "2026-11-04 # the day after",
    "2026",
    "11/5",
    "2026-11-02 H41 shaved, 4.9 lb",
    "2026-11-06 23:10 H41 salt",
    "0:20 remark he went away again",
    "H41 fleshed,",
    "  ears turned,  # both",
    "  lips split",
    "  -- left ear nicked, – by the rope",
    "— and so on",
    "8:15 H44 thru H47 but H46 pickle in P3   # back in",
    "all in P3 but h45, drained",
    "H51 in whitetail cape buck 7½lb green, killed 29 Oct 16:00 at Tarrow county,",
    "   for  Oren\u00a0Vale , tag #40718",
    'H42 slip Left  Ear 2" (seen (before) , -- bad',
    "P3 mixed in V1, 20gal water,20 lb Salt lot S-114",
    "B7 opened, H60 thru H62, their tags r-101 thru r-103",
    "overnight: P3 stirred",
    "ca. 7.30 pm P3 pH 2,1 Strip 64°",
    "vessel V9, vat, 40 gal",
    "  holds 12",
    "H44 H45 together 14-1/2 lbs Drained.",
    "H47 cut into h47a Cape, H47b back skin",
    "<<<<<<< HEAD",
]
# How a hand, a phone and an editor change such a line: capitals, blanks, lines broken behind a comma, a comment at the end.
HANDS = (
    ("", ""),
    (" ", "  "),
    (" ", "\u00a0"),
    (" ", "\t"),
    (", ", ","),
    (", ", " , "),
    (", ", ",\n    "),
    (", ", ",  # so far\n\t"),
    (" -- ", "—"),
    (" -- ", "\n -- "),
    ("H41", "H41-43"),
    ("H41", "H41, 42"),
)
CAPITALS: tuple[Callable[[str], str], ...] = (str, str, str.upper, str.title, str.swapcase)
ENDS = ("", "", "", ",", ".", "  # the end", " #", ",   # and so on", " -- Seen  by\u00a0JK")


@st.composite
def by_hand(draw: st.DrawFn) -> str:
    """A line of the tables as another hand would have written it."""
    line = draw(st.sampled_from(TABLE))
    for old, new in draw(st.lists(st.sampled_from(HANDS), max_size=3)):
        line = line.replace(old, new, draw(st.sampled_from((1, 9)))) if old else line
    return draw(st.sampled_from(CAPITALS))(line) + draw(st.sampled_from(ENDS))


LINES = st.one_of(st.sampled_from(ROUGH), by_hand(), by_hand(), STAMPED)
PAGES = st.lists(LINES, max_size=12).map(lambda lines: "2026-11-03\n06:00 H46 fleshed -- thin\n" + "\n".join(lines))


def events(book: Book) -> list[str]:
    """What each line says; blanks inside a remark that ran over two lines may differ in number."""
    return [re.sub(r"[ \u00a0]+", " ", told(entry, book.clock)) for entry in book.entries]


def complaints(book: Book) -> list[tuple[str, ...]]:
    return [(trouble.code, trouble.text, trouble.day, *trouble.tags) for trouble in book.unread]


@settings(max_examples=80)
@given(PAGES)
def test_the_events_are_the_same_and_a_fair_copy_of_a_fair_copy_changes_nothing(text: str) -> None:
    book = read_page(text)
    page = fair_page(book)
    assert page.refused == ""
    again = read_page(text_of(page))
    assert events(again) == events(book)
    assert complaints(again) == complaints(book)
    second = fair_page(again)
    assert second.changes == ()
    assert len(second.left) == len(page.left)


@settings(max_examples=60)
@given(PAGES)
def test_what_is_no_entry_stays_to_the_byte(text: str) -> None:
    """Comments, struck and blank lines, dates alone, definitions and whatever could not be read."""
    book = read_page(text)
    page = fair_page(book)
    changed = {number for change in page.changes for number in range(change.line, change.line + len(change.was))}
    entries = {entry.at.line for entry in book.entries}
    assert {change.line for change in page.changes} <= entries
    before, after = text.split("\n"), text_of(page).split("\n")
    now = [line for change in page.changes for line in change.now]
    for trouble in book.unread:
        assert trouble.place.line not in changed
    kept = [line for number, line in enumerate(before, 1) if number not in changed]
    rest = list(after)
    for line in now:
        rest.remove(line)
    assert sorted(rest) == sorted(kept)


@settings(max_examples=60)
@given(PAGES)
def test_every_line_written_out_carries_its_date_and_spells_out_every_tag(text: str) -> None:
    book = read_page(text)
    page = fair_page(book)
    again = read_page(text_of(page))
    left = {line.line for line in page.left}
    lines = [entry.at.line for entry in book.entries if entry.source.name == "page.hides"]
    for line, entry in zip(lines, [one for one in again.entries if one.source.name == "page.hides"], strict=True):
        if line in left:
            continue
        assert re.match(r"[0-9]{4}-[0-9]{2}-[0-9]{2}( |$)", again.sources[1].line(entry.at.line))
        for tag in entry.tags:
            assert re.search(rf"(?<![A-Za-z0-9-]){tag}(?![A-Za-z0-9])", entry.text)


def judged(book: Book) -> list[tuple[object, ...]]:
    floor = last_floor(book)
    return [
        (one.when, one.name, one.may, one.tags, one.since, re.sub(r"line [0-9]+|:[0-9]+", "", one.message))
        for one in judge(floor)
    ]


@settings(max_examples=15)
@given(books(), st.sampled_from(["", "all in P1 stirred\n", "H1 thru H4 but H2 bagged\n", "P1-P2 stirred\n"]))
def test_what_is_found_in_a_book_is_found_in_its_fair_copy(lines: list[object], more: str) -> None:
    text = "\n".join(map(written, lines)) + "\n" + more  # type: ignore[arg-type]
    book = read_page(text, SHOP)
    page = fair_page(book)
    again = read_page(text_of(page), SHOP)
    assert page.refused == ""
    assert judged(again) == judged(book)


# In turn on one page. A return alone and a feed alone do not meet: round an empty line they would be one newline.
NEWLINES = ((b"\n",), (b"\n", b"\r\n"), (b"\r\n", b"\n", b"\n"), (b"\r",), (b"\r", b"\r\n"))


@settings(max_examples=40)
@given(PAGES, st.sampled_from(NEWLINES), st.booleans())
def test_every_byte_that_is_not_written_out_stays(text: str, newlines: tuple[bytes, ...], mark: bool) -> None:
    """Newlines of two sorts on one page, a byte order mark, and whatever nobody understood."""
    lines = text.split("\n")
    ends = [newlines[number % len(newlines)] for number in range(len(lines) - 1)] + [b""]
    begin = b"\xef\xbb\xbf" if mark else b""
    raw = begin + b"".join(line.encode() + end for line, end in zip(lines, ends, strict=True))
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "page.hides"
        path.write_bytes(raw)
        (Path(folder) / "shop.hides").write_text(TRIAL_SHOP, encoding="utf-8")
        book = read_book([folder])
        (page,) = fair_copy(book, [str(path)], {})
        body = fair_bytes(page)
    assert decode(body, "page.hides") == text_of(page)
    rest = body.removeprefix(begin) if mark else body
    assert body.startswith(begin)
    changed = {change.line: change for change in page.changes}
    at, number = 0, 1
    while number <= len(lines):
        change = changed.get(number)
        if change is None:
            wanted, number = lines[number - 1].encode() + ends[number - 1], number + 1
        elif len(change.now) == len(change.was):
            pairs = zip(change.now, ends[number - 1 :], strict=False)
            wanted, number = b"".join(line.encode() + end for line, end in pairs), number + len(change.was)
        else:
            number += len(change.was)
            wanted = "".join(change.now).encode() + ends[number - 2]
        assert rest[at : at + len(wanted)] == wanted
        at += len(wanted)
    assert at == len(rest)
