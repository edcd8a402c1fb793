"""Who paid stands behind `by`: a customer's name left bare behind a sum would be a remark, and the account would never hear of the money."""

from __future__ import annotations

import pytest

from hideledger.model.facts import Money, Remark
from hideledger.reading import read_text

SHOP = "shop Pine Hollow Skins\n  zone UTC\ncustomer Oren Vale, phone 555-0142\ncustomer Ida Crane\n"


@pytest.mark.parametrize(
    ("line", "column", "right"),
    [
        ("2026-11-02 08:00 paid $50, Oren Vale", 28, "by Oren Vale"),
        ("2026-11-02 08:00 paid $50 Oren Vale", 27, "by Oren Vale"),
        ("2026-11-02 08:00 deposit $50, oren  vale", 31, "by Oren Vale"),
        ("2026-11-02 08:00 H1 paid $50, Oren Vael", 31, "by Oren Vale"),
    ],
)
def test_a_customer_behind_a_sum_is_refused_with_the_line_to_write(line: str, column: int, right: str) -> None:
    (told,) = read_text(SHOP + line).unread
    assert (told.place.column, told.code) == (column, "money")
    assert told.message.endswith(f"whoever paid stands behind the sum and `by`, without a comma: `paid $50 {right}`")


def test_what_the_message_says_to_write_is_read() -> None:
    book = read_text(f"{SHOP}2026-11-02 08:00 paid $50 by Oren Vale")
    assert book.unread == ()
    (paid,) = [fact for fact in book.entries[0].facts if isinstance(fact, Money)]
    assert paid.by == "Oren Vale"


def test_a_customer_behind_a_comma_is_no_worker_of_the_shop() -> None:
    (told,) = read_text(f"{SHOP}2026-11-02 08:00 paid $50, by Oren Vale").unread
    assert told.message == "Oren Vale paid? That stands behind the sum without a comma: `paid $50 by Oren Vale`"
    assert read_text(f"{SHOP}2026-11-02 08:00 H1 paid $50, by JK").unread == ()


def test_other_words_behind_a_sum_are_a_remark() -> None:
    book = read_text(f"{SHOP}2026-11-02 08:00 paid $50 cash")
    assert [fact.text for fact in book.entries[0].facts if isinstance(fact, Remark)] == ["cash"]
