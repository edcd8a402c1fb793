"""`export`: every line of the book for other programs, and nothing of anybody's written over."""

from __future__ import annotations

import csv
import json
import os
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from hideledger.answers.export.columns import SCHEMA, TABLES
from hideledger.cli import main
from hideledger.model.table import SORTS
from tests.unit.custody_book import AT, PAGE, write

Captured = pytest.CaptureFixture[str]
Ask = Callable[..., tuple[int, str, str]]


@pytest.fixture
def book(tmp_path: Path) -> str:
    return str(write(tmp_path / "book"))


@pytest.fixture
def ask(capsys: Captured) -> Ask:
    def asked(*argv: str) -> tuple[int, str, str]:
        code = main(["export", *argv, "--at", AT] if "--schema" not in argv else ["export", *argv])
        return code, *capsys.readouterr()

    return asked


def lines(out: str) -> dict[str, list[dict[str, Any]]]:
    found: dict[str, list[dict[str, Any]]] = {}
    for line in out.split("\n")[:-1]:
        record = json.loads(line)
        found.setdefault(record.pop("record"), []).append(record)
    return found


def test_json_lines_begin_with_the_schema_and_hold_every_line_of_the_book(book: str, ask: Ask) -> None:
    code, out, err = ask(book)
    assert (code, err) == (0, "")
    first = json.loads(out.split("\n")[0])
    assert (first["record"], first["schema"], first["shop"], first["zone"]) == (
        "book",
        SCHEMA,
        "Fallow Creek Skins",
        "America/Chicago",
    )
    written = [line for line in PAGE.split("\n") if line and not line.startswith("struck")]
    events = lines(out)["events"]
    assert len(events) == len(written)
    assert sorted(event["line"] for event in events) == [
        number for number, line in enumerate(PAGE.split("\n"), start=1) if line in written
    ]


def test_every_record_has_the_keys_of_its_table_in_their_order(book: str, ask: Ask) -> None:
    for name, records in lines(ask(book)[1]).items():
        header = list(next(table for table in TABLES if table.name == name).header)
        assert all(list(record) == header for record in records)


def test_an_event_has_the_instant_the_local_text_and_what_was_understood(book: str, ask: Ask) -> None:
    event = next(event for event in lines(ask(book)[1])["events"] if event["tags"] == ["H41"] and event["line"] == 3)
    # Chicago is five hours behind UTC until 1 November 2026 (time zone database)
    assert (event["utc"], event["utc_latest"], event["local"]) == (
        "2026-10-30T23:20:00Z",
        "2026-10-30T23:20:00Z",
        "2026-10-30 18:20",
    )
    assert {"fact": "killed", "stamp": "2026-10-29 16:00", "where": "Tarrow county"} in event["facts"]
    assert {"fact": "money", "sort": "value", "money": {"value": 400, "unit": "$"}, "by": ""} in event["facts"]


def test_a_line_without_a_time_has_the_day_alone_and_both_ends_of_it(book: str, ask: Ask) -> None:
    event = next(event for event in lines(ask(book)[1])["events"] if event["line"] == 2)
    assert (event["local"], event["timed"]) == ("2026-01-05", False)
    assert (event["utc"], event["utc_latest"]) == ("2026-01-05T06:00:00Z", "2026-01-06T05:59:59Z")


def test_whom_all_in_a_tub_meant_is_written_out(tmp_path: Path, ask: Ask) -> None:
    page = PAGE.replace("2026-11-05 9:00 H45", "2026-11-04 9:00 all in P3 but H42 fleshed\n2026-11-05 9:00 H45")
    events = lines(ask(str(write(tmp_path / "book", page)))[1])["events"]
    (event,) = [event for event in events if event["all_in"]]
    assert (event["all_in"], event["tags"]) == ("P3", ["H41"])


def test_what_was_not_understood_is_there_too(tmp_path: Path, ask: Ask) -> None:
    book = str(write(tmp_path / "book", PAGE + "2027-01-16 H63 fleshd\n"))
    code, out, _ = ask(book)
    (line,) = lines(out)["not_understood"]
    assert code == 3
    assert (line["line"], line["at_column"], line["text"]) == (28, 16, "2027-01-16 H63 fleshd")


