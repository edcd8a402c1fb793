"""What a person sees on the screen of a terminal, and what a search finds in a history."""

import os
import struct
import subprocess
import sys
from pathlib import Path

import pytest

from hideledger.cli import main
from tests.unit.small_book import AT, QUIET, write_book

CHECKOUT = Path(__file__).resolve().parents[2]
Captured = pytest.CaptureFixture[str]
HOSTILE = (
    "2026-11-05 10:51 H1 -- [/x] [red]soft[/red] \x1b[2J\x1b]0;owned\x07 ears \u202egnorw\n"
    "2026-11-05 10:52 H1 neutralised \x1b[31m [/x]\n"
)


def on_terminal(*argv: str, columns: int = 80, folder: str | None = None, **env: str) -> tuple[int, str]:
    """Runs the command with a terminal for its output, and gives its exit code and what appeared there."""
    pty = pytest.importorskip("pty")
    fcntl = pytest.importorskip("fcntl")
    termios = pytest.importorskip("termios")
    screen, line = pty.openpty()
    fcntl.ioctl(line, termios.TIOCSWINSZ, struct.pack("HHHH", 24, columns, 0, 0))
    surroundings = {"PATH": os.environ["PATH"], "PYTHONPATH": str(CHECKOUT), "TERM": "xterm-256color", **env}
    running = subprocess.Popen([sys.executable, "-m", "hideledger", *argv], stdout=line, env=surroundings, cwd=folder)
    os.close(line)
    shown = b""
    while True:
        try:
            piece = os.read(screen, 65536)
        except OSError:
            break
        if not piece:
            break
        shown += piece
    os.close(screen)
    return running.wait(), shown.decode("utf-8")


@pytest.fixture
def hostile(tmp_path: Path) -> str:
    return write_book(tmp_path / "book", QUIET + HOSTILE)


@pytest.mark.parametrize("argv", [["check"], ["floor"], ["history", "H1", "--book"]])
def test_a_remark_cannot_steer_the_terminal(hostile: str, argv: list[str]) -> None:
    code, shown = on_terminal(*argv, hostile, "--at", AT)
    assert code == 3
    for harm in ("\x1b[2J", "\x1b]", "\x07", "\u202e", "\x1b[31m"):
        assert harm not in shown
    assert shown.replace("\x1b[1m", "").replace("\x1b[0m", "").isprintable() is False  # only line ends are left
    left = shown.replace("\x1b[1m", "").replace("\x1b[0m", "").replace("\r\n", "")
    assert left.isprintable()
    assert "[/x]" in shown


def test_a_screen_and_a_file_say_the_same_words(hostile: str, capsys: Captured) -> None:
    _, shown = on_terminal("check", hostile, "--at", AT, NO_COLOR="1")
    main(["check", hostile, "--at", AT])
    bare = shown.replace("\x1b[1m", "").replace("\x1b[0m", "").replace("\r\n", "\n")
    assert bare == capsys.readouterr().out


def test_a_narrow_screen_gets_narrow_lines(hostile: str) -> None:
    """All but lines of the book, which stand as they are written."""
    _, shown = on_terminal("floor", "--at", AT, columns=50, folder=hostile)
    quotes = [line for line in shown.split("\r\n") if line.startswith("  2026-11-05") or line.strip() == "^"]
    prose = [line.replace("\x1b[1m", "").replace("\x1b[0m", "") for line in shown.split("\r\n") if line not in quotes]
    assert max(len(line) for line in prose) <= 50


@pytest.mark.parametrize("argv", [["check", "--plain", "--all"], ["floor", "--plain"], ["check"], ["floor"]])
def test_a_pipe_gets_no_control_character(hostile: str, argv: list[str], capsys: Captured) -> None:
    main([*argv, hostile, "--at", AT])
    out = capsys.readouterr().out
    assert out.replace("\n", "").replace("\t", "").isprintable()


def test_every_line_of_a_history_is_found_by_tag_and_by_date(hostile: str, capsys: Captured) -> None:
    """H1 was in P1 from 2 November 10:00 to 5 November 10:30: it has the four readings of that time."""
    assert main(["history", "h1", hostile, "--at", AT, "--plain"]) == 3
    rows = [line.split("\t") for line in capsys.readouterr().out.split("\n")[:-1]]
    assert all(len(row) == 5 and row[1] == "H1" and row[0].startswith("2026-11-0") for row in rows)
    assert [row[0] for row in rows] == sorted(row[0] for row in rows)
    readings = [row[0] for row in rows if row[2] == "bath" and "pH" in row[3]]
    assert readings == ["2026-11-02 11:00", "2026-11-03 07:30", "2026-11-04 07:30", "2026-11-05 07:30"]
    stays = [row[3] for row in rows if row[2] == "stay"]
    # 2 November 10:00 to 5 November 10:30 is 3 days and half an hour
    assert stays[0].startswith("stay ended: pickle in P1 since 2026-11-02 10:00, 3 d")
    assert any(row[3].startswith("in, whitetail cape") or "in, whitetail cape" in row[3] for row in rows)


def test_a_history_line_is_never_broken(hostile: str, capsys: Captured) -> None:
    main(["history", "H1", "--book", hostile, "--at", AT])
    lines = [line for line in capsys.readouterr().out.split("\n") if line.startswith("  ")]
    assert lines
    assert all(line.startswith("  2026-11-0") and "  H1  " in line for line in lines)


@pytest.mark.parametrize(
    ("asked", "heading"),
    [
        (["lena", "ORRICK"], "H1, whitetail cape, for Lena Orrick"),
        (["Lena Orrick"], "H2, whitetail cape, for Lena Orrick"),
        (["orrick"], "H1, whitetail cape"),
        (["31-204"], "H2, whitetail cape"),
        (["H2", "p1"], "P1, pickle, in V1, mixed 2026-11-02 08:00"),
    ],
)
def test_whom_a_history_is_about(hostile: str, asked: list[str], heading: str, capsys: Captured) -> None:
    assert main(["history", *asked, "--book", hostile, "--at", AT]) == 3
    assert f"\n{heading}" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("asked", "said"),
    [(["H7"], "H7 is not in the book"), (["Lena", "Orrik"], "Lena Orrik is not in the book; Lena Orrick is")],
)
def test_nothing_found_is_1_and_names_the_nearest(
    tmp_path: Path, asked: list[str], said: str, capsys: Captured
) -> None:
    book = write_book(tmp_path / "quiet", QUIET)
    assert main(["history", *asked, "--book", book, "--at", AT]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert said in err


def test_standard_output_may_be_closed(hostile: str) -> None:
    done = subprocess.run(
        ["sh", "-c", 'exec "$0" -m hideledger check "$1" --at "$2" >&-', sys.executable, hostile, AT],
        stderr=subprocess.PIPE,
        check=False,
        env={"PATH": os.environ["PATH"], "PYTHONPATH": str(CHECKOUT)},
    )
    assert done.returncode == 74
    assert done.stderr == b"hideledger: the answer could not be written out: standard output is closed\n"
