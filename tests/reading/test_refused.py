"""Each message and the malformed lines that must raise it, from what people really do wrong; a row that is read, or refused elsewhere, fails.

Common practice, no source. `refused.txt`: the message in square brackets and its words, below it the lines (`> line`), each with the column of
its mark behind ` @`. `[[name]]` before a line stands for the page it is read under.
"""

from __future__ import annotations

import re
from datetime import date

import pytest

from hideledger.reading import read_text
from hideledger.reading.book import entry_grammar
from hideledger.reading.complain import SPOKEN
from hideledger.shopfloor.layout import lay_out
from tests.reading.told import HERE, TRIAL_SHOP, read_with_trial_shop

# The shop of these rows has said nothing of dates or degrees, and keeps no plain soda.
SHOP = (
    TRIAL_SHOP.replace("  dates month first\n", "")
    .replace("  degrees F\n", "")
    .replace("baking soda or soda", "baking soda")
)
ABOVE = "2026-11-03\n23:00 H46 fleshed -- thin\n2026-11-04\n"
UNDER_LATE = "2026-11-03\n23:00 H46 fleshed -- thin\n"
Row = tuple[str, str, str, int]


def rows() -> list[Row]:
    found: list[Row] = []
    code = words = ""
    for line in (HERE / "refused.txt").read_text(encoding="utf-8").split("\n"):
        head = re.match(r"\[(.*?)\] (.*)", line)
        if head:
            code, words = head[1], head[2]
        elif line.startswith("> "):
            text, column = line[2:].rsplit(" @", 1)
            found.append((code, words, text, int(column)))
    return found


ROWS = rows()


def test_enough_of_them() -> None:
    assert len(ROWS) >= 120
    assert len({code for code, _, _, _ in ROWS}) >= 45


@pytest.mark.parametrize(("code", "words", "line", "column"), ROWS, ids=[line for _, _, line, _ in ROWS])
def test_row(code: str, words: str, line: str, column: int) -> None:
    above = UNDER_LATE if line.startswith("0:") else ABOVE
    book = read_with_trial_shop(f"{above}{line}\n08:50 H46 salt\n" if line[0] not in "0" else f"{above}{line}\n", SHOP)
    at = above.count("\n") + 1
    assert [
        (trouble.place.line, trouble.place.column, trouble.code) for trouble in book.unread if trouble.place.line == at
    ] == [(at, column, code)]
    trouble = next(trouble for trouble in book.unread if trouble.place.line == at)
    assert words in trouble.message
    assert trouble.text == line
    assert any(entry.text.startswith("23:00 H46") for entry in book.entries)


def test_every_terminal_of_the_grammar_has_words() -> None:
    names = {terminal.name for terminal in entry_grammar().terminals} - {"BLANKS", "STOP", "COMMENT"}
    assert names <= set(SPOKEN)


@pytest.mark.parametrize("run", ["H8 thru H11", "H8-11", "h8 to 11", "H11 thru H8"])
def test_every_tag_inside_a_run_is_known_to_stand_on_a_line_that_could_not_be_read(run: str) -> None:
    """Only the ends were known once, and H9 and H10 rang as unknown tags on every line below."""
    page = f"shop T\n  zone America/Chicago\n  gallons US\nkind whitetail cape\nprocess mounts\n  in\n  fleshed\n  out\n\n2026-11-02 09:10 {run} in, cape, 6 lb\n2026-11-02 11:00 H8 thru H11 fleshed\n"
    book = read_text(page)
    assert [set(complaint.tags) for complaint in book.unread] == [{"H8", "H9", "H10", "H11"}]
    assert lay_out(book, book.clock.day_end(date(2026, 11, 3).toordinal())).oddities == []
