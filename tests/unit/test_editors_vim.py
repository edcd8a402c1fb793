"""The files for Vim, tried with a real vim: what it colours, that it knows every word of the language, and that `:make` finds the places."""

import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest

from tests.unit.coloured import PAGE, TEXT, expected
from tests.unit.language_words import clauses, deeds, findings, heads, known, units
from tests.unit.small_book import UNREAD, write_book
from tests.unit.textmate import pieces
from tests.unit.vim import answer_of, groups, vim_string, without_vim

CHECKOUT = Path(__file__).resolve().parents[2]
pytestmark = pytest.mark.skipif(bool(without_vim()), reason=without_vim() or "vim is here")

# What stands in the table in plain words, by the groups of our syntax file.
GROUPS: dict[str, frozenset[str]] = {
    "comment": frozenset({"hidesComment"}),
    "struck": frozenset({"hidesStruck"}),
    "date": frozenset({"hidesStampDate", "hidesDate"}),
    "time": frozenset({"hidesStampTime", "hidesTime"}),
    "time alone": frozenset({"hidesTimeAlone"}),
    "tag": frozenset({"hidesWho", "hidesTag"}),
    "bare": frozenset({"hidesBare"}),
    "join": frozenset({"hidesMore"}),
    "step": frozenset({"hidesDoing", "hidesStep", "hidesStepToo"}),
    "name": frozenset({"hidesName"}),
    "word": frozenset({"hidesWord"}),
    "known": frozenset({"hidesKnown"}),
    "number": frozenset({"hidesNumber"}),
    "unit": frozenset({"hidesUnit"}),
    "money": frozenset({"hidesMoney"}),
    "code": frozenset({"hidesCode"}),
    "finding": frozenset({"hidesFinding"}),
    "person": frozenset({"hidesPerson"}),
    "remark": frozenset({"hidesRemark"}),
    "head": frozenset({"hidesHead"}),
    "title": frozenset({"hidesTitle", "hidesDefined"}),
    "clause": frozenset({"hidesClause"}),
    "bound": frozenset({"hidesBound", "hidesPer", "hidesOr", "hidesStepOr"}),
}


def test_every_piece_of_the_page_has_its_group(tmp_path: Path) -> None:
    for (line, things), row in zip(PAGE, groups(TEXT, tmp_path), strict=True):
        # a no-break blank between two pieces is passed over by a group that has no colour of its own
        seen = [(text.strip(), group) for text, group in pieces(line, row) if text.strip()]
        wanted = expected(line, things)
        assert [text for text, _ in seen] == [text.strip() for text, _ in wanted], line
        for (text, group), (_, thing) in zip(seen, wanted, strict=True):
            assert group in GROUPS[thing], f"{text!r} of {line!r}"


def assert_known(words: Sequence[str], thing: str, line_of: Callable[[str], str], folder: Path) -> None:
    """Every word has the group of that thing throughout, in the last line of what `line_of` makes of it."""
    texts = [line_of(word) for word in words]
    rows = groups("\n".join(texts) + "\n", folder)
    at = -1
    for word, text in zip(words, texts, strict=True):
        at += text.count("\n") + 1
        line = text.split("\n")[-1]
        start = line.rindex(word)
        seen = {group for letter, group in zip(word, rows[at][start:], strict=False) if letter not in " .:="}
        assert seen <= GROUPS[thing] and seen, f"{word!r} of {line!r}: {seen}"


def test_it_knows_every_unit(tmp_path: Path) -> None:
    assert_known(units(), "unit", lambda unit: f"2026-11-03 8:15 P3 xyz 3 {unit}", tmp_path)


def test_it_knows_every_word_of_an_entry(tmp_path: Path) -> None:
    words = list(deeds())
    assert_known(words, "word", lambda word: f"2026-11-03 8:15 H1 xyz, {word} 3", tmp_path)
    at_first = [word for word in words if word not in ("and", "but", "except", "to", "through", "thru")]
    assert_known(at_first, "word", lambda word: f"2026-11-03 8:15 H1 {word} xyz", tmp_path)


def test_it_knows_what_the_vocabulary_knows(tmp_path: Path) -> None:
    assert_known(known(), "known", lambda name: f"2026-11-03 8:15 H1 xyz, {name}", tmp_path)


def test_it_knows_every_finding(tmp_path: Path) -> None:
    assert_known(findings(), "finding", lambda finding: f"H1 waived {finding}", tmp_path)


def test_it_knows_every_head_and_every_clause(tmp_path: Path) -> None:
    assert_known(heads(), "head", lambda head: head, tmp_path)
    assert_known(list(clauses()), "clause", lambda clause: f"process q\n  xyz, {clause} 3", tmp_path)
    assert_known(list(clauses()), "clause", lambda clause: f"process q\n  {clause} 3", tmp_path)


def test_a_word_inside_another_is_none_of_the_language(tmp_path: Path) -> None:
    words = ("inner", "outlet", "stirrups", "greenish")
    rows = groups("".join(f"2026-11-03 8:15 H1 xyz, {word}\n" for word in words), tmp_path)
    assert [row[len("2026-11-03 8:15 H1 xyz, ") :] for row in rows] == [[""] * len(word) for word in words]


def test_the_middle_of_a_long_definition_is_coloured_when_one_jumps_there(tmp_path: Path) -> None:
    """Vim looks back only so far for where a page began."""
    text = "2026-11-03 8:15 H1 salt\n" * 900 + "process both\n" + "  soak  stays 3 h, optional\n" * 300
    script = """
execute 'silent edit ' . fnameescape({page})
let g:answer = []
for s:line in [1190, 450, 1000]
  call cursor(s:line, 1)
  redraw
  call add(g:answer, map([3, 9, 21], {{_, column -> synIDattr(synID(s:line, column, 1), 'name')}}))
endfor
"""
    page = tmp_path / "long.hides"
    page.write_text(text, encoding="utf-8")
    said = answer_of(script.format(page=vim_string(str(page))), tmp_path)
    step = ["hidesStep", "hidesClause", "hidesClause"]
    assert said == [step, ["hidesStampDate", "hidesStampDate", "hidesDoing"], step]


