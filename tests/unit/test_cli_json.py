"""Every command gives one JSON object, in UTF-8 whatever the locale, with the same keys each time."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from hideledger.cli import main
from tests.unit.small_book import AT, QUIET, UNREAD, write_book

CHECKOUT = Path(__file__).resolve().parents[2]
Captured = pytest.CaptureFixture[str]


def test_the_look_for_a_program(tmp_path: Path, capsys: Captured) -> None:
    assert main(["floor", write_book(tmp_path / "book", UNREAD), "--at", AT, "--json"]) == 3
    record = json.loads(capsys.readouterr().out)
    assert list(record) == ["schema", "at", "at_local", "shop", "sections", "unread"]
    assert (record["schema"], record["at_local"], record["shop"], record["unread"]) == (1, AT, "Alder Fork", 1)
    for section in record["sections"]:
        assert list(section) == ["heading", "rows"]
        assert all(list(row) == ["head", "text", "under"] for row in section["rows"])
        assert all(len(pair) == 2 for row in section["rows"] for pair in row["under"])


def test_a_history_for_a_program(tmp_path: Path, capsys: Captured) -> None:
    assert main(["history", "H1", write_book(tmp_path / "book", QUIET), "--at", AT, "--json"]) == 0
    record = json.loads(capsys.readouterr().out)
    assert list(record) == ["schema", "at", "at_local", "cards", "unread"]
    (card,) = record["cards"]
    keys = ["when", "when_local", "tag", "sort", "text", "file", "line"]
    assert all(list(line) == keys for line in card["lines"])
    assert {line["sort"] for line in card["lines"]} <= {"line", "bath", "stay", "finding"}
    assert [line["when"] for line in card["lines"]] == sorted(line["when"] for line in card["lines"])
    (arrived,) = [line for line in card["lines"] if line["text"].startswith("H1 H2 in, whitetail")]
    # November in Chicago is six hours behind UTC (IANA time zone database)
    assert (arrived["when"], arrived["when_local"]) == ("2026-11-02T15:00:00Z", "2026-11-02 09:00")
    assert arrived["line"] == 3


def test_a_start_for_a_program(tmp_path: Path, capsys: Captured) -> None:
    assert main(["start", str(tmp_path / "book"), "--at", AT, "--json"]) == 0
    record = json.loads(capsys.readouterr().out)
    assert [Path(path).name for path in record["written"]] == ["shop.hides", "2026-11.hides"]


def test_a_check_for_a_program_counts_what_it_tells(tmp_path: Path, capsys: Captured) -> None:
    assert main(["check", write_book(tmp_path / "book", UNREAD), "--at", AT, "--json", "--all"]) == 3
    record = json.loads(capsys.readouterr().out)
    whens = [finding["when"] for finding in record["findings"]]
    assert [record["counts"][when] for when in ("now", "tonight", "record")] == [
        whens.count(when) for when in ("now", "tonight", "record")
    ]
    assert record["counts"]["unread"] == len(record["unread"]) == 1
    assert record["counts"]["skins"] == 2
    (overdue,) = [finding for finding in record["findings"] if finding["name"] == "overdue"]
    # in since 10:30, at most 30 minutes, asked at 17:50
    assert (overdue["since"], overdue["over_s"], overdue["tags"]) == (
        "2026-11-05T17:00:00Z",
        6 * 3600 + 50 * 60,
        ["H1"],
    )
    assert overdue["file"].endswith("november.hides")
    assert (overdue["line"], overdue["rule"]["line"]) == (12, 19)


@pytest.mark.skipif(os.name != "posix", reason="file names of a Unix system are bytes")
@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "utf-8"])
def test_it_is_utf_8_even_where_the_locale_is_not(tmp_path: Path, encoding: str) -> None:
    page = QUIET + "2026-11-05 10:51 H1 -- ½ Ünal \U0001f98c 中文\n"
    book = write_book(tmp_path / "Ünal ½", page)
    surroundings = {"PATH": os.environ["PATH"], "PYTHONPATH": str(CHECKOUT), "PYTHONIOENCODING": encoding}
    done = subprocess.run(
        [sys.executable, "-m", "hideledger", "history", "H1", "--book", book, "--at", AT, "--json"],
        capture_output=True,
        check=True,
        env=surroundings,
    )
    text = done.stdout.decode("utf-8")
    assert "½ Ünal \U0001f98c 中文" in text
    assert json.loads(text)["cards"]
    plain = subprocess.run(
        [sys.executable, "-m", "hideledger", "history", "H1", "--book", book, "--at", AT],
        capture_output=True,
        check=True,
        env=surroundings,
    )
    assert plain.stderr == b""
    assert "Lena Orrick" in plain.stdout.decode(encoding)
