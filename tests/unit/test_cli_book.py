"""The book is named alike everywhere: behind `--book`, and with the commands that take it so among the words."""

from __future__ import annotations

from pathlib import Path

import pytest

from hideledger.cli import main
from hideledger.cli.arguments import COMMANDS, whole_parser
from tests.unit.bill_book import AT, Captured, book

LINES = "2026-11-02 08:10 H1 in, cape, for Oren Vale\n2026-11-02 09:00 bought 20 lb salt, $4.00"
# Those that need no book: one explains a finding, one makes a book.
WITHOUT = {"meaning", "start"}
AMONG_WORDS = {
    "check": [],
    "floor": [],
    "clocks": ["--once"],
    "load": [],
    "export": [],
    "faircopy": [],
    "history": ["H1"],
    "slip": [],
    "stock": [],
    "cost": [],
    "owed": [],
    "custody": [],
}


@pytest.mark.parametrize("command", [name for name in COMMANDS if name not in WITHOUT])
def test_every_command_that_reads_a_book_takes_it_behind_book(command: str) -> None:
    parsers = next(action for action in whole_parser([command])._actions if isinstance(action.choices, dict)).choices
    assert isinstance(parsers, dict)
    named = [action for action in parsers[command]._actions if "--book" in action.option_strings]
    assert [(action.dest, action.metavar) for action in named] == [("named_book", "BOOK")]


@pytest.mark.parametrize(("command", "words"), AMONG_WORDS.items())
def test_the_book_among_the_words_and_behind_book_give_one_answer(
    command: str, words: list[str], tmp_path: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    where = book(tmp_path, LINES)
    monkeypatch.chdir(tmp_path.parent)
    at = [] if command == "faircopy" else [*AT]
    answers = []
    for named in ([where], ["--book", where]):
        code = main([command, *words, *named, *at])
        answers.append((code, capsys.readouterr().out))
    assert answers[0] == answers[1]
    assert answers[0][0] in (0, 1)
    assert answers[0][1]


def test_check_writes_no_page_over_one_of_a_book_named_behind_book(tmp_path: Path, capsys: Captured) -> None:
    where = book(tmp_path, LINES)
    page = tmp_path / "notes.txt"
    page.write_text("2026-11-02 H2 in, cape\n", encoding="utf-8")
    before = page.read_text(encoding="utf-8")
    assert main(["check", "--book", where, "--book", str(page), "--page", str(page), *AT]) == 2
    assert capsys.readouterr().out == ""
    assert page.read_text(encoding="utf-8") == before
