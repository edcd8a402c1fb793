"""Names of kinds that come in pieces at the door: asked about the kind that they begin, never about a word that only looks like them."""

from __future__ import annotations

import pytest

from hideledger.reading import read_sources
from hideledger.text.source import Source

SHOP = """shop Fallow Creek Skins
  zone America/Chicago
kind mule deer cape, counts 1
kind whitetail cape or cape, counts 1
"""


def _refused(line: str) -> tuple[str, int]:
    book = read_sources([Source(name="shop.hides", text=SHOP), Source(name="page.hides", text=line + "\n")])
    (only,) = book.unread
    return only.message, only.place.column


@pytest.mark.parametrize(
    ("line", "said", "column"),
    [
        (
            "deer cape, mule, 6 lb",
            "`mule` is no kind, condition or defect of this shop; did you mean `mule deer cape`?",
            36,
        ),
        ("mule, 6 lb", "`mule` is no kind, condition or defect of this shop; did you mean `mule deer cape`?", 25),
        ("deer (mule) cape, 6 lb", "a name has no brackets in it; did you mean `mule deer cape`?", 30),
        ("(mule) deer cape, 6 lb", "a name has no brackets in it; did you mean `mule deer cape`?", 25),
    ],
)
def test_a_kind_in_pieces_is_asked_about_by_its_whole_name(line: str, said: str, column: int) -> None:
    assert _refused(f"2026-11-02 08:00 H1 in, {line}") == (said, column)


def test_a_word_that_is_nearly_a_sex_and_begins_no_kind_is_still_asked_about() -> None:
    message, _ = _refused("2026-11-02 08:00 H1 in, whitetail cape, mald")
    assert message.endswith("did you mean `male`?")
