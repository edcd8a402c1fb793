"""`faircopy` shows what it would change and changes it only when told to; what it does not change lies on the disk as before."""

from __future__ import annotations

import json
import os
import shutil
import stat
import subprocess
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

from hideledger.cli import main
from hideledger.model.fair import FairPage
from hideledger.writing import fair_copy, in_place
from hideledger.writing.trouble import NotWritten
from tests.unit.small_book import SHOP

CHECKOUT = Path(__file__).resolve().parents[2]
Captured = pytest.CaptureFixture[str]
Ask = Callable[..., tuple[int, str, str]]
PAGE = """# November
2026-11-02 08:30 P1 mixed in V1, 20 gal water
  9:10 H1 thru H3 in, green   # three of them
  fleshd H1
  12:40 pm H1 H2 pickle in P1
struck 13:00 H3 out to Oren Vale
"""
FAIR = """# November
2026-11-02 08:30 P1 mixed in V1, 20 gal water
2026-11-02 09:10 H1 H2 H3 in, green   # three of them
  fleshd H1
2026-11-02 12:40 H1 H2 pickle in P1
struck 13:00 H3 out to Oren Vale
"""


def shell(*argv: str, cwd: Path | None = None, **env: str) -> subprocess.CompletedProcess[bytes]:
    surroundings = {"PATH": os.environ["PATH"], "PYTHONPATH": str(CHECKOUT), **env}
    return subprocess.run(
        [sys.executable, "-m", "hideledger", *argv], capture_output=True, check=False, env=surroundings, cwd=cwd
    )


@pytest.fixture
def book(tmp_path: Path) -> Path:
    folder = tmp_path / "book"
    folder.mkdir()
    (folder / "shop.hides").write_text(SHOP, encoding="utf-8")
    (folder / "november.hides").write_text(PAGE, encoding="utf-8")
    return folder


def test_it_shows_each_line_as_it_was_and_as_it_would_be_and_changes_nothing(book: Path) -> None:
    answer = shell("faircopy", cwd=book)
    assert answer.returncode == 3  # a line that could not be read
    assert answer.stderr == b""
    assert answer.stdout.decode() == (
        """november.hides: 2 of 3 entries to write out, 1 line not understood

november.hides, 2 of 3 entries
  november.hides:3
    was    9:10 H1 thru H3 in, green   # three of them
    now  2026-11-02 09:10 H1 H2 H3 in, green   # three of them

  november.hides:5
    was    12:40 pm H1 H2 pickle in P1
    now  2026-11-02 12:40 H1 H2 pickle in P1

Not understood
  november.hides  1 line stays as it is; hideledger check says why

Next
  The same request with --replace writes this in place.
"""
    )
    assert (book / "november.hides").read_text(encoding="utf-8") == PAGE


def test_replace_writes_it_and_the_next_fair_copy_has_nothing_to_do(book: Path) -> None:
    answer = shell("faircopy", "--replace", cwd=book)
    assert answer.returncode == 3
    assert answer.stdout.decode() == (
        """november.hides: 2 of 3 entries written out, 1 line not understood

Written out
  november.hides  2 of 3 entries

Not understood
  november.hides  1 line stays as it is; hideledger check says why
"""
    )
    assert (book / "november.hides").read_text(encoding="utf-8") == FAIR
    assert sorted(os.listdir(book)) == ["november.hides", "shop.hides"]
    again = shell("faircopy", str(book), "--replace")
    assert again.returncode == 3
    assert again.stdout.decode().startswith("a fair copy already: 3 entries on 2 pages, 1 line not understood\n")
    assert (book / "november.hides").read_text(encoding="utf-8") == FAIR


def test_a_whole_book_that_is_fair_already_is_one_line_and_0(tmp_path: Path, capsys: Captured) -> None:
    book = tmp_path / "book"
    shutil.copytree(CHECKOUT / "sample_ledgers" / "first-week", book)
    assert main(["faircopy", str(book)]) == 0
    assert capsys.readouterr().out == "a fair copy already: 68 entries on 2 pages\n"


def test_a_page_alone_is_read_with_the_book_around_it(book: Path) -> None:
    """The steps of the shop stand on another page; that one is not touched."""
    (book / "october.hides").write_text("2026-10-02 8:30 remark swept\n", encoding="utf-8")
    answer = shell("faircopy", "november.hides", "--replace", cwd=book)
    assert answer.stdout.decode().startswith("november.hides: 2 of 3 entries written out")
    assert (book / "november.hides").read_text(encoding="utf-8") == FAIR
    assert (book / "october.hides").read_text(encoding="utf-8") == "2026-10-02 8:30 remark swept\n"


