"""`write` as the bench uses it: what it writes, what it refuses, what it says and with which exit code."""

from __future__ import annotations

import io
import json
import os
import sys
from pathlib import Path

import pytest

from hideledger.cli import main
from hideledger.writing import at_end
from hideledger.writing.trouble import ChangedMeanwhile
from tests.unit.small_book import PAGE, write_book

AT = "2026-11-05 10:40"
Captured = pytest.CaptureFixture[str]


@pytest.fixture
def book(tmp_path: Path) -> str:
    return write_book(tmp_path / "book", PAGE)


def page(book: str, name: str = "november.hides") -> str:
    return (Path(book) / name).read_text(encoding="utf-8")


def added(book: str) -> str:
    """What stands behind the page as it was."""
    now = page(book)
    assert now.startswith(PAGE)
    return now.removeprefix(PAGE)


def write(book: str, *words: str, at: str = AT) -> int:
    return main(["write", "--book", book, "--at", at, *words])


def from_input(monkeypatch: pytest.MonkeyPatch, raw: bytes) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(raw), encoding="ascii"))


def test_a_line_is_stamped_written_and_said_back_in_one_line(book: str, capsys: Captured) -> None:
    assert write(book, "H1 drained") == 0
    assert added(book) == "2026-11-05 10:40 H1 drained\n"
    out, err = capsys.readouterr()
    first, *rest = out.split("\n")
    assert first == (
        "H1: drained since 10:40, after 10 min in neutralised; next: oiled, not before 11:10, by Sun 8 Nov 10:40"
        f"  ({book}/november.hides:13)"
    )
    assert rest == ["", "Put right", "  no longer due: H1", ""]
    assert err == ""


def test_words_are_joined_with_blanks_and_two_dashes_begin_a_remark(book: str) -> None:
    assert write(book, "H1", "drained", "--", "soft", "ears") == 0
    assert added(book) == "2026-11-05 10:40 H1 drained -- soft ears\n"


def test_two_dashes_before_the_line_are_those_of_the_shell(book: str) -> None:
    assert write(book, "--", "H1", "drained", "--", "soft") == 0
    assert added(book) == "2026-11-05 10:40 H1 drained -- soft\n"


def test_a_day_as_the_moment_leaves_the_time_open(book: str) -> None:
    assert write(book, "H1 drained", at="2026-11-05") == 0
    assert added(book) == "2026-11-05 H1 drained\n"


def test_a_number_below_zero_is_no_option(book: str) -> None:
    assert write(book, "freezer", "-4", "F") == 0
    assert added(book) == "2026-11-05 10:40 freezer -4 F\n"


@pytest.mark.parametrize(
    "line", ["H2 neutralisd", "P1 pH 21", "H2 9:10 drained", "H9", "all pickle in P1", "H2 “salt”"]
)
def test_a_refusal_is_the_very_one_of_check_and_nothing_is_written(book: str, capsys: Captured, line: str) -> None:
    assert write(book, line) == 3
    refused = capsys.readouterr().out
    assert added(book) == ""
    with (Path(book) / "november.hides").open("a", encoding="utf-8") as file:
        file.write(f"2026-11-05 10:40 {line}\n")
    assert main(["check", book, "--at", AT]) == 3
    checked = capsys.readouterr().out
    told = refused.partition("Not understood\n")[2].rstrip("\n")
    assert told.startswith(f"{book}/november.hides:13:")
    assert told in checked


def test_what_is_kept_stands_as_it_is_and_check_asks_for_it(book: str, capsys: Captured) -> None:
    assert write(book, "H2 neutralisd", "--keep") == 3
    assert added(book) == "2026-11-05 10:40 H2 neutralisd\n"
    assert "kept as it is, unread; check asks for it until it is mended" in capsys.readouterr().out
    assert main(["check", book, "--at", AT]) == 3
    assert "1 line unread" in capsys.readouterr().out


def test_a_time_that_is_still_to_come_is_not_kept_either(book: str, capsys: Captured) -> None:
    assert write(book, "19:40 H2 neutralised", "--keep") == 3
    assert added(book) == ""
    assert "2026-11-04 or 2026-11-05? write the date before it" in capsys.readouterr().out.replace("\n  ", " ")


