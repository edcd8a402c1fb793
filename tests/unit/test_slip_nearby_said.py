"""How `slip nearby` says who slipped and who only lay beside: one sentence a bath, nobody named twice; and where else it is said."""

from __future__ import annotations

from pathlib import Path

import pytest

from hideledger.cli import main
from hideledger.rules.finding import Finding
from hideledger.rules.judge import judge
from tests.unit.test_advice_by_stand import SHOP, floor_of

Captured = pytest.CaptureFixture[str]

MORE = """2026-11-02 09:00 H3 H4 H5 in, whitetail cape, green, process cape, for Wen Alder
2026-11-02 09:30 H3 H4 H5 fleshed
2026-11-02 10:00 H3 H4 pickle in P1
2026-11-03 09:00 H2 slip, belly
"""


def told(lines: str, at: str) -> list[Finding]:
    return [one for one in judge(floor_of(lines, at)) if one.name == "slip nearby"]


def test_who_slipped_is_named_with_his_own_line_and_never_who_lay_beside() -> None:
    (one,) = told(MORE + "2026-11-04 09:00 H4 slip, ears\n", "2026-11-04 12:00")
    assert one.tags == ("H1", "H3")
    assert one.message == "lay with H2 in P1, and H2 slipped at belly, Tue 3 Nov 09:00"
    (so_did,) = one.more
    assert so_did.startswith("so did H4, Wed 4 Nov 09:00 (page.hides:")


def test_a_bath_speaks_once_of_those_that_lay_there_and_of_those_that_went_in_later() -> None:
    (one,) = told(MORE + "2026-11-04 09:00 H5 pickle in P1\n", "2026-11-04 12:00")
    assert one.tags == ("H1", "H3", "H4", "H5", "P1")
    assert one.message == "lay in P1, as H2 did, and H2 slipped at belly, Tue 3 Nov 09:00"
    (went_in,) = one.more
    assert went_in.startswith("H5 went in Wed 4 Nov 09:00 (page.hides:")
    assert "no more skins into P1 until it is set right" in one.do
    assert one.do.endswith("`P1 waived slip nearby -- dosed, and read again`")


def test_what_the_advice_says_to_write_of_the_bath_answers_it_for_those_that_went_in_later_alone() -> None:
    (one,) = told(
        MORE + "2026-11-04 09:00 H5 pickle in P1\n2026-11-04 10:00 P1 waived slip nearby -- dosed, and read again\n",
        "2026-11-04 12:00",
    )
    assert one.tags == ("H1", "H3", "H4")
    assert "no more skins" not in one.do


def test_alone_it_went_in_after_the_other_and_the_matter_begins_then() -> None:
    lines = (
        MORE
        + "2026-11-03 10:00 H1 H3 H4 waived slip nearby -- looked at every inch\n2026-11-04 09:00 H5 pickle in P1\n"
    )
    alone = floor_of(lines.replace("H3 H4 pickle in P1", "H3 H4 salt"), "2026-11-04 12:00")
    (one,) = [one for one in judge(alone) if one.name == "slip nearby"]
    assert one.tags == ("H5", "P1")
    assert one.since is not None
    assert f"{alone.book.clock.local(one.since):%d %H:%M}" == "04 09:00"


def test_one_that_lay_with_another_of_them_is_said_to() -> None:
    lines = MORE + "2026-11-03 10:00 H2 out of P1\n2026-11-04 09:00 H5 pickle in P1\n2026-11-05 09:00 H4 slip, ears\n"
    (one,) = told(lines, "2026-11-05 12:00")
    assert one.message == "lay in P1, as H2 did, and H2 slipped at belly, Tue 3 Nov 09:00"
    assert one.more[-1] == "H5 lay with H4"


def test_after_a_look_and_a_reason_the_next_sign_rings_again() -> None:
    quiet = MORE + "2026-11-03 10:00 H1 H3 waived slip nearby -- looked at every inch\n"
    assert [one.tags for one in told(quiet, "2026-11-03 12:00")] == [("H4",)]
    again = quiet + "2026-11-04 09:00 H4 slip, ears\n"
    assert [one.tags for one in told(again, "2026-11-04 12:00")] == [("H1", "H3")]


def written(folder: Path, capsys: Captured, line: str, at: str) -> str:
    (folder / "book.hides").write_text(SHOP + MORE + "2026-11-03 09:05 H4 slip, ears\n", encoding="utf-8")
    main(["write", line, "--book", str(folder), "--try", "--at", at])
    return " ".join(capsys.readouterr().out.split())


def test_before_a_skin_goes_in_write_says_who_slipped_in_that_bath(tmp_path: Path, capsys: Captured) -> None:
    said = written(tmp_path, capsys, "H5 pickle in P1", "2026-11-04 09:00")
    assert "P1: H2 H4 slipped in it, the last Tue 3 Nov 09:05" in said
    assert "slip nearby: H1 H3 H5 P1" in said
    assert "slipped in it" not in written(tmp_path, capsys, "H5 salt", "2026-11-04 09:00")


def test_the_evening_look_has_it_before_one_goes(tmp_path: Path, capsys: Captured) -> None:
    (tmp_path / "book.hides").write_text(SHOP + MORE + "2026-11-04 09:00 H5 pickle in P1\n", encoding="utf-8")
    main(["floor", "--book", str(tmp_path), "--at", "2026-11-04 17:00"])
    said = " ".join(capsys.readouterr().out.split())
    _, _, rest = said.partition("Before you go")
    assert "slip nearby: H1, H3 thru H5, P1" in rest.partition("Tubs")[0]


def test_the_history_of_one_that_went_in_later_tells_it_from_then_on(tmp_path: Path, capsys: Captured) -> None:
    (tmp_path / "book.hides").write_text(SHOP + MORE + "2026-11-04 09:00 H5 pickle in P1\n", encoding="utf-8")
    main(["history", "H5", "--book", str(tmp_path), "--at", "2026-11-04 12:00"])
    (line,) = [line for line in capsys.readouterr().out.split("\n") if "slip nearby" in line]
    assert line.split()[:2] == ["2026-11-04", "09:00"]
    assert "went into P1 then; lay in P1, as H2 did, and H2 slipped at belly" in line
