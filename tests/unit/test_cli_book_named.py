"""Which word of a request is the book: one rule for every command, in any order that a person types."""

from __future__ import annotations

from pathlib import Path

import pytest

from hideledger.cli import main
from hideledger.cli.book_named import books_and_words, is_path
from hideledger.cli.parser import WrongUse
from tests.unit.four_skins import FOUR, SHOP

Captured = pytest.CaptureFixture[str]
AT = ("--at", "2026-11-30 09:00")


@pytest.fixture(name="desk", autouse=True)
def _desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder one stands in: a book called `book`, and no page beside it."""
    monkeypatch.delenv("HIDELEDGER_BOOK", raising=False)
    monkeypatch.chdir(tmp_path)
    _pages(tmp_path / "book")
    return tmp_path


def _pages(folder: Path) -> None:
    folder.mkdir()
    (folder / "shop.hides").write_text(SHOP, encoding="utf-8", newline="\n")
    page = FOUR + "2026-11-07 09:00 H2 slip, left ear base, 1 in\n2026-11-07 09:05 H1 for Ida Crane, tag 31/204\n"
    (folder / "page.hides").write_text(page, encoding="utf-8", newline="\n")


def _sorted(*words: str, named: tuple[str, ...] = ()) -> tuple[list[str], list[str]]:
    return books_and_words(words, named, "custody")


@pytest.mark.parametrize(
    "word",
    [
        *(".", "..", "./book", "book/", "nowhere/at/all", "/home/ida/book", "2026/november"),
        *("november.hides", "NOVEMBER.HIDES", r"C:\Users\ida\book", r"book\november"),
    ],
)
def test_a_word_that_can_only_be_a_path_is_the_book_whether_it_is_there_or_not(word: str) -> None:
    assert is_path(word)
    assert _sorted("H41", word) == ([word], ["H41"])


@pytest.mark.parametrize("word", ["H41", "MB-07", "H41a", "Vale", "40718", "31-204", "S-113", "31/204", "S/113"])
def test_tags_codes_and_names_are_no_paths(word: str) -> None:
    assert not is_path(word)
    assert _sorted(word) == ([], [word])


def test_a_folder_that_is_there_makes_a_word_like_a_code_a_path(desk: Path) -> None:
    (desk / "2026").mkdir()
    (desk / "2026" / "11").mkdir()
    assert _sorted("2026/11") == (["2026/11"], [])


@pytest.mark.parametrize("order", [("book", "H2"), ("H2", "book")])
def test_a_folder_with_pages_is_the_book_by_its_bare_name_before_the_tag_or_behind_it(order: tuple[str, ...]) -> None:
    assert _sorted(*order) == (["book"], ["H2"])


def test_a_page_with_another_ending_is_the_book_too(desk: Path) -> None:
    (desk / "november.txt").write_text("2026-11-02 H41 in\n", encoding="utf-8")
    assert _sorted("november.txt", "H41") == (["november.txt"], ["H41"])


def test_a_word_like_a_tag_stays_a_tag_where_a_file_or_a_folder_is_called_so(desk: Path) -> None:
    (desk / "H2").write_text("2026-11-02 H41 in\n", encoding="utf-8")
    _pages(desk / "H3")
    assert _sorted("H2", "H3", "book") == (["book"], ["H2", "H3"])
    assert _sorted("H2", "H3/") == (["H3/"], ["H2"])


def test_a_folder_called_like_a_customer_is_no_book_where_it_holds_no_pages(desk: Path) -> None:
    (desk / "Vale").mkdir()
    (desk / "Vale" / "photo.txt").write_text("a cape", encoding="utf-8")
    assert _sorted("Oren", "Vale", "book") == (["book"], ["Oren", "Vale"])


def test_a_folder_of_pages_called_like_a_customer_is_asked_about_with_both_lines_that_work(
    desk: Path, capsys: Captured
) -> None:
    (desk / "book").rename(desk / "Crane")
    assert main(["custody", "Crane", *AT]) == 2
    asked = "Crane: the folder, or the name that stands in the book? for the folder hideledger custody ./Crane, for the name hideledger custody Crane --book Crane"
    assert capsys.readouterr().err == f"hideledger: {asked}\n"
    assert main(["custody", "./Crane", *AT]) == 0
    assert capsys.readouterr().out.startswith("Register of skins of Fallow Creek Skins, 4 records")
    assert main(["custody", "Crane", "--book", "Crane", *AT]) == 0
    assert capsys.readouterr().out.startswith("Register of skins of Fallow Creek Skins, 1 record,")


def test_the_name_is_looked_for_in_the_book_at_hand_too(desk: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (desk / "Vale").mkdir()
    (desk / "Vale" / "old.hides").write_text("2025-11-02 H1 in\n", encoding="utf-8")
    monkeypatch.setenv("HIDELEDGER_BOOK", "book")
    with pytest.raises(WrongUse, match="for the name hideledger custody Vale --book book"):
        _sorted("Vale")
    monkeypatch.setenv("HIDELEDGER_BOOK", "Vale")
    assert _sorted("Vale") == (["Vale"], [])


def test_where_the_book_is_named_every_bare_word_is_a_name(desk: Path) -> None:
    _pages(desk / "Vale")
    assert _sorted("Oren", "Vale", named=("book",)) == (["book"], ["Oren", "Vale"])
    assert _sorted("Oren", "Vale", "book/") == (["book/"], ["Oren", "Vale"])


@pytest.mark.parametrize("command", ["slip", "history", "owed", "cost", "custody"])
@pytest.mark.parametrize(
    "words",
    [
        ("H2", "book"),
        ("book", "H2"),
        ("H2", "--plain", "book"),
        ("book", "--plain", "H2"),
        ("--plain", "book", "H2"),
        ("H2", "--plain", "--book", "book"),
        ("--book", "book", "--plain", "H2"),
        ("H2", "--plain", "--", "book"),
    ],
)
def test_a_tag_a_book_and_an_option_are_understood_in_any_order(
    command: str, words: tuple[str, ...], capsys: Captured
) -> None:
    assert main([command, "H2", "./book", "--plain", *AT]) == 0
    plain = capsys.readouterr().out.replace("./book/", "book/")
    assert main([command, *AT, *words, *(() if "--plain" in words else ("--plain",))]) == 0
    assert capsys.readouterr().out == plain
    assert "H2" in plain


def test_an_option_before_the_command_is_understood_as_behind_it(capsys: Captured) -> None:
    assert main(["slip", "H2", "book", "--plain", *AT]) == 0
    plain = capsys.readouterr().out
    assert main(["--plain", *AT, "--book", "book", "slip", "H2"]) == 0
    assert capsys.readouterr().out == plain


@pytest.mark.parametrize(
    ("argv", "said"),
    [
        (
            ["--book", "slip", "check"],
            "what is asked, slip or check? say it first, as in: hideledger check --book slip",
        ),
        (["slip", "nowhere"], "nowhere: neither the tag of a hide, nor a page or a folder that is there"),
        (["slip", "nowhere/"], "nowhere/: there is no such file or folder"),
        (["history", r"C:\book", "H2"], r"C:\book: there is no such file or folder"),
        (["slip", "H1", "--defct", "slip", "book"], "`--defct` is nothing to say with slip; did you mean --defect?"),
        (
            ["load", "--with", "H60", "in", "tomorrow,", "whitetail", "cape", "book"],
            'in: there is no such file or folder; what is said of the hide stands in quotes: hideledger load --with "H60 in tomorrow, whitetail cape"',
        ),
        (["mix", "pickle", "20", "gal", "book"], "where the folder book is the book, write --book book\n"),
    ],
)
def test_what_cannot_be_followed_names_the_line_that_works(argv: list[str], said: str, capsys: Captured) -> None:
    assert main(argv) == 2
    out, err = capsys.readouterr()
    assert out == "" and said in err


@pytest.mark.parametrize(
    "words",
    [
        ("P1", "--book", "book"),
        ("P1", "book/"),
        ("book/", "P1"),
        ("P1", "--plain", "book/"),
        ("--book", "book", "P1"),
    ],
)
def test_a_request_in_words_may_have_the_path_of_the_book_before_or_behind_it(
    words: tuple[str, ...], capsys: Captured
) -> None:
    assert main(["acid", *words, *AT]) == 0
    assert "pH about" in capsys.readouterr().out


def test_a_slash_in_an_amount_is_no_path(capsys: Captured) -> None:
    assert main(["brine", "1/2", "lb", "per", "US", "gal"]) == 0
    assert capsys.readouterr().out.startswith("1/2 lb per US gal: ")
