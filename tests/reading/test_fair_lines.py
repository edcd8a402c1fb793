"""The fair copy, line by line: the table `fair.txt`, the examples of the format reference, and every line that the other tables read."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from hideledger.reading.grammar import grammar_folder
from hideledger.writing import fair_line, fair_words
from tests.property.fair_pages import fair_page, read_page, text_of
from tests.reading.told import HERE

HEAD = "2026-11-03\n06:00 H46 fleshed -- thin\n"
FAIR_HEAD = "2026-11-03\n2026-11-03 06:00 H46 fleshed -- thin\n"


def groups(text: str) -> Iterator[tuple[str, str]]:
    """What was, and what is to be, of each group of lines."""
    for block in re.split(r"\n\n+", text.strip()):
        was = [line[5:] for line in block.split("\n") if line.startswith("was")]
        now = [line[5:] for line in block.split("\n") if line.startswith("now")]
        if was:
            yield "\n".join(was), "\n".join(now)


ROWS = list(groups((HERE / "fair.txt").read_text(encoding="utf-8")))
REFERENCE = re.findall(
    r"^```fair\n(.*?)^```", (grammar_folder() / "README.md").read_text(encoding="utf-8"), re.DOTALL | re.MULTILINE
)


def written_out(page: str) -> str:
    return text_of(fair_page(read_page(page)))


@pytest.mark.parametrize(("was", "now"), ROWS, ids=[was.split("\n")[-1] for was, _ in ROWS])
def test_each_line_of_the_table_is_written_out_as_it_says(was: str, now: str) -> None:
    assert written_out(f"{HEAD}{was}\n") == f"{FAIR_HEAD}{now}\n"


@pytest.mark.parametrize(("was", "now"), ROWS, ids=[was.split("\n")[-1] for was, _ in ROWS])
def test_what_the_table_calls_fair_is_left_alone(was: str, now: str) -> None:
    assert was != now
    assert written_out(f"{FAIR_HEAD}{now}\n") == f"{FAIR_HEAD}{now}\n"


@pytest.mark.parametrize("block", REFERENCE)
def test_the_examples_of_the_format_reference_hold(block: str) -> None:
    ((was, now),) = groups(block)
    book = read_page(was)
    assert not book.unread
    assert text_of(fair_page(book)) == now


def test_there_are_examples() -> None:
    assert len(ROWS) > 30
    assert len(REFERENCE) == 1


def test_names_of_the_shop_get_the_capitals_of_their_definition() -> None:
    shop = "shop Trial\nkind Dall sheep cape or Dall\nkind elk cape\nsupply Rochelle salt\nprocess tub\n  in\n  fleshed\n  out\n"
    page = "2026-11-03 08:00 H1 in, dall Sheep Capes\n2026-11-03 08:01 H2 in, DALL\n2026-11-03 08:02 H3 in, Elk cape\n2026-11-03 08:03 used 2 lb rochelle salt\n"
    book = read_page(page, shop)
    assert not book.unread
    assert text_of(fair_page(book)) == (
        "2026-11-03 08:00 H1 in, Dall sheep capes\n2026-11-03 08:01 H2 in, Dall\n2026-11-03 08:02 H3 in, elk cape\n2026-11-03 08:03 used 2 lb Rochelle salt\n"
    )


def test_a_way_that_reads_otherwise_gives_way_to_a_more_careful_one(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each line written out is read again: were a number written wrong, only the head of its line would be written out."""
    monkeypatch.setattr(fair_words, "number_of", lambda _: "9")
    page = fair_page(read_page("2026-11-03 8:15 H41, 42 7,5lb each\n2026-11-03 8:20 H41 salted\n"))
    assert text_of(page) == "2026-11-03 08:15 H41 H42 7,5lb each\n2026-11-03 08:20 H41 salted\n"
    assert page.left == ()


def test_an_entry_that_cannot_be_written_out_at_all_stays_to_the_byte_and_is_named(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(fair_line, "clock_of", lambda _: "12:00")
    page = fair_page(read_page("2026-11-03 8:15  h41, 42 salt\n  H43 salt\n"))
    assert text_of(page) == "2026-11-03 8:15  h41, 42 salt\n2026-11-03 H43 salt\n"
    assert [(line.line, line.text) for line in page.left] == [(1, "2026-11-03 8:15  h41, 42 salt")]
    assert "stands as it was" in page.left[0].why


def test_a_part_is_not_named_in_lines_from_before_it_was_cut() -> None:
    shop = "shop Trial\n  gallons US\nprocess tub\n  in\n  pickle  raw clock stops\n  shaved\n  out\n"
    page = (
        "2026-11-02 08:00 P1 mixed, 20 gal water\n2026-11-02 08:10 H1 H2 in, process tub\n2026-11-02 08:20 H1 H2 pickle in P1\n"
        "2026-11-03 09:00 all in P1 shaved\n2026-11-03 09:30 H1 H2 pickle in P1\n2026-11-04 08:00 H1 cut into H1a cape, H1b back skin\n"
        "2026-11-04 09:00 all in P1 shaved\n"
    )
    book = read_page(page, shop)
    assert not book.unread
    written = text_of(fair_page(book)).split("\n")
    assert written[3] == "2026-11-03 09:00 all in P1 shaved  # in P1 then: H1 H2"
    assert written[6] == "2026-11-04 09:00 all in P1 shaved  # in P1 then: H2 H1a H1b"
