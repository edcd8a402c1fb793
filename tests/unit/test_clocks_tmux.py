"""The clocks in a real terminal program: the countdown falls, a saved line ends a clock, a resized window is filled anew."""

import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.unit.clock_book import saved

CHECKOUT = Path(__file__).resolve().parents[2]
_PATIENCE = 20.0

pytestmark = pytest.mark.skipif(shutil.which("tmux") is None, reason="there is no tmux here")


class Window:
    """One window of a tmux server of our own, 80 by 24."""

    def __init__(self, folder: Path, argv: list[str]) -> None:
        # a path of a socket may not be long: the server gets its own folder
        self.env = {
            "PATH": os.environ["PATH"],
            "TMUX_TMPDIR": str(folder),
            "PYTHONPATH": str(CHECKOUT),
            "LANG": "C.UTF-8",
        }
        shell = " ".join(f"'{word}'" for word in argv)
        self.tmux("-f", os.devnull, "new-session", "-d", "-x", "80", "-y", "24", f"{shell}; echo code $?; exec cat")

    def tmux(self, *argv: str) -> str:
        done = subprocess.run(
            ["tmux", "-L", "clocks", *argv],
            env=self.env,
            capture_output=True,
            encoding="utf-8",
            check=True,
            timeout=_PATIENCE,
        )
        return done.stdout

    def screen(self) -> list[str]:
        return self.tmux("capture-pane", "-p").split("\n")[:-1]

    def until(self, holds: Callable[[list[str]], bool]) -> list[str]:
        end = time.monotonic() + _PATIENCE
        while not holds(shown := self.screen()):
            assert time.monotonic() < end, "\n".join(shown)
            time.sleep(0.1)
        return shown


@pytest.fixture
def window(tmp_path: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Window]:
    saved(tmp_path / "book", ["2026-11-05 16:40 H1 neutralised", "2026-11-05 16:46 H2 neutralised"])
    folder = tmp_path_factory.mktemp("t")
    argv = [sys.executable, "-m", "hideledger", "clocks", str(tmp_path / "book"), "--at", "2026-11-05 17:08"]
    one = Window(folder, argv)
    yield one
    one.tmux("kill-server")


def seconds_left(shown: list[str]) -> int | None:
    """`due, 1:58 left  H1: …` as seconds."""
    for line in shown:
        if line.startswith("  due, "):
            minutes, _, seconds = line.removeprefix("  due, ").partition(" left")[0].partition(":")
            return int(minutes) * 60 + int(seconds)
    return None


def test_the_countdown_falls_and_a_saved_line_ends_it(window: Window, tmp_path: Path) -> None:
    first = window.until(lambda shown: seconds_left(shown) is not None)
    begun, left = time.monotonic(), seconds_left(first)
    assert left is not None
    second = window.until(lambda shown: (seconds_left(shown) or left) <= left - 2)
    after = seconds_left(second)
    assert after is not None
    assert abs((left - after) - (time.monotonic() - begun)) < 2
    assert first[0].startswith("Fallow Creek Skins, Thu 2026-11-05 17:08:0")
    assert first[23].startswith("Book read 17:08:0")
    assert window.tmux("display", "-p", "#{alternate_on} #{cursor_flag}") == "1 0\n"

    window.tmux("resize-window", "-x", "50", "-y", "12")
    narrow = window.until(lambda shown: len(shown) == 12 and shown[0].startswith("Fallow Creek"))
    assert seconds_left(narrow) is not None
    assert narrow[11].startswith("Book read 17:08:0")

    page = tmp_path / "book" / "november.hides"
    new = page.with_suffix(".new")
    new.write_text(page.read_text(encoding="utf-8") + "2026-11-05 17:08 H1 tan\n", encoding="utf-8", newline="\n")
    new.replace(page)
    window.until(lambda shown: seconds_left(shown) is None and "7 min left" in "\n".join(shown))

    window.tmux("send-keys", "C-c")
    gone = window.until(lambda shown: any("code" in line for line in shown))
    assert [line for line in gone if line] == ["code 0"]
    assert window.tmux("display", "-p", "#{alternate_on} #{cursor_flag}") == "0 1\n"
