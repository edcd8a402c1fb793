"""`write --strike`: the last line of the page is taken back, and stands there still."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from hideledger.cli import main
from hideledger.reading import read_book
from tests.unit.small_book import AT, PAGE, SHOP, write_book

Captured = pytest.CaptureFixture[str]


@pytest.fixture
def book(tmp_path: Path) -> str:
    return write_book(tmp_path / "book", PAGE)


def page(book: str) -> Path:
    return Path(book) / "november.hides"


def strike(book: str, *more: str) -> int:
    return main(["write", "--strike", "--book", book, "--at", AT, *more])


def test_the_line_just_written_is_struck_and_counts_no_more(book: str, capsys: Captured) -> None:
    before, entries = page(book).read_bytes(), len(read_book([book]).entries)
    main(["write", "H1 remark wrong hide", "--book", book, "--at", AT])
    capsys.readouterr()
    assert strike(book) == 0
    line = page(book).read_text(encoding="utf-8").removesuffix("\n").split("\n")[-1]
    assert line.startswith("struck 2026-")
    assert line.endswith("H1 remark wrong hide")
    assert f"struck: {line.removeprefix('struck ')}" in " ".join(capsys.readouterr().out.split())
    assert page(book).read_bytes().startswith(before)
    assert len(read_book([book]).entries) == entries


@pytest.mark.parametrize(
    ("end", "said"),
    [
        ("struck 2026-11-05 08:00 H1 oiled\n", "is struck already"),
        ("~ 2026-11-05 08:00 H1 oiled\n\n\n", "is struck already"),
        ("# to be looked at\n", "is a comment"),
        ("customer Ida Crane\n  phone 555-0111\n", "says how the shop works"),
    ],
)
def test_what_is_no_entry_is_not_struck(book: str, capsys: Captured, end: str, said: str) -> None:
    page(book).write_text(PAGE + end, encoding="utf-8", newline="\n")
    assert strike(book) == 2
    told = capsys.readouterr().err
    assert said in told
    assert f"november.hides:{len((PAGE + end).rstrip().split(chr(10)))}: " in told
    assert page(book).read_text(encoding="utf-8") == PAGE + end


def test_every_line_of_an_entry_of_several_is_struck_and_no_other_byte_changes(book: str) -> None:
    whole = (
        "\ufeff2026-11-05 08:00 remark snow\r\n2026-11-05 08:10 H1 remark a,\r\n  remark b\r\n-- wet\r\n\r\n".encode()
    )
    page(book).write_bytes(whole)
    assert strike(book) == 0
    assert page(book).read_bytes() == whole.replace(b"2026-11-05 08:10", b"struck 2026-11-05 08:10").replace(
        b"  remark b", b"struck   remark b"
    ).replace(b"-- wet", b"struck -- wet")
    assert [entry.text for entry in read_book([book]).entries] == ["2026-11-05 08:00 remark snow"]
    assert read_book([book]).unread == ()


def test_one_line_with_a_mark_before_it_keeps_its_mark(tmp_path: Path) -> None:
    book = write_book(tmp_path / "other", "")
    page(book).write_bytes("\ufeff2026-11-05 08:00 remark snow".encode())
    assert strike(book) == 0
    assert page(book).read_bytes() == "\ufeffstruck 2026-11-05 08:00 remark snow".encode()


def test_trying_strikes_nothing_and_says_the_same(book: str, capsys: Captured) -> None:
    before = page(book).read_bytes()
    assert strike(book, "--try") == 0
    assert capsys.readouterr().out.startswith("tried, not struck: 2026-")
    assert page(book).read_bytes() == before


def test_a_line_that_cannot_be_read_can_be_struck_too(book: str) -> None:
    page(book).write_text(PAGE + "2026-11-05 08:00 H1 flezhd\n", encoding="utf-8")
    assert strike(book) == 0
    assert read_book([book]).unread == ()


def test_a_page_that_was_saved_meanwhile_is_left_alone(
    book: str, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    from hideledger.writing import strike as hand

    found = hand.last_entry

    def disturbed(source: object) -> object:
        entry = found(source)  # type: ignore[arg-type]
        page(book).write_text(PAGE + "2026-11-05 08:00 H1 oiled\n", encoding="utf-8")
        return entry

    monkeypatch.setattr(hand, "last_entry", disturbed)
    assert strike(book) == 2
    assert "it was changed after it had been read" in capsys.readouterr().err
    assert "struck" not in page(book).read_text(encoding="utf-8")


def test_a_line_beside_it_is_refused_and_nothing_is_done(book: str, capsys: Captured) -> None:
    before = page(book).read_bytes()
    assert strike(book, "H1 oiled") == 2
    assert "without a line" in capsys.readouterr().err
    assert page(book).read_bytes() == before


def test_where_the_page_of_the_day_is_not_begun_the_page_is_asked_for(tmp_path: Path, capsys: Captured) -> None:
    folder = tmp_path / "months"
    folder.mkdir()
    (folder / "shop.hides").write_text(SHOP, encoding="utf-8")
    (folder / "2026-10.hides").write_text("2026-10-31 08:00 remark snow\n", encoding="utf-8")
    assert strike(str(folder)) == 2
    assert "2026-11.hides: no such page is there yet" in capsys.readouterr().err
    assert strike(str(folder), "--file", "2026-10.hides") == 0
    assert (folder / "2026-10.hides").read_text(encoding="utf-8") == "struck 2026-10-31 08:00 remark snow\n"


def test_one_object_for_programs(book: str, capsys: Captured) -> None:
    last = PAGE.strip().split("\n")[-1]
    assert strike(book, "--json") == 0
    told = json.loads(capsys.readouterr().out)
    assert list(told) == ["schema", "struck", "page", "line", "text"]
    assert (told["struck"], told["text"], told["line"]) == (True, [last], len(PAGE.strip().split("\n")))
