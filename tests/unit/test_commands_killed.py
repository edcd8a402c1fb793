"""The commands that write stand the same trial as the hands they write with: killed at any moment, old page or new."""

import os
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from hideledger.cli import main
from tests.unit.kill_trial import kill_trial

if sys.platform == "win32":
    pytest.skip("these trials need processes that split", allow_module_level=True)

DAYS = "".join(
    f"2026-11-{day:02}\n  8:15 P3 pH 2,1 Strip 64 F\n  9:00 h41, H44 thru H47 but H46 salt, 8lbs Salt\n"
    for day in range(2, 28)
)
FIRST = "2026-11-02 07:00 H41 H44 thru H47 in, whitetail cape, 6 lb, green\n"


def quietly(*words: str) -> Callable[[], object]:
    """The command as a process of its own would run it, with nobody listening."""

    def run() -> None:
        null = os.open(os.devnull, os.O_WRONLY)
        os.dup2(null, 1)
        os.dup2(null, 2)
        os._exit(0 if main(words) in (0, 1, 3) else 1)

    return run


def made_by(words: tuple[str, ...], page: Path, old: bytes) -> bytes:
    """The page that the command makes of the old one when nobody kills it."""
    page.write_bytes(old)
    page.with_name("shop.hides").write_bytes(b"# another page\n")
    assert main(words) in (0, 1, 3)
    return page.read_bytes()


@pytest.mark.parametrize(
    ("words", "runs"),
    [
        (("write", "--at", "2026-11-28 17:30", "H41 remark looked at its ears, and the lips are thin"), 260),
        (("faircopy", "--replace"), 260),
    ],
    ids=["write", "faircopy"],
)
def test_a_command_killed_at_any_moment_leaves_the_old_page_or_the_new(
    words: tuple[str, ...], runs: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    page = tmp_path / "autumn.hides"
    old = (FIRST + DAYS).encode()
    asked = (*words, "--book", str(tmp_path)) if words[0] == "write" else (*words, str(tmp_path))
    new = made_by(asked, page, old)
    capsys.readouterr()
    assert new != old and len(new) > len(old) // 2
    counted = kill_trial(page, old, new, quietly(*asked), runs=runs, seed=20261105)
    assert counted.torn == 0
    assert counted.old + counted.new == runs
    assert min(counted.old, counted.new) >= runs // 8, f"both ends must have been seen: {counted}"
