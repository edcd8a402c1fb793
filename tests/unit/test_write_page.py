"""Where a new line goes: the page with the latest line, a new one when its month is over, the page that was named."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from hideledger.cli import main
from hideledger.reading import read_book
from hideledger.writing.newest import Page, named_page, newest_page, shop_page
from hideledger.writing.trouble import NotWritten
from tests.unit.small_book import SHOP

NOON = "2026-11-12"


def pages(folder: Path, **texts: str) -> str:
    """A book of a shop page and these; two low lines in a name stand for a hyphen."""
    (folder / "shop.hides").write_text(SHOP, encoding="utf-8")
    for name, text in texts.items():
        (folder / f"{name.lstrip('_').replace('__', '-')}.hides").write_text(text, encoding="utf-8")
    return str(folder)


def chosen(book: str, day: str = NOON, paths: list[str] | None = None) -> Page:
    read = read_book(paths or [book])
    ordinal = date.fromisoformat(day).toordinal()
    return newest_page(read, paths or [book], read.clock.day_end(ordinal), ordinal)


def test_the_page_with_the_latest_line_is_taken_whatever_its_name(tmp_path: Path) -> None:
    book = pages(tmp_path, autumn="2026-11-11 P1 stirred\n", winter="2026-11-10 P1 stirred\n")
    assert Path(chosen(book).path).name == "autumn.hides"


def test_a_line_dated_far_ahead_makes_no_page_the_newest(tmp_path: Path) -> None:
    book = pages(tmp_path, autumn="2026-11-11 P1 stirred\n", winter="2062-11-10 P1 stirred\n2026-11-10 P1 stirred\n")
    assert Path(chosen(book).path).name == "autumn.hides"


def test_a_page_of_definitions_is_never_taken(tmp_path: Path) -> None:
    book = pages(tmp_path, zz="customer Ida Crane\n", autumn="2026-11-11 P1 stirred\n")
    assert Path(chosen(book).path).name == "autumn.hides"


@pytest.mark.parametrize(
    ("page", "day", "wanted"),
    [
        ("_2026__10", "2026-11-12", "2026-11.hides"),
        ("_2026__10", "2027-01-02", "2027-01.hides"),
        ("_2026__10", "2026-10-31", "2026-10.hides"),
        ("_2026__10", "2026-09-30", "2026-10.hides"),
        ("_2026", "2026-12-31", "2026.hides"),
        ("_2026", "2027-01-01", "2027.hides"),
        ("bench__2026__10", "2026-11-12", "bench-2026-11.hides"),
        ("october", "2026-11-12", "october.hides"),
    ],
)
def test_a_month_or_year_that_is_over_gets_no_line_of_the_next(
    tmp_path: Path, page: str, day: str, wanted: str
) -> None:
    book = pages(tmp_path, **{page: "2026-10-01 P1 stirred\n"})
    found = chosen(book, day)
    assert (Path(found.path).name, Path(found.path).parent) == (wanted, tmp_path)
    assert (found.source is None) == (not (tmp_path / wanted).exists())


def test_the_new_page_lies_beside_the_old_one(tmp_path: Path) -> None:
    book = pages(tmp_path)
    (tmp_path / "bench").mkdir()
    (tmp_path / "bench" / "2026-10.hides").write_text("2026-10-01 P1 stirred\n", encoding="utf-8")
    assert Path(chosen(book).path) == tmp_path / "bench" / "2026-11.hides"


def test_a_page_of_that_name_with_no_entry_yet_is_used(tmp_path: Path) -> None:
    book = pages(tmp_path, _2026__10="2026-10-01 P1 stirred\n", _2026__11="# November\n")
    assert chosen(book).source is not None


def test_a_book_without_entries_begins_with_the_month(tmp_path: Path) -> None:
    found = chosen(pages(tmp_path))
    assert (Path(found.path).name, found.source) == ("2026-11.hides", None)


def test_the_one_empty_page_of_a_book_is_begun(tmp_path: Path) -> None:
    found = chosen(pages(tmp_path, november="", people="customer Ida Crane\n"))
    assert Path(found.path).name == "november.hides"
    assert found.source is not None


def test_of_two_empty_pages_none_is_guessed_at(tmp_path: Path) -> None:
    found = chosen(pages(tmp_path, november="", drum="# the drum\n"))
    assert (Path(found.path).name, found.source) == ("2026-11.hides", None)


def test_the_shop_page_never_becomes_the_page_of_the_day(tmp_path: Path) -> None:
    book = pages(tmp_path)
    shop = tmp_path / "shop.hides"
    shop.write_text(f"{SHOP}\n2026-11-11 V1 stirred\n", encoding="utf-8")
    assert (Path(chosen(book).path).name, chosen(book).source) == ("2026-11.hides", None)
    (tmp_path / "november.hides").write_text("", encoding="utf-8")
    assert Path(chosen(book).path).name == "november.hides"
    assert Path(named_page(read_book([book]), [book], "shop.hides").path) == shop


def test_a_book_that_is_one_page_named_as_such_is_written_on(tmp_path: Path) -> None:
    pages(tmp_path)
    shop = str(tmp_path / "shop.hides")
    assert chosen("", paths=[shop]).path == shop


def test_a_book_named_as_pages_gets_no_page_that_it_would_not_read(tmp_path: Path) -> None:
    folder = Path(pages(tmp_path, _2026__10="2026-10-01 P1 stirred\n"))
    paths = [str(folder / "shop.hides"), str(folder / "2026-10.hides")]
    assert Path(chosen("", paths=paths).path).name == "2026-10.hides"


def test_definitions_go_where_the_shop_line_stands(tmp_path: Path) -> None:
    book = pages(tmp_path, kinds="kind elk cape\nkind fox\n")
    assert Path(shop_page(read_book([book]), [book]).path).name == "shop.hides"


def test_a_named_page_may_be_new_and_lies_in_the_book(tmp_path: Path) -> None:
    book = pages(tmp_path, autumn="2026-11-11 P1 stirred\n")
    read = read_book([book])
    assert named_page(read, [book], "drum.hides").path == str(tmp_path / "drum.hides")
    assert named_page(read, [book], "autumn.hides").source is not None
    assert named_page(read, [book], str(tmp_path / "autumn.hides")).source is not None


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("drum.txt", "a page of the book ends in .hides"),
        (".hides", "a page of the book ends in .hides"),
        ("../drum.hides", "outside the book"),
        ("/drum.hides", "outside the book"),
        (".drum.hides", "hidden, or a copy"),
        ("shop_conflict-20261103-081500.hides", "hidden, or a copy"),
    ],
)
def test_a_page_that_check_would_never_read_is_refused(
    tmp_path: Path, name: str, why: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "book").mkdir()
    monkeypatch.chdir(tmp_path / "book")
    book = pages(tmp_path / "book", autumn="2026-11-11 P1 stirred\n")
    with pytest.raises(NotWritten, match="nothing was written") as refused:
        named_page(read_book([book]), [book], name)
    assert why in str(refused.value)


UTF_16 = "2026-10-30 08:00 H9 in\n".encode("utf-16")  # with its mark (The Unicode Standard, 23.8)


def test_a_page_that_could_not_be_read_is_never_taken_for_a_new_one(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    pages(tmp_path)
    (tmp_path / "2026-10.hides").write_bytes(UTF_16)
    assert main(["write", "H9 salt", "--book", str(tmp_path), "--at", "2026-10-30T12:00"]) == 2
    told = capsys.readouterr().err
    assert "2026-10.hides: the line belongs on this page, and nothing of this page could be read" in told
    assert "UTF-16" in told
    assert (tmp_path / "2026-10.hides").read_bytes() == UTF_16


def test_a_tag_that_may_stand_on_an_unread_page_is_no_slip_yet(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)  # so that no long name is broken over two lines
    pages(tmp_path, november="2026-11-01 08:00 remark snow\n")
    (tmp_path / "october.hides").write_bytes(UTF_16)
    main(["write", "H9 pull test ok", "--book", ".", "--at", "2026-11-02T12:00"])
    told = " ".join(capsys.readouterr().out.split())
    assert "unknown tag, maybe: H9" in told
    assert "october.hides could not be read, and H9 may stand there" in told
    assert "mend that page first" in told
    main(["history", "H9", "--book", str(tmp_path)])
    assert "H9 may stand there" in " ".join(capsys.readouterr().err.split())
