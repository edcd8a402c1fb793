"""Who is next and what to do tonight: the order of the ties, the first screen, and the words of other failures than slip.

What is looked at first is common practice, no source; the counts are taken by hand from the little books.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from hideledger.answers.sheet import Sheet
from hideledger.answers.slip.hide import slip_hide
from hideledger.answers.slip.sign import first_sign
from hideledger.model.book import Book
from hideledger.reading import read_book, read_text
from hideledger.render.card import card
from hideledger.shopfloor.layout import lay_out
from tests.unit.slip_book import SHOP, asked, heads, part, row, sheet_of, under

AT = "2026-11-12 17:00"
TARROW = Path(__file__).resolve().parents[2] / "sample_ledgers" / "tarrow-ridge"
# Twelve out of one lot of salt; four of them in P3, of which one slipped, eight in P4.
SALTED = """\
2026-11-02 08:00 H1 thru H12 in, whitetail cape, green, killed 2026-11-02 06:00, hung 36 F
2026-11-02 08:30 H1 thru H12 pull test ok
2026-11-02 09:00 H1 thru H12 fleshed, salt, 60 lb salt lot S-1
2026-11-03 09:00 P3 mixed in V1, 20 gal water, 60 oz citric acid
2026-11-03 09:10 P4 mixed in V2, 20 gal water, 60 oz citric acid
2026-11-03 10:00 H1 thru H4 pickle in P3
2026-11-03 10:10 H5 thru H12 pickle in P4
2026-11-03 12:00 P3 pH 1.9 strip
2026-11-10 09:00 H1 slip, left ear, 1 in
"""


def following(sheet: Sheet) -> list[str]:
    """The heads of the rows that name who is next, in their order."""
    return [one for one in heads(part(sheet, "Who is next").rows) if one not in ("tonight", "write")]


def next_tags(sheet: Sheet) -> list[str]:
    """Every skin that is next, as programs get it."""
    assert sheet.record is not None
    return [one["tag"] for one in sheet.record["next"]]  # type: ignore[attr-defined]


def test_a_lot_of_salt_that_nearly_all_have_met_comes_behind_a_bath_that_few_shared() -> None:
    sheet = sheet_of(SALTED, "H1", AT)
    assert next_tags(sheet)[:3] == ["H2", "H3", "H4"]
    assert following(sheet) == ["H2 thru H4", "and 8 more"]
    section = part(sheet, "Who is next")
    assert row(section, "H2 thru H4").text.startswith("in P3 now; pickle: read P3 (last pH 1.9 strip Tue 3 Nov 12:00")
    rest = row(section, "and 8 more").text
    assert rest.startswith("share only what most skins here share, ") and rest.endswith(": H5 thru H12")


def test_it_does_so_too_where_many_slipped_in_both_baths() -> None:
    """Three of four in P3, three of eight in P4: the lot of salt has 6 of 12, no more than all have together."""
    many = SALTED + "2026-11-11 09:00 H2 H3 slip, belly, 1 in\n2026-11-11 09:05 H5 H6 H7 slip, belly, 1 in\n"
    sheet = sheet_of(many, "H1", AT)
    assert next_tags(sheet) == ["H4", "H8", "H9", "H10", "H11", "H12"]
    assert "in P3 now; pickle" in row(part(sheet, "Who is next"), "H4").text


def test_who_lies_in_the_bath_now_comes_before_who_only_lay_in_it() -> None:
    moved = SALTED + "2026-11-07 10:00 H2 neutralised 20 min\n2026-11-07 10:20 H2 tan\n"
    sheet = sheet_of(moved, "H1", AT)
    assert following(sheet)[:2] == ["H3 H4", "H2"]
    assert row(part(sheet, "Who is next"), "H2").text.startswith("lay in P3; tan")


def test_who_broke_the_same_limit_comes_first_also_from_another_bath() -> None:
    """H1 and H9 lay raw for 14 h where 12 h are allowed; H2 was cured in time and shares the bath."""
    book = """\
