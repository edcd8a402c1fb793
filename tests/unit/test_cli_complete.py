"""`complete`: what it offers of a book, where it says the editors' files are, and that trouble never disturbs who types."""

import re
from pathlib import Path

import pytest

from hideledger.cli import main
from hideledger.text.named import RUN, TAG, names_in, next_words, tags_in
from tests.unit.language_words import terminal

CHECKOUT = Path(__file__).resolve().parents[2]
Captured = pytest.CaptureFixture[str]

PAGE = """\
# H99 is in a comment only
2026-11-02 08:00 P1 mixed in V1, recipe pickle, 20 lb salt lot S-114
2026-11-02 09:00 h1 H2a in, whitetail cape, for Oren Vale, tag AB-4071, licence TX77
2026-11-02 09:30 H10 thru H12 fleshed  # like H98
2026-11-02 09:31 MB-07-MB-09 salt
2026-11-02 09:32 B7 opened, H60 to 61, their tags R-101 thru R-114
2026-11-02 19h40 P1 pH2.1, 62F
"""
SHOP = """\
shop Alder Fork
customer Lena Orrick, phone 555-0131
place drying room, at most 70 F
kind whitetail cape or cape, counts 1
supply citric acid or citric, $38 per 50 lb
process tub, since 2026-09-01
  in
  fleshed or flesh   within 12 h of in
  ears turned, elk cape: 3 h to 4 h

  pickle again  stays at least 3 d, pH 0.8 to 2.2
  raw at most 12 h at 66 F
  may rest frozen at most 9 mo
recipe pickle
  per gal water: 1 lb salt
"""


def test_a_tag_is_what_the_grammar_says() -> None:
    assert terminal("TAG", "words.lark") == TAG
    assert terminal("RUN", "words.lark") == RUN


def test_tags_come_with_the_one_named_last_first() -> None:
    assert tags_in([PAGE]) == [
        "P1",
        "H61",
        "H60",
        "B7",
        "MB-09",
        "MB-08",
        "MB-07",
        "H12",
        "H11",
        "H10",
        "H2a",
        "H1",
        "V1",
    ]
    assert tags_in(["H1 salt\nH2 salt\n", "h1 pickle\n"]) == ["H1", "H2"]


def test_a_run_that_is_none_gives_its_two_ends() -> None:
    assert tags_in(["H9 thru H3 salt\n"]) == ["H3", "H9"]
    assert tags_in(["H9 to P3 salt\n"]) == ["P3", "H9"]
    assert len(tags_in(["H1 thru H999999 salt\n"])) == 2


def test_names_come_from_definitions_and_customers_from_entries_too() -> None:
    assert names_in([SHOP, PAGE], "place", "customer") == ["Lena Orrick", "drying room", "Oren Vale"]
    assert names_in([SHOP], "supply", "kind") == ["whitetail cape", "cape", "citric acid", "citric"]
    assert names_in([SHOP], "step") == ["in", "fleshed", "flesh", "ears turned", "pickle"]


def test_the_next_word_of_a_name_is_what_may_follow_those_typed() -> None:
    names = ["H1", "Oren Vale", "Oren Voss", "drying room"]
    assert next_words(["h"], names) == ["H1"]
    assert next_words([""], names) == ["H1", "Oren", "drying"]
    assert next_words(["oren", "v"], names) == ["Vale", "Voss"]
    assert next_words(["H1", "Oren", "va"], names) == ["Vale"]
    assert next_words(["H1", "d"], names) == ["drying"]
    assert next_words(["Oren", "H"], names) == ["H1"]
    assert next_words(["x"], names) == []


@pytest.fixture
def book(tmp_path: Path) -> str:
    (tmp_path / "2026.hides").write_text(PAGE, encoding="utf-8")
    (tmp_path / "shop.hides").write_text(SHOP, encoding="utf-8")
    return str(tmp_path)


def said(capsys: Captured, *argv: str) -> tuple[int, list[str]]:
    code = main(["complete", *argv])
    out, err = capsys.readouterr()
    assert err == ""
    return code, out.split("\n")[:-1]


def test_tags_and_words_of_the_book_are_listed(book: str, capsys: Captured) -> None:
    code, tags = said(capsys, "--book", book, "tags")
    assert (code, tags[:2], tags[-1]) == (0, ["P1", "H61"], "drying room")
    assert said(capsys, "--book", book, "words", "--", "H1", "fl") == (0, ["fleshed", "flesh"])
    assert said(capsys, "--book", book, "tags", "--", "Lena", "") == (0, ["Orrick"])


def test_a_book_among_the_typed_words_is_looked_into(book: str, capsys: Captured) -> None:
    assert said(capsys, "tags", "--", f"{book}/2026.hides", "mb-07") == (0, ["MB-07"])


def test_trouble_with_the_book_is_silent(tmp_path: Path, capsys: Captured) -> None:
    assert said(capsys, "--book", str(tmp_path / "nowhere"), "tags") == (1, [])
    (tmp_path / "torn.hides").write_bytes(b"\xff\xfeH\x001\x00")
    assert said(capsys, "--book", str(tmp_path), "tags") == (1, [])
    (tmp_path / "whole.hides").write_text("2026-11-02 H1 salt\n", encoding="utf-8")
    assert said(capsys, "--book", str(tmp_path), "tags") == (0, ["H1"])


def test_nobody_waits_for_a_walk_through_a_whole_home(tmp_path: Path, capsys: Captured) -> None:
    (tmp_path / "whole.hides").write_text("2026-11-02 H1 salt\n", encoding="utf-8")
    for number in range(301):
        (tmp_path / f"folder{number}").mkdir()
    assert said(capsys, "--book", str(tmp_path), "tags") == (1, [])


def test_a_name_that_would_play_with_the_screen_is_not_offered(tmp_path: Path, capsys: Captured) -> None:
    (tmp_path / "a.hides").write_text("place yard\x1b[2J\nplace shed\n", encoding="utf-8")
    assert said(capsys, "--book", str(tmp_path), "tags") == (0, ["shed"])


def test_the_folder_of_the_editors_files_is_there(capsys: Captured) -> None:
    code, lines = said(capsys, "editors")
    folder = Path(lines[0])
    assert (code, len(lines)) == (0, 1)
    assert folder == CHECKOUT / "hideledger" / "editors"
    assert (folder / "vim" / "syntax" / "hides.vim").is_file()
    assert (folder / "hides.tmLanguage.json").is_file()


def test_an_unknown_shell_is_refused_with_those_there_are(capsys: Captured) -> None:
    assert main(["complete", "csh"]) == 2
    _, err = capsys.readouterr()
    assert re.search(r"csh.*bash.*zsh.*fish", err)
    assert err.count("\n") == 1
