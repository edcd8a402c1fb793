"""Little books as they are written, read and laid out: the shop is invented, its figures are nobody's advice."""

from __future__ import annotations

from datetime import date

from hideledger.model.moments import HOUR, MINUTE
from hideledger.reading import read_text
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.layout import lay_out
from tests.unit.little_book import bath, odd, only

SHOP = """shop Fen Lane Skins
  zone America/Chicago
  gallons US
  degrees F
  room 66 F
vessel D1, drum, 19 gal, holds 5, at most 10 psi
vessel V1, vat, 40 gal, holds 12
vessel V2, vat, 40 gal, holds 12
place freezer, at most 5 F
kind whitetail cape, counts 1, process both
kind back skin, counts 1, process backs
measure dipper, 350 ml
supply salt, $0.19 per lb, keep 100 lb

process both
  in              needs pull test
  fleshed         within 12 h of in
  ears turned     optional
  salt            stays 24 h to 14 d, optional, raw clock stops
  pickle          stays at least 3 d, pH 0.8 to 2.2, read every day, raw clock stops
  shaved          optional, weighs shaved
  pickle again    stays at least 12 h, within 4 h of shaved, optional
  neutralised     stays 15 min to 30 min, optional
  first turn      runs 30 min to 50 min, in a bath
  second turn     runs 90 min to 2 h 30 min, in a bath
  drained         stays 30 min to 24 h, needs cut test, weighs drained
  oiled           within 24 h of drained
  out
  raw at most 12 h at 66 F
  may rest frozen at most 9 mo, after in or fleshed, raw clock stops

process backs
  in
  salt            stays 24 h to 14 d, raw clock stops
  out

"""


def floor(page: str, at: str = "2026-12-31 12:00", *, unread: int = 0) -> Floor:
    """The page behind the shop's own lines, laid out at a moment."""
    book = read_text(SHOP + page)
    assert len(book.unread) == unread, [str(complaint.message) for complaint in book.unread]
    day = date.fromisoformat(at[:10]).toordinal()
    return lay_out(book, book.clock.at(day, int(at[11:13]) * 60 + int(at[14:16])).lo)


def walls(laid: Floor, tag: str) -> list[str]:
    """Each stay of a hide as the wall clock says it."""

    def wall(instant: int) -> str:
        return laid.book.clock.local(instant).strftime("%d %H:%M")

    return [
        f"{stay.name} {stay.where} {wall(stay.start.lo)} to {'now' if stay.end is None else wall(stay.end.hi)}"
        for stay in only(laid, tag).stays
    ]


PAGE = """2026-10-30 18:20 H41 in, whitetail cape, buck, 7 1/2 lb, green, killed 2026-10-29 16:00 at Tarrow county, for Oren Vale
2026-10-30 18:25 H41 pull test ok
2026-10-30 18:30 H44 thru H47 in, whitetail cape, for Bea Marsh
2026-10-30 18:35 H42 in, whitetail cape, 6.8 lb, frozen, for Oren Vale
2026-10-30 19:10 H41 fleshed, ears turned, by JK
2026-10-30 19:20 H44 thru H47 fleshed
2026-10-30 19:40 H41 salt, 8 lb salt lot S-113
2026-11-02 08:00 P3 mixed in V1, 20 gal water, 20 lb salt lot S-114
2026-11-02 08:15 H41 H44 thru H47 pickle in P3
2026-11-03 07:45 P3 pH 2.3 strip, 62 F
  07:50 P3 add 8 oz salt
  18:30 P3 pH 2.0, stirred
2026-11-06 H41 H44 thru H47 shaved
2026-11-06 H41 H44 thru H47 but H46 pickle in P3
2026-11-06 H46 back in P3 -- thin line at the neck
2026-11-09 08:00 L14 mixed in D1, 9 qt water
2026-11-09 08:20 H41 H44 H45 first turn in L14, together 14 1/2 lb drained
2026-11-09 08:25 L14 on, 9 psi
2026-11-09 09:05 L14 off
2026-11-09 09:15 L14 add 2 dippers oil
2026-11-09 09:20 H41 H44 H45 second turn in L14
2026-11-09 L14 ran 9:20 to 11:05, 8 psi
2026-11-09 11:10 all in L14 drained
2026-11-09 11:15 H44 slip, left ear base, 2 in -- hair came with a light pull
2026-11-09 11:20 L14 cut test ok, H45 neck
struck 2026-11-09 11:30 H45 out to Oren Vale
2026-12-10 16:00 H41 out to Oren Vale
"""


