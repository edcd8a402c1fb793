"""What a vessel takes is all that is reckoned with, and the line that wrote more is named."""

from pathlib import Path

import pytest

from tests.unit.test_bath_reckoned import told

Captured = pytest.CaptureFixture[str]
PAGE = (
    "vessel V9, vat, 30 gal\n2026-11-02 08:00 P9 mixed in V9, 20 gal water, 20 lb salt\n"
    "2026-11-02 09:00 P9 topped up to 34 gal\n2026-11-02 10:00 P9 add 1 lb salt\n"
)


def test_the_line_that_wrote_too_much_is_named_and_not_a_later_dose(tmp_path: Path, capsys: Captured) -> None:
    text = told(capsys, tmp_path, PAGE, "check", at="2026-11-02 12:00")
    assert "V9 takes 30 gal, and more liquor than that is written into it: 34.0 gal" in text
    assert "page.hides:3, limit" in text.partition("vessel over full")[2]


def test_a_tub_is_reckoned_with_no_more_than_it_takes(tmp_path: Path, capsys: Captured) -> None:
    assert "P9 in V9, 30 gal" in told(capsys, tmp_path, PAGE, "floor", at="2026-11-02 12:00")
