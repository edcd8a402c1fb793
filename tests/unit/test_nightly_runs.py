"""`check --already-told` from the shell, night after night, and as cron starts it: with next to nothing around it."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from hideledger.cli import main
from tests.unit.small_book import AT, PAGE, QUIET, UNREAD, write_book

CHECKOUT = Path(__file__).resolve().parents[2]
Captured = pytest.CaptureFixture[str]
NIGHT = "2026-11-06 05:00"
STRANGE = QUIET + "2026-11-05 17:45 H77 drained\n"


def run(*argv: str) -> int:
    return main(["check", *argv])


def counts(text: str) -> dict[str, Any]:
    held = json.loads(text)["counts"]
    assert isinstance(held, dict)
    return held


def test_the_first_time_all_is_told_and_left_for_the_next_run(tmp_path: Path, capsys: Captured) -> None:
    book, told = write_book(tmp_path / "book", STRANGE), tmp_path / "told.json"
    assert run(book, "--at", AT) == 1
    whole = capsys.readouterr().out
    assert run(book, "--at", AT, "--already-told", str(told)) == 1
    assert capsys.readouterr().out == whole
    run(book, "--at", AT, "--json")
    assert told.read_text(encoding="utf-8") == capsys.readouterr().out
    assert run(book, "--at", AT, "--already-told", str(told), "--json") == 1
    out = capsys.readouterr().out
    assert json.loads(out)["findings"] == []
    assert list(counts(out))[-1] == "told_before"
    assert counts(out)["told_before"] == counts(told.read_text(encoding="utf-8"))["now"] == 1


def test_what_check_json_printed_is_taken_too(tmp_path: Path, capsys: Captured) -> None:
    book, told = write_book(tmp_path / "book", STRANGE), tmp_path / "last.json"
    run(book, "--at", AT, "--json")
    told.write_text(capsys.readouterr().out, encoding="utf-8", newline="\n")
    assert run(book, "--at", NIGHT, "--already-told", str(told), "--quiet") == 1
    assert capsys.readouterr() == ("", "")


def test_lines_put_in_above_make_nothing_new(tmp_path: Path, capsys: Captured) -> None:
    book, told = write_book(tmp_path / "book", STRANGE), str(tmp_path / "told.json")
    run(book, "--at", AT, "--already-told", told)
    write_book(tmp_path / "book", "# a page of November\n\n" + STRANGE)
    capsys.readouterr()
    assert run(book, "--at", AT, "--already-told", told, "--quiet") == 1
    assert capsys.readouterr().out == ""
    write_book(tmp_path / "book", STRANGE + "2026-11-05 17:46 H78 drained\n")
    assert run(book, "--at", AT, "--already-told", told, "--quiet") == 1
    assert capsys.readouterr().out.startswith("1 unknown tag, 1 told before\n")


def test_an_overdue_hide_is_told_every_night(tmp_path: Path, capsys: Captured) -> None:
    book, told = write_book(tmp_path / "book", PAGE), str(tmp_path / "told.json")
    for night in (AT, "2026-11-05 23:00", "2026-11-06 05:00", "2026-11-06 06:00"):
        assert run(book, "--at", night, "--already-told", told, "--quiet") == 1
        assert "overdue: H1" in capsys.readouterr().out


def test_a_line_not_understood_rings_through_quiet_until_it_is_mended(tmp_path: Path, capsys: Captured) -> None:
    book, told = write_book(tmp_path / "book", QUIET + "2026-11-05 17:41 P1 ph seven\n"), str(tmp_path / "told.json")
    for shown in (1, 0, 0):
        assert run(book, "--at", AT, "--already-told", told, "--quiet") == 3
        out = capsys.readouterr().out
        assert out.startswith("1 line unread, nothing else rings, 2 skins")
        assert "november.hides:15:24: " in " ".join(out.split())
        assert out.count("  2026-11-05 17:41 P1 ph seven\n") == shown


def test_what_a_quiet_night_did_not_say_is_said_with_the_next(tmp_path: Path, capsys: Captured) -> None:
    """What only stands in the record wakes nobody; it must not count as told when nothing was printed."""
    book, told = write_book(tmp_path / "book", QUIET), tmp_path / "told.json"
    assert run(book, "--at", AT, "--already-told", str(told), "--quiet") == 0
    assert not told.exists()
    quiet = QUIET + "2026-11-05 17:42 H2 oiled\n"
    write_book(tmp_path / "book", quiet)
    run(book, "--at", AT, "--json")
    record = json.loads(capsys.readouterr().out)
    assert record["counts"]["rings"] == 0
    assert record["counts"]["record"] > 0, "or this test says nothing"
    assert run(book, "--at", AT, "--already-told", str(told), "--quiet") == 0
    assert capsys.readouterr().out == ""
    assert not told.exists()
    write_book(tmp_path / "book", quiet + "2026-11-05 17:45 H77 drained\n")
    assert run(book, "--at", AT, "--already-told", str(told), "--quiet") == 1
    out = capsys.readouterr().out
    assert all(finding["name"] in out for finding in record["findings"])
    assert run(book, "--at", AT, "--already-told", str(told)) == 1
    assert "For the record" not in capsys.readouterr().out


@pytest.mark.parametrize(
    ("held", "said"),
    [
        ("", "is not what `check --json` prints"),
        ("call Oren\n", "is not what `check --json` prints"),
        ('{"schema": 9, "findings": [], "unread": [], "counts": {}}', "has schema 9, and this program knows schema 1"),
    ],
)
def test_any_other_file_stays_as_it_is(held: str, said: str, tmp_path: Path, capsys: Captured) -> None:
    book, told = write_book(tmp_path / "book", PAGE), tmp_path / "notes.json"
    told.write_text(held, encoding="utf-8")
    page = tmp_path / "page.html"
    assert run(book, "--at", AT, "--already-told", str(told), "--page", str(page)) == 2
    out, err = capsys.readouterr()
    assert (out, err) == ("", f"hideledger: --already-told {told}: {said}; name another file, or take it away\n")
    assert told.read_text(encoding="utf-8") == held
    assert not page.exists()


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("book/told.hides", "is a page of a book"),
        ("book/november.hides", "is a page of a book"),
        ("book", "that is a folder"),
        ("same.html", "cannot be the same file"),
    ],
)
def test_a_page_of_a_book_is_no_place_for_it(name: str, said: str, tmp_path: Path, capsys: Captured) -> None:
    book = write_book(tmp_path / "book", PAGE)
    before = (tmp_path / "book" / "november.hides").read_bytes()
    asked = str(tmp_path / name)
    assert run(book, "--at", AT, "--already-told", asked, "--page", str(tmp_path / "same.html")) == 2
    assert said in capsys.readouterr().err
    assert (tmp_path / "book" / "november.hides").read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == ["book"]


def test_where_it_cannot_be_left_the_answer_is_given_and_the_code_says_so(tmp_path: Path, capsys: Captured) -> None:
    book = write_book(tmp_path / "book", UNREAD)
    told = str(tmp_path / "none" / "told.json")
    assert run(book, "--at", AT, "--already-told", told) == 2
    out, err = capsys.readouterr()
    assert out.startswith("1 hide overdue, 1 line unread\n")
    assert err == f"hideledger: {told}: the folder that it lies in is not there; nothing was written\n"


# As cron starts it.


def started(*argv: str, stdin: str = "<&-", **environment: str) -> subprocess.CompletedProcess[bytes]:
    """From the root folder, with standard input closed and nothing in the environment but what is given."""
    command = f'cd / && exec "$0" -m hideledger "$@" {stdin}'
    return subprocess.run(
        ["/bin/sh", "-c", command, sys.executable, *argv],
        capture_output=True,
        check=False,
        env={"PYTHONPATH": str(CHECKOUT), **environment},
    )


@pytest.mark.skipif(os.name != "posix", reason="cron is a Unix program")
@pytest.mark.parametrize("more", [[], ["--json"], ["--plain"], ["--quiet"]])
def test_it_says_the_same_bytes_as_at_a_desk(more: list[str], tmp_path: Path) -> None:
    book = write_book(tmp_path / "Ünal ½", UNREAD + "2026-11-05 17:41 H1 smells of ½ 中文\n")
    at_a_desk = {
        "PATH": os.environ["PATH"],
        "HOME": str(tmp_path),
        "TERM": "xterm-256color",
        "LANG": "C.UTF-8",
        "COLUMNS": "132",
        "TZ": "America/Chicago",
    }
    desk = started("check", book, "--at", AT, *more, stdin="</dev/null", **at_a_desk)
    cron = started("check", book, "--at", AT, *more, PATH="/usr/bin:/bin")
    assert (cron.returncode, cron.stdout, cron.stderr) == (desk.returncode, desk.stdout, desk.stderr)
    assert (cron.returncode, cron.stderr) == (3, b"")
    assert "½".encode() in cron.stdout


@pytest.mark.skipif(os.name != "posix", reason="cron is a Unix program")
def test_page_and_told_are_left_from_the_root_folder_too(tmp_path: Path) -> None:
    book = write_book(tmp_path / "book", STRANGE)
    page, told = tmp_path / "morning.html", tmp_path / "told.json"
    asked = ["check", book, "--at", AT, "--quiet", "--page", str(page), "--already-told", str(told)]
    assert started(*asked).returncode == 1
    first = page.read_bytes()
    second = started(*asked)
    assert (second.returncode, second.stdout, second.stderr) == (1, b"", b"")
    assert page.read_bytes() == first
    assert json.loads(told.read_bytes())["schema"] == 1


@pytest.mark.skipif(os.name != "posix", reason="descriptors of a Unix shell")
def test_a_closed_output_still_leaves_the_page_and_tells_again_next_time(tmp_path: Path) -> None:
    """A scheduler may give no output at all: then the page is all there is, and nothing counts as told."""
    book = write_book(tmp_path / "book", STRANGE)
    page, told = tmp_path / "morning.txt", tmp_path / "told.json"
    done = started("check", book, "--at", AT, "--page", str(page), "--already-told", str(told), stdin="<&- >&-")
    assert done.returncode == 74
    assert b"standard output is closed" in done.stderr
    assert "unknown tag: H77" in page.read_text(encoding="utf-8")
    assert not told.exists()
