"""The hour after skins or a dose is no line of the shop: it is quieted by itself, and never the shop's own `read every day` with it."""

from __future__ import annotations

from tests.unit.test_rules_judging import IN_P1, names, seen


def test_a_waiving_quiets_the_hour_and_not_the_reading_of_the_next_day() -> None:
    lines = (
        IN_P1 + "2026-11-02 12:00 P1 add 3 oz salt\n2026-11-02 13:10 P1 waived reading due -- the meter is lent out\n"
    )
    assert "reading due" not in names(seen(lines, "2026-11-02 13:30"))
    assert "reading due" in names(seen(lines + "2026-11-03 08:00 P1 stirred\n", "2026-11-03 18:30"))
    late = seen(
        lines + "2026-11-03 08:00 P1 stirred\n2026-11-03 17:00 P1 waived reading due -- still lent out\n",
        "2026-11-03 18:30",
    )
    assert "reading due" not in names(late)
