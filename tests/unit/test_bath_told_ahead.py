"""A stay written with its from and to stands in the bath that stood at that hour, not at the hour of its stamp. Common practice, no source."""

from hideledger.model.book import Book
from hideledger.reading import read_text
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.layout import lay_out
from tests.unit.test_bath_reckoned import SHOP

HEAD = (
    f"{SHOP}process soda\n  in\n  neutralised   stays at most 30 min\n  out\n\n"
    "2026-11-02 08:00 H1 in, 8 lb, green, process soda\n2026-11-02 08:40 H1 neutralised in N1 9:00 to 9:20\n"
)


def laid_out(lines: str) -> Floor:
    book: Book = read_text(HEAD + lines)
    assert not book.unread
    return lay_out(book, book.clock.instant(book.entries[0].when.day, 12 * 60)[0])


def test_a_bath_mixed_below_the_line_and_before_the_stay_has_the_skin_in_it() -> None:
    floor = laid_out("2026-11-02 08:45 N1 mixed in V1, 10 gal water\n")
    bath, hide = floor.baths["N1"][0], floor.hides["H1"][0]
    (member,) = bath.members
    assert (member.hide, member.leave) == (hide, hide.stays[-1].end)
    assert hide.stays[-1].bath is bath
    assert (member.enter.lo - bath.made_when.lo, bath.pounds_through) == (15 * 60, 8.0)
    assert not bath.now_in


def test_the_vessel_may_stand_for_the_bath_that_was_mixed_in_it() -> None:
    book = read_text(HEAD.replace("in N1 9:00", "in V1 9:00") + "2026-11-02 08:45 N1 mixed in V1, 10 gal water\n")
    floor = lay_out(book, book.clock.instant(book.entries[0].when.day, 12 * 60)[0])
    assert len(floor.baths["N1"][0].members) == 1


def test_a_bath_mixed_after_the_stay_began_has_nobody_in_it() -> None:
    floor = laid_out("2026-11-02 09:05 N1 mixed in V1, 10 gal water\n")
    assert floor.baths["N1"][0].members == []