2026-11-02 08:00 H1 H2 H9 in, whitetail cape, green, killed 2026-11-02 07:00
2026-11-02 09:00 H2 fleshed, salt
2026-11-02 09:05 H1 H9 fleshed
2026-11-02 21:00 H1 H9 salt
2026-11-03 09:00 P3 mixed in V1, 20 gal water, 60 oz citric acid
2026-11-03 09:10 P4 mixed in V2, 20 gal water, 60 oz citric acid
2026-11-04 10:00 H1 H2 pickle in P3
2026-11-04 10:10 H9 pickle in P4
2026-11-10 09:00 H1 slip, left ear, 1 in
"""
    sheet = sheet_of(book, "H1", AT)
    assert row(part(sheet, "In short"), "look first at").text.startswith("raw too long, Mon 2 Nov 20:00")
    assert next_tags(sheet) == ["H9", "H2"]
    assert "broke the same limit: raw too long" in row(part(sheet, "Who is next"), "H9").text


def test_where_the_season_points_to_a_lot_a_limit_that_others_broke_too_does_not_come_first() -> None:
    """H81 of the sample shop lay in a vessel over full; 15 of the 17 that slipped there met lot C-33 of citric acid."""
    sheet = slip_hide(lay_out(sample(), instant(sample(), 2026, 12, 3)), "H81")
    assert row(part(sheet, "In short"), "look first at").text.startswith("citric acid lot C-33, met Mon 23 Nov 08:14")
    assert sheet.record is not None
    assert {one["broke"] for one in sheet.record["next"]} == {None}  # type: ignore[attr-defined]


def test_the_pickle_comes_before_the_lot_of_salt_of_the_sample_shop() -> None:
    """P4: of twelve that lay in it five others slipped; lot S-112 of salt was on 37 skins."""
    sheet = slip_hide(lay_out(sample(), instant(sample(), 2026, 11, 19)), "H52")
    assert next_tags(sheet)[:5] == ["H49", "H62", "H64", "H63", "H79"]
    section = part(sheet, "Who is next")
    assert following(sheet)[:4] == ["H62 H64", "H63", "H79", "H59"]
    named = " ".join(one.text for one in section.rows)
    assert "in P4 now" in named and "S-112" not in named


def test_those_whose_slip_another_lot_explains_say_nothing_of_the_company_of_a_skin_that_never_met_it() -> None:
    """H106 never met C-33; it lay in P7, and the others that lie in it are next, not its neighbours in the freezer."""
    sheet = slip_hide(lay_out(sample(), instant(sample(), 2027, 1, 30)), "H106")
    assert following(sheet)[:2] == ["H114 H115", "H118"]
    assert row(part(sheet, "Who is next"), "H118").text.startswith("in P7 now")


@pytest.mark.parametrize(
    ("tag", "day"),
    [
        ("H52", (2026, 11, 12)),
        ("H52", (2026, 11, 19)),
        ("H66", (2026, 11, 30)),
        ("H75", (2026, 12, 5)),
        ("H106", (2027, 1, 30)),
    ],
)
def test_the_first_screen_has_where_to_look_who_is_next_and_what_to_do_tonight(
    tag: str, day: tuple[int, int, int]
) -> None:
    page = card(slip_hide(lay_out(sample(), instant(sample(), *day)), tag)).split("\n")
    screen = page[: page.index("The hide")]
    assert len(screen) <= 40
    assert screen[2] == "In short: where to look first, no verdict"
    told = " ".join(" ".join(screen).split())
    assert "tonight H" in told and "pull gently at ears, brisket, belly and round every wound" in told
    assert re.search(r"write `H[0-9 Hthru]+ pull test ok`, or of one that is not sound `H[0-9]+ slip, slight`", told)


def test_sheets_of_the_sample_shop_can_be_read_at_80_columns_and_what_it_wants_written_can_be_read() -> None:
    floor = lay_out(sample(), instant(sample(), 2026, 12, 1))
    slipped = [life.tag for life in floor.all_hides() if first_sign(life, "slip") is not None and life.here]
    assert slipped
    for tag in slipped[:4]:
        sheet = slip_hide(floor, tag)
        wide = [one for one in card(sheet).split("\n")[1:] if len(one) > 80 and "sample_ledgers" not in one]
        assert wide == [], tag
        told = [*part(sheet, "Who is next").rows, *(part(sheet, "Who is next").in_plain or ())]
        written = [text for one in told for text in (one.text, *under(one))]
        for line in re.findall("`([^`]+)`", " ".join(written)):
            assert read_text(f"{SHOP}2026-11-01 08:00 H1 thru H99 in\n2026-11-12 18:00 {line}\n").unread == (), line


def test_where_the_hair_of_all_has_held_since_nobody_is_to_be_pulled_at_again() -> None:
    held = SALTED + "2026-11-11 09:00 H2 H3 H4 pull test ok\n2026-11-11 09:10 H4 frozen in freezer\n"
    section = part(sheet_of(held, "H1", AT), "Who is next")
    assert row(section, "tonight").text.startswith(
        "nobody of these: whoever is not frozen was pulled at since the last sign"
    )
    assert row(section, "H2 H3").text == "in P3 now; their hair held since"
    assert "write" not in heads(section.rows)


def test_the_search_has_every_skin_in_a_line_of_its_own_with_all_that_it_shares() -> None:
    section = part(sheet_of(SALTED, "H1", AT), "Who is next")
    assert section.in_plain is not None
    told = {one.head: one for one in section.in_plain}
    assert list(told) == [f"H{number}" for number in range(2, 13)]
    assert told["H4"].text.startswith("pickle in P3; shares P3, ") and "salt lot S-1" in told["H4"].text
    assert told["H12"].text.endswith("shares only what most skins here share")
    assert all(dict(one.under)["do"].endswith(f"or `{tag} slip, slight`") for tag, one in told.items())


def test_a_place_counts_only_while_both_lay_there_raw() -> None:
    """H1 lay raw in the freezer with H2; H3 was frozen there then too, but behind its salt."""
    book = """\
