"""The clocks and the evening's check never contradict each other: what is over on the one is over on the other."""

from dataclasses import replace
from pathlib import Path

import pytest

from hideledger.answers.clocks.answer import look_at
from hideledger.model.moments import MINUTE
from hideledger.reading import read_book
from hideledger.rules.judge import judging
from hideledger.shopfloor.layout import lay_out

SAMPLES = Path(__file__).resolve().parents[2] / "sample_ledgers"
OF_HIDES = {"overdue", "raw too long"}
OF_BATHS = {"reading due", "stir due", "drum standing loaded"}


@pytest.mark.parametrize(
    ("name", "looks"), [("first-week", 40), ("harbour-road", 40), ("rough", 20), ("tarrow-ridge", 12)]
)
def test_check_and_clocks_name_the_same_as_overdue(name: str, looks: int) -> None:
    """The book as it stood at lines spread over its length, and nobody wrote for up to three days after."""
    book = read_book([str(SAMPLES / name)])
    moments = sorted(entry.when.hi for entry in book.entries)
    seen = 0
    for number in range(looks):
        written = moments[number * (len(moments) - 1) // looks]
        at = written + (37 + number * 617) % (72 * 60) * MINUTE
        so_far = replace(book, entries=tuple(entry for entry in book.entries if entry.when.hi <= written))
        floor = lay_out(so_far, at - at % MINUTE)
        now = [finding for finding in judging(floor).findings if finding.when == "now"]
        over = [one for one in look_at(floor).clocks if one.is_over(floor.at)]
        seen += len(over)
        hides = {tag for one in over if not one.of_bath for tag in one.tags}
        assert hides == {tag for f in now if f.name in OF_HIDES for tag in f.tags if tag in floor.hides}
        baths = {one.where for one in over if one.of_bath}
        late = {f.tags[-1] for f in now if f.name in OF_BATHS}
        # one that has to be read and reads wrong too is told by check as one matter, under the graver name
        wrong = {f.tags[-1] for f in now if f.name == "out of range now"}
        assert late <= baths <= late | wrong
    assert seen > 0