def test_a_page_of_a_book() -> None:
    laid = floor(PAGE, "2026-11-09 12:00")
    assert walls(laid, "H41") == [
        "salt  30 19:40 to 02 08:15",
        "pickle P3 02 08:15 to 06 23:59",
        "pickle P3 06 00:00 to 09 08:20",
        "first turn L14 09 08:20 to 09 09:20",
        "second turn L14 09 09:20 to 09 11:10",
        "drained  09 11:10 to now",
    ]
    life = only(laid, "H41")
    assert [stay.line.title for stay in life.stays if stay.line] == [
        "salt",
        "pickle",
        "pickle again",
        "first turn",
        "second turn",
        "drained",
    ]
    assert [stay.turned[0] // MINUTE for stay in life.stays] == [0, 0, 0, 40, 105, 0]
    assert not life.missing
    assert [test.own for test in life.tests] == [True, False]
    assert [test.own for test in only(laid, "H45").tests] == [True]
    assert [(defect.fact.defect, defect.at_door) for defect in only(laid, "H44").defects] == [("slip", False)]
    assert only(laid, "H46").marks[-1].on_purpose
    assert only(laid, "H42").resting is not None
    assert laid.later == 1
    assert not laid.oddities
    pickle = bath(laid, "P3")
    assert {member.hide.tag for member in pickle.now_in} == {"H46", "H47"}
    assert (pickle.pounds_through, pickle.unweighed) == (7.5, 4)
    assert [weight.shared_by for weight in bath(laid, "L14").load_weights] == [3]
    assert only(floor(PAGE), "H41").ended_as == "out"


def test_a_short_step_written_when_it_was_over() -> None:
    laid = floor(
        """2026-11-02 08:00 H41 in, whitetail cape
2026-11-02 09:00 H41 fleshed, salt
2026-11-05 10:00 H41 neutralised 20 min, pH 4.6 cut
"""
    )
    assert walls(laid, "H41")[-1] == "neutralised  05 09:40 to 05 10:00"
    assert only(laid, "H41").stay is None
    assert len(only(laid, "H41").taken) == 1


def test_a_skin_is_cut_and_each_part_goes_its_own_way() -> None:
    laid = floor(
        """2026-11-02 08:00 H41 in, whitetail cape, for Oren Vale, tag 40718
2026-11-02 09:00 H41 salt
2026-11-04 09:00 H41 cut into H41a whitetail cape, H41b back skin
2026-11-05 09:00 H41a fleshed
2026-11-09 09:00 H41b out to Oren Vale
"""
    )
    assert only(laid, "H41").ended_as == "cut"
    cape, back = only(laid, "H41a"), only(laid, "H41b")
    assert (cape.process is not None and cape.process.name, back.process is not None and back.process.name) == (
        "both",
        "backs",
    )
    assert (cape.payer, back.codes["tag"][0].code) == ("Oren Vale", "40718")
    assert walls(laid, "H41b") == ["salt  02 09:00 to 09 09:00"]
    assert not back.missing


def test_a_box_is_opened() -> None:
    laid = floor(
        """2026-11-02 08:00 B7 in, 14 whitetail capes, frozen, for Wharf Forms
2026-11-04 08:00 B7 opened, H60 thru H72, their tags R-101 thru R-113
2026-11-04 10:00 H60 H61 out of freezer
2026-11-04 11:00 H60 fleshed
"""
    )
    assert [oddity.note for oddity in odd(laid, "box count")] == ["13 of 14"]
    assert len(laid.here()) == 13
    first = only(laid, "H60")
    assert (first.from_box, first.payer, first.codes["their tag"][0].code) == ("B7", "Wharf Forms", "R-101")
    assert [(pause.from_door, pause.end is not None) for pause in first.pauses] == [(True, True)]
    assert only(laid, "H72").resting is not None
    assert first.raw is not None
    assert first.raw.running


def test_a_stand_in() -> None:
    laid = floor(
        """2026-11-02 08:00 H44 in, whitetail cape, for Oren Vale, promised 2026-12-15
2026-11-02 08:05 H50 in, whitetail cape
2026-11-04 08:00 H44 lost -- slipped all over
2026-11-04 08:05 H50 replaces H44
"""
    )
    spare = only(laid, "H50")
    assert (spare.payer, spare.stands_in_for, spare.promised is not None) == ("Oren Vale", "H44", True)


def test_one_bad_line_does_not_hide_the_rest_of_a_hide() -> None:
    laid = floor(
        """2026-11-02 08:00 H41 in, whitetale cape, buck
2026-11-02 09:00 H41 fleshed
2026-11-02 10:00 H41 salt
2026-11-02 10:30 H41 process both
2026-11-02 11:00 H4l 7 lb salted
""",
        unread=1,
    )
    life = only(laid, "H41")
    assert (life.declared, life.stay is not None) == (False, True)
    assert [mark.name for mark in life.marks] == ["fleshed", "salt"]
    assert [mark.elsewhere for mark in life.marks] == [False, False]
    assert life.process is not None
    assert not life.missing
    assert [(oddity.tags, oddity.note) for oddity in odd(laid, "unknown tag")] == [(("H4l",), "H41")]


def test_a_bath_whose_make_up_could_not_be_read_still_has_readings_and_hides() -> None:
    laid = floor(
        """2026-11-02 08:00 P3 mixed in V1, a tub of water
2026-11-02 08:30 H41 in, whitetail cape
2026-11-02 09:00 H41 pickle in P3
2026-11-02 10:00 P3 pH 2.0
""",
        unread=1,
    )
    life = bath(laid, "P3")
    assert (life.declared, len(life.readings), [member.hide.tag for member in life.now_in]) == (False, 1, ["H41"])
    assert not laid.oddities


def test_done_elsewhere_and_put_into_a_bath_on_the_arrival_line() -> None:
    laid = floor(
        """2026-11-02 08:00 P3 mixed in V1, 20 gal water
2026-11-02 09:00 H41 in, whitetail cape, wet salted, fleshed, salt
"""
    )
    life = only(laid, "H41")
    assert [(mark.name, mark.elsewhere) for mark in life.marks[1:]] == [("fleshed", True), ("salt", True)]
    assert life.stay is None
    assert life.raw is not None
    assert (life.raw.shop, life.raw.running) == ((0, 0), False)


def test_a_night_in_which_the_clocks_went_back() -> None:
    laid = floor(
        """2026-10-31 18:00 H41 in, whitetail cape
2026-10-31 20:00 H41 salt
2026-11-01 08:00 H41 shaved
"""
    )
    (salt,) = only(laid, "H41").stays
    assert salt.end is not None
    assert salt.end.lo - salt.start.lo == 13 * HOUR


def test_a_skipped_step_and_a_waived_finding() -> None:
    laid = floor(
        """2026-11-02 08:00 H41 in, whitetail cape
2026-11-02 09:00 H41 skipped fleshed -- came fleshed
2026-11-02 10:00 H41 salt
2026-11-03 08:00 H41 pickle
2026-11-03 08:05 H41 waived came out early -- thin skin
"""
    )
    life = only(laid, "H41")
    assert not life.missing
    assert [answer.fact.finding for answer in life.waived] == ["came out early"]
    assert [mark.skipped for mark in life.marks] == [False, True, False, False]


def test_out_of_a_bath_means_lifted_out_and_the_hide_is_still_here() -> None:
    laid = floor(
        """2026-11-02 07:00 P3 mixed in V1, 20 gal water
2026-11-02 08:00 H41 in, whitetail cape
2026-11-02 10:00 H41 pickle in P3
2026-11-06 10:00 H41 out of P3
"""
    )
    life = only(laid, "H41")
    assert life.here
    assert life.stay is None
    assert walls(laid, "H41") == ["pickle P3 02 10:00 to 06 10:00"]


def test_a_line_that_cannot_be_read_and_is_of_a_later_day_does_not_count_yet() -> None:
    book = read_text("2026-11-03 08:00 H1 in\n2026-11-05 08:00 H1 fleshd\n2026-11-02X 08:00 H1 salt\n")
    assert [trouble.place.line for trouble in book.unread] == [2, 3]
    early = lay_out(book, book.clock.instant(date(2026, 11, 4).toordinal(), 0)[0])
    assert (len(early.book.unread), early.later) == (1, 1)  # the one without a day may be of any day
    late = lay_out(book, book.clock.instant(date(2026, 11, 5).toordinal(), 0)[0])
    assert (len(late.book.unread), late.later) == (2, 0)
