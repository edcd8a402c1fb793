"""After a fair copy an ordinary search for a tag finds every line that names the hide: told by `history`, found by the search."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hideledger.answers.history.answer import history
from hideledger.answers.history.lines import FINDING, LINE, STAY
from hideledger.model.book import Book
from hideledger.model.entry import Entry
from hideledger.model.facts import Divided, Opened
from hideledger.reading import read_book, read_sources
from hideledger.rules.judge import judge
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.groups import meant_by_groups
from hideledger.text.source import Source
from hideledger.writing.fair_copy import fair_copy, text_of
from tests.property.fair_pages import last_floor, read_page
from tests.property.test_judging import SHOP, Line, books, written

SAMPLES = Path(__file__).resolve().parents[2] / "sample_ledgers"
BOOKS = sorted(folder.name for folder in SAMPLES.iterdir() if folder.is_dir())
Spot = tuple[str, int]


def written_out(book: Book) -> Book:
    """The book as its fair copy reads."""
    pages = fair_copy(book, [source.name for source in book.sources], meant_by_groups(last_floor(book)))
    assert [page.refused for page in pages if page.refused] == []
    return read_sources([Source(name=page.source.name, text=text_of(page)) for page in pages])


def cards(record: Any) -> Iterator[tuple[str, dict[str, Any]]]:
    """Every line of a history as a program gets it, with the heading of its card."""
    for card in record["cards"]:
        for one in card["lines"]:
            yield card["heading"], one


def told(floor: Floor, tag: str, *sorts: str) -> set[Spot]:
    """The lines that the history of a hide tells of these sorts."""
    return {(one["file"], one["line"]) for _, one in cards(history(floor, (), [tag]).record) if one["sort"] in sorts}


def found(book: Book, tag: str) -> set[Spot]:
    """What a search for the whole word finds, with `grep -w`'s notion of one: letters, figures and `_` on neither side."""
    word = re.compile(rf"(?<![A-Za-z0-9_]){re.escape(tag)}(?![A-Za-z0-9_])")
    return {
        (source.name, number)
        for source in book.sources
        for number, line in enumerate(source.text.split("\n"), 1)
        if word.search(line)
    }


def whom(entry: Entry, meant: dict[int, tuple[str, ...]]) -> set[str]:
    """Every hide that a line is about: at its head, in a group, out of a box, of a cut."""
    named = {*entry.tags, *meant.get(entry.order, ())}
    for fact in entry.facts:
        if isinstance(fact, Opened):
            named |= set(fact.tags)
        elif isinstance(fact, Divided):
            named |= {tag for tag, _ in fact.parts}
    return named


def search_and_history_agree(book: Book) -> int:
    """Compares both for every hide of a fair copy; how many lines they agree on."""
    floor = last_floor(book)
    meant = meant_by_groups(floor)
    spots = {(entry.source.name, entry.at.line): entry for entry in book.entries}
    agreed = 0
    for tag in floor.hides:
        by_history, by_search = told(floor, tag, LINE), found(book, tag)
        # What a skin brought with it from its box or the hide it was cut from stands there under that tag.
        inherited = {spot for spot in by_history if tag not in whom(spots[spot], meant)}
        origins = {one for spot in by_history - inherited for one in spots[spot].tags} - {tag}
        for spot in inherited:
            assert whom(spots[spot], meant) & origins
        assert by_history - inherited <= by_search
        # The search finds more where the tag stands in a remark, in a line nobody counts, in a load's test on that hide; but no
        # line that is about the hide is one that its history does not tell.
        for spot in by_search - by_history:
            entry = spots.get(spot)
            assert entry is None or tag not in (*entry.tags, *meant.get(entry.order, ()))
        agreed += len(by_history & by_search)
    return agreed


@pytest.mark.parametrize("name", BOOKS)
def test_history_and_search_agree_on_the_fair_copies_of_the_sample_books(name: str) -> None:
    book = read_book([str(SAMPLES / name)])
    least = {"first-week": 39, "harbour-road": 180, "rough": 17, "tarrow-ridge": 2000}[name]
    assert search_and_history_agree(written_out(book)) >= least


@pytest.mark.parametrize("name", ["harbour-road", "tarrow-ridge"])
def test_before_the_fair_copy_they_do_not(name: str) -> None:
    """The comparison above can fail: runs and bare numbers hide a tag from a search."""
    book = read_book([str(SAMPLES / name)])
    with pytest.raises(AssertionError):
        search_and_history_agree(book)


MORE = (
    "H1 thru H4 but H2 salt",
    "all in P1 stirred",
    "all in P1 but H3, drained",
    "H1, 3 and 4: shaved",
    "bagged H2 4",
    "L1 cut test ok, H3 neck",
    "H4 cut into H4a cape, h4b back skin",
)


@settings(max_examples=25)
@given(books(), st.lists(st.tuples(st.integers(430, 24 * 1440), st.sampled_from(MORE)), max_size=6))
def test_history_and_search_agree_on_made_up_books(lines: list[Line], more: list[tuple[int, str]]) -> None:
    further = [Line(minute=minute, timed=True, rest=rest) for minute, rest in more if not 5820 <= minute < 5880]
    page = "\n".join(map(written, sorted([*lines, *further], key=lambda line: line.minute)))
    search_and_history_agree(written_out(read_page(page, SHOP)))


def rows(book: Book) -> list[Sequence[object]]:
    """The histories of all hides and baths, without the words and places of the lines."""
    floor = last_floor(book)
    findings = judge(floor)
    return [
        (heading, one["when"], one["when_local"], one["tag"], one["sort"], _figures(one["sort"], one["text"]))
        for heading, one in cards(history(floor, findings, [*floor.hides, *floor.baths]).record)
    ]


def _figures(sort: str, text: str) -> str:
    """What was worked out; what quotes a line is written otherwise in a fair copy."""
    return re.sub(r"line [0-9]+|:[0-9]+", "", text) if sort in (STAY, FINDING) else ""


@pytest.mark.parametrize("name", BOOKS)
def test_every_history_is_the_same_over_the_fair_copy(name: str) -> None:
    book = read_book([str(SAMPLES / name)])
    assert rows(written_out(book)) == rows(book)


@pytest.mark.skipif(shutil.which("grep") is None, reason="no grep on this machine")
def test_grep_itself_finds_every_line_of_a_hide(tmp_path: Path) -> None:
    book = written_out(read_book([str(SAMPLES / "harbour-road")]))
    for source in book.sources:
        (tmp_path / Path(source.name).name).write_text(source.text, encoding="utf-8")
    fair = read_book([str(tmp_path)])
    floor = last_floor(fair)
    for tag in ("H13", "H14"):
        names = [source.name for source in fair.sources]
        grep = subprocess.run(["grep", "-nwH", tag, *names], capture_output=True, check=True, encoding="utf-8")
        hits = {(line.split(":")[0], int(line.split(":")[1])) for line in grep.stdout.strip().split("\n")}
        assert told(floor, tag, LINE) <= hits
        assert len(hits) >= 8
