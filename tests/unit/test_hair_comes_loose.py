"""A pull test that failed rings until somebody says what became of it; at the door the question is another than in the shop."""

from __future__ import annotations

from pathlib import Path

import pytest

from hideledger.cli import main
from hideledger.rules.finding import Finding
from hideledger.rules.judge import judge
from tests.unit.test_advice_by_stand import SHOP, floor_of

Captured = pytest.CaptureFixture[str]

AT_DOOR = "2026-11-02 09:00 H5 in, whitetail cape, green, process cape, for Wen Alder\n2026-11-02 09:05 H5 pull test fails at ears\n"


def told(lines: str, at: str) -> Finding:
    (found,) = [one for one in judge(floor_of(lines, at)) if one.name == "hair comes loose"]
    assert (found.when, found.rings) == ("now", True)
    return found


def test_at_the_door_it_is_asked_who_bears_the_risk() -> None:
    one = told(AT_DOOR, "2026-11-02 10:00")
    assert one.message == "the pull test failed at ears, Mon 2 Nov 09:05, and nothing was done to it here yet"
    assert one.do.startswith("is it refused, or taken in at the customer's risk?")
    assert "`H5 refused -- hair comes at the door`" in one.do
    assert one.do.endswith("`H5 waived hair comes loose -- taken in at the customer's risk`")


@pytest.mark.parametrize(
    ("steps", "first"),
    [
        ("2026-11-02 08:30 H1 pull test fails\n", "get them cold or into fresh acid now, then pull again, gently"),
        (
            "2026-11-04 09:00 H1 neutralised\n2026-11-04 09:20 H1 pull test fails\n",
            "get them cold now, no acid any more",
        ),
    ],
)
def test_in_the_shop_it_is_kept_from_going_on_by_where_it_stands_and_pulled_at_again(steps: str, first: str) -> None:
    one = told(steps, "2026-11-04 09:30")
    assert one.do.startswith(first)
    assert "write what lets go: `H1 slip, ears, 1 in`, or where it holds after all `H1 pull test ok`" in one.do


def test_what_the_question_at_the_door_says_to_write_answers_it(tmp_path: Path, capsys: Captured) -> None:
    for answer in (
        "H5 refused -- hair comes at the door",
        "H5 waived hair comes loose -- taken in at the customer's risk",
    ):
        (tmp_path / "book.hides").write_text(SHOP + AT_DOOR, encoding="utf-8")
        assert main(["write", answer, "--book", str(tmp_path), "--at", "2026-11-02 09:10"]) == 0
        capsys.readouterr()
        main(["check", str(tmp_path), "--at", "2026-11-02 09:30"])
        assert "hair comes loose" not in capsys.readouterr().out


def test_a_skin_whose_hair_came_is_promised_to_nobody(tmp_path: Path, capsys: Captured) -> None:
    ready = "2026-11-04 09:00 H1 neutralised\n2026-11-04 09:30 H1 tan in T1\n2026-11-05 10:00 H1 drained\n2026-11-05 12:00 H1 oiled\n"
    (tmp_path / "book.hides").write_text(SHOP + ready + "2026-11-06 09:00 H1 pull test fails\n", encoding="utf-8")
    main(["owed", "H1", "--book", str(tmp_path), "--at", "2026-11-07 09:00"])
    assert "H1 being looked at, not to be promised yet" in " ".join(capsys.readouterr().out.split())
