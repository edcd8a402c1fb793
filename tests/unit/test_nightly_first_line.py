"""The first line fits the subject of a mail, whatever there is to tell."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hideledger.answers.check.answer import check
from hideledger.answers.check.summary import summary
from hideledger.answers.saying import now_words
from hideledger.render.card import card
from hideledger.rules.finding import Finding
from tests.unit.made_by_hand import Shop, found
from tests.unit.rule_names import NAMES

# RFC 5322, section 2.1.1: a line of a mail should be no longer than 78 characters, and `Subject: ` is part of it.
LONGEST = 78 - len("Subject: ")
NUMBERS = st.integers(min_value=1, max_value=300)


def shop_with(lines_unread: int, skins: int) -> Shop:
    text = "2026-11-02 17:52 H1 in"
    shop = Shop(text)
    shop.hide("H1", shop.entry(1, 17, 52, tags=("H1",)), count=skins)
    for number in range(lines_unread):
        shop.complaint(1, 1 + number % 9, "`x` is no step")
    return shop


@st.composite
def findings(draw: st.DrawFn) -> list[Finding]:
    """Any rings, hides and baths behind them by the hundred."""
    told = []
    for name in draw(st.lists(st.sampled_from(NAMES), max_size=6)):
        tags = [f"H{number}" for number in range(draw(NUMBERS))] if draw(st.booleans()) else ["P3\x1b[31m\nH9"]
        for _ in range(draw(st.sampled_from([1, 2, 40]))):
            told.append(
                found(name, draw(st.sampled_from(["now", "tonight", "record"])), tags=tags, may=draw(st.booleans()))
            )
    return told


@settings(max_examples=40)
@given(findings(), findings(), st.sampled_from([0, 1, 1234]), st.sampled_from([1, 99, 2345]), st.booleans())
def test_it_is_one_short_line_without_control_characters(
    told: list[Finding], before: list[Finding], unread: int, skins: int, later: bool
) -> None:
    shop = shop_with(unread, skins)
    floor = shop.floor(18) if not later else shop.floor(18 + 24 * 200)
    line = summary(floor, told, before)
    assert 0 < len(line) <= LONGEST
    assert not any(unicodedata.category(letter).startswith("C") for letter in line)
    assert card(check(floor, told).sheet).split("\n")[0] == summary(floor, told)


@settings(max_examples=40)
@given(findings())
def test_whoever_rings_is_said_or_counted(told: list[Finding]) -> None:
    line = summary(shop_with(0, 1).floor(), told)
    rings = any(one.when != "record" for one in told)
    assert line.startswith("all quiet") is not rings
    assert rings is line.split(", ")[0].split(" ")[0].isdecimal()


def test_with_little_room_what_matters_less_goes_first() -> None:
    many = [
        found(name) for name in ("dumped below the sewer limit", "after it was out", "pressure over the vessel's limit")
    ]
    floor = shop_with(12, 66).floor()
    assert summary(floor, many) == "1 bath dumped below the sewer limit, 2 more, 12 lines unread"
    assert summary(floor, ()) == "12 lines unread, nothing else rings, 66 skins (at 2026-11-02 18:02)"
    assert summary(floor, (), [found("due")]) == "12 lines unread, nothing new, 1 still rings (at 2026-11-02 18:02)"


@pytest.mark.parametrize("skins", [2, 345])
def test_a_quiet_morning_still_says_when_it_was_looked_at(skins: int) -> None:
    floor = shop_with(0, skins).floor(18 + 11)
    said = summary(floor, ())
    assert now_words(floor.at, floor.book.clock) == "Tue 2026-11-03 05:02"
    assert said == f"all quiet, {skins} skins, last line Mon 2 Nov 17:52 (at 2026-11-03 05:02)"
