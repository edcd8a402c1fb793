"""Nothing that a person wrote is ever written over, and a folder gets a book whole or not at all."""

import os
from pathlib import Path

import pytest

from hideledger.writing.new_files import write_new_pages
from hideledger.writing.trouble import NotWritten

PAGES = (("shop.hides", "shop Alder\n"), ("2026-11.hides", "# ½\n"))


def test_a_new_folder_is_made_and_filled(tmp_path: Path) -> None:
    folder = tmp_path / "book"
    written = write_new_pages(str(folder), PAGES)
    assert [Path(path).name for path in written] == ["shop.hides", "2026-11.hides"]
    assert (folder / "2026-11.hides").read_bytes() == "# ½\n".encode()
    assert sorted(os.listdir(folder)) == ["2026-11.hides", "shop.hides"]


def test_a_folder_without_pages_is_used(tmp_path: Path) -> None:
    (tmp_path / "photo.jpg").write_bytes(b"x")
    write_new_pages(str(tmp_path), PAGES)
    assert (tmp_path / "photo.jpg").read_bytes() == b"x"


@pytest.mark.parametrize("there", ["old.hides", "OLD.HIDES", "2025/old.hides"])
def test_a_folder_with_a_book_is_left_alone(tmp_path: Path, there: str) -> None:
    page = tmp_path / there
    page.parent.mkdir(exist_ok=True)
    page.write_text("# mine\n", encoding="utf-8")
    with pytest.raises(NotWritten, match="holds a book already"):
        write_new_pages(str(tmp_path), PAGES)
    assert page.read_text(encoding="utf-8") == "# mine\n"
    assert not (tmp_path / "shop.hides").exists()


def test_a_file_of_that_name_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(NotWritten, match="nothing was written"):
        write_new_pages(str(tmp_path), (("first.txt", "x"), ("notes.txt", "y")))
    assert sorted(os.listdir(tmp_path)) == ["notes.txt"]
    assert (tmp_path / "notes.txt").read_text(encoding="utf-8") == "mine"


def test_a_file_is_no_folder(tmp_path: Path) -> None:
    (tmp_path / "book").write_text("mine", encoding="utf-8")
    with pytest.raises(NotWritten, match="is a file"):
        write_new_pages(str(tmp_path / "book"), PAGES)
    assert (tmp_path / "book").read_text(encoding="utf-8") == "mine"


def test_the_folder_above_must_be_there(tmp_path: Path) -> None:
    with pytest.raises(NotWritten, match="there is no folder"):
        write_new_pages(str(tmp_path / "a" / "b"), PAGES)
    assert os.listdir(tmp_path) == []


def test_what_was_begun_is_taken_back(tmp_path: Path) -> None:
    pages = (*PAGES, ("no/such/folder.hides", "x"))
    with pytest.raises(NotWritten, match="nothing was written"):
        write_new_pages(str(tmp_path / "book"), pages)
    assert os.listdir(tmp_path) == []


def test_a_name_that_no_system_takes(tmp_path: Path) -> None:
    with pytest.raises(NotWritten):
        write_new_pages(str(tmp_path / "a\0b"), PAGES)
