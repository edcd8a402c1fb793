"""Sentences about the sheet of a hide that slipped, tried on made-up books."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from hideledger.answers.slip.hide import slip_hide
from hideledger.answers.slip.timeline import pieces_of
from hideledger.model.moments import MINUTE
from hideledger.reading import read_text
from hideledger.render.card import card
from hideledger.render.json_text import json_text
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.layout import lay_out
from tests.property.test_judging import SHOP, SLOW, Line, books, written

_FIRST_DAY = 739917  # 2026-10-28


def floor_of(lines: list[Line], at_minute: int) -> Floor:
    book = read_text(SHOP + "\n".join(map(written, lines)) + "\n")
    return lay_out(book, book.clock.day_start(_FIRST_DAY) + at_minute * MINUTE)


@SLOW
@given(books(), st.integers(6000, 26 * 1440))
def test_every_hide_has_a_sheet_that_fits_a_card_and_no_sister_is_told_twice(lines: list[Line], at: int) -> None:
    floor = floor_of(lines, at)
    for tag in floor.hides:
        sheet = slip_hide(floor, tag)
        assert json_text(sheet) == json_text(slip_hide(floor, tag))
        assert [line for line in card(sheet).split("\n")[1:] if len(line) > 80] == []
        assert sheet.record is not None
        sisters = [one["tag"] for one in sheet.record["sisters"]]  # type: ignore[attr-defined]
        if all(len(lives) == 1 for lives in floor.hides.values()):
            assert tag not in sisters
            assert len(sisters) == len(set(sisters))


@SLOW
@given(books(), st.integers(6000, 26 * 1440))
def test_what_one_shares_with_another_the_other_shares_with_it(lines: list[Line], at: int) -> None:
    floor = floor_of(lines, at)
    seen: dict[tuple[str, str], set[str]] = {}
    for tag in floor.hides:
        if len(floor.hides[tag]) > 1:
            continue
        record = slip_hide(floor, tag).record
        assert record is not None
        for one in record["sisters"]:  # type: ignore[attr-defined]
            seen[tag, one["tag"]] = {shared["name"] for shared in one["shares"]}
    for (one, other), names in seen.items():
        if (other, one) in seen and len(floor.hides[other]) == 1:
            assert seen[other, one] == names


@SLOW
@given(books(), st.integers(6000, 26 * 1440))
def test_the_pieces_of_a_life_follow_each_other_and_reach_no_further_than_now(lines: list[Line], at: int) -> None:
    floor = floor_of(lines, at)
    for life in floor.all_hides():
        pieces = pieces_of(life, floor.at)
        assert [piece.start for piece in pieces] == sorted(piece.start for piece in pieces)
        sure = all(mark.when.lo == mark.when.hi for mark in life.marks)
        if sure and all(pause.start.lo == pause.start.hi for pause in life.pauses):
            assert all(one.end <= other.start for one, other in pairwise(pieces))
