"""Finishing words in a shell: real shells at a terminal, with the Tab key, and what is offered where."""

import re
import shlex
import subprocess
from pathlib import Path

import pytest

from hideledger.cli import arguments, main
from hideledger.cli.arguments import COMMANDS
from hideledger.cli.shells.typed import BY_HELP_WORD, Takes, commands, following
from hideledger.reading.own_words import FINDINGS

pytest.importorskip("pty", reason="no terminals of one's own on this system")
from tests.unit.shells_typed import surroundings, there_is, typed

SHELLS = ("bash", "zsh", "fish")
Captured = pytest.CaptureFixture[str]

BOOK = """\
shop Alder Fork
place drying room
process tub
  fleshed or flesh  within 12 h of in
2026-11-02 08:00 P1 mixed, 20 gal water
2026-11-02 09:00 H1 in, whitetail cape, for Oren Vale
2026-11-02 09:05 H2 in, whitetail cape
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Where the shell stands: a book in a folder with a blank in its name, and a file that is no page."""
    (tmp_path / "tub book").mkdir()
    (tmp_path / "tub book" / "june.hides").write_text("2026-06-01 8:00 H7 salt\n", encoding="utf-8")
    (tmp_path / "other.hides").write_text(BOOK, encoding="utf-8")
    (tmp_path / "junk.txt").write_text("", encoding="utf-8")
    return tmp_path


