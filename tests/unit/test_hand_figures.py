"""Figures reckoned by hand from a book (common practice, no source): elapsed time over a clock change, a drum's turning, counts and heads."""

from __future__ import annotations

from datetime import date

import pytest

from hideledger.model.book import Book
from hideledger.reading import read_text
from hideledger.rules.judge import judge
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.layout import lay_out

SHOP = """\
shop Trial
  zone America/Chicago
  gallons US
kind whitetail cape, counts 1
kind elk cape, counts 3
vessel D1, drum, 19 gal, holds {holds}
vessel V1, vat, 40 gal, holds {holds}
process both
  in
  salt        stays at least 24 h
  pickle      stays at least 3 d
  turned      runs 2 h to 4 h, in a bath
  drained
  out
"""


def floor_of(page: str, at: str, holds: int = 12) -> Floor:
    book: Book = read_text(SHOP.format(holds=holds) + page)
    assert not book.unread
    day, time = at.split()
    hour, minute = time.split(":")
    return lay_out(book, book.clock.instant(date.fromisoformat(day).toordinal(), int(hour) * 60 + int(minute))[0])


def test_sixty_one_hours_and_thirty_five_minutes_in_salt() -> None:
    """From 30 October 19:40 to 2 November 8:15 in Chicago, 2026: the clocks went back, so 61 h 35 min and not 60 h 35."""
    floor = floor_of(
        "2026-10-30 18:20 H41 in\n2026-10-30 19:40 H41 salt\n2026-11-02 08:15 H41 pickle\n", "2026-11-02 12:00"
    )
    stay = floor.hides["H41"][0].stays[0]
    assert stay.end is not None
    assert stay.end.lo - stay.start.lo == (61 * 60 + 35) * 60
    assert stay.end.hi == stay.end.lo


def test_a_drum_ran_three_hours_and_a_quarter_and_stood_twenty_minutes() -> None:
    """45 min and 2 h 30 of turning with hides in it for 3 h 35: ran 3 h 15, stood 20 min."""
    page = (
        "2026-11-09 07:00 H41 H44 in\n"
        "2026-11-09 08:00 L14 mixed in D1, 2 gal water\n"
        "2026-11-09 08:20 H41 H44 turned in L14\n"
        "2026-11-09 08:30 L14 on\n2026-11-09 09:15 L14 off\n"
        "2026-11-09 L14 ran 9:25 to 11:55\n"
        "2026-11-09 11:55 all in L14 drained\n"
    )
    stay = floor_of(page, "2026-11-09 18:00").hides["H41"][0].stays[-1]
    assert stay.end is not None
    inside = stay.end.lo - stay.start.lo
    assert inside == (3 * 60 + 35) * 60
    assert stay.turned == ((3 * 60 + 15) * 60, (3 * 60 + 15) * 60)
    assert inside - stay.turned[0] == 20 * 60


@pytest.mark.parametrize(("holds", "told"), [(5, False), (4, True)])
def test_an_elk_and_two_capes_count_five_and_are_three_heads(holds: int, told: bool) -> None:
    """One elk that counts 3 and two capes: five by counts, three by heads. A vat that holds five takes them, one that holds four does not."""
    page = (
        "2026-11-09 07:00 H1 in, elk cape\n2026-11-09 07:00 H2 H3 in, whitetail cape\n"
        "2026-11-09 07:30 P1 mixed in V1, 20 gal water\n2026-11-09 08:00 H1 H2 H3 pickle in P1\n"
    )
    floor = floor_of(page, "2026-11-09 09:00", holds)
    assert len(floor.baths["P1"][0].now_in) == 3
    assert any(finding.name == "vessel over full" for finding in judge(floor)) is told
