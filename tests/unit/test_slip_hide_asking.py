"""`slip TAG` from the shell, and the first sign in a hide's history."""

from __future__ import annotations

import json
import re
import shlex
from pathlib import Path

import pytest

from hideledger.cli import main
from tests.unit.slip_book import SHOP

Captured = pytest.CaptureFixture[str]
AT = "2026-11-12 17:00"
PAGE = """\
2026-11-02 08:00 H1 H2 in, whitetail cape, green, killed 2026-11-01 16:00, for Oren Vale
2026-11-02 09:30 H1 H2 fleshed
2026-11-03 08:00 P3 mixed in V1, 20 gal water, 20 lb salt, 60 oz citric acid
2026-11-03 08:15 H1 pickle in P3
2026-11-03 08:40 H2 pickle in P3
2026-11-04 08:00 P3 pH 1.9 strip
2026-11-06 09:00 H1 slip, left ear, 1 in
2026-11-06 09:05 H1 neutralised 20 min
"""


@pytest.fixture
def book(tmp_path: Path) -> str:
    (tmp_path / "shop.hides").write_text(SHOP, encoding="utf-8")
    (tmp_path / "november.hides").write_text(PAGE, encoding="utf-8")
    return str(tmp_path)


def test_a_hide_is_told_on_one_sheet_and_no_line_of_it_is_wider_than_80(book: str, capsys: Captured) -> None:
    assert main(["slip", "h1", "--book", book, "--at", AT]) == 0
    told = capsys.readouterr().out.split("\n")
    assert told[0] == "H1 slipped: left ear, 1 in, Fri 6 Nov 09:00 (at 2026-11-12 17:00)"
    assert [line for line in told if len(line) > 80 and book not in line] == []


def test_a_hide_that_is_not_there_is_not_found(book: str, capsys: Captured) -> None:
    assert main(["slip", "H7", "--book", book, "--at", AT]) == 1
    assert "H7 is not in the book; H2 is" in capsys.readouterr().err


def test_the_record_for_programs_and_one_line_a_row(book: str, capsys: Captured) -> None:
    assert main(["slip", "H1", "--book", book, "--at", AT, "--json"]) == 0
    record = json.loads(capsys.readouterr().out)
    assert (record["tag"], record["defect"], record["raw_at_first_sign"]["shop_seconds"]) == (
        "H1",
        "slip",
        [87300, 87300],
    )
    assert main(["slip", "H1", "--book", book, "--at", AT, "--plain"]) == 0
    lines = capsys.readouterr().out.rstrip("\n").split("\n")
    assert any(line.startswith("timeline\tH2\tin 2 Nov; P3 3 Nov") for line in lines)


def told(capsys: Captured, book: str, tag: str) -> list[tuple[str, str, str]]:
    assert main(["history", tag, "--book", book, "--at", AT, "--plain"]) == 0
    lines = capsys.readouterr().out.split("\n")[:-1]
    return [(fields[0], fields[2], fields[3]) for line in lines if (fields := line.split("\t"))]


def test_history_marks_the_first_sign_with_the_raw_clock_there_right_behind_its_line(
    book: str, capsys: Captured
) -> None:
    lines = told(capsys, book, "H1")
    at = next(number for number, line in enumerate(lines) if line[1] == "sign")
    # Mon 08:00 to Tue 08:15 in the shop, Sun 16:00 to Mon 08:00 before the door
    sign = "first sign of slip: raw 24 h 15 min in the shop, 16 h before the door"
    assert lines[at] == ("2026-11-06 09:00", "sign", sign)
    assert lines[at - 1][2] == "slip, left ear, 1 in"
    assert not any(sort == "sign" for _, sort, _ in told(capsys, book, "H2"))


def test_the_raw_clock_at_the_sign_is_not_that_of_today(book: str, capsys: Captured) -> None:
    page = (
        "2026-11-02 08:00 H1 in, whitetail cape, green\n2026-11-02 14:00 H1 slip, left ear\n2026-11-02 20:00 H1 salt\n"
    )
    Path(book, "november.hides").write_text(page, encoding="utf-8")
    sign = next(text for _, sort, text in told(capsys, book, "H1") if sort == "sign")
    assert sign == "first sign of slip: raw 6 h in the shop, nobody knows how long before the door"


def test_a_line_of_another_that_lay_in_the_bath_is_marked_as_such(book: str, capsys: Captured) -> None:
    lines = told(capsys, book, "H1")
    assert ("2026-11-03 08:40", "beside", "beside it: H2 pickle in P3") in lines
    assert ("2026-11-04 08:00", "bath", "P3 pH 1.9 strip") in lines


def test_the_sheet_in_the_readme_is_what_is_told(capsys: Captured, monkeypatch: pytest.MonkeyPatch) -> None:
    """Some of its lines are left out there; those shown stand on the real sheet in the same order, to the letter."""
    checkout = Path(__file__).resolve().parents[2]
    monkeypatch.chdir(checkout)
    readme = (checkout / "README.md").read_text(encoding="utf-8")
    (shown,) = re.findall(r"^```text slip hide\n\$ hideledger (.*?)\n(.*?)^```", readme, re.DOTALL | re.MULTILINE)
    assert main(shlex.split(shown[0])) == 0
    lines = iter(capsys.readouterr().out.split("\n"))
    assert [line for line in shown[1].rstrip("\n").split("\n") if line not in lines] == []
