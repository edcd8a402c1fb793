"""Types into a real shell at a terminal of its own, Tab included, and sees which words `hideledger` was then called with."""

import os
import pty
import select
import shutil
import sys
import time
from collections.abc import Sequence
from pathlib import Path

CHECKOUT = Path(__file__).resolve().parents[2]

_START = {
    "bash": ["bash", "--norc", "--noprofile", "-i"],
    "zsh": ["zsh", "-f", "-i"],
    "fish": ["fish", "--no-config", "-i"],
}
_SETTING_UP = {
    "bash": 'eval "$(hideledger complete bash)"',
    "zsh": 'autoload -U compinit; compinit -u -d ./.dump; eval "$(hideledger complete zsh)"',
    "fish": "hideledger complete fish | source",
}


def there_is(shell: str) -> bool:
    return shutil.which(shell) is not None


def surroundings(folder: Path, book: Path | None = None) -> dict[str, str]:
    """Surroundings in which `hideledger` answers `complete` in earnest and of all else only notes what it was called with."""
    places = folder / ".bin"
    places.mkdir(exist_ok=True)
    command = places / "hideledger"
    command.write_text(
        f'#!/bin/sh\nif [ "$1" = complete ] && [ -z "$ONLY_NOTE" ]; then exec "{sys.executable}" -m hideledger "$@"; fi\n'
        f'for word do printf "%s\\n" "$word"; done >"{folder}/.said.new"\nmv "{folder}/.said.new" "{folder}/.said"\n',
        encoding="utf-8",
    )
    command.chmod(0o755)
    surroundings = {
        "PATH": f"{places}{os.pathsep}{os.environ['PATH']}",
        "PYTHONPATH": str(CHECKOUT),
        "HOME": str(folder),
        "TERM": "dumb",
        "LC_ALL": "C.UTF-8",
        "XDG_CONFIG_HOME": str(folder / ".config"),
        "XDG_DATA_HOME": str(folder / ".data"),
        "PS1": "$ ",
    }
    if book is not None:
        surroundings["HIDELEDGER_BOOK"] = str(book)
    return surroundings


def typed(shell: str, lines: Sequence[str], folder: Path, book: Path | None = None) -> list[list[str]]:
    """For each line (a `\\t` is the Tab key), the words behind `hideledger` once Enter was pressed. Raises AssertionError with the screen."""
    child, terminal = pty.fork()
    if child == 0:
        os.chdir(folder)
        os.execvpe(_START[shell][0], _START[shell], surroundings(folder, book))
    screen = bytearray()
    said = folder / ".said"
    answers = []
    try:
        surroundings(folder, book)
        for line in [f"{_SETTING_UP[shell]}; hideledger ready", *lines]:
            os.write(terminal, line.encode() + b"\r")
            until = time.monotonic() + 30
            while not said.exists():
                _listen(terminal, screen)
                assert time.monotonic() < until, f"{line!r}: nothing was called\n{screen.decode(errors='replace')}"
            answers.append(said.read_text(encoding="utf-8").removesuffix("\n").split("\n"))
            said.unlink()
    finally:
        os.close(terminal)
        os.waitpid(child, 0)
    assert answers[0] == ["ready"]
    return answers[1:]


def _listen(terminal: int, screen: bytearray) -> None:
    ready, _, _ = select.select([terminal], [], [], 0.05)
    if ready:
        try:
            screen += os.read(terminal, 65536)
        except OSError:
            return
