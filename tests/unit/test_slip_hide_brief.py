"""The sheet of one hide is short unless all of it is asked for; nothing is out of reach."""

from __future__ import annotations

import pytest

from hideledger.cli import main

BOOK = "sample_ledgers/tarrow-ridge"
AT = ("--at", "2026-11-19 17:50")


def sheet(capsys: pytest.CaptureFixture[str], *more: str) -> list[str]:
    assert main(["slip", "H52", BOOK, *AT, *more]) == 0
    return capsys.readouterr().out.splitlines()


def part(lines: list[str], heading: str) -> list[str]:
    start = next(number for number, line in enumerate(lines) if line.startswith(heading))
    return lines[start : start + lines[start:].index("")]


def test_the_first_screen_is_the_same_and_the_whole_is_much_longer(capsys: pytest.CaptureFixture[str]) -> None:
    short, whole = sheet(capsys), sheet(capsys, "--all")
    assert len(short) < 150 < 160 < len(whole)
    first = short.index(next(line for line in short if line.startswith("What an investigator asks")))
    assert short[:first] == whole[:first]
    assert "--all" in " ".join(part([*short, ""], "More"))


def test_those_that_slipped_stand_by_tag_and_those_that_did_not_are_counted(
    capsys: pytest.CaptureFixture[str],
) -> None:
    rows = part(sheet(capsys), "Its sisters")
    assert [line.split()[0] for line in rows if line.startswith("  H")] == ["H53", "H56", "H57", "H61", "H58"]
    assert any(line.startswith("  24   no slip written, share salt lot S-112: H16, H23") for line in rows)
    heads = [line[:6].strip() for line in rows[1:]]
    assert sum(int(head) for head in heads if head.isdigit()) == 32  # with the five that slipped all 37


def test_an_investigators_question_takes_one_line_and_readings_are_summed_up(
    capsys: pytest.CaptureFixture[str],
) -> None:
    rows = " ".join(" ".join(part(sheet(capsys), "What an investigator")).split())
    assert "read 7 times, pH 1.8 to 2.1, 38 h 7 min without a reading at most" in rows
    assert "from sample_ledgers" not in rows
    whole = " ".join(" ".join(part(sheet(capsys, "--all"), "What an investigator")).split())
    assert "no reading for 38 h 7 min from Sat 7 Nov 17:25" in whole


def test_only_those_that_slipped_and_the_nearest_sound_one_are_laid_side_by_side(
    capsys: pytest.CaptureFixture[str],
) -> None:
    rows = part(sheet(capsys), "Side by side")
    assert [line.split()[0] for line in rows if line.startswith("  H")] == [
        "H52",
        "H53",
        "H49",
        "H56",
        "H57",
        "H61",
        "H58",
    ]


def test_a_program_gets_all_of_it_either_way(capsys: pytest.CaptureFixture[str]) -> None:
    assert sheet(capsys, "--json") == sheet(capsys, "--json", "--all")
