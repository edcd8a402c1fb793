"""Blanks of every width are blanks; marks that nobody can see are told in words. What a blank and what a mark is, Unicode's own tables say
(the Unicode Character Database, general category Zs and Cf, by way of Python's unicodedata)."""

from __future__ import annotations

import sys
import unicodedata

import pytest

from hideledger.reading import read_text
from hideledger.reading.book import entry_grammar
from hideledger.reading.cut import Cutter
from hideledger.reading.definitions import is_definition
from hideledger.reading.pages import split_page
from hideledger.text.source import Source
from tests.reading.told import read_with_trial_shop

BLANKS = [chr(code) for code in range(sys.maxunicode + 1) if unicodedata.category(chr(code)) == "Zs" and code != 0x20]
LINE = "2026-11-03 08:15 H41 salt, 7 1/2 lb salt -- bit wet"
SHOP = "shop Pine Hollow Skins\n  zone UTC\nvessel V1, vat, 40 gal, holds 5\n  gallons US\n"


def test_unicode_has_the_blanks_that_are_tried_here() -> None:
    assert len(BLANKS) == 16


@pytest.mark.parametrize("blank", BLANKS, ids=[f"U+{ord(blank):04X}" for blank in BLANKS])
def test_every_blank_of_unicode_is_read_as_a_blank(blank: str) -> None:
    plain, other = (read_with_trial_shop(f"{line}\n") for line in (LINE, LINE.replace(" ", blank)))
    assert other.unread == ()
    assert other.entries[0].facts == plain.entries[0].facts
    assert other.entries[0].tags == plain.entries[0].tags
    assert other.entries[0].text == LINE.replace(" ", blank)  # the page itself stays as it was written


@pytest.mark.parametrize("blank", BLANKS, ids=[f"U+{ord(blank):04X}" for blank in BLANKS])
def test_the_grammar_and_the_cutter_get_the_same_line(blank: str) -> None:
    cutter = Cutter(entry_grammar())
    _, (record,) = split_page(Source(name="", text=LINE.replace(" ", blank)), cutter, is_definition)
    assert len(record.text) == len(LINE)  # every place is that on the page
    entry_grammar().parse(record.text, start="entry")
    assert cutter.cut(record.text).who == "H41"


def test_a_definition_takes_every_blank_too() -> None:
    page = "vessel V1,\u2009vat,\u200940\u2009gal\u2003, holds\u30005\nshop Pine Hollow Skins\n\u2002 zone UTC\n\u2009gallons\u2009US\n"
    assert read_text(page).unread == ()


@pytest.mark.parametrize(
    ("line", "column", "mark"),
    [
        ("2026-11-03 08:15 H41 \u200bsalt", 22, "zero width space"),
        ("2026-11-03 08:15 H41\u200e salt", 21, "left-to-right mark"),
        ("2026-11-03 08:15 H41 sa\u00adlt", 24, "soft hyphen"),
        ("\u200b2026-11-03 08:15 H41 salt", 1, "zero width space"),
        ("2026-11-03 08:15 H41 salt, 7\u200b lb", 29, "zero width space"),
    ],
)
def test_a_mark_that_nobody_sees_is_told_in_words(line: str, column: int, mark: str) -> None:
    (told,) = read_with_trial_shop(f"{line}\n").unread
    assert told.message.startswith(f"an invisible mark ({mark}) stands here")
    assert told.place.column == column


def test_such_a_mark_in_a_definition_is_told_too() -> None:
    (told,) = read_text("shop Pine Hollow Skins\n  quiet \u200bafter 3 d\n").unread
    assert "an invisible mark (zero width space) stands here" in told.message
