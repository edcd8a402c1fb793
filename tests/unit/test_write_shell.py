"""`write` from a shell, as its own process: plain locales, pages from Windows, several at once."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from tests.unit.small_book import PAGE, SHOP, write_book

CHECKOUT = Path(__file__).resolve().parents[2]
AT = "2026-11-05 10:40"


def shell(
    *argv: str | bytes, given: bytes | None = None, env: dict[str, str] | None = None
) -> subprocess.CompletedProcess[bytes]:
    """The command as a shell runs it, with nothing of this test run's surroundings."""
    surroundings = {"PATH": os.environ["PATH"], "PYTHONPATH": str(CHECKOUT), **(env or {})}
    return subprocess.run(
        [sys.executable, "-m", "hideledger", "write", *argv],
        input=given,
        stdin=subprocess.DEVNULL if given is None else None,
        capture_output=True,
        check=False,
        env=surroundings,
    )


@pytest.mark.parametrize("locale", [{"LC_ALL": "C"}, {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}])
def test_a_page_from_windows_in_a_plain_locale_stays_as_it_is(tmp_path: Path, locale: dict[str, str]) -> None:
    book = write_book(tmp_path / "book", "")
    page = Path(book) / "november.hides"
    old = b"\xef\xbb\xbf" + PAGE.rstrip("\n").replace("\n", "\r\n").encode()  # its last line has no end
    page.write_bytes(old)
    line = "H1 drained — für Ødegård, 64° draußen"
    done = shell("--book", book, "--at", AT, line.encode(), env=locale)
    assert done.returncode == 0, done.stdout + done.stderr
    assert page.read_bytes() == old + f"\r\n2026-11-05 10:40 {line}\r\n".encode()
    assert done.stdout.startswith(b"H1: drained since 10:40")


def test_lines_on_standard_input_from_a_pipe(tmp_path: Path) -> None:
    book = write_book(tmp_path / "book", PAGE)
    done = shell("--at", AT, given=b"H1 drained\nP1 pH 2.0 strip\n", env={"HIDELEDGER_BOOK": book})
    assert done.returncode == 0
    first, blank, heading, *rows = done.stdout.decode().split("\n")
    assert (first, blank, heading) == (f"2 lines written to {book}/november.hides", "", "Understood")
    assert rows[0].startswith("  H1: drained since 10:40")
    assert rows[0].endswith(f"({book}/november.hides:13)")
    assert rows[1].startswith("  P1: pH 2.0 strip")


def test_words_that_are_no_text_are_refused(tmp_path: Path) -> None:
    book = write_book(tmp_path / "book", PAGE)
    done = shell("--book", book, b"H1 -- \xff")
    assert (done.returncode, done.stdout) == (2, b"")
    assert done.stderr == b"hideledger: the line is no UTF-8 text; nothing was written\n"


def test_now_is_the_clock_of_the_shop(tmp_path: Path) -> None:
    book = write_book(tmp_path / "book", PAGE)
    assert shell("--book", book, "remark buy gloves", "--json").returncode == 0
    lines = "".join(page.read_text(encoding="utf-8") for page in sorted(Path(book).glob("*.hides")))
    assert re.search(r"(?m)^20[0-9]{2}-[0-9]{2}-[0-9]{2} [0-9]{2}:[0-9]{2} remark buy gloves$", lines)


def test_several_at_once_lose_nothing_and_cut_nothing(tmp_path: Path) -> None:
    """Four people with phones: every line stands whole, once."""
    (tmp_path / "shop.hides").write_text(SHOP, encoding="utf-8")

    def writer(number: int) -> int:
        said = f"H{number} in, whitetail cape, green -- {'wet ' * 40}end"
        return shell("--book", str(tmp_path), "--at", AT, said).returncode

    with ThreadPoolExecutor(4) as people:
        codes = list(people.map(writer, range(101, 113)))
    assert codes == [0] * 12
    lines = (tmp_path / "2026-11.hides").read_text(encoding="utf-8").rstrip("\n").split("\n")
    assert sorted(line.split()[2] for line in lines) == [f"H{number}" for number in range(101, 113)]
    assert all(
        re.fullmatch(r"2026-11-05 10:40 H[0-9]+ in, whitetail cape, green -- (?:wet )+end", line) for line in lines
    )
