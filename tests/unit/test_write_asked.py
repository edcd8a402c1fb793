"""What `write` asks about a line, what it tells at once, and what it does not claim to have put right."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pytest

from hideledger.cli import main
from tests.unit.small_book import PAGE, SHOP, write_book

AT = "2026-11-05 10:40"
PEOPLE = "customer Nell Farrow\ncustomer Bram Tolley\ncustomer Hob Carrow\n"
Captured = pytest.CaptureFixture[str]


@pytest.fixture
def book(tmp_path: Path) -> str:
    return write_book(tmp_path / "book", PAGE, SHOP + PEOPLE)


def write(book: str, *words: str, at: str = AT) -> int:
    return main(["write", "--book", book, "--at", at, *words])


def flat(text: str) -> str:
    """The same text with its lines joined."""
    return " ".join(text.split())


def test_a_line_of_a_far_year_rings_when_it_is_written_and_not_a_minute_later(book: str, capsys: Captured) -> None:
    assert write(book, "2062-11-02 8:44 H1 2 lb") == 1
    out = flat(capsys.readouterr().out)
    assert "dated ahead, it does not count until Thu 2 Nov 2062 08:44" in out
    assert "Brought up by it dated ahead: H1" in out
    assert main(["check", book, "--at", "2026-11-05 10:41"]) == 1
    assert "dated ahead: H1" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("line", "until"),
    [("2026-11-06 10:00 H1 drained", "until Fri 6 Nov 10:00 "), ("2026-11-06 H1 drained", "until Fri 6 Nov ")],
)
def test_a_line_of_tomorrow_is_told_and_exit_1(book: str, capsys: Captured, line: str, until: str) -> None:
    assert write(book, line) == 1
    assert f"H1: drained; dated ahead, it does not count {until}" in capsys.readouterr().out


@pytest.mark.parametrize("line", ["P1 add 5 oz citric acid", "V1 topped up to 24 gal"])
def test_after_a_dose_the_reply_says_by_when_to_read(book: str, capsys: Captured, line: str) -> None:
    assert write(book, line, at="2026-11-05 12:05") == 0
    assert "; read it by 13:05" in capsys.readouterr().out


def test_after_hides_go_into_a_bath_the_reply_says_by_when_to_read_it(book: str, capsys: Captured) -> None:
    assert write(book, "H1 pickle in P1", at="2026-11-05 12:05") == 0
    assert "; P1: read it by 13:05" in capsys.readouterr().out


def test_a_dose_in_a_bath_with_nobody_in_it_asks_for_no_reading(book: str, capsys: Captured) -> None:
    write(book, "P2 mixed in V1, 10 gal water")
    capsys.readouterr()
    write(book, "P2 add 5 oz citric acid")
    assert "read it" not in capsys.readouterr().out


@pytest.mark.parametrize(
    ("line", "asked"),
    [
        ("H1 for Nell Farow", "Nell Farow: customer Nell Farrow is in the book; is it the same?"),
        ("paid $40 by Bram Toley", "Bram Toley: customer Bram Tolley is in the book; is it the same?"),
        ("H1 out to Hob Carow", "Hob Carow: customer Hob Carrow is in the book; is it the same?"),
    ],
)
def test_a_name_nearly_that_of_a_customer_is_asked(book: str, capsys: Captured, line: str, asked: str) -> None:
    write(book, line)
    assert asked in flat(capsys.readouterr().out)


def test_a_name_nearly_one_that_was_written_before_is_asked(book: str, capsys: Captured) -> None:
    write(book, "H2 out to Edda Wrenn")
    capsys.readouterr()
    write(book, "H1 out to Edda Wren")
    assert f"Edda Wren: Edda Wrenn ({book}/november.hides:13) is in the book" in flat(capsys.readouterr().out)


@pytest.mark.parametrize("line", ["H1 for Nell Farrow", "H1 for nell  farrow", "H1 for Ida Crane"])
def test_a_name_that_is_known_or_like_nobody_is_not_asked(book: str, capsys: Captured, line: str) -> None:
    write(book, line)
    assert "Is it so?" not in capsys.readouterr().out


def test_a_waiving_without_its_reason_is_told_what_to_write(book: str, capsys: Captured) -> None:
    write(book, "H1 drained", at="2026-11-05 11:50")
    capsys.readouterr()
    for line in ("H1 waived stayed too long", "H1 waived stayed too long -- why"):
        write(book, line, at="2026-11-05 11:55")
        told = flat(capsys.readouterr().out)
        assert "without a reason it answers nothing" in told
        assert "`H1 waived stayed too long -- why`" in told
    write(book, "H1 waived stayed too long -- the phone rang", at="2026-11-05 11:56")
    assert "Is it so?" not in capsys.readouterr().out


def test_a_waiving_of_what_is_not_told_is_said(book: str, capsys: Captured) -> None:
    write(book, "H1 waived slip nearby -- looked at it")
    told = flat(capsys.readouterr().out)
    assert "nothing of the name `slip nearby` is told of H1 now" in told


def test_a_waiving_together_with_what_it_answers_is_taken(
    book: str, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    lines = b"H1 drained\nH1 waived stayed too long -- the phone rang\n"
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(lines), encoding="utf-8"))
    write(book, at="2026-11-05 11:50")
    assert "Is it so?" not in capsys.readouterr().out


def test_a_weight_says_which_it_is_and_what_was_before(book: str, capsys: Captured) -> None:
    write(book, "H1 7 lb")
    assert "H1: 7 lb green (before: 7.5 lb green Mon 2 Nov 09:05)" in capsys.readouterr().out


@pytest.mark.parametrize(("weight", "asked"), [("15 lb", True), ("3.75 lb", True), ("8 lb", False), ("3.8 lb", False)])
def test_twice_or_half_of_the_last_weight_of_its_sort_is_asked(
    book: str, capsys: Captured, weight: str, asked: bool
) -> None:
    write(book, f"H1 {weight} green")
    told = flat(capsys.readouterr().out)
    assert (f"H1: {weight} green, and 7.5 lb green Mon 2 Nov 09:05: is that so?" in told) == asked


def test_one_weight_for_several_is_each_ones(book: str, capsys: Captured) -> None:
    write(book, "H1 H2 6 lb green each")
    assert "H1 H2: 6 lb green each" in capsys.readouterr().out


@pytest.mark.parametrize("line", ["H2 out of P1", "H2 lost", "V1 dumped"])
def test_a_bath_out_of_its_range_is_not_put_right_by_leaving_it(book: str, capsys: Captured, line: str) -> None:
    write(book, "P1 pH 2.9 meter")
    capsys.readouterr()
    write(book, line, at="2026-11-05 10:50")
    assert "no longer out of range now" not in capsys.readouterr().out


@pytest.mark.parametrize(("line", "right"), [("P1 pH 2.0 meter", True), ("H2 out of P1", False), ("H2 lost", False)])
def test_a_reading_that_is_due_is_put_right_by_a_reading_alone(
    book: str, capsys: Captured, line: str, right: bool
) -> None:
    write(book, "P1 add 5 oz citric acid")
    capsys.readouterr()
    write(book, line, at="2026-11-05 10:50")
    assert ("no longer reading due: H2 P1" in capsys.readouterr().out) == right


def test_one_name_is_put_right_in_one_row(book: str, capsys: Captured, monkeypatch: pytest.MonkeyPatch) -> None:
    write(book, "10:39 H2 neutralised")
    capsys.readouterr()
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(b"H1 drained\nH2 drained\n"), encoding="utf-8"))
    write(book)
    assert capsys.readouterr().out.endswith("Put right\n  no longer due: H1 H2\n")


def test_what_was_tried_says_so_on_every_plain_line(book: str, capsys: Captured) -> None:
    write(book, "H1 drained", "--try", "--plain")
    assert capsys.readouterr().out.startswith(f"{book}/november.hides:13:1: tried, not written: H1: drained")


def test_a_refusal_says_so_on_a_plain_line_too(book: str, capsys: Captured) -> None:
    assert write(book, "H1 draind", "--plain") == 3
    assert capsys.readouterr().out.startswith(f"{book}/november.hides:13:21: not written: `draind` is no step")


@pytest.mark.parametrize("line", ["-- wet ears", "— wet ears", "H1 drained\n\n-- wet ears"])
def test_a_remark_with_no_line_above_it_is_refused(
    book: str, capsys: Captured, line: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(line.encode()), encoding="utf-8"))
    assert write(book) == 2
    assert "wet ears` goes on with no line: say whose remark it is" in capsys.readouterr().err
    assert (Path(book) / "november.hides").read_text(encoding="utf-8") == PAGE


def test_a_remark_below_its_line_is_taken_with_it(book: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(b"H1 drained\n  -- wet ears"), encoding="utf-8"))
    assert write(book) == 0
    assert (Path(book) / "november.hides").read_text(encoding="utf-8").endswith("H1 drained\n  -- wet ears\n")


def test_several_hides_are_said_in_one_short_line(book: str, capsys: Captured) -> None:
    for number, minute in enumerate(range(0, 25, 5), 20):
        write(book, f"2026-11-05 09:{minute:02d} H{number} in, whitetail cape, for Nell Farrow, tag {number}")
    capsys.readouterr()
    write(book, "H20 H21 H22 H23 H24 fleshed")
    first = capsys.readouterr().out.partition("\n")[0]
    assert first.startswith("H20 thru H24: fleshed at 10:40; next: pickle")
    assert first.count("next: ") == 1


def test_a_new_page_is_said(tmp_path: Path, capsys: Captured) -> None:
    book = write_book(tmp_path / "book", "")
    (tmp_path / "book" / "november.hides").unlink()
    write(book, "freezer 4 F")
    assert f"({book}/2026-11.hides:1, a new page)" in capsys.readouterr().out
    write(book, "freezer 4 F")
    assert "new page" not in capsys.readouterr().out


def test_asking_what_to_write_shows_the_quotes_that_are_safe(book: str, capsys: Captured) -> None:
    assert write(book, "") == 2
    assert "as in: hideledger write 'H41 salt'" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("line", "day"),
    [
        ("yesterday 10:00 H41 ears turned", "`2026-11-11 10:00 H41 ears turned`"),
        ("today H41 ears turned", "`2026-11-12 H41 ears turned`"),
        ("Wednesday 10:00 H41 ears turned", "`2026-11-11 10:00 H41 ears turned`"),
        ("Thu 10:00 H41 ears turned", "`2026-11-12 10:00 H41 ears turned`"),
        ("Fri. 10:00 H41 ears turned", "`2026-11-06 10:00 H41 ears turned`"),
        ("H51 in, killed yesterday", "`2026-11-11`"),
    ],
)
def test_a_day_by_its_word_is_refused_with_the_date_it_means(book: str, capsys: Captured, line: str, day: str) -> None:
    # 12 November 2026 is a Thursday.
    assert write(book, line, at="2026-11-12 18:00") == 3
    assert f"write the date itself: {day}" in flat(capsys.readouterr().out)


@pytest.mark.parametrize(
    "line",
    [
        "10-30 9:00 H41 ears turned",
        "10-30-26 H41 ears turned",
        "30.10. 9:00 H41 ears turned",
        "12.11 10:00 H41 ears turned",
    ],
)
def test_a_date_the_book_does_not_read_is_told_as_a_date(book: str, capsys: Captured, line: str) -> None:
    assert write(book, line, at="2026-11-12 18:00") == 3
    told = flat(capsys.readouterr().out)
    assert ":1: a date?" in told
    assert "write it as 2026-11-03" in told


def test_a_recipe_without_its_word_is_told_how_it_is_written(book: str, capsys: Captured) -> None:
    page = Path(book) / "november.hides"
    page.write_text(
        f"recipe tan bath\n  per gal water: 8 oz salt\n{page.read_text(encoding='utf-8')}", encoding="utf-8"
    )
    assert write(book, "P9 mixed in V1, tan bath, 10 gal water") == 3
    assert "`tan bath` is a recipe of the shop: write `recipe tan bath`" in flat(capsys.readouterr().out)


def test_out_of_a_step_is_told_what_ends_a_step(book: str, capsys: Captured) -> None:
    assert write(book, "H41 out of pickle") == 3
    assert "`pickle` is a step, and what ends it is the line of the next one" in flat(capsys.readouterr().out)