def test_sqlite_is_sound_and_says_its_version(book: str, tmp_path: Path, ask: Ask) -> None:
    """SQLite's own checks: `integrity_check`, `foreign_key_check`, `user_version`."""
    path = tmp_path / "book.sqlite"
    assert ask(book, "--sqlite", str(path))[0] == 0
    base = sqlite3.connect(path)
    try:
        assert base.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert base.execute("PRAGMA foreign_key_check").fetchall() == []
        assert base.execute("PRAGMA user_version").fetchone() == (SCHEMA,)
        asked = "SELECT tag, part FROM hides WHERE out_of = (SELECT id FROM hides WHERE tag = 'H41') ORDER BY tag"
        assert base.execute(asked).fetchall() == [("H41a", "cape"), ("H41b", "back skin")]
        asked = "SELECT b.tag FROM stays s JOIN baths b ON b.id = s.bath WHERE s.tag = 'H42' ORDER BY s.id"
        assert base.execute(asked).fetchall() == [("P3",), ("L14",)]
    finally:
        base.close()


def test_a_python_without_sqlite_says_so(book: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ask: Ask) -> None:
    monkeypatch.setitem(sys.modules, "sqlite3", None)  # so that importing it fails
    code, _, err = ask(book, "--sqlite", str(tmp_path / "book.sqlite"))
    assert code == 2 and "has no SQLite" in err and "--csv writes the same tables" in err
    assert not (tmp_path / "book.sqlite").exists()


def test_the_three_forms_hold_the_same_rows(book: str, tmp_path: Path, ask: Ask) -> None:
    of_json = lines(ask(book)[1])
    folder, path = tmp_path / "tables", tmp_path / "book.sqlite"
    assert ask(book, "--csv", str(folder), "--raw")[0] == 0
    assert ask(book, "--sqlite", str(path))[0] == 0
    base = sqlite3.connect(path)
    try:
        for table in TABLES:
            with open(folder / f"{table.name}.csv", encoding="utf-8", newline="") as file:
                rows = list(csv.reader(file, strict=True))
            assert tuple(rows[0]) == table.header
            of_base = base.execute(f'SELECT * FROM "{table.name}"').fetchall()
            assert len(rows) - 1 == len(of_base) == len(of_json.get(table.name, []))
            for record, row, cells in zip(of_json.get(table.name, []), rows[1:], of_base, strict=True):
                for column, cell, text in zip(table.columns, cells, row, strict=True):
                    value = record[column.name]
                    if column.sort in ("text", "code", "integer", "number"):
                        assert cell == value
                        assert text == ("" if value is None else text) and (text != "" or value in (None, ""))
                    elif column.sort == "yes or no":
                        assert (cell, text) == (int(value), "yes" if value else "no")
                    elif column.sort == "tags":
                        assert cell == text == " ".join(value)
                    elif column.sort == "facts":
                        assert json.loads(cell) == json.loads(text) == value
    finally:
        base.close()


def test_one_plain_line_says_what_was_written_and_where(book: str, tmp_path: Path, ask: Ask) -> None:
    of_json = ask(book)
    rows = sum(map(len, lines(of_json[1]).values()))
    said = "the book as of Wed 2027-01-20 24:00\n"
    path, folder = tmp_path / "book.sqlite", tmp_path / "tables"
    assert ask(book, "--sqlite", str(path)) == (0, f"{len(TABLES)} tables, {rows} rows, written to {path}, {said}", "")
    assert ask(book, "--csv", str(folder)) == (
        0,
        f"{len(TABLES)} tables, a CSV file each, {rows} rows, written into {folder}, {said}",
        "",
    )
    assert all(json.loads(line) for line in of_json[1].split("\n")[:-1]), "and JSON Lines are nothing but that"


def test_what_was_written_says_what_could_not_be_read(tmp_path: Path, ask: Ask) -> None:
    folder = write(tmp_path / "book", PAGE + "2027-01-16 H63 fleshd\n")
    code, out, _ = ask(str(folder), "--sqlite", str(tmp_path / "book.sqlite"))
    assert code == 3 and out.endswith("; 1 line of the book not understood\n")


