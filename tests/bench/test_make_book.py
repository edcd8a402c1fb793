"""The made-up book must be a real one, or the times measured on it mean nothing."""

import json
import tomllib
from pathlib import Path

import pytest

from hideledger.reading import read_book
from tests.bench.make_book import make
from tests.bench.run import exponent
from tests.bench.shop_days import letters, together


@pytest.fixture(scope="module")
def year(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("year")
    make(folder, 1)
    return folder


def test_a_year_is_as_busy_as_it_says(year: Path) -> None:
    book = (year / "1996.hides").read_text(encoding="utf-8")
    assert 12_500 < book.count("\n") < 14_500
    assert 900 < book.count(" in, ") < 1_200
    assert book.count(" out to ") > 800


def test_the_records_are_the_same_in_all_three_forms(year: Path) -> None:
    from_json = json.loads((year / "records.json").read_text(encoding="utf-8"))
    assert tomllib.loads((year / "records.toml").read_text(encoding="utf-8")) == from_json
    lines = (year / "1996.hides").read_text(encoding="utf-8").rstrip("\n").split("\n")
    assert len(lines) == len(from_json["entry"])
    for line, record in zip(lines, from_json["entry"], strict=True):
        words = " ".join(filter(None, [record["who"], ", ".join(record["details"])]))
        assert line.endswith(f"{words} -- {record['remark']}" if record["remark"] else words)
        assert record["at"].endswith(line.removeprefix("  ").removeprefix(record["at"][:11])[:5])


def test_the_same_seed_gives_the_same_bytes(year: Path, tmp_path: Path) -> None:
    make(tmp_path, 1)
    for name in ("shop.hides", "1996.hides", "records.toml"):
        assert (tmp_path / name).read_bytes() == (year / name).read_bytes()
    make(tmp_path / "other", 1, seed=7)
    assert (tmp_path / "other" / "1996.hides").read_bytes() != (year / "1996.hides").read_bytes()


def test_a_book_ends_after_as_many_entries_as_asked(tmp_path: Path) -> None:
    make(tmp_path, 2, entries=1500)
    assert (tmp_path / "1996.hides").read_text(encoding="utf-8").count("\n") == 1500
    assert not (tmp_path / "1997.hides").exists()


def test_tags_are_written_as_people_write_them() -> None:
    assert together(["A0007", "A0003", "A0004", "A0005", "A0009", "B0010"]) == "A0003 thru A0005 A0007 A0009 B0010"
    assert [letters(year) for year in (1996, 1999, 2017, 2018, 2025)] == ["A", "E", "Z", "AA", "AI"]


def test_growth_is_told_rightly() -> None:
    assert exponent([10, 100, 1000], [3.0, 300.0, 30_000.0]) == pytest.approx(2)
    assert exponent([10, 100, 1000], [5.0, 50.0, 500.0]) == pytest.approx(1)


def test_every_line_of_a_year_is_read(year: Path) -> None:
    """Not one line of the book that the measurements use is left unread."""
    book = read_book([str(year)])
    lines = json.loads((year / "records.json").read_text(encoding="utf-8"))["entry"]
    assert book.unread == ()
    assert len(book.entries) == len(lines)