def script(shell: str, capsys: Captured) -> str:
    assert main(["complete", shell]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    return out


def needs(shell: str) -> None:
    if not there_is(shell):
        pytest.skip(f"{shell} is not installed here")


@pytest.mark.parametrize("shell", SHELLS)
def test_the_shell_itself_finds_no_fault_in_its_script(shell: str, tmp_path: Path, capsys: Captured) -> None:
    needs(shell)
    page = tmp_path / "script"
    page.write_text(script(shell, capsys), encoding="utf-8")
    done = subprocess.run([shell, "-n", str(page)], capture_output=True, check=False, encoding="utf-8")
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")


# what is typed, with Tab, and what hideledger is then called with
TYPED = (
    ("hideledger floo\t", ["floor"]),
    ("hideledger check --alr\t x", ["check", "--already-told", "x"]),
    ("hideledger check --at 18:00 oth\t", ["check", "--at", "18:00", "other.hides"]),
    ("hideledger check --quiet tub\tju\t", ["check", "--quiet", "tub book/june.hides"]),
    ("hideledger floor ju\t", ["floor", "ju"]),
    ("hideledger history p\t", ["history", "P1"]),
    ("hideledger history H1 p\t", ["history", "H1", "P1"]),
    ("hideledger history Or\tVa\t", ["history", "Oren", "Vale"]),
    ("hideledger history dry\tr\t", ["history", "drying", "room"]),
    ("hideledger meaning came o\tea\t", ["meaning", "came", "out", "early"]),
    ("hideledger meaning pres\to\tth\tv\tl\t", ["meaning", "pressure", "over", "the", "vessel's", "limit"]),
    ("hideledger brine --gallons U\t", ["brine", "--gallons", "US"]),
    ("hideledger write H1 fles\t", ["write", "H1", "flesh"]),
)


@pytest.mark.parametrize("shell", SHELLS)
def test_tab_finishes_the_word(shell: str, folder: Path) -> None:
    needs(shell)
    said = typed(shell, [line for line, _ in TYPED], folder, folder / "other.hides")
    assert list(zip([line for line, _ in TYPED], said, strict=True)) == list(TYPED)


# inside quotes the line goes on, so the one who types closes them; behind a page the shell does
QUOTED = (
    ("hideledger write 'H1 fles\t'", ["write", "H1 flesh"]),
    ("hideledger history 'Or\t Va\t'", ["history", "Oren Vale"]),
    ('hideledger history "H1 p\t"', ["history", "H1 P1"]),
    ("hideledger write 'H\t'", ["write", "H"]),
    ("hideledger meaning 'came o\t'", ["meaning", "came out"]),
    ("hideledger check --quiet 'tub\tju\t", ["check", "--quiet", "tub book/june.hides"]),
)


def test_tab_finishes_a_word_inside_quotes(folder: Path) -> None:
    needs("bash")
    said = typed("bash", [line for line, _ in QUOTED], folder, folder / "other.hides")
    assert list(zip([line for line, _ in QUOTED], said, strict=True)) == list(QUOTED)


@pytest.mark.parametrize("shell", SHELLS)
def test_the_book_that_was_named_is_the_one_looked_into(shell: str, folder: Path) -> None:
    needs(shell)
    lines = ["hideledger history --book tub\t h\t", "hideledger history --book=tub\t h\t"]
    apart, together = typed(shell, lines, folder, folder / "other.hides")
    assert [word.removesuffix("/") for word in apart] == ["history", "--book", "tub book", "H7"]
    assert [word.removesuffix("/") for word in together] == ["history", "--book=tub book", "H7"]


@pytest.mark.parametrize("shell", SHELLS)
def test_a_book_that_is_not_there_disturbs_nobody(shell: str, folder: Path) -> None:
    needs(shell)
    assert typed(shell, ["hideledger history h\t"], folder, folder / "nowhere") == [["history", "h"]]


def offered(shell: str, words: list[str], folder: Path) -> list[str]:
    """What the shell would list for the last of these words, without what it says about each. The script lies in the folder."""
    line = " ".join(words)
    asking = {
        "bash": f"source .script\nCOMP_WORDS=({' '.join(map(shlex.quote, words))})\nCOMP_CWORD={len(words) - 1}\n"
        f"COMP_LINE={shlex.quote(line)}\nCOMP_POINT={len(line)}\n_hideledger hideledger\nprintf '%s\\n' \"${{COMPREPLY[@]}}\"\n",
        "fish": f"source .script; complete -C {shlex.quote(line)}",
    }
    done = subprocess.run(
        [shell, {"bash": "--norc", "fish": "--no-config"}[shell], "-c", asking[shell]],
        capture_output=True,
        check=False,
        encoding="utf-8",
        cwd=folder,
        env=surroundings(folder, folder / "other.hides"),
    )
    assert done.stderr == ""
    return [line.split("\t")[0].rstrip("/") for line in done.stdout.removesuffix("\n").split("\n")]


@pytest.mark.parametrize("shell", ["bash", "fish"])
def test_what_may_come_next_is_listed(shell: str, folder: Path, capsys: Captured) -> None:
    needs(shell)
    (folder / "night.html").write_text("", encoding="utf-8")
    (folder / ".script").write_text(script(shell, capsys), encoding="utf-8")

    def listed(*words: str) -> list[str]:
        return offered(shell, ["hideledger", *words], folder)

    assert listed("ch") == ["check"]
    assert sorted(listed("c")) == sorted(name for name in COMMANDS if name.startswith("c"))
    assert sorted(listed("")) == sorted(COMMANDS)
    assert {"--at", "--ahead", "--all"} <= set(listed("check", "--a"))
    assert "--ahead" not in listed("floor", "--a")
    assert listed("history", "") == ["H2", "H1", "P1", "drying", "Oren"], "named last, first"
    assert listed("meaning", "came", "") == ["out"]
    assert sorted(listed("meaning", "")) == sorted({finding.split()[0] for finding in FINDINGS})
    assert sorted(listed("complete", "")) == ["bash", "editors", "fish", "tags", "words", "zsh"]
    assert sorted(listed("floor", "")) == ["other.hides", "tub book"]
    assert listed("start", "") == ["tub book"]
    assert sorted(listed("check", "--page", "")) == ["junk.txt", "night.html", "tub book"], (
        "what it leaves, no page of the book"
    )


@pytest.mark.parametrize("shell", SHELLS)
def test_a_command_that_cannot_be_loaded_costs_its_own_options_and_no_more(
    shell: str, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = arguments.asked

    def halved(command: str) -> arguments.Asked:
        if command == "floor":
            raise SyntaxError("half of it was saved")
        return whole(command)

    monkeypatch.setattr(arguments, "asked", halved)
    text = script(shell, capsys)
    assert "floor" in text and "already-told" in text
    named = {command.name: [name for option in command.options for name in option.names] for command in commands()}
    assert named["floor"] == ["-h", "--help"] and "--ahead" in named["check"]
    assert main(["--help"]) == 0
    assert "floor" in capsys.readouterr().out
    assert main(["floor"]) == 70, "asked for by name it is a fault, and told as one"


@pytest.mark.parametrize("shell", SHELLS)
def test_every_command_and_every_option_is_in_the_script(shell: str, capsys: Captured) -> None:
    text = script(shell, capsys)
    found = commands()
    assert [command.name for command in found] == list(COMMANDS)
    for command in found:
        assert command.name in text
        for option in command.options:
            for name in option.names:
                in_fish = f" -l {name[2:]} " if name.startswith("--") else f" -s {name[1:]} "
                assert (in_fish if shell == "fish" else name) in text
    assert not re.search("%[A-Z]+%", text)


def test_the_places_of_a_command_are_known_by_the_word_that_help_shows() -> None:
    named = {command.name: command for command in commands()}
    assert [(spot.takes, spot.many) for spot in named["check"].spots] == [(Takes.PAGES, True)]
    assert [(spot.takes, spot.many) for spot in named["history"].spots] == [(Takes.TAGS, True)]
    assert [(spot.takes, spot.many) for spot in named["start"].spots] == [(Takes.FOLDERS, False)]
    at = next(option for option in named["check"].options if "--at" in option.names)
    assert at.spot is not None and at.spot.takes is Takes.ANYTHING
    rivals = next(option for option in named["check"].options if "--json" in option.names).rivals
    assert rivals == ("--plain",)


def test_a_word_of_help_is_either_offered_something_or_free() -> None:
    """A new word in the help of a command must be thought of here: does it stand for something a shell could offer?"""
    free = {"WHEN", "LENGTH", "MADE_FOR", "TYPED", "DAYS", "WHAT", "NUMBER", "WEIGHT", "YEAR", "HIDE"}
    spots = [spot for command in commands() for spot in command.spots]
    spots += [option.spot for command in commands() for option in command.options if option.spot is not None]
    unknown = {spot.called for spot in spots if spot.takes is Takes.ANYTHING} - free
    assert unknown == set(), f"put them into BY_HELP_WORD ({', '.join(BY_HELP_WORD)}) or among the free ones"


def test_names_of_several_words_are_offered_word_by_word() -> None:
    assert following(("came out early", "came late", "due")) == {
        "": ("came", "due"),
        "came": ("late", "out"),
        "came out": ("early",),
    }