def test_an_export_is_replaced_by_the_next(book: str, tmp_path: Path, ask: Ask) -> None:
    for option, target in (("--sqlite", tmp_path / "book.sqlite"), ("--csv", tmp_path / "tables")):
        assert ask(book, option, str(target))[0] == 0
        assert ask(book, option, str(target))[0] == 0
    assert ask(book, "--csv", str(tmp_path / "tables"), "--raw")[0] == 0


def test_somebody_elses_file_is_never_written_over(book: str, tmp_path: Path, ask: Ask) -> None:
    notes = tmp_path / "notes.txt"
    notes.write_text("call Ida\n", encoding="utf-8")
    code, _, err = ask(book, "--sqlite", str(notes))
    assert code == 2 and "no export left it" in err
    other = tmp_path / "other.sqlite"
    base = sqlite3.connect(other)
    base.execute("CREATE TABLE mine (x)")
    base.commit()
    base.close()
    assert ask(book, "--sqlite", str(other))[0] == 2
    folder = tmp_path / "sheets"
    folder.mkdir()
    (folder / "hides.csv").write_text("mine\n", encoding="utf-8")
    code, _, err = ask(book, "--csv", str(folder))
    assert code == 2 and "holds hides.csv already" in err
    assert (folder / "hides.csv").read_text(encoding="utf-8") == "mine\n"
    assert os.listdir(folder) == ["hides.csv"]
    assert notes.read_text(encoding="utf-8") == "call Ida\n"


def test_an_empty_file_of_ones_own_is_never_written_over(book: str, tmp_path: Path, ask: Ask) -> None:
    mine = tmp_path / "mine.sqlite"
    mine.write_bytes(b"")
    code, out, err = ask(book, "--sqlite", str(mine))
    assert (code, out) == (2, "")
    assert "there is an empty file of that name already, and no export left it; name another, or take it away" in err
    assert mine.read_bytes() == b""
    mine.unlink()
    assert ask(book, "--sqlite", str(mine))[0] == 0
    assert ask(book, "--sqlite", str(mine))[0] == 0  # what an export left is replaced


