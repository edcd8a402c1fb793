"""A vessel that holds less, or more, from a day on is judged by what it held on each day."""

from __future__ import annotations

import pytest

from hideledger.model.moments import Clock
from hideledger.reading import read_text
from hideledger.rules.judge import judge
from hideledger.shopfloor.layout import lay_out

SHOP = """\
shop Alder Fork
  zone America/Chicago
  gallons US
kind whitetail cape, process tub
process tub
  in
  pickle
  out
"""
SIX = """\
2026-11-02 08:00 P1 mixed in V1, 20 gal water
2026-11-02 08:05 H1 thru H6 in, whitetail cape
2026-11-02 09:00 H1 thru H6 pickle in P1
"""
OUT = "2026-11-04 09:00 H1 thru H6 out of P1\n"


def full(vessel: str, page: str, at: str) -> list[tuple[str, str]]:
    """When each `vessel over full` is told, and what it says."""
    book = read_text(SHOP + vessel + page)
    assert book.unread == ()
    moment = Clock("America/Chicago").instant(_day(at), 12 * 60)[0]
    return [(one.when, one.message) for one in judge(lay_out(book, moment)) if one.name == "vessel over full"]


def _day(at: str) -> int:
    from datetime import date

    return date.fromisoformat(at).toordinal()


@pytest.mark.parametrize("later", ["2026-11-10", "2027-03-01"])
def test_what_it_holds_later_says_nothing_of_before(later: str) -> None:
    assert full(f"vessel V1, vat, 40 gal, holds 12\nvessel V1, holds 5, since {later}\n", SIX + OUT, "2026-11-12") == []


def test_what_it_holds_now_hides_nothing_of_before() -> None:
    found = full("vessel V1, vat, 40 gal, holds 5\nvessel V1, holds 12, since 2026-11-10\n", SIX + OUT, "2026-11-12")
    assert [when for when, _ in found] == ["record"]
    assert found[0][1].startswith("V1 holds 5 and had 6 in it")


def test_skins_left_in_it_on_the_day_it_holds_less_are_too_many_from_then_on() -> None:
    vessel = "vessel V1, vat, 40 gal, holds 12\nvessel V1, holds 5, since 2026-11-04\n"
    assert full(vessel, SIX, "2026-11-03") == []
    found = full(vessel, SIX, "2026-11-05")
    assert [when for when, _ in found] == ["now"]
    assert "has 6 in it since Wed 4 Nov 00:00" in found[0][1]
