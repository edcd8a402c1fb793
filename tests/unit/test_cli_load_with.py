"""`load --with`: a hide that comes is asked about as people say it, and what was understood is what is reckoned with."""

from __future__ import annotations

from pathlib import Path

import pytest

from hideledger.cli import main
from tests.unit.test_cli_load import FRIDAY, MIXED, SHOP, Captured, asked, book, capes, record

# Friday 6 November, 8:00. Opens at 8:00, on Saturday too; closed on Sunday.
COMES = [
    ("H60 in tomorrow, whitetail cape", "2026-11-07T14:00:00Z"),
    ("H60 in, whitetail cape", "2026-11-06T14:00:00Z"),
    ("H60 whitetail cape", "2026-11-06T14:00:00Z"),
    ("whitetail cape tomorrow", "2026-11-07T14:00:00Z"),
    ("a whitetail cape comes in on Tuesday", "2026-11-10T14:00:00Z"),
    ("H60 arrives Tue 2 pm, whitetail cape, 5 lb", "2026-11-10T20:00:00Z"),
    ("next Friday a whitetail cape", "2026-11-13T14:00:00Z"),
    ("H60 in 3 days, whitetail cape", "2026-11-09T14:00:00Z"),
    ("H60 in a week, whitetail cape", "2026-11-13T14:00:00Z"),
    ("whitetail cape next week", "2026-11-13T14:00:00Z"),
    ("H60 in tomorrow at 9, whitetail cape", "2026-11-07T15:00:00Z"),
    ("H60 in 2026-11-12 10:30, whitetail cape", "2026-11-12T16:30:00Z"),
    ("2026-11-12 10:30 H60 in, whitetail cape", "2026-11-12T16:30:00Z"),
    ("H60 in 12 Nov, whitetail cape", "2026-11-12T14:00:00Z"),
    ("Nov 12 H60 whitetail cape", "2026-11-12T14:00:00Z"),
    ("H60 in on Sunday, whitetail cape", "2026-11-09T14:00:00Z"),  # nobody is there before Monday
]


@pytest.mark.parametrize(("words", "comes"), COMES)
def test_it_comes_when_it_was_said_to(tmp_path: Path, capsys: Captured, words: str, comes: str) -> None:
    found = record(capsys, "--with", words, book(tmp_path, MIXED + capes(2)), "--at", FRIDAY)
    assert found["comes"] == comes
    assert "whitetail cape" in found["line"]


def test_without_a_tag_it_is_the_next_of_the_row(tmp_path: Path, capsys: Captured) -> None:
    found = record(capsys, "--with", "a coyote, 4 lb, for Ida Crane", book(tmp_path, MIXED + capes(7)), "--at", FRIDAY)
    assert found["tag"] == "H8"
    # By hand: pickle from Friday 8:00, three days are up on Monday 8:00; neutralised till 8:30, tan till Wednesday 8:30, drained till 9:00.
    assert found["line"] == "H8 in, coyote, 4 lb, for Ida Crane, promised 2026-11-11"


def test_a_promise_may_be_asked_for_in_words(tmp_path: Path, capsys: Captured) -> None:
    place = book(tmp_path, MIXED + capes(2))
    for words, day in (
        ("promised Wednesday", "2026-11-11"),
        ("promised Thursday", "2026-11-12"),
        ("promised by 12 Nov", "2026-11-12"),
        ("promised in 2 weeks", "2026-11-20"),
    ):
        kept = day >= "2026-11-12"  # by hand: in on Monday, three days of pickle, into the drum on Thursday
        found = record(
            capsys, "--with", f"H60 in on Monday, whitetail cape, 5 lb, {words}", place, "--at", FRIDAY, code=not kept
        )
        assert (found["asked_for"], found["can_be_kept"]) == (day, kept)


def test_what_the_book_says_of_later_days_is_not_known_yet(tmp_path: Path, capsys: Captured) -> None:
    """By the book H60 is another hide, on Tuesday. Asked today: three days of pickle from Wednesday 8:00 on, Saturday 8:00 into the drum, done at 10:30."""
    later = "2026-11-10 09:00 H60 in, coyote, 3 lb\n2026-11-10 10:00 H60 fleshed\n2026-11-10 10:10 H60 pickle in P1\n"
    place = book(tmp_path, MIXED + capes(2) + later)
    found = record(capsys, "--with", "H60 in on Wednesday, whitetail cape", place, "--at", FRIDAY)
    assert (found["comes"], found["earliest"]) == ("2026-11-11T14:00:00Z", "2026-11-14")


def test_a_frozen_one_has_to_thaw_first(tmp_path: Path, capsys: Captured) -> None:
    """Fresh on Monday it is in the pickle at once, till Thursday; frozen it thaws till Tuesday, and is done a day later."""
    place = book(tmp_path, MIXED + capes(2))
    fresh = record(capsys, "--with", "H60 in on Monday, whitetail cape", place, "--at", FRIDAY)
    frozen = record(capsys, "--with", "H60 in on Monday, whitetail cape, frozen", place, "--at", FRIDAY)
    assert (fresh["earliest"], frozen["earliest"]) == ("2026-11-12", "2026-11-13")


def test_it_says_that_no_promise_can_be_reckoned_and_why(tmp_path: Path, capsys: Captured) -> None:
    shop = "".join(line for line in SHOP.splitlines(keepends=True) if not line.startswith("vessel D1"))
    place = book(tmp_path, MIXED + capes(2), shop)
    words = ("--with", "H60 in on Monday, whitetail cape", place, "--at", FRIDAY)
    out = asked(capsys, *words, code=1)
    assert "H60 no promise can be reckoned: first turn, second turn wants a drum, and no drum is written down" in out
    assert record(capsys, *words, code=1)["earliest"] is None


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("a moose tomorrow, process both", "moose"),
        ("H60 in tomorrow, moose cape, process both", "moose cape"),
        ("H60 in tomorrow, whitetail cape, moose", "moose"),
    ],
)
def test_what_is_no_kind_of_the_shop_is_not_planned_as_one(
    tmp_path: Path, capsys: Captured, words: str, said: str
) -> None:
    assert main(["load", "--with", words, book(tmp_path, MIXED + capes(2)), "--at", FRIDAY]) == 2
    told = " ".join(capsys.readouterr().err.split())
    assert f"`{said}` is no kind of the shop (whitetail cape, elk cape or coyote); " in told
    assert f"`kind {said}`" in told


def test_a_kind_that_is_not_said_and_one_that_was_never_here_are_said_aloud(tmp_path: Path, capsys: Captured) -> None:
    place = book(tmp_path, MIXED + capes(2))
    unsaid = record(capsys, "--with", "H60 in on Monday, 5 lb, process both", place, "--at", FRIDAY)
    assert any("no kind is said for H60: it is taken to count 1" in one for one in unsaid["assumed"])
    first = record(capsys, "--with", "H60 in on Monday, elk cape", place, "--at", FRIDAY)
    assert any(one.startswith("no elk cape was in this shop before") for one in first["assumed"])
    again = record(capsys, "--with", "H60 in on Monday, whitetail cape", place, "--at", FRIDAY)
    assert not any("before" in one or "no kind" in one for one in again["assumed"])


def test_a_promise_for_a_day_on_which_the_shop_is_shut_is_told_so(tmp_path: Path, capsys: Captured) -> None:
    place = book(tmp_path, MIXED + capes(2))
    told = asked(capsys, "--with", "H60 in on Monday, whitetail cape, promised 2026-11-15", place, "--at", FRIDAY)
    assert "asked for Sun 15 Nov, when the shop is shut: can be kept" in told
