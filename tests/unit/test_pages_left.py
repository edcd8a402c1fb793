"""What lies in the folder of a book and is read by nobody, and lines that wait under a later day, are never passed over."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

from hideledger.cli.giving import notices
from hideledger.model.book import Book
from hideledger.reading import read_book, read_text
from hideledger.shopfloor.layout import lay_out
from hideledger.text.files import BookTrouble
from tests.unit.small_book import AT, QUIET, write_book

Captured = pytest.CaptureFixture[str]
Ask = Callable[..., tuple[int, str, str]]
NOW = datetime(2026, 11, 5, 23, 50, tzinfo=UTC)  # 17:50 in the shop, on Central Standard Time


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book in which nothing rings at 17:50."""
    return Path(write_book(tmp_path, QUIET))


@pytest.fixture
def now(monkeypatch: pytest.MonkeyPatch) -> None:
    """It is ten to six on the evening of 5 November 2026."""
    monkeypatch.setattr("hideledger.cli.moment.exact_now", lambda _: NOW.timestamp())


def page_of(book: Path) -> Path:
    """The page with the entries, whatever its name."""
    return next(page for page in book.glob("*.hides") if page.name != "shop.hides")


def add(book: Path, lines: str) -> None:
    """Lines behind the last one."""
    page = page_of(book)
    page.write_text(page.read_text(encoding="utf-8") + lines, encoding="utf-8")


@pytest.mark.usefixtures("now")
def test_the_book_is_quiet_before_anything_is_wrong(book: Path, ask: Ask) -> None:
    assert ask("check", "--quiet", str(book)) == (0, "", "")


@pytest.mark.usefixtures("now")
def test_a_wrong_month_at_the_end_of_a_page_is_told(book: Path, ask: Ask) -> None:
    add(book, "2026-12-05 17:45 H2 neutralised\n")
    code, told, _ = ask("check", "--plain", str(book))
    assert code == 1
    assert "dated ahead" in told and "H2" in told


@pytest.mark.usefixtures("now")
def test_a_line_of_a_later_minute_of_today_is_no_slip(book: Path, ask: Ask) -> None:
    add(book, "2026-11-05 17:55 P1 stirred\n")
    assert ask("check", "--quiet", str(book))[0] == 0


@pytest.mark.usefixtures("now")
def test_a_line_not_understood_below_a_wrong_month_is_told(book: Path, ask: Ask) -> None:
    add(book, "2026-12-05\n  17:45 H2 neutralisd\n")
    code, told, _ = ask("check", "--plain", str(book))
    assert code == 3
    assert "neutralisd" in told


def test_who_looks_back_is_not_told_of_what_was_written_since(book: Path, ask: Ask) -> None:
    add(book, "2026-12-05 17:45 H2 neutralised\n2026-12-05 17:50 H2 draind\n")
    assert ask("check", "--quiet", "--at", AT, str(book)) == (0, "", "")


def test_the_last_line_of_a_page_alone_is_dated_ahead_only_to_who_looks_at_it_now() -> None:
    there = read_text("2026-12-05 08:00 H1 in\n")
    at = int(datetime(2026, 11, 5, tzinfo=UTC).timestamp())
    assert [one.sort for one in lay_out(there, at, present=True).oddities] == ["dated ahead"]
    assert lay_out(there, at).oddities == []


def test_a_page_that_leads_nowhere_is_a_page_not_read(book: Path, ask: Ask) -> None:
    (book / "2026-10.hides").symlink_to("/mnt/pulled-out/2026-10.hides")
    code, told, _ = ask("check", "--quiet", "--at", AT, str(book))
    assert code == 3
    assert "2026-10.hides" in told and "leads to /mnt/pulled-out/2026-10.hides, which is not there" in told


