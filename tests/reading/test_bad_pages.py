"""A book that is missing, empty or cannot be decoded: one clear sentence, and an exit code that says whose turn it is."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from hideledger.reading import read_book, read_text
from hideledger.text.files import MOST_BYTES, BookTrouble

PAGE = "2026-11-03 08:15 remark all is well\n"


def refused(*paths: Path) -> BookTrouble:
    with pytest.raises(BookTrouble) as caught:
        read_book([str(path) for path in paths])
    assert "\n" not in caught.value.message
    return caught.value


def test_no_such_folder(tmp_path: Path) -> None:
    assert refused(tmp_path / "nowhere").exit_code == 2


def test_a_folder_without_a_page(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text(PAGE, encoding="utf-8")
    assert refused(tmp_path).exit_code == 2


@pytest.mark.parametrize("text", ["", "\n\n  \n"])
def test_an_empty_book(tmp_path: Path, text: str) -> None:
    (tmp_path / "a.hides").write_text(text, encoding="utf-8")
    assert refused(tmp_path).exit_code == 3


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be"])
def test_utf_16_is_named(tmp_path: Path, encoding: str) -> None:
    (tmp_path / "a.hides").write_bytes(PAGE.encode(encoding))
    trouble = refused(tmp_path)
    assert trouble.exit_code == 3
    assert "UTF-16" in trouble.message


def test_a_byte_that_is_no_utf_8_is_shown_by_line_and_column(tmp_path: Path) -> None:
    (tmp_path / "a.hides").write_bytes(PAGE.encode() + b"2026-11-03 remark " + b"\xe9t\xe9\n")
    trouble = refused(tmp_path)
    assert "a.hides:2:19:" in trouble.message
    assert trouble.exit_code == 3


def test_a_file_of_two_hundred_megabytes_is_not_read(tmp_path: Path) -> None:
    page = tmp_path / "a.hides"
    with page.open("wb") as file:
        file.truncate(200_000_000)
    assert page.stat().st_size > MOST_BYTES
    assert "200 MB is no page of a book" in refused(tmp_path).message


@pytest.mark.skipif(sys.platform == "win32", reason="links need a right of their own there")
def test_a_loop_of_folders_is_walked_once(tmp_path: Path) -> None:
    (tmp_path / "inner").mkdir()
    (tmp_path / "inner" / "round").symlink_to(tmp_path, target_is_directory=True)
    (tmp_path / "a.hides").write_text(PAGE, encoding="utf-8")
    assert len(read_book([str(tmp_path)]).entries) == 1


@pytest.mark.skipif(sys.platform == "win32", reason="no such thing there")
def test_something_that_is_no_file(tmp_path: Path) -> None:
    pipe = tmp_path / "a.hides"
    os.mkfifo(pipe)
    assert refused(pipe).exit_code == 2


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may read everything")
def test_a_page_without_permission(tmp_path: Path) -> None:
    page = tmp_path / "a.hides"
    page.write_text(PAGE, encoding="utf-8")
    page.chmod(0)
    assert "permission" in refused(tmp_path).message


def test_copies_left_by_sync_programs_are_named_and_not_read(tmp_path: Path) -> None:
    (tmp_path / "a.hides").write_text(PAGE, encoding="utf-8")
    copies = [
        "a.sync-conflict-20261103-081500-ABC.hides",
        "a (conflicted copy 2026-11-03).hides",
        "a (1).hides",
        "a.hides.orig",
        "a.hides.bak",
    ]
    for name in copies:
        (tmp_path / name).write_text(PAGE, encoding="utf-8")
    book = read_book([str(tmp_path)])
    assert len(book.entries) == 1
    for name in copies:
        assert any(name in notice for notice in book.notices), name


def test_a_byte_order_mark_and_windows_line_ends_change_nothing(tmp_path: Path) -> None:
    (tmp_path / "a.hides").write_bytes(
        b"\xef\xbb\xbf" + PAGE.replace("\n", "\r\n").encode() * 2 + b"2026-11-03 H41 fleshd\r\n"
    )
    book = read_book([str(tmp_path)])
    assert len(book.entries) == 2
    assert [(trouble.place.line, trouble.text) for trouble in book.unread] == [(3, "2026-11-03 H41 fleshd")]


def test_a_line_of_a_megabyte_is_refused_alone() -> None:
    book = read_text(PAGE + "2026-11-03 08:20 H41 " + "salt, " * 170_000 + "\n" + PAGE)
    assert [trouble.code for trouble in book.unread] == ["too long"]
    assert len(book.entries) == 2


def test_line_numbers_agree_with_an_editors() -> None:
    """Form feeds, vertical tabs and the line separators of Unicode end no line."""
    book = read_text("2026-11-03 08:15 remark a\x0cb\x0bc\u2028d\u2029e\x85f\n2026-11-03 08:20 H41 fleshd\n")
    assert [trouble.place.line for trouble in book.unread] == [2]


@pytest.mark.parametrize("day", ["0001-01-01", "9999-12-31", "1899-12-31", "2200-01-01"])
def test_years_in_which_no_book_is_kept(day: str) -> None:
    book = read_text(f"shop A\n  zone Pacific/Auckland\n{day} 08:00 remark early or late\n")
    assert [trouble.code for trouble in book.unread] == ["date"]


def test_the_year_of_a_leap_day_is_asked_for_not_guessed() -> None:
    assert [trouble.code for trouble in read_text("2027\n29 Feb 08:00 remark none\n").unread] == ["date"]
    assert not read_text("2028\n29 Feb 08:00 remark there is one\n").unread


@pytest.mark.parametrize("raw", [b"2026-11-03 remark Zo\xeb\n", "2026-11-03 remark x\n".encode("utf-16")])
def test_one_page_that_cannot_be_opened_hides_no_other(tmp_path: Path, raw: bytes) -> None:
    (tmp_path / "a.hides").write_text(PAGE, encoding="utf-8")
    (tmp_path / "b.hides").write_bytes(raw)
    (tmp_path / "c.hides").write_text(PAGE, encoding="utf-8")
    book = read_book([str(tmp_path)])
    assert len(book.entries) == 2
    assert [(Path(trouble.place.file).name, trouble.code) for trouble in book.unread] == [("b.hides", "page")]


@pytest.mark.skipif(sys.platform == "win32", reason="no such thing there")
def test_a_pipe_among_the_pages_is_named_and_nobody_waits_at_it(tmp_path: Path) -> None:
    (tmp_path / "a.hides").write_text(PAGE, encoding="utf-8")
    os.mkfifo(tmp_path / "b.hides")
    book = read_book([str(tmp_path)])
    assert len(book.entries) == 1
    assert [(Path(one.place.file).name, one.message) for one in book.unread] == [
        ("b.hides", "no file; nothing of this page could be read")
    ]
