"""By the book a skin lies raw for days: sooner a line is missing than that anybody lets it lie, so that is asked first."""

from __future__ import annotations

from hideledger.reading import read_text
from hideledger.rules.finding import Finding
from hideledger.rules.judge import judge
from hideledger.shopfloor.layout import lay_out
from tests.unit.test_rules_judging import moment

SHOP = """shop Bramble Lane Skins
  zone America/Chicago
  room 66 F
kind whitetail cape or cape
place cooler, 34 to 40 F
process cape
  in
  fleshed
  salt     stays at least 1 d, raw clock stops
  out
  raw at most 12 h at 66 F
2026-11-02 09:00 H5 in, whitetail cape, green, killed 2026-11-02 6:00, process cape
"""


def told(at: str, lines: str = "") -> Finding | None:
    book = read_text(SHOP + lines)
    assert not book.unread
    return next((one for one in judge(lay_out(book, moment(book, at))) if one.name == "raw too long"), None)


def test_over_its_limit_it_is_to_be_got_cold_at_once() -> None:
    one = told("2026-11-03 09:00")
    assert one is not None
    assert one.do == "get it cold or get on with it, and write: `H5 fleshed`, then `H5 salt`"


def test_after_days_it_is_asked_first_whether_it_is_there_and_what_to_write_is_named() -> None:
    one = told("2026-11-04 09:00")
    assert one is not None
    assert (one.when, one.rings) == ("now", True)
    assert one.do == (
        "look first whether it is there: if it was lost or handed back, write that with its own date: `H5 lost -- why`, or `H5 out to NAME`; "
        "if lines are missing, write them with their dates: `H5 fleshed`, then `H5 salt`; if it lies there raw, get it cold and pull at it"
    )


def test_each_of_the_lines_it_names_answers_it() -> None:
    for lines in (
        "2026-11-02 12:00 H5 lost -- the dog had it\n",
        "2026-11-02 12:00 H5 out to Wen Alder\n",
        "2026-11-02 12:00 H5 fleshed\n2026-11-02 13:00 H5 salt\n",
    ):
        assert told("2026-11-04 09:00", lines) is None


def test_of_a_few_hours_over_a_short_limit_nobody_asks_that() -> None:
    book = read_text(SHOP.replace("at most 12 h", "at most 2 h"))
    raw = [one for one in judge(lay_out(book, moment(book, "2026-11-02 17:00"))) if one.name == "raw too long"]
    (one,) = [one for one in raw if one.when == "now"]
    assert one.do.startswith("get it cold or get on with it")
