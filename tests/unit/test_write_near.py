"""Of a long book only the part that a line can touch is laid out, and what is said of the line is the same."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from hideledger.answers.write.near import near
from hideledger.answers.write.understood import Understood, moment_of, understood
from hideledger.model.book import Book
from hideledger.reading import read_book
from hideledger.reading.draft import draft
from hideledger.reading.stamping import Moment, composed
from hideledger.shopfloor.layout import lay_out

SAMPLE = str(Path(__file__).resolve().parents[2] / "sample_ledgers" / "tarrow-ridge")


@cache
def sample() -> Book:
    return read_book([SAMPLE])


def in_words(told: Understood) -> list[str]:
    findings = [f"{found.name} {found.tags} {found.message} {found.do}" for found in told.findings]
    return [*(said.words for said in told.said), *findings, *(str(right) for right in told.right)]


@pytest.mark.parametrize("back", range(1, 400, 44))
def test_the_near_part_says_what_the_whole_book_says(back: int) -> None:
    """Lines of the sample's last month, each written again at its own moment into the book as it stood then."""
    last = [entry for entry in sample().entries if entry.source.name.endswith("2027-01.hides") and entry.tags]
    entry = last[-back]
    book = replace(sample(), entries=tuple(one for one in sample().entries if one.order < entry.order))
    moment = Moment(at=entry.when.hi, day=entry.when.day, time="12:00")
    made = draft(book, composed(entry.text, moment, book.shop, book.clock), entry.source, moment)
    now = moment_of(made, entry.when.hi)
    whole = understood(made, lay_out(made.before, now), lay_out(made.after, now))
    before, after = near(made, short=0)
    assert len(after.entries) < len(made.after.entries)
    assert in_words(understood(made, lay_out(before, now), lay_out(after, now))) == in_words(whole)
    assert whole.said


def test_a_short_book_is_taken_whole() -> None:
    moment = Moment(at=sample().entries[-1].when.hi, day=sample().entries[-1].when.day, time="12:00")
    made = draft(sample(), composed("remark", moment, sample().shop, sample().clock), sample().sources[0], moment)
    assert near(made, short=10**6) == (made.before, made.after)
