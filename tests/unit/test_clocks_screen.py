"""The command itself: the sheet printed once, the screen of a terminal taken and given back, lines into a pipe."""

import json
import os
import re
import select
import signal
import struct
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from hideledger.cli import main
from hideledger.render.screenful import ENTER, LEAVE
from tests.unit.clock_book import saved

CHECKOUT = Path(__file__).resolve().parents[2]
Captured = pytest.CaptureFixture[str]
AT = "2026-11-05 17:02"
NEUTRAL = "2026-11-05 16:40 H1 neutralised"
OVER = "2026-11-05 16:20 H2 neutralised"
SURROUNDINGS = {"PATH": os.environ["PATH"], "PYTHONPATH": str(CHECKOUT), "TERM": "xterm-256color"}
_PATIENCE = 20.0  # seconds that a slow machine may take to start
on_posix = pytest.mark.skipif(os.name != "posix", reason="needs a pseudo-terminal and signals")


def hears_ctrl_c() -> None:
    """Whatever starts the tests may ignore Ctrl-C (a job in the background does), and that would be handed on."""
    signal.signal(signal.SIGINT, signal.default_int_handler)


def command(*argv: str) -> list[str]:
    return [sys.executable, "-m", "hideledger", "clocks", *argv]


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return saved(tmp_path / "book", [NEUTRAL])


@pytest.fixture
def late(tmp_path: Path) -> Path:
    return saved(tmp_path / "late", [NEUTRAL, OVER])


@pytest.mark.parametrize(
    ("lines", "code"),
    [([NEUTRAL], 0), ([NEUTRAL, OVER], 1), ([NEUTRAL, OVER, "2026-11-05 17:00 H3 neutralisd"], 3)],
)
def test_once_says_by_its_exit_code_whether_a_clock_is_over(
    tmp_path: Path, lines: list[str], code: int, capsys: Captured
) -> None:
    saved(tmp_path / "book", lines)
    assert main(["clocks", str(tmp_path / "book"), "--at", AT, "--once"]) == code
    out = capsys.readouterr().out
    assert out.startswith("Fallow Creek Skins, Thu 2026-11-05 17:02\n")
    assert ("Overdue" in out, "Not understood" in out) == (code > 0, code == 3)
    assert main(["clocks", str(tmp_path / "book"), "--at", AT, "--once"]) == code
    assert capsys.readouterr().out == out


def test_plain_gives_one_clock_a_line_with_its_end_and_its_state(late: Path, capsys: Captured) -> None:
    main(["clocks", str(late.parent), "--at", AT, "--once", "--plain"])
    rows = [line.split("\t") for line in capsys.readouterr().out.split("\n")[:-1]]
    assert [row[:4] for row in rows[:2]] == [
        ["2026-11-05 16:50", "overdue", "12 min over", "H2"],
        ["2026-11-05 17:10", "running", "8 min left", "H1"],
    ]
    assert all(re.fullmatch(r".*november\.hides:[0-9]+", row[-1]) for row in rows)


def test_json_gives_the_clocks_with_seconds_and_places(late: Path, capsys: Captured) -> None:
    main(["clocks", str(late.parent), "--at", AT, "--once", "--json"])
    told = json.loads(capsys.readouterr().out)
    assert (told["schema"], told["at"], told["at_local"], told["unread"]) == (1, "2026-11-05T23:02:00Z", AT, 0)
    over, left = told["clocks"][:2]
    assert (over["state"], over["over_s"], over["tags"], over["line"]) == ("overdue", 720, ["H2"], 9)
    assert (left["state"], left["left_s"], left["ends"], left["may"]) == ("running", 480, "2026-11-05T23:10:00Z", False)