def test_a_page_in_a_folder_of_the_book_is_read_with_the_book_that_the_variable_names(
    book: Path, ask: Ask, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HIDELEDGER_BOOK", str(book))
    (book / "2026").mkdir()
    (book / "november.hides").rename(book / "2026" / "november.hides")
    assert ask("faircopy", str(book / "2026" / "november.hides"), "--replace")[0] == 3
    assert (book / "2026" / "november.hides").read_text(encoding="utf-8") == FAIR


@pytest.mark.parametrize(("mark", "newline"), [(b"", b"\n"), (b"\xef\xbb\xbf", b"\r\n"), (b"\xef\xbb\xbf", b"\r")])
def test_byte_order_mark_and_newlines_stay(book: Path, ask: Ask, mark: bytes, newline: bytes) -> None:
    page = book / "november.hides"
    page.write_bytes(mark + PAGE.encode().replace(b"\n", newline))
    ask("faircopy", str(book), "--replace")
    assert page.read_bytes() == mark + FAIR.encode().replace(b"\n", newline)


def test_lines_that_are_joined_end_as_the_last_of_them_did(book: Path, ask: Ask) -> None:
    page = book / "november.hides"
    page.write_bytes(b"2026-11-02 9:10 H1 in,\n  green,\r\n  for Oren Vale\r\n\n# end\r\n2026-11-03 7:00 H1 fleshed")
    ask("faircopy", str(book), "--replace")
    assert page.read_bytes() == (
        b"2026-11-02 09:10 H1 in, green, for Oren Vale\r\n\n# end\r\n2026-11-03 07:00 H1 fleshed"
    )


def test_a_link_stays_a_link_and_the_mode_stays(book: Path, tmp_path: Path) -> None:
    page, kept = book / "november.hides", tmp_path / "kept.hides"
    page.rename(kept)
    kept.chmod(0o640)
    page.symlink_to(kept)
    shell("faircopy", str(book), "--replace")
    assert page.is_symlink()
    assert kept.read_text(encoding="utf-8") == FAIR
    assert stat.S_IMODE(kept.stat().st_mode) == 0o640


def test_plain_is_one_line_a_change(book: Path, ask: Ask, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(book)
    rows = [line.split("\t") for line in ask("faircopy", "--plain")[1].strip().split("\n")]
    assert rows[0] == [
        "november.hides:3",
        "  9:10 H1 thru H3 in, green   # three of them",
        "2026-11-02 09:10 H1 H2 H3 in, green   # three of them",
    ]
    assert [row[0] for row in rows] == ["november.hides:3", "november.hides:5", "november.hides", "next"]


def test_json_holds_every_line_as_it_was_and_is(book: Path, ask: Ask) -> None:
    (book / "november.hides").write_text("2026-11-02 9:10 H1 in,\n  green\n  9:20 H1 fleshed\n", encoding="utf-8")
    code, out, _ = ask("faircopy", "--json", "--replace", str(book))
    assert code == 0
    record = json.loads(out)
    assert (record["schema"], record["changed"], record["lines"], record["unread"]) == (1, 2, 2, 0)
    page = next(one for one in record["pages"] if one["changes"])
    assert page["replaced"] is True
    assert page["changes"] == [
        {
            "line": 1,
            "to_line": 1,
            "was": ["2026-11-02 9:10 H1 in,", "  green"],
            "now": ["2026-11-02 09:10 H1 in, green"],
        },
        {"line": 3, "to_line": 2, "was": ["  9:20 H1 fleshed"], "now": ["2026-11-02 09:20 H1 fleshed"]},
    ]


def test_a_page_that_somebody_changed_meanwhile_is_refused(
    book: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = book / "november.hides"
    known = fair_copy.fair_copy

    def slowly(*given: object) -> tuple[FairPage, ...]:
        pages = known(*given)  # type: ignore[arg-type]
        with page.open("a", encoding="utf-8") as more:
            more.write("  14:00 P1 stirred\n")
        return pages

    monkeypatch.setattr(fair_copy, "fair_copy", slowly)
    assert main(["faircopy", "--replace", str(book)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "november.hides: it was changed after it had been read; nothing was written" in err
    assert page.read_text(encoding="utf-8") == PAGE + "  14:00 P1 stirred\n"


def test_where_the_third_page_cannot_be_written_the_first_two_are_named(
    book: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("a", "b", "c", "d"):
        (book / f"{name}.hides").write_text(PAGE.replace("H", name.upper()), encoding="utf-8")
    known = in_place.put_in_place

    def but_c(path: str, body: bytes, seen: object) -> None:
        if path.endswith("c.hides"):
            raise NotWritten(f"{path}: the disk is full; nothing was written")
        known(path, body, seen)  # type: ignore[arg-type]

    monkeypatch.setattr(in_place, "put_in_place", but_c)
    assert main(["faircopy", "--replace", "--plain", str(book)]) == 2
    out, err = capsys.readouterr()
    assert "c.hides: the disk is full; nothing was written; done before it: " in err
    done = [line.split("\t")[0] for line in out.split("\n") if "\twritten out\t" in line]
    assert [Path(name).name for name in done] == ["a.hides", "b.hides"]
    assert (book / "b.hides").read_text(encoding="utf-8") == FAIR.replace("H", "B")
    assert (book / "c.hides").read_text(encoding="utf-8") == PAGE.replace("H", "C")
    assert (book / "d.hides").read_text(encoding="utf-8") == PAGE.replace("H", "D")


def test_a_page_with_a_second_name_on_the_disk_is_not_written(book: Path, tmp_path: Path) -> None:
    os.link(book / "november.hides", tmp_path / "second.hides")
    answer = shell("faircopy", "--replace", str(book))
    assert answer.returncode == 2
    assert answer.stdout == b""
    assert b"november.hides" in answer.stderr
    assert answer.stderr.endswith(b"nothing was written\n")
    assert (book / "november.hides").read_text(encoding="utf-8") == PAGE


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_cannot_be_written_to_is_one_sentence(book: Path) -> None:
    book.chmod(0o555)
    try:
        answer = shell("faircopy", "--replace", str(book))
    finally:
        book.chmod(0o755)
    assert answer.returncode == 2
    assert answer.stderr.endswith(b"nothing was written\n")
    assert (book / "november.hides").read_text(encoding="utf-8") == PAGE


def test_a_page_that_would_not_read_as_it_did_is_left_whole(
    book: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whatever fault the writing out may have: what it wrote is read again with the whole book before anything is done."""
    known = fair_copy.text_of

    def wrong(page: FairPage) -> str:
        return known(page).replace("12:40", "12:41")

    monkeypatch.setattr(fair_copy, "text_of", wrong)
    assert main(["faircopy", "--replace", str(book)]) == 2
    out, _ = capsys.readouterr()
    assert out.startswith("nothing written out: 3 entries on 2 pages, 1 line not understood\n")
    assert "written out, this page would not read as it does; nothing of it is changed" in " ".join(out.split())
    assert (book / "november.hides").read_text(encoding="utf-8") == PAGE


@pytest.mark.parametrize("given", [["nowhere.hides"], ["--at", "2026-11-05"], ["--plain", "--json"]])
def test_what_cannot_be_followed_is_2_and_one_sentence(
    given: Sequence[str], book: Path, ask: Ask, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(book)
    code, out, err = ask("faircopy", *given)
    assert (code, out, err.count("\n")) == (2, "", 1)


def test_an_unread_page_is_told_and_the_others_are_written(book: Path, ask: Ask) -> None:
    (book / "bad.hides").write_bytes(b"\xff\xfe\x00")
    assert ask("faircopy", "--replace", str(book))[0] == 3
    assert (book / "november.hides").read_text(encoding="utf-8") == FAIR
    assert (book / "bad.hides").read_bytes() == b"\xff\xfe\x00"


def test_a_page_that_no_folder_would_count_is_read_with_its_folder(book: Path, ask: Ask) -> None:
    (book / "november.hides").rename(book / "draft.txt")
    assert ask("faircopy", str(book / "draft.txt"), "--replace")[0] == 3
    assert (book / "draft.txt").read_text(encoding="utf-8") == FAIR


def test_a_line_that_would_be_longer_than_an_entry_may_be_gets_its_date_and_is_named(book: Path, ask: Ask) -> None:
    runs = " ".join(f"ABC{letter}1000 thru ABC{letter}1499" for letter in "EFGHIJ")
    (book / "november.hides").write_text(f"2026-11-02\n  9:10 {runs} fleshed\n", encoding="utf-8")
    code, out, _ = ask("faircopy", str(book), "--replace", "--plain")
    assert code == 0
    assert (
        "november.hides:2\tleft\twith each tag spelled out it would read otherwise; only its head is written out" in out
    )
    assert (book / "november.hides").read_text(encoding="utf-8") == f"2026-11-02\n2026-11-02 09:10 {runs} fleshed\n"
