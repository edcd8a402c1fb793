"""The first evening in the README is a real one: its pages give its answers, to the letter."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
PAGES = re.findall(r"^```hides (book/\S+)\n(.*?)^```", README, re.DOTALL | re.MULTILINE)
ASKED = re.findall(r"^```console\n\$ hideledger (.*?)\n(.*?)^```", README, re.DOTALL | re.MULTILINE)


def test_it_has_pages_and_answers() -> None:
    assert [name for name, _ in PAGES] == ["book/shop.hides", "book/november.hides"]
    assert len(ASKED) >= 4


@pytest.mark.parametrize(("asked", "answer"), ASKED, ids=[asked for asked, _ in ASKED])
def test_answer(asked: str, answer: str, tmp_path: Path) -> None:
    for name, text in PAGES:
        page = tmp_path / name
        page.parent.mkdir(exist_ok=True)
        page.write_text(text, encoding="utf-8")
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "utf-8"}
    environment.pop("HIDELEDGER_BOOK", None)
    done = subprocess.run(
        [sys.executable, "-m", "hideledger", *shlex.split(asked)],
        cwd=tmp_path,
        env=environment,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )
    assert done.stdout == answer
    assert done.returncode in (0, 3)