@pytest.mark.parametrize(
    ("argv", "said"),
    [
        (["--json"], "say --once with it"),
        (["--at", "tonight"], "--at takes a date"),
        (["nowhere"], "no such file"),
    ],
)
def test_what_cannot_be_followed_is_said_at_once(
    book: Path, argv: list[str], said: str, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(book.parent)
    assert main(["clocks", *argv]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert said in err


class Terminal:
    """A command with a pseudo-terminal of 80 by 24 for its screen and keyboard."""

    def __init__(self, argv: list[str], **env: str) -> None:
        import pty
        import termios

        self.screen, self.line = pty.openpty()
        termios.tcsetwinsize(self.line, (24, 80))
        self.before = termios.tcgetattr(self.line)
        self.running = subprocess.Popen(
            argv,
            stdin=self.line,
            stdout=self.line,
            stderr=self.line,
            env={**SURROUNDINGS, **env},
            start_new_session=True,
        )
        self.shown = ""

    def until(self, words: str) -> str:
        """Reads on until the words are on the screen."""
        end = time.monotonic() + _PATIENCE
        while words not in self.shown:
            assert time.monotonic() < end, f"{words!r} never came: {self.shown[-2000:]!r}"
            self._read(0.2)
        return self.shown

    def ended(self) -> int:
        """Reads the rest, and gives the exit code."""
        code = self.running.wait(timeout=_PATIENCE)
        while self._read(0.2):
            pass
        return code

    def _read(self, seconds: float) -> bool:
        ready, _, _ = select.select([self.screen], [], [], seconds)
        if not ready:
            return False
        self.shown += os.read(self.screen, 65536).decode("utf-8")
        return True


@contextmanager
def terminal(argv: list[str], **env: str) -> Iterator[Terminal]:
    """A terminal that is closed, and its command ended, whatever a test finds."""
    one = Terminal(argv, **env)
    try:
        yield one
    finally:
        if one.running.poll() is None:
            one.running.kill()
            one.running.wait()
        os.close(one.line)
        os.close(one.screen)


@on_posix
@pytest.mark.parametrize(
    ("number", "code"),
    [(signal.SIGINT, 0), (signal.SIGTERM, 143), (signal.SIGHUP, 129), (signal.SIGQUIT, 131)],
    ids=["INT", "TERM", "HUP", "QUIT"],
)
def test_the_screen_is_given_back_however_it_ends(book: Path, number: signal.Signals, code: int) -> None:
    import termios

    with terminal(command(str(book.parent), "--at", "2026-11-05 17:08")) as one:
        one.until("due, ")
        assert one.shown.startswith(ENTER)
        assert not termios.tcgetattr(one.line)[3] & termios.ECHO
        one.running.send_signal(number)
        assert one.ended() == code
        assert one.shown.endswith(LEAVE)
        assert one.shown.rfind("\x1b[?25h") > one.shown.rfind("\x1b[?25l")  # the cursor can be seen again
        assert "Traceback" not in one.shown
        assert termios.tcgetattr(one.line) == one.before


@on_posix
def test_the_keyboard_ends_it_and_what_was_typed_is_not_left_for_the_shell(book: Path) -> None:
    import termios

    argv = [
        sys.executable,
        "-c",
        "import fcntl, os, sys, termios; fcntl.ioctl(0, termios.TIOCSCTTY, 0); os.execv(sys.argv[1], sys.argv[1:])",
    ]
    with terminal([*argv, *command(str(book.parent), "--at", AT)]) as one:
        one.until("8 min left")
        os.write(one.screen, b"rm x\n\x03")
        assert one.ended() == 0
        assert "rm x" not in one.shown
        assert "^C" not in one.shown.replace(LEAVE, "")
        assert struct.unpack("i", _unread(one.line))[0] == 0
        assert termios.tcgetattr(one.line) == one.before


def _unread(line: int) -> bytes:
    """How many letters wait to be read from a terminal."""
    import fcntl
    import termios

    return fcntl.ioctl(line, termios.FIONREAD, struct.pack("i", 0))


@on_posix
@pytest.mark.parametrize(("more", "bells"), [((), 1), (("--silent",), 0)])
def test_the_bell_goes_once_for_what_is_over_and_never_when_silent(
    late: Path, more: tuple[str, ...], bells: int
) -> None:
    with terminal(command(str(late.parent), "--at", AT, *more)) as one:
        one.until("12 min over")
        one.until("17:02:01")
        one.running.send_signal(signal.SIGINT)
        one.ended()
        assert one.shown.count("\a") == bells


@on_posix
def test_a_terminal_that_cannot_be_painted_over_gets_lines(late: Path) -> None:
    with terminal(command(str(late.parent), "--at", AT), TERM="dumb") as one:
        one.until("running: H1 neutralised, time is up 17:10")
        one.running.send_signal(signal.SIGINT)
        assert one.ended() == 0
        assert "\x1b" not in one.shown
        assert one.shown.count("\a") == 1
        assert f"\a{AT} overdue: H2 neutralised, 12 min over" in one.shown


@on_posix
def test_a_pipe_gets_each_line_at_once_and_no_control_character(book: Path) -> None:
    with subprocess.Popen(
        command(str(book.parent), "--at", AT),
        stdout=subprocess.PIPE,
        env=SURROUNDINGS,
        preexec_fn=hears_ctrl_c,  # noqa: PLW1509 (no threads are about)
    ) as running:
        assert running.stdout is not None
        lines = [running.stdout.readline().decode("utf-8")]
        with book.open("a", encoding="utf-8", newline="\n") as page:
            page.write("2026-11-05 17:02 H1 tan\n")
        while "ended" not in lines[-1]:
            lines.append(running.stdout.readline().decode("utf-8"))
            assert lines[-1], "it ended by itself"
        running.send_signal(signal.SIGINT)
        rest = running.communicate(timeout=_PATIENCE)[0].decode("utf-8")
        assert running.returncode == 0
    assert lines[0] == f"{AT} watching: 2 pages, 8 lines; 1 clock over or to end today\n"
    assert lines[-1] == f"{AT} ended: H1 neutralised\n"
    assert "".join([*lines, rest]).replace("\n", "").isprintable()


@on_posix
def test_when_the_reader_goes_away_it_ends_by_itself(book: Path) -> None:
    with subprocess.Popen(
        command(str(book.parent), "--at", AT), stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=SURROUNDINGS
    ) as running:
        assert running.stdout is not None
        assert running.stderr is not None
        assert b"watching" in running.stdout.readline()
        running.stdout.close()
        assert running.wait(timeout=_PATIENCE) == 141
        assert running.stderr.read() == b""