@pytest.mark.parametrize(
    ("option", "target", "said"),
    [
        ("--sqlite", "book/2026.hides", "is a page of a book"),
        ("--sqlite", "new.HIDES", "is a page of a book"),
        ("--csv", "tables.hides", "is a page of a book"),
        ("--csv", "tables.hides/", "is a page of a book"),
        ("--sqlite", "book", "that is a folder"),
        ("--sqlite", " ", "takes the name of a file"),
        ("--csv", "book/2026.hides", "is a page of a book"),
        ("--sqlite", "nowhere/x.sqlite", "the folder that it lies in is not there"),
        ("--csv", "nowhere/tables", "the folder that it lies in is not there"),
        ("--csv", "notes.txt", "is a file, not a folder"),
    ],
)
def test_a_target_that_is_none_is_refused_and_the_book_stays(
    book: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ask: Ask, option: str, target: str, said: str
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("notes.txt").write_text("", encoding="utf-8")
    before = sorted(str(path) for path in tmp_path.rglob("*"))
    code, out, err = ask(book, option, target)
    assert (code, out) == (2, "")
    assert said in err and err.count("\n") == 1
    assert (tmp_path / "book" / "2026.hides").read_text(encoding="utf-8") == PAGE
    assert sorted(str(path) for path in tmp_path.rglob("*")) == before


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no such pipes")
def test_what_is_no_ordinary_file_is_refused_and_nobody_waits_for_it(book: str, tmp_path: Path, ask: Ask) -> None:
    pipe, loop = tmp_path / "pipe", tmp_path / "loop"
    os.mkfifo(pipe)
    loop.symlink_to(loop)
    for argv, said in (
        (("--sqlite", str(pipe)), "it is no ordinary file"),
        (("--sqlite", str(loop)), "its links lead round in a loop"),
        (("--csv", str(loop)), "is a link that leads to no folder"),
        (("--csv", str(pipe)), "is a file, not a folder"),
    ):
        code, out, err = ask(book, *argv)
        assert (code, out) == (2, "") and said in err and err.count("\n") == 1


def test_an_export_through_a_link_replaces_what_the_link_leads_to(book: str, tmp_path: Path, ask: Ask) -> None:
    real, link = tmp_path / "real.sqlite", tmp_path / "link.sqlite"
    assert ask(book, "--sqlite", str(real))[0] == 0
    whole = real.read_bytes()
    link.symlink_to(real)
    assert ask(book, "--sqlite", str(link))[0] == 0
    assert link.is_symlink() and real.read_bytes() == whole


@pytest.mark.skipif(sys.platform == "win32", reason="limits of the size of a file are not known there")
def test_a_full_disk_leaves_the_old_export_whole(book: str, tmp_path: Path) -> None:
    """The limit on the size of a file (setrlimit of POSIX) stands in for a disk with no room."""
    path = tmp_path / "book.sqlite"
    export = [sys.executable, "-m", "hideledger", "export", book, "--at", AT, "--sqlite", str(path)]
    assert subprocess.run(export, check=False, capture_output=True).returncode == 0
    whole = path.read_bytes()
    full = subprocess.run(
        ["sh", "-c", 'ulimit -f 8; exec "$@"', "sh", *export], check=False, capture_output=True, encoding="utf-8"
    )
    assert full.returncode == 2 and "nothing was written" in full.stderr and full.stderr.count("\n") == 1
    assert path.read_bytes() == whole
    assert sorted(os.listdir(tmp_path)) == ["book", "book.sqlite"]


def test_a_page_under_another_name_is_a_page_all_the_same(tmp_path: Path, ask: Ask) -> None:
    """`hideledger export notes.txt --sqlite notes.txt`: a page may be named outright, whatever its ending."""
    write(tmp_path / "book")
    page = tmp_path / "notes.txt"
    page.write_text("", encoding="utf-8")
    code, _, err = ask(str(tmp_path / "book"), str(page), "--sqlite", str(page))
    assert code == 2 and "is a page of this book" in err


@pytest.mark.parametrize(
    ("argv", "said"),
    [
        (["--json"], "--json and --plain go with --schema"),
        (["--raw"], "--raw goes with --csv FOLDER"),
        (["--csv", "x", "--sqlite", "y"], "are two ways; say one of them"),
    ],
)
def test_what_cannot_be_followed_gets_one_sentence(book: str, ask: Ask, argv: list[str], said: str) -> None:
    code, out, err = ask(book, *argv)
    assert (code, out) == (2, "") and said in err


def test_the_schema_names_every_table_and_column(ask: Ask) -> None:
    _, out, _ = ask("--schema")
    for table in TABLES:
        assert f"{table.name}: " in out
    _, out, _ = ask("--schema", "--json")
    told = json.loads(out)
    assert told["schema"] == SCHEMA
    assert [[column["name"] for column in table["columns"]] for table in told["tables"]] == [
        list(table.header) for table in TABLES
    ]


def test_every_fact_that_an_event_has_is_in_the_schema_with_its_keys(book: str, ask: Ask) -> None:
    told = json.loads(ask("--schema", "--json")[1])
    known = {fact["fact"]: fact["keys"] for fact in told["facts"]}
    found = [fact for event in lines(ask(book)[1])["events"] for fact in event["facts"]]
    assert len({fact["fact"] for fact in found}) > 20
    for fact in found:
        assert [key for key in fact if key != "fact"] == known[fact["fact"]]


def test_the_tables_hang_together() -> None:
    """A column points to a table that has an `id`, is of a known sort, and no name stands twice."""
    names = [table.name for table in TABLES]
    assert len(set(names)) == len(names)
    for table in TABLES:
        assert len(set(table.header)) == len(table.header)
        for column in table.columns:
            assert column.sort in SORTS
            assert not column.points_to or column.points_to in names


def test_the_same_book_and_moment_give_the_same_bytes(book: str, tmp_path: Path, ask: Ask) -> None:
    assert ask(book) == ask(book)
    for name in ("one", "other"):
        assert ask(book, "--sqlite", str(tmp_path / name))[0] == 0
    assert (tmp_path / "one").read_bytes() == (tmp_path / "other").read_bytes()
