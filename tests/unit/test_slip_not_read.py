"""A bath that nobody had read when the sign was seen: a weak point, and the first reading after it tells of those hours."""

from __future__ import annotations

from tests.unit.slip_book import part, row, sheet_of

AT = "2026-10-03 17:00"
BOOK = """\
2026-10-01 09:00 P1 mixed in V1, 20 gal water, 20 lb salt, 60 oz citric acid
2026-10-01 09:10 H1 in, whitetail cape, green, killed 2026-10-01 8:00, for Oren Vale
2026-10-01 09:11 H1 pull test ok
2026-10-01 09:30 H1 fleshed
2026-10-01 09:40 H1 pickle in P1
2026-10-02 09:00 H1 slip, ears
2026-10-02 09:30 P1 pH 2.9 meter
"""


def look(book: str) -> str:
    return row(part(sheet_of(book, "H1", AT), "In short"), "look first at").text


def weak(book: str) -> list[str]:
    return [one.text for one in part(sheet_of(book, "H1", AT), "Weak points").rows]


def test_a_bath_never_read_before_the_sign_and_wrong_right_after_it_is_where_to_look() -> None:
    assert look(BOOK).endswith(
        "P1 was never read before the sign, though it lay in it for 23 h 20 min; first read 30 min after it: pH 2.9 meter, over 2.2, nothing added between"
    )


def test_what_was_added_between_is_said_and_the_reading_blames_nothing() -> None:
    book = BOOK.replace("2026-10-02 09:30", "2026-10-02 09:10 P1 add 2 lb salt\n2026-10-02 09:30")
    (said,) = weak(book)
    assert said.startswith("not read: P1 was never read before the sign")
    assert said.endswith("but something was added between")


def test_a_bath_read_well_right_after_the_sign_is_only_a_gap() -> None:
    (said,) = weak(BOOK.replace("2.9 meter", "1.9 meter"))
    assert said.startswith("not read: ")
    assert said.endswith("first read 30 min after it: pH 1.9 meter, nothing added between")


def test_a_gap_alone_is_not_where_to_look_while_something_else_was_wrong() -> None:
    book = BOOK.replace("2.9 meter", "1.9 meter").replace("09:40 H1 pickle", "23:40 H1 pickle")
    assert look(book).startswith("raw too long")


def test_a_bath_read_shortly_before_the_sign_is_no_weak_point_of_that_sort() -> None:
    assert not any(
        "read" in said
        for said in weak(BOOK.replace("2026-10-02 09:00", "2026-10-02 08:30 P1 pH 1.9 meter\n2026-10-02 09:00"))
    )


def test_a_bath_read_before_it_went_in_says_so() -> None:
    book = BOOK.replace("2026-10-01 09:10", "2026-10-01 09:05 P1 pH 1.8 meter\n2026-10-01 09:10")
    assert "P1 was not read before the sign in the 23 h 20 min that it lay in it, last pH 1.8 meter" in look(book)


def test_a_reading_that_is_wrong_within_the_instruments_doubt_only_may_be_so() -> None:
    assert look(BOOK.replace("2.9 meter", "2.3 strip")).startswith("read too late, maybe")


def test_a_bath_it_had_left_long_before_the_sign_is_not_asked_for_a_reading() -> None:
    left = BOOK.replace(
        "2026-10-02 09:00", "2026-10-01 10:00 P1 pH 1.9 meter\n2026-10-01 12:00 H1 out of P1\n2026-10-02 09:00"
    )
    assert not any("before the sign" in said for said in weak(left))


def test_a_bath_that_read_wrong_shortly_before_the_sign_is_no_second_weak_point() -> None:
    book = BOOK.replace("2026-10-02 09:00", "2026-10-02 07:30 P1 pH 2.9 meter\n2026-10-02 09:00")
    assert [said.split(":")[0] for said in weak(book)] == ["out of range now"]


def test_a_bath_that_read_well_the_evening_before_may_have_gone_wrong_at_any_hour_since() -> None:
    book = BOOK.replace("2026-10-02 09:00", "2026-10-01 17:30 P1 pH 1.9 meter\n2026-10-02 09:00")
    assert look(book).startswith("read too late, maybe")
