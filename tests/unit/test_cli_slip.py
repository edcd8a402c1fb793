"""`slip` as it is asked: with a tag one hide, else the season; what cannot be followed is one sentence."""

from __future__ import annotations

from pathlib import Path

import pytest

from hideledger.cli import main
from tests.unit.four_skins import FOUR, SHOP

Captured = pytest.CaptureFixture[str]
AT = ("--at", "2026-11-30 09:00")


@pytest.fixture(name="book")
def _book(tmp_path: Path) -> str:
    folder = tmp_path / "book"
    folder.mkdir()
    (folder / "shop.hides").write_text(SHOP, encoding="utf-8", newline="\n")
    page = FOUR + "2026-11-07 09:00 H2 slip, left ear base, 1 in\n"
    (folder / "page.hides").write_text(page, encoding="utf-8", newline="\n")
    return str(folder)


def test_a_folder_by_its_bare_name_is_the_book(book: str, monkeypatch: pytest.MonkeyPatch, capsys: Captured) -> None:
    monkeypatch.chdir(Path(book).parent)
    assert main(["slip", "book", *AT]) == 0
    assert "1 of 4 skins slipped" in capsys.readouterr().out


def test_without_words_the_book_is_the_one_of_the_habit(
    book: str, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    monkeypatch.setenv("HIDELEDGER_BOOK", book)
    assert main(["slip", *AT]) == 0
    assert "1 of 4 skins slipped" in capsys.readouterr().out


@pytest.mark.parametrize("tag", ["H2", "h2"])
def test_with_a_tag_it_tells_of_one_hide(book: str, tag: str, capsys: Captured) -> None:
    assert main(["slip", tag, book, *AT]) == 0
    assert capsys.readouterr().out.startswith("H2")


def test_a_legal_tag_of_figures_finds_its_hide_unless_a_folder_is_called_so(
    book: str, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    page = Path(book) / "page.hides"
    page.write_text(page.read_text(encoding="utf-8") + "2026-11-08 09:00 H2 tag 40718\n", encoding="utf-8")
    assert main(["slip", "40718", book, *AT]) == 0
    assert capsys.readouterr().out.startswith("H2 slipped")
    monkeypatch.chdir(Path(book).parent)
    Path(book).rename("2026")
    assert main(["slip", "2026", *AT]) == 0
    assert "1 of 4 skins slipped" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (("--defect", "slipp"), "'slipp' is no defect known here; did you mean slip?"),
        (("--defect", "raw strek"), "'raw strek' is no defect known here; did you mean raw streak?"),
        (("--defect", "xyzzy"), "'xyzzy' is no defect known here; known are slip, burn, grease burn, raw streak"),
        (("--from", "2026-13-01"), "--from 2026-13-01: there is no such day"),
        (("--to", "november"), "--to takes a date as in \"2026-11-05\", not 'november'"),
        (("--from", "2026-12-01", "--to", "2026-11-01"), "--from 2026-12-01 is later than --to 2026-11-01"),
        (("H1", "H2"), "slip tells of one hide at a time: H1 or H2?"),
        (("H1", "--from", "2026-11-01"), "--from and --to are for a season; H1 is one hide"),
    ],
)
def test_what_cannot_be_followed_is_one_sentence(
    book: str, asked: tuple[str, ...], said: str, capsys: Captured
) -> None:
    assert main(["slip", book, *asked, *AT]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert said in told.err
    assert told.err.count("\n") == 1


def test_a_defect_may_be_named_as_people_say_it(book: str, capsys: Captured) -> None:
    assert main(["slip", book, "--defect", "Hair slip", *AT]) == 0
    assert "1 of 4 skins slipped" in capsys.readouterr().out


def test_lines_that_could_not_be_read_are_told_and_give_their_code(book: str, capsys: Captured) -> None:
    page = Path(book) / "page.hides"
    page.write_text(page.read_text(encoding="utf-8") + "2026-11-08 09:00 H1 slipppery\n", encoding="utf-8")
    assert main(["slip", book, *AT]) == 3
    assert "not read: 1 line of the book" in capsys.readouterr().out