def test_a_page_gets_our_settings_and_gives_them_back(tmp_path: Path) -> None:
    page = tmp_path / "book.hides"
    page.write_text("2026-11-03 8:15 H1 salt\n", encoding="utf-8")
    script = f"""
execute 'silent edit ' . fnameescape({vim_string(str(page))})
let g:answer = [[&filetype, &commentstring, &makeprg, b:current_compiler]]
set filetype=text
call add(g:answer, [&filetype, &makeprg, exists('b:current_compiler')])
"""
    ours, after = answer_of(script, tmp_path)
    assert ours == ["hides", "# %s", "hideledger check --plain $*", "hideledger"]
    assert after == ["text", "make", 0]


def test_a_long_line_is_not_broken_while_it_is_typed(tmp_path: Path) -> None:
    page = tmp_path / "book.hides"
    page.write_text("\n", encoding="utf-8")
    line = (
        "2026-11-03 08:15 H1 in, whitetail cape, buck, 7 1/2 lb, green, for Oren Vale, tag 40718, promised 2026-12-15"
    )
    script = f"""
execute 'silent edit ' . fnameescape({vim_string(str(page))})
setlocal textwidth=60
execute "normal! i" . {vim_string(line)}
let g:answer = getline(1, '$')
"""
    assert answer_of(script, tmp_path) == [line]


# ----- :make -----------------------------------------------------------------------------------------------------------------


def wrapper(folder: Path) -> dict[str, str]:
    """Surroundings in which `hideledger` is this checkout."""
    folder.mkdir()
    command = folder / "hideledger"
    command.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m hideledger "$@"\n', encoding="utf-8")
    command.chmod(0o755)
    return {
        **{name: os.environ[name] for name in ("HOME", "TERM", "SHELL") if name in os.environ},
        "PATH": f"{folder}{os.pathsep}{os.environ['PATH']}",
        "PYTHONPATH": str(CHECKOUT),
        "LC_ALL": "C.UTF-8",
    }


QUICKFIX = """
{before}
execute 'silent make! ' . {arguments}
let g:answer = map(getqflist(), {{_, one -> [bufname(one.bufnr), one.lnum, one.col, one.vcol, one.text, one.valid]}})
"""


def quickfix(folder: Path, arguments: str, *, before: str = "compiler hideledger", ours: bool = True) -> Any:
    script = QUICKFIX.format(before=before, arguments=vim_string(arguments))
    return answer_of(script, folder, ours=ours, env=wrapper(folder / "bin"))


AT = '--at "2026-11-05 17:50"'


def unread_book(folder: Path) -> None:
    write_book(folder / "my book", UNREAD + "2026-11-05 10:46 H2 ½ lb, °, fleshd\n")


def test_make_lists_every_place_with_its_line_and_column(tmp_path: Path) -> None:
    unread_book(tmp_path)
    found = quickfix(tmp_path, f"{AT} my\\ book")
    assert len(found) == 3
    assert all(valid == 1 for *_, valid in found)
    assert [name for name, *_ in found] == ["my book/november.hides"] * 3
    # what rings comes first, then the lines that could not be read
    assert found[0][1] == 12
    assert found[0][4].startswith("now: overdue: H1: in neutralised since")
    assert found[1][1:4] == [13, 21, 1]
    assert found[1][4].startswith("`neutralized-ish`")
    assert found[2][1] == 14


def test_a_column_counts_letters_so_that_vim_comes_to_the_word(tmp_path: Path) -> None:
    write_book(tmp_path / "book", "2026-11-05 10:46 H1 ½ lb shaved, fleshd\n")
    script = QUICKFIX.format(before="compiler hideledger", arguments=vim_string(f"{AT} book")) + (
        "\ncall filter(g:answer, {_, one -> one[4] =~# 'fleshd'})\n"
        "execute 'silent cc ' . (index(map(getqflist(), {_, one -> one.text =~# 'fleshd'}), 1) + 1)\n"
        "let g:answer = [expand('%:t'), line('.'), expand('<cword>')]\n"
    )
    name, _, word = answer_of(script, tmp_path, env=wrapper(tmp_path / "bin"))
    assert (name, word) == ("november.hides", "fleshd")


def test_a_summary_is_no_place(tmp_path: Path) -> None:
    write_book(tmp_path / "quiet", "2026-11-05 17:40 remark nothing in the shop\n")
    assert quickfix(tmp_path, f"{AT} quiet") == []


def test_what_is_said_of_the_whole_book_stays_in_the_list(tmp_path: Path) -> None:
    found = quickfix(tmp_path, f"{AT} nowhere")
    assert [(name, line, text) for name, line, _, _, text, _ in found] == [
        ("", 0, "hideledger: nowhere: there is no such file or folder")
    ]


def test_vim_reads_the_answer_without_our_files_too(tmp_path: Path) -> None:
    unread_book(tmp_path)
    found = quickfix(tmp_path, f"{AT} my\\ book", before="let &makeprg = 'hideledger check --plain $*'", ours=False)
    assert [(name, line, valid) for name, line, _, _, _, valid in found] == [
        ("my book/november.hides", 12, 1),
        ("my book/november.hides", 13, 1),
        ("my book/november.hides", 14, 1),
    ]