@pytest.mark.parametrize("name", ["october.hides.txt", "OCTOBER.HIDES", "october.hides.md", "October.Hides"])
def test_a_page_saved_under_another_ending_is_named_with_the_right_one(book: Path, ask: Ask, name: str) -> None:
    (book / name).write_text("2026-10-30 08:00 P1 stirred\n", encoding="utf-8")
    code, told, _ = ask("check", "--quiet", "--plain", "--at", AT, str(book))
    assert code == 3
    assert f"{name}:1:1: " in told and f"name it `{name[:7]}.hides`" in told


def test_a_text_that_is_no_page_is_left_alone(book: Path, ask: Ask) -> None:
    (book / "morning.hides.txt").write_text("all quiet, 2 skins\n", encoding="utf-8")
    assert ask("check", "--quiet", "--at", AT, str(book)) == (0, "", "")


def test_a_folder_where_only_a_misnamed_page_lies_says_so(tmp_path: Path) -> None:
    (tmp_path / "october.hides.txt").write_text("2026-10-30 08:00 P1 stirred\n", encoding="utf-8")
    with pytest.raises(BookTrouble, match=r"name it `october\.hides`") as caught:
        read_book([str(tmp_path)])
    assert caught.value.exit_code == 3


def test_an_empty_folder_says_how_to_begin(tmp_path: Path) -> None:
    with pytest.raises(BookTrouble, match="hideledger start") as caught:
        read_book([str(tmp_path)])
    assert caught.value.exit_code == 2


def test_lines_that_only_a_conflict_copy_holds_are_told_everywhere(book: Path, ask: Ask, tmp_path: Path) -> None:
    page = page_of(book)
    copy = book / f"{page.stem} (conflicted copy).hides"
    copy.write_text(page.read_text(encoding="utf-8") + "2026-11-05 17:45 H2 frozen\n", encoding="utf-8")
    sheet = tmp_path / "morning.txt"
    code, told, _ = ask("check", "--quiet", "--at", AT, "--page", str(sheet), str(book))
    said = "1 of its lines is not in that page"
    assert code == 3
    assert said in " ".join(told.split()) and said in " ".join(sheet.read_text(encoding="utf-8").split())
    unread = json.loads(ask("check", "--json", "--at", AT, str(book))[1])["unread"]
    assert [(one["file"], one["text"]) for one in unread] == [(str(copy), "")]


def test_a_copy_with_nothing_of_its_own_wakes_nobody(book: Path, ask: Ask) -> None:
    page = page_of(book)
    (book / f"{page.stem} (conflicted copy).hides").write_bytes(page.read_bytes())
    assert ask("check", "--quiet", "--at", AT, str(book)) == (0, "", "")


def test_what_a_merge_left_of_an_earlier_state_wakes_nobody(book: Path, ask: Ask) -> None:
    page = page_of(book)
    (book / f"{page.name}.orig").write_bytes(page.read_bytes() + b"2026-11-05 17:45 H2 frozen\n")
    assert ask("check", "--quiet", "--at", AT, str(book)) == (0, "", "")


def test_no_fair_copy_is_put_where_it_would_make_a_copy_a_page(book: Path, ask: Ask) -> None:
    page = page_of(book)
    add(book, "2026-11-05\n  17:45   P1 stirred\n")
    copy = book / f"{page.stem} (1).hides"
    copy.write_bytes(page.read_bytes())
    before = page.read_bytes()
    code, _, complained = ask("faircopy", "--replace", str(book))
    assert code == 2 and page.read_bytes() == before
    assert f"{copy.name} beside it looks like a copy of it" in complained
    copy.unlink()
    assert ask("faircopy", "--replace", str(book))[0] == 0
    assert page.read_bytes() != before


def test_many_copies_do_not_drown_what_is_said_of_a_line(capsys: Captured) -> None:
    empty = read_text("# nothing\n")
    many = Book(
        sources=empty.sources, shop=empty.shop, clock=empty.clock, entries=(), unread=(), notices=tuple("abcdefgh")
    )
    notices(many, most=2)
    assert capsys.readouterr().err.count("\n") == 3