def test_a_finding_that_the_line_makes_is_told_at_once_and_rings(book: str, capsys: Captured) -> None:
    assert write(book, "H77 drained") == 1
    out, _ = capsys.readouterr()
    assert "Brought up by it\n  unknown tag: H77\n" in out
    assert added(book) == "2026-11-05 10:40 H77 drained\n"


def test_what_was_wrong_before_is_not_told_again(book: str, capsys: Captured) -> None:
    assert write(book, "remark buy gloves", at="2026-11-05 17:50") == 0
    assert "overdue" not in capsys.readouterr().out


def test_trying_writes_nothing_and_says_the_same(book: str, capsys: Captured) -> None:
    assert write(book, "H1 drained", "--try") == 0
    tried = capsys.readouterr().out
    assert added(book) == ""
    assert write(book, "H1 drained") == 0
    assert tried == "tried, not written: " + capsys.readouterr().out


def test_several_lines_stand_together_or_not_at_all(
    book: str, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    from_input(monkeypatch, b"H1 drained\nH2 neutralisd\nP1 pH nine\n")
    assert write(book) == 3
    assert added(book) == ""
    assert "not written: 2 lines not understood" in capsys.readouterr().out
    from_input(monkeypatch, b"H1 drained\nH2 neutralisd\nP1 pH nine\n")
    assert write(book, "--keep", "-") == 3
    assert added(book).count("\n") == 3
    assert "3 lines written to" in capsys.readouterr().out


def test_a_note_from_a_phone_or_from_windows_is_taken_as_it_comes(book: str, monkeypatch: pytest.MonkeyPatch) -> None:
    note = "\ufeff2026-11-05 10:35 P1 pH 2.1\u00a0strip\r\n 10:38 H1 drained — soft\r\n\r\n"
    from_input(monkeypatch, note.encode())
    assert write(book) == 0
    assert added(book) == "2026-11-05 10:35 P1 pH 2.1\u00a0strip\n2026-11-05 10:38 H1 drained — soft\n"


def test_what_is_no_text_is_refused_in_a_sentence(book: str, capsys: Captured, monkeypatch: pytest.MonkeyPatch) -> None:
    from_input(monkeypatch, b"H1 drained\nP1 64 \xb0F\n")
    assert write(book) == 2
    assert capsys.readouterr().err == (
        "hideledger: standard input:2:7: this is sent in another encoding (ANSI, Windows): byte 0xb0 is no UTF-8, first on line 2; send it again as UTF-8; nothing was written\n"
    )
    assert write(book, "H1 drained \udcb0") == 2
    assert "no UTF-8" in capsys.readouterr().err
    assert added(book) == ""


@pytest.mark.parametrize("words", [[""], ["  "], ["-"]])
def test_nothing_to_write_is_said(
    book: str, capsys: Captured, words: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    from_input(monkeypatch, b"\n\n")
    assert write(book, *words) == 2
    assert "write what?" in capsys.readouterr().err
    assert added(book) == ""


def test_a_control_character_never_gets_into_the_book(book: str, capsys: Captured) -> None:
    assert write(book, "H1 -- soft \x1b[2J ears") == 2
    assert added(book) == ""
    assert "nothing was written" in capsys.readouterr().err


def test_a_definition_is_never_stamped_and_goes_to_the_shop_page(book: str, capsys: Captured) -> None:
    before = page(book, "shop.hides")
    assert write(book, "customer Ida Crane, phone 555-0123") == 0
    assert page(book, "shop.hides") == before + "customer Ida Crane, phone 555-0123\n"
    assert added(book) == ""
    assert "from now on part of how the shop works: customer Ida Crane, phone 555-0123" in capsys.readouterr().out


def test_a_definition_that_cannot_be_read_is_refused(book: str, capsys: Captured) -> None:
    before = page(book, "shop.hides")
    assert write(book, "vessel V1, vat, 40 gal") == 3
    assert page(book, "shop.hides") == before
    assert "shop.hides:" in capsys.readouterr().out


def test_lines_of_the_day_and_of_the_shop_are_not_mixed(
    book: str, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    from_input(monkeypatch, b"H1 drained\ncustomer Ida Crane\n")
    assert write(book) == 2
    assert "go to different pages" in capsys.readouterr().err
    from_input(monkeypatch, b"H1 drained\ncustomer Ida Crane\n")
    assert write(book, "--file", "november.hides") == 0
    assert added(book) == "2026-11-05 10:40 H1 drained\ncustomer Ida Crane\n"


def test_when_somebody_else_writes_meanwhile_all_is_read_again(
    book: str, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    really = at_end.add_at_end
    calls: list[int] = []

    def disturbed(path: str, lines: tuple[str, ...], seen: object) -> None:
        calls.append(1)
        if len(calls) == 1:
            with Path(path).open("a", encoding="utf-8") as file:
                file.write("2026-11-05 10:39 H1 drained\n")
        really(path, lines, seen)  # type: ignore[arg-type]

    monkeypatch.setattr(at_end, "add_at_end", disturbed)
    assert write(book, "H1 oiled") == 0
    assert len(calls) == 2
    assert added(book) == "2026-11-05 10:39 H1 drained\n2026-11-05 10:40 H1 oiled\n"
    assert "november.hides:14)" in capsys.readouterr().out


def test_it_gives_up_in_one_sentence(book: str, capsys: Captured, monkeypatch: pytest.MonkeyPatch) -> None:
    def never(path: str, *_: object) -> None:
        raise ChangedMeanwhile(f"{path}: it was changed; nothing was written")

    monkeypatch.setattr(at_end, "add_at_end", never)
    monkeypatch.setattr("hideledger.cli.asked.write.time.sleep", lambda _: None)
    assert write(book, "H1 drained") == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    assert added(book) == ""


def test_a_fault_behind_the_writing_never_says_that_nothing_was_changed(
    book: str, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError

    monkeypatch.setattr("hideledger.answers.write.understood.understood", broken)
    assert write(book, "H1 drained") == 70
    assert "the line stands in the book" in capsys.readouterr().err
    assert added(book) == "2026-11-05 10:40 H1 drained\n"


def test_one_record_a_line_for_programs(book: str, capsys: Captured) -> None:
    assert write(book, "H77 drained", "--plain") == 1
    lines = capsys.readouterr().out.rstrip("\n").split("\n")
    assert lines[0] == f"{book}/november.hides:13:1: H77: drained"
    assert all(line.startswith(f"{book}/november.hides:13:") for line in lines)


def test_one_object_for_programs(book: str, capsys: Captured) -> None:
    assert write(book, "H1 drained", "--json") == 0
    told = json.loads(capsys.readouterr().out)
    assert list(told) == [
        "schema", "written", "at", "at_local", "page", "lines", "findings", "right", "unread", "to_come", "asked", "new_page"
    ]  # fmt: skip
    (line,) = told["lines"]
    assert (told["written"], line["line"], line["text"]) == (True, 13, "2026-11-05 10:40 H1 drained")
    assert line["understood"].startswith("H1: drained since 10:40")
    assert told["right"] == [{"name": "due", "tags": ["H1"]}]
    assert write(book, "H1 draned", "--json") == 3
    refused = json.loads(capsys.readouterr().out)
    assert (refused["written"], refused["unread"][0]["line"]) == (False, 14)


def test_the_book_is_where_check_looks_for_it(book: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HIDELEDGER_BOOK", book)
    assert main(["write", "H1 drained", "--at", AT]) == 0
    monkeypatch.delenv("HIDELEDGER_BOOK")
    monkeypatch.chdir(book)
    assert main(["write", "P1 pH 2.0", "--at", AT]) == 0
    assert added(book).count("\n") == 2


def test_a_wrong_book_is_exit_2(tmp_path: Path, capsys: Captured) -> None:
    assert write(str(tmp_path), "H1 drained") == 2
    assert os.listdir(tmp_path) == []
    assert "no page of a book here" in capsys.readouterr().err