2026-11-02 08:00 H1 H2 H3 in, whitetail cape, green, killed 2026-11-02 07:00
2026-11-02 09:00 H3 fleshed, salt
2026-11-02 10:00 H1 H2 frozen in freezer
2026-11-03 10:00 H3 frozen in freezer
2026-11-06 08:00 H1 thawed
2026-11-06 09:00 H1 fleshed, salt
2026-11-08 09:00 H1 slip, left ear, 1 in
"""
    told = {one.head: one.text for one in part(sheet_of(book, "H1", AT), "Its sisters").rows}
    assert "shares freezer" in told["H2"]
    assert "freezer" not in told["H3"].partition("shares")[2]


@pytest.mark.parametrize(
    ("defect", "look", "sound", "found"),
    [
        ("raw streak", "cut at the thickest place and look", "H2 thru H4 cut test ok", "H2 raw streak"),
        ("stain", "look for a stain: where it touched metal", "H2 thru H4 remark looked at, no stain", "H2 stain"),
    ],
)
def test_another_failure_is_looked_for_in_its_own_way(defect: str, look: str, sound: str, found: str) -> None:
    book = SALTED.replace("H1 slip, left ear, 1 in", f"H1 {defect}")
    section = part(sheet_of(book, "H1", AT, defect), "Who is next")
    assert row(section, "tonight").text == f"H2 thru H4: {look}"
    assert row(section, "write").text == f"`{sound}`, or of one that is not sound `{found}`"
    for line in (sound, found):
        assert read_text(f"{SHOP}{SALTED}2026-11-12 18:00 {line}\n").unread == (), line


def test_raw_hours_point_to_slip_and_to_no_raw_streak() -> None:
    """Raw for 14 h where 12 are allowed, and a pickle that was left after two days of three."""
    book = """\
2026-11-02 08:00 H1 H2 in, whitetail cape, green, killed 2026-11-02 07:00
2026-11-02 09:00 H1 H2 pull test ok
2026-11-02 09:05 H1 H2 fleshed
2026-11-02 22:00 H1 H2 salt
2026-11-03 22:30 P3 mixed in V1, 20 gal water, 60 oz citric acid
2026-11-04 10:00 H1 pickle in P3
2026-11-06 10:00 H1 neutralised 20 min
2026-11-06 10:20 H1 tan
2026-11-08 09:00 H1 %s, neck
"""
    streak = sheet_of(book % "raw streak", "H1", AT, "raw streak")
    assert row(part(streak, "In short"), "look first at").text.startswith("came out early, ")
    assert "raw clock then" not in heads(part(streak, "In short").rows)
    assert next_tags(streak) == [], "H2 shares an owner's day with it, and no bath"
    slip = sheet_of(book % "slip", "H1", AT)
    assert row(part(slip, "In short"), "look first at").text.startswith("raw too long, ")
    assert next_tags(slip) == ["H2"]


def test_a_skin_still_in_the_tan_is_not_asked_what_came_after_it() -> None:
    book = SALTED.replace("H1 slip, left ear, 1 in", "H1 neutralised 20 min")
    book += "2026-11-10 09:20 H1 tan\n2026-11-11 09:00 H1 slip, left ear, 1 in\n"
    assert asked(sheet_of(book, "H1", AT), "after the tan") == "it was still in the tan"


def test_where_nobody_here_shares_anything_that_is_said() -> None:
    alone = "2026-11-02 08:00 H1 in, whitetail cape, green\n2026-11-04 08:00 H1 slip, belly, 2 in\n"
    assert row(part(sheet_of(alone, "H1", AT), "In short"), "next").text.startswith("nobody who is still here")


def test_a_tag_that_was_here_before_says_so_since_the_skin_may_have_come_back() -> None:
    back = SALTED + "2026-11-11 09:00 H5 out to Oren Vale\n2026-11-12 09:00 H5 in, whitetail cape, for Oren Vale\n"
    sheet = sheet_of(back + "2026-11-12 10:00 H5 slip, belly, 2 in\n", "H5", AT)
    told = row(part(sheet, "The hide"), "before").text
    assert told.startswith("the tag was here before, in 2026-11-02 08:00, out 2026-11-11 09:00")


def test_slip_written_of_a_skin_that_was_gone_is_asked_about() -> None:
    gone = SALTED + "2026-11-11 09:00 H5 out to Oren Vale\n2026-11-12 09:00 H5 slip, belly\n"
    sheet = sheet_of(gone, "H5", AT)
    assert sheet.title.startswith("H5 has no slip written")
    assert "when it was gone: did it come back" in row(part(sheet, "The hide"), "out, then").text


def sample() -> Book:
    """The sample season."""
    return _SAMPLE


_SAMPLE = read_book([str(TARROW)])


def instant(book: Book, year: int, month: int, day: int) -> int:
    """Ten to six in the evening of a day."""
    from datetime import date

    return book.clock.at(date(year, month, day).toordinal(), 17 * 60 + 50).lo
